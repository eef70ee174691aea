"""One computation of the terrain table in a process of its own: ``python -m tests.benchmarks.terrain_measures``.

Takes the name of the computation, the side of the window in cells and "peers" or "alone"; prints one line of JSON.
"""

from __future__ import annotations

import json
import os
import sys
import threading
import time
from pathlib import Path

import numpy as np
from scipy import ndimage

from sitepick.plan.model import Weather
from sitepick.terrain import read_sight, read_terrain
from sitepick.terrain.cold import position_m
from sitepick.terrain.drainage import catchment_count, flow_over, height_above_drain_m
from sitepick.terrain.horizon import horizon_deg
from sitepick.terrain.parts import label_parts, part_sizes
from sitepick.terrain.sight import SightRule
from sitepick.terrain.slope import slope_and_aspect, slope_of
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.work import JobStopped, Watch, each_block
from tests.benchmarks.terrain_peers import (
    AZIMUTHS_DEG,
    CELL_M,
    EYE_M,
    HORIZON_DEG,
    POSITION_CELLS,
    TARGET_M,
    gdal_sight,
    heights_file,
    numpy_upwind,
    opencv_distance,
    opencv_parts,
    opencv_position,
    opencv_slope,
    opencv_slope_and_aspect,
    peer_name,
    richdem_flow,
    richdem_layer,
    rough_mask,
    scipy_parts,
    topo_descriptors_upwind,
    whitebox_horizon,
    whitebox_raster,
    xrspatial_layer,
    xrspatial_sight,
)
from tests.helpers.made import LAKE, OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan

STREAM_CELLS = 5000
SLOW_SIDE_MOST = {"whitebox_workflows": 1000, "xrspatial viewshed": 1000}  # minutes on larger windows
ONE_OF_EIGHT = ("topo_descriptors",)  # timed along one way, counted for all
READY = {"whitebox_workflows": whitebox_raster, "gdal_viewshed": heights_file}  # before the clock runs
WARM_SIDE = 96  # compiles everything before the clock runs
STOP_PARTS = (0.03, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9)  # of the run, at which it is told to stop


def whole_stage(z):
    cover = np.select([z < 60.0, z > 160.0], [np.int16(LAKE), np.int16(SPRUCE)], np.int16(OPEN))
    ground = make_ground(z, cover)
    plan = make_plan(ground, weather=Weather(wind_from_deg=300.0))
    return lambda watch: read_terrain(plan, ground, watch=watch)


def slope_work(z):
    grid = make_grid(*z.shape)
    return lambda watch: slope_of(z, grid, watch=watch)


def aspect_work(z):
    grid = make_grid(*z.shape)
    return lambda watch: slope_and_aspect(z, grid, watch=watch)


def upwind_work(reach_m):
    return lambda z: lambda watch: upwind_slope_deg(z, AZIMUTHS_DEG, cell_m=CELL_M, watch=watch, reach_m=reach_m)


def parts_work(z):
    mask = rough_mask(z)

    def work(watch):
        part, count = label_parts(mask, watch=watch, step="parts")
        part_sizes(part, count, watch=watch, step="parts")

    return work


def flow_work(z):
    def work(watch):
        flow = flow_over(z, watch=watch)
        count, drain_m = catchment_count(flow, watch=watch), np.empty_like(z)
        for first, last in each_block(len(z), watch=watch, step="drains"):
            is_drain = count[first:last] >= STREAM_CELLS
            drain_m[first:last] = np.where(is_drain, z[first:last], np.float32(np.nan))
        height_above_drain_m(flow, z, drain_m, cell_m=CELL_M, watch=watch)

    return work


def sight_work(z):
    """From one observer in the middle over the whole window."""
    ground, plan = make_ground(z), make_plan()
    rule = SightRule(eye_m=EYE_M, target_m=TARGET_M, reach_m=1_000_000.0)
    eye_m = np.array([ground.grid.cell_centre_m(len(z) // 2, len(z) // 2)])
    return lambda watch: read_sight(plan, ground, eye_m, rule=rule, watch=watch)


def sights_work(z):
    """From a hundred observers all over the window, as far as sight reaches."""
    ground, plan = make_ground(z), make_plan()
    cells = np.random.default_rng(3).integers(0, len(z), (100, 2))
    eyes_m = np.array([ground.grid.cell_centre_m(int(row), int(col)) for row, col in cells])
    return lambda watch: read_sight(plan, ground, eyes_m, watch=watch)


# What is computed: ours, made ready for some heights; whether it is our own; peers by the module that they come from.
MEASURES = {
    "slope alone": (slope_work, {
        "cv2": opencv_slope,
        "richdem": lambda z: richdem_layer(z, "slope_degrees"),
        "xrspatial": lambda z: xrspatial_layer(z, "slope"),
    }),
    "slope and aspect": (aspect_work, {
        "cv2": opencv_slope_and_aspect,
        "richdem": lambda z: richdem_layer(z, "slope_degrees", "aspect"),
        "xrspatial": lambda z: xrspatial_layer(z, "slope", "aspect"),
    }),
    "upwind slope, 300 m, 8 ways": (upwind_work(300.0), {
        "numpy": lambda z: numpy_upwind(z, 300.0),
        "topo_descriptors": lambda z: topo_descriptors_upwind(z, 300.0),
    }),
    "upwind slope, 1 km, 8 ways": (upwind_work(1000.0), {
        "numpy": lambda z: numpy_upwind(z, 1000.0),
        "topo_descriptors": lambda z: topo_descriptors_upwind(z, 1000.0),
    }),
    "position, box of 30 cells": (
        lambda z: lambda watch: position_m(z, POSITION_CELLS * CELL_M, cell_m=CELL_M, watch=watch), {
        "cv2": opencv_position,
        "scipy": lambda z: z - ndimage.uniform_filter(z, 2 * POSITION_CELLS + 1),
    }),
    "distance (we use scipy)": (
        lambda z: lambda watch: ndimage.distance_transform_edt(z > 60.0), {"cv2": opencv_distance}
    ),
    "parts, eight ways, areas": (parts_work, {"cv2": opencv_parts, "scipy": scipy_parts}),
    "flow: fill, ways, heights": (flow_work, {"richdem": richdem_flow}),
    "horizon without end, one way": (
        lambda z: lambda watch: horizon_deg(z, HORIZON_DEG, cell_m=CELL_M, watch=watch),
        {"whitebox_workflows": whitebox_horizon},
    ),
    "sight of one, everywhere": (sight_work, {"gdal_viewshed": gdal_sight, "xrspatial viewshed": xrspatial_sight}),
    "sight of 100, out to 5 km": (sights_work, {}),
    "whole stage": (whole_stage, {}),
}  # fmt: skip
NOT_OURS = ("distance (we use scipy)",)
BY_REACH = ("sight of 100, out to 5 km",)  # not by the cells of the window


def seconds_of(work):
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def least_s(work):
    """Of up to nine runs, fewer where one takes long: what else the machine does can only add."""
    times = [seconds_of(work)]
    while len(times) < 9 and sum(times) < 3.0:
        times.append(seconds_of(work))
    return min(times)


def peak_mib():
    status = Path("/proc/self/status")
    if not status.exists():
        return None
    return next(int(line.split()[1]) / 1024 for line in status.read_text().splitlines() if line.startswith("VmHWM"))


def peak_grids(work, side):
    """Most memory that one run takes beyond what was there, in float32 grids of the window."""
    forget = Path("/proc/self/clear_refs")
    if not forget.exists():
        return None
    forget.write_text("5")  # the peak so far
    before = peak_mib()
    work()
    return (peak_mib() - before) / (side * side * 4 / 2**20)


def longest_gap_ms(work):
    """Longest that a Python thread, which wants to wake every millisecond, has to wait while the work runs."""
    over, gaps = threading.Event(), [0.0]

    def wake():
        last = time.perf_counter()
        while not over.wait(0.001):
            now = time.perf_counter()
            gaps.append(now - last)
            last = now

    thread = threading.Thread(target=wake)
    thread.start()
    work()
    over.set()
    thread.join()
    return 1000.0 * max(gaps)


def stop_ms(work, after_s):
    """How long the work goes on after it is told to stop; None where it was over before."""
    watch, told = Watch(), []

    def stop():
        told.append(time.perf_counter())
        watch.stop()

    timer = threading.Timer(after_s, stop)
    timer.start()
    try:
        work(watch)
    except JobStopped:
        return 1000.0 * (time.perf_counter() - told[0])
    finally:
        timer.cancel()
        timer.join()
    return None


def peers_s(peers, z):
    """Seconds by name and version; None, by what it is asked for as, where it isn't installed."""
    found = {}
    for peer, work in peers.items():
        if len(z) > SLOW_SIDE_MOST.get(peer, len(z)):
            continue
        name = peer_name(peer.split()[0])
        if name is None:
            found[peer] = None
            continue
        ready = READY.get(peer, np.copy)
        work(ready(z[:WARM_SIDE, :WARM_SIDE].copy()))
        taken = ready(z)
        found[name] = least_s(lambda work=work, taken=taken: work(taken)) * (8 if peer in ONE_OF_EIGHT else 1)
    return found


def measure(name, side, with_peers):
    prepare, peers = MEASURES[name]
    prepare(made_relief(WARM_SIDE, WARM_SIDE, height_m=300.0))(Watch())
    z = made_relief(2000, 2000, height_m=300.0)
    z = np.tile(np.block([[z, z[:, ::-1]], [z[::-1], z[::-1, ::-1]]]), (3, 3))[:side, :side].copy()  # seamless
    work = prepare(z)
    run = lambda: work(Watch())  # noqa: E731
    grids = peak_grids(run, side)
    ours_s = least_s(run)
    stops = [] if name in NOT_OURS else [stop_ms(work, ours_s * part) for part in STOP_PARTS]
    return {
        "ours_s": ours_s,
        "load": os.getloadavg()[0],
        "peers_s": peers_s(peers, z) if with_peers else {},
        "grids": grids,
        "gap_ms": longest_gap_ms(run),
        "stop_ms": max((told for told in stops if told is not None), default=None),
    }


if __name__ == "__main__":
    print(json.dumps(measure(sys.argv[1], int(sys.argv[2]), sys.argv[3] == "peers")))
