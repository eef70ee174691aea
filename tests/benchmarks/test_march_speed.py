"""How long the reach takes, and how long it keeps the watch waiting. Prints figures; off by default."""

from __future__ import annotations

import contextlib
import math
import os
import threading
import time
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from sitepick.march import _kernels, minutes_to_and_back, plan_march, propose_way
from sitepick.march import edges as edges_module
from sitepick.march import spread as spread_module
from sitepick.march.edges import MOVES, SHARES, edge_ticks
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


def best_of(count, run):
    """Least seconds of the processor and of the clock over some runs, the result, and how busy the machine was."""
    cpu_s, wall_s, result = math.inf, math.inf, None
    for _ in range(count):
        began = time.process_time(), time.perf_counter()
        result = run()
        cpu_s, wall_s = min(cpu_s, time.process_time() - began[0]), min(wall_s, time.perf_counter() - began[1])
    return result, f"{cpu_s:.2f} s of processor, {wall_s:.2f} s by the clock (load {os.getloadavg()[0]:.1f})", wall_s


@pytest.mark.parametrize(("side", "move_count"), [(2000, 8), (1000, 32), (2000, 32)])
def test_the_whole_grid_against_a_graph_library(monkeypatch, side, move_count):
    """Ours with its edges; theirs over the same edges, with and without building their graph from them.

    With eight neighbours to a cell too, as graph libraries are mostly asked.
    """
    moves, shares = MOVES[:move_count].copy(), SHARES[:move_count].copy()
    for module, name, value in (
        (edges_module, "MOVES", moves),
        (edges_module, "SHARES", shares),
        (spread_module, "MOVES", moves),
    ):
        monkeypatch.setattr(module, name, value)
    surface = replace(level_surface(side, side), height_m=made_relief(side, side, height_m=150.0))
    middle = side // 2
    spread_over(surface, (middle, middle), limit_min=5.0)
    _, ours, ours_s = best_of(3, lambda: spread_over(surface, (middle, middle)))
    edges = edge_ticks(surface, watch=Watch(), step="edges")

    def build():
        # Cell by cell, each with its moves in order: the rows of the matrix come as they are.
        places = np.arange(side * side, dtype=np.int32)[:, None] + (moves[:, 0] * side + moves[:, 1]).astype(np.int32)
        is_open = edges.reshape(places.shape) != _kernels.WALL
        begins = np.concatenate(([0], np.cumsum(is_open.sum(axis=1)))).astype(np.int32)
        ticks = edges.reshape(places.shape)[is_open].astype(float)
        return csr_array((ticks, places[is_open], begins), shape=(side**2, side**2))

    graph, building, build_s = best_of(1, build)
    _, theirs, theirs_s = best_of(1, lambda: dijkstra(graph, indices=middle * side + middle))
    print(
        f"\n{side**2 / 1e6:.0f} M cells, {move_count} neighbours: ours {ours}\n  scipy {theirs}; its graph {building}"
    )
    print(f"  {theirs_s / ours_s:.1f} times without its graph, {(theirs_s + build_s) / ours_s:.1f} times with it")
    assert theirs_s > ours_s


def test_four_million_cells_from_fifteen_kilometres_of_route(country):
    """Edges of 32 neighbours and one spread over the whole window, then cut: cost follows what is reached."""
    ground, _ = country
    surface = replace(level_surface(SIDE, SIDE), height_m=ground.elevation_m)
    starts = [(SIDE // 2, col) for col in range(250, 1750)]
    at_min = [0.17 * number for number in range(len(starts))]
    spread_over(surface, (5, 5), limit_min=1.0)
    for limit_min in (1e4, 240.0, 120.0, 60.0):
        run = partial(spread_over, surface, *starts, at_min=at_min, limit_min=limit_min)
        spread, told, _ = best_of(5, run)
        print(f"\n{np.isfinite(spread.minutes).sum() / 1e6:.2f} M cells reached: {told}")
        assert np.isfinite(spread.minutes).any()


def test_a_way_of_ten_and_of_nineteen_kilometres(country):
    ground, terrain = country
    plan = make_plan(ground)
    for cols in ((500, 1500), (50, 1950)):
        ends = tuple(
            tuple(float(value) for value in ground.grid.to_lonlat(*ground.grid.cell_centre_m(1000, col)))
            for col in cols
        )
        run = partial(propose_way, (plan.march, plan.weather), ground, terrain, ends)
        way, told, _ = best_of(3, run)
        print(f"\n{way.distance_m / 1000.0:.1f} km, {len(way.points)} points: {told}")
        assert way.distance_m >= 10.0 * (cols[1] - cols[0]) * 0.99


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
