"""Packing against exact answers: proven optima on cell middles, and published bounds."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from scipy import optimize, sparse

from sitepick.sites.packing import THOROUGH, Room, pack


def best_on_cell_middles(allowed: np.ndarray, spacing: float) -> int:
    """Most shelters on middles of cells, proven by integer programming (scipy's `milp`)."""
    cells = np.argwhere(allowed)
    apart = np.hypot(*(cells[:, None, :] - cells[None, :, :]).transpose(2, 0, 1))
    # Two cells too close exclude each other; a square with a diagonal under the spacing holds one at most.
    side = int(spacing / math.sqrt(2.0) - 1e-9)
    rows = [
        np.flatnonzero((cells[:, 0] >= r) & (cells[:, 0] <= r + side) & (cells[:, 1] >= c) & (cells[:, 1] <= c + side))
        for r in range(-side, allowed.shape[0])
        for c in range(-side, allowed.shape[1])
    ]
    rows += [np.array(pair) for pair in np.argwhere(np.triu(apart < spacing - 1e-9, 1))]
    rows = [row for row in rows if row.size > 1]
    matrix = sparse.lil_matrix((len(rows), len(cells)))
    for k, row in enumerate(rows):
        matrix[k, row] = 1.0
    answer = optimize.milp(
        -np.ones(len(cells)),
        constraints=optimize.LinearConstraint(matrix.tocsr(), -np.inf, 1.0),
        integrality=np.ones(len(cells)),
        bounds=optimize.Bounds(0.0, 1.0),
    )
    assert answer.success
    return round(-answer.fun)


def blob(seed: int, size: int, share: float) -> np.ndarray:
    """Random connected-looking ground with holes."""
    random = np.random.default_rng(seed)
    field = random.random((size, size))
    smooth = sum(np.roll(field, (r, c), (0, 1)) for r in (-1, 0, 1) for c in (-1, 0, 1))
    return smooth > np.quantile(smooth, 1.0 - share)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("allowed", "spacing"),
    [
        (np.ones((10, 10), bool), 3.0),
        (np.ones((4, 24), bool), 4.5),
        (np.ones((2, 30), bool), 5.4864),
        (blob(1, 13, 0.6), 3.5),
        (blob(2, 14, 0.5), 4.0),
        (blob(3, 13, 0.4), 2.9),
    ],
    ids=["square", "strip", "bench", "blob of 60 %", "blob of 50 %", "blob of 40 %"],
)
def test_packing_finds_what_is_proven_best_on_cell_middles(allowed, spacing):
    optimum = best_on_cell_middles(allowed, spacing)
    found = len(pack(allowed, Room(spacing=spacing, radius=0.265), THOROUGH))
    assert found >= math.ceil(0.95 * optimum)


@pytest.mark.parametrize(("size", "spacing"), [(8, 3.0), (20, 4.0), (30, 5.5), (5, 9.0)])
def test_packing_never_claims_more_than_the_area_and_the_edge_allow(size, spacing):
    # Oler 1961 (Acta Mathematica 105:19): a convex set of area A and perimeter P holds at most
    # 2 A / (sqrt(3) d^2) + P / (2 d) + 1 points d apart. From memory.
    bound = 2.0 * size**2 / (math.sqrt(3.0) * spacing**2) + 4.0 * size / (2.0 * spacing) + 1.0
    assert len(pack(np.ones((size, size), bool), Room(spacing=spacing, radius=0.0), THOROUGH)) <= bound


def test_packing_holds_the_published_best_of_points_in_a_square():
    # Proven: in a unit square 4 points can lie 1 apart, 5 sqrt(2)/2, 9 1/2, and no more so far apart.
    # Source: Schaer 1965 (Canadian Mathematical Bulletin 8:273); from memory.
    side = 12
    allowed = np.ones((side, side), bool)
    for count, apart in ((4, 1.0), (5, math.sqrt(0.5)), (9, 0.5)):
        room = Room(spacing=apart * side * 0.92, radius=0.0)
        assert len(pack(allowed, room, THOROUGH)) == count


def ground_of_kind(kind: str, seed: int) -> np.ndarray:
    """Small ground of one kind, its size and lie drawn."""
    random = np.random.default_rng(seed)
    row, col = np.indices((26, 26))
    middle = random.uniform(10.0, 15.0, 2)
    away = np.hypot(row - middle[0], col - middle[1])
    if kind == "bench":
        tilt = random.uniform(0.0, math.pi)
        across = np.abs((row - middle[0]) * math.cos(tilt) + (col - middle[1]) * math.sin(tilt))
        return across < random.uniform(0.8, 1.8)
    if kind == "crescent":
        inner = random.uniform(5.0, 8.0)
        return (
            (away > inner) & (away < inner + random.uniform(2.0, 3.5)) & (col < middle[1] + random.uniform(-2.0, 6.0))
        )
    if kind == "ring":
        inner = random.uniform(4.0, 6.0)
        return (away > inner) & (away < inner + random.uniform(1.5, 3.0))
    return blob(seed, int(random.integers(12, 17)), random.uniform(0.35, 0.7))


@pytest.mark.slow
def test_packing_reaches_the_proven_best_on_ground_of_every_shape(record_property):
    shares = []
    for kind in ("bench", "crescent", "ring", "patch"):
        for seed in range(11):
            allowed = ground_of_kind(kind, seed)
            spacing = float(np.random.default_rng(seed + 50).uniform(3.0, 5.6))
            room = Room(spacing=spacing, radius=0.265)
            places = pack(allowed, room, THOROUGH)
            assert_stands(places, allowed, room)
            shares.append(len(places) / best_on_cell_middles(allowed, spacing))
    record_property("share_of_the_proven_best", float(np.mean(shares)))
    print(f"\n{len(shares)} grounds: {100 * np.mean(shares):.1f} % of the proven best, least {100 * min(shares):.0f} %")
    assert len(shares) >= 40
    assert np.mean(shares) >= 0.95
    assert min(shares) >= 0.8


def assert_stands(places: np.ndarray, allowed: np.ndarray, room: Room) -> None:
    """Every place keeps the spacing, and its whole footprint lies on allowed ground."""
    ground = shapely.union_all([shapely.box(c, r, c + 1, r + 1) for r, c in np.argwhere(allowed)])
    middles = shapely.points(places[:, ::-1])
    for k, middle in enumerate(middles):
        assert np.delete(shapely.distance(middles, middle), k).min(initial=np.inf) >= room.spacing - 1e-9
        assert middle.buffer(room.radius).difference(ground).area < 1e-9
