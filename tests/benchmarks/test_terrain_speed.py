"""How fast the terrain stage is: seconds, millions of cells a second, ratio to plain numpy.

Run with ``pytest -m benchmark tests/benchmarks/test_terrain_speed.py``. Judge ratios, not absolutes.
"""

from __future__ import annotations

import time

import numpy as np
import pytest

from sitepick.plan.model import Weather
from sitepick.terrain import read_terrain
from sitepick.terrain.drainage import catchment_count, flow_over
from sitepick.terrain.slope import slope_and_aspect
from sitepick.terrain.upwind import UPWIND_M, upwind_slope_deg
from sitepick.terrain.wind import FAN_DEG
from sitepick.work import Watch
from tests.helpers.made import LAKE, OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan

pytestmark = pytest.mark.benchmark
SIDES = (1000, 2000)


@pytest.fixture(params=SIDES)
def relief(request):
    return made_relief(request.param, request.param, height_m=300.0)


def tell(benchmark, cell_count, *, numpy_s=None):
    seconds = benchmark.stats.stats.median
    benchmark.extra_info["mcells_per_s"] = round(cell_count / seconds / 1e6, 1)
    if numpy_s is not None:
        benchmark.extra_info["ratio_to_numpy"] = round(numpy_s / seconds, 1)
    print(f"\n{seconds:.3f} s", benchmark.extra_info)


def seconds_of(work):
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def numpy_slope_and_aspect(z, cell_m):
    a, b, c = z[:-2, :-2], z[:-2, 1:-1], z[:-2, 2:]
    d, f = z[1:-1, :-2], z[1:-1, 2:]
    g, h, i = z[2:, :-2], z[2:, 1:-1], z[2:, 2:]
    to_east = ((c + 2 * f + i) - (a + 2 * d + g)) / (8 * cell_m)
    to_south = ((g + 2 * h + i) - (a + 2 * b + c)) / (8 * cell_m)
    return np.degrees(np.arctan(np.hypot(to_east, to_south))), np.degrees(np.arctan2(-to_east, to_south)) % 360.0


def numpy_upwind(z, cell_m, ray_count):
    """One ray along the rows, nearest cells, as many times as there are rays."""
    for _ in range(ray_count):
        best = np.full(z.shape, -np.inf, np.float32)
        for away in range(1, int(UPWIND_M / cell_m) + 1):
            np.maximum(best[:, away:], (z[:, :-away] - z[:, away:]) / np.float32(away * cell_m), out=best[:, away:])
    return np.degrees(np.arctan(best))


def test_slope_and_aspect(benchmark, relief):
    grid = make_grid(*relief.shape)
    benchmark(lambda: slope_and_aspect(relief, grid, watch=Watch()))
    tell(benchmark, relief.size, numpy_s=seconds_of(lambda: numpy_slope_and_aspect(relief, 10.0)))


def test_steepest_rise_upwind(benchmark, relief):
    rays_deg = tuple(300.0 + angle for angle in FAN_DEG)
    benchmark.pedantic(
        lambda: upwind_slope_deg(relief, rays_deg, cell_m=10.0, watch=Watch()), rounds=3, warmup_rounds=1
    )
    tell(benchmark, relief.size, numpy_s=seconds_of(lambda: numpy_upwind(relief, 10.0, len(rays_deg))))


def test_flow(benchmark, relief):
    benchmark.pedantic(
        lambda: catchment_count(flow_over(relief, watch=Watch()), watch=Watch()), rounds=3, warmup_rounds=1
    )
    tell(benchmark, relief.size)


@pytest.mark.parametrize("height_m", [300.0, 1500.0])
@pytest.mark.parametrize("wind_from_deg", [300.0, None])
def test_whole_stage(benchmark, relief, height_m, wind_from_deg):
    heights = relief * np.float32(height_m / 300.0)
    cover = np.where(relief < 60.0, LAKE, np.where(relief > 160.0, SPRUCE, OPEN))
    ground = make_ground(heights, cover)
    plan = make_plan(ground, weather=Weather(wind_from_deg=wind_from_deg))
    benchmark.pedantic(lambda: read_terrain(plan, ground), rounds=3, warmup_rounds=1)
    tell(benchmark, relief.size)
