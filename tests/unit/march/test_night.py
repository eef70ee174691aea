"""The dark slows everything by the same share, by the clock."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, time, timedelta, timezone

import numpy as np
import pytest

from sitepick.march import plan_march
from sitepick.march.clock import read_clock
from sitepick.march.night import Night, read_night
from tests.helpers.made import make_ground, make_plan, make_terrain

DAWN = Night(spans=((0.0, 60.0),), speed_frac=0.5)


def test_an_hour_in_the_dark_at_half_speed_is_worth_half_an_hour():
    np.testing.assert_allclose(DAWN.moving_min([0.0, 10.0, 30.0, 90.0]), [0.0, 20.0, 60.0, 120.0])
    assert DAWN.by_day_min(60.0) == pytest.approx(30.0)
    assert DAWN.by_day_min(100.0) == pytest.approx(70.0)


def test_there_and_back_between_the_two_kinds_of_minutes():
    night = Night(spans=((0.0, 45.0), (300.0, math.inf)), speed_frac=0.65)
    for moving_min in (0.0, 20.0, 45.0, 200.0, 300.0, 500.0):
        assert float(night.moving_min(night.by_day_min(moving_min))) == pytest.approx(moving_min)


def test_no_dark_changes_nothing_and_what_isnt_known_stays_so():
    by_day = np.array([1.1, 2.2, np.nan])
    np.testing.assert_array_equal(Night(spans=(), speed_frac=0.5).moving_min(by_day), by_day)
    assert np.isnan(DAWN.moving_min(by_day)[2])


def test_a_stretch_begun_in_the_dark_takes_longer_than_one_begun_after():
    assert float(DAWN.longer_min(0.0, 10.0)) == pytest.approx(20.0)
    assert float(DAWN.longer_min(30.0, 10.0)) == pytest.approx(10.0)
    assert float(DAWN.longer_min(25.0, 10.0)) == pytest.approx(15.0)


def night_of(depart, **march):
    plan = make_plan()
    return read_night(read_clock(replace(plan, march=replace(plan.march, depart=depart, **march))), 0.65)


def zoned(month, day, hour):
    return datetime(2027, month, day, hour, tzinfo=timezone(timedelta(hours=1)))


def test_it_is_dark_until_civil_dawn_and_after_civil_dusk():
    plan = make_plan()
    early = replace(plan, march=replace(plan.march, depart=zoned(2, 11, 5), halt_min=0.0))
    clock = read_clock(early)
    night = read_night(clock, 0.65)
    dawn_min = (clock.sun.civil_dawn - clock.depart) / timedelta(minutes=1)
    dusk_min = (clock.sun.civil_dusk - clock.depart) / timedelta(minutes=1)
    assert night.spans[0] == (0.0, pytest.approx(dawn_min))
    assert night.spans[1] == (pytest.approx(dusk_min), math.inf)


def test_the_midnight_sun_is_never_dark():
    assert night_of(zoned(6, 21, 20), camp_by_hour=time(3, 0)).spans == ()


def march_at(depart, night_frac=0.65):
    ground = make_ground(np.zeros((60, 400)))
    plan = make_plan(ground)
    march = replace(
        plan.march,
        depart=depart,
        has_sled=False,
        halt_min=0.0,
        camp_by_hour=(depart + timedelta(hours=1)).time(),
        pace=replace(plan.march.pace, night_frac=night_frac),
    )
    return plan_march(replace(plan, march=march), ground, make_terrain(ground))


def test_an_hour_before_dawn_reaches_a_share_of_an_hour_by_day():
    dark, light = march_at(zoned(2, 11, 4)), march_at(zoned(2, 11, 9))
    assert dark.reach_along_route_m == pytest.approx(0.65 * light.reach_along_route_m, rel=0.01)
    assert np.isfinite(dark.moving_min).sum() < np.isfinite(light.moving_min).sum()
    assert dark.early_reach_m == pytest.approx(1.2 * dark.reach_along_route_m, rel=0.01)


def test_the_way_off_the_route_is_slowed_like_the_way_along_it():
    dark, light = march_at(zoned(2, 11, 4)), march_at(zoned(2, 11, 9))
    cell = (35, 60)
    assert dark.moving_min[cell] == pytest.approx(light.moving_min[cell] / 0.65, rel=1e-3)
    assert dark.detour_min[cell] == pytest.approx(light.detour_min[cell] / 0.65, rel=1e-3)
    np.testing.assert_allclose(dark.way_min()[cell], light.way_min()[cell] / 0.65, rtol=1e-3)


def test_a_unit_that_is_as_quick_in_the_dark_gets_as_far():
    assert march_at(zoned(2, 11, 4), night_frac=1.0).reach_along_route_m == pytest.approx(
        march_at(zoned(2, 11, 9)).reach_along_route_m
    )
