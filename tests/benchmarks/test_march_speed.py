"""How long the reach takes, and how long it keeps the watch waiting. Prints figures; off by default."""

from __future__ import annotations

import time
from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from sitepick.march import _kernels, minutes_to_and_back, plan_march
from sitepick.march.spread import MOVES, edge_ticks
from sitepick.sky import sun_day
from sitepick.work import Watch
from tests.helpers.made import LAKE, SPRUCE, made_relief, make_ground, make_plan, make_terrain
from tests.unit.march.surfaces import level_surface, spread_over

pytestmark = pytest.mark.benchmark

SIDE = 2000


@pytest.fixture(scope="module")
def country():
    cover = np.full((SIDE, SIDE), SPRUCE)
    cover[300:360, 200:1800] = LAKE
    ground = make_ground(made_relief(SIDE, SIDE, height_m=300.0), cover)
    return ground, make_terrain(ground)


def test_a_day_along_fifteen_kilometres(benchmark, country):
    ground, terrain = country
    plan = make_plan(ground)
    plan = replace(plan, march=replace(plan.march, level_kmh=4.0))
    march = benchmark.pedantic(plan_march, args=(plan, ground, terrain), rounds=3, warmup_rounds=1)
    print(f"\nreached {np.isfinite(march.moving_min).sum() / 1e6:.2f} M of {SIDE**2 / 1e6:.0f} M cells")


def test_water_and_back(benchmark, country):
    ground, terrain = country
    plan = make_plan(ground)
    march = plan_march(plan, ground, terrain)
    benchmark.pedantic(
        minutes_to_and_back, args=(march, ground, terrain, terrain.is_water), kwargs={"limit_min": 60.0},
        rounds=3, warmup_rounds=1,
    )  # fmt: skip


def test_the_whole_grid_against_a_graph_library():
    surface = replace(level_surface(1000, 1000), height_m=made_relief(1000, 1000, height_m=150.0))
    spread_over(surface, (500, 500), limit_min=5.0)
    begin = time.perf_counter()
    spread_over(surface, (500, 500))
    ours_s = time.perf_counter() - begin
    edges = edge_ticks(surface, watch=Watch(), step="edges")
    row, col, k = np.nonzero(edges != _kernels.WALL)
    goal = (row + MOVES[k, 0]) * 1000 + col + MOVES[k, 1]
    graph = csr_array((edges[row, col, k].astype(float), (row * 1000 + col, goal)), shape=(10**6, 10**6))
    begin = time.perf_counter()
    dijkstra(graph, indices=500_500)
    theirs_s = time.perf_counter() - begin
    print(f"\nspread {ours_s:.3f} s with its edges, scipy {theirs_s:.3f} s without: {theirs_s / ours_s:.1f} times")
    assert theirs_s > ours_s


def test_the_watch_never_waits_long(country):
    ground, terrain = country
    plan = make_plan(ground)
    plan_march(plan, ground, terrain)
    heard = [time.perf_counter()]
    plan_march(plan, ground, terrain, watch=Watch(lambda *_: heard.append(time.perf_counter())))
    gaps_ms = 1000 * np.diff(heard)
    print(
        f"\nticks {len(gaps_ms)}, longest wait {gaps_ms.max():.0f} ms, 95 % under {np.quantile(gaps_ms, 0.95):.0f} ms"
    )


def test_a_day_of_the_sun(benchmark):
    from datetime import UTC, date

    benchmark(sun_day, 20.0, 67.0, date(2026, 2, 15), UTC)
