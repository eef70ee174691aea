"""The band beside a route, and marches that end at its edge."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from scipy import ndimage

from sitepick.journey.corridor import ENDLESS_MIN, WALK_M, march_of_day, march_of_survey, near_route
from sitepick.march import plan_march
from sitepick.march.clock import read_clock
from sitepick.march.model import HaltRule
from sitepick.march.route import lay_stations
from sitepick.plan.journey import JourneySettings
from sitepick.plan.model import Route
from sitepick.work import Watch
from tests.helpers.made import LAKE, OPEN, made_relief, make_ground, make_plan, make_terrain

pytestmark = pytest.mark.slow
ROWS, COLS, OFF_M = 340, 260, 500.0


@pytest.fixture(scope="module")
def land():
    cover = np.full((ROWS, COLS), OPEN)
    cover[150:175, 60:90] = LAKE
    ground = make_ground(made_relief(ROWS, COLS, height_m=60.0), cover)
    is_water = ground.cover_index == ground.cover_index[160, 70]
    return ground, make_terrain(ground, is_water=is_water)


@pytest.fixture(scope="module")
def plan(land):
    grid = land[0].grid
    lon, lat = grid.to_lonlat(
        grid.west_m + np.array([150.0, 900.0, 2400.0]), grid.north_m - np.array([1600.0, 1850.0, 1500.0])
    )
    made = make_plan(land[0])
    return replace(
        made,
        route=Route(name="Made", points=tuple(zip(lon.tolist(), lat.tolist(), strict=True))),
        journey=JourneySettings(off_route_m=OFF_M),
        march=replace(made.march, has_sled=False),
    )


@pytest.fixture(scope="module")
def near(land, plan):
    """The band by the distance from every station to every cell."""
    grid = land[0].grid
    stations = lay_stations(plan.route, grid)
    away = np.ones(grid.shape, bool)
    away[stations.row, stations.col] = False
    return ndimage.distance_transform_edt(away) * grid.ground_cell_m


def test_the_band_is_what_lies_within_the_distance(land, plan, near):
    found = near_route(plan.route, land[0].grid, OFF_M)
    assert found[near <= OFF_M - 10.0].all()
    assert not found[near > OFF_M + 10.0].any()


def test_a_route_that_leaves_the_ground_has_a_band_where_there_is_ground(land, plan):
    grid = land[0].grid
    lon, lat = grid.to_lonlat(grid.west_m - np.array([5000.0, 300.0]), np.full(2, grid.north_m - 1000.0))
    outside = Route(name="Outside", points=tuple(zip(lon.tolist(), lat.tolist(), strict=True)))
    found = near_route(outside, grid, OFF_M)
    assert found[100, 15]
    assert not found[100, 25:].any()


def test_a_survey_finds_the_detours_that_the_march_finds_without_a_clock(land, plan):
    ground, terrain = land
    endless = replace(
        read_clock(plan),
        camp_by=plan.march.depart + timedelta(minutes=ENDLESS_MIN), halt_rule=HaltRule(halts=()),
        moving_min=ENDLESS_MIN, dark=(), useful_light_end=None,
    )  # fmt: skip
    whole = plan_march(replace(plan, march=replace(plan.march, pace_error_frac=0.0)), ground, terrain, clock=endless)
    held = march_of_survey(plan, ground, terrain, watch=Watch())
    inner = near_route(plan.route, ground.grid, OFF_M - WALK_M / 2.0)
    assert np.array_equal(np.isfinite(held.detour_min[inner]), np.isfinite(whole.detour_min[inner]))
    np.testing.assert_allclose(held.detour_min[inner], whole.detour_min[inner], atol=0.02)
    assert (held.leave_station[inner] == whole.leave_station[inner]).mean() > 0.999
    np.testing.assert_array_equal(held.station_moving_min, whole.station_moving_min)


@pytest.mark.parametrize("march_of", [march_of_survey, march_of_day])
def test_nobody_is_led_farther_off_the_route_than_nights_are_looked_for(land, plan, near, march_of):
    march = march_of(plan, *land, watch=Watch())
    is_reached = march.leave_station >= 0
    assert near[is_reached].max() <= OFF_M + 10.0
    assert np.array_equal(is_reached, np.isfinite(march.detour_min))
    is_dry = ~land[1].is_water & (near <= OFF_M - 10.0)
    assert is_reached[is_dry].mean() > 0.99


def test_a_day_is_as_the_march_tells_it_where_nights_are_looked_for(land, plan, near):
    ground, terrain = land
    whole, held = plan_march(plan, ground, terrain), march_of_day(plan, ground, terrain, watch=Watch())
    inner = near <= OFF_M / 2.0
    np.testing.assert_allclose(held.moving_min[inner], whole.moving_min[inner], atol=0.05)
    np.testing.assert_allclose(held.detour_min[inner], whole.detour_min[inner], atol=0.05)
    np.testing.assert_array_equal(held.minutes_per_100m[near <= 2000.0], whole.minutes_per_100m[near <= 2000.0])
    assert (held.legs, held.camp_by) == (whole.legs, whole.camp_by)
    assert "within 0.5 km of the route" in held.cautions[-1].text


def test_people_with_a_sled_walk_to_water_at_their_own_pace_from_a_days_camp(land, plan):
    sled = replace(plan, march=replace(plan.march, mode="ski", has_sled=True))
    whole, held = plan_march(sled, *land), march_of_day(sled, *land, watch=Watch())
    near = near_route(plan.route, land[0].grid, 1000.0)
    np.testing.assert_allclose(held.walking_minutes_per_100m[near], whole.walking_minutes_per_100m[near], rtol=1e-5)
