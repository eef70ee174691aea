"""The compiled loops of water and avalanches agree with their slow twins on random ground with gaps."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from scipy import ndimage

from sitepick.terrain import _kernels_flow, drainage
from sitepick.terrain.avalanche import AvalancheLimits, runout_source
from sitepick.work import Watch
from tests.unit.terrain import slow_flow as slow
from tests.unit.terrain.test_kernels import CELL_M, SEEDS, rough_ground

pytestmark = pytest.mark.kernel
STEP_M = drainage.LEVEL_STEP_M
LIMITS = AvalancheLimits(release_deg=28.0, steepest_deg=55.0, runout_deg=18.0, path_deg=18.0)


def to_centimetres(z):
    return (np.rint(z * 100) / 100).astype(np.float32)


def flow_over(z, **how):
    return drainage.flow_over(z, watch=Watch(), **how)


@pytest.mark.parametrize("tile_cells", [5, 16, 256])
@pytest.mark.parametrize("seed", SEEDS)
def test_hollows_are_filled_to_their_spill_and_water_takes_the_steepest_way(seed, tile_cells):
    z = to_centimetres(rough_ground(seed))
    level = slow.levels(z, STEP_M)
    want = slow.filled_levels(level)
    assert (want > level).sum() > 20, "there are hollows to fill"
    flow = flow_over(z, tile_cells=tile_cells)
    known = np.isfinite(z)
    got = np.rint((flow.filled_m[known] - np.nanmin(z)) / STEP_M).astype(int)
    assert np.array_equal(got, want[known])
    assert np.isnan(flow.filled_m[~known]).all()
    steps = slow.steps_over_flats(want)
    for cell in np.flatnonzero(level >= 0):
        row, col = divmod(int(cell), z.shape[1])
        steepest, goals = slow.steepest_falls(want, row, col)
        goal = int(flow.receiver[row, col])
        if steepest > 0:
            assert goal in goals
        elif goal < 0:
            assert slow.is_outlet(level)[row, col]
        else:
            assert want.flat[goal] == want[row, col]
            assert steps.flat[goal] == steps[row, col] - 1


@pytest.mark.parametrize("seed", SEEDS)
def test_catchments_and_heights_above_the_water(seed):
    z = rough_ground(seed)
    flow = flow_over(z)
    count = drainage.catchment_count(flow, watch=Watch())
    drain_m = np.full(z.shape, np.nan, np.float32)
    is_drain = np.zeros(z.shape, bool)
    is_drain[5, :12] = is_drain[25:27, 20:30] = True
    drain_m[is_drain] = z[is_drain]
    height, path = drainage.height_above_drain_m(flow, z, drain_m, cell_m=CELL_M, watch=Watch())
    want_count = np.zeros(z.size, int)
    for cell in np.flatnonzero(slow.levels(z, STEP_M) >= 0):
        way = slow.way_down(flow.receiver, int(cell))
        want_count[way] += 1
        drains = [step for step in way if np.isfinite(drain_m.flat[step])]
        if not drains or np.isnan(z.flat[cell]):
            assert np.isnan(height.flat[cell])
            continue
        steps = way[: way.index(drains[0]) + 1]
        length = sum(np.hypot(*np.subtract(divmod(a, z.shape[1]), divmod(b, z.shape[1]))) for a, b in pairwise(steps))
        assert height.flat[cell] == pytest.approx(max(0.0, float(z.flat[cell]) - float(z.flat[drains[0]])), abs=1e-4)
        assert path.flat[cell] == pytest.approx(length * CELL_M, rel=1e-5)
    want_count[np.isnan(z).reshape(-1)] = 0
    assert np.array_equal(count.reshape(-1), want_count)


@pytest.mark.parametrize("seed", SEEDS)
def test_tiles_and_threads_give_the_same_bits(seed, monkeypatch):
    z = rough_ground(seed, 97, 83)
    whole = flow_over(z, tile_cells=256)
    for tile_cells, threads, block_rows in ((7, 1, 3), (16, 3, 50), (64, 2, 11)):
        monkeypatch.setattr("sitepick.work.thread_count", lambda threads=threads: threads)
        monkeypatch.setattr("sitepick.work.BLOCK_ROWS", block_rows)
        tiled = flow_over(z, tile_cells=tile_cells)
        np.testing.assert_array_equal(tiled.filled_m, whole.filled_m)
        np.testing.assert_array_equal(tiled.receiver, whole.receiver)
        np.testing.assert_array_equal(
            drainage.catchment_count(tiled, watch=Watch()), drainage.catchment_count(whole, watch=Watch())
        )


def two_releases(seed):
    z = rough_ground(seed, 40, 44, height_m=500.0)
    release = np.zeros(z.shape, bool)
    row, col = divmod(int(np.nanargmax(z)), z.shape[1])
    release[max(0, row - 3) : row + 4, max(0, col - 3) : col + 4] = True
    release[5:8, 30:33] = True
    return z, release & np.isfinite(z)


@pytest.mark.parametrize("seed", SEEDS)
def test_reach_of_avalanches(seed):
    z, release = two_releases(seed)
    source = runout_source(z, release, flow_over(z).receiver, LIMITS, cell_m=CELL_M, watch=Watch())
    got = ndimage.binary_dilation(source >= 0, structure=np.ones((3, 3)))
    want = slow.reached_from(z, release, CELL_M, LIMITS.runout_deg)
    assert not (want & ~got).any(), "ground that can be reached is never left out"
    ring = ndimage.binary_dilation(want, structure=np.ones((3, 3)))
    assert not (got & ~ring).any(), "and no more than a cell is added"


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("alpha_deg", [9.0, 18.0])
def test_reach_along_the_way_down(seed, alpha_deg):
    z, release = two_releases(seed)
    receiver = flow_over(z).receiver
    energy, source = np.full(z.shape, -np.inf, np.float32), np.full(z.shape, -1, np.int32)
    _kernels_flow.run_down_paths(z, release, receiver, CELL_M, np.tan(np.radians(alpha_deg)), energy, source, 0, 17)
    _kernels_flow.run_down_paths(
        z, release, receiver, CELL_M, np.tan(np.radians(alpha_deg)), energy, source, 17, len(z)
    )
    want = slow.reached_along(z, release, receiver, CELL_M, alpha_deg)
    assert np.array_equal(source >= 0, want)
    line = slow.reached_from(z, release, CELL_M, alpha_deg)
    assert not (want & ~line).any(), "a straight line at the same angle goes at least as far"


@pytest.mark.parametrize("seed", SEEDS)
def test_angle_up_to_the_release_and_its_area(seed):
    z, release = two_releases(seed)
    source = runout_source(z, release, flow_over(z).receiver, LIMITS, cell_m=CELL_M, watch=Watch())
    patch, count = ndimage.label(release, structure=np.ones((3, 3)))
    patch_m2 = (np.bincount(patch.reshape(-1), minlength=count + 1) * CELL_M**2).astype(np.float32)
    fall = np.tan(np.radians(LIMITS.runout_deg))
    angle, area = np.empty_like(z), np.empty_like(z)
    for first in range(0, z.shape[0], 9):
        last = min(first + 9, z.shape[0])
        _kernels_flow.release_above_rows(z, source, patch, patch_m2, CELL_M, fall, angle, area, first, last)
    cols = z.shape[1]
    for row, col in np.ndindex(z.shape):
        around = source[max(0, row - 1) : row + 2, max(0, col - 1) : col + 2]
        starts = {int(source[row, col])} if source[row, col] >= 0 else {int(start) for start in around[around >= 0]}
        if not starts:
            assert np.isnan(area[row, col])
            continue
        runs = {start: CELL_M * np.hypot(start // cols - row, start % cols - col) for start in starts}
        best = max(starts, key=lambda start: z.flat[start] - fall * runs[start])
        assert area[row, col] == patch_m2[patch.flat[best]]
        if best == row * cols + col or np.isnan(z[row, col]):
            assert np.isnan(angle[row, col])
        else:
            rise = max(0.0, float(z.flat[best] - z[row, col]))
            assert angle[row, col] == pytest.approx(np.degrees(np.arctan(rise / runs[best])), abs=1e-3)
