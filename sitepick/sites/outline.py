"""The outline of some cells."""

from __future__ import annotations

import numpy as np
import shapely

from sitepick.grid import Grid
from sitepick.sites.room import CellArray


def outline_of(cells: CellArray, grid: Grid) -> shapely.Polygon:
    """The outline of cells that are joined by their sides, holes left out.

    Parameters
    ----------
    cells : int64 array of shape (n, 2)
        Row and column.
    grid : Grid

    Returns
    -------
    shapely.Polygon
        In grid coordinates, along the sides of the cells.
    """
    ordered = cells[np.lexsort((cells[:, 1], cells[:, 0]))]
    is_new_run = np.ones(len(ordered), bool)
    is_new_run[1:] = (np.diff(ordered[:, 0]) != 0) | (np.diff(ordered[:, 1]) != 1)
    first = ordered[is_new_run]
    last = ordered[np.append(np.flatnonzero(is_new_run)[1:] - 1, len(ordered) - 1)]
    runs = shapely.box(
        grid.west_m + first[:, 1] * grid.cell_m,
        grid.north_m - (first[:, 0] + 1) * grid.cell_m,
        grid.west_m + (last[:, 1] + 1) * grid.cell_m,
        grid.north_m - first[:, 0] * grid.cell_m,
    )
    outline = shapely.simplify(shapely.union_all(runs), 0.0)
    if not isinstance(outline, shapely.Polygon):
        raise TypeError(f"cells not joined by their sides make a {outline.geom_type}")
    return outline


def middle_of(cells: CellArray) -> tuple[int, int]:
    """The cell nearest to the middle of all of them."""
    away = np.hypot(*(cells - cells.mean(axis=0)).T)
    row, col = cells[np.lexsort((cells[:, 1], cells[:, 0], away))[0]]
    return int(row), int(col)
