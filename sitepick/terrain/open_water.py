"""Lakes, rivers and the sea: what kind of open water it is, and how high it stands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.grid import DoubleArray, FloatArray, MaskArray
from sitepick.terrain.drainage import CellArray
from sitepick.terrain.margin import extreme_around, with_margin
from sitepick.terrain.model import LAKE, NO_WATER, RIVER, SEA, WaterKindArray
from sitepick.terrain.parts import CountArray, label_parts, part_sizes
from sitepick.work import Watch, each_block, run_row_blocks

# Ours. Water is cut where it narrows, so that a lake and the river through it are told apart.
NARROW_M = 120.0  # narrower than this it may be a river whatever its heights say
RIVER_LENGTHS = 8.0  # how many times longer than wide a river is at least
RIVER_LEAST_M = 400.0  # shorter narrow water is a pond, or a bay of the lake beside it
RIVER_FALL_M = 1.0  # end to end, of a broad river; a lake has none
SEA_LEVEL_M = 1.0  # the sea's heights are off by no more
SEA_LEAST_M2 = 250_000.0
_ROUND = np.pi / 4  # from a shore's steps along the cells' sides to its length, over all directions
_STEP = "open water"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OpenWater:
    """Open water; arrays of the grid's shape.

    Attributes
    ----------
    kind : uint8
        `LAKE`, `RIVER`, `SEA` or `NO_WATER`.
    surface_m : float32
        Heights, with lakes and the sea level at the mean of their own; NaN where not known.
    """

    kind: WaterKindArray
    surface_m: FloatArray


def read_open_water(is_water: MaskArray, elevation_m: FloatArray, *, cell_m: float, watch: Watch) -> OpenWater:
    """Tell lakes, rivers and the sea apart, and level what stands.

    Parameters
    ----------
    is_water : ndarray, bool
    elevation_m : ndarray, float32
        Metres, NaN where not known; a lake's own heights may be rough or missing.
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    OpenWater

    Notes
    -----
    Long and narrow water is a river, and so is long broad water whose heights fall; water at sea level
    that runs out of the window is the sea; the rest is lakes. Length over width is read from shore
    and area.
    """
    if not is_water.any():
        return OpenWater(kind=np.full(is_water.shape, NO_WATER, np.uint8), surface_m=elevation_m)
    piece, broad_count, count = _pieces(is_water, max(1, round(NARROW_M / cell_m / 2.0)), watch)
    area_m2 = part_sizes(piece, count - 1, watch=watch, step=_STEP) * cell_m**2
    mean_m, fall_m = _heights(piece, elevation_m, count, watch)
    shore_m = _shore_count(piece, is_water, count, watch) * cell_m * _ROUND
    is_long = shore_m**2 / (4.0 * area_m2) >= RIVER_LENGTHS
    is_narrow = np.arange(count) > broad_count
    kinds = np.full(count, LAKE, np.uint8)
    kinds[is_long & np.where(is_narrow, shore_m / 2.0 >= RIVER_LEAST_M, fall_m >= RIVER_FALL_M)] = RIVER
    kinds[0] = NO_WATER
    is_low = ~(np.abs(mean_m) > SEA_LEVEL_M)
    is_low[0] = False
    part, is_sea = _sea(is_low, piece, cell_m, watch)
    level_m = mean_m.astype(np.float32)
    kind, surface_m = np.empty(is_water.shape, np.uint8), np.empty(is_water.shape, np.float32)

    def tell(first: int, last: int) -> None:
        rows = slice(first, last)
        told = kinds[piece[rows]]
        told[is_sea[part[rows]]] = SEA
        stands = (told == LAKE) | (told == SEA)
        kind[rows], surface_m[rows] = told, np.where(stands, level_m[piece[rows]], elevation_m[rows])

    run_row_blocks(tell, is_water.shape, watch=watch, step=_STEP)
    return OpenWater(kind=kind, surface_m=surface_m)


def _pieces(is_water: MaskArray, reach: int, watch: Watch) -> tuple[CellArray, int, int]:
    """Water cut where it narrows: pieces by number, broad ones first; how many are broad; one past the last."""
    shape = is_water.shape
    is_core, is_cut = np.empty(is_water.shape, bool), np.empty(is_water.shape, bool)

    def find_core(first: int, last: int) -> None:
        framed = with_margin(is_water, first, last, reach, nothing=True)
        is_core[first:last] = extreme_around(framed, reach, np.minimum)

    def find_broad(first: int, last: int) -> None:
        framed = with_margin(is_core, first, last, reach, nothing=False)
        is_cut[first:last] = extreme_around(framed, reach, np.maximum) & is_water[first:last]

    def find_narrow(first: int, last: int) -> None:
        is_cut[first:last] = is_water[first:last] & ~is_cut[first:last]

    run_row_blocks(find_core, shape, watch=watch, step=_STEP)
    run_row_blocks(find_broad, shape, watch=watch, step=_STEP)
    piece, broad_count = label_parts(is_cut, watch=watch, step=_STEP)
    run_row_blocks(find_narrow, shape, watch=watch, step=_STEP)
    narrow, narrow_count = label_parts(is_cut, watch=watch, step=_STEP)

    def join(first: int, last: int) -> None:
        np.copyto(piece[first:last], narrow[first:last] + broad_count, where=is_cut[first:last])

    run_row_blocks(join, shape, watch=watch, step=_STEP)
    return piece, broad_count, broad_count + narrow_count + 1


def _sea(is_low: MaskArray, piece: CellArray, cell_m: float, watch: Watch) -> tuple[CellArray, MaskArray]:
    """Of the pieces at sea level, or of unknown height, what is large together and runs out of the window.

    Returns
    -------
    part : int32, of the grid's shape
        Pieces of such water that touch are one part.
    is_sea : bool
        By part.
    """
    if not is_low.any():
        return piece, np.zeros(is_low.shape, bool)
    is_low_there = np.empty(piece.shape, bool)

    def find(first: int, last: int) -> None:
        is_low_there[first:last] = is_low[piece[first:last]]

    run_row_blocks(find, piece.shape, watch=watch, step=_STEP)
    part, count = label_parts(is_low_there, watch=watch, step=_STEP)
    edges = np.concatenate([part[0], part[-1], part[:, 0], part[:, -1]])
    is_sea = np.bincount(edges, minlength=count + 1) > 0
    is_sea &= part_sizes(part, count, watch=watch, step=_STEP) * cell_m**2 >= SEA_LEAST_M2
    is_sea[0] = False
    return part, is_sea


def _heights(
    piece: CellArray, elevation_m: FloatArray, count: int, watch: Watch
) -> tuple[DoubleArray, DoubleArray]:  # fmt: skip
    """Mean height of each piece, and how far it falls end to end as if it did so evenly; NaN where not known."""
    shape = piece.shape
    known_count, total_m, squares_m2 = np.zeros(count), np.zeros(count), np.zeros(count)

    def known(first: int, last: int) -> tuple[CellArray, DoubleArray]:
        is_known = (piece[first:last] > 0) & np.isfinite(elevation_m[first:last])
        return piece[first:last][is_known], elevation_m[first:last][is_known].astype(np.float64)

    for first, last in each_block(shape, watch=watch, step=_STEP):
        of, z = known(first, last)
        np.add.at(known_count, of, 1.0)
        np.add.at(total_m, of, z)
    known_count[known_count == 0.0] = np.nan
    mean_m = total_m / known_count
    for first, last in each_block(shape, watch=watch, step=_STEP):
        of, z = known(first, last)
        np.add.at(squares_m2, of, (z - mean_m[of]) ** 2)
    return mean_m, np.sqrt(12.0 * squares_m2 / known_count)


def _shore_count(piece: CellArray, is_water: MaskArray, count: int, watch: Watch) -> CountArray:
    """Sides of cells between each piece and dry ground."""
    shore = np.zeros(count, np.int64)
    for first, last in each_block(piece.shape, watch=watch, step=_STEP):
        rows = slice(max(0, first - 1), last)  # with the row before, whose southern sides are looked at here
        for one, other in (
            (np.s_[1:, :], np.s_[:-1, :]),
            (np.s_[first - rows.start :, 1:], np.s_[first - rows.start :, :-1]),
        ):
            is_shore = is_water[rows][one] != is_water[rows][other]
            np.add.at(shore, np.maximum(piece[rows][one][is_shore], piece[rows][other][is_shore]), 1)
    return shore
