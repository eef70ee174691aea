"""One computation of the terrain table in a process of its own: ``python -m tests.benchmarks.terrain_measures``.

Takes the name of the computation, the side of the window in cells and "peers" or "alone"; prints one line of JSON.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import sys
import threading
import time
from importlib.metadata import PackageNotFoundError, packages_distributions, version
from pathlib import Path

import numpy as np
from scipy import ndimage

from sitepick.plan.model import Weather
from sitepick.terrain import read_terrain
from sitepick.terrain.cold import position_m
from sitepick.terrain.slope import slope_and_aspect, slope_of
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.work import JobStopped, Watch
from tests.helpers.made import LAKE, OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan

CELL_M = 10.0
AZIMUTHS_DEG = tuple(45.0 * number for number in range(8))
POSITION_CELLS = 30
SLOW_PEERS, SLOW_SIDE_MOST = ("topo_descriptors",), 1000  # minutes on larger windows
WARM_SIDE = 96  # compiles everything before the clock runs


def horn_rates_of_opencv(z):
    cv2 = importlib.import_module("cv2")
    return (cv2.Sobel(z, cv2.CV_32F, *way, scale=1.0 / (8.0 * CELL_M)) for way in ((1, 0), (0, 1)))


def opencv_slope(z):
    cv2 = importlib.import_module("cv2")
    return np.degrees(np.arctan(cv2.magnitude(*horn_rates_of_opencv(z))))


def opencv_slope_and_aspect(z):
    cv2 = importlib.import_module("cv2")
    rate, aspect_deg = cv2.cartToPolar(*horn_rates_of_opencv(z), angleInDegrees=True)
    return np.degrees(np.arctan(rate)), aspect_deg


def richdem_layer(z, *names):
    richdem = importlib.import_module("richdem")
    array = richdem.rdarray(z, no_data=-9999.0)
    array.geotransform = (0.0, CELL_M, 0.0, 0.0, 0.0, -CELL_M)
    return [richdem.TerrainAttribute(array, attrib=name) for name in names]


def xrspatial_layer(z, *names):
    xarray = importlib.import_module("xarray")
    array = xarray.DataArray(z, dims=("y", "x"), attrs={"res": (CELL_M, CELL_M)})
    return [getattr(importlib.import_module("xrspatial"), name)(array) for name in names]


def numpy_upwind(z, reach_m):
    """Nearest cells along the eight ways, shifted whole."""
    rows, cols = z.shape
    for ray_deg in AZIMUTHS_DEG:
        down, right = (round(f(np.radians(ray_deg)) * 1.1) for f in (lambda a: -np.cos(a), np.sin))
        best = np.full(z.shape, -np.inf, np.float32)
        step_m = CELL_M * float(np.hypot(down, right))
        for away in range(1, min(int(reach_m / step_m), rows - 1, cols - 1) + 1):
            here = tuple(
                slice(max(0, -way * away), size - max(0, way * away))
                for way, size in ((down, rows), (right, cols))
            )  # fmt: skip
            there = tuple(
                slice(max(0, way * away), size - max(0, -way * away))
                for way, size in ((down, rows), (right, cols))
            )  # fmt: skip
            np.maximum(best[here], (z[there] - z[here]) / np.float32(away * step_m), out=best[here])
        np.degrees(np.arctan(best))


def topo_descriptors_upwind(z, reach_m):
    xarray = importlib.import_module("xarray")
    topo = importlib.import_module("topo_descriptors.topo")
    away_m = CELL_M * np.arange(len(z), dtype=float)
    data = xarray.Dataset({"z": (("y", "x"), z)}, {"y": away_m[::-1], "x": away_m}, {"crs": "EPSG:32634"})
    for ray_deg in AZIMUTHS_DEG:
        topo.sx(data, ray_deg, reach_m, height=0.0, azimuth_arc=0)


def opencv_position(z):
    cv2 = importlib.import_module("cv2")
    return z - cv2.blur(z, (2 * POSITION_CELLS + 1,) * 2)


def opencv_distance(z):
    cv2 = importlib.import_module("cv2")
    return cv2.distanceTransform((z > 60.0).astype(np.uint8), cv2.DIST_L2, cv2.DIST_MASK_PRECISE)


def opencv_parts(z):
    cv2 = importlib.import_module("cv2")
    return cv2.connectedComponentsWithStats(rough_mask(z).astype(np.uint8), connectivity=4)


def scipy_parts(z):
    label, count = ndimage.label(rough_mask(z))
    return np.bincount(label.reshape(-1), minlength=count + 1)


def rough_mask(z):
    return (z * np.float32(7.0)) % np.float32(5.0) > 3.9


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
    "parts (we use scipy)": (lambda z: lambda watch: scipy_parts(z), {"cv2": opencv_parts}),
    "whole stage": (whole_stage, {}),
}  # fmt: skip
NOT_OURS = ("distance (we use scipy)", "parts (we use scipy)")


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


def peer_name(module):
    """Distribution and version of a module, or None where it isn't installed."""
    with contextlib.suppress(KeyError, PackageNotFoundError):
        name = packages_distributions()[module][0]
        return f"{name} {version(name)}"
    return None


def peers_s(peers, z):
    found = {}
    for module, work in peers.items():
        if module in SLOW_PEERS and len(z) > SLOW_SIDE_MOST:
            continue
        name = peer_name(module)
        if name is None:
            found[module] = None
            continue
        work(z[:WARM_SIDE, :WARM_SIDE].copy())
        found[name] = least_s(lambda work=work: work(z))
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
    stops = [] if name in NOT_OURS else [stop_ms(work, ours_s * part) for part in (0.05, 0.2, 0.35, 0.5, 0.65, 0.8)]
    return {
        "ours_s": ours_s,
        "peers_s": peers_s(peers, z) if with_peers else {},
        "grids": grids,
        "gap_ms": longest_gap_ms(run),
        "stop_ms": max((told for told in stops if told is not None), default=None),
    }


if __name__ == "__main__":
    print(json.dumps(measure(sys.argv[1], int(sys.argv[2]), sys.argv[3] == "peers")))
