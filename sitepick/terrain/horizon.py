"""How high the horizon stands, in any direction, by the relief that is known."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.terrain import _kernels_sun
from sitepick.work import Watch, run_row_blocks

EARTH_RADIUS_M = 6_371_000.0
REFRACTION = 0.13  # share of the earth's curve that light follows by day; common practice in surveying
DROP_PER_M2 = (1.0 - REFRACTION) / (2.0 * EARTH_RADIUS_M)  # what falls away below level, by distance squared

CellArray = npt.NDArray[np.int64]


def horizon_deg(elevation_m: FloatArray, bearing_deg: float, *, cell_m: float, watch: Watch) -> FloatArray:
    """Height of the horizon over level ground at each cell, in one direction.

    Parameters
    ----------
    elevation_m : ndarray of shape (rows, cols), float32
        Metres, NaN where not known.
    bearing_deg : float
        *Grid* bearing to look along.
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    ndarray of shape (rows, cols), float32
        Degrees, 0-90. NaN where the cell's own height isn't known.

    Notes
    -----
    Lines run through the ground as far as it is known, heights interpolated on them; one sweep along each, over a
    stack that holds the upper hull of what lies ahead, finds every horizon: the cost follows the cells, not the
    distance. Curved earth and mean refraction count. Ground that isn't known hides nothing, and the horizon is never
    taken below level, since the world goes on past the window.
    """
    z = np.ascontiguousarray(elevation_m).reshape(-1)
    line, lean, steps, step_cells = looking_lines(bearing_deg, elevation_m.shape)
    horizon = np.empty(elevation_m.size, np.float32)
    line_count = int(line[3]) + math.ceil(abs(lean) * (steps - 1))

    def block(first: int, last: int) -> None:
        _kernels_sun.horizon_lines(z, line, lean, steps, step_cells * cell_m, DROP_PER_M2, horizon, first, last)

    run_row_blocks(block, line_count, watch=watch, step="height of the horizon")
    return horizon.reshape(elevation_m.shape)


def looking_lines(bearing_deg: float, shape: tuple[int, int]) -> tuple[CellArray, float, int, float]:
    """Even lines along a direction that leave no cell out.

    Parameters
    ----------
    bearing_deg : float
        Grid bearing to look along.
    shape : (rows, cols)

    Returns
    -------
    line : int64
        Flat index of the cell at the far end of line 0, stride along (back towards the looker), stride across,
        cells across, number of the first line.
    lean : float
        Cells across by cell along, -1 to 1.
    steps : int
        Cells along.
    step_cells : float
        Length of a step along, in cell widths.
    """
    rows, cols = shape
    down, right = math.cos(math.radians(bearing_deg)), -math.sin(math.radians(bearing_deg))  # back to the looker
    if abs(right) >= abs(down):
        steps, along_stride, across_count, across_stride = cols, 1, rows, cols
        along, across = right, down
    else:
        steps, along_stride, across_count, across_stride = rows, cols, cols, 1
        along, across = down, right
    start = 0 if along > 0 else (steps - 1) * along_stride
    lean = round(across / abs(along), 9)  # rounded, so that a line along the rows stays on its row
    first_line = -math.ceil(lean * (steps - 1)) if lean > 0 else 0
    line = np.array(
        [start, along_stride if along > 0 else -along_stride, across_stride, across_count, first_line], np.int64
    )
    return line, lean, steps, 1.0 / abs(along)


def horizon_around_deg(
    elevation_m: FloatArray, cell: tuple[int, int], bearings_deg: DoubleArray, *, cell_m: float
) -> DoubleArray:
    """Height of the horizon at one cell, in many directions, by a ray along each.

    Parameters
    ----------
    elevation_m : ndarray of shape (rows, cols), float32
        Metres, NaN where not known.
    cell : (row, col)
    bearings_deg : float64 array of shape (n,)
        Grid bearings to look along.
    cell_m : float
        Ground width of a cell.

    Returns
    -------
    float64 array of shape (n,)
        Degrees, 0-90; NaN where the cell's own height isn't known.
    """
    own_m = float(elevation_m[cell])
    horizon = np.empty(len(bearings_deg))
    for number, bearing in enumerate(bearings_deg.tolist()):
        row, col, away_m = _ray(elevation_m.shape, cell, bearing, cell_m)
        rise = (_heights_between(elevation_m, row, col) - own_m) / away_m - DROP_PER_M2 * away_m
        horizon[number] = math.degrees(math.atan(max(0.0, float(np.fmax.reduce(rise, initial=0.0)))))
    return horizon if math.isfinite(own_m) else np.full(len(bearings_deg), np.nan)


def _ray(
    shape: tuple[int, int], cell: tuple[int, int], bearing_deg: float, cell_m: float
) -> tuple[DoubleArray, DoubleArray, DoubleArray]:
    """Where a ray crosses from row to row (from column to column if it lies flatter), within a cell of the ground."""
    down, right = -math.cos(math.radians(bearing_deg)), math.sin(math.radians(bearing_deg))
    longer = max(abs(down), abs(right))
    away = np.arange(1, max(shape) + 1)
    row = np.round(cell[0] + down / longer * away, 9)
    col = np.round(cell[1] + right / longer * away, 9)
    inside = (row > -1) & (row < shape[0]) & (col > -1) & (col < shape[1])
    return row[inside], col[inside], away[inside].astype(np.float64) * (cell_m / longer)


def _heights_between(elevation_m: FloatArray, row: DoubleArray, col: DoubleArray) -> DoubleArray:
    """Heights on a ray, between the cells on both sides; beside a gap, that of the one known."""
    rows, cols = elevation_m.shape
    low = elevation_m[np.maximum(np.floor(row), 0).astype(int), np.maximum(np.floor(col), 0).astype(int)]
    high = elevation_m[np.minimum(np.ceil(row), rows - 1).astype(int), np.minimum(np.ceil(col), cols - 1).astype(int)]
    part = (row - np.floor(row)) + (col - np.floor(col))  # one of them is 0
    between = low + (high - low) * part
    return np.asarray(np.where(np.isnan(low), high, np.where(np.isnan(high), low, between)), np.float64)
