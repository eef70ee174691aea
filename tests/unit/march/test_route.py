"""The route as stations, and the unit's way along them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sitepick.errors import MarchError
from sitepick.march.going import NO_WALL, OPEN_WATER, OUTSIDE, TOO_STEEP, UNKNOWN, read_going
from sitepick.march.pace import pace_of
from sitepick.march.route import climb_and_descent, follow, lay_stations
from sitepick.plan.model import Route, Weather
from tests.helpers.made import LAKE, OPEN, make_grid, make_ground, make_plan, make_terrain

MARCH = replace(make_plan().march, mode="foot", has_sled=False)
WEATHER = Weather(snow_cm=0.0)


def route_over(grid, *cells):
    """A route through the middles of some cells."""
    points = [grid.to_lonlat(*grid.cell_centre_m(row, col)) for row, col in cells]
    return Route(name="Made route", points=tuple((float(lon), float(lat)) for lon, lat in points))


def progress_over(ground, *cells, march=MARCH, terrain=None):
    pace = pace_of(march, WEATHER)
    going = read_going(march, pace, ground, terrain or make_terrain(ground))
    stations = lay_stations(route_over(ground.grid, *cells), ground.grid)
    return stations, follow(stations, going, pace, ground.grid)


def test_stations_lie_at_most_a_cell_apart_and_hold_the_routes_own_points():
    grid = make_grid(50, 60)
    stations = lay_stations(route_over(grid, (5, 5), (25, 40), (45, 10)), grid)
    steps = np.hypot(np.diff(stations.east_m), np.diff(stations.north_m))
    assert steps.max() <= grid.cell_m + 1e-6
    middle = stations.point_index[1]
    assert (stations.row[middle], stations.col[middle]) == (25, 40)
    assert stations.point_index[0] == 0
    assert stations.point_index[-1] == len(stations.east_m) - 1


def test_distance_is_on_the_ground_and_not_on_the_projection():
    grid = make_grid(10, 400)  # beside the zone's middle line, where the projection shrinks by 0.9996
    stations = lay_stations(route_over(grid, (5, 0), (5, 350)), grid)
    assert stations.distance_m[-1] == pytest.approx(3500.0 / 0.9996, rel=1e-6)


def test_a_point_given_twice_changes_nothing():
    grid = make_grid(10, 40)
    once = lay_stations(route_over(grid, (5, 2), (5, 20), (5, 30)), grid)
    twice = lay_stations(route_over(grid, (5, 2), (5, 20), (5, 20), (5, 30)), grid)
    np.testing.assert_array_equal(once.distance_m, twice.distance_m)
    assert twice.point_index[1] == twice.point_index[2]


def test_a_route_in_one_place_is_refused():
    grid = make_grid(10, 10)
    with pytest.raises(MarchError, match="lie in one place"):
        lay_stations(route_over(grid, (5, 5), (5, 5)), grid)


def test_level_open_ground_takes_the_level_rate():
    stations, progress = progress_over(make_ground(np.zeros((10, 110))), (5, 2), (5, 102))
    assert progress.moving_min[-1] == pytest.approx(stations.distance_m[-1] / 3200.0 * 60.0)
    assert progress.wall == NO_WALL


def test_up_a_plane_takes_toblers_share_more():
    """5.0367 to 2.5012 km/h on a slope of 20 % (Tobler 1993)."""
    height = np.broadcast_to(2.0 * np.arange(110.0), (10, 110))
    _, up = progress_over(make_ground(height), (5, 2), (5, 102))
    _, level = progress_over(make_ground(np.zeros((10, 110))), (5, 2), (5, 102))
    assert up.moving_min[-1] / level.moving_min[-1] == pytest.approx(5.0367 / 2.5012, rel=1e-3)


@pytest.mark.parametrize("wall", [OPEN_WATER, UNKNOWN, TOO_STEEP, OUTSIDE])
def test_the_way_ends_at_a_wall_and_says_which(wall):
    height, cover = np.zeros((10, 60)), np.full((10, 60), OPEN)
    end = (5, 50)
    if wall == OPEN_WATER:
        cover[:, 30:33] = LAKE
    elif wall == UNKNOWN:
        cover[:, 30:33] = -1
    elif wall == TOO_STEEP:
        height[:, 30:] = 20.0
    else:
        end = (5, 70)
    stations, progress = progress_over(make_ground(height, cover), (5, 2), end)
    assert progress.wall == wall
    past = 60 if wall == OUTSIDE else 30
    assert np.isfinite(progress.moving_min[stations.col < past - 1]).all()
    assert np.isnan(progress.moving_min[stations.col > past]).all()


@pytest.mark.parametrize(
    ("cell", "told"), [((5, 31), "water"), ((5, 2), "the files don't know"), ((-3, 4), "edge of the ground")]
)
def test_a_start_that_won_t_do_is_told_with_its_place(cell, told):
    cover = np.full((10, 60), OPEN)
    cover[:, 30:33] = LAKE
    cover[:, 2] = -1
    with pytest.raises(MarchError, match=rf"34W.*{told}.*move its first point"):
        progress_over(make_ground(np.zeros((10, 60)), cover), cell, (5, 50))


def test_climb_and_descent_of_a_hill():
    heights = np.concatenate((np.linspace(100, 160, 31), np.linspace(158, 120, 20)))
    assert climb_and_descent(heights) == pytest.approx((60.0, 40.0))


def test_noise_is_no_climb():
    noisy = 100.0 + 0.9 * np.sin(np.arange(500.0))
    climb, descent = climb_and_descent(noisy)
    assert max(climb, descent) < 2.0


def test_noise_on_a_slope_adds_nothing():
    slope = np.linspace(0.0, 100.0, 500) + 0.8 * np.sin(np.arange(500.0))
    climb, descent = climb_and_descent(slope)
    assert climb == pytest.approx(100.0, abs=2.0)
    assert descent < 2.0


@pytest.mark.parametrize("seed", range(5))
def test_climb_less_descent_is_the_height_gained(seed):
    heights = np.cumsum(np.random.default_rng(seed).normal(0.0, 1.5, 300))
    climb, descent = climb_and_descent(heights)
    assert climb - descent == pytest.approx(heights[-1] - heights[0])
    assert climb >= 0.0
    assert descent >= 0.0


def test_one_height_is_no_climb():
    assert climb_and_descent(np.array([math.nan, 5.0])) == (0.0, 0.0)
    assert climb_and_descent(np.array([math.nan])) == (0.0, 0.0)
