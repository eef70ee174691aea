"""The map of a debrief: what the ground offers, and the picks on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sitepick.exercise.model import PickGround
from sitepick.exercise.page import map_frame
from sitepick.exercise.signs import mark_strokes, pick_sign
from sitepick.exercise.standard import Standard
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped
from sitepick.sheet.map_sheet import (
    DrawnMap,
    frame_line,
    grid_lines,
    ground_strokes,
    hazard_strokes,
    reach_strokes,
    route_strokes,
    shown_ground,
)
from sitepick.sheet.model import Disc, Line, Point, Stroke
from sitepick.sheet.page_frame import Paper
from sitepick.sheet.palette import Palette
from sitepick.sheet.site_marks import site_marks

_APART_MM = 4.2  # two signs stand so far from each other
_PLAIN_KEYS = {"route": "route_plain"}  # no times stand along the route here


@dataclass(frozen=True, slots=True, kw_only=True)
class PickSign:
    """A pick with what stands in its sign.

    Attributes
    ----------
    pick : PickGround
    text : str
    is_first : bool
        A pick; otherwise an alternate.
    """

    pick: PickGround
    text: str
    is_first: bool = True


def debrief_frame(
    standard: Standard, signs: Sequence[PickSign], top_mm: float, height_mm: float, paper: Paper
) -> MapFrame:
    """A frame that shows the picks on the ground, and the pick and the alternate of the answer."""
    grid, march = standard.answer.ground.grid, standard.answer.march
    points = [(one.pick.east_m, one.pick.north_m) for one in signs]
    points = [point for point in points if grid.contains(*point)]
    for site in standard.answer.sites.pick_and_alternate():
        box = site.outline_m.bounds
        points += [(box[0], box[1]), (box[2], box[3])]
    if not points:
        points = [(east_m, north_m) for east_m, north_m in march.route_m.tolist()]
    easts, norths = [point[0] for point in points], [point[1] for point in points]
    bounds = (min(easts), min(norths), max(easts), max(norths))
    return map_frame(bounds, top_mm, height_mm, grid, paper)


def debrief_map(standard: Standard, signs: Sequence[PickSign], frame: MapFrame, palette: Palette) -> DrawnMap:
    """Ground, hazards, reach, route and the best places, with trainees' picks over them.

    A sign that would cover another stands aside, a thin line leading to its place.
    """
    answer = standard.answer
    room = LabelRoom(box_mm=frame.box_mm)
    leaders, picks = _pick_strokes(standard, signs, frame, room, palette)
    strokes: list[Stroke] = []
    contour_m: float | None = None
    ground_keys: tuple[str, ...] = ()
    shown = cropped(answer.ground, answer.terrain, frame)
    if shown is not None:
        below, contour_m = ground_strokes(*shown, frame, palette)
        strokes += below
        ground_keys = shown_ground(*shown, frame)
    reach, reach_keys = reach_strokes(answer, frame, palette)
    route, route_keys = route_strokes(answer, frame, room, palette)
    sites, site_keys = site_marks(answer, frame, room, palette)
    marks = [mark for mark in answer.plan.exercise.marks if mark.is_for_trainees]
    strokes += [*grid_lines(frame, palette), *reach, *route, *leaders, *sites]
    strokes += mark_strokes(marks, answer.ground.grid, frame, room, palette)
    if shown is not None:
        strokes += hazard_strokes(shown[1], frame, room, palette)
    strokes += [*picks, frame_line(frame, palette)]
    keys = (*(_PLAIN_KEYS.get(key, key) for key in route_keys), *site_keys, *reach_keys, *ground_keys)
    return DrawnMap(strokes=tuple(strokes), contour_m=contour_m, keys=keys)


def _pick_strokes(
    standard: Standard, signs: Sequence[PickSign], frame: MapFrame, room: LabelRoom, palette: Palette
) -> tuple[list[Stroke], list[Stroke]]:
    """Lines to the places of signs that stand aside, and the signs."""
    shown = [one for one in signs if frame.holds(one.pick.east_m, one.pick.north_m)]
    sites = [site for site in standard.answer.sites.sites if frame.holds(site.east_m, site.north_m)]
    taken = [frame.point(site.east_m, site.north_m) for site in sites]
    under: list[Stroke] = []
    over: list[Stroke] = []
    for one in shown:
        place = frame.point(one.pick.east_m, one.pick.north_m)
        x, y = _free(place, taken)
        taken.append((x, y))
        room.take((x - 2.2, y - 2.0, x + 2.2, y + 2.0))
        if (x, y) != place:
            under.append(Line(points_mm=(place, (x, y)), width_mm=0.2, colour=palette.text))
            under.append(
                Disc(x_mm=place[0], y_mm=place[1], radius_mm=0.5, fill=palette.text, edge=palette.paper, edge_mm=0.15)
            )
        over += pick_sign(x, y, one.text, palette, is_first=one.is_first)
    return under, over


def _free(place: Point, taken: Sequence[Point]) -> Point:
    """A place, or the nearest spot aside that covers no other sign."""
    spots = [place] + [
        (round(place[0] + far * math.sin(turn), 3), round(place[1] - far * math.cos(turn), 3))
        for far in (4.5, 6.5, 9.0, 12.0)
        for turn in (math.pi * step / 8.0 for step in range(16))
    ]
    for x, y in spots:
        if all(max(abs(x - other[0]), abs(y - other[1])) >= _APART_MM for other in taken):
            return x, y
    return place
