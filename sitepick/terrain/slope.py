"""How steep the ground is, and which way it falls."""

from __future__ import annotations

import math

import numpy as np

from sitepick.grid import FloatArray, Grid
from sitepick.terrain import _kernels
from sitepick.work import Watch, run_row_blocks

SURROUNDINGS_M = 30.0  # what "the slope of the place" is read over
_WIDTH_SLACK = 0.1  # a square may fall this share of a cell short of it: ground cells aren't round numbers


def slope_of(elevation_m: FloatArray, grid: Grid, *, watch: Watch) -> FloatArray:
    """Steepest fall of each cell, as `slope_and_aspect` finds it, in degrees."""
    slope_deg = np.empty(grid.shape, np.float32)
    cell_m = grid.ground_cell_m

    def block(first: int, last: int) -> None:
        _kernels.slope_rows(elevation_m, cell_m, slope_deg, first, last)

    run_row_blocks(block, grid.shape, watch=watch, step="slope of the ground")
    return slope_deg


def slope_and_aspect(elevation_m: FloatArray, grid: Grid, *, watch: Watch) -> tuple[FloatArray, FloatArray]:
    """Steepest fall of each cell and the true bearing that it falls to.

    Parameters
    ----------
    elevation_m : ndarray of the grid's shape, float32
        Metres, NaN where not known.
    grid : Grid
    watch : Watch

    Returns
    -------
    slope_deg, aspect_deg : ndarray of the grid's shape, float32
        Slope 0-90; aspect 0-360, NaN on level ground. Both NaN within one cell of an edge or a gap.

    Notes
    -----
    Horn 1981 (Proc. IEEE 69:14), weights 1-2-1 over three by three cells; exact on planes. The aspect is
    the grid's plus the convergence at the middle of the window.
    """
    slope_deg = np.empty(grid.shape, np.float32)
    aspect_deg = np.empty(grid.shape, np.float32)
    cell_m, turn_deg = grid.ground_cell_m, grid.convergence_deg(*grid.centre_m)

    def block(first: int, last: int) -> None:
        _kernels.horn_rows(elevation_m, cell_m, turn_deg, slope_deg, aspect_deg, first, last)

    run_row_blocks(block, grid.shape, watch=watch, step="slope of the ground")
    return slope_deg, aspect_deg


def surroundings_slope_deg(elevation_m: FloatArray, grid: Grid, *, watch: Watch) -> FloatArray:
    """Slope of the mean ground over 30 m: of the plane that fits it best.

    Parameters
    ----------
    elevation_m : ndarray of the grid's shape, float32
        Metres, NaN where not known.
    grid : Grid
    watch : Watch

    Returns
    -------
    ndarray of the grid's shape, float32
        Degrees, 0-90. NaN where any height of the square isn't known: within one cell of a gap on
        cells of 10 m.

    Notes
    -----
    Least squares over the smallest square of an odd number of cells, three or more, that is 30 m wide.
    """
    slope_deg = np.empty(grid.shape, np.float32)
    cell_m = grid.ground_cell_m
    half_count = max(1, math.ceil((SURROUNDINGS_M / cell_m - 1.0) / 2.0 - _WIDTH_SLACK))

    def block(first: int, last: int) -> None:
        _kernels.plane_slope_rows(elevation_m, cell_m, half_count, slope_deg, first, last)

    run_row_blocks(block, grid.shape, watch=watch, step="slope around a shelter")
    return slope_deg
