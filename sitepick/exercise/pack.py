"""The pack on paper: the problem, a map without answers, what is given, a blank answer sheet.

Made from the trainee's copy of the plan alone, so that nothing else can show on it.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

import numpy as np

from sitepick.exercise.answer_sheet import answer_blocks
from sitepick.exercise.page import day_words, map_frame, map_with_margin, page_head, sheet_of, words_below
from sitepick.exercise.signs import mark_strokes
from sitepick.grid import DoubleArray, mgrs_reference
from sitepick.ground.model import Ground
from sitepick.plan.mark import LonLat, Mark
from sitepick.plan.model import Plan
from sitepick.sheet.flow import BODY_MM, Block, Cell, Row, table_row
from sitepick.sheet.map_frame import LabelRoom, MapFrame, cropped
from sitepick.sheet.map_sheet import DrawnMap, frame_line, grid_lines, ground_strokes, height_labels, shown_ground
from sitepick.sheet.model import Disc, Sheet, Stroke
from sitepick.sheet.page_frame import Paper, paper_named
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.words import clock, count_words, mode_words, spaced_mgrs, zone_words
from sitepick.terrain.model import Terrain

_MAP_FRACS = (0.64, 0.6, 0.56, 0.52, 0.48, 0.62)  # of the paper's height: the first that leaves room for the words
_GIVES_AWAY = ("release", "runout")  # signs of what trainees are to find out by themselves


def pack_sheet(copy: Plan, ground: Ground, terrain: Terrain, worth: Mapping[str, float], *, paper_name: str) -> Sheet:
    """Everything that a trainee is handed on paper.

    Parameters
    ----------
    copy : Plan
        As `trainee.trainee_plan` makes it.
    ground : Ground
        Read for the copy.
    terrain : Terrain
        Only its water is drawn.
    worth : mapping of str to float
        Points of each part that is asked, by item.
    paper_name : str
        Out of `plan.handout.PAPERS`.
    """
    palette, paper = read_palette("paper"), paper_named(paper_name)
    exercise, day = copy.exercise, day_words(copy.march.depart)
    strokes, top_mm = page_head(exercise.title, [*_paragraphs(exercise.task), f"{day}."], paper, palette)
    blocks = [
        *_given_blocks(copy, paper, palette),
        *_mark_blocks(exercise.marks, copy.march.depart, paper, palette, has_map=exercise.given.has_map),
    ]
    head = page_head(f"{exercise.title}: what you are given", [], paper, palette)
    scale, pages = 1, words_below(blocks, top_mm, head, paper, palette)
    if exercise.given.has_map:
        for frac in _MAP_FRACS:
            frame = map_frame(_bounds_m(copy, ground), top_mm, frac * paper.height_mm, ground.grid, paper)
            drawn = _pack_map(copy, ground, terrain, frame, palette)
            below, under_mm = map_with_margin(drawn, frame, ground.grid, copy.march.depart, palette)
            pages = words_below(blocks, under_mm, head, paper, palette)
            if len(pages) == 1:
                break
        scale, strokes = frame.scale_denominator, [*strokes, *below]
    first, *later = pages
    answer_head = page_head(f"{exercise.title}: answer sheet", [f"{day}."], paper, palette)
    answers = words_below(answer_blocks(copy, worth, paper, palette), answer_head[1], answer_head, paper, palette)
    answers[0] = [*answer_head[0], *answers[0]]
    return sheet_of(
        [[*strokes, *first], *later, *answers],
        title=exercise.title, subject="A problem to solve on the map.", scale_denominator=scale,
        paper=paper, palette=palette,
    )  # fmt: skip


def _paragraphs(text: str) -> list[str]:
    return [line.strip() for line in text.splitlines() if line.strip()]


def _route_m(copy: Plan, ground: Ground) -> DoubleArray:
    lon, lat = zip(*copy.route.points, strict=True)
    return np.column_stack(ground.grid.from_lonlat(lon, lat))


def _bounds_m(copy: Plan, ground: Ground) -> tuple[float, float, float, float]:
    """All of the route, as far as there is ground, and every mark on it."""
    points = [_route_m(copy, ground)]
    for mark in copy.exercise.marks:
        lon, lat = zip(*mark.points, strict=True)
        points.append(np.column_stack(ground.grid.from_lonlat(lon, lat)))
    every = np.concatenate(points)
    west, south, east, north = ground.grid.bounds_m
    low = np.clip(every.min(axis=0), (west, south), (east, north))
    high = np.clip(every.max(axis=0), (west, south), (east, north))
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def _pack_map(copy: Plan, ground: Ground, terrain: Terrain, frame: MapFrame, palette: Palette) -> DrawnMap:
    """Ground, grid, route and the marks that trainees see."""
    room = LabelRoom(box_mm=frame.box_mm)
    strokes: list[Stroke] = []
    contour_m: float | None = None
    keys: tuple[str, ...] = ()
    shown = cropped(ground, terrain, frame)
    if shown is not None:
        below, contour_m = ground_strokes(*shown, frame, palette)
        strokes += below
        keys = tuple(key for key in shown_ground(*shown, frame) if key not in _GIVES_AWAY)
    strokes += grid_lines(frame, palette)
    route_m = _route_m(copy, ground)
    if copy.exercise.given.has_route:
        strokes += frame.lines([route_m], 0.6, palette.intent)
        keys = ("route_plain", *keys)
    for east_m, north_m in (route_m[0], route_m[-1]):
        if frame.holds(east_m, north_m):
            x, y = frame.point(east_m, north_m)
            strokes.append(Disc(x_mm=x, y_mm=y, radius_mm=1.0, fill=palette.paper, edge=palette.intent, edge_mm=0.5))
            room.take((x - 1.2, y - 1.2, x + 1.2, y + 1.2))
    marks = mark_strokes(copy.exercise.marks, ground.grid, frame, room, palette)
    if shown is not None and contour_m is not None:
        strokes += height_labels(shown[0], frame, room, palette, contour_m)
    return DrawnMap(strokes=(*strokes, *marks, frame_line(frame, palette)), contour_m=contour_m, keys=keys)


def _given_blocks(copy: Plan, paper: Paper, palette: Palette) -> list[Block]:
    given = copy.exercise.given
    facts = []
    if given.has_unit:
        facts += _unit_facts(copy)
    if given.has_weather:
        facts.append(("Weather", _weather_words(copy)))
    if given.has_time:
        depart = copy.march.depart
        facts.append(("Departure", f"{day_words(depart)} at {depart:%H:%M}, {zone_words(depart)}."))
    facts.append(("Route", _route_words(copy)))
    rows = tuple(_fact(label, text, paper, palette) for label, text in facts)
    return [Block(title="What you are given", rows=rows)]


def _route_words(copy: Plan) -> str:
    """The route by its name, and by its places where no map is given."""
    given, points = copy.exercise.given, copy.route.points
    if given.has_route and given.has_map:
        return f"{copy.route.name}, as drawn on the map."
    if given.has_route:
        return f"{copy.route.name}: {', '.join(_reference(point) for point in points)}."
    ends = "the one end to the other marked on the map"
    if not given.has_map:
        ends = f"{_reference(points[0])} to {_reference(points[-1])}"
    return f"From {ends}; the way between is yours."


def _reference(point: LonLat) -> str:
    return spaced_mgrs(mgrs_reference(*point))


def _unit_facts(copy: Plan) -> list[tuple[str, str]]:
    unit, march = copy.unit, copy.march
    shelters = "; ".join(
        f"{shelter.name} ({shelter.kind.label}, {shelter.people}{', leader' if shelter.is_leaders else ''})"
        for shelter in unit.shelters
    )
    moving = f"{mode_words(march.mode)}{', with a loaded sled' if march.has_sled else ''}"
    people = "1 person" if unit.people == 1 else f"{unit.people} people"
    return [
        ("Unit", f"{people} {moving}, in {count_words(len(unit.shelters), 'shelter')}: {shelters}."),
        ("Spacing", f"At least {copy.camp.spacing_m:.0f} m from middle to middle of two shelters."),
    ]


def _weather_words(copy: Plan) -> str:
    weather = copy.weather
    parts = []
    if weather.temperature_c is not None:
        parts.append(f"{weather.temperature_c:.0f} °C at the coldest".replace("-", "−"))
    if weather.main_wind_from_deg is not None:
        parts.append(f"wind from {weather.main_wind_from_deg:.0f}° (true)")
    if weather.mean_wind_kmh is not None:
        parts.append(f"{weather.mean_wind_kmh:.0f} km/h on open ground")
    if weather.snow_cm is not None:
        parts.append(f"{weather.snow_cm:.0f} cm of snow")
    return f"{', '.join(parts)}." if parts else "Not known."


def _fact(label: str, text: str, paper: Paper, palette: Palette) -> Row:
    label_mm = 24.0
    return table_row((
        Cell(text=label, x_mm=0.0, width_mm=label_mm - 1.0, colour=palette.text, is_bold=True),
        Cell(text=text, x_mm=label_mm, width_mm=paper.inner_mm - label_mm, colour=palette.text),
    ))  # fmt: skip


def _mark_blocks(
    marks: tuple[Mark, ...], depart: datetime, paper: Paper, palette: Palette, *, has_map: bool
) -> list[Block]:
    """What each number on the map means."""
    rows = [
        _mark_row(number, mark, depart, paper, palette, has_map=has_map) for number, mark in enumerate(marks, start=1)
    ]
    return [Block(title="Marks on the map" if has_map else "Marks on the ground", rows=tuple(rows))] if rows else []


def _mark_row(number: int, mark: Mark, depart: datetime, paper: Paper, palette: Palette, *, has_map: bool) -> Row:
    number_mm, kind_mm = 7.0, 34.0
    name = "" if mark.told == mark.meaning.label else f"{mark.told}. "
    place = "" if has_map else f"At {', '.join(_reference(point) for point in mark.points)}. "
    text = f"{name}{place}{mark.note} {_times(mark, depart)}".strip()
    return table_row((
        Cell(text=str(number), x_mm=0.0, width_mm=number_mm - 1.0, colour=palette.text, is_bold=True),
        Cell(text=mark.meaning.label, x_mm=number_mm, width_mm=kind_mm - 1.0, colour=palette.text, is_bold=True),
        Cell(text=text, x_mm=number_mm + kind_mm, width_mm=paper.inner_mm - number_mm - kind_mm, colour=palette.text),
    ), size_mm=BODY_MM)  # fmt: skip


def _times(mark: Mark, depart: datetime) -> str:
    day = depart.date()
    begin = mark.holds_from.astimezone(depart.tzinfo) if mark.holds_from is not None else None
    end = mark.holds_until.astimezone(depart.tzinfo) if mark.holds_until is not None else None
    if begin is not None and end is not None:
        return f"Holds from {clock(begin, day)} to {clock(end, day)}."
    if begin is not None:
        return f"Holds from {clock(begin, day)} on."
    return "" if end is None else f"Holds until {clock(end, day)}."
