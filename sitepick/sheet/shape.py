"""Outlines and lines of what the grid holds as cells: reach, water, hazards, streams."""

from __future__ import annotations

import numpy as np
import shapely
from rasterio.features import shapes
from shapely import LineString, MultiLineString, MultiPolygon, Polygon

from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.march.model import March

_SIMPLIFY_CELLS = 0.95  # takes the stairs out of an outline (0.9 cells high) and moves it by less than a cell


def mask_polygons(mask: MaskArray, grid: Grid, *, least_cells: int = 1) -> MultiPolygon:
    """Outlines of the cells that are true, in grid coordinates.

    Parameters
    ----------
    mask : bool array of the grid's shape
    grid : Grid
    least_cells : int
        Smaller pieces are left out.

    Returns
    -------
    shapely.MultiPolygon
        Smoothed by less than a cell; valid; may be empty.
    """
    if not mask.any():
        return MultiPolygon()
    found = shapes(mask.astype(np.uint8), mask=mask, connectivity=4, transform=grid.affine)
    pieces = [shapely.geometry.shape(outline) for outline, _ in found]
    pieces = [piece for piece in pieces if piece.area >= least_cells * grid.cell_m**2]
    smooth = [piece.simplify(_SIMPLIFY_CELLS * grid.cell_m) for piece in pieces]
    return as_multipolygon(shapely.union_all(shapely.make_valid(smooth)))


def as_multipolygon(geometry: shapely.Geometry | None) -> MultiPolygon:
    """The polygons of any geometry; lines and points in it are dropped."""
    if geometry is None:
        return MultiPolygon()
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def as_lines(geometry: shapely.Geometry) -> tuple[DoubleArray, ...]:
    """The lines of any geometry, each as points of shape (n, 2); points and polygons in it are dropped."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return tuple(shapely.get_coordinates(part) for part in parts if isinstance(part, LineString) and not part.is_empty)


def cell_lines(mask: MaskArray, grid: Grid) -> MultiLineString:
    """Lines through the middles of neighbouring cells that are true: a stream one cell wide.

    Cells that touch by a corner only are joined where no third cell joins them.
    """
    east_pair = mask[:, :-1] & mask[:, 1:]
    south_pair = mask[:-1] & mask[1:]
    falling = mask[:-1, :-1] & mask[1:, 1:] & ~mask[:-1, 1:] & ~mask[1:, :-1]
    rising = mask[1:, :-1] & mask[:-1, 1:] & ~mask[:-1, :-1] & ~mask[1:, 1:]
    segments: list[DoubleArray] = []
    for pair, start, end in (
        (east_pair, (0, 0), (0, 1)),
        (south_pair, (0, 0), (1, 0)),
        (falling, (0, 0), (1, 1)),
        (rising, (1, 0), (0, 1)),
    ):
        rows, cols = np.nonzero(pair)
        ends = [
            np.column_stack(
                (grid.west_m + (cols + col + 0.5) * grid.cell_m, grid.north_m - (rows + row + 0.5) * grid.cell_m)
            )
            for row, col in (start, end)
        ]
        segments.append(np.stack(ends, axis=1))
    joined = shapely.line_merge(MultiLineString(list(np.concatenate(segments))))
    return MultiLineString([part for part in shapely.get_parts(joined) if not part.is_empty])


def reach_polygons(march: March) -> dict[str, MultiPolygon]:
    """Ground in reach when the pace turns out early (fast), likely and late (slow)."""
    limits = {
        "early": march.early_moving_min_limit,
        "likely": march.moving_min_limit,
        "late": march.late_moving_min_limit,
    }
    # NaN is past every reach; comparing with it is false, as wanted.
    return {pace: mask_polygons(march.moving_min <= limit, march.grid, least_cells=4) for pace, limit in limits.items()}


def route_parts(march: March) -> tuple[DoubleArray, DoubleArray]:
    """The route as far as it is reached at likely pace, and the rest of it; either may be shorter than two points."""
    cut = int(np.searchsorted(march.station_distance_m, march.reach_along_route_m, side="right"))
    return march.route_m[: max(cut, 1)], march.route_m[max(cut - 1, 0) :]


def route_point_m(march: March, distance_m: float) -> tuple[float, float]:
    """Where the route is after so many metres."""
    east = np.interp(distance_m, march.station_distance_m, march.route_m[:, 0])
    north = np.interp(distance_m, march.station_distance_m, march.route_m[:, 1])
    return float(east), float(north)
