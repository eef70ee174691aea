"""What a plan can't know and a leader must say: lines to fill in by hand, the same on the sheet as in the order."""

from __future__ import annotations

from sitepick.plan.handout import SECTION_TITLES
from sitepick.sheet.flow import BODY_MM, SMALL_MM, Block, Row, paragraph
from sitepick.sheet.model import Line, moved
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import text_line, width_mm
from sitepick.tonight import Tonight

SIGNALS = (
    "Leader, and who takes over",
    "Communication check at the site before anyone pitches",
    "Channels and times to listen",
    "Recognition signals",
)
CASUALTIES = ("Nearest road or landing place", "Who to call, and how")
_LEAST_LINE_MM = 22.0  # to write on
_ROW_MM = 6.2
_APART_MM = 1.6


def fill_in_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    """Signals and casualties, with room to write, and the way out for a casualty where the camp knows one."""
    work = answer.camp.work if answer.camp is not None else None
    rows = [] if work is None else [paragraph(work.way_out, width_mm, palette.text, size_mm=SMALL_MM)]
    for what in (*SIGNALS, *CASUALTIES):
        rows += _open_rows(what, width_mm, palette)
    return Block(title="To fill in: signals and casualties", rows=tuple(rows))


def leader_block(answer: Tonight, width_mm: float, palette: Palette) -> Block:
    """The leader's own lines, as the order has them."""
    notes = answer.plan.handout.notes
    told = [f"{title}: {line}" for name, title in SECTION_TITLES.items() for line in notes.lines(name)]
    rows = tuple(paragraph(text, width_mm, palette.text) for text in told)
    return Block(title="The leader adds", rows=rows)


def _open_rows(what: str, room_mm: float, palette: Palette) -> list[Row]:
    """What is to be filled in and a line, beside it or, where that would be short, below it."""
    wide_mm = width_mm(what, BODY_MM) + 1.5
    base_mm = _ROW_MM - 1.6
    if room_mm - wide_mm >= _LEAST_LINE_MM:
        label = text_line(what, (0.0, base_mm), BODY_MM, palette.text)
        return [Row(height_mm=_ROW_MM, strokes=(label, _rule(wide_mm, room_mm, base_mm, palette)))]
    above = paragraph(what, room_mm, palette.text)
    rule = _rule(0.0, room_mm, _APART_MM + above.height_mm + base_mm - 1.0, palette)
    strokes = tuple(moved(stroke, 0.0, _APART_MM) for stroke in above.strokes)
    return [Row(height_mm=_APART_MM + above.height_mm + _ROW_MM - 1.0, strokes=(*strokes, rule))]


def _rule(left_mm: float, right_mm: float, y_mm: float, palette: Palette) -> Line:
    return Line(points_mm=((left_mm, y_mm + 0.4), (right_mm, y_mm + 0.4)), width_mm=0.15, colour=palette.text)
