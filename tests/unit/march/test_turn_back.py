"""The last place from which the unit is back at base in useful light."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta

import numpy as np
import pytest

from sitepick.march import plan_march
from sitepick.march.pace import pace_of, slope_factor
from sitepick.plan import Delay
from tests.helpers.made import make_ground, make_plan, make_terrain

ROWS, COLS = 9, 2500


def march_over(tangent=0.0, **march):
    """Skis along a plane that rises to the east; the departure makes the day short."""
    heights = np.broadcast_to(10.0 * tangent * np.arange(COLS), (ROWS, COLS))
    ground = make_ground(heights)
    plan = make_plan(ground)
    depart = datetime(2027, 2, 11, 12, 0, tzinfo=plan.march.depart.tzinfo)
    settings = {"has_sled": False, "depart": depart, "halt_min": 0.0, "pitching_min": 0.0, **march}
    plan = replace(plan, march=replace(plan.march, **settings))
    return plan, plan_march(plan, ground, make_terrain(ground))


def test_on_the_level_it_lies_half_way_to_dark():
    _, march = march_over()
    light_min = (march.useful_light_end - march.depart) / timedelta(minutes=1)
    assert march.turn_back.distance_m == pytest.approx(light_min / 2.0 / 60.0 * 3200.0, abs=15.0)
    assert march.turn_back.at == pytest.approx(
        march.depart + timedelta(minutes=light_min / 2), abs=timedelta(minutes=1)
    )
    assert timedelta(0) <= march.useful_light_end - march.turn_back.back_at < timedelta(minutes=1)
    assert not march.turn_back.is_whole_day


@pytest.mark.parametrize("tangent", [0.1, -0.1])
def test_the_way_back_is_paced_the_other_way(tangent):
    plan, march = march_over(tangent)
    pace = pace_of(plan.march, plan.weather)
    both = float(slope_factor(pace, tangent) + slope_factor(pace, -tangent))
    light_min = (march.useful_light_end - march.depart) / timedelta(minutes=1)
    assert march.turn_back.distance_m == pytest.approx(light_min / both / 60.0 * 3200.0, rel=0.005)


def test_halts_count_both_ways_and_a_delay_once():
    _, free = march_over()
    _, halting = march_over(halt_min=10.0, first_halt_after_min=25.0, halt_every_min=60.0)
    _, delayed = march_over(delays=(Delay(minutes=30.0, at_km=1.0, reason="ford"),))
    light_min = (free.useful_light_end - free.depart) / timedelta(minutes=1)
    halt_count = len(range(25, int(light_min), 60))
    lost_m = free.turn_back.distance_m - halting.turn_back.distance_m
    assert lost_m == pytest.approx(halt_count * 10.0 / 2.0 / 60.0 * 3200.0, abs=30.0)
    assert free.turn_back.distance_m - delayed.turn_back.distance_m == pytest.approx(30.0 / 2 / 60 * 3200, abs=30.0)


def test_on_a_short_day_base_can_be_reached_from_everywhere():
    _, march = march_over(camp_by_hour=time(12, 40))
    assert march.turn_back.is_whole_day
    assert march.turn_back.distance_m == pytest.approx(march.reach_along_route_m, abs=15.0)


def test_after_dusk_there_is_no_such_place():
    plan = make_plan()
    depart = datetime(2027, 2, 11, 20, 0, tzinfo=plan.march.depart.tzinfo)
    _, march = march_over(depart=depart, camp_by_hour=time(23, 0), camp_in_dark=True)
    assert march.turn_back is None


def test_in_the_dark_season_base_must_be_reached_by_camp_by():
    plan = make_plan()
    depart = datetime(2026, 12, 21, 8, 0, tzinfo=plan.march.depart.tzinfo)
    _, march = march_over(depart=depart, camp_by_hour=time(12, 0))
    assert march.turn_back.by == (march.useful_light_end or march.camp_by)
    assert march.turn_back.back_at <= march.turn_back.by


def test_a_delay_on_the_route_holds_up_what_lies_past_it_and_nothing_before():
    _, free = march_over()
    _, held = march_over(delays=(Delay(minutes=30.0, at_km=2.0, reason="ford"),))
    row = ROWS // 2
    for col, late_min in ((150, 0.0), (300, 30.0)):
        late = held.arrive_at(row, col) - free.arrive_at(row, col)
        assert late == pytest.approx(timedelta(minutes=late_min), abs=timedelta(seconds=5))
    assert free.reach_along_route_m - held.reach_along_route_m == pytest.approx(1600.0, abs=15.0)
