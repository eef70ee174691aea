"""Signs on an exercise's maps: marks by number, and trainees' picks. Plain shapes of our own."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LineString, MultiPolygon

from sitepick.grid import Grid
from sitepick.ground.marked import mark_shapes
from sitepick.plan.mark import Mark
from sitepick.sheet.map_frame import LabelRoom, MapFrame
from sitepick.sheet.model import Anchor, Area, Line, Point, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.shape import as_lines, as_multipolygon
from sitepick.sheet.typeface import shortened, text_line

_LABEL_MM = 2.5
_HALF_MM = 1.9  # of a mark's diamond
_HATCH_STEP_MM = 2.4
_LABEL_ROOM_MM = 45.0


def mark_strokes(
    marks: Sequence[Mark], grid: Grid, frame: MapFrame, room: LabelRoom, palette: Palette
) -> list[Stroke]:  # fmt: skip
    """Marks with their numbers, and their names where there is room.

    Parameters
    ----------
    marks : sequence of Mark
        Numbered from 1 in this order.
    grid : Grid
    frame : MapFrame
    room : LabelRoom
        Where names may still go.
    palette : Palette
    """
    strokes: list[Stroke] = []
    signs: list[tuple[int, Mark, Point]] = []
    for number, mark in enumerate(marks, start=1):
        for shape in mark_shapes([mark], grid):
            strokes += _ground_sign(mark, shape, frame, palette)
            # A boundary's number stands on its edge: what lies inside is open.
            told = shapely.boundary(shape) if mark.meaning.acts == "encloses" else shape
            inside = shapely.intersection(told, shapely.box(*frame.bounds_m))
            if not inside.is_empty:
                at = _sign_place(inside)
                signs.append((number, mark, frame.point(shapely.get_x(at), shapely.get_y(at))))
    for number, _, (x, y) in signs:
        strokes += diamond(x, y, str(number), palette)
        room.take((x - _HALF_MM, y - _HALF_MM, x + _HALF_MM, y + _HALF_MM))
    for _, mark, place in signs:
        strokes += _name(mark.told, place, room, palette)
    return strokes


def _sign_place(shape: shapely.Geometry) -> shapely.Geometry:
    """Where a mark's number stands: on the middle of a line, inside an area."""
    if isinstance(shape, LineString):
        return shapely.line_interpolate_point(shape, 0.5, normalized=True)
    return shapely.point_on_surface(shape)


def _ground_sign(mark: Mark, shape: shapely.Geometry, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """What a mark covers: ground that it closes is hatched, everything else has an edge alone."""
    if mark.shape == "line":
        lines = [shapely.get_coordinates(shape)]
        return list(frame.lines(lines, 0.5, palette.text, dash_mm=(2.4, 1.0)))
    if mark.shape != "area":
        return []
    whole = as_multipolygon(shape)
    dash: tuple[float, ...] = (3.0, 0.9, 0.6, 0.9) if mark.meaning.acts == "encloses" else (1.6, 0.8)
    strokes: list[Stroke] = list(frame.outline(whole, 0.5, palette.text, dash_mm=dash))
    if mark.meaning.acts == "closes":
        strokes += _cross_hatch(frame.inside(whole), frame, palette)
    return strokes


def _cross_hatch(shape: MultiPolygon, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """Upright and level lines: no other hatching on the map runs so."""
    if shape.is_empty:
        return []
    west, south, east, north = shape.bounds
    step_m = _HATCH_STEP_MM / frame.mm_per_grid_m
    upright = [((at, south), (at, north)) for at in np.arange(np.ceil(west / step_m) * step_m, east, step_m)]
    level = [((west, at), (east, at)) for at in np.arange(np.ceil(south / step_m) * step_m, north, step_m)]
    if not upright and not level:
        return []
    lines = shapely.intersection(shapely.multilinestrings(shapely.linestrings([*upright, *level])), shape)
    return list(frame.lines(as_lines(lines), 0.12, palette.soft_text))


def diamond(x_mm: float, y_mm: float, text: str, palette: Palette) -> list[Stroke]:
    """A diamond with a number in it."""
    half = _HALF_MM + 0.3 * max(0, len(text) - 1)
    ring = tuple(
        (round(x_mm + x * half, 3), round(y_mm + y * half, 3)) for x, y in ((0, -1), (1, 0), (0, 1), (-1, 0), (0, -1))
    )
    return [
        Area(rings_mm=(ring,), fill=palette.paper),
        Line(points_mm=ring, width_mm=0.35, colour=palette.text),
        text_line(text, (x_mm, y_mm + 0.75), 2.2, palette.text, is_bold=True, anchor="middle"),
    ]


def pick_sign(x_mm: float, y_mm: float, text: str, palette: Palette, *, is_first: bool = True) -> list[Stroke]:
    """A trainee's pick: a square, filled, with a sign in it; an alternate's is left empty."""
    half = 1.7 + 0.35 * max(0, len(text) - 1)
    ring = tuple(
        (round(x_mm + x * half, 3), round(y_mm + y * 1.7, 3)) for x, y in ((-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1))
    )
    fill, ink = (palette.text, palette.paper) if is_first else (palette.paper, palette.text)
    return [
        Line(points_mm=ring, width_mm=0.9, colour=palette.paper),
        Area(rings_mm=(ring,), fill=fill),
        Line(points_mm=ring, width_mm=0.3, colour=palette.text),
        text_line(text, (x_mm, y_mm + 0.85), 2.4, ink, is_bold=True, anchor="middle"),
    ]


def _name(text: str, place: Point, room: LabelRoom, palette: Palette) -> list[Stroke]:
    x, y = place
    near = _HALF_MM + 0.8
    choices: tuple[tuple[Point, Anchor], ...] = (
        ((x + near, y + 0.9), "start"), ((x - near, y + 0.9), "end"),
        ((x, y - near - 0.4), "middle"), ((x, y + near + 2.0), "middle"),
    )  # fmt: skip
    told = shortened(text, _LABEL_MM, _LABEL_ROOM_MM)
    label = room.first_free(
        text_line(told, at, _LABEL_MM, palette.text, anchor=anchor, halo=palette.paper) for at, anchor in choices
    )
    return [] if label is None else [label]
