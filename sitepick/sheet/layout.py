"""The whole sheet: the answer on top, the map, the camp, then words in columns, on as many A4 pages as they need."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count

from sitepick.sheet.block import sheet_blocks
from sitepick.sheet.camp_plan import camp_strokes
from sitepick.sheet.flow import Block, Column, set_in_columns
from sitepick.sheet.map_frame import MapFrame, fitted_frame
from sitepick.sheet.map_sheet import grid_step_m, grid_values_m, map_strokes
from sitepick.sheet.model import Anchor, Page, Point, Sheet, Stroke, Text
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.scale import check_bar, grid_squares, north_words, principal_digits, scale_bar
from sitepick.sheet.shape import route_parts
from sitepick.sheet.summary import alternate_words, answer_facts, answer_name, caution_count
from sitepick.sheet.typeface import shortened, text_line, width_mm, wrapped
from sitepick.sheet.words import count_words, people_words
from sitepick.tonight import Tonight

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 210.0, 297.0
MARGIN_MM = 10.0
MAP_SCALES = (
    5000, 10_000, 15_000, 20_000, 25_000, 30_000, 40_000, 50_000, 60_000, 75_000, 100_000,
    150_000, 200_000, 250_000, 500_000, 1_000_000,
)  # fmt: skip

_INNER_MM = PAGE_WIDTH_MM - 2 * MARGIN_MM
_COLUMN_MM, _GAP_MM = 60.0, 5.0
_GRID_LABEL_MM = 5.0  # room left of and below the map
_MAP_HEIGHTS_MM = (150.0, 140.0, 130.0, 122.0, 114.0, 106.0, 98.0, 90.0)
_MAP_NOTES_MM = 17.5  # under the map: grid digits, scale, signs
_CAMP_MM = 72.0
_FIT_EDGE_MM = 9.0  # between what must show and the frame
_NAME_SIZES_MM = (5.2, 4.8, 4.4, 4.0)
_FACTS_MM, _SMALL_MM = 3.5, 2.3
_FOOT_MM = 284.0
_INVENTED_WORD = "invented"


def lay_out_sheet(answer: Tonight) -> Sheet:
    """Everything that is printed, as strokes in millimetres.

    Parameters
    ----------
    answer : Tonight
        With or without a pick.

    Returns
    -------
    Sheet
        A4, upright. The map's scale is true on the ground when printed at 100 %.
    """
    palette = read_palette("paper")
    blocks = sheet_blocks(answer, _COLUMN_MM, palette)
    first, map_top_mm = _head(answer, palette)
    map_height_mm = _map_height_mm(answer, blocks, map_top_mm, palette)
    box = (MARGIN_MM + _GRID_LABEL_MM, map_top_mm, _INNER_MM - _GRID_LABEL_MM, map_height_mm)
    frame = _map_frame(answer, box)
    inside, contour_m = map_strokes(answer, frame, palette)
    first += [*inside, *_grid_labels(frame, palette), *_map_notes(answer, frame, contour_m, palette)]

    below_mm = map_top_mm + map_height_mm + _MAP_NOTES_MM
    if answer.camp is not None:
        camp_box = (PAGE_WIDTH_MM - MARGIN_MM - _COLUMN_MM, below_mm, _COLUMN_MM, _CAMP_MM)
        first += camp_strokes(answer, answer.camp, camp_box, palette)
    set_strokes = set_in_columns(blocks, _columns(answer, below_mm), _COLUMN_MM, palette)
    page_count = max(set_strokes, default=0) + 1
    pages = []
    for index in range(page_count):
        strokes = first if index == 0 else _next_head(answer, palette)
        strokes = [*strokes, *set_strokes.get(index, []), *_foot(answer, index, page_count, palette)]
        pages.append(Page(width_mm=PAGE_WIDTH_MM, height_mm=PAGE_HEIGHT_MM, strokes=tuple(strokes)))
    return Sheet(
        title=f"{answer.plan.name}: {answer_name(answer)}",
        subject=f"{answer_facts(answer)} {alternate_words(answer)}".strip(),
        scale_denominator=frame.scale_denominator,
        pages=tuple(pages),
    )


def _head(answer: Tonight, palette: Palette) -> tuple[list[Stroke], float]:
    """The answer as a sentence, and where the map may begin."""
    told = count_words(caution_count(answer), "caution")
    told_mm = width_mm(told, _FACTS_MM, is_bold=True)
    y = MARGIN_MM + 4.2
    room_mm = _INNER_MM - told_mm - 4.0
    name = answer_name(answer)
    fitting = (size for size in _NAME_SIZES_MM if width_mm(name, size, is_bold=True) <= room_mm)
    name_mm = next(fitting, _NAME_SIZES_MM[-1])
    name = shortened(name, name_mm, room_mm, is_bold=True)
    strokes: list[Stroke] = [
        text_line(name, (MARGIN_MM, y), name_mm, palette.text, is_bold=True),
        text_line(told, (PAGE_WIDTH_MM - MARGIN_MM, y), _FACTS_MM, palette.text, is_bold=True, anchor="end"),
    ]
    y += 1.2
    for sentence, colour in ((answer_facts(answer), palette.text), (alternate_words(answer), palette.soft_text)):
        for line in wrapped(sentence, _FACTS_MM, _INNER_MM):
            y += 4.5
            strokes.append(text_line(line, (MARGIN_MM, y), _FACTS_MM, colour))
    day = answer.march.depart
    plan_line = f"{answer.plan.name}, {day.day} {day:%B %Y}. {people_words(answer)}."
    if answer.plan.note:
        plan_line += f" {answer.plan.note}"
    y += 4.2
    strokes.append(text_line(shortened(plan_line, 2.8, _INNER_MM), (MARGIN_MM, y), 2.8, palette.soft_text))
    return strokes, y + 2.5


def _next_head(answer: Tonight, palette: Palette) -> list[Stroke]:
    name = shortened(f"{answer_name(answer)} {answer.plan.name}", _FACTS_MM, _INNER_MM, is_bold=True)
    return [text_line(name, (MARGIN_MM, MARGIN_MM + 3.5), _FACTS_MM, palette.text, is_bold=True)]


def _map_frame(answer: Tonight, box_mm: tuple[float, float, float, float]) -> MapFrame:
    """At the largest round scale that shows the reached route, the pick and the alternate."""
    reached, _ = route_parts(answer.march)
    west, south = reached.min(axis=0)
    east, north = reached.max(axis=0)
    for site in answer.sites.pick_and_alternate():
        bounds = site.outline_m.bounds
        west, south = min(west, bounds[0]), min(south, bounds[1])
        east, north = max(east, bounds[2]), max(north, bounds[3])
    left, top, width, height = box_mm
    edge = _FIT_EDGE_MM
    inner = (left + edge, top + edge, width - 2 * edge, height - 2 * edge)
    fitted = fitted_frame(inner, (west, south, east, north), answer.ground.grid, MAP_SCALES)
    return MapFrame(
        x_mm=left, y_mm=top, width_mm=width, height_mm=height, scale_denominator=fitted.scale_denominator,
        centre_east_m=fitted.centre_east_m, centre_north_m=fitted.centre_north_m, point_scale=fitted.point_scale,
    )  # fmt: skip


def _grid_labels(frame: MapFrame, palette: Palette) -> list[Stroke]:
    """The lines' principal digits outside the frame, left and below."""
    west, south, east, north = frame.bounds_m
    step_m = grid_step_m(frame)
    left, _, _, bottom = frame.box_mm
    strokes: list[Stroke] = []
    for at in grid_values_m(west, east, step_m):
        x, _ = frame.point(at, south)
        strokes.append(_grid_label(at, (x, bottom + 2.6), "middle", palette))
    for at in grid_values_m(south, north, step_m):
        _, y = frame.point(west, at)
        strokes.append(_grid_label(at, (left - 0.9, y + 0.8), "end", palette))
    return strokes


def _grid_label(value_m: float, at_mm: Point, anchor: Anchor, palette: Palette) -> Text:
    """Whole kilometres stand out from what lies between them."""
    is_whole = round(value_m) % 1000 == 0
    colour = palette.text if is_whole else palette.soft_text
    return text_line(principal_digits(value_m), at_mm, _SMALL_MM, colour, is_bold=is_whole, anchor=anchor)


def _map_notes(answer: Tonight, frame: MapFrame, contour_m: float | None, palette: Palette) -> list[Stroke]:
    """Scale, norths, grid and signs under the map."""
    left, _, right, bottom = frame.box_mm
    y = bottom + 6.6
    scale = f"1:{frame.scale_denominator:,}".replace(",", " ")
    strokes: list[Stroke] = [text_line(scale, (left, y), 3.2, palette.text, is_bold=True)]
    bar_at = left + width_mm(scale, 3.2, is_bold=True) + 3.0
    strokes += scale_bar(frame, (bar_at, y - 0.3), 45.0, palette)
    strokes += check_bar((right - 100.0, y - 0.3), palette)

    grid = answer.ground.grid
    lines = [f"Grid every {grid_step_m(frame):g} m, {grid.crs}, square {' and '.join(grid_squares(grid, frame))}."]
    if contour_m is not None:
        lines.append(f"Contours every {contour_m:g} m.")
    lines.append(north_words(grid, frame))
    lines.append(
        "Black: route, dashed where not reached, dotted off it to sites 1 and 2. Dark blue: reach at likely pace; "
        "dotted if fast, dashed if slow. Hatch: named hazard, or ground not known."
    )
    y += 0.6
    for line in wrapped(" ".join(lines), _SMALL_MM, right - left):
        y += 3.0
        strokes.append(text_line(line, (left, y), _SMALL_MM, palette.soft_text))
    if _INVENTED_WORD in answer.plan.note.lower():
        strokes.append(
            text_line(
                "Invented ground: no place on earth",
                (right - 2.0, bottom - 2.0),
                4.0,
                palette.text,
                is_bold=True,
                anchor="end",
                halo=palette.paper,
            )
        )
    return strokes


def _map_height_mm(answer: Tonight, blocks: tuple[Block, ...], map_top_mm: float, palette: Palette) -> float:
    """The highest map that leaves the words on one page; a middling one where they need more pages anyway."""
    for height_mm in _MAP_HEIGHTS_MM:
        columns = _columns(answer, map_top_mm + height_mm + _MAP_NOTES_MM)
        if max(set_in_columns(blocks, columns, _COLUMN_MM, palette), default=0) == 0:
            return height_mm
    return _MAP_HEIGHTS_MM[len(_MAP_HEIGHTS_MM) // 2]


def _columns(answer: Tonight, top_mm: float) -> Iterator[Column]:
    """Three columns beside and under the camp on the first page, three on every page after it."""
    bottom_mm = _FOOT_MM - 3.5
    camp_mm = _CAMP_MM + 3.0 if answer.camp is not None else 0.0
    for index in range(3):
        y = top_mm + (camp_mm if index == 2 else 0.0)
        yield Column(page_index=0, x_mm=_column_left_mm(index), y_mm=y, height_mm=bottom_mm - y)
    for page_index in count(1):
        for index in range(3):
            y = MARGIN_MM + 8.0
            yield Column(page_index=page_index, x_mm=_column_left_mm(index), y_mm=y, height_mm=bottom_mm - y)


def _column_left_mm(index: int) -> float:
    return MARGIN_MM + index * (_COLUMN_MM + _GAP_MM)


def _foot(answer: Tonight, index: int, page_count: int, palette: Palette) -> list[Stroke]:
    """The standing word on every page."""
    right = PAGE_WIDTH_MM - MARGIN_MM
    page = f"page {index + 1} of {page_count}"
    words = (
        "A map can't see the ground. Local rules, the land owner's permission and trained judgement on the ground come "
        "first."
    )
    room = _INNER_MM - width_mm(page, _SMALL_MM) - 4.0
    return [
        text_line(shortened(words, _SMALL_MM, room), (MARGIN_MM, _FOOT_MM + 2.0), _SMALL_MM, palette.text),
        text_line(page, (right, _FOOT_MM + 2.0), _SMALL_MM, palette.soft_text, anchor="end"),
    ]
