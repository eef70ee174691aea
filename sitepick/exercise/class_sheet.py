"""The class on paper: everyone's pick on one map, the table, the spread, what most of them missed."""

from __future__ import annotations

from sitepick.exercise.class_table import limit_words
from sitepick.exercise.debrief import score_bar
from sitepick.exercise.debrief_map import PickSign, debrief_frame, debrief_map
from sitepick.exercise.model import Assessment, ClassResult, Spread
from sitepick.exercise.page import day_words, map_with_margin, page_head, sheet_of, words_below
from sitepick.exercise.standard import Standard
from sitepick.exercise.trainee import trainee_title
from sitepick.plan.model import Plan
from sitepick.sheet.flow import BODY_MM, SMALL_MM, Block, Cell, Row, paragraph, table_row
from sitepick.sheet.model import Area, Line, Sheet, Stroke
from sitepick.sheet.page_frame import Paper, paper_named
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.typeface import text_line
from sitepick.sheet.words import count_words

_MAP_FRAC = 0.36  # of the paper's height
_NUMBER_MM, _NAME_MM, _BAR_MM, _PERCENT_MM, _POINTS_MM = 8.0, 44.0, 40.0, 14.0, 28.0


def class_sheet(plan: Plan, standard: Standard, result: ClassResult) -> Sheet:
    """The class's sheet, for the trainer.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    standard : Standard
    result : ClassResult
    """
    palette, paper = read_palette("paper"), paper_named(plan.handout.paper)
    title = f"{trainee_title(plan)}: the class"
    words = [f"{day_words(plan.march.depart)}. {_count_words(result)}"]
    strokes, top_mm = page_head(title, words, paper, palette)
    signs = [
        PickSign(pick=one.pick, text=str(number))
        for number, one in enumerate(result.assessments, start=1)
        if one.pick is not None
    ]
    frame = debrief_frame(standard, signs, top_mm, _MAP_FRAC * paper.height_mm, paper)
    drawn = debrief_map(standard, signs, frame, palette)
    below, top_mm = map_with_margin(drawn, frame, standard.answer.ground.grid, plan.march.depart, palette)
    blocks = [
        _spread_block(result.spread, paper, palette),
        _missed_block(result, paper, palette),
        _table_block(result, paper, palette),
        _note_block(result, paper, palette),
    ]
    head = page_head(title, [], paper, palette)
    first, *later = words_below([block for block in blocks if block.rows], top_mm, head, paper, palette)
    return sheet_of(
        [[*strokes, *below, *first], *later], title=title, subject=_count_words(result),
        scale_denominator=frame.scale_denominator, paper=paper, palette=palette,
    )  # fmt: skip


def _count_words(result: ClassResult) -> str:
    told = f"{count_words(len(result.assessments), 'answer')} handed in"
    return f"{told}, {len(result.absent)} missing." if result.absent else f"{told}."


def _table_block(result: ClassResult, paper: Paper, palette: Palette) -> Block:
    rows = [_trainee_row(number, one, paper, palette) for number, one in enumerate(result.assessments, start=1)]
    rows += [_absent_row(name, paper, palette) for name in result.absent]
    measured = max((one.pick.place_count for one in result.assessments if one.pick is not None), default=0)
    title = f"Everyone by name, numbers as on the map; place: rank among {count_words(measured, 'place')} measured"
    return Block(title=title, rows=tuple(rows))


def _trainee_row(number: int, one: Assessment, paper: Paper, palette: Palette) -> Row:
    bar_at = _NUMBER_MM + _NAME_MM
    percent_at = bar_at + _BAR_MM + 2.0
    points_at = percent_at + _PERCENT_MM
    told_at = points_at + _POINTS_MM
    row = table_row((
        Cell(text=str(number), x_mm=0.0, width_mm=_NUMBER_MM - 2.0, colour=palette.text, is_bold=True),
        Cell(text=one.trainee, x_mm=_NUMBER_MM, width_mm=_NAME_MM - 2.0, colour=palette.text),
        Cell(text=f"{one.percent:.0f} %", x_mm=percent_at, width_mm=_PERCENT_MM - 3.0, colour=palette.text,
             is_bold=True, to_right=True),
        Cell(text=f"{one.points:.1f} of {one.worth:g}", x_mm=points_at, width_mm=_POINTS_MM - 2.0, colour=palette.text),
        Cell(text=_telling(one), x_mm=told_at, width_mm=paper.inner_mm - told_at, colour=palette.text),
    ))  # fmt: skip
    bar = score_bar(bar_at, 0.5, one.percent / 100.0, palette, long_mm=_BAR_MM)
    return Row(height_mm=row.height_mm + 0.4, strokes=(*row.strokes, *bar))


def _telling(one: Assessment) -> str:
    """What matters most about an answer, in a few words."""
    if one.pick is None:
        return "no pick"
    if one.pick.broken:
        return ", ".join(dict.fromkeys(limit_words(limit.name) for limit in one.pick.broken))
    told = f"place {one.pick.rank}"
    return f"{told}; missed: {one.missed_factor}" if one.missed_factor else told


def _absent_row(name: str, paper: Paper, palette: Palette) -> Row:
    told_at = _NUMBER_MM + _NAME_MM
    return table_row((
        Cell(text=name, x_mm=_NUMBER_MM, width_mm=_NAME_MM - 2.0, colour=palette.soft_text),
        Cell(text="nothing handed in", x_mm=told_at, width_mm=paper.inner_mm - told_at, colour=palette.soft_text),
    ))  # fmt: skip


def _spread_block(spread: Spread | None, paper: Paper, palette: Palette) -> Block:
    """A strip from 0 to 100 per cent: a thin line for everyone, a bar for the middle half, a mark in the middle."""
    if spread is None:
        return Block(title="", rows=())
    text = (
        f"From {spread.lowest:.0f} to {spread.highest:.0f} %; the middle half of the class lies between "
        f"{spread.lower_quarter:.0f} and {spread.upper_quarter:.0f} %, the middle itself at {spread.middle:.0f} %."
    )
    rows = (paragraph(text, paper.inner_mm, palette.text), _strip(spread, paper, palette))
    return Block(title="How the class lies", rows=rows)


def _strip(spread: Spread, paper: Paper, palette: Palette) -> Row:
    left, right, y = 4.0, paper.inner_mm - 6.0, 3.0

    def at(percent: float) -> float:
        return round(left + (right - left) * percent / 100.0, 3)

    low, high = at(spread.lower_quarter), at(spread.upper_quarter)
    half = ((low, y - 1.4), (high, y - 1.4), (high, y + 1.4), (low, y + 1.4), (low, y - 1.4))
    strokes: list[Stroke] = [
        Line(points_mm=((at(0.0), y + 3.0), (at(100.0), y + 3.0)), width_mm=0.15, colour=palette.edge),
        Line(points_mm=((at(spread.lowest), y), (at(spread.highest), y)), width_mm=0.4, colour=palette.text),
        Area(rings_mm=(half,), fill=palette.measure_bar),
        Line(points_mm=((at(spread.middle), y - 2.0), (at(spread.middle), y + 2.0)), width_mm=0.8, colour=palette.text),
    ]
    for percent in (0, 25, 50, 75, 100):
        x = at(percent)
        strokes.append(Line(points_mm=((x, y + 3.0), (x, y + 3.8)), width_mm=0.15, colour=palette.edge))
        strokes.append(text_line(f"{percent} %", (x, y + 6.4), SMALL_MM, palette.soft_text, anchor="middle"))
    return Row(height_mm=y + 8.0, strokes=tuple(strokes))


def _missed_block(result: ClassResult, paper: Paper, palette: Palette) -> Block:
    told = []
    if result.missed:
        told.append(f"Most missed against the best place: {_counts(result.missed)}.")
    if result.broken:
        told.append(f"Limits broken: {_counts(tuple((limit_words(name), count) for name, count in result.broken))}.")
    rows = tuple(paragraph(text, paper.inner_mm, palette.text, size_mm=BODY_MM) for text in told)
    return Block(title="What to go over together", rows=rows)


def _counts(pairs: tuple[tuple[str, int], ...]) -> str:
    return ", ".join(f"{words} ({count})" for words, count in pairs)


def _note_block(result: ClassResult, paper: Paper, palette: Palette) -> Block:
    notes = [*result.notes]
    notes += [f"{one.trainee}: {note}" for one in result.assessments for note in one.submission.notes]
    rows = tuple(paragraph(text, paper.inner_mm, palette.text, size_mm=SMALL_MM) for text in notes)
    return Block(title="Notes on what came in", rows=rows)
