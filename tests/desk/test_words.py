"""The desk's own sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.desk.display import spaced_mgrs
from sitepick.desk.ground_reading import NOT_KNOWN, reading_at
from sitepick.desk.translation import counted
from sitepick.desk.words import duration, joined, length, score_text, shelters_phrase, sun_sentence
from sitepick.tonight import Tonight
from tests.helpers.made import make_plan


@pytest.mark.parametrize(
    ("minutes", "text"), [(0, "0 min"), (59.4, "59 min"), (60, "1 h"), (61, "1 h 1 min"), (119.7, "2 h")]
)
def test_durations_read_as_people_say_them(minutes: float, text: str):
    assert duration(minutes) == text


@pytest.mark.parametrize(("distance_m", "text"), [(4, "0 m"), (346, "350 m"), (994, "990 m"), (995, "1.0 km")])
def test_lengths_turn_to_kilometres_at_one(distance_m: float, text: str):
    assert length(distance_m) == text


def test_counts_and_lists():
    assert counted(1, "caution") == "1 caution"
    assert counted(2, "person", "people") == "2 people"
    assert counted(2, "snow trench") == "2 snow trenches"
    assert joined([]) == ""
    assert joined(["a"]) == "a"
    assert joined(["a", "b", "c"]) == "a, b and c"


def test_shelters_are_counted_by_kind():
    assert shelters_phrase(make_plan(people=38)) == "4 ten-person tents and one for the leaders"
    assert shelters_phrase(make_plan(people=8)) == "1 ten-person tent"


def test_a_grid_reference_is_read_in_parts():
    assert spaced_mgrs("34WDA6741326991") == "34W DA 67413 26991"


def test_a_score_is_a_range_only_where_something_is_not_known(answer: Tonight):
    site = answer.sites.sites[0]
    assert score_text(site) == "84–86"
    assert score_text(replace(site, score_high=site.score)) == "84"


def test_unknown_ground_reads_as_not_known_and_the_far_side_as_not_reached(answer: Tonight):
    grid = answer.ground.grid
    told = dict(reading_at(answer, grid, *grid.cell_centre_m(5, 300)))
    assert told["Height"] == NOT_KNOWN
    assert told["Cover"] == NOT_KNOWN
    assert told["Reached"] == "not before camp-by"


def test_off_the_ground_only_the_reference_is_told(answer: Tonight):
    grid = answer.ground.grid
    assert len(reading_at(answer, grid, grid.west_m - 500, grid.north_m)) == 1
    assert len(reading_at(None, grid, *grid.centre_m)) == 1


def test_wind_without_a_forecast_is_a_share(answer: Tonight):
    calm = replace(answer, plan=replace(answer.plan, weather=replace(answer.plan.weather, wind_kmh=None)))
    grid = answer.ground.grid
    assert dict(reading_at(calm, grid, *grid.centre_m))["Wind at shelter"] == "50 % of the open wind"


@pytest.mark.parametrize("kind", ["midnight sun", "polar night"])
def test_days_without_dusk_say_so(answer: Tonight, kind: str):
    march = replace(answer.march, sun=replace(answer.march.sun, kind=kind))
    assert "not set" in sun_sentence(march) or "No sun" in sun_sentence(march)
