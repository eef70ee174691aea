"""Places as people write them, and what is wrong with those that name none."""

from __future__ import annotations

import math

import pytest

from sitepick.exercise.grid_reference import ReferenceFaultError, read_place
from tests.helpers.made import make_grid

GRID = make_grid(400, 400)  # 34W EV, from 00 to 04 east and from 76 to 80 north
EAST_M, NORTH_M = 502_345.0, 7_478_123.0


def off_m(text):
    read = read_place(text, GRID)
    east, north = GRID.from_lonlat(*read.place)
    return max(abs(float(east) - EAST_M), abs(float(north) - NORTH_M)), read


def degrees():
    lon, lat = GRID.to_lonlat(EAST_M, NORTH_M)
    return float(lon), float(lat)


@pytest.mark.parametrize(
    ("text", "precision_m"),
    [
        ("34WEV0234578123", 1.0),
        ("34W EV 02345 78123", 1.0),
        ("34w ev 0234 7812", 10.0),
        ("34W EV 023 781", 100.0),
        ("EV 0234 7812", 10.0),
        ("023 781", 100.0),
        ("34W 502345 7478123", 0.0),
        ("34W 502345mE 7478123mN", 0.0),
        ("502345 7478123", 0.0),
    ],
)
def test_a_reference_names_the_middle_of_its_square(text, precision_m):
    off, read = off_m(text)
    assert read.precision_m == precision_m
    assert off <= max(1.0, precision_m / 2.0)


def test_degrees_are_read_in_every_usual_way():
    lon, lat = degrees()
    minutes = f"{int(lat)}°{60 * (lat - int(lat)):.4f}'N {int(lon)}°{60 * (lon - int(lon)):.4f}'E"
    for text in (
        f"{lat:.6f}, {lon:.6f}", f"{lat:.6f} {lon:.6f}", f"{lat:.6f}N {lon:.6f}E", f"E{lon:.6f} N{lat:.6f}", minutes,
    ):  # fmt: skip
        assert off_m(text)[0] < 1.0, text


def test_what_was_filled_in_is_told():
    assert "34WEV" in read_place("023 781", GRID).note
    assert "34" in read_place("502345 7478123", GRID).note
    assert read_place("34WEV0234578123", GRID).note == ""


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("34WEV02", "too short"),
        ("34WEV0234781", "digits"),
        ("34WEV0234O7812", "letter O"),
        ("61WEV0234578123", "no zone 61"),
        ("35WEV0234578123", "no such square"),
        ("DA 0234 7812", "no square DA"),
        ("0299 1111", "missing"),
        ("99.5, 21.0", "latitude reaches to 90"),
        ("67.5N 67.5N", "twice"),
        ("by the lake", "no grid reference"),
        ("", "nothing stands there"),
        ("34WEV012345123456", "10 are the most"),
    ],
)
def test_what_names_no_place_says_why(text, words):
    with pytest.raises(ReferenceFaultError, match=words):
        read_place(text, GRID)


def test_a_reference_of_another_zone_lies_where_it_says():
    """Zone 35 begins at 24° E: two degrees east of the ground, not on it."""
    lon, _ = read_place("35W 412345 7478123", GRID).place
    assert 24.0 < lon < 27.0
    assert math.isfinite(lon)
