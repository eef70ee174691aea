"""From places that fit to the best ones: level, sheltered and close together.

A search by chance that always ends at the same answer: places are shifted, moved and exchanged, what is worse is
taken less and less often, and the best seen is kept. It never leaves allowed ground nor the spacing.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sitepick.grid import DoubleArray, MaskArray
from sitepick.sites import _kernels

_SEED = 31
_START_COUNT = 6
_START_DRAWS = 12_000  # for each start
_LAST_DRAWS = 60_000  # for the best of them


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stands:
    """What is to stand somewhere, in cells; the others want to be near the first.

    Attributes
    ----------
    spacing : float
        Least distance between two middles.
    radius : float64 array of shape (count,)
        Half of the width that each takes.
    reach : float64 array of shape (count,)
        How much more than the spacing each keeps from the others.
    is_held : bool array of shape (count,)
        What stays where it is; it may stand anywhere, also off allowed ground and too near to what is held too.
    """

    spacing: float
    radius: DoubleArray
    reach: DoubleArray
    is_held: MaskArray


def camp_toll(places: DoubleArray, cost: DoubleArray, spacing: float) -> float:
    """What a camp costs, in spacings walked: the least ways of all to one of them, and the cost of every place.

    Parameters
    ----------
    places : float64 array of shape (count, 2)
        Row and column of each middle in cells.
    cost : float64 array
        Of each cell, in spacings.
    spacing : float
        In cells.
    """
    apart = np.hypot(places[:, None, 0] - places[None, :, 0], places[:, None, 1] - places[None, :, 1])
    cells = np.floor(places).astype(int)
    return float(apart.sum(axis=1).min() / spacing + cost[cells[:, 0], cells[:, 1]].sum())


def settle(allowed: MaskArray, cost: DoubleArray, stands: Stands, starts: list[DoubleArray]) -> DoubleArray:
    """The best places found for stands.

    Parameters
    ----------
    allowed : bool array
        Cells that a stand may cover; beyond the array nothing is allowed.
    cost : float64 array of the same shape
        What standing on a cell costs, in spacings walked.
    stands : Stands
    starts : list of float64 arrays of shape (count, 2)
        At least one: places that fit and keep their distances, in the order of the stands.

    Returns
    -------
    ndarray of shape (count, 2), float64
        Never worse than the best start. The same for the same input.
    """
    allowed, cost = np.ascontiguousarray(allowed), np.ascontiguousarray(cost, dtype=np.float64)
    tried: list[tuple[float, int, DoubleArray]] = []
    for number, start in enumerate(starts[:_START_COUNT]):
        places = np.array(start, dtype=np.float64)
        draws = _draws(_START_DRAWS)
        toll = _settled(allowed, cost, stands, draws, places)
        tried.append((toll, number, places))
    best = min(tried)[2]
    _settled(allowed, cost, stands, _draws(_LAST_DRAWS), best)
    return best


def _settled(allowed: MaskArray, cost: DoubleArray, stands: Stands, draws: DoubleArray, places: DoubleArray) -> float:
    return float(
        _kernels.settle(allowed, cost, stands.spacing, stands.radius, stands.reach, stands.is_held, draws, places)
    )


@lru_cache(maxsize=4)
def _draws(count: int) -> DoubleArray:
    draws = np.random.default_rng(_SEED).random((count, 5))
    draws.flags.writeable = False
    return draws
