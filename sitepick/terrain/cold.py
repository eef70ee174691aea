"""Where cold air gathers on clear, calm nights, and how a place lies among its surroundings."""

from __future__ import annotations

import math

import numpy as np

from sitepick.grid import DoubleArray, FloatArray, Grid
from sitepick.terrain import _kernels
from sitepick.terrain.margin import extreme_around, with_margin
from sitepick.terrain.water import Water
from sitepick.work import Watch, rows_at_once, run_row_blocks

NEAR_M, FAR_M = 300.0, 1500.0  # half a side of the squares that a place is held against: the hollow, the valley
GATHER_M = 150.0  # how far cold air spreads to either side of the line that it drains along

_LEAST_BLOCK_ROWS = 48  # rows enough to share the margins of the wider square

# Ours, on common practice: the best ground lies 10-40 m above the floor, on a bench; flat floors that much
# ground drains to are the coldest, and so are closed hollows. Each pair is a measure and how far it speaks for cold.
_ABOVE_FAR_M = ((-20.0, 1.0), (0.0, 0.0))  # against the mean of the ground out to `FAR_M`
_ABOVE_NEAR_M = ((-10.0, 1.0), (0.0, 0.0))  # the same out to `NEAR_M`
_ABOVE_FLOOR_M = ((2.0, 1.0), (10.0, 0.3), (20.0, 0.1), (40.0, 0.0))
_FALL_DEG = ((1.0, 1.0), (2.0, 0.8), (6.0, 0.0))  # on steeper ground the air runs on
_CATCHMENT_KM2 = ((0.03, 0.5), (0.3, 0.75), (1.0, 1.0))  # read by its logarithm
_POOL_DEPTH_M = ((1.0, 0.0), (4.0, 1.0))  # below the spill; shallower hollows may be faults of the heights


def cold_pool_frac(
    elevation_m: FloatArray, slope_30m_deg: FloatArray, water: Water, grid: Grid, *, watch: Watch
) -> FloatArray:
    """How far cold air gathers on clear, calm nights.

    The colder of two cases: a closed hollow below its spill; low flat ground that the air drains to.

    Parameters
    ----------
    elevation_m, slope_30m_deg : ndarray of the grid's shape, float32
    water : Water
        Its flow over the same heights.
    grid : Grid
    watch : Watch

    Returns
    -------
    ndarray of the grid's shape, float32
        0 none, 1 as much as anywhere. NaN where not known, and on open water: nobody camps there.
    """
    cell_m = grid.ground_cell_m
    near, far, gather = (max(1, round(reach_m / cell_m)) for reach_m in (NEAR_M, FAR_M, GATHER_M))
    curves = _curves(cell_m)
    pooled = np.empty(elevation_m.shape, np.float32)

    def block(first: int, last: int) -> None:
        rows = slice(first, last)
        pool_m = water.filled_m[rows] - elevation_m[rows]
        pool_m[water.is_water[rows]] = np.nan
        _kernels.cold_rows(
            _position_rows(elevation_m, near, first, last),
            _position_rows(elevation_m, far, first, last),
            _above_floor_m(elevation_m, water.height_above_drainage_m[rows], near, first, last),
            slope_30m_deg[rows],
            extreme_around(with_margin(water.catchment_count, first, last, gather, nothing=0), gather, np.maximum),
            pool_m,
            curves,
            pooled[rows],
        )

    block_rows = max(rows_at_once(grid.shape), _LEAST_BLOCK_ROWS)
    run_row_blocks(block, grid.shape, watch=watch, step="where cold air gathers", block_rows=block_rows)
    return pooled


def _curves(cell_m: float) -> tuple[tuple[DoubleArray, DoubleArray], ...]:
    """The curves as the kernel takes them, catchments by the logarithm of their cells."""
    km2 = (cell_m / 1000.0) ** 2
    by_count = tuple((math.log(area / km2), share) for area, share in _CATCHMENT_KM2)
    curves = (_ABOVE_NEAR_M, _ABOVE_FAR_M, _ABOVE_FLOOR_M, _FALL_DEG, by_count, _POOL_DEPTH_M)
    return tuple((np.array([at for at, _ in curve]), np.array([share for _, share in curve])) for curve in curves)


def position_m(elevation_m: FloatArray, reach_m: float, *, cell_m: float, watch: Watch) -> FloatArray:
    """Height above the mean of the other ground in a square around the place.

    Parameters
    ----------
    elevation_m : ndarray, float32
        Metres, NaN where not known.
    reach_m : float
        Half of a side of the square; one cell at least.
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    ndarray, float32
        Negative in hollows. NaN where the place's own height isn't known or nothing else in the square is.

    Notes
    -----
    Weiss 2001 (topographic position), over a square by running sums: O(cells) whatever the reach. Ground
    that isn't known, or lies outside the window, is left out of the mean.
    """
    reach = max(1, round(reach_m / cell_m))
    position = np.empty(elevation_m.shape, np.float32)

    def block(first: int, last: int) -> None:
        _kernels.position_rows(elevation_m, reach, position[first:last], first, last)

    run_row_blocks(block, elevation_m.shape, watch=watch, step="heights against their surroundings")
    return position


def _position_rows(elevation_m: FloatArray, reach: int, first: int, last: int) -> FloatArray:
    """Some rows of `position_m`; running sums begin anew with them, so rounding doesn't add up."""
    above_m = np.empty((last - first, elevation_m.shape[1]), np.float32)
    _kernels.position_rows(elevation_m, reach, above_m, first, last)
    return above_m


def roughness_m(elevation_m: FloatArray, *, watch: Watch) -> FloatArray:
    """How rough the ground is: root of the summed squares of the steps to the eight neighbours.

    Parameters
    ----------
    elevation_m : ndarray, float32
        Metres, NaN where not known.
    watch : Watch

    Returns
    -------
    ndarray, float32
        Metres. NaN within one cell of the window's edge and of gaps.

    Notes
    -----
    Riley, DeGloria & Elliot 1999 (Intermountain Journal of Sciences 5:23). On a plane it tells the slope.
    """
    rows, cols = elevation_m.shape
    rough = np.full((rows, cols), np.nan, np.float32)

    def block(first: int, last: int) -> None:
        first, last = max(first, 1), min(last, rows - 1)
        here = elevation_m[first:last, 1:-1]
        squares = np.zeros_like(here)
        for down in range(-1, 2):
            for right in range(-1, 2):
                step = elevation_m[first + down : last + down, 1 + right : cols - 1 + right] - here
                squares += step * step
        np.sqrt(squares, out=rough[first:last, 1:-1])

    if min(rows, cols) >= 3:
        run_row_blocks(block, rough.shape, watch=watch, step="roughness of the ground")
    return rough


def _above_floor_m(
    elevation_m: FloatArray, above_drain_m: FloatArray, near: int, first: int, last: int
) -> FloatArray:  # fmt: skip
    """Height above the drainage; above the lowest ground within `NEAR_M` where the water is lost to sight."""
    is_lost = np.isnan(above_drain_m)
    if not is_lost.any():
        return above_drain_m
    lowest_m = extreme_around(with_margin(elevation_m, first, last, near), near, np.fmin)
    return np.where(is_lost, elevation_m[first:last] - lowest_m, above_drain_m)
