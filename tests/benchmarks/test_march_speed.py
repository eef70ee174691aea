"""How long the reach takes, and how long it keeps the watch waiting. Prints figures; off by default."""

from __future__ import annotations

import contextlib
import threading
import time
from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from sitepick.march import _kernels, minutes_to_and_back, plan_march
from sitepick.march.edges import MOVES, edge_ticks
from sitepick.sky import sun_day
from sitepick.work import JobStopped, Watch
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


def test_four_million_cells_from_fifteen_kilometres_of_route(country):
    """Edges of 32 neighbours and one spread over the whole window, then cut at two hours: cost follows the reach."""
    ground, _ = country
    surface = replace(level_surface(SIDE, SIDE), height_m=ground.elevation_m)
    starts = [(SIDE // 2, col) for col in range(250, 1750)]
    at_min = [0.17 * number for number in range(len(starts))]
    spread_over(surface, (5, 5), limit_min=1.0)
    for limit_min in (1e4, 120.0):
        begin = time.perf_counter()
        spread = spread_over(surface, *starts, at_min=at_min, limit_min=limit_min)
        took_s = time.perf_counter() - begin
        print(f"\n{np.isfinite(spread.minutes).sum() / 1e6:.2f} M cells reached in {took_s:.2f} s")


def test_a_spread_stops_when_told(country):
    ground, _ = country
    surface = replace(level_surface(SIDE, SIDE), height_m=ground.elevation_m)
    waits_s = []
    for after_s in (0.1, 0.4, 0.8):
        watch, heard = Watch(), []

        def stop(watch=watch, heard=heard):
            heard.append(time.perf_counter())
            watch.stop()

        timer = threading.Timer(after_s, stop)
        timer.start()
        with contextlib.suppress(JobStopped):
            spread_over(surface, (SIDE // 2, SIDE // 2), watch=watch)
            heard.clear()
        ended = time.perf_counter()
        timer.join()
        if heard:
            waits_s.append(ended - heard[0])
    print("\nstopped after " + ", ".join(f"{1000 * wait_s:.0f} ms" for wait_s in waits_s))
    assert waits_s


def test_the_window_s_thread_is_kept_waiting_little(country):
    """A 5 ms clock in this thread beside a whole march in another: its longest gap."""
    ground, terrain = country
    plan = make_plan(ground)
    plan_march(plan, ground, terrain)
    worker = threading.Thread(target=plan_march, args=(plan, ground, terrain))
    worker.start()
    gaps_s, before = [], time.perf_counter()
    while worker.is_alive():
        worker.join(0.005)
        now = time.perf_counter()
        gaps_s.append(now - before)
        before = now
    print(f"\nlongest gap {1000 * max(gaps_s):.0f} ms, 99 % under {1000 * np.quantile(gaps_s, 0.99):.0f} ms")


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
