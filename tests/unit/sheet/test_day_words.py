"""The day as it is read out, drawn and written: halts, turn-back, moon, three lines of reach."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import geopandas
import pytest

from sitepick.march.model import HaltRule, TurnBack
from sitepick.moon import MoonNight
from sitepick.sheet.day_document import day_document
from sitepick.sheet.day_words import day_lines, moon_words, usual_halts_words
from sitepick.sheet.geopackage import _route_point_rows, write_geopackage
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Line, Text
from sitepick.sheet.order import order_text
from sitepick.sheet.shape import reach_polygons
from sitepick.sheet.timetable import timetable, turn_back_words
from sitepick.sheet.words import way_back_words
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight


@pytest.fixture(scope="module")
def answer() -> Tonight:
    made = made_tonight()
    march, depart = made.march, made.march.depart
    turn = TurnBack(
        station=100, distance_m=float(march.station_distance_m[100]), at=depart + timedelta(minutes=32),
        back_at=depart + timedelta(hours=8), by=march.useful_light_end, is_whole_day=False,
    )  # fmt: skip
    moon = MoonNight(
        begin=depart, end=depart + timedelta(days=1), up=((depart, depart + timedelta(hours=15)),), lit_frac=0.45,
        is_waxing=True, highest_deg=36.0,
    )  # fmt: skip
    rule = HaltRule(
        halts=((25.0, 10.0), (28.0, 2.0), (30.0, 5.0)), reasons=("first halt", "halt", "ford")
    )  # fmt: skip
    sites = tuple(replace(site, return_min=7.2, rejoin_distance_m=2300.0) for site in made.sites.sites)
    march = replace(march, turn_back=turn, moon=moon, halt_rule=rule, dark=((depart, depart + timedelta(minutes=20)),))
    return replace(made, march=march, sites=replace(made.sites, sites=sites))


def test_the_day_is_read_out_in_order_of_time_in_short_lines(answer: Tonight) -> None:
    first, *lines = day_lines(answer)
    assert first == (
        "The day, 11 February 2027, UTC+01:00: sunrise 08:03, sunset 15:21, dark at 16:12; "
        "moon 45 % lit and growing, sets 23:00."
    )
    timed = [line for line in lines if line[2:4].isdigit()]
    assert timed == sorted(timed, key=lambda line: line[2:7])
    told = "\n".join(lines)
    for words in (
        "08:00  depart",
        "08:25  first halt, 10 min",
        "ford, 5 min",
        "pass the turn-back, 1.0 km from the start",
        "camp-by",
        "arrive at",
    ):
        assert words in told
    assert "1 halt of 10 min, at 08:38." in told
    assert len(lines) <= 14
    assert max(len(line) for line in lines) < 100


def test_halts_that_keep_a_rhythm_are_told_by_it_and_others_one_by_one() -> None:
    start = datetime(2027, 2, 11, 9, 25, tzinfo=UTC)
    hourly = [start + timedelta(hours=number) for number in range(4)]
    assert usual_halts_words(hourly, 10.0) == "4 halts of 10 min, every 60 min from 09:25 to 12:25."
    uneven = [hourly[0], hourly[1], hourly[3]]
    assert usual_halts_words(uneven, 10.0) == "3 halts of 10 min, at 09:25, 10:25, 12:25."


def test_a_delay_at_the_start_is_told_with_the_departure(answer: Tonight) -> None:
    rule = HaltRule(halts=((0.0, 15.0), (25.0, 10.0)), reasons=("delay", "first halt"))
    lines = day_lines(replace(answer, march=replace(answer.march, halt_rule=rule)))
    assert lines[1] == "  08:00  depart; delay of 15 min counted in at the start"
    assert sum("delay" in line for line in lines) == 1


def test_a_leg_and_the_end_of_the_route_are_read_out_with_where_they_lie(answer: Tonight) -> None:
    legs = answer.march.legs
    heights = ((31.0, 12.0, ", 31 m up and 12 m down"), (31.0, 0.2, ", 31 m up"), (0.0, 0.0, ", on the level"))
    for climb_m, descent_m, told in heights:
        leg = replace(legs[0], climb_m=climb_m, descent_m=descent_m)
        lines = day_lines(replace(answer, march=replace(answer.march, legs=(leg, *legs[1:]))))
        assert any(f"reach {leg.end_name}, " in line and line.endswith(f" on{told}") for line in lines)
    assert any("leave the route for site 1, " in line and line.endswith("from the start") for line in lines)


def test_the_day_names_its_site_once(answer: Tonight) -> None:
    name = answer.sites.sites[0].name
    assert sum(name in line for line in day_lines(answer)) == 1


def test_the_turn_back_is_a_point_on_the_map_only_where_there_is_one(answer: Tonight) -> None:
    (row,) = [row for row in _route_point_rows(answer) if row["kind"] == "turn-back"]
    assert (row["geometry"].x, row["geometry"].y) == tuple(answer.march.route_m[100])
    assert row["at"] == "2027-02-11T08:32:00+01:00"
    whole = replace(answer.march.turn_back, is_whole_day=True)
    assert _route_point_rows(replace(answer, march=replace(answer.march, turn_back=whole))) == []


def test_the_turn_back_is_told_only_where_the_unit_comes_past_it(answer: Tonight) -> None:
    assert any(entry.what.startswith("turn-back") for entry in timetable(answer))
    far = replace(answer.march.turn_back, distance_m=99_000.0)
    beyond = replace(answer, march=replace(answer.march, turn_back=far))
    assert not any(entry.what.startswith("turn-back") for entry in timetable(beyond))
    whole = replace(answer.march.turn_back, is_whole_day=True)
    assert "from anywhere on today's way" in turn_back_words(replace(answer.march, turn_back=whole))
    assert turn_back_words(replace(answer.march, turn_back=None)) == ""


def test_a_moon_that_never_rises_or_never_sets_is_told_so(answer: Tonight) -> None:
    moon = answer.march.moon
    down, up = replace(moon, up=()), replace(moon, up=((moon.begin, moon.end),))
    assert moon_words(replace(answer.march, moon=down)).endswith("down all day and night")
    assert moon_words(replace(answer.march, moon=up)).endswith("up all day and night")


def test_the_order_holds_turn_back_moon_delays_and_the_way_back(answer: Tonight) -> None:
    text = order_text(answer)
    assert "Turn-back: 1.0 km from the start, at 08:32" in text
    assert "Moon: moon 45 % lit" in text
    assert "helps where no cloud or forest hides it" in text
    assert "(5 min, ford)" in text
    assert "Back on the route next day in 8 min, at 2.3 km." in text


def test_no_way_back_is_told_where_it_isn_t_known_or_next_to_none(answer: Tonight) -> None:
    site = answer.sites.sites[0]
    assert way_back_words(replace(site, return_min=float("nan"))) == ""
    assert way_back_words(replace(site, return_min=0.4)) == ""


def test_the_document_holds_the_clock(answer: Tonight) -> None:
    told = day_document(answer)
    assert told["turn_back"]["distance_m"] == pytest.approx(answer.march.turn_back.distance_m, abs=0.1)
    assert told["turn_back"]["mgrs"].startswith("34W")
    assert [halt["reason"] for halt in told["halts"]] == ["first halt", "halt", "ford"]
    assert told["moon"]["lit_share"] == 0.45
    assert told["moon"]["moonlit_dark_min"] == 20.0
    assert told["pitching"] == [{"min": 75.0, "for": "as the plan says"}]


def test_the_sheet_draws_the_turn_back_and_three_distinct_lines_of_reach(answer: Tonight) -> None:
    page = lay_out_sheet(answer).pages[0]
    assert any(isinstance(stroke, Text) and "turn back 08:32" in stroke.text for stroke in page.strokes)
    looks = {
        (stroke.dash_mm, stroke.width_mm)
        for stroke in page.strokes
        if isinstance(stroke, Line) and stroke.dash_mm in ((), (0.5, 0.9), (1.8, 0.9))
    }
    assert {(0.5, 0.9), (1.8, 0.9)} <= {dash for dash, _ in looks}
    assert ((), 0.4) in looks


def test_early_likely_and_late_are_three_shapes_in_the_layers_each_within_the_next(answer: Tonight, tmp_path) -> None:
    write_geopackage(answer, tmp_path / "tonight.gpkg")
    frame = geopandas.read_file(tmp_path / "tonight.gpkg", layer="reach").set_index("pace")
    assert frame.loc["late", "area_m2"] < frame.loc["likely", "area_m2"] < frame.loc["early", "area_m2"]
    shapes = reach_polygons(answer.march)
    assert shapes["likely"].buffer(10.0).contains(shapes["late"])
    assert shapes["early"].buffer(10.0).contains(shapes["likely"])
