"""How many shelters fit on a piece of ground at their spacing, and where.

Hexagonal lattices at many angles and shifts, in continuous coordinates; the best are filled up where room is left,
and small sets are improved by trying other places. Every cell under a footprint is allowed ground.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.sites import _kernels
from sitepick.work import Watch

MARGIN_M = 0.002  # kept over the spacing, so that coordinates written to the millimetre still keep it
HEXAGON = math.sqrt(3.0) / 2.0  # ground a shelter takes in the densest packing, in squares of the spacing

_SEED = 20
_HARD_BY = 1e-6  # cells left between a footprint and the side of its cell
_FILLED_COUNT = 5  # lattices that are filled up
_SWAPPED_COUNT_MAX = 60  # larger sets gain little from swaps
_FILLED_CELLS = 500_000  # looked at between two questions whether to stop


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What one shelter takes, in cells.

    Attributes
    ----------
    spacing : float
        Least distance between two middles.
    radius : float
        Half of the footprint's width.
    standing : float
        Cells beside the footprint that a shelter's share of paths, sleds, latrine and water point takes.
    """

    spacing: float
    radius: float
    standing: float = 0.0

    @property
    def cell_count(self) -> float:
        """Cells a shelter takes in the densest packing of wide ground."""
        return HEXAGON * self.spacing**2

    def held(self, place_count: int, cell_count: int) -> int:
        """Shelters for which so many places and so much ground are enough, their standing ground counted in."""
        if self.standing == 0.0:
            return place_count
        return min(place_count, int(cell_count / (math.pi * self.radius**2 + self.standing)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Effort:
    """How hard to look.

    Attributes
    ----------
    lattice_count : int
        Lattices tried.
    swap_count : int
        Places tried in the stead of others.
    """

    lattice_count: int
    swap_count: int


QUICK = Effort(lattice_count=200, swap_count=0)
THOROUGH = Effort(lattice_count=2000, swap_count=50_000)


def room_of(
    grid: Grid,
    bounds_m: tuple[float, float, float, float],
    *,
    spacing_m: float,
    footprint_m: float,
    standing_m2: float = 0.0,
) -> Room:
    """The room a shelter takes, from metres on the ground to cells of a grid.

    Parameters
    ----------
    grid : Grid
    bounds_m : (west, south, east, north)
        Where, in grid coordinates; the largest scale at its corners counts, so that the spacing is kept everywhere.
    spacing_m, footprint_m, standing_m2 : float
        On the ground.
    """
    west, south, east, north = bounds_m
    scale = max(grid.point_scale(x, y) for x in (west, east) for y in (south, north))
    return Room(
        spacing=((spacing_m + MARGIN_M) * scale) / grid.cell_m,
        radius=footprint_m * scale / 2.0 / grid.cell_m,
        standing=standing_m2 * (scale / grid.cell_m) ** 2,
    )


def most_that_could_fit(allowed: MaskArray, room: Room) -> int:
    """A quick count that no packing can exceed: ground is cut into squares that hold one shelter at most."""
    rows, cols = np.nonzero(allowed)
    side = int(room.spacing * _kernels.BUCKET_FRAC)
    if side < 1:
        a_cell = math.ceil(1.0 / (room.spacing * _kernels.BUCKET_FRAC)) ** 2
        return int(rows.size) * a_cell
    return int(np.unique((rows // side) * (allowed.shape[1] + 1) + cols // side).size)


def pack(allowed: MaskArray, room: Room, effort: Effort) -> DoubleArray:
    """As many places for shelters as can be found.

    Parameters
    ----------
    allowed : bool array
        Cells that a footprint may cover; ground beyond the array is not allowed.
    room : Room
    effort : Effort

    Returns
    -------
    ndarray of shape (count, 2), float64
        Row and column of each middle in cells, with fractions. The same for the same input.

    Notes
    -----
    Cost: a lattice visits each place of its own within the array once; swaps are independent of size.
    """
    allowed = np.ascontiguousarray(allowed)
    cells = np.argwhere(allowed).astype(np.float64)
    if not cells.size:
        return np.empty((0, 2))
    turns = _turns(effort.lattice_count)
    counts = np.zeros(effort.lattice_count, np.int64)
    _kernels.count_lattices(allowed, room.spacing, room.radius, turns, counts)
    best = np.empty((0, 2))
    spots = _spots(cells, room)
    for k in np.argsort(-counts, kind="stable")[:_FILLED_COUNT]:
        places = _empty_places(allowed, room)
        count = _kernels.lattice_places(allowed, room.spacing, room.radius, turns[k], places)
        count = _kernels.try_places(allowed, room.spacing, room.radius, spots, False, places, count)
        if count > len(best):
            best = places[:count]
    if effort.swap_count and 0 < len(best) < _SWAPPED_COUNT_MAX:
        best = _swapped(allowed, room, cells, best, effort.swap_count)
    return np.array(best)


@lru_cache(maxsize=4)
def _turns(count: int) -> DoubleArray:
    """Lattices to try: most of hexagons, some along the grid, some of squares for corners and narrow ground."""
    turns = np.empty((count, 4))
    turns[:, :3] = np.random.default_rng(_SEED).random((count, 3)) * (math.pi / 3.0, 1.0, 1.0)
    turns[:, 3] = math.pi / 3.0
    turns[0::8, 0], turns[1::8, 0] = 0.0, math.pi / 6.0
    turns[2::8, 0] *= 1.5  # squares look alike after a quarter of a turn
    turns[3::8, 0], turns[4::8, 0] = 0.0, math.pi / 4.0
    for start in (2, 3, 4):
        turns[start::8, 3] = math.pi / 2.0
    turns.flags.writeable = False
    return turns


def _swapped(
    allowed: MaskArray,
    room: Room,
    cells: DoubleArray,
    held: DoubleArray,
    swap_count: int,
) -> DoubleArray:
    """The held places, bettered by trying others; as they were where that finds no more."""
    places = _empty_places(allowed, room)
    places[: len(held)] = held
    draws = _draws(swap_count)
    side = min(0.5, room.radius + _HARD_BY)
    trials = cells[(draws[:, 0] * len(cells)).astype(np.int64)]
    # Hard by the sides of its cell, so far as the footprint lets it.
    trials += side + draws[:, 1:] * (1.0 - 2.0 * side)
    count = _kernels.try_places(allowed, room.spacing, room.radius, trials, True, places, len(held))
    return places[:count] if count > len(held) else held


@lru_cache(maxsize=4)
def _draws(count: int) -> DoubleArray:
    """Which cell, and where in it, as shares: half of the places anywhere, half in the middle or hard by a side."""
    random = np.random.default_rng(_SEED)
    draws = random.random((count, 3))
    is_hard = random.random((count, 2)) < 0.5
    draws[:, 1:] = np.where(is_hard, np.round(2.0 * draws[:, 1:]) / 2.0, draws[:, 1:])
    draws.flags.writeable = False
    return draws


def pack_widely(allowed: MaskArray, room: Room, *, watch: Watch) -> DoubleArray:
    """Places all over wide ground, filled up but not sought long; what `pack` finds on any piece is mostly more.

    Parameters
    ----------
    allowed : bool array
    room : Room
    watch : Watch
        Can stop the work.

    Returns
    -------
    ndarray of shape (count, 2), float64
        As of `pack`.
    """
    places = _empty_places(allowed, room)
    count = _kernels.lattice_places(
        allowed, room.spacing, room.radius, np.array((0.0, 0.0, 0.0, math.pi / 3.0)), places
    )
    stride = max(1, int(room.spacing / 4.0))
    block = max(1, _FILLED_CELLS // max(1, allowed.shape[1])) * stride
    for first in range(0, allowed.shape[0], block):
        watch.tick("room for shelters", first, allowed.shape[0])
        last = min(first + block, allowed.shape[0])
        spots = np.argwhere(allowed[first:last:stride, ::stride]) * stride + (first + 0.5, 0.5)
        count = _kernels.try_places(allowed, room.spacing, room.radius, spots, False, places, count)
    return np.array(places[:count])


def _empty_places(allowed: MaskArray, room: Room) -> DoubleArray:
    side = room.spacing * _kernels.BUCKET_FRAC
    return np.empty(((int(allowed.shape[0] / side) + 1) * (int(allowed.shape[1] / side) + 1), 2))


def _spots(cells: DoubleArray, room: Room) -> DoubleArray:
    """Places all over the cells, at most an eighth of the spacing apart, to fill up from."""
    stride = int(room.spacing / 16.0)
    if stride > 1:
        return cells[np.all(cells % stride == 0.0, axis=1)] + 0.5
    per_side = min(32, max(1, math.ceil(8.0 / room.spacing)))
    parts = (np.arange(per_side) + 0.5) / per_side
    shifts = np.stack(np.meshgrid(parts, parts, indexing="ij"), axis=-1).reshape(-1, 2)
    return np.ascontiguousarray((cells[:, None, :] + shifts).reshape(-1, 2))
