"""The compiled loops say what their slow twins say, on random ground with gaps."""

from __future__ import annotations

import threading
from dataclasses import replace

import numpy as np
import pytest

from sitepick.march import _kernels
from sitepick.march.edges import MOVES, TILE_COLS, TILE_ROWS, Edges, edge_ticks
from sitepick.march.spread import Seeds, likely_tiles, spread_beside, spread_over
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.unit.march import slow
from tests.unit.march.surfaces import level_surface
from tests.unit.march.surfaces import spread_over as spread_from_cells

pytestmark = pytest.mark.kernel


def random_surface(seed, rows=23, cols=19):
    rng = np.random.default_rng(seed)
    surface = level_surface(rows, cols)
    pace = rng.uniform(0.5, 4.0, (rows, cols)).astype(np.float32)
    pace[rng.random((rows, cols)) < 0.2] = np.nan
    height = made_relief(rows, cols, seed=seed, height_m=80.0)
    height[np.isnan(pace) & (rng.random((rows, cols)) < 0.5)] = np.nan
    is_way = (rng.random((rows, cols)) < 0.3) & ~np.isnan(pace)
    return replace(surface, pace_s_per_m=pace, height_m=height, is_way=is_way)


@pytest.mark.slow
@pytest.mark.parametrize(("seed", "height_m"), [(1, 80.0), (2, 160.0), (3, 80.0)])
def test_edge_times_are_those_of_the_slow_twin(seed, height_m):
    surface = random_surface(seed)
    surface = replace(surface, height_m=surface.height_m * np.float32(height_m / 80.0))
    fast = edge_ticks(surface, watch=Watch(), step="edges")
    slow_edges = slow.edge_ticks(
        surface.pace_s_per_m, surface.height_m, surface.is_way, surface.slope_table, cell_m=10.0, ticks_per_s=32.0
    )
    way_count = 0
    for (row, col), ways in slow_edges.items():
        for k, move in enumerate(MOVES):
            ticks = ways.get((row + move[0], col + move[1]))
            if ticks is None:
                assert fast[row, col, k] == _kernels.WALL
            else:
                # The table is read at the nearest of 2049 tangents; a rounding either way changes a time by 0.4 %.
                assert fast[row, col, k] == pytest.approx(ticks, rel=0.005, abs=1.0)
                way_count += 1
    assert way_count > 500


def test_edges_on_both_sides_of_a_tile_s_border_are_those_of_a_window_without_one():
    surface = random_surface(7, rows=2 * TILE_ROWS, cols=2 * TILE_COLS)
    rows, cols = slice(TILE_ROWS - 12, TILE_ROWS + 12), slice(TILE_COLS - 15, TILE_COLS + 15)
    whole = edge_ticks(surface, watch=Watch(), step="edges")[rows, cols]
    part = edge_ticks(surface.within(rows, cols), watch=Watch(), step="edges")
    inner = slice(4, -4)  # the longest move, and the step from there to a cliff
    np.testing.assert_array_equal(whole[inner, inner], part[inner, inner])


@pytest.mark.parametrize("seed", [4, 5, 6])
def test_least_times_are_those_of_a_plain_heap(seed):
    surface = random_surface(seed)
    rows, cols = surface.pace_s_per_m.shape
    open_cells = np.argwhere(~np.isnan(surface.pace_s_per_m))
    starts = [tuple(cell) for cell in open_cells[:: len(open_cells) // 3]]
    got = spread_from_cells(surface, *starts, at_min=[3.0 * number for number in range(len(starts))])
    edges = edge_ticks(surface, watch=Watch(), step="edges").reshape(rows * cols, len(MOVES))
    offsets = (MOVES[:, 0] * cols + MOVES[:, 1]).tolist()
    seeds = [(row * cols + col, number * 3 * 60 * 32) for number, (row, col) in enumerate(starts)]
    wanted = np.full(rows * cols, np.nan)
    for cell, ticks in slow.least_ticks(edges, offsets, seeds, limit=10**9).items():
        wanted[cell] = ticks / 32.0 / 60.0
    np.testing.assert_allclose(got.minutes.ravel(), wanted, rtol=1e-6)


def test_a_spread_cut_into_slices_with_a_pool_too_small_ends_the_same():
    surface = random_surface(8)
    rows, cols = surface.pace_s_per_m.shape
    edges = edge_ticks(surface, watch=Watch(), step="edges")
    is_made = np.ones((1, 1), bool)
    offsets = (MOVES[:, 0] * cols + MOVES[:, 1]).astype(np.int32)
    margin = 3 * cols + 3
    start = int(np.flatnonzero(~np.isnan(surface.pace_s_per_m.ravel()))[40])

    def run(pool_count, most_count):
        reached = np.tile(np.array([np.iinfo(np.int32).max, -1], np.int32), (rows * cols + 2 * margin, 1))
        rings = np.full(_kernels.BUCKET_COUNT, -1, np.int32)
        pool = np.empty((pool_count, 2), np.int32)
        state = np.zeros(_kernels.STATE_SIZE, np.int64)
        state[_kernels.FREE] = -1
        seeds = np.array([(start, 0, 0), (start + 1, 700, 1), (start + 60, 99_000, 2)], np.int32)
        seen = set()
        while True:
            status = _kernels.spread_slice(
                edges, is_made, offsets, seeds, reached, rings, pool, state, 10**8, np.zeros(3), most_count
            )  # fmt: skip
            seen.add(status)
            if status == _kernels.DONE:
                return reached, seen
            if status == _kernels.POOL_FULL:
                pool = np.concatenate((pool, np.empty_like(pool)))

    whole, _ = run(10_000, 10**6)
    sliced, seen = run(33, 5)
    assert seen == {_kernels.DONE, _kernels.MORE, _kernels.POOL_FULL}
    np.testing.assert_array_equal(sliced, whole)


def test_tiles_made_when_a_spread_comes_to_them_change_nothing():
    surface = random_surface(9, rows=3 * TILE_ROWS + 5, cols=2 * TILE_COLS + 7)
    start = tuple(np.argwhere(~np.isnan(surface.pace_s_per_m))[50])
    seeds = Seeds(row=np.array(start[:1]), col=np.array(start[1:]), start_min=np.zeros(1))
    whole, tiled = (Edges(surface, watch=Watch(), step="edges") for _ in range(2))
    whole.make(np.argwhere(~whole.made()))
    at_once, bit_by_bit = (spread_over(edges, seeds, limit_min=1e4) for edges in (whole, tiled))
    assert np.isfinite(at_once.minutes).sum() > 1000
    np.testing.assert_array_equal(bit_by_bit.minutes, at_once.minutes)


@pytest.mark.parametrize("hands", [1, 2])
def test_tiles_made_beside_the_spread_change_nothing(monkeypatch, hands):
    monkeypatch.setattr("sitepick.march.spread.thread_count", lambda: hands)
    surface = random_surface(9, rows=3 * TILE_ROWS + 5, cols=2 * TILE_COLS + 7)
    start = tuple(np.argwhere(~np.isnan(surface.pace_s_per_m))[50])
    seeds = Seeds(row=np.array(start[:1]), col=np.array(start[1:]), start_min=np.zeros(1))
    alone, beside = (Edges(surface, watch=Watch(), step="edges") for _ in range(2))
    likely = np.argwhere(~beside.made())[::-1]  # the last ones first, so that the two meet
    (told,) = spread_beside(beside, (seeds,), likely, 1e4)
    np.testing.assert_array_equal(told.minutes, spread_over(alone, seeds, limit_min=1e4).minutes)


def test_tiles_are_made_ahead_only_until_the_spread_has_ended():
    edges = Edges(level_surface(3 * TILE_ROWS, 40), watch=Watch(), step="edges")
    ended = threading.Event()
    ended.set()
    edges.make_ahead(np.argwhere(~edges.made()), until=ended)
    assert not edges.made().any()


def test_a_tile_whose_making_failed_is_made_by_the_next_who_asks(monkeypatch):
    edges = Edges(level_surface(TILE_ROWS, 40), watch=Watch(), step="edges")
    with monkeypatch.context() as patch:
        patch.setattr(_kernels, "edge_tile", lambda *_: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            edges.make_at(0)
    assert edges.make_at(0).all()


def test_a_spread_makes_no_tile_that_it_does_not_come_to():
    surface = level_surface(8 * TILE_ROWS, 40)
    edges = Edges(surface, watch=Watch(), step="edges")
    seeds = Seeds(row=np.array([4]), col=np.array([20]), start_min=np.zeros(1))
    spread_over(edges, seeds, limit_min=10.0)
    reach_rows = 4 + 60  # ten minutes at 1 m/s over cells of 10 m
    assert edges.made()[:, 0].tolist() == [number * TILE_ROWS <= reach_rows for number in range(8)]


def test_likely_tiles_come_in_the_order_in_which_they_are_reached():
    surface = level_surface(8 * TILE_ROWS, 40)
    seeds = Seeds(row=np.array([4, 7 * TILE_ROWS]), col=np.array([20, 20]), start_min=np.array([0.0, 1.0]))
    tiles = likely_tiles(surface, (seeds,), 30.0)
    assert tiles[:, 0].tolist() == [0, 7, 1, 6, 2, 5, 3, 4]


def test_a_spread_to_a_goal_ends_there_with_its_least_time():
    surface = random_surface(10, rows=60, cols=60)
    start, goal = (tuple(np.argwhere(~np.isnan(surface.pace_s_per_m))[number]) for number in (200, 900))
    edges = Edges(surface, watch=Watch(), step="edges")
    seeds = Seeds(row=np.array(start[:1]), col=np.array(start[1:]), start_min=np.zeros(1))
    whole = spread_over(edges, seeds, limit_min=1e4)
    ended = spread_over(edges, seeds, limit_min=1e4, goals=[goal])
    assert ended.minutes[goal] == whole.minutes[goal]
    near = whole.minutes <= whole.minutes[goal]
    np.testing.assert_array_equal(ended.minutes[near], whole.minutes[near])
    assert np.isnan(ended.minutes[~near]).all()
    assert (ended.seed[~near] == -1).all()


@pytest.mark.parametrize("seed", range(3))
def test_a_spread_with_an_aim_gets_there_by_the_same_minute_over_less_ground(seed):
    surface = random_surface(20 + seed, rows=90, cols=120)
    is_open = np.argwhere(~np.isnan(surface.pace_s_per_m))
    start, goal = (tuple(int(at) for at in is_open[place]) for place in (200, -200))
    seeds = Seeds(row=np.array(start[:1]), col=np.array(start[1:]), start_min=np.zeros(1))
    edges = Edges(surface, watch=Watch(), step="edges")
    whole = spread_over(edges, seeds, limit_min=1e4)
    least_min = float(whole.minutes[goal])
    assert np.isfinite(least_min)
    for limit_min in (least_min + 0.01, 1.5 * least_min):
        aimed = spread_over(edges, seeds, limit_min=limit_min, goals=[goal], aim=goal)
        assert aimed.minutes[goal] == whole.minutes[goal]
        assert np.isfinite(aimed.minutes).sum() < np.isfinite(whole.minutes).sum()
    assert np.isnan(spread_over(edges, seeds, limit_min=least_min - 0.1, goals=[goal], aim=goal).minutes[goal])
