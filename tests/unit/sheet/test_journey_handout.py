"""What the files of a journey's days are called, and that every route has its own."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.journey import journey as planner
from sitepick.sheet import journey_handout
from sitepick.sheet.journey_handout import day_file_stems, write_journey
from tests.unit.journey.made_survey import journey_plan, make_survey


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


@pytest.mark.slow
def test_every_night_of_every_route_has_its_sheet_and_a_night_that_was_dropped_has_none(tmp_path, monkeypatch):
    def survey_route(plan, route, *, watch, room):
        evenly = {float(km): 50.0 + km for km in range(4, 40, 4)}
        return make_survey(replace(plan, route=route), evenly)

    def with_days(journey, *, watch, on_day):
        for one in journey.routes:
            for day in one.nights:
                on_day(one, day, f"{one.name} {day.number}")
            on_day(one, replace(one.nights[0], number=9), "planned anew since")
        return journey

    monkeypatch.setattr(planner, "survey_route", survey_route)
    monkeypatch.setattr(journey_handout, "with_days", with_days)
    monkeypatch.setattr(journey_handout, "lay_out_journey", lambda journey, paper_name: "the comparison")
    monkeypatch.setattr(journey_handout, "write_journey_geopackage", lambda journey, path: path.touch())
    monkeypatch.setattr(journey_handout, "lay_out_sheet", lambda answer, paper_name: answer)
    monkeypatch.setattr(journey_handout, "order_text", lambda answer: f"the order of {answer}")
    plan = journey_plan(days_max=4)
    plan = replace(plan, alternatives=(replace(plan.route, name="By the lake"),))
    journey = write_journey(
        plan, tmp_path / "out", draw_pdf=lambda sheet, path: path.write_text(str(sheet), encoding="utf-8")
    )
    nights = [day.number for day in journey.routes[0].nights]
    stems = [f"{route}-day-{number}" for route in ("by-the-lake", "made-route") for number in nights]
    days = {f"{stem}.{kind}" for stem in stems for kind in ("md", "pdf")}
    written = {path.name for path in (tmp_path / "out").iterdir()}
    assert written == {"comparison.pdf", "journey.gpkg", "journey.json"} | days
    assert (tmp_path / "out" / "by-the-lake-day-1.md").read_text(encoding="utf-8") == "the order of By the lake 1"
