"""Where no place holds the whole unit: the best two near ones that hold it together."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import combinations

import numpy as np

from sitepick.caution import Caution
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece, Search, find_candidates
from sitepick.sites.measured import Measured
from sitepick.sites.model import Split, SplitPart
from sitepick.sites.naming import name_pieces
from sitepick.sites.outline import middle_of
from sitepick.sites.ranking import site_outline
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

# Ours: as far as two camps can call on each other on skis within a few minutes.
APART_MAX_M = 1500.0
_APART_COST = 0.04  # points of the score that a metre between the two is worth: 250 m are 10 points
_LARGER_SHARES = (0.5, 0.75)  # of the unit, on the larger of the two
_PIECE_COUNT_MAX = 40


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Pair:
    """Two pieces that hold the unit together, the one with more of it first."""

    pieces: tuple[Piece, Piece]
    counts: tuple[int, int]
    apart_m: float
    worth: float


def find_split(
    search: Search,
    measure: Callable[[Piece, int], Measured],
    *,
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    march: March,
    watch: Watch,
) -> Split | None:
    """The best two near places that hold the unit between them.

    Parameters
    ----------
    search : Search
        The one that found no place for the whole unit.
    measure : callable
        ``measure(piece, shelter_count) -> Measured``.
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    watch : Watch
        Can stop the work.

    Returns
    -------
    Split or None
        None for one shelter, and where no two places near each other do either.

    Notes
    -----
    Both keep every limit. A pair costs what the measures of the two are worth on the mean, by shelters, less the
    way between them; pairs with avalanche ground on the straight line between them are left out.
    """
    if search.need_count < 2:
        return None
    pieces = _smaller_pieces(search, watch)
    pairs = _pairs(pieces, search.need_count, ground)
    scores: dict[int, Measured] = {}
    best: _Pair | None = None
    for pair in sorted(pairs, key=lambda pair: pair.apart_m):
        if best is not None and 100.0 - _APART_COST * pair.apart_m <= best.worth:
            break
        watch.tick("two sites for the unit")
        for piece, count in zip(pair.pieces, pair.counts, strict=True):
            if id(piece) not in scores:
                scores[id(piece)] = measure(piece, count)
        measured = [scores[id(piece)] for piece in pair.pieces]
        if not all(one.is_within_limits for one in measured) or _crosses(pair, _is_avalanche(terrain)):
            continue
        score = sum(one.score * count for one, count in zip(measured, pair.counts, strict=True)) / search.need_count
        pair = replace(pair, worth=score - _APART_COST * pair.apart_m)
        if best is None or pair.worth > best.worth:
            best = pair
    return None if best is None else _told(best, plan=plan, ground=ground, terrain=terrain, march=march)


def _smaller_pieces(search: Search, watch: Watch) -> list[Piece]:
    """Places for parts of the unit, of a few sizes."""
    need = search.need_count
    larger = [math.ceil(share * need) for share in _LARGER_SHARES]
    sizes = sorted({max(1, min(size, need - 1)) for size in (*larger, *(need - size for size in larger))})
    return [
        piece
        for size in sizes
        for piece in find_candidates(
            replace(search, need_count=size, piece_count_max=_PIECE_COUNT_MAX, begin_at=()), watch=watch
        ).pieces
    ]


def _pairs(pieces: list[Piece], need_count: int, ground: Ground) -> list[_Pair]:
    """Pairs near each other that share no ground and hold all."""
    middles = np.array([middle_of(piece.cells) for piece in pieces], float).reshape(-1, 2)
    cols = ground.grid.cols
    held = [np.sort(piece.cells[:, 0] * cols + piece.cells[:, 1]) for piece in pieces]
    pairs = []
    for i, j in combinations(range(len(pieces)), 2):
        apart_m = float(np.hypot(*(middles[i] - middles[j]))) * ground.grid.ground_cell_m
        if apart_m > APART_MAX_M or pieces[i].capacity + pieces[j].capacity < need_count:
            continue
        if np.intersect1d(held[i], held[j], assume_unique=True).size:
            continue
        larger, smaller = sorted((pieces[i], pieces[j]), key=lambda piece: -piece.capacity)
        first = min(larger.capacity, max(need_count - smaller.capacity, math.ceil(need_count / 2)))
        pairs.append(
            _Pair(pieces=(larger, smaller), counts=(first, need_count - first), apart_m=apart_m, worth=-math.inf)
        )
    return pairs


def _is_avalanche(terrain: Terrain) -> np.ndarray:
    return np.asarray(terrain.is_avalanche_release | terrain.is_avalanche_runout)


def _crosses(pair: _Pair, mask: np.ndarray) -> bool:
    """Whether the straight line between the middles crosses cells of a mask."""
    start, end = (np.array(middle_of(piece.cells), float) for piece in pair.pieces)
    count = 2 * int(np.max(np.abs(end - start))) + 2
    way = np.rint(np.linspace(start, end, count)).astype(int)
    return bool(mask[way[:, 0], way[:, 1]].any())


def _told(pair: _Pair, *, plan: Plan, ground: Ground, terrain: Terrain, march: March) -> Split:
    # The leader's shelter goes with the larger part; the others stay in the order of the unit.
    ordered = sorted(plan.unit.shelters, key=lambda shelter: not shelter.is_leaders)
    first = {shelter.name for shelter in ordered[: pair.counts[0]]}
    names = name_pieces(pair.pieces, ground, terrain, march)
    parts = []
    for piece, name, is_first in zip(pair.pieces, names, (True, False), strict=True):
        row, col = middle_of(piece.cells)
        east_m, north_m = ground.grid.cell_centre_m(row, col)
        shelters = tuple(one for one in plan.unit.shelters if (one.name in first) == is_first)
        parts.append(
            SplitPart(
                name=name,
                outline_m=site_outline(piece, plan, ground.grid),
                east_m=east_m,
                north_m=north_m,
                capacity=piece.capacity,
                shelters=tuple(one.name for one in shelters),
                people=sum(one.people for one in shelters),
                arrive=march.depart
                + timedelta(minutes=march.halt_rule.elapsed_min(march.way_min_at(row, col))),
            )
        )  # fmt: skip
    told = ["Two camps need two watches, a leader each and an agreed way to call each other: settle it before parting."]
    if _crosses(pair, terrain.is_water):
        told.append("Open water or ice lies straight between the two: go round it, and walk the way by daylight.")
    return Split(
        parts=(parts[0], parts[1]),
        apart_m=pair.apart_m,
        cautions=tuple(Caution(kind="camp", text=text) for text in told),
    )
