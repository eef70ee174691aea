"""The compiled loops say what their slow twins say, on random ground with gaps."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.march import _kernels
from sitepick.march.pace import slope_table
from sitepick.march.spread import MOVES, SHARES, edge_ticks
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.unit.march import slow
from tests.unit.march.surfaces import WALKER, level_surface, spread_over

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


@pytest.mark.parametrize("seed", [4, 5, 6])
def test_least_times_are_those_of_a_plain_heap(seed):
    surface = random_surface(seed)
    rows, cols = surface.pace_s_per_m.shape
    open_cells = np.argwhere(~np.isnan(surface.pace_s_per_m))
    starts = [tuple(cell) for cell in open_cells[:: len(open_cells) // 3]]
    got = spread_over(surface, *starts, at_min=[3.0 * number for number in range(len(starts))])
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
    edges = edge_ticks(surface, watch=Watch(), step="edges").reshape(rows * cols, len(MOVES))
    offsets = (MOVES[:, 0] * cols + MOVES[:, 1]).astype(np.int32)
    start = int(np.flatnonzero(~np.isnan(surface.pace_s_per_m.ravel()))[40])

    def run(pool_count, most_count):
        reached = np.tile(np.array([np.iinfo(np.int32).max, -1], np.int32), (rows * cols, 1))
        rings = np.full(_kernels.BUCKET_COUNT, -1, np.int32)
        pool = np.empty((pool_count, 2), np.int32)
        state = np.zeros(_kernels.STATE_SIZE, np.int64)
        state[_kernels.FREE] = -1
        seeds = np.array([(start, 0, 0), (start + 1, 700, 1), (start + 60, 99_000, 2)], np.int32)
        seen = set()
        while True:
            status = _kernels.spread_slice(
                edges, offsets, seeds, reached, rings, pool, state, 10**8, most_count
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


def test_blocks_of_rows_make_the_same_edges_as_one_block():
    surface = random_surface(9, rows=40)
    shape = surface.pace_s_per_m.shape
    steepest = np.array([5.0, 7.0])

    def edges(blocks):
        paces, made = np.empty((2, *shape), np.float32), np.empty((*shape, len(MOVES)), np.uint16)
        for first, last in blocks:
            _kernels.open_rows(
                surface.pace_s_per_m, surface.height_m, steepest, paces[0], paces[1], first, last
            )  # fmt: skip
        for first, last in blocks:
            _kernels.edge_rows(
                paces, surface.height_m, surface.is_way, MOVES, SHARES, slope_table(WALKER), np.array([10.0, 32.0]),
                made, first, last,
            )  # fmt: skip
        return made

    np.testing.assert_array_equal(edges(((25, 40), (0, 7), (7, 25))), edges(((0, 40),)))
