"""The camp on the picked site, drawn large: shelters with their doors, other places, the way in."""

from __future__ import annotations

import math

import shapely

from sitepick.camp.model import Camp, PlacedShelter
from sitepick.grid import DoubleArray
from sitepick.sheet.camp_security import security_strokes
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped, fitted_frame
from sitepick.sheet.map_sheet import hazard_strokes
from sitepick.sheet.model import Anchor, Area, Disc, Line, Point, Stroke
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.relief import contour_interval_m, contour_lines
from sitepick.sheet.scale import scale_bar
from sitepick.sheet.shape import as_lines, as_multipolygon, cell_lines, mask_polygons
from sitepick.sheet.typeface import shortened, text_line
from sitepick.terrain.model import DERIVED_STREAM
from sitepick.tonight import Tonight

CAMP_SCALES = (500, 1000, 1500, 2000, 2500, 4000, 5000, 7500, 10_000, 15_000, 20_000, 25_000)
_EDGE_MM = 7.0  # between the outermost shelter and the frame, for labels
_LABEL_MM = 2.2
_LEAST_TENT_MM = 1.5
_SQUARE_MM = 1.15  # half a side


def camp_strokes(
    answer: Tonight, camp: Camp, box_mm: tuple[float, float, float, float], palette: Palette
) -> list[Stroke]:
    """The camp in a box of the page.

    Parameters
    ----------
    answer : Tonight
    camp : Camp
    box_mm : tuple
        Left, top, width and height on the page, with the scale bar and the title inside.
    palette : Palette
    """
    left, top, width, height = box_mm
    frame = _fitted(answer, camp, (left, top + 5.0, width, height - 10.0))
    room = LabelRoom(box_mm=frame.box_mm)
    title = f"Site {camp.site_rank}, {camp.site_name}"
    strokes: list[Stroke] = [
        text_line(shortened(title, 3.3, width, is_bold=True), (left, top + 3.2), 3.3, palette.text, is_bold=True)
    ]
    strokes += _land(answer, camp, frame, palette)
    for placed in camp.shelters:
        x, y = frame.point(placed.east_m, placed.north_m)
        room.take((x - 2.2, y - 2.2, x + 2.2, y + 2.2))
    posts = camp.security.posts if camp.security is not None else ()
    for post in posts:
        x, y = frame.point(post.east_m, post.north_m)
        room.take((x - 2.0, y - 2.0, x + 2.0, y + 2.0))
    signs = [*_north(answer, frame, room, palette), *_places(camp, frame, room, palette)]
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        strokes += hazard_strokes(shown[1], frame, room, palette)
    if camp.security is not None:
        strokes += security_strokes(answer, camp.security, frame, palette)
    for number, placed in enumerate(camp.shelters, start=1):
        strokes += _shelter(answer, placed, number, frame, palette)
    strokes += signs
    strokes.append(_rectangle(frame.box_mm, palette))
    scale = f"1:{frame.scale_denominator:,}".replace(",", " ")
    strokes += scale_bar(frame, (left, top + height - 2.4), width * 0.5, palette)
    strokes.append(text_line(scale, (left + width, top + height - 1.4), 2.5, palette.text, anchor="end"))
    return strokes


def _fitted(answer: Tonight, camp: Camp, box_mm: tuple[float, float, float, float]) -> MapFrame:
    east = [placed.east_m for placed in camp.shelters] + [facility.east_m for facility in camp.facilities]
    north = [placed.north_m for placed in camp.shelters] + [facility.north_m for facility in camp.facilities]
    east.append(camp.entry_east_m)
    north.append(camp.entry_north_m)
    if camp.security is not None:
        east += [post.east_m for post in camp.security.posts]
        north += [post.north_m for post in camp.security.posts]
    left, top, width, height = box_mm
    inner = (left + _EDGE_MM, top + _EDGE_MM, width - 2 * _EDGE_MM, height - 2 * _EDGE_MM)
    bounds = (min(east), min(north), max(east), max(north))
    fitted = fitted_frame(inner, bounds, answer.ground.grid, CAMP_SCALES)
    return MapFrame(
        x_mm=left, y_mm=top, width_mm=width, height_mm=height, scale_denominator=fitted.scale_denominator,
        centre_east_m=fitted.centre_east_m, centre_north_m=fitted.centre_north_m, point_scale=fitted.point_scale,
    )  # fmt: skip


def _land(answer: Tonight, camp: Camp, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """Water, contours, the site's outline and the route, on plain paper."""
    strokes: list[Stroke] = []
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        ground, terrain = shown
        lakes = frame.inside(mask_polygons(terrain.is_water, ground.grid))
        strokes += [
            Area(
                rings_mm=tuple(frame.points(_coordinates(ring)) for ring in (piece.exterior, *piece.interiors)),
                fill=palette.water,
            )
            for piece in lakes.geoms
        ]
        fine = mixed(palette.contour, palette.paper, palette.contour_frac)
        lines = contour_lines(ground, contour_interval_m(ground, line_count_max=12))
        strokes += frame.lines([line.points_m for line in lines], 0.12, fine)
        derived = cell_lines(terrain.water_kind == DERIVED_STREAM, ground.grid)
        strokes += frame.lines((*ground.stream_lines, *as_lines(derived)), 0.3, palette.reach)
        strokes += frame.lines(ground.track_lines, 0.3, palette.soft_text, dash_mm=(2.0, 0.8))
    outline = next(site.outline_m for site in answer.sites.sites if site.rank == camp.site_rank)
    strokes += frame.outline(as_multipolygon(outline), 0.3, palette.soft_text, dash_mm=(1.2, 0.8))
    strokes += frame.lines([answer.march.route_m], 0.6, palette.intent)
    return strokes


def _coordinates(ring: shapely.LinearRing) -> DoubleArray:
    return shapely.get_coordinates(ring)


def _shelter(answer: Tonight, placed: PlacedShelter, number: int, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """A disc of the shelter's true size where that can be read, its number, and a bar out of its door."""
    x, y = frame.point(placed.east_m, placed.north_m)
    radius_mm = max(placed.shelter.kind.footprint_m / 2 * frame.mm_per_ground_m, _LEAST_TENT_MM)
    grid_bearing = placed.door_bearing_deg - answer.ground.grid.convergence_deg(placed.east_m, placed.north_m)
    out_x, out_y = math.sin(math.radians(grid_bearing)), -math.cos(math.radians(grid_bearing))
    door = Line(
        points_mm=(
            (round(x + out_x * radius_mm, 3), round(y + out_y * radius_mm, 3)),
            (round(x + out_x * (radius_mm + 1.5), 3), round(y + out_y * (radius_mm + 1.5), 3)),
        ),
        width_mm=0.55,
        colour=palette.text,
    )
    fill, ink = (palette.text, palette.paper) if placed.shelter.is_leaders else (palette.paper, palette.text)
    return [
        door,
        Disc(x_mm=x, y_mm=y, radius_mm=radius_mm, fill=fill, edge=palette.text, edge_mm=0.25),
        text_line(str(number), (x, y + 0.75), _LABEL_MM, ink, is_bold=True, anchor="middle"),
    ]


def _places(camp: Camp, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Lettered squares as in the table of places, with their names where there is room."""
    strokes: list[Stroke] = []
    places = lettered_places(camp)
    for letter, _, east_m, north_m in places:
        x, y = frame.point(east_m, north_m)
        strokes.append(_square(x, y, palette))
        strokes.append(text_line(letter, (x, y + 0.7), _LABEL_MM, palette.paper, is_bold=True, anchor="middle"))
        room.take((x - _SQUARE_MM, y - _SQUARE_MM, x + _SQUARE_MM, y + _SQUARE_MM))
    for _, name, east_m, north_m in places:
        x, y = frame.point(east_m, north_m)
        text = shortened(name.lower(), _LABEL_MM, 24.0)
        choices: tuple[tuple[Point, Anchor], ...] = (
            ((x + 1.8, y + 0.7), "start"), ((x - 1.8, y + 0.7), "end"), ((x, y + 3.4), "middle"),
            ((x, y - 1.9), "middle"), ((x + 1.8, y + 3.0), "start"), ((x - 1.8, y + 3.0), "end"),
            ((x + 1.8, y - 1.6), "start"), ((x - 1.8, y - 1.6), "end"),
        )  # fmt: skip
        label = room.first_free(
            text_line(text, at, _LABEL_MM, palette.text, anchor=anchor, halo=palette.paper) for at, anchor in choices
        )
        if label is not None:
            strokes.append(label)
    return strokes


def lettered_places(camp: Camp) -> tuple[tuple[str, str, float, float], ...]:
    """Letter, name, easting and northing of the way in and each facility, as plan and table tell them."""
    places = [("Way in", camp.entry_east_m, camp.entry_north_m)]
    places += [(facility.name, facility.east_m, facility.north_m) for facility in camp.facilities]
    return tuple((_letter(index), *place) for index, place in enumerate(places))


def _letter(index: int) -> str:
    """A to Z, then AA, AB and so on."""
    more, rest = divmod(index, 26)
    return (_letter(more - 1) if more else "") + chr(ord("A") + rest)


def _square(x_mm: float, y_mm: float, palette: Palette) -> Area:
    half = _SQUARE_MM
    ring = (
        (x_mm - half, y_mm - half),
        (x_mm + half, y_mm - half),
        (x_mm + half, y_mm + half),
        (x_mm - half, y_mm + half),
    )
    return Area(rings_mm=(ring,), fill=palette.text)


def _rectangle(box_mm: tuple[float, float, float, float], palette: Palette) -> Line:
    left, top, right, bottom = box_mm
    corners = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return Line(points_mm=corners, width_mm=0.25, colour=palette.text)


def _north(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """An arrow to true north, and one with the wind where its quarter is known."""
    convergence = answer.ground.grid.convergence_deg(frame.centre_east_m, frame.centre_north_m)
    left, top, right, _ = frame.box_mm
    strokes = _arrow((right - 3.8, top + 5.0), -convergence, "N", palette)
    room.take((right - 7.0, top, right, top + 11.0))
    wind_from = answer.plan.weather.main_wind_from_deg
    if wind_from is not None and answer.plan.weather.mean_wind_kmh != 0.0:
        strokes += _arrow((left + 5.0, top + 5.0), wind_from - convergence + 180.0, "wind", palette)
        room.take((left, top, left + 9.0, top + 11.0))
    return strokes


def _arrow(middle_mm: Point, paper_bearing_deg: float, name: str, palette: Palette) -> list[Stroke]:
    """An arrow through a point, clockwise from the top of the page, with its name below."""
    turn = math.radians(paper_bearing_deg)

    def at(along_mm: float, across_mm: float) -> Point:
        x = middle_mm[0] + along_mm * math.sin(turn) + across_mm * math.cos(turn)
        y = middle_mm[1] - along_mm * math.cos(turn) + across_mm * math.sin(turn)
        return round(x, 3), round(y, 3)

    shaft = (at(-3.0, 0.0), at(3.0, 0.0))
    head = (at(1.4, -0.9), at(3.0, 0.0), at(1.4, 0.9))
    label_at = (middle_mm[0], middle_mm[1] + 5.4)
    return [
        Line(points_mm=shaft, width_mm=0.3, colour=palette.text),
        Line(points_mm=head, width_mm=0.3, colour=palette.text),
        text_line(name, label_at, _LABEL_MM, palette.text, is_bold=True, anchor="middle", halo=palette.paper),
    ]
