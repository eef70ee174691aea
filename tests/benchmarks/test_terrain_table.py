"""One table of how fast the terrain stage is and what it costs, beside general-purpose libraries.

Run with ``pytest -m benchmark tests/benchmarks/test_terrain_table.py -s``; judge ratios, not absolutes. Needs some
10 GB of memory and half an hour; ``SITEPICK_TABLE_SIDES=1000,4000`` leaves the largest window out. Peers that are
wanted, and said to be missing where they are: opencv-python-headless, richdem2 or py-richdem, xarray-spatial,
topo-descriptors, whitebox-workflows, GDAL's programs.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.benchmarks.terrain_measures import BY_REACH, MEASURES

pytestmark = pytest.mark.benchmark
ROOT = Path(__file__).resolve().parents[2]
SIDES = tuple(int(side) for side in os.environ.get("SITEPICK_TABLE_SIDES", "1000,4000,10000").split(","))
PEER_SIDE_MOST = 4000  # larger ones take peers minutes
HEADS = (
    "computation", "side", "ours s", "best peer", "peer s", "ratio", "Mcell/s", "grids", "growth", "stop ms", "gap ms",
    "load",
)  # fmt: skip
FORM = "{:<28} {:>6} {:>8} {:<31} {:>8} {:>6} {:>8} {:>6} {:>6} {:>8} {:>7} {:>5}"


def measured(name, side):
    """What a process of its own found, so that its peak of memory is that of this one computation."""
    words = [sys.executable, "-m", "tests.benchmarks.terrain_measures", name, str(side)]
    done = subprocess.run(
        [*words, "peers" if side <= PEER_SIDE_MOST else "alone"], cwd=ROOT, capture_output=True, text=True, check=True
    )  # fmt: skip
    return json.loads(done.stdout.splitlines()[-1])


def told(value, form):
    return "-" if value is None else format(value, form)


def row(name, side, found, small):
    peers = {peer: seconds for peer, seconds in found["peers_s"].items() if seconds is not None}
    best = min(peers, key=peers.get, default=None)
    growth = None if small is None or name in BY_REACH else found["ours_s"] / small["ours_s"] / (side / SIDES[0]) ** 2
    return FORM.format(
        name, side, f"{found['ours_s']:.4f}", best or "-", told(peers.get(best), ".3f"),
        told(peers[best] / found["ours_s"] if best else None, ".1f"), f"{side * side / found['ours_s'] / 1e6:.1f}",
        told(found["grids"], ".1f"), told(growth, ".2f"), told(found["stop_ms"], ".0f"), f"{found['gap_ms']:.0f}",
        f"{found['load']:.1f}",
    )  # fmt: skip


def test_table():
    missing = set()
    print("\n" + FORM.format(*HEADS))
    for name in MEASURES:
        small = None
        for side in SIDES:
            found = measured(name, side)
            assert found["ours_s"] > 0.0
            missing |= {peer for peer, seconds in found["peers_s"].items() if seconds is None}
            print(row(name, side, found, small), flush=True)  # a large table takes minutes
            small = small or found
    for peer in sorted(missing):
        print(f"{peer}: not installed")
    print("load: of the machine at the end, ourselves included. topo-descriptors: one of the eight ways, times eight.")
    print("growth: seconds a cell against the smallest window. grids: peak memory, float32 grids of the window.")
