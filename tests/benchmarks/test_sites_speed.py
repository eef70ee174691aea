"""How fast the sites stage answers: seconds on 4 million reachable cells.

Run with ``pytest -m benchmark tests/benchmarks/test_sites_speed.py``. Judge ratios, not absolutes.
"""

from __future__ import annotations

import time
from itertools import pairwise

import numpy as np
import pytest
from scipy import ndimage

from sitepick.plan.edits import with_weight, with_weights
from sitepick.plan.further import FURTHER_NAMES
from sitepick.sites import find_sites, rank_again, why_here
from sitepick.sites.candidates import Search, find_candidates
from sitepick.sites.firmness import firmness
from sitepick.sites.packing import Room
from sitepick.sites.room import room_around
from sitepick.sites.spread import read_spread
from sitepick.sites.topple import smallest_topple
from sitepick.terrain import read_terrain
from sitepick.work import Watch
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_ground, make_plan
from tests.helpers.made_march import make_march

pytestmark = pytest.mark.benchmark
SIDE = 2000


@pytest.fixture(scope="module")
def scene():
    stands = np.random.default_rng(1).random((SIDE // 20, SIDE // 20)).repeat(20, 0).repeat(20, 1) < 0.6
    ground = make_ground(made_relief(SIDE, SIDE, height_m=300.0), np.where(stands, SPRUCE, OPEN))
    plan = make_plan(ground)
    return plan, ground, read_terrain(plan, ground), make_march(plan, ground)


@pytest.fixture(scope="module")
def found(scene):
    return find_sites(*scene)


@pytest.fixture(scope="module")
def asked(scene):
    """The same with every further factor asked for; sight only from the route, since no track is mapped here."""
    plan = with_weights(scene[0], dict.fromkeys(FURTHER_NAMES, 4.0))
    return plan, find_sites(plan, *scene[1:])


def tell(benchmark, what):
    print(f"\n{what}: {benchmark.stats.stats.median * 1000:.1f} ms")


def test_a_whole_search_after_a_weight_moved(benchmark, scene, found):
    moved = with_weight(scene[0], "wind", 33.0)
    benchmark.pedantic(lambda: find_sites(moved, *scene[1:], earlier=found), rounds=3)
    tell(benchmark, "searched anew")


def search_over(side):
    stands = np.random.default_rng(1).random((side // 20, side // 20)).repeat(20, 0).repeat(20, 1)
    room = Room(spacing=5.4844, radius=0.265, standing=0.2)
    return Search(
        can_pitch=stands < 0.6, quality=np.where(stands < 0.6, 1.0 - stands, -1.0).astype(np.float32), room=room,
        need_count=5, piece_count_max=40,
    )  # fmt: skip


@pytest.mark.parametrize("side", [1000, 2000])
def test_candidates(benchmark, side):
    search = search_over(side)
    found = benchmark.pedantic(lambda: find_candidates(search, watch=Watch()), rounds=3, warmup_rounds=1)
    assert len(found.pieces) == 40
    tell(benchmark, f"candidates on {side * side / 1e6:.0f} million cells")


def test_room_around_every_cell(benchmark):
    search = search_over(SIDE)
    part_of = np.asarray(ndimage.label(search.can_pitch)[0], np.int32)
    cells = np.argwhere(search.can_pitch)
    benchmark.pedantic(
        lambda: room_around(search.can_pitch, part_of, cells, search.room, 5, watch=Watch()), rounds=2, warmup_rounds=1
    )
    tell(benchmark, f"room around each of {len(cells) / 1e6:.1f} million cells")


def test_a_stop_is_heard_soon():
    asked = []
    watch = Watch(lambda step, done_count, total_count: asked.append((time.perf_counter(), step)))
    find_candidates(search_over(SIDE), watch=watch)
    gaps = [(later[0] - earlier[0], earlier[1]) for earlier, later in pairwise(asked)]
    print(f"\nlongest between two questions whether to stop: {max(gaps)[0] * 1000:.0f} ms, in {max(gaps)[1]}")
    assert max(gaps)[0] < 1.0


def test_ranking_again_after_a_weight_moved(benchmark, scene, found):
    moved = with_weight(scene[0], "wind", 33.0)
    benchmark.pedantic(lambda: rank_again(moved, *scene[1:], found), rounds=9, warmup_rounds=1)
    tell(benchmark, "ranked again")


@pytest.mark.parametrize("away_m", [0.0, 2000.0])
def test_why_here(benchmark, scene, found, away_m):
    pick = found.sites[0]
    benchmark.pedantic(
        lambda: why_here(*scene, found, pick.east_m + away_m, pick.north_m), rounds=9, warmup_rounds=1
    )  # fmt: skip
    tell(benchmark, "why here")


def test_firmness_and_toppling_of_all_sites(benchmark, scene, found):
    plan, within = scene[0], [one for one in found.kept.measured if one.is_within_limits]

    def draw():
        spread = read_spread(*scene, within)
        return firmness(spread, plan), smallest_topple(spread, plan)

    benchmark.pedantic(draw, rounds=3, warmup_rounds=1)
    tell(benchmark, f"firmness of {len(within)} sites")


@pytest.mark.parametrize("name", FURTHER_NAMES)
def test_what_one_further_factor_adds_to_a_search(benchmark, scene, found, name):
    plan = with_weight(scene[0], name, 10.0)
    benchmark.pedantic(lambda: find_sites(plan, *scene[1:], earlier=found), rounds=1)
    tell(benchmark, f"searched anew with {name}")


def test_ranking_again_with_every_further_factor(benchmark, scene, asked):
    moved = with_weight(asked[0], "wind", 33.0)
    benchmark.pedantic(lambda: rank_again(moved, *scene[1:], asked[1]), rounds=9, warmup_rounds=1)
    tell(benchmark, "ranked again with every further factor")


def test_why_here_with_every_further_factor(benchmark, scene, asked):
    plan, sites = asked
    pick = sites.sites[0]
    benchmark.pedantic(
        lambda: why_here(plan, *scene[1:], sites, pick.east_m, pick.north_m), rounds=9, warmup_rounds=1
    )  # fmt: skip
    tell(benchmark, "why here with every further factor")


def test_firmness_with_every_further_factor(benchmark, scene, asked):
    plan, within = asked[0], [one for one in asked[1].kept.measured if one.is_within_limits]

    def draw():
        spread = read_spread(plan, *scene[1:], within)
        return firmness(spread, plan), smallest_topple(spread, plan)

    benchmark.pedantic(draw, rounds=3, warmup_rounds=1)
    tell(benchmark, f"firmness of {len(within)} sites with every further factor")
