"""What stands along the route on the sheet's map: times, halts, the turn-back place, cautions."""

from __future__ import annotations

import math
import re

import numpy as np

from sitepick.sheet.cautions import tonight_cautions
from sitepick.sheet.legend import caution_sign
from sitepick.sheet.map_frame import LabelRoom, MapFrame
from sitepick.sheet.model import Anchor, Disc, Line, Point, Stroke, Text
from sitepick.sheet.palette import Palette
from sitepick.sheet.shape import route_point_m
from sitepick.sheet.timetable import halt_times, leave_route_at, leaves_on_the_way
from sitepick.sheet.typeface import text_line
from sitepick.sheet.words import clock
from sitepick.tonight import Tonight

LABEL_MM = 2.5
_TICK_MM = 1.6
_SIGNS_APART_MM, _ASIDE_MM = 3.0, 3.0  # a sign of caution keeps so far from other marks of the route
_KILOMETRES = re.compile(r"(\d+(?:\.\d+)?) km")


def way_marks(
    answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette
) -> tuple[list[Stroke], tuple[str, ...]]:
    """Strokes, and the keys of their signs.

    Parameters
    ----------
    answer : Tonight
    frame : MapFrame
    room : LabelRoom
        Where labels may still go.
    palette : Palette
    """
    halts = _halts(answer, frame, palette)
    times, time_keys = _time_marks(answer, frame, room, palette)
    cautions = _caution_marks(answer, frame, room, palette)
    keys = [*(["halt"] if halts else []), *time_keys, *(["caution"] if cautions else [])]
    return [*halts, *times, *cautions], tuple(keys)


def _time_marks(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> tuple[list[Stroke], list[str]]:
    """Cross-ticks at the ends of the legs and where the way leaves the route, with the time beside them."""
    march = answer.march
    strokes: list[Stroke] = []
    keys = []
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
            keys.append("turn_back")
    for distance_m, time in marks:
        east_m, north_m = route_point_m(march, distance_m)
        if frame.holds(east_m, north_m):
            strokes += _time_mark(answer, frame, distance_m, time, room, palette)
    return strokes, keys


def _time_mark(
    answer: Tonight, frame: MapFrame, distance_m: float, time: str, room: LabelRoom, palette: Palette
) -> list[Stroke]:
    x, y = frame.point(*route_point_m(answer.march, distance_m))
    across_x, across_y = _across(answer, frame, distance_m)
    tick = Line(
        points_mm=(
            (round(x - across_x * _TICK_MM, 3), round(y - across_y * _TICK_MM, 3)),
            (round(x + across_x * _TICK_MM, 3), round(y + across_y * _TICK_MM, 3)),
        ),
        width_mm=0.4,
        colour=palette.intent,
    )
    label = _beside_route(answer, frame, distance_m, time, room, palette)
    return [tick] if label is None else [tick, label]


def _beside_route(
    answer: Tonight, frame: MapFrame, distance_m: float, text: str, room: LabelRoom, palette: Palette
) -> Text | None:
    """A label on one side of the route or the other, where there is room."""
    x, y = frame.point(*route_point_m(answer.march, distance_m))
    across_x, across_y = _across(answer, frame, distance_m)
    return room.first_free(
        text_line(
            text, (x + side * far * across_x, y + side * far * across_y + 0.9), LABEL_MM, palette.intent,
            is_bold=True, anchor="middle" if abs(across_y) > 0.6 else "start" if side * across_x > 0 else "end",
            halo=palette.paper,
        )
        for far in (3.4, 5.8, 8.4)
        for side in (-1, 1)
    )  # fmt: skip


def _across(answer: Tonight, frame: MapFrame, distance_m: float) -> tuple[float, float]:
    """A step of 1 mm square to the route."""
    step_m = max(answer.ground.grid.cell_m, 1.0)
    before = frame.point(*route_point_m(answer.march, max(0.0, distance_m - step_m)))
    after = frame.point(*route_point_m(answer.march, distance_m + step_m))
    along = math.atan2(after[1] - before[1], after[0] - before[0])
    return -math.sin(along), math.cos(along)


def _halts(answer: Tonight, frame: MapFrame, palette: Palette) -> list[Stroke]:
    """A dot on the route where the unit stands at each halt before it leaves the route."""
    march = answer.march
    on_route_min = float(march.station_moving_min[-1])
    if answer.sites.sites:
        pick = answer.sites.sites[0]
        on_route_min = pick.moving_min - pick.detour_min
    strokes: list[Stroke] = []
    for (after_min, _), _ in zip(march.halt_rule.halts, halt_times(answer), strict=False):
        distance_m = float(np.interp(after_min, march.station_moving_min, march.station_distance_m))
        place = route_point_m(march, distance_m)
        if after_min <= on_route_min and frame.holds(*place):
            x, y = frame.point(*place)
            strokes.append(Disc(x_mm=x, y_mm=y, radius_mm=0.75, fill=palette.intent, edge=palette.paper, edge_mm=0.2))
    return strokes


def caution_places(answer: Tonight) -> tuple[tuple[int, float], ...]:
    """Number of each caution in tonight's list that names a place on the route, and how far from the start it is."""
    found = []
    for number, caution in enumerate(tonight_cautions(answer), start=1):
        told = _KILOMETRES.findall(caution.place)
        found += [(number, 1000.0 * float(kilometre)) for kilometre in told]
    return tuple(found)


def take_signs(answer: Tonight, frame: MapFrame, room: LabelRoom) -> None:
    """Keep names off the signs along the route, before any name is set."""
    for _, _, (x, y) in _caution_signs(answer, frame):
        room.take((x - 1.8, y - 1.9, x + 1.8, y + 1.4))
    turn = answer.march.turn_back
    if turn is not None and not turn.is_whole_day:
        x, y = frame.point(*route_point_m(answer.march, turn.distance_m))
        room.take((x - 1.3, y - 1.3, x + 1.3, y + 1.3))


def _caution_signs(answer: Tonight, frame: MapFrame) -> tuple[tuple[int, float, Point], ...]:
    """Number, distance from the start and paper place of each sign: on the route, or beside it at another mark."""
    march = answer.march
    marked_m = [0.0, *np.cumsum([leg.distance_m for leg in march.legs]).tolist()]
    if march.turn_back is not None:
        marked_m.append(march.turn_back.distance_m)
    found = []
    for number, distance_m in caution_places(answer):
        place = route_point_m(march, distance_m)
        if not frame.holds(*place):
            continue
        x, y = frame.point(*place)
        if min(abs(distance_m - other_m) for other_m in marked_m) * frame.mm_per_ground_m < _SIGNS_APART_MM:
            across_x, across_y = _across(answer, frame, distance_m)
            x, y = round(x + _ASIDE_MM * across_x, 3), round(y + _ASIDE_MM * across_y, 3)
        found.append((number, distance_m, (x, y)))
    return tuple(found)


def _caution_marks(answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """A black triangle where a caution lies on the route, with its number in the list."""
    strokes: list[Stroke] = []
    for number, distance_m, (x, y) in _caution_signs(answer, frame):
        strokes += caution_sign(x, y, palette)
        beside: tuple[tuple[Point, Anchor], ...] = (
            ((x + 2.2, y + 0.9), "start"), ((x - 2.2, y + 0.9), "end"),
            ((x, y - 2.6), "middle"), ((x, y + 4.0), "middle"),
        )  # fmt: skip
        text = f"caution {number}"
        label = room.first_free(
            text_line(text, point, LABEL_MM, palette.text, is_bold=True, anchor=anchor, halo=palette.paper)
            for point, anchor in beside
        ) or _beside_route(answer, frame, distance_m, text, room, palette)
        strokes += [] if label is None else [label]
    return strokes
