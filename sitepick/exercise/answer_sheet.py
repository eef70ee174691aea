"""The blank answer sheet: lines to write on for all that is asked, with what each part is worth."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from sitepick.plan.model import Plan
from sitepick.sheet.flow import BODY_MM, SMALL_MM, Block, Row, paragraph
from sitepick.sheet.model import Line, Stroke
from sitepick.sheet.page_frame import Paper
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import shortened, text_line, width_mm

_LINE_MM = 9.0  # between two lines to write on
_REASON_LINES = 8
_MORE_PLACES = ("Latrine", "Drinking water", "Waste", "Fire", "", "")
_GRID_MM, _SKETCH_MM = 5.0, 200.0


def answer_blocks(copy: Plan, worth: Mapping[str, float], paper: Paper, palette: Palette) -> list[Block]:
    """What a trainee fills in.

    Parameters
    ----------
    copy : Plan
        As `trainee.trainee_plan` makes it.
    worth : mapping of str to float
        Points by item.
    paper : Paper
    palette : Palette
    """
    asked, room = copy.exercise.asked, paper.inner_mm
    pick_points = worth.get("limits", 0.0) + worth.get("ground", 0.0)
    blocks = [
        _written("", [("Name", room * 0.55), ("Date", room * 0.45)], palette),
        _written(_titled("Your pick", pick_points), [("Grid reference", room)], palette),
    ]
    if asked.has_alternate:
        title = _titled("Your alternate", worth.get("alternate", 0.0))
        blocks.append(_written(title, [("Grid reference", room)], palette))
    if asked.has_timetable:
        title = _titled("Your timetable", worth.get("timetable", 0.0))
        fields = [("On the site at", room / 2), ("Everyone under shelter at", room / 2)]
        blocks.append(_written(title, fields, palette))
    if asked.has_reasons:
        rows = tuple(_line(room, palette) for _ in range(_REASON_LINES))
        blocks.append(Block(title=_titled("Your reasons", worth.get("reasons", 0.0)), rows=rows))
    if asked.has_layout:
        blocks += _layout_blocks(copy, worth.get("layout", 0.0), paper, palette)
    return blocks


def _titled(title: str, points: float) -> str:
    return f"{title} ({points:g} points)" if points > 0.0 else title


def _written(title: str, fields: Sequence[tuple[str, float]], palette: Palette) -> Block:
    """Labels, each with a line after it, side by side."""
    strokes: list[Stroke] = []
    left = 0.0
    for label, room_mm in fields:
        strokes.append(text_line(label, (left, _LINE_MM - 2.0), BODY_MM, palette.text))
        begin = left + width_mm(label, BODY_MM) + 2.0
        strokes.append(_rule(begin, left + room_mm - 3.0, palette))
        left += room_mm
    return Block(title=title, rows=(Row(height_mm=_LINE_MM, strokes=tuple(strokes)),))


def _line(room_mm: float, palette: Palette) -> Row:
    return Row(height_mm=_LINE_MM, strokes=(_rule(0.0, room_mm, palette),))


def _rule(left_mm: float, right_mm: float, palette: Palette) -> Line:
    y = _LINE_MM - 1.4
    return Line(points_mm=((left_mm, y), (right_mm, y)), width_mm=0.15, colour=palette.soft_text)


def _layout_blocks(copy: Plan, points: float, paper: Paper, palette: Palette) -> list[Block]:
    """A table of places, and squares to sketch on."""
    names = [shelter.name for shelter in copy.unit.shelters] if copy.exercise.given.has_unit else [""] * 5
    rows = [_place_row(name, paper, palette, has_door=True) for name in names]
    rows += [_place_row(name, paper, palette, has_door=False) for name in _MORE_PLACES]
    hint = paragraph(
        "Doors as true bearings: where each looks to. What else the camp needs stands under the shelters.",
        paper.inner_mm, palette.soft_text, size_mm=SMALL_MM,
    )  # fmt: skip
    return [
        Block(title=_titled("Your layout", points), rows=(hint, *rows)),
        Block(title="Sketch of the camp", rows=(_squares(paper, palette),)),
    ]


def _place_row(name: str, paper: Paper, palette: Palette, *, has_door: bool) -> Row:
    name_mm, door_mm = 50.0, 45.0
    door_at = paper.inner_mm - door_mm
    label, door = "Grid reference", "Door"
    base = _LINE_MM - 2.0
    told = shortened(name, BODY_MM, name_mm - 2.0, is_bold=True)
    strokes: list[Stroke] = [
        text_line(told, (0.0, base), BODY_MM, palette.text, is_bold=True),
        text_line(label, (name_mm, base), SMALL_MM, palette.soft_text),
        _rule(name_mm + width_mm(label, SMALL_MM) + 2.0, door_at - 3.0, palette),
    ]
    if has_door:
        strokes.append(text_line(door, (door_at, base), SMALL_MM, palette.soft_text))
        strokes.append(_rule(door_at + width_mm(door, SMALL_MM) + 2.0, paper.inner_mm, palette))
    if not name:
        strokes.append(_rule(0.0, name_mm - 3.0, palette))
    return Row(height_mm=_LINE_MM, strokes=tuple(strokes))


def _squares(paper: Paper, palette: Palette) -> Row:
    across = int(paper.inner_mm // _GRID_MM)
    down = int(_SKETCH_MM // _GRID_MM)
    right, bottom = across * _GRID_MM, down * _GRID_MM
    strokes: list[Stroke] = [
        Line(points_mm=((k * _GRID_MM, 0.0), (k * _GRID_MM, bottom)), width_mm=0.1, colour=palette.edge)
        for k in range(across + 1)
    ]
    strokes += [
        Line(points_mm=((0.0, k * _GRID_MM), (right, k * _GRID_MM)), width_mm=0.1, colour=palette.edge)
        for k in range(down + 1)
    ]
    return Row(height_mm=_SKETCH_MM + 1.0, strokes=tuple(strokes))
