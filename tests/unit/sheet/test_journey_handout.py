"""What the files of a journey's days are called."""

from __future__ import annotations

import pytest

from sitepick.sheet.journey_handout import day_file_stems


def test_a_single_route_needs_no_name_in_its_files():
    assert day_file_stems(["By the lake"]) == {"By the lake": "day-"}


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("By the lake", "by-the-lake-day-"),
        ("../Över: fjället/", "över-fjället-day-"),
        ("???", "route-day-"),
        ("x" * 300, "x" * 60 + "-day-"),
    ],
)
def test_a_route_lends_its_files_what_of_its_name_a_file_can_carry(name, stem):
    assert day_file_stems(["Another", name])[name] == stem


def test_no_two_routes_share_a_file():
    stems = day_file_stems(["North!", "north", "NORTH?", "North 2"])
    assert len(set(stems.values())) == 4
