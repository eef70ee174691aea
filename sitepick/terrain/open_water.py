"""Lakes, rivers and the sea: what kind of open water it is, and how high it stands."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.grid import DoubleArray, FloatArray, MaskArray
from sitepick.terrain.drainage import CellArray
from sitepick.terrain.model import LAKE, NO_WATER, RIVER, SEA, WaterKindArray

# Ours. Water is cut where it narrows, so that a lake and the river through it are told apart.
NARROW_M = 120.0  # narrower than this it may be a river whatever its heights say
RIVER_LENGTHS = 8.0  # how many times longer than wide a river is at least
RIVER_LEAST_M = 400.0  # shorter narrow water is a pond, or a bay of the lake beside it
RIVER_FALL_M = 1.0  # end to end, of a broad river; a lake has none
SEA_LEVEL_M = 1.0  # the sea's heights are off by no more
SEA_LEAST_M2 = 250_000.0
_ROUND = np.pi / 4  # from a shore's steps along the cells' sides to its length, over all directions
_EIGHT_WAYS = np.ones((3, 3), dtype=bool)


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


def read_open_water(is_water: MaskArray, elevation_m: FloatArray, *, cell_m: float) -> OpenWater:
    """Tell lakes, rivers and the sea apart, and level what stands.

    Parameters
    ----------
    is_water : ndarray, bool
    elevation_m : ndarray, float32
        Metres, NaN where not known; a lake's own heights may be rough or missing.
    cell_m : float
        Ground width of a cell.

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
    side = 2 * max(1, round(NARROW_M / cell_m / 2.0)) + 1
    core = ndimage.minimum_filter(is_water, side, mode="nearest")
    is_broad = ndimage.maximum_filter(core, side, mode="nearest") & is_water
    piece = np.zeros(is_water.shape, np.int32)
    broad_count = int(ndimage.label(is_broad, structure=_EIGHT_WAYS, output=piece))
    narrow, narrow_count = ndimage.label(is_water & ~is_broad, structure=_EIGHT_WAYS)
    np.copyto(piece, narrow + broad_count, where=narrow > 0)
    count = broad_count + int(narrow_count) + 1

    area_m2 = np.bincount(piece.reshape(-1), minlength=count) * cell_m**2
    mean_m, fall_m = _heights(piece, elevation_m, count)
    shore_m = _shore_count(piece, is_water, count) * cell_m * _ROUND
    is_long = shore_m**2 / (4.0 * area_m2) >= RIVER_LENGTHS
    is_narrow = np.arange(count) > broad_count
    kinds = np.full(count, LAKE, np.uint8)
    kinds[is_long & np.where(is_narrow, shore_m / 2.0 >= RIVER_LEAST_M, fall_m >= RIVER_FALL_M)] = RIVER
    kinds[0] = NO_WATER
    kind = kinds[piece]
    is_low = ~(np.abs(mean_m) > SEA_LEVEL_M)
    is_low[0] = False
    kind[_sea(is_low[piece], cell_m)] = SEA
    surface_m = np.where((kind == LAKE) | (kind == SEA), mean_m.astype(np.float32)[piece], elevation_m)
    return OpenWater(kind=kind, surface_m=surface_m)


def _sea(is_low: MaskArray, cell_m: float) -> MaskArray:
    """Of the water at sea level, or of unknown height, what is large and runs out of the window."""
    if not is_low.any():
        return is_low
    part, count = ndimage.label(is_low, structure=_EIGHT_WAYS)
    edges = np.concatenate([part[0], part[-1], part[:, 0], part[:, -1]])
    is_sea = np.bincount(edges, minlength=int(count) + 1) > 0
    is_sea &= np.bincount(part.reshape(-1), minlength=int(count) + 1) * cell_m**2 >= SEA_LEAST_M2
    is_sea[0] = False
    sea: MaskArray = is_sea[part]
    return sea


def _heights(piece: CellArray, elevation_m: FloatArray, count: int) -> tuple[DoubleArray, DoubleArray]:
    """Mean height of each piece, and how far it falls end to end as if it did so evenly; NaN where not known."""
    is_known = (piece > 0) & np.isfinite(elevation_m)
    of, z = piece[is_known], elevation_m[is_known].astype(np.float64)
    known_count = np.bincount(of, minlength=count).astype(np.float64)
    known_count[known_count == 0.0] = np.nan
    mean_m = np.bincount(of, z, minlength=count) / known_count
    variance = np.bincount(of, (z - mean_m[of]) ** 2, minlength=count) / known_count
    return mean_m, np.sqrt(12.0 * variance)


def _shore_count(piece: CellArray, is_water: MaskArray, count: int) -> DoubleArray:
    """Sides of cells between each piece and dry ground."""
    shore = np.zeros(count)
    for one, other in ((np.s_[1:, :], np.s_[:-1, :]), (np.s_[:, 1:], np.s_[:, :-1])):
        is_shore = is_water[one] != is_water[other]
        shore += np.bincount(np.maximum(piece[one][is_shore], piece[other][is_shore]), minlength=count)
    return shore
