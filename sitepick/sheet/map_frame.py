"""Where ground points fall on paper: a frame at a true round scale, clipping, and room for labels."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np
import shapely
from shapely import LineString, MultiLineString, MultiPolygon

from sitepick.grid import DoubleArray, Grid
from sitepick.ground.model import Ground
from sitepick.sheet.model import Line, Point, Text
from sitepick.sheet.shape import as_lines, as_multipolygon
from sitepick.terrain.model import Terrain

_DIGITS = 3  # of a millimetre: finer than any printer
_LEAST_LINE_MM = 0.6


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFrame:
    """A window on the ground, drawn at a scale that holds on the ground.

    Attributes
    ----------
    x_mm, y_mm, width_mm, height_mm : float
        On the page.
    scale_denominator : int
    centre_east_m, centre_north_m : float
        Grid point in the middle of the frame.
    point_scale : float
        Grid metres a ground metre there.
    """

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    scale_denominator: int
    centre_east_m: float
    centre_north_m: float
    point_scale: float

    @property
    def mm_per_grid_m(self) -> float:
        """Millimetres of paper a metre of the projection."""
        return 1000.0 / self.scale_denominator / self.point_scale

    @property
    def mm_per_ground_m(self) -> float:
        """Millimetres of paper a metre on the ground."""
        return 1000.0 / self.scale_denominator

    @property
    def bounds_m(self) -> tuple[float, float, float, float]:
        """West, south, east and north edge, grid coordinates."""
        half_east = self.width_mm / 2 / self.mm_per_grid_m
        half_north = self.height_mm / 2 / self.mm_per_grid_m
        return (
            self.centre_east_m - half_east,
            self.centre_north_m - half_north,
            self.centre_east_m + half_east,
            self.centre_north_m + half_north,
        )

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom on the page."""
        return self.x_mm, self.y_mm, self.x_mm + self.width_mm, self.y_mm + self.height_mm

    def holds(self, east_m: float, north_m: float) -> bool:
        """Whether a grid point falls inside the frame."""
        west, south, east, north = self.bounds_m
        return west <= east_m <= east and south <= north_m <= north

    def point(self, east_m: float, north_m: float) -> Point:
        """Where a grid point falls on the page."""
        x = self.x_mm + self.width_mm / 2 + (east_m - self.centre_east_m) * self.mm_per_grid_m
        y = self.y_mm + self.height_mm / 2 - (north_m - self.centre_north_m) * self.mm_per_grid_m
        return round(float(x), _DIGITS), round(float(y), _DIGITS)

    def points(self, points_m: DoubleArray) -> tuple[Point, ...]:
        """The same for an array of shape (n, 2)."""
        return tuple(self.point(east_m, north_m) for east_m, north_m in points_m)

    def lines(
        self, lines_m: Iterable[DoubleArray], width_mm: float, colour: str, *, dash_mm: tuple[float, ...] = (),
        simplify_mm: float = 0.05,
    ) -> list[Line]:  # fmt: skip
        """Lines of the ground, clipped to the frame."""
        kept = [points for points in lines_m if len(points) > 1]
        if not kept:
            return []
        tolerance_m = simplify_mm / self.mm_per_grid_m
        geometry = MultiLineString([LineString(points) for points in kept])
        inside = shapely.clip_by_rect(shapely.simplify(geometry, tolerance_m), *self.bounds_m)
        least_m = _LEAST_LINE_MM / self.mm_per_grid_m
        return [
            Line(points_mm=self.points(points), width_mm=width_mm, colour=colour, dash_mm=dash_mm)
            for points in as_lines(inside)
            if np.hypot(*np.diff(points, axis=0).T).sum() >= least_m
        ]

    def outline(
        self, shape_m: MultiPolygon, width_mm: float, colour: str, *, dash_mm: tuple[float, ...] = ()
    ) -> list[Line]:
        """Rings of a shape, clipped to the frame (no line along the frame itself)."""
        rings = [
            shapely.get_coordinates(ring)
            for piece in shape_m.geoms
            for ring in (piece.exterior, *piece.interiors)
        ]  # fmt: skip
        return self.lines(rings, width_mm, colour, dash_mm=dash_mm)

    def inside(self, shape_m: MultiPolygon) -> MultiPolygon:
        """The part of a shape that the frame shows, grid coordinates."""
        return as_multipolygon(shapely.intersection(shapely.make_valid(shape_m), shapely.box(*self.bounds_m)))


def fitted_frame(
    box_mm: tuple[float, float, float, float],
    bounds_m: tuple[float, float, float, float],
    grid: Grid,
    denominators: tuple[int, ...],
) -> MapFrame:
    """The largest scale out of a few at which some bounds fit into a box of the page.

    Parameters
    ----------
    box_mm : tuple
        Left, top, width and height on the page.
    bounds_m : tuple
        West, south, east and north that must show, grid coordinates.
    grid : Grid
    denominators : tuple of int
        Rising; the last is taken where none fits, and the middle of the bounds is shown.
    """
    west, south, east, north = bounds_m
    frame = MapFrame(
        x_mm=box_mm[0], y_mm=box_mm[1], width_mm=box_mm[2], height_mm=box_mm[3], scale_denominator=denominators[-1],
        centre_east_m=(west + east) / 2, centre_north_m=(south + north) / 2,
        point_scale=grid.point_scale((west + east) / 2, (south + north) / 2),
    )  # fmt: skip
    for denominator in denominators:
        tried = replace(frame, scale_denominator=denominator)
        if (east - west) * tried.mm_per_grid_m <= box_mm[2] and (north - south) * tried.mm_per_grid_m <= box_mm[3]:
            return tried
    return frame


def fitted_map(
    bounds_m: tuple[float, float, float, float],
    box_mm: tuple[float, float, float, float],
    edge_mm: float,
    grid: Grid,
    denominators: tuple[int, ...],
) -> MapFrame:
    """As `fitted_frame`, the bounds so far inside the box; the frame is the whole box."""
    left, top, width, height = box_mm
    inner = (left + edge_mm, top + edge_mm, width - 2 * edge_mm, height - 2 * edge_mm)
    fitted = fitted_frame(inner, bounds_m, grid, denominators)
    return replace(fitted, x_mm=left, y_mm=top, width_mm=width, height_mm=height)


def cropped(ground: Ground, terrain: Terrain, frame: MapFrame) -> tuple[Ground, Terrain] | None:
    """The cells that a frame shows, and those at its edge; None where it shows none."""
    grid = ground.grid
    west, south, east, north = frame.bounds_m
    first_row, first_col = grid.cell_at(west, north)
    last_row, last_col = grid.cell_at(east, south)
    rows = slice(max(0, first_row - 1), min(grid.rows, last_row + 2))
    cols = slice(max(0, first_col - 1), min(grid.cols, last_col + 2))
    if rows.start >= rows.stop or cols.start >= cols.stop:
        return None
    part = replace(
        grid,
        west_m=grid.west_m + cols.start * grid.cell_m,
        north_m=grid.north_m - rows.start * grid.cell_m,
        rows=rows.stop - rows.start,
        cols=cols.stop - cols.start,
    )
    return (
        replace(ground, grid=part, **_cropped_arrays(ground, rows, cols)),
        replace(terrain, grid=part, **_cropped_arrays(terrain, rows, cols)),
    )


def _cropped_arrays(owner: Ground | Terrain, rows: slice, cols: slice) -> dict[str, Any]:
    values = {name: getattr(owner, name) for name in owner.__slots__}
    return {name: value[rows, cols] for name, value in values.items() if isinstance(value, np.ndarray)}


@dataclass(slots=True)
class LabelRoom:
    """Which parts of a frame are taken, so that labels don't cover each other.

    Attributes
    ----------
    box_mm : tuple
        Left, top, right and bottom that labels stay within.
    taken : list of boxes
    """

    box_mm: tuple[float, float, float, float]
    taken: list[tuple[float, float, float, float]] = field(default_factory=list)

    def take(self, box_mm: tuple[float, float, float, float]) -> None:
        """Keep labels away from a box."""
        self.taken.append(box_mm)

    def first_free(self, choices: Iterable[Text]) -> Text | None:
        """The first of some labels that covers nothing and stays inside, its room taken; None: leave it out."""
        for label in choices:
            if self.is_free(label.box_mm):
                self.take(label.box_mm)
                return label
        return None

    def is_free(self, box_mm: tuple[float, float, float, float]) -> bool:
        """Whether a box covers nothing that is taken and stays inside."""
        left, top, right, bottom = box_mm
        if left < self.box_mm[0] or top < self.box_mm[1] or right > self.box_mm[2] or bottom > self.box_mm[3]:
            return False
        return not any(left < r and right > x and top < b and bottom > y for x, y, r, b in self.taken)
