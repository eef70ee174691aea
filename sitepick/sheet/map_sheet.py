"""The sheet's map as strokes: ground, grid, hazards, reach, sites and route."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from scipy import ndimage
from shapely import MultiPolygon

from sitepick.ground.model import Ground
from sitepick.sheet.legend import REACH_LOOKS
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped
from sitepick.sheet.map_marks import LABEL_MM, take_signs, way_marks
from sitepick.sheet.model import Line, Picture, Stroke
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.relief import contour_interval_m, contour_lines, ground_picture
from sitepick.sheet.shape import (
    as_lines,
    cell_lines,
    mask_polygons,
    reach_polygons,
    route_parts,
    way_off_route_m,
)
from sitepick.sheet.site_marks import site_marks
from sitepick.sheet.typeface import text_line
from sitepick.terrain.model import DERIVED_STREAM, Terrain
from sitepick.tonight import Tonight

_PIXEL_MM = 0.2
_HATCH_STEP_MM = 1.8
_HAZARD_LABEL_LEAST_MM2 = 25.0
_ROUTE_MM = 0.6
_HEIGHT_LABEL_MM, _FEW_HEIGHTS, _LABELS_A_HEIGHT = 2.0, 3, 3
_TOLD_FRAC = 0.3  # a class of cover stands in the legend from this share of a tint on
_GRID_STEPS_M = (50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0)
_GRID_LEAST_MM = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnMap:
    """A map's strokes and what its margin must tell.

    Attributes
    ----------
    strokes : tuple of Stroke
    contour_m : float or None
        Interval of the contour lines; None where there are none.
    keys : tuple of str
        The signs that are shown, as `legend.ENTRIES` knows them.
    """

    strokes: tuple[Stroke, ...]
    contour_m: float | None
    keys: tuple[str, ...]


def map_strokes(answer: Tonight, frame: MapFrame, palette: Palette) -> DrawnMap:
    """Everything inside the frame, and the frame's own line.

    Parameters
    ----------
    answer : Tonight
    frame : MapFrame
    palette : Palette
    """
    room = LabelRoom(box_mm=frame.box_mm)
    strokes: list[Stroke] = []
    contour_m = None
    ground_keys: tuple[str, ...] = ()
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        below, contour_m = ground_strokes(*shown, frame, palette)
        strokes += below
        ground_keys = shown_ground(*shown, frame)
    strokes += grid_lines(frame, palette)
    reach, reach_keys = reach_strokes(answer, frame, palette)
    strokes += reach
    route, route_keys = route_strokes(answer, frame, room, palette)
    strokes += route
    take_signs(answer, frame, room)
    sites, site_keys = site_marks(answer, frame, room, palette)
    marks, mark_keys = way_marks(answer, frame, room, palette)
    if shown is not None:
        strokes += hazard_strokes(shown[1], frame, room, palette)
    if shown is not None and contour_m is not None:
        strokes += height_labels(shown[0], frame, room, palette, contour_m)
    strokes += [*sites, *marks, frame_line(frame, palette)]
    keys = (*route_keys, *mark_keys, *site_keys, *reach_keys, *ground_keys)
    return DrawnMap(strokes=tuple(strokes), contour_m=contour_m, keys=keys)


def height_labels(
    ground: Ground, frame: MapFrame, room: LabelRoom, palette: Palette, interval_m: float
) -> list[Stroke]:
    """The heights of contour lines, level, where they cover nothing else; every fifth line, all where that is few."""
    inside = [line for line in contour_lines(ground, interval_m) if len(line.points_m) >= 2]
    fifth = [line for line in inside if line.is_fifth]
    colour = mixed(palette.contour, palette.paper, 0.85)
    strokes: list[Stroke] = []
    told: dict[float, int] = {}
    for line in sorted(fifth if len(fifth) >= _FEW_HEIGHTS else inside, key=lambda line: -len(line.points_m)):
        if told.get(line.height_m, 0) >= _LABELS_A_HEIGHT:
            continue
        choices = (
            text_line(
                f"{line.height_m:.0f}", (x, y + 0.7), _HEIGHT_LABEL_MM, colour, anchor="middle", halo=palette.paper
            )
            for x, y in frame.points(line.points_m[:: max(1, len(line.points_m) // 12)])
        )
        label = room.first_free(choices)
        if label is not None:
            strokes.append(label)
            told[line.height_m] = told.get(line.height_m, 0) + 1
    return strokes


def shown_ground(ground: Ground, terrain: Terrain, frame: MapFrame) -> tuple[str, ...]:
    """The signs of hazards, water, tracks and cover that a cropped ground shows, as the legend knows them."""
    classes = set(np.unique(ground.cover_index[ground.cover_index >= 0]).tolist())
    covers = [ground.legend.classes[index] for index in classes]
    tracks, streams = frame.lines(ground.track_lines, 0.1, "#000000"), frame.lines(ground.stream_lines, 0.1, "#000000")
    told = (
        ("release", terrain.is_avalanche_release.any()),
        ("runout", (terrain.is_avalanche_runout & ~terrain.is_avalanche_release).any()),
        ("unknown", (~ground.is_known()).any()),
        ("water", terrain.is_water.any()),
        ("stream", bool(streams)),
        ("derived", (terrain.water_kind == DERIVED_STREAM).any()),
        ("track", bool(tracks)),
        ("evergreen", any((cover.evergreen_frac or 0.0) >= _TOLD_FRAC for cover in covers)),
        ("deciduous", any((cover.deciduous_frac or 0.0) >= _TOLD_FRAC for cover in covers)),
        ("forest", any(cover.evergreen_frac is None and cover.canopy_frac >= _TOLD_FRAC for cover in covers)),
        ("bog", any(cover.wet_frac >= _TOLD_FRAC for cover in covers)),
    )
    return tuple(key for key, is_shown in told if is_shown)


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


def grid_lines(frame: MapFrame, palette: Palette) -> list[Stroke]:
    """The grid's lines within a frame."""
    west, south, east, north = frame.bounds_m
    step_m = grid_step_m(frame)
    colour = mixed(palette.text, palette.paper, 0.45)
    lines = [np.array([[at, south], [at, north]]) for at in grid_values_m(west, east, step_m)]
    lines += [np.array([[west, at], [east, at]]) for at in grid_values_m(south, north, step_m)]
    return list(frame.lines(lines, 0.1, colour))


def reach_strokes(answer: Tonight, frame: MapFrame, palette: Palette) -> tuple[list[Stroke], list[str]]:
    """Outer edges only: lakes and steep ground within the reach are drawn as what they are.

    None of the lines is solid, so that nobody takes one for a stream where colours don't show, and none runs along
    the end of the ground that was read, where the reach goes on.
    """
    grid = answer.ground.grid
    read = shapely.box(grid.west_m, grid.south_m, grid.east_m, grid.north_m).buffer(-0.5 * grid.cell_m)
    strokes: list[Stroke] = []
    keys = []
    shapes = reach_polygons(answer.march)
    for pace, (width_mm, dash_mm) in REACH_LOOKS.items():
        rings = shapely.multilinestrings([piece.exterior for piece in shapes[pace].geoms])
        lines = frame.lines(as_lines(shapely.intersection(rings, read)), width_mm, palette.reach, dash_mm=dash_mm)
        strokes += lines
        keys += [pace] if lines else []
    return strokes, keys


def route_strokes(
    answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette
) -> tuple[list[Stroke], list[str]]:
    """Solid as far as it is reached, dashed beyond, dotted off it; no label may cover it."""
    march = answer.march
    reached, rest = route_parts(march)
    ways = [way_off_route_m(march, site.east_m, site.north_m) for site in answer.sites.pick_and_alternate()]
    parts = {
        "route": frame.lines([reached], _ROUTE_MM, palette.intent),
        "route_rest": frame.lines([rest], 0.35, palette.intent, dash_mm=(1.6, 1.2)),
        "way_off": frame.lines(ways, 0.35, palette.intent, dash_mm=(0.7, 0.7), simplify_mm=0.3),
    }
    strokes: list[Stroke] = [line for lines in parts.values() for line in lines]
    west, south, east, north = frame.bounds_m
    for east_m, north_m in reached[:: max(1, round(0.5 / frame.mm_per_grid_m / answer.ground.grid.cell_m))]:
        if west <= east_m <= east and south <= north_m <= north:
            x, y = frame.point(east_m, north_m)
            room.take((x - 0.3, y - 0.3, x + 0.3, y + 0.3))
    return strokes, [key for key, lines in parts.items() if lines]


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


def frame_line(frame: MapFrame, palette: Palette) -> Line:
    """The line round a map."""
    left, top, right, bottom = frame.box_mm
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return Line(points_mm=corners, width_mm=0.3, colour=palette.text)
