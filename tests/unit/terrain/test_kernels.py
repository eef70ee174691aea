"""The compiled loops agree with their slow twins on random ground with gaps."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.terrain import _kernels, cold
from sitepick.terrain.slope import slope_and_aspect
from sitepick.terrain.stand import Stand, forest_share, wind_lines
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.terrain.wind import CURVATURE_M, FAN_DEG, FULL_EFFECT_DEG, read_relief, relief_share
from sitepick.units import bearing_deg
from sitepick.work import Watch
from tests.helpers.made import made_relief, make_grid
from tests.unit.terrain import slow

pytestmark = pytest.mark.kernel
SEEDS = (1, 2, 3)
CELL_M = 10.0


def rough_ground(seed, rows=31, cols=37, height_m=60.0):
    rng = np.random.default_rng(seed)
    z = made_relief(rows, cols, seed=seed, height_m=height_m)
    z[rng.random(z.shape) < 0.02] = np.nan
    z[10:13, 20:24] = np.nan
    z[20:24, 5:9] = 12.5
    return z


@pytest.mark.parametrize("seed", SEEDS)
def test_fall_of_the_ground(seed):
    z = rough_ground(seed)
    slope, aspect = np.empty_like(z), np.empty_like(z)
    for first in range(0, z.shape[0], 7):
        _kernels.horn_rows(z, CELL_M, 0.0, slope, aspect, first, min(first + 7, z.shape[0]))
    want_slope, want_aspect = slow.slope_and_aspect(z, CELL_M)
    np.testing.assert_allclose(slope, want_slope, atol=2e-5)
    assert np.array_equal(np.isnan(aspect), np.isnan(want_aspect))
    turned = (aspect - want_aspect + 180.0) % 360.0 - 180.0
    assert np.nanmax(np.abs(turned)) < 1e-3


def test_slope_alone_is_the_same_to_the_last_bit():
    z = rough_ground(4)
    slope, aspect, alone = (np.empty_like(z) for _ in range(3))
    _kernels.horn_rows(z, CELL_M, 0.0, slope, aspect, 0, z.shape[0])
    _kernels.slope_rows(z, CELL_M, alone, 0, 11)
    _kernels.slope_rows(z, CELL_M, alone, 11, z.shape[0])
    np.testing.assert_array_equal(alone, slope)


@pytest.mark.parametrize("half_count", [1, 2, 3])
def test_slope_of_the_best_plane(half_count):
    z = rough_ground(4)
    slope = np.empty_like(z)
    _kernels.plane_slope_rows(z, CELL_M, half_count, slope, 0, 16)
    _kernels.plane_slope_rows(z, CELL_M, half_count, slope, 16, z.shape[0])
    np.testing.assert_allclose(slope, slow.plane_slope(z, CELL_M, half_count), atol=1e-4)


@pytest.mark.parametrize("reach", [1, 4, 12, 40])
@pytest.mark.parametrize("ground", ["gaps", "no gaps", "a gap below", "one column", "two cells"])
def test_height_against_the_surroundings(reach, ground):
    z = rough_ground(9) if ground == "gaps" else made_relief(31, 37, height_m=60.0)
    if ground == "a gap below":  # the first rows are done before it is met
        z[29, 3] = np.nan
    z = {"one column": z[:, :1], "two cells": z[:1, :2]}.get(ground, z).copy()
    position = np.empty_like(z)
    for first in range(0, z.shape[0], 11):
        last = min(first + 11, z.shape[0])
        _kernels.position_rows(z, reach, position[first:last], first, last)
    np.testing.assert_allclose(position, slow.position(z, reach), atol=1e-4)


def test_cold_air():
    rng = np.random.default_rng(13)
    shape = (20, 30)
    layers = [rng.uniform(low, high, shape).astype(np.float32) for low, high in ((-15, 5), (-25, 8), (0, 50), (0, 8))]
    gathered = np.exp(rng.uniform(0.0, 11.0, shape)).astype(np.int32)
    pool = rng.uniform(0.0, 5.0, shape).astype(np.float32) * (rng.random(shape) < 0.5)
    for layer in (*layers, pool):
        layer[rng.random(shape) < 0.02] = np.nan
    pooled = np.empty(shape, np.float32)
    _kernels.cold_rows(*layers, gathered, pool, cold._curves(10.0), pooled)
    want = np.vectorize(slow.cold_pool)(*layers, gathered, pool)
    np.testing.assert_allclose(pooled, want, atol=1e-5)


def test_roughness():
    z = rough_ground(10)
    np.testing.assert_allclose(cold.roughness_m(z, watch=Watch()), slow.roughness(z), atol=1e-4)
    assert np.isnan(cold.roughness_m(z[:2], watch=Watch())).all()
    tall = rough_ground(11, 130, 9)
    np.testing.assert_allclose(cold.roughness_m(tall, watch=Watch()), slow.roughness(tall), atol=1e-4)


@pytest.mark.parametrize("wind_from_deg", [0.0, 45.0, 90.0, 123.0, 200.0, 300.0])
def test_steepest_rise_upwind(wind_from_deg):
    z = rough_ground(5, 26, 29)[4:16, 14:29].copy()
    rays_deg = tuple(bearing_deg(wind_from_deg + angle) for angle in FAN_DEG)
    mean, least = upwind_slope_deg(z, rays_deg, cell_m=CELL_M, watch=Watch())
    want_mean, want_least = slow.upwind_slope(z, rays_deg, CELL_M)
    np.testing.assert_allclose(mean, want_mean, atol=1e-4)
    np.testing.assert_allclose(least, want_least, atol=1e-4)


@pytest.mark.parametrize("wind_from_deg", [0.0, 77.0, 180.0, 301.0])
def test_share_by_relief(wind_from_deg):
    z = rough_ground(6, 64, 71, height_m=140.0)
    grid = make_grid(*z.shape)
    slope, aspect = slope_and_aspect(z, grid, watch=Watch())
    relief = read_relief(z, slope, grid, watch=Watch())
    rays_deg = tuple(bearing_deg(wind_from_deg + angle) for angle in FAN_DEG)
    share = relief_share(relief, wind_from_deg, rays_deg, watch=Watch())
    mean, least = upwind_slope_deg(z, rays_deg, cell_m=grid.ground_cell_m, watch=Watch())
    for got, upwind in ((share.mean, mean), (share.worst, least)):
        want = slow.relief_share(z, slope, aspect, upwind, wind_from_deg, grid.ground_cell_m)
        np.testing.assert_allclose(got, want, atol=2e-5)
    assert z.shape[0] * CELL_M > CURVATURE_M
    assert FULL_EFFECT_DEG == 30.0


def random_stand(seed, rows=24, cols=33):
    rng = np.random.default_rng(seed)
    height = np.where(made_relief(rows, cols, seed=seed) > 60, 12.0, 0.0).astype(np.float32)
    height[height > 0] += rng.integers(-6, 6, np.count_nonzero(height > 0))
    height[rng.random(height.shape) < 0.03] = np.nan
    density = np.array([0.1, 0.3, 0.45, 0.6, 0.9], np.float32)
    deep = np.interp(density, slow.stand.DEEP_DENSITY, slow.stand.DEEP_SHARE).astype(np.float32)
    kind = rng.integers(0, density.size, height.shape).astype(np.int16)
    return Stand(height_m=height, kind=kind, density_frac=density, deep_frac=deep, cell_m=CELL_M)


@pytest.mark.parametrize("wind_from_deg", [0.0, 30.0, 90.0, 135.0, 180.0, 251.0, 270.0, 333.0])
def test_share_by_trees(wind_from_deg):
    stand = random_stand(8)
    got = forest_share(stand, (wind_from_deg,), watch=Watch())
    line, offset, step_cells = wind_lines(wind_from_deg, stand.height_m.shape)
    want = np.full(stand.height_m.size, -1.0)
    for number in range(int(line[3]) + abs(int(offset[-1]))):
        across = line[4] + number + offset
        inside = (across >= 0) & (across < line[3])
        cells = line[0] + np.flatnonzero(inside) * line[1] + across[inside] * line[2]
        heights, densities = stand.height_m.flat[cells], stand.density_frac[stand.kind.flat[cells]]
        assert (want[cells] == -1.0).all(), "two lines share a cell"
        want[cells] = slow.forest_share_along(heights.astype(float), densities.astype(float), step_cells * CELL_M)
    np.testing.assert_allclose(got.mean.reshape(-1), want, atol=1e-5)
    np.testing.assert_allclose(got.worst.reshape(-1), want, atol=1e-5)
