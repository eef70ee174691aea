"""How fast water is read: fill, ways, catchments, heights above the drain, beside a library's fill and catchments.

Run with ``pytest -m benchmark -s tests/benchmarks/test_flow_speed.py``. Prints seconds, ratio, Mcell/s, growth, peak
memory in grids of the window, the time from stop to end, and the longest time that another thread had to wait.
"""

from __future__ import annotations

import contextlib
import statistics
import subprocess
import sys
import threading
import time

import numpy as np
import pytest

from sitepick.terrain.drainage import catchment_count, flow_over, height_above_drain_m
from sitepick.work import JobStopped, Watch
from tests.benchmarks.terrain_peers import peer_name, richdem_flow
from tests.helpers.made import made_relief

pytestmark = pytest.mark.benchmark
SIDES = (1000, 2000, 4000)
STREAM_CELLS = 5000

_PEAK = """
import re, sys
from pathlib import Path
import numpy as np
from tests.benchmarks.test_flow_speed import ours, relief_of
ours(relief_of(200))
z = np.load(sys.argv[1])
def kib(name):
    return int(re.search(name + r":\\s+(\\d+)", Path("/proc/self/status").read_text())[1])
before = kib("VmRSS")
ours(z)
print((kib("VmHWM") - before) * 1024 / z.nbytes + 1.0)
"""


def relief_of(side):
    """Relief as rough on every size."""
    return made_relief(side, side, height_m=0.3 * side)


def ours(z, watch=None):
    watch = watch or Watch()
    flow = flow_over(z, watch=watch)
    count = catchment_count(flow, watch=watch)
    drain_m = np.where(count >= STREAM_CELLS, z, np.float32(np.nan))
    return height_above_drain_m(flow, z, drain_m, cell_m=10.0, watch=watch)


def seconds_of(work):
    started = time.perf_counter()
    work()
    return time.perf_counter() - started


def stop_ms(z, after_s):
    """How long the work goes on after it is told to stop."""
    watch, told = Watch(), []

    def stop():
        told.append(time.perf_counter())
        watch.stop()

    timer = threading.Timer(after_s, stop)
    timer.start()
    with contextlib.suppress(JobStopped):
        ours(z, watch)
    ended = time.perf_counter()
    timer.cancel()
    timer.join()
    return round(1000 * (ended - told[0])) if told else None


def longest_gap_ms(z):
    """Longest that a thread which asks for its turn every millisecond had to wait for it."""
    longest, done = [0.0], threading.Event()

    def ask():
        last = time.perf_counter()
        while not done.wait(0.001):
            now = time.perf_counter()
            longest[0] = max(longest[0], now - last)
            last = now

    asker = threading.Thread(target=ask)
    asker.start()
    ours(z)
    done.set()
    asker.join()
    return round(1000 * longest[0])


def test_flow_beside_a_library(capfd):
    ours(relief_of(300))
    lines, per_cell, peer = [], {}, peer_name("richdem")
    for side in SIDES:
        z = relief_of(side)
        rounds = [seconds_of(lambda z=z: ours(z)) for _ in range(3)]
        mine, ratio = statistics.median(rounds), "- (RichDEM is not installed)"
        if peer:
            theirs = statistics.median(seconds_of(lambda z=z: richdem_flow(z)) for _ in range(3))
            ratio = f"{theirs / mine:.1f}"
        per_cell[side] = min(rounds) / z.size
        lines.append(
            f"{side}²: {mine:.3f} s, {z.size / mine / 1e6:.1f} Mcell/s, ratio to RichDEM's fill and catchments "
            f"{ratio}, stop {[stop_ms(z, part * mine) for part in (0.2, 0.5, 0.8)]} ms, "
            f"gap {longest_gap_ms(z)} ms"
        )
    with capfd.disabled():
        print("", *lines, sep="\n")
        print(f"growth from {SIDES[0]}² to {SIDES[-1]}²: {per_cell[SIDES[-1]] / per_cell[SIDES[0]]:.2f} of linear")


@pytest.mark.parametrize("side", [2000, 4000])
def test_peak_memory(side, tmp_path, capfd):
    np.save(tmp_path / "z.npy", relief_of(side))
    call = [sys.executable, "-c", _PEAK, str(tmp_path / "z.npy")]
    peak = float(subprocess.run(call, capture_output=True, text=True, check=True).stdout)
    with capfd.disabled():
        print(f"\npeak at {side}²: {peak:.1f} grids of the window")
