"""A proposed way is quick, passable and never goes through a wall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from pyproj import Geod

from sitepick.errors import MarchError
from sitepick.ground.model import NOT_KNOWN
from sitepick.march import propose_way
from sitepick.march.going import NO_WALL, read_going
from sitepick.march.pace import pace_of
from sitepick.march.route import follow, lay_stations
from sitepick.plan.model import Route, Weather
from sitepick.work import JobStopped, Watch
from tests.helpers.made import BOG, LAKE, OPEN, SPRUCE, made_relief, make_ground, make_plan, make_terrain

MARCH = replace(make_plan().march, mode="foot", has_sled=False)
WEATHER = Weather(snow_cm=0.0)
LEVEL_M_PER_MIN = 3200.0 / 60.0


def lonlat(grid, row, col):
    lon, lat = grid.to_lonlat(*grid.cell_centre_m(row, col))
    return round(float(lon), 6), round(float(lat), 6)


def way_over(ground, start, goal, *, march=MARCH, watch=None):
    ends = lonlat(ground.grid, *start), lonlat(ground.grid, *goal)
    return propose_way((march, WEATHER), ground, make_terrain(ground), ends, watch=watch)


def marched(ground, way, march=MARCH):
    """Minutes along a way by the stage's own reckoning, and why it ends early, if it does."""
    pace = pace_of(march, WEATHER)
    going = read_going(march, pace, ground, make_terrain(ground))
    stations = lay_stations(Route(name="Way", points=way.points), ground.grid)
    progress = follow(stations, going, pace, ground.grid)
    return float(progress.moving_min[-1]), progress.wall


def metres_over(ground, way, *codes):
    """How many metres of the way's straight lines lie on cells of some cover codes."""
    grid = ground.grid
    rows, cols = np.nonzero(np.isin(ground.cover_index, codes))
    west, north = grid.west_m + cols * grid.cell_m, grid.north_m - rows * grid.cell_m
    cells = shapely.union_all(shapely.box(west, north - grid.cell_m, west + grid.cell_m, north))
    line = shapely.LineString(np.column_stack(grid.from_lonlat(*np.array(way.points).T)))
    return line.intersection(cells).length


def test_on_level_open_ground_the_way_is_the_straight_line():
    ground = make_ground(np.zeros((120, 160)))
    way = way_over(ground, (10, 10), (100, 140))
    straight_m = Geod(ellps="WGS84").line_length(*np.array([way.points[0], way.points[-1]]).T)
    assert len(way.points) == 2
    assert way.distance_m == pytest.approx(straight_m, rel=1e-3)
    assert marched(ground, way)[0] == pytest.approx(straight_m / LEVEL_M_PER_MIN, rel=0.01)
    assert way.minutes == pytest.approx(straight_m / LEVEL_M_PER_MIN, rel=0.03)


def test_the_ends_are_those_that_were_asked_for():
    ground = make_ground(np.zeros((60, 60)))
    ends = lonlat(ground.grid, 3.2, 4.4), lonlat(ground.grid, 50.3, 41.1)
    way = propose_way((MARCH, WEATHER), ground, make_terrain(ground), ends)
    assert (way.points[0], way.points[-1]) == ends


def test_a_lake_is_gone_round_by_its_shore():
    cover = np.full((120, 160), OPEN)
    cover[20:110, 70:80] = LAKE
    ground = make_ground(np.zeros((120, 160)), cover)
    way = way_over(ground, (60, 20), (60, 140))
    assert metres_over(ground, way, LAKE) == 0.0
    assert marched(ground, way)[1] == NO_WALL
    corners_m = 10.0 * (np.hypot(41, 49.5) + 11 + np.hypot(41, 60.5))  # over the lake's nearer end
    assert way.distance_m == pytest.approx(corners_m, rel=0.04)
    assert len(way.points) <= 8


def test_slow_ground_is_left_where_a_way_round_is_quicker():
    cover = np.full((100, 160), BOG)
    cover[80:84, :] = OPEN
    cover[:, :8] = OPEN
    cover[:, -8:] = OPEN
    ground = make_ground(np.zeros((100, 160)), cover)
    near = way_over(ground, (75, 10), (75, 150))
    assert metres_over(ground, near, OPEN) > 0.5 * near.distance_m
    assert marched(ground, near)[0] < 0.95 * 1400.0 * 1.2 / LEVEL_M_PER_MIN


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
def test_over_any_ground_the_way_is_passable_and_takes_what_it_says(seed):
    random = np.random.default_rng(seed)
    cover = random.choice([OPEN, SPRUCE, BOG, LAKE], (90, 90), p=[0.55, 0.2, 0.1, 0.15])
    cover[random.random((90, 90)) < 0.02] = -1
    cover[:2, :2], cover[-2:, -2:] = OPEN, OPEN
    heights = made_relief(90, 90, height_m=90.0) + random.normal(0.0, 0.3, (90, 90))
    ground = make_ground(heights, cover)
    way = way_over(ground, (1.3, 0.6), (88.4, 87.7))
    minutes, wall = marched(ground, way)
    assert wall == NO_WALL
    assert metres_over(ground, way, LAKE, NOT_KNOWN) <= 0.3 * len(way.points)
    assert minutes <= 1.06 * way.minutes + 0.5 * len(way.points)


def test_the_way_back_is_not_the_way_out_in_time():
    heights = np.tile(np.linspace(0.0, 150.0, 120), (40, 1))
    ground = make_ground(heights)
    up, down = way_over(ground, (20, 5), (20, 110)), way_over(ground, (20, 110), (20, 5))
    assert up.minutes > 1.2 * down.minutes


def test_walls_all_round_leave_no_way():
    cover = np.full((60, 60), OPEN)
    cover[:, 30] = LAKE
    with pytest.raises(MarchError, match="there is no way between the two places"):
        way_over(make_ground(np.zeros((60, 60)), cover), (30, 5), (30, 55))


def test_a_corner_between_two_walls_is_no_way():
    cover = np.full((40, 40), OPEN)
    cover[:20, 20:], cover[20:, :20] = LAKE, LAKE
    with pytest.raises(MarchError, match="no way"):
        way_over(make_ground(np.zeros((40, 40)), cover), (5, 5), (35, 35))


def test_measured_ice_carries_the_way_over_the_lake():
    cover = np.full((60, 60), OPEN)
    cover[:, 30] = LAKE
    ground = make_ground(np.zeros((60, 60)), cover)
    march = replace(MARCH, ice_cm=30.0)
    assert marched(ground, way_over(ground, (30, 5), (30, 55), march=march), march)[1] == NO_WALL


@pytest.mark.parametrize(
    ("start", "goal", "told"),
    [
        ((10, 30), (10, 10), "the start of the way lies on water without ice"),
        ((10, 10), (10, 30), "the goal of the way lies on water without ice"),
        ((10, 10), (10, 80), "the goal of the way lies outside the ground that was read"),
        ((10, 10), (10, 10), "both ends of the way lie in one place"),
    ],
)
def test_ends_that_will_not_do_are_told(start, goal, told):
    cover = np.full((40, 60), OPEN)
    cover[:, 28:32] = LAKE
    with pytest.raises(MarchError, match=told):
        way_over(make_ground(np.zeros((40, 60)), cover), start, goal)


def test_the_search_can_be_stopped():
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        way_over(make_ground(np.zeros((40, 60))), (10, 10), (20, 50), watch=watch)


def test_a_way_many_times_as_long_as_the_straight_line_is_found_too():
    cover = np.full((140, 100), OPEN)
    cover[:130, 48:52] = LAKE
    ground = make_ground(np.zeros((140, 100)), cover)
    way = way_over(ground, (5, 44), (5, 56))
    minutes, wall = marched(ground, way)
    assert wall == NO_WALL
    assert way.distance_m > 10.0 * 120.0
    assert minutes == pytest.approx(way.minutes, rel=0.06)
    assert way.minutes == pytest.approx(2.0 * 1255.0 / LEVEL_M_PER_MIN, rel=0.03)
