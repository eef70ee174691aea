"""Places for shelters beside others that stand already."""

from __future__ import annotations

import math

import numpy as np

from sitepick.grid import DoubleArray, MaskArray
from sitepick.sites import _kernels
from sitepick.sites.packing import THOROUGH, Effort, Room, pack

_SEED = 23
_SPOT_COUNT_MAX = 60_000


def pack_beside(allowed: MaskArray, room: Room, held: DoubleArray, effort: Effort = THOROUGH) -> DoubleArray:
    """As many places as can be found that keep the spacing among each other and from those held.

    Parameters
    ----------
    allowed : bool array
        Cells that a footprint may cover.
    room : Room
    held : float64 array of shape (count, 2)
        Row and column, in cells, of what stays where it is; may lie anywhere and at any distance from each other.
    effort : Effort

    Returns
    -------
    ndarray of shape (count, 2), float64
        Without those held. The same for the same input.

    Notes
    -----
    Whole cells near what is held are closed for the packing; what that wastes is filled up place by place, at the exact
    distance.
    """
    found = pack(cleared(allowed, room, held), room, effort)
    if not len(held):
        return found
    spots = _spots(allowed, room)
    apart = np.hypot(spots[:, None, 0] - held[None, :, 0], spots[:, None, 1] - held[None, :, 1]).min(axis=1)
    spots = np.ascontiguousarray(spots[apart >= room.spacing])
    allowed = np.ascontiguousarray(allowed)
    side = room.spacing * _kernels.BUCKET_FRAC
    places = np.empty(((int(allowed.shape[0] / side) + 1) * (int(allowed.shape[1] / side) + 1), 2))
    places[: len(found)] = found
    count = _kernels.try_places(allowed, room.spacing, room.radius, spots, False, places, len(found))
    first = places[:count].copy()
    shuffled = np.random.default_rng(_SEED).permutation(spots)
    count = _kernels.try_places(allowed, room.spacing, room.radius, shuffled, True, places, count)
    return places[:count].copy() if count > len(first) else first


def stands_on(allowed: MaskArray, room: Room, row: float, col: float) -> bool:
    """Whether a footprint lies on allowed cells only."""
    return bool(_kernels.footprint_fits(np.ascontiguousarray(allowed), row, col, room.radius))


def cleared(allowed: MaskArray, room: Room, held: DoubleArray) -> MaskArray:
    """The allowed cells on which no footprint comes too near to what is held, wherever on them it stands."""
    left = np.array(allowed, copy=True)
    rows, cols = np.indices(allowed.shape)
    for row, col in np.asarray(held, dtype=np.float64).reshape(-1, 2).tolist():
        down = np.maximum(np.maximum(rows - row, row - rows - 1.0), 0.0)
        right = np.maximum(np.maximum(cols - col, col - cols - 1.0), 0.0)
        # A middle nearer than the spacing lays some of its footprint on one of these cells.
        left &= np.hypot(down, right) > room.spacing - room.radius
    return left


def _spots(allowed: MaskArray, room: Room) -> DoubleArray:
    """Places all over the allowed cells, at most a tenth of the spacing apart where that isn't too many."""
    cells = np.argwhere(allowed).astype(np.float64)
    if not len(cells):
        return cells
    per_side = max(1, min(8, math.ceil(10.0 / room.spacing), math.isqrt(_SPOT_COUNT_MAX // len(cells))))
    if per_side == 1:
        cells = cells[:: max(1, len(cells) // _SPOT_COUNT_MAX)]
    parts = (np.arange(per_side) + 0.5) / per_side
    shifts = np.stack(np.meshgrid(parts, parts, indexing="ij"), axis=-1).reshape(-1, 2)
    return np.ascontiguousarray((cells[:, None, :] + shifts).reshape(-1, 2))
