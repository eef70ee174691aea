"""The sheet's map as strokes: ground, grid, hazards, reach, sites and route."""

from __future__ import annotations

import math

import numpy as np
import shapely
from scipy import ndimage
from shapely import MultiPolygon, Polygon

from sitepick.ground.model import Ground
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped
from sitepick.sheet.model import Anchor, Disc, Line, Picture, Point, Stroke
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.relief import contour_interval_m, contour_lines, ground_picture
from sitepick.sheet.shape import (
    as_lines,
    as_multipolygon,
    cell_lines,
    mask_polygons,
    reach_polygons,
    route_parts,
    route_point_m,
    way_off_route_m,
)
from sitepick.sheet.timetable import leave_route_at, leaves_on_the_way
from sitepick.sheet.typeface import shortened, text_line
from sitepick.sheet.words import clock
from sitepick.terrain.model import DERIVED_STREAM, Terrain
from sitepick.tonight import Tonight

LABEL_MM = 2.5
_PIXEL_MM = 0.2
_HATCH_STEP_MM = 1.8
_HAZARD_LABEL_LEAST_MM2 = 25.0
_ROUTE_MM, _TICK_MM = 0.6, 1.6
_DISC_MM = 1.8
_GRID_STEPS_M = (100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0)
_GRID_LEAST_MM = 16.0


def map_strokes(answer: Tonight, frame: MapFrame, palette: Palette) -> tuple[list[Stroke], float | None]:
    """Everything inside the frame, and the frame's own line.

    Parameters
    ----------
    answer : Tonight
    frame : MapFrame
    palette : Palette

    Returns
    -------
    strokes : list of Stroke
    contour_m : float or None
        Interval of the contour lines; None where there are none.
    """
    room = LabelRoom(box_mm=frame.box_mm)
    strokes: list[Stroke] = []
    contour_m = None
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        below, contour_m = ground_strokes(*shown, frame, palette)
        strokes += below
    strokes += _grid_lines(frame, palette)
    strokes += _reach(answer, frame, palette)
    strokes += _route(answer, frame, room, palette)
    signs = [*_sites(answer, frame, room, palette), *_time_marks(answer, frame, room, palette)]
    if shown is not None:
        strokes += hazard_strokes(shown[1], frame, room, palette)
    strokes += signs
    strokes.append(_frame_line(frame, palette))
    return strokes, contour_m


def ground_strokes(
    ground: Ground, terrain: Terrain, frame: MapFrame, palette: Palette
) -> tuple[list[Stroke], float | None]:
    """Picture, contours and water of a cropped ground."""
    strokes: list[Stroke] = [_picture(ground, terrain, frame, palette)]
    interval_m = contour_interval_m(ground)
    fine = mixed(palette.contour, palette.paper, palette.contour_frac)
    strong = mixed(palette.contour, palette.paper, palette.contour_fifth_frac)
    lines = contour_lines(ground, interval_m)
    strokes += frame.lines([line.points_m for line in lines if not line.is_fifth], 0.1, fine)
    strokes += frame.lines([line.points_m for line in lines if line.is_fifth], 0.17, strong)

    # Paler than the reach, whose line has the same colour.
    blue = mixed(palette.reach, palette.paper, 0.6)
    strokes += frame.outline(mask_polygons(terrain.is_water, ground.grid), 0.15, blue)
    derived = cell_lines(terrain.water_kind == DERIVED_STREAM, ground.grid)
    strokes += frame.lines(as_lines(derived), 0.12, blue, simplify_mm=0.15)
    strokes += frame.lines(ground.stream_lines, 0.22, blue)
    track = mixed(palette.text, palette.paper, 0.75)
    strokes += frame.lines(ground.track_lines, 0.25, track, dash_mm=(2.0, 0.8))
    return strokes, interval_m if lines else None


def hazard_strokes(terrain: Terrain, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Avalanche ground as hatching with its name; release one way, runout the other."""
    strokes: list[Stroke] = []
    told = (
        (terrain.is_avalanche_release, "avalanche: release", 1),
        (terrain.is_avalanche_runout & ~terrain.is_avalanche_release, "avalanche: runout", -1),
    )
    for mask, name, lean in told:
        shape = frame.inside(mask_polygons(mask, terrain.grid))
        if shape.is_empty:
            continue
        strokes += _hatch(shape, frame, lean, palette)
        strokes += frame.outline(shape, 0.15, palette.text)
        largest = max(shape.geoms, key=lambda piece: piece.area)
        if largest.area * frame.mm_per_grid_m**2 >= _HAZARD_LABEL_LEAST_MM2:
            middle = shapely.point_on_surface(largest)
            x, y = frame.point(middle.x, middle.y)
            choices = (
                text_line(name, (x, y + down), LABEL_MM, palette.text, anchor="middle", halo=palette.paper)
                for down in (0.8, 3.8, -2.2, 6.8, -5.2)
            )
            label = room.first_free(choices)
            if label is not None:
                strokes.append(label)
    return strokes


def rank_disc(point: Point, rank: int, palette: Palette) -> list[Stroke]:
    """A site's rank in a disc, the pick's filled."""
    is_pick = rank == 1
    fill, ink = (palette.text, palette.paper) if is_pick else (palette.paper, palette.text)
    x, y = point
    return [
        Disc(x_mm=x, y_mm=y, radius_mm=_DISC_MM, fill=fill, edge=palette.text, edge_mm=0.3),
        text_line(str(rank), (x, y + 0.9), 2.7, ink, is_bold=True, anchor="middle"),
    ]


def grid_step_m(frame: MapFrame) -> float:
    """A round distance between grid lines that leaves the map readable."""
    return next((step for step in _GRID_STEPS_M if step * frame.mm_per_grid_m >= _GRID_LEAST_MM), _GRID_STEPS_M[-1])


def grid_values_m(low_m: float, high_m: float, step_m: float) -> tuple[float, ...]:
    """The grid lines between two coordinates."""
    first, last = math.ceil(low_m / step_m), math.floor(high_m / step_m)
    return tuple(index * step_m for index in range(first, last + 1))


def _picture(ground: Ground, terrain: Terrain, frame: MapFrame, palette: Palette) -> Picture:
    """The cropped ground, finer than its cells so that the relief is smooth, cut to the frame."""
    grid = ground.grid
    west, south, east, north = frame.bounds_m
    left, right = max(west, grid.west_m), min(east, grid.east_m)
    bottom, top = max(south, grid.south_m), min(north, grid.north_m)
    step_m = _PIXEL_MM / frame.mm_per_grid_m
    rows = max(1, round((top - bottom) / step_m))
    cols = max(1, round((right - left) / step_m))
    pixels = ground_picture(ground, terrain, palette)
    # Pixel middles, in cells of the cropped grid.
    row_at = (grid.north_m - (top - (np.arange(rows) + 0.5) * (top - bottom) / rows)) / grid.cell_m - 0.5
    col_at = (left + (np.arange(cols) + 0.5) * (right - left) / cols - grid.west_m) / grid.cell_m - 0.5
    at = np.meshgrid(row_at, col_at, indexing="ij")
    bands = [ndimage.map_coordinates(pixels[..., band], at, order=1, mode="nearest") for band in range(3)]
    x, y = frame.point(left, top)
    return Picture(
        x_mm=x, y_mm=y, width_mm=(right - left) * frame.mm_per_grid_m, height_mm=(top - bottom) * frame.mm_per_grid_m,
        pixels=np.stack(bands, axis=-1),
    )  # fmt: skip


def _grid_lines(frame: MapFrame, palette: Palette) -> list[Stroke]:
    west, south, east, north = frame.bounds_m
    step_m = grid_step_m(frame)
    colour = mixed(palette.text, palette.paper, 0.45)
    lines = [np.array([[at, south], [at, north]]) for at in grid_values_m(west, east, step_m)]
    lines += [np.array([[west, at], [east, at]]) for at in grid_values_m(south, north, step_m)]
    return list(frame.lines(lines, 0.1, colour))


def _reach(answer: Tonight, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """Outer edges only: lakes and steep ground within the reach are drawn as what they are."""
    shapes = {
        pace: MultiPolygon([Polygon(piece.exterior) for piece in shape.geoms])
        for pace, shape in reach_polygons(answer.march).items()
    }
    strokes: list[Stroke] = []
    strokes += frame.outline(shapes["early"], 0.25, palette.reach, dash_mm=(0.5, 0.9))
    strokes += frame.outline(shapes["likely"], 0.4, palette.reach)
    strokes += frame.outline(shapes["late"], 0.25, palette.reach, dash_mm=(1.8, 0.9))
    return strokes


def _sites(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Outlines, and discs that keep clear of each other; the pick is drawn last and with its name."""
    strokes: list[Stroke] = []
    for site in reversed(answer.sites.sites):
        outline = as_multipolygon(site.outline_m)
        strokes += frame.outline(outline, 0.55 if site.rank == 1 else 0.35, palette.text)
        if not frame.holds(site.east_m, site.north_m):
            continue
        x, y = frame.point(site.east_m, site.north_m)
        strokes += rank_disc((x, y), site.rank, palette)
        room.take((x - 2.0, y - 2.0, x + 2.0, y + 2.0))
    for site in answer.sites.pick_and_alternate():
        if frame.holds(site.east_m, site.north_m):
            x, y = frame.point(site.east_m, site.north_m)
            name = shortened(site.name.split(",")[0], LABEL_MM, 46.0, is_bold=True)
            at = ((x + 3.0, y + 0.9), (x - 3.0, y + 0.9), (x, y - 3.2), (x, y + 5.0), (x, y - 6.5), (x, y + 8.0))
            anchors: tuple[Anchor, ...] = ("start", "end", "middle", "middle", "middle", "middle")
            label = room.first_free(
                text_line(name, point, LABEL_MM, palette.text, is_bold=True, anchor=anchor, halo=palette.paper)
                for point, anchor in zip(at, anchors, strict=True)
            )
            if label is not None:
                strokes.append(label)
    return strokes


def _route(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Solid as far as it is reached, dashed beyond, dotted off it; no label may cover it."""
    march = answer.march
    reached, rest = route_parts(march)
    strokes: list[Stroke] = []
    strokes += frame.lines([rest], 0.35, palette.intent, dash_mm=(1.6, 1.2))
    strokes += frame.lines([reached], _ROUTE_MM, palette.intent)
    ways = [way_off_route_m(march, site.east_m, site.north_m) for site in answer.sites.pick_and_alternate()]
    strokes += frame.lines(ways, 0.35, palette.intent, dash_mm=(0.7, 0.7), simplify_mm=0.3)
    west, south, east, north = frame.bounds_m
    for east_m, north_m in reached[:: max(1, round(0.5 / frame.mm_per_grid_m / answer.ground.grid.cell_m))]:
        if west <= east_m <= east and south <= north_m <= north:
            x, y = frame.point(east_m, north_m)
            room.take((x - 0.3, y - 0.3, x + 0.3, y + 0.3))
    return strokes


def _time_marks(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Cross-ticks at the ends of the legs and where the way leaves the route, with the time beside them."""
    march = answer.march
    strokes: list[Stroke] = []
    day = march.depart.date()
    marks = [(0.0, clock(march.depart, day))]
    gone_m = 0.0
    for leg in march.legs:
        gone_m += leg.distance_m
        marks.append((gone_m, clock(leg.arrive, day)))
    if answer.sites.sites and leaves_on_the_way(answer.sites.sites[0]):
        marks.append((answer.sites.sites[0].leave_distance_m, clock(leave_route_at(answer), day)))
    turn = march.turn_back
    if turn is not None and not turn.is_whole_day:
        marks.append((turn.distance_m, f"turn back {clock(turn.at, day)}"))
        x, y = frame.point(*route_point_m(march, turn.distance_m))
        if frame.holds(*route_point_m(march, turn.distance_m)):
            strokes.append(Disc(x_mm=x, y_mm=y, radius_mm=1.0, fill=palette.paper, edge=palette.intent, edge_mm=0.4))
    for distance_m, time in marks:
        east_m, north_m = route_point_m(march, distance_m)
        if frame.holds(east_m, north_m):
            strokes += _time_mark(answer, frame, distance_m, time, room, palette)
    return strokes


def _time_mark(
    answer: Tonight, frame: MapFrame, distance_m: float, time: str, room: LabelRoom, palette: Palette
) -> list[Stroke]:
    step_m = max(answer.ground.grid.cell_m, 1.0)
    x, y = frame.point(*route_point_m(answer.march, distance_m))
    before = frame.point(*route_point_m(answer.march, max(0.0, distance_m - step_m)))
    after = frame.point(*route_point_m(answer.march, distance_m + step_m))
    along = math.atan2(after[1] - before[1], after[0] - before[0])
    across_x, across_y = -math.sin(along), math.cos(along)
    tick = Line(
        points_mm=(
            (round(x - across_x * _TICK_MM, 3), round(y - across_y * _TICK_MM, 3)),
            (round(x + across_x * _TICK_MM, 3), round(y + across_y * _TICK_MM, 3)),
        ),
        width_mm=0.4,
        colour=palette.intent,
    )
    choices = (
        text_line(
            time, (x + side * far * across_x, y + side * far * across_y + 0.9), LABEL_MM, palette.intent,
            is_bold=True, anchor="middle" if abs(across_y) > 0.6 else "start" if side * across_x > 0 else "end",
            halo=palette.paper,
        )
        for far in (3.4, 5.8, 8.4)
        for side in (-1, 1)
    )  # fmt: skip
    label = room.first_free(choices)
    return [tick] if label is None else [tick, label]


def _hatch(shape: MultiPolygon, frame: MapFrame, lean: int, palette: Palette) -> list[Stroke]:
    """Slanted lines over a shape; they hang on the projection's zero, so neighbouring pieces match."""
    west, south, east, north = shape.bounds
    step_m = _HATCH_STEP_MM * math.sqrt(2.0) / frame.mm_per_grid_m
    height = north - south
    low = west - height if lean > 0 else west
    high = east if lean > 0 else east + height
    offsets = np.arange(math.floor(low / step_m), math.ceil(high / step_m) + 1) * step_m
    lines = shapely.linestrings([[(at, south), (at + lean * height, north)] for at in offsets])
    inside = shapely.intersection(shapely.multilinestrings(lines), shape)
    return list(frame.lines(as_lines(inside), 0.15, mixed(palette.text, palette.paper, 0.75)))


def _frame_line(frame: MapFrame, palette: Palette) -> Line:
    left, top, right, bottom = frame.box_mm
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return Line(points_mm=corners, width_mm=0.3, colour=palette.text)
