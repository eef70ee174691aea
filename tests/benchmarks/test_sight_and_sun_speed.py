"""How fast sun and sight are: seconds, millions of cells a second, and how long a stop takes.

Run with ``pytest -m benchmark tests/benchmarks/test_sight_and_sun_speed.py``. Judge ratios, not absolutes.
"""

from __future__ import annotations

import contextlib
import threading
import time

import numpy as np
import pytest

from sitepick.terrain import read_sight, read_sun_hours
from sitepick.terrain.horizon import horizon_deg
from sitepick.work import JobStopped, Watch
from tests.helpers.made import NORTH_M, OPEN, SPRUCE, WEST_M, made_relief, make_ground, make_plan

pytestmark = pytest.mark.benchmark
SIDES = (1000, 2000)


@pytest.fixture(params=SIDES)
def relief(request):
    return made_relief(request.param, request.param, height_m=300.0)


def stop_ms(work, after_s):
    """How long the work goes on after it is told to stop."""
    watch, told = Watch(), []

    def stop():
        told.append(time.perf_counter())
        watch.stop()

    timer = threading.Timer(after_s, stop)
    timer.start()
    with contextlib.suppress(JobStopped):
        work(watch)
    ended = time.perf_counter()
    timer.cancel()
    timer.join()
    return round(1000 * (ended - told[0])) if told else None


def tell(benchmark, cell_count, work, **more):
    seconds = benchmark.stats.stats.median
    benchmark.extra_info.update(more)
    benchmark.extra_info["mcells_per_s"] = round(cell_count / seconds / 1e6, 1)
    benchmark.extra_info["stop_ms"] = [stop_ms(work, part * seconds) for part in (0.2, 0.5, 0.7)]
    print(f"\n{seconds:.3f} s", benchmark.extra_info)


def numpy_horizon(z, cell_m, reach_cells):
    """Along the rows only, and no farther than so many cells."""
    best = np.zeros(z.shape, np.float32)
    for away in range(1, reach_cells + 1):
        np.maximum(best[:, :-away], (z[:, away:] - z[:, :-away]) / np.float32(away * cell_m), out=best[:, :-away])
    return np.degrees(np.arctan(best))


@pytest.mark.parametrize("bearing_deg", [90.0, 0.0, 130.0])
def test_horizon_in_one_direction(benchmark, relief, bearing_deg):
    def work(watch):
        horizon_deg(relief, bearing_deg, cell_m=10.0, watch=watch)

    benchmark.pedantic(lambda: work(Watch()), rounds=3, warmup_rounds=1)
    started = time.perf_counter()
    numpy_horizon(relief, 10.0, 100)
    numpy_s = time.perf_counter() - started
    ratio = round(numpy_s * relief.shape[1] / 100 / benchmark.stats.stats.median, 1)
    tell(benchmark, relief.size, work, ratio_to_numpy_unlimited_estimated=ratio)


@pytest.mark.parametrize("month", [2, 6])
def test_hours_of_sun(benchmark, relief, month):
    ground = make_ground(relief)
    plan = make_plan(ground)
    depart = plan.march.depart.replace(month=month)
    plan = make_plan(ground, march=type(plan.march)(depart=depart))

    def work(watch):
        read_sun_hours(plan, ground, watch=watch)

    benchmark.pedantic(lambda: work(Watch()), rounds=2, warmup_rounds=1)
    tell(benchmark, relief.size, work)


@pytest.mark.parametrize("cover", [OPEN, SPRUCE], ids=["open", "spruce"])
def test_sight_of_a_hundred_observers(benchmark, cover):
    ground = make_ground(made_relief(2000, 2000, height_m=300.0), cover)
    rng = np.random.default_rng(3)
    eyes = np.column_stack([WEST_M + rng.uniform(5e3, 15e3, 100), NORTH_M - rng.uniform(5e3, 15e3, 100)])

    def work(watch):
        read_sight(make_plan(), ground, eyes, watch=watch)

    benchmark.pedantic(lambda: work(Watch()), rounds=2, warmup_rounds=1)
    tell(benchmark, 100 * 1001 * 1001, work)
