"""The camp on the picked site, drawn large: shelters with their doors, other places, posts, the way in."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import shapely

from sitepick.camp.model import Camp, PlacedShelter
from sitepick.grid import DoubleArray, Grid
from sitepick.sheet.camp_security import security_strokes
from sitepick.sheet.legend import SECTION_DASH_MM
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped, fitted_map
from sitepick.sheet.map_sheet import DrawnMap, frame_line, grid_lines, hazard_strokes, height_labels, shown_ground
from sitepick.sheet.model import Anchor, Area, Disc, Line, Point, Stroke, Text
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.relief import contour_interval_m, contour_lines
from sitepick.sheet.shape import as_lines, as_multipolygon, cell_lines, mask_polygons
from sitepick.sheet.typeface import shortened, text_line
from sitepick.sheet.words import bearing_words
from sitepick.terrain.model import DERIVED_STREAM
from sitepick.tonight import Tonight

CAMP_SCALES = (500, 1000, 1500, 2000, 2500, 3000, 4000, 5000, 7500, 10_000, 15_000, 20_000, 25_000)
_EDGE_MM = 12.0  # between the outermost sign and the frame, for labels
_LABEL_MM = 2.4
_LEAST_TENT_MM = 1.6
_SQUARE_MM = 1.3  # half a side
_DOOR_MM = 1.8
# Nearer together, a door runs into the neighbour's sign.
_CROWDED_MM = 2.0 * _LEAST_TENT_MM + _DOOR_MM + 0.4
_FAR_KINDS = ("drinking_water", "cooking_water", "washing", "snow_for_water", "pick_up")
_RIM_MM = 6.0  # from the frame to the sign of a place that lies past it
_OWN_LABEL_MM = 2.0  # a name aslant of its sign and nearer than that to another would be read as that one's
# From the middle of a section's ground to where its name may stand, the nearest first.
_NAME_STEPS_MM = tuple(
    sorted(
        ((right, down + 0.8) for right in (0.0, -9.0, 9.0, -18.0, 18.0) for down in range(-16, 17, 4)),
        key=lambda step: math.hypot(*step),
    )
)
_SIGN_STEPS_MM = (3.6, 5.4, 7.5, 10.0)  # how far a sign may stand aside from its crowded place


def camp_map(
    answer: Tonight, camp: Camp, box_mm: tuple[float, float, float, float], palette: Palette, *,
    scales: tuple[int, ...] = CAMP_SCALES,
) -> tuple[MapFrame, DrawnMap]:  # fmt: skip
    """The camp in a box of the page.

    Parameters
    ----------
    answer : Tonight
    camp : Camp
    box_mm : tuple
        Left, top, width and height on the page; the map fills it.
    palette : Palette
    scales : tuple of int
        To choose from, rising.

    Returns
    -------
    frame : MapFrame
        At the largest round scale that shows every place of the camp; where shelters would crowd there, at the one
        that shows all but water and a landing place, with signs at the rim to what lies past it.
    drawn : DrawnMap
    """
    frame = fitted_map(camp_bounds_m(camp), box_mm, _EDGE_MM, answer.ground.grid, scales)
    if len(camp.shelters) > 1 and camp.min_distance_m * frame.mm_per_ground_m < _CROWDED_MM:
        near = [one for one in camp.facilities if one.kind not in _FAR_KINDS]
        frame = fitted_map(
            camp_bounds_m(replace(camp, facilities=tuple(near))), box_mm, _EDGE_MM, answer.ground.grid, scales
        )
    room = LabelRoom(box_mm=frame.box_mm)
    for placed in camp.shelters:
        x, y = frame.point(placed.east_m, placed.north_m)
        reach_mm = _tent_mm(placed, frame) + 1.2
        room.take((x - reach_mm, y - reach_mm, x + reach_mm, y + reach_mm))
    posts = camp.security.posts if camp.security is not None else ()
    for post in posts:
        x, y = frame.point(post.east_m, post.north_m)
        room.take((x - 2.4, y - 2.6, x + 2.4, y + 1.6))
    signs = [*_north(answer, frame, room, palette), *_places(camp, answer.ground.grid, frame, room, palette)]
    ways = [answer.march.route_m, *([camp.security.way_in_m] if camp.security is not None else [])]
    for line in frame.lines(ways, 0.1, palette.text):
        _keep_clear(room, line.points_mm)
    sections = _sections(camp, frame, room, palette)
    strokes, contour_m, keys = _land(answer, camp, frame, palette)
    strokes += sections
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        strokes += hazard_strokes(shown[1], frame, room, palette)
    if shown is not None and contour_m is not None:
        strokes += height_labels(shown[0], frame, room, palette, contour_m)
    watch_keys = _watch_keys(camp, frame)
    if camp.security is not None:
        strokes += security_strokes(answer, camp.security, frame, palette)
    for number, placed in enumerate(camp.shelters, start=1):
        strokes += _shelter(answer, placed, number, frame, palette)
    strokes += [*signs, frame_line(frame, palette)]
    leader = ("leader",) if any(placed.shelter.is_leaders for placed in camp.shelters) else ()
    every = ("shelter", *leader, "place", *watch_keys, *(("section",) if sections else ()), *keys)
    return frame, DrawnMap(strokes=tuple(strokes), contour_m=contour_m, keys=every)


def _keep_clear(room: LabelRoom, line_mm: tuple[Point, ...]) -> None:
    """Keep what is set later off a line."""
    for (x, y), (other_x, other_y) in pairwise(line_mm):
        count = max(1, math.ceil(math.hypot(other_x - x, other_y - y)))
        for step in range(count + 1):
            at_x, at_y = x + (other_x - x) * step / count, y + (other_y - y) * step / count
            room.take((at_x - 0.4, at_y - 0.4, at_x + 0.4, at_y + 0.4))


def camp_bounds_m(camp: Camp) -> tuple[float, float, float, float]:
    """West, south, east and north of everything that must show."""
    points = [(placed.east_m, placed.north_m) for placed in camp.shelters]
    points += [(east_m, north_m) for _, _, east_m, north_m in lettered_places(camp)]
    if camp.security is not None:
        points += [(post.east_m, post.north_m) for post in camp.security.posts]
    east, north = [point[0] for point in points], [point[1] for point in points]
    return min(east), min(north), max(east), max(north)


def _sections(camp: Camp, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Each section's ground with its name; nothing where every shelter is a section of its own, as the table tells."""
    names = [placed.shelter.section for placed in camp.shelters]
    strokes: list[Stroke] = []
    for area in camp.sub_areas if len(set(names)) < len(names) else ():
        outline = as_multipolygon(area.outline_m)
        strokes += frame.outline(outline, 0.2, palette.soft_text, dash_mm=SECTION_DASH_MM)
        x, y = frame.point(area.outline_m.centroid.x, area.outline_m.centroid.y)
        name = shortened(area.section, _LABEL_MM, 40.0, is_bold=True)
        label = room.first_free(
            text_line(
                name, (x + right, y + down), _LABEL_MM, palette.soft_text, is_bold=True, anchor="middle",
                halo=palette.paper,
            )
            for right, down in _NAME_STEPS_MM
            if outline.covers(_ground_point(frame, (x + right, y + down)))
        )  # fmt: skip
        strokes += [] if label is None else [label]
    return strokes


def _ground_point(frame: MapFrame, place_mm: Point) -> shapely.Point:
    """Grid coordinates of a place on the page."""
    west, _, _, north = frame.bounds_m
    left, top, _, _ = frame.box_mm
    return shapely.Point(
        west + (place_mm[0] - left) / frame.mm_per_grid_m, north - (place_mm[1] - top) / frame.mm_per_grid_m
    )


def _watch_keys(camp: Camp, frame: MapFrame) -> tuple[str, ...]:
    security = camp.security
    if security is None:
        return ()
    told = (
        ("post", bool(security.posts)),
        ("perimeter", True),
        ("way_in", bool(frame.lines([security.way_in_m[:-1]], 0.1, "#000000"))),
        ("dummy", bool(frame.lines([security.dummy_trail_m], 0.1, "#000000"))),
    )
    return tuple(key for key, is_shown in told if is_shown)


def _land(
    answer: Tonight, camp: Camp, frame: MapFrame, palette: Palette
) -> tuple[list[Stroke], float | None, tuple[str, ...]]:  # fmt: skip
    """Water, contours, the site's outline and the route, on plain paper; the contours' interval and the signs."""
    strokes: list[Stroke] = []
    keys: list[str] = []
    contour_m = None
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
        interval_m = contour_interval_m(ground, line_count_max=12)
        lines = frame.lines([line.points_m for line in contour_lines(ground, interval_m)], 0.12, fine)
        strokes += lines
        contour_m = interval_m if lines else None
        blue = mixed(palette.reach, palette.paper, 0.6)
        derived = cell_lines(terrain.water_kind == DERIVED_STREAM, ground.grid)
        strokes += frame.lines(as_lines(derived), 0.3, blue)
        strokes += frame.lines(ground.stream_lines, 0.5, blue)
        strokes += frame.lines(ground.track_lines, 0.3, palette.soft_text, dash_mm=(2.0, 0.8))
        plain = ("evergreen", "deciduous", "forest", "bog", "unknown")  # drawn on the first map alone
        keys += [key for key in shown_ground(ground, terrain, frame) if key not in plain]
    site = next(site for site in answer.sites.sites if site.rank == camp.site_rank)
    outline = frame.outline(as_multipolygon(site.outline_m), 0.3, palette.soft_text, dash_mm=(1.2, 0.8))
    route = frame.lines([answer.march.route_m], 0.6, palette.intent)
    strokes += [*grid_lines(frame, palette), *outline, *route]
    keys = [*(["route_plain"] if route else []), *(["outline"] if outline else []), *keys]
    return strokes, contour_m, tuple(keys)


def _coordinates(ring: shapely.LinearRing) -> DoubleArray:
    return shapely.get_coordinates(ring)


def _shelter(answer: Tonight, placed: PlacedShelter, number: int, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """A disc of the shelter's true size where that can be read, its number, and a bar out of its door."""
    x, y = frame.point(placed.east_m, placed.north_m)
    radius_mm = _tent_mm(placed, frame)
    grid_bearing = placed.door_bearing_deg - answer.ground.grid.convergence_deg(placed.east_m, placed.north_m)
    out_x, out_y = math.sin(math.radians(grid_bearing)), -math.cos(math.radians(grid_bearing))
    door = Line(
        points_mm=(
            (round(x + out_x * radius_mm, 3), round(y + out_y * radius_mm, 3)),
            (round(x + out_x * (radius_mm + _DOOR_MM), 3), round(y + out_y * (radius_mm + _DOOR_MM), 3)),
        ),
        width_mm=0.6,
        colour=palette.text,
    )
    fill, ink = (palette.text, palette.paper) if placed.shelter.is_leaders else (palette.paper, palette.text)
    return [
        door,
        Disc(x_mm=x, y_mm=y, radius_mm=radius_mm, fill=fill, edge=palette.text, edge_mm=0.25),
        text_line(str(number), (x, y + 0.75), _LABEL_MM, ink, is_bold=True, anchor="middle"),
    ]


def _tent_mm(placed: PlacedShelter, frame: MapFrame) -> float:
    """Radius of a shelter's disc: its own size, or as small as a number can be read."""
    return max(placed.shelter.kind.footprint_m / 2 * frame.mm_per_ground_m, _LEAST_TENT_MM)


def _places(camp: Camp, grid: Grid, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """Lettered squares as in the table of places, with their names where there is room.

    A square that would cover another sign stands aside, a thin line leading to the place. What lies past the frame
    has its square at the rim, with an arrow and the way from the nearest shelter.
    """
    strokes: list[Stroke] = []
    places = [
        (letter, name if _is_shown(frame, (east_m, north_m)) else _way_words(name, (east_m, north_m), camp, grid),
         east_m, north_m)
        for letter, name, east_m, north_m in lettered_places(camp)
    ]  # fmt: skip
    spots = [_rim_or_place(frame, frame.point(east_m, north_m)) for _, _, east_m, north_m in places]
    at = [_sign_place(spot, room) for spot in spots]
    for (letter, _, east_m, north_m), place, (x, y) in zip(places, spots, at, strict=True):
        beyond = frame.point(east_m, north_m)
        if place != beyond:
            strokes += _pointer((x, y), beyond, palette)
        elif (x, y) != place:
            strokes.append(Line(points_mm=(place, (x, y)), width_mm=0.15, colour=palette.text))
            strokes.append(Disc(x_mm=place[0], y_mm=place[1], radius_mm=0.35, fill=palette.text, edge=palette.text,
                                edge_mm=0.1))  # fmt: skip
        strokes.append(_square(x, y, palette))
        size_mm = _LABEL_MM if len(letter) == 1 else 1.7
        strokes.append(text_line(letter, (x, y + 0.8), size_mm, palette.paper, is_bold=True, anchor="middle"))
    for number, ((_, name, _, _), (x, y)) in enumerate(zip(places, at, strict=True)):
        others = [spot for k, spot in enumerate(at) if k != number]
        choices: tuple[tuple[Point, Anchor], ...] = (
            ((x + 1.9, y + 0.8), "start"), ((x - 1.9, y + 0.8), "end"), ((x, y + 3.6), "middle"),
            ((x, y - 2.0), "middle"), ((x + 1.9, y + 3.0), "start"), ((x - 1.9, y + 3.0), "end"),
            ((x + 1.9, y - 1.6), "start"), ((x - 1.9, y - 1.6), "end"),
        )  # fmt: skip
        text = shortened(_lower_first(name), _LABEL_MM, 80.0)
        labels = [
            text_line(text, point, _LABEL_MM, palette.text, anchor=anchor, halo=palette.paper)
            for point, anchor in choices
        ]
        # Aslant of its sign a name belongs to whichever sign is near.
        aslant = [label for label in labels[4:] if not _is_by_another(label, others)]
        label = room.first_free((*labels[:4], *aslant))
        if label is not None:
            strokes.append(label)
    return strokes


def _is_by_another(label: Text, others: list[Point]) -> bool:
    """Whether a label stands so near to another place's sign that it would be read as that one's."""
    left, top, right, bottom = label.box_mm
    near = _OWN_LABEL_MM + _SQUARE_MM
    return any(left - near < x < right + near and top - near < y < bottom + near for x, y in others)


def _is_shown(frame: MapFrame, place_m: Point) -> bool:
    place = frame.point(*place_m)
    return _rim_or_place(frame, place) == place


def _rim_or_place(frame: MapFrame, place_mm: Point) -> Point:
    """A place in the frame as it is; one past it where the way to it from the middle comes near the rim."""
    left, top, right, bottom = frame.box_mm
    if left <= place_mm[0] <= right and top <= place_mm[1] <= bottom:
        return place_mm
    x, y = (left + right) / 2.0, (top + bottom) / 2.0
    across, down = place_mm[0] - x, place_mm[1] - y
    part = min(
        ((right - left) / 2.0 - _RIM_MM) / max(abs(across), 1e-9),
        ((bottom - top) / 2.0 - _RIM_MM) / max(abs(down), 1e-9),
    )
    return round(x + part * across, 3), round(y + part * down, 3)


def _pointer(sign_mm: Point, beyond_mm: Point, palette: Palette) -> list[Stroke]:
    """A short arrow from a sign towards what lies past the frame."""
    turn = math.atan2(beyond_mm[0] - sign_mm[0], sign_mm[1] - beyond_mm[1])

    def at(far_mm: float, aside_mm: float) -> Point:
        x = sign_mm[0] + far_mm * math.sin(turn) + aside_mm * math.cos(turn)
        y = sign_mm[1] - far_mm * math.cos(turn) + aside_mm * math.sin(turn)
        return round(x, 3), round(y, 3)

    return [
        Line(points_mm=(sign_mm, at(4.6, 0.0)), width_mm=0.3, colour=palette.text),
        Line(points_mm=(at(3.4, -0.8), at(4.6, 0.0), at(3.4, 0.8)), width_mm=0.3, colour=palette.text),
    ]


def _way_words(name: str, place_m: Point, camp: Camp, grid: Grid) -> str:
    """A place past the frame: how far, and on which true bearing, from the nearest shelter."""
    ways = [(place_m[0] - one.east_m, place_m[1] - one.north_m) for one in camp.shelters]
    nearest = min(range(len(ways)), key=lambda k: math.hypot(*ways[k]))
    one = camp.shelters[nearest]
    away_m = math.hypot(*ways[nearest]) * grid.ground_cell_m / grid.cell_m
    to_deg = math.degrees(math.atan2(*ways[nearest])) + grid.convergence_deg(one.east_m, one.north_m)
    return f"{name}: {10 * round(away_m / 10):.0f} m at {bearing_words(to_deg)} from shelter {nearest + 1}"


def _sign_place(place_mm: Point, room: LabelRoom) -> Point:
    """Where the sign of a place stands: on it, or the nearest free spot beside it; its room is taken."""
    x, y = place_mm
    half = _SQUARE_MM + 0.15
    spots = [(x, y)] + [
        (round(x + far * math.sin(turn), 3), round(y - far * math.cos(turn), 3))
        for far in _SIGN_STEPS_MM
        for turn in (math.pi * step / 4.0 for step in range(8))
    ]
    boxes = {spot: (spot[0] - half, spot[1] - half, spot[0] + half, spot[1] + half) for spot in spots}
    chosen = next((spot for spot in spots if room.is_free(boxes[spot])), (x, y))
    room.take(boxes[chosen])
    return chosen


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]


def lettered_places(camp: Camp) -> tuple[tuple[str, str, float, float], ...]:
    """Letter, name, easting and northing of the way in, each facility and where everyone gathers on alarm."""
    places = [("Way in", camp.entry_east_m, camp.entry_north_m)]
    places += [(facility.name, facility.east_m, facility.north_m) for facility in camp.facilities]
    if camp.security is not None:
        places.append(("Gather here on alarm", camp.security.alarm_east_m, camp.security.alarm_north_m))
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


def _north(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """An arrow to true north, and one with the wind where its quarter is known, its speed in km/h below."""
    convergence = answer.ground.grid.convergence_deg(frame.centre_east_m, frame.centre_north_m)
    left, top, right, _ = frame.box_mm
    strokes = _arrow((right - 6.0, top + 5.0), -convergence, "true N", palette)
    room.take((right - 11.0, top, right, top + 11.0))
    wind_from = answer.plan.weather.main_wind_from_deg
    if wind_from is not None and answer.plan.weather.mean_wind_kmh != 0.0:
        speed = answer.plan.weather.mean_wind_kmh
        name = "wind" if speed is None else f"wind {speed:.0f} km/h"
        strokes += _arrow((left + 8.0, top + 5.0), wind_from - convergence + 180.0, name, palette)
        room.take((left, top, left + 17.0, top + 11.0))
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
