"""Outlines and lines of what the grid holds as cells: reach, water, hazards, streams."""

from __future__ import annotations

from functools import lru_cache
from itertools import chain
from typing import Any

import numpy as np
import numpy.typing as npt
import shapely
from affine import Affine
from rasterio.features import shapes
from shapely import LineString, MultiLineString, MultiPolygon, Polygon

from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.march.model import March

PolygonArray = npt.NDArray[Any]

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
    rows, cols = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    held = np.ascontiguousarray(mask[rows[0] : rows[-1] + 1, cols[0] : cols[-1] + 1])
    west_m, north_m = grid.west_m + cols[0] * grid.cell_m, grid.north_m - rows[0] * grid.cell_m
    corner = Affine(grid.cell_m, 0.0, west_m, 0.0, -grid.cell_m, north_m)
    found = shapes(held.view(np.uint8), mask=held, connectivity=4, transform=corner)
    pieces = _polygons([outline["coordinates"] for outline, _ in found])
    pieces = pieces[shapely.area(pieces) >= least_cells * grid.cell_m**2]
    smooth = shapely.simplify(pieces, _SIMPLIFY_CELLS * grid.cell_m)
    return as_multipolygon(shapely.union_all(shapely.make_valid(smooth)))


def _polygons(outlines: list[list[list[tuple[float, float]]]]) -> PolygonArray:
    """Polygons of rings of points, the outer ring first, all made at once: one at a time takes most of a second."""
    rings = [ring for outline in outlines for ring in outline]
    lengths = [len(ring) for ring in rings]
    points = np.array(list(chain.from_iterable(rings)), dtype=np.float64)
    made: PolygonArray = np.asarray(
        shapely.linearrings(points, indices=np.repeat(np.arange(len(rings)), lengths)), dtype=object
    )
    counts = np.array([len(outline) for outline in outlines])
    owner = np.repeat(np.arange(len(outlines)), counts)
    firsts = np.cumsum(counts) - counts
    is_hole = np.ones(len(rings), bool)
    is_hole[firsts] = False
    pieces: PolygonArray = np.asarray(shapely.polygons(made[firsts]), dtype=object)
    if is_hole.any():
        owners = np.unique(owner[is_hole])
        holes = np.split(made[is_hole], np.flatnonzero(np.diff(owner[is_hole])) + 1)
        for index, inner in zip(owners, holes, strict=True):
            pieces[index] = shapely.polygons(made[firsts[index]], holes=inner)
    return pieces


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


@lru_cache(maxsize=1)
def reach_polygons(march: March) -> dict[str, MultiPolygon]:
    """Ground in reach when the pace turns out early (fast), likely and late (slow).

    Kept for the last march: the map layers and the sheet both draw it.
    """
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


def way_off_route_m(march: March, east_m: float, north_m: float) -> DoubleArray:
    """The quickest way from the route to a place, as the reach was spread.

    Parameters
    ----------
    march : March
    east_m, north_m : float
        Grid coordinates of a place in reach.

    Returns
    -------
    float64 array of shape (n, 2)
        From the point where the way leaves the route to the place; empty where the place is past the reach.
    """
    row, col = march.grid.cell_at(east_m, north_m)
    station = int(march.leave_station[row, col]) if march.grid.contains(east_m, north_m) else -1
    if station < 0:
        return np.empty((0, 2))
    way = [(east_m, north_m)]
    # Time falls towards the route; the steepest fall among cells that leave it at the same station is the way back.
    while (step := _step_back(march, row, col, station)) is not None:
        row, col = step
        way.append(march.grid.cell_centre_m(row, col))
    way.append((float(march.route_m[station, 0]), float(march.route_m[station, 1])))
    return np.array(way[::-1])


def _step_back(march: March, row: int, col: int, station: int) -> tuple[int, int] | None:
    rows = slice(max(0, row - 1), row + 2)
    cols = slice(max(0, col - 1), col + 2)
    down, along = np.indices(march.moving_min[rows, cols].shape)
    apart = np.hypot(down + rows.start - row, along + cols.start - col)
    fall = (march.moving_min[row, col] - march.moving_min[rows, cols]) / np.where(apart > 0.0, apart, np.inf)
    fall = np.where(march.leave_station[rows, cols] == station, np.nan_to_num(fall, nan=-np.inf), -np.inf)
    if not fall.max() > 0.0:
        return None
    best_down, best_along = np.unravel_index(int(fall.argmax()), fall.shape)
    return rows.start + int(best_down), cols.start + int(best_along)


def route_point_m(march: March, distance_m: float) -> tuple[float, float]:
    """Where the route is after so many metres."""
    east = np.interp(distance_m, march.station_distance_m, march.route_m[:, 0])
    north = np.interp(distance_m, march.station_distance_m, march.route_m[:, 1])
    return float(east), float(north)
