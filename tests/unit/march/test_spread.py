"""The reach spreads as people move: quicker down than up, around walls, never through them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.march.pace import slope_factor
from sitepick.work import JobStopped, Watch
from tests.helpers.made import made_relief
from tests.unit.march.surfaces import WALKER, level_surface, spread_over


def test_on_level_ground_no_direction_is_more_than_one_and_a_half_per_cent_off_the_straight_line():
    minutes = spread_over(level_surface(121, 121), (60, 60)).minutes
    row, col = np.indices(minutes.shape) - 60
    straight_min = 10.0 * np.hypot(row, col) / 60.0
    far = np.hypot(row, col) >= 20
    error = minutes[far] / straight_min[far] - 1.0
    assert error.min() > -0.001
    assert error.max() <= 0.015


@pytest.mark.parametrize("tangent", [-0.3, -0.05, 0.1, 0.3])
def test_on_a_plane_the_way_straight_up_or_down_takes_the_slope_factor(tangent):
    surface = level_surface(41, 5)
    surface = replace(surface, height_m=np.broadcast_to(-10.0 * tangent * np.arange(41.0)[:, None], (41, 5)))
    minutes = spread_over(surface, (40, 2)).minutes
    wanted = 400.0 / 60.0 * float(slope_factor(WALKER, tangent))
    assert minutes[0, 2] == pytest.approx(wanted, rel=0.005)


def test_across_a_slope_people_move_as_on_the_level():
    surface = level_surface(9, 61)
    surface = replace(surface, height_m=np.broadcast_to(4.0 * np.arange(9.0)[:, None], (9, 61)))
    assert spread_over(surface, (4, 0)).minutes[4, 60] == pytest.approx(10.0, rel=0.002)


def test_up_takes_longer_than_down_by_the_published_speeds():
    """Tobler 1993: 2.5012 km/h up and 3.5493 km/h down a slope of 20 %."""
    surface = level_surface(41, 5)
    surface = replace(surface, height_m=np.broadcast_to(2.0 * np.arange(41.0)[:, None], (41, 5)))
    minutes = spread_over(surface, (20, 2)).minutes
    assert minutes[40, 2] / minutes[0, 2] == pytest.approx(3.5493 / 2.5012, rel=0.005)


def test_a_wall_is_walked_around():
    surface = level_surface(41, 41, walls=[np.s_[20, :35]])
    minutes = spread_over(surface, (30, 5)).minutes
    assert np.isnan(minutes[20, 5])
    around_m = 10.0 * (math.hypot(30.5, 10) + math.hypot(30.5, 10))
    assert minutes[10, 5] == pytest.approx(around_m / 60.0, rel=0.03)


@pytest.mark.parametrize("shape", ["row", "diagonal"])
def test_a_wall_one_cell_thin_lets_nobody_through(shape):
    surface = level_surface(30, 30)
    pace = surface.pace_s_per_m.copy()
    if shape == "row":
        pace[15, :] = np.nan
    else:
        pace[np.arange(30), np.arange(30)] = np.nan
    minutes = spread_over(replace(surface, pace_s_per_m=pace), (25, 3)).minutes
    assert np.isnan(minutes[3, 25])
    assert np.isfinite(minutes[28, 3])


def test_a_gap_in_the_wall_lets_them_through():
    surface = level_surface(30, 30, walls=[np.s_[15, :12], np.s_[15, 13:]])
    assert np.isfinite(spread_over(surface, (25, 3)).minutes[3, 25])


def test_a_track_carries_diagonally_between_walls():
    diagonal = np.arange(10)
    pace = np.full((10, 10), np.nan, np.float32)
    pace[diagonal, diagonal] = 1.0
    is_way = np.zeros((10, 10), bool)
    is_way[diagonal, diagonal] = True
    surface = replace(level_surface(10, 10), pace_s_per_m=pace)
    assert np.isnan(spread_over(surface, (0, 0)).minutes[9, 9])
    with_way = spread_over(replace(surface, is_way=is_way), (0, 0)).minutes
    assert with_way[9, 9] == pytest.approx(9 * 10 * math.sqrt(2) / 60.0, rel=0.002)


@pytest.mark.parametrize("height_m", [9.0, 12.0, 30.0])
def test_a_cliff_is_a_wall_though_no_cell_is_and_though_three_cells_on_the_fall_looks_gentle(height_m):
    surface = level_surface(20, 20)
    height = np.zeros((20, 20), np.float32)
    height[:10] = height_m
    minutes = spread_over(replace(surface, height_m=height), (15, 10)).minutes
    assert np.isnan(minutes[:10]).all()
    assert np.isfinite(minutes[10:]).all()


def test_a_trench_one_cell_wide_is_not_jumped():
    height = np.zeros((20, 20), np.float32)
    height[10] = -15.0
    minutes = spread_over(replace(level_surface(20, 20), height_m=height), (15, 10)).minutes
    assert np.isnan(minutes[:11]).all()


@pytest.mark.parametrize("angle_deg", range(0, 180, 15))
def test_a_stream_one_cell_wide_is_a_wall_in_every_direction_that_it_runs(angle_deg):
    """Cells joined by their corners only, as a thin line is drawn."""
    size, middle = 61, 30
    pace = np.ones((size, size), np.float32)
    down, along = math.sin(math.radians(angle_deg)), math.cos(math.radians(angle_deg))
    lead = max(abs(down), abs(along))
    for step in range(-middle, middle + 1):
        pace[round(middle + step * down / lead), round(middle + step * along / lead)] = np.nan
    start = (round(middle + 15 * along), round(middle - 15 * down))
    minutes = spread_over(replace(level_surface(size, size), pace_s_per_m=pace), start).minutes
    row, col = np.indices(pace.shape) - middle
    across = row * along - col * down
    assert np.isfinite(minutes[across > 2]).all()
    assert np.isnan(minutes[across < -2]).all()


@pytest.mark.parametrize("angle_deg", [0, 20, 45, 70, 90, 200, 290])
def test_on_a_plane_the_way_up_down_and_across_takes_what_the_slope_along_it_says(angle_deg):
    """A plane of 15 % that falls to the south: from the middle 40 cells in a direction, in closed form."""
    fall = 0.15
    heights = -10.0 * fall * np.arange(121.0)[:, None] + np.zeros((121, 121))
    surface = replace(level_surface(121, 121), height_m=heights.astype(np.float32))
    minutes = spread_over(surface, (60, 60)).minutes
    row, col = 60 - round(40 * math.cos(math.radians(angle_deg))), 60 + round(40 * math.sin(math.radians(angle_deg)))
    way_m = 10.0 * math.hypot(row - 60, col - 60)
    tangent = 10.0 * fall * (60 - row) / way_m
    straight_min = way_m / 60.0 * float(slope_factor(WALKER, tangent))
    assert minutes[row, col] <= 1.015 * straight_min  # no more than the straight way; less where tacking pays
    if angle_deg % 90 == 0:
        assert minutes[row, col] == pytest.approx(straight_min, rel=0.005)


def test_the_spread_ends_at_its_limit():
    minutes = spread_over(level_surface(121, 121), (60, 60), limit_min=5.0).minutes
    assert np.nanmax(minutes) <= 5.0
    assert np.isfinite(minutes[60, 89])
    assert np.isnan(minutes[60, 91])


@pytest.mark.parametrize("cell_m", [5.0, 10.0, 30.0])
def test_minutes_don_t_depend_on_the_size_of_the_cells(cell_m):
    count = round(600 / cell_m)
    minutes = spread_over(level_surface(3, count + 1, cell_m=cell_m), (1, 0)).minutes
    assert minutes[1, count] == pytest.approx(10.0, rel=0.005)


def test_each_cell_knows_which_start_its_way_comes_from_and_late_starts_win_less_ground():
    spread = spread_over(level_surface(5, 101), (2, 0), (2, 100), at_min=[0.0, 5.0])
    assert spread.seed[2, 10] == 0
    assert spread.seed[2, 95] == 1
    assert (spread.seed[2] == 0).sum() == pytest.approx(65, abs=2)  # 5 min at 1 m/s are 30 cells, halved


def test_a_start_past_the_limit_or_on_a_wall_or_never_reached_leads_nowhere():
    surface = level_surface(9, 9, walls=[np.s_[4, 4]])
    spread = spread_over(surface, (0, 0), (4, 4), (8, 8), at_min=[9.0, 0.0, np.nan], limit_min=5.0)
    assert np.isnan(spread.minutes).all()
    assert (spread.seed == -1).all()


@pytest.mark.parametrize("quarter_turns", [1, 2, 3])
def test_turn_the_map_and_the_answer_turns(quarter_turns):
    surface = replace(level_surface(31, 31), height_m=made_relief(31, 31, height_m=60.0))
    turned = replace(surface, height_m=np.rot90(surface.height_m, quarter_turns))
    minutes, turned_minutes = (spread_over(ground, (15, 15)).minutes for ground in (surface, turned))
    np.testing.assert_allclose(turned_minutes, np.rot90(minutes, quarter_turns), rtol=0.01)


@settings(max_examples=15, deadline=None)
@given(limit_min=st.floats(1.0, 20.0), more_min=st.floats(0.0, 20.0), seed=st.integers(0, 50))
def test_more_time_never_reaches_less_ground(limit_min, more_min, seed):
    surface = replace(level_surface(41, 41), height_m=made_relief(41, 41, seed=seed, height_m=60.0))
    less = spread_over(surface, (20, 20), limit_min=limit_min).minutes
    more = spread_over(surface, (20, 20), limit_min=limit_min + more_min).minutes
    reached = np.isfinite(less)
    assert np.isfinite(more[reached]).all()
    np.testing.assert_array_equal(more[reached], less[reached])


def test_a_stopped_watch_ends_the_spread():
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        spread_over(level_surface(), (20, 20), watch=watch)


def test_a_long_spread_looks_at_the_watch_often(monkeypatch):
    monkeypatch.setattr("sitepick.march.spread.SLICE_COUNT", 100)
    heard = []
    watch = Watch(lambda step, done, total: heard.append((done, total)))
    spread_over(level_surface(), (20, 20), watch=watch)
    assert len({done for done, _ in heard if done}) >= 41 * 41 // 100 - 1
