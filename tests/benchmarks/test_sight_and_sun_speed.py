"""How fast sun and sight are: seconds, ratio to others in the same run, growth, memory, stopping, the window's gap.

Run with ``pytest -m benchmark tests/benchmarks/test_sight_and_sun_speed.py -s``. Judge ratios, not absolutes. Others
are asked only where they are installed: ``whitebox-workflows`` for the horizon, GDAL's programs for sight.
"""

from __future__ import annotations

import contextlib
import importlib.util
import shutil
import subprocess
import threading
import time
import tracemalloc

import numpy as np
import pytest
import rasterio
from affine import Affine

from sitepick.terrain import read_sight, read_sun_hours
from sitepick.terrain.horizon import horizon_deg
from sitepick.terrain.sight import SightRule
from sitepick.work import JobStopped, Watch
from tests.helpers.made import NORTH_M, OPEN, SPRUCE, WEST_M, made_relief, make_ground, make_plan

pytestmark = pytest.mark.benchmark
CELL_M = 10.0
STOPS = 12


def relief_of(side):
    return made_relief(side, side, height_m=300.0)


def seconds_of(work, times=3):
    best = np.inf
    for _ in range(times):
        started = time.perf_counter()
        work(Watch())
        best = min(best, time.perf_counter() - started)
    return best


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
    return 1000 * (ended - told[0]) if told else 0.0


def gap_ms(work):
    """Longest time that another thread, which wants to run each 2 ms, has to wait while the work runs."""
    done, gaps = threading.Event(), [0.0]

    def tick():
        before = time.perf_counter()
        while not done.wait(0.002):
            now = time.perf_counter()
            gaps.append(now - before - 0.002)
            before = now

    ticking = threading.Thread(target=tick)
    ticking.start()
    work(Watch())
    done.set()
    ticking.join()
    return 1000 * max(gaps)


def tell(name, cell_count, work, *, seconds, **more):
    rng = np.random.default_rng(5)
    tracemalloc.start()
    work(Watch())
    peak_mib = tracemalloc.get_traced_memory()[1] / 2**20
    tracemalloc.stop()
    told = {
        "s": round(seconds, 3), "mcells_per_s": round(cell_count / seconds / 1e6, 1), "peak_mib": round(peak_mib),
        "grids": round(peak_mib * 2**20 / 4 / cell_count, 1),
        "stop_ms": round(max(stop_ms(work, part * seconds) for part in rng.uniform(0.0, 0.95, STOPS)), 1),
        "gap_ms": round(gap_ms(work), 1), **more,
    }  # fmt: skip
    print(f"\n{name}", told)


def write_heights(path, heights):
    with rasterio.open(path, "w", driver="GTiff", height=heights.shape[0], width=heights.shape[1], count=1,
                       dtype="float32", crs="EPSG:32634",
                       transform=Affine(CELL_M, 0.0, 0.0, 0.0, -CELL_M, 0.0)) as file:  # fmt: skip
        file.write(heights, 1)


def whitebox_horizon_s(folder, heights, bearing_deg):
    """Seconds for the same without end; None where the library isn't there."""
    if importlib.util.find_spec("whitebox_workflows") is None:
        return None
    import whitebox_workflows as whitebox

    source = folder / "heights.tif"
    write_heights(source, heights)
    environment = whitebox.WbEnvironment()
    raster = environment.read_raster(str(source))
    started = time.perf_counter()
    environment.horizon_angle(raster, azimuth=bearing_deg, max_dist=1e9)
    return time.perf_counter() - started


@pytest.mark.parametrize("bearing_deg", [90.0, 0.0, 130.0])
def test_horizon_in_one_direction(bearing_deg):
    taken = {}
    for side in (1000, 2000, 4000):
        heights = relief_of(side)

        def work(watch, heights=heights):
            horizon_deg(heights, bearing_deg, cell_m=CELL_M, watch=watch)

        taken[side] = seconds_of(work, 6)
        tell(f"horizon {bearing_deg:.0f}, {side}", heights.size, work, seconds=taken[side])
    print("growth by cell, 1000 to 4000:", round(taken[4000] / taken[1000] / 16, 2))


def test_horizon_against_another_library(tmp_path):
    heights = relief_of(1000)
    ours = seconds_of(lambda watch: horizon_deg(heights, 130.0, cell_m=CELL_M, watch=watch), 6)
    theirs = whitebox_horizon_s(tmp_path, heights, 130.0)
    print(
        "\nhorizon 130, 1000: ours",
        round(ours, 4),
        "whitebox-workflows",
        theirs,
        "ratio",
        theirs and round(theirs / ours),
    )


@pytest.mark.parametrize("month", [2, 6])
def test_hours_of_sun(month):
    taken = {}
    for side in (1000, 2000, 4000):
        ground = make_ground(relief_of(side))
        plan = make_plan(ground)
        plan = make_plan(ground, march=type(plan.march)(depart=plan.march.depart.replace(month=month)))

        def work(watch, plan=plan, ground=ground):
            read_sun_hours(plan, ground, watch=watch)

        work(Watch())
        taken[side] = seconds_of(work, 2)
        if side < 4000:
            tell(f"sun in month {month}, {side}", side * side, work, seconds=taken[side])
    print("growth by cell, 1000 to 4000:", round(taken[4000] / taken[1000] / 16, 2))


def cover_of(kind):
    if kind == "mixed":
        patches = made_relief(2000, 2000, seed=77)
        return np.where(patches > np.median(patches), SPRUCE, OPEN)
    return SPRUCE if kind == "spruce" else OPEN


@pytest.mark.parametrize("kind", ["open", "mixed", "spruce"])
def test_sight_of_a_hundred_observers(kind):
    ground = make_ground(relief_of(2000), cover_of(kind))
    rng = np.random.default_rng(3)
    eyes = np.column_stack([WEST_M + rng.uniform(5e3, 15e3, 100), NORTH_M - rng.uniform(5e3, 15e3, 100)])

    def work(watch):
        read_sight(make_plan(), ground, eyes, watch=watch)

    work(Watch())
    seconds = seconds_of(work, 2)
    tell(
        f"sight of 100 at 5 km, {kind}", 2000 * 2000, work, seconds=seconds, looks_per_s=round(100 * 785_000 / seconds)
    )


def gdal_sight_s(folder, heights):
    """Seconds of GDAL's program from file to file; None where it isn't installed."""
    program, side = shutil.which("gdal_viewshed"), heights.shape[0]
    if program is None:
        return None
    source = folder / f"heights{side}.tif"
    write_heights(source, heights)
    middle = (side // 2 + 0.5) * CELL_M
    command = [
        program,
        "-q",
        "-ox",
        str(middle),
        "-oy",
        str(-middle),
        "-oz",
        "1.7",
        "-tz",
        "2.5",
        "-md",
        "100000",
        "-cc",
        "0.87",
    ]
    best = np.inf
    for _ in range(3):
        started = time.perf_counter()
        subprocess.run([*command, str(source), str(folder / "seen.tif")], check=True, capture_output=True)
        best = min(best, time.perf_counter() - started)
    return best


def test_sight_of_one_observer_over_everything(tmp_path):
    taken = {}
    for side in (1000, 2000, 4000):
        heights = relief_of(side)
        ground, plan, rule = make_ground(heights), make_plan(), SightRule(reach_m=100_000.0)
        eye = np.array([ground.grid.cell_centre_m(side // 2, side // 2)])

        def work(watch, ground=ground, eye=eye, plan=plan, rule=rule):
            read_sight(plan, ground, eye, rule=rule, watch=watch)

        taken[side] = seconds_of(work, 4)
        theirs = gdal_sight_s(tmp_path, heights)
        tell(f"sight of one, {side}", side * side, work, seconds=taken[side],
             gdal_s=theirs, ratio=theirs and round(theirs / taken[side], 2))  # fmt: skip
    print("growth by cell, 1000 to 4000:", round(taken[4000] / taken[1000] / 16, 2))
