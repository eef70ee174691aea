"""The outline of some cells, and a plainer one within it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely.geometry.polygon import orient

from sitepick.grid import DoubleArray, Grid
from sitepick.sites.room import CellArray

_CORNER_CELLS_MAX = 2.0  # the largest corner that is cut off at once
_CUT_FRAC_MAX = 0.12  # and all of them together, of the whole
_FLAT = 1e-9


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


def eased(outline: shapely.Polygon, kept_m: DoubleArray, radius_m: float, cell_m: float) -> shapely.Polygon:
    """An outline along cells without its stairs, as a person would draw it.

    Parameters
    ----------
    outline : shapely.Polygon
    kept_m : float64 array of shape (n, 2)
        East and north of what must stay inside,
    radius_m : float
        with so much around it.
    cell_m : float
        Width of a cell in grid metres.

    Returns
    -------
    shapely.Polygon
        Nowhere outside the first: only corners that stand out are cut off, the smallest first, so that no ground
        comes in that isn't allowed, and places that shared no ground share none now.
    """
    whole = orient(outline, 1.0)
    rings = [shapely.get_coordinates(ring)[:-1] for ring in (whole.exterior, *whole.interiors)]
    kept = shapely.MultiPoint(kept_m)
    left_m2 = _CUT_FRAC_MAX * whole.area
    for k in range(len(rings)):
        others = [ring for other, ring in enumerate(rings) if other != k]
        rings[k], cut_m2 = _without_stairs(rings[k], others, kept, radius_m, (cell_m, left_m2))
        left_m2 -= cut_m2
    plainer = shapely.Polygon(rings[0], rings[1:])
    return plainer if plainer.is_valid else outline


def _without_stairs(
    ring: DoubleArray,
    others: Sequence[DoubleArray],
    kept: shapely.MultiPoint,
    radius_m: float,
    most: tuple[float, float],
) -> tuple[DoubleArray, float]:
    """A ring, its inside to the left, with small corners cut off; and how much of the ground was cut."""
    cell_m, left_m2 = most
    elsewhere = np.concatenate(others) if others else np.empty((0, 2))
    corners = ring
    cut_m2 = 0.0
    refused: set[tuple[tuple[float, ...], ...]] = set()
    while len(corners) > 4:
        before, after = np.roll(corners, 1, axis=0), np.roll(corners, -1, axis=0)
        (along_x, along_y), (on_x, on_y) = (corners - before).T, (after - corners).T
        areas = (along_x * on_y - along_y * on_x) / 2.0
        order = np.argsort(np.where(areas < -_FLAT, np.inf, areas), kind="stable")
        for k in order.tolist():
            if not -_FLAT <= areas[k] <= min(_CORNER_CELLS_MAX * cell_m**2, left_m2 - cut_m2) + _FLAT:
                return corners, cut_m2
            triangle = np.array((before[k], corners[k], after[k]))
            key = tuple(map(tuple, triangle.tolist()))
            if key in refused:
                continue
            if areas[k] <= _FLAT or _is_free(triangle, np.concatenate((corners, elsewhere)), kept, radius_m):
                corners = np.delete(corners, k, axis=0)
                cut_m2 += float(max(areas[k], 0.0))
                break
            refused.add(key)
        else:
            return corners, cut_m2
    return corners, cut_m2


def _is_free(triangle: DoubleArray, corners: DoubleArray, kept: shapely.MultiPoint, radius_m: float) -> bool:
    """Whether a corner can be cut off: nothing that must stay reaches into it, and no other corner lies in it."""
    (x0, y0), (x1, y1), (x2, y2) = triangle.tolist()
    x, y = corners.T
    is_in = (
        ((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) >= -_FLAT)
        & ((x2 - x1) * (y - y1) - (y2 - y1) * (x - x1) >= -_FLAT)
        & ((x0 - x2) * (y - y2) - (y0 - y2) * (x - x2) >= -_FLAT)
    )
    if np.count_nonzero(is_in) > 3:  # its own three are always in it
        return False
    return bool(shapely.distance(shapely.Polygon(triangle), kept) >= radius_m)


def middle_of(cells: CellArray) -> tuple[int, int]:
    """The cell nearest to the middle of all of them."""
    away = np.hypot(*(cells - cells.mean(axis=0)).T)
    row, col = cells[np.lexsort((cells[:, 1], cells[:, 0], away))[0]]
    return int(row), int(col)
