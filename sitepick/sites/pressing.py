"""One shelter more on ground that is just full: the others move up until there is room for it.

Lattices and exchanges leave gaps all over that together would do for one more. Here it is put in all the same, and
whoever stands too close is shifted, all the others giving way, until every distance is kept or the search gives up.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from sitepick.grid import DoubleArray, MaskArray
from sitepick.sites import _kernels
from sitepick.sites.packing import Room, most_that_could_fit

_SEED = 47
_START_COUNT = 8  # where the one more is put in
_DRAWS = 40_000  # for each start
_COUNT_MAX = 60  # larger sets gain little, and every move asks all the others


def pressed_in(
    allowed: MaskArray, room: Room, places: DoubleArray, need: int, held: DoubleArray | None = None
) -> DoubleArray:
    """Places for more shelters than were found, as many as are needed where that works.

    Parameters
    ----------
    allowed : bool array
        Cells that a footprint may cover.
    room : Room
    places : float64 array of shape (count, 2)
        Found already: row and column of each middle in cells, the spacing apart, footprints on allowed cells.
    need : int
        How many are wanted; with that many or more nothing is tried.
    held : float64 array of shape (held, 2), optional
        What stays where it is; the spacing is kept from it.

    Returns
    -------
    ndarray of shape (count, 2), float64
        Never fewer than given; those given where no more find room. The same for the same input.

    Notes
    -----
    Cost: at most 320 000 moves for each shelter put in, each held against all the others.
    """
    if not 0 < len(places) < min(need, _COUNT_MAX):
        return places
    allowed = np.ascontiguousarray(allowed)
    most = min(need, most_that_could_fit(allowed, room), _COUNT_MAX)
    fixed = np.empty((0, 2)) if held is None else np.ascontiguousarray(held, dtype=np.float64).reshape(-1, 2)
    cells = np.argwhere(allowed).astype(np.float64)
    spots = cells[[_kernels.footprint_fits(allowed, row + 0.5, col + 0.5, room.radius) for row, col in cells]] + 0.5
    found = np.array(places, dtype=np.float64)
    while len(spots) and len(found) < most:
        more = _one_more(allowed, room, found, fixed, (cells, spots))
        if more is None:
            break
        found = more
    return found


def _one_more(
    allowed: MaskArray, room: Room, found: DoubleArray, fixed: DoubleArray, ground: tuple[DoubleArray, DoubleArray]
) -> DoubleArray | None:
    cells, spots = ground
    chosen = np.random.default_rng(_SEED).integers(len(spots), size=_START_COUNT)
    for start in range(_START_COUNT):
        trial = np.concatenate((found, spots[chosen[start] : chosen[start] + 1]))
        if _kernels.press_apart(allowed, room.spacing, room.radius, cells, fixed, _draws(start), trial):
            return trial
    return None


@lru_cache(maxsize=_START_COUNT)
def _draws(start: int) -> DoubleArray:
    draws = np.random.default_rng((_SEED, start)).random((_DRAWS, 5))
    draws.flags.writeable = False
    return draws
