"""The compiled loops of sun and sight agree with their slow twins on random ground with gaps."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.terrain import _kernels_sight, _kernels_sun
from sitepick.terrain.horizon import DROP_PER_M2, horizon_around_deg, horizon_deg, looking_lines
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.unit.terrain import slow

pytestmark = pytest.mark.kernel
CELL_M = 10.0
WHOLE = 10_000  # what a look counts
STRONG_DROP = 1e-4  # an earth so round that its curve shows within a few cells
BEARINGS = (0.0, 20.0, 45.0, 77.0, 90.0, 135.0, 160.0, 180.0, 221.0, 270.0, 300.0, 359.0)


def rough_ground(seed, rows=31, cols=37, height_m=60.0):
    rng = np.random.default_rng(seed)
    z = made_relief(rows, cols, seed=seed, height_m=height_m)
    z[rng.random(z.shape) < 0.02] = np.nan
    z[10:13, 20:24] = np.nan
    z[20:24, 5:9] = 12.5
    return z


@pytest.mark.parametrize("bearing_deg", BEARINGS)
def test_horizon(bearing_deg):
    z = rough_ground(1, 21, 26)
    horizon = horizon_deg(z, bearing_deg, cell_m=CELL_M, watch=Watch())
    np.testing.assert_allclose(horizon, slow.horizon(z, bearing_deg, CELL_M, DROP_PER_M2), atol=2e-5)


@pytest.mark.parametrize("bearing_deg", [45.0, 160.0, 270.0])
def test_horizon_on_a_rounder_earth_in_blocks(bearing_deg):
    z = rough_ground(2, 19, 27)
    line, lean, steps, step_cells = looking_lines(bearing_deg, z.shape)
    horizon = np.full(z.size, -1.0, np.float32)
    for first in range(0, 60, 7):
        _kernels_sun.horizon_lines(
            z.reshape(-1), line, lean, steps, step_cells * CELL_M, STRONG_DROP, horizon, first, first + 7
        )
    want = slow.horizon(z, bearing_deg, CELL_M, STRONG_DROP)
    np.testing.assert_allclose(horizon.reshape(z.shape), want, atol=2e-5)
    assert np.nanmax(np.abs(want - slow.horizon(z, bearing_deg, CELL_M, 0.0))) > 0.1


@pytest.mark.parametrize("bearing_deg", [0.0, 45.0, 90.0, 225.0, 270.0])
def test_horizon_of_one_cell_is_that_of_the_whole_ground_where_rays_meet_cells(bearing_deg):
    z = rough_ground(3)
    horizon = horizon_deg(z, bearing_deg, cell_m=CELL_M, watch=Watch())
    for cell in ((0, 0), (15, 18), (30, 36), (29, 2), (10, 20)):
        one = horizon_around_deg(z, cell, np.array([bearing_deg]), cell_m=CELL_M)
        np.testing.assert_allclose(horizon[cell], one[0], atol=2e-5)


@pytest.mark.parametrize("shape", [(1, 23), (23, 1), (1, 1), (2, 9)])
def test_horizon_of_strips(shape):
    z = made_relief(25, 25, seed=5)[: shape[0], : shape[1]].copy()
    for bearing_deg in BEARINGS:
        horizon = horizon_deg(z, bearing_deg, cell_m=CELL_M, watch=Watch())
        np.testing.assert_allclose(horizon, slow.horizon(z, bearing_deg, CELL_M, DROP_PER_M2), atol=2e-5)


def test_hours_of_sun():
    rng = np.random.default_rng(4)
    near, far = rng.uniform(0.0, 8.0, (2, 9, 11)).astype(np.float32)
    near[2, 3] = far[2, 3] = np.nan
    part = np.array([0.0, 0.3, 0.8, 0.9])
    sun = np.array([[-1.0, 0.1, 0.05], [4.0, -0.1, 0.02], [6.0, 0.0, 0.1], [1.0, 0.2, 0.1]])
    hours, clear = np.zeros(near.shape, np.float32), np.full(near.shape, -np.inf, np.float32)
    for moments in (slice(0, 1), slice(1, 4)):
        for first, last in ((0, 4), (4, 9)):
            _kernels_sun.sun_rows(near, far, part[moments], sun[moments], 0.25, clear, hours, first, last)
    row, col = np.indices(near.shape)
    horizons = [near + share * (far - near) for share in part]
    suns = [corner + by_row * row + by_col * col for corner, by_row, by_col in sun]
    np.testing.assert_allclose(hours, slow.sun_hours(horizons, suns, 0.25), atol=1e-5)


def tops_of_squares(z, trees):
    shape = tuple(-(-size // _kernels_sight.TILE) for size in z.shape)
    tops = np.empty(shape, np.float32), np.empty(shape, np.float32)
    _kernels_sight.top_rows(z, trees, *tops, 0, shape[0])
    return tops


def test_tops_of_squares():
    z, trees = rough_ground(2), np.random.default_rng(2).uniform(0.0, 15.0, (31, 37)).astype(np.float32)
    z[:16, 16:32] = np.nan
    tops, squares = tops_of_squares(z, trees), [(slice(0, 16), slice(16, 32)), (slice(16, 31), slice(32, 37))]
    assert tops[0][0, 1] == -np.inf
    assert tops[0][1, 2] == np.nanmax(z[squares[1]])
    assert [tops[1][0, 1], tops[1][1, 2]] == [trees[square].max() for square in squares]


@pytest.mark.parametrize("seed", [1, 2, 3])
@pytest.mark.parametrize("eye", [(15, 18), (0, 0), (29, 33)])
def test_sight(seed, eye):
    rng = np.random.default_rng(seed)
    z = rough_ground(seed, height_m=20.0)
    z[eye] = 22.0  # a knoll
    trees = np.where(rng.random(z.shape) < 0.4, rng.uniform(1.0, 15.0, z.shape), 0.0).astype(np.float32)
    loss = np.where(trees > 0.0, rng.uniform(0.0, 0.02, z.shape), 0.0).astype(np.float32)
    rule, reach = (CELL_M, 1.7, 2.5, STRONG_DROP / 10, 243.0, WHOLE), 25
    total, tops = np.zeros(z.size, np.uint32), tops_of_squares(z, trees)
    for side in range(4):
        for first in range(0, 2 * reach, 13):
            last = min(first + 13, 2 * reach)
            _kernels_sight.sight_rays(
                (z, trees, loss), tops, np.array(eye), np.array(rule), reach, side, total, first, last
            )
    got = total.reshape(z.shape) / WHOLE
    got[eye] += 1.0
    want = slow.sight((z, trees, loss), eye, rule, reach)
    np.testing.assert_allclose(got, want, atol=2e-4)
    assert 0.05 < np.mean(want > 0.0) < 0.95
