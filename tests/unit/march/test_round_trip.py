"""Minutes to water and back."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import numpy as np
import pytest

from sitepick.march import minutes_to_and_back, plan_march
from sitepick.march.pace import pace_of, slope_factor
from tests.helpers.made import LAKE, OPEN, made_relief, make_ground, make_plan, make_terrain


def trip_over(height, cover=OPEN, *, target=None, limit_min=60.0, window=None, **march):
    """Minutes to the lake (or the cells of `target`) and back, for a unit on skis."""
    ground = make_ground(height, cover)
    terrain = make_terrain(ground)
    plan = make_plan(ground)
    plan = replace(plan, march=replace(plan.march, camp_by_hour=time(9, 0), **{"has_sled": False, **march}))
    found = plan_march(plan, ground, terrain)
    is_target = terrain.is_water if target is None else target
    return plan, minutes_to_and_back(found, ground, terrain, is_target, limit_min=limit_min, window=window)


def lake_at_the_east(rows=15, cols=101):
    cover = np.full((rows, cols), OPEN)
    cover[:, -10:] = LAKE
    return cover


def test_on_the_level_it_is_twice_the_way():
    _, minutes = trip_over(np.zeros((15, 101)), lake_at_the_east())
    assert minutes[7, 41] == pytest.approx(2 * 500.0 / 3200.0 * 60.0, rel=0.01)  # ten cells wide, 50 from its bank


def test_down_to_the_water_and_back_up_costs_both_slopes():
    height = np.broadcast_to(1.5 * np.arange(101.0)[::-1], (15, 101))
    plan, minutes = trip_over(height, lake_at_the_east())
    pace = pace_of(plan.march, plan.weather)
    both = float(slope_factor(pace, -0.15) + slope_factor(pace, 0.15))
    assert minutes[7, 41] == pytest.approx(both * 500.0 / 3200.0 * 60.0, rel=0.01)


def test_the_sled_stays_in_camp():
    _, without = trip_over(np.zeros((15, 101)), lake_at_the_east())
    _, with_sled = trip_over(np.zeros((15, 101)), lake_at_the_east(), has_sled=True)
    np.testing.assert_allclose(with_sled, without, rtol=0.01)


def test_people_of_a_vehicle_fetch_water_on_foot():
    _, minutes = trip_over(np.zeros((15, 101)), lake_at_the_east(), mode="vehicle")
    assert minutes[7, 81] == pytest.approx(2 * 100.0 / 800.0 * 60.0, rel=0.03)  # in deep snow


def test_water_itself_is_at_no_distance_and_past_the_limit_nothing_is_known():
    _, minutes = trip_over(np.zeros((15, 101)), lake_at_the_east(), limit_min=10.0)
    assert (minutes[:, -10:] == 0.0).all()
    assert np.isnan(minutes[7, 5])
    assert np.nanmax(minutes) <= 10.0


def test_a_stream_that_can_be_crossed_is_reached_from_both_banks():
    target = np.zeros((15, 101), bool)
    target[:, 50] = True
    _, minutes = trip_over(np.zeros((15, 101)), target=target)
    assert minutes[7, 40] == pytest.approx(minutes[7, 60])
    assert minutes[7, 50] == 0.0


def test_the_way_goes_around_what_is_not_known():
    height = np.zeros((15, 101))
    height[:14, 70] = np.nan
    _, around = trip_over(height, lake_at_the_east(), target=None, mode="foot", level_kmh=3.2)
    _, straight = trip_over(np.zeros((15, 101)), lake_at_the_east(), mode="foot", level_kmh=3.2)
    assert around[2, 68] > straight[2, 68] + 1.0


def test_without_any_water_nothing_is_known():
    _, minutes = trip_over(np.zeros((15, 101)))
    assert np.isnan(minutes).all()


@pytest.mark.slow
def test_asking_for_a_part_gives_that_part_of_the_whole():
    cover = np.where(np.random.default_rng(3).random((90, 120)) < 0.002, LAKE, OPEN)
    relief = made_relief(90, 120, height_m=40.0)
    window = (slice(30, 50), slice(40, 80))
    for limit_min in (4.0, 20.0):
        _, whole = trip_over(relief, cover, limit_min=limit_min)
        _, part = trip_over(relief, cover, limit_min=limit_min, window=window)
        assert np.isfinite(whole[window]).any()
        np.testing.assert_allclose(part[window], whole[window], atol=1e-3)
