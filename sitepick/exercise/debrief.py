"""A trainee's debrief on paper: their pick on the map beside the best in reach, factor by factor, in kind words."""

from __future__ import annotations

from sitepick.exercise.debrief_map import PickSign, debrief_frame, debrief_map
from sitepick.exercise.model import Assessment, ItemResult, RuleCheck
from sitepick.exercise.page import day_words, map_with_margin, page_head, sheet_of, words_below
from sitepick.exercise.standard import Standard
from sitepick.exercise.trainee import trainee_title
from sitepick.exercise.words import ITEM_LABELS, better_words, opening_words
from sitepick.plan.model import Plan
from sitepick.sheet.flow import BODY_MM, SMALL_MM, Block, Cell, Row, paragraph, table_row
from sitepick.sheet.model import Area, Line, Sheet, Stroke
from sitepick.sheet.page_frame import Paper, paper_named
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.words import measure_words
from sitepick.sites.model import Measure

_MAP_FRAC = 0.36  # of the paper's height
_BAR_MM, _BAR_HIGH_MM = 26.0, 2.0


def debrief_sheet(plan: Plan, standard: Standard, one: Assessment) -> Sheet:
    """One trainee's debrief.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    standard : Standard
    one : Assessment
    """
    palette, paper = read_palette("paper"), paper_named(plan.handout.paper)
    title = f"{trainee_title(plan)}: debrief for {one.trainee}"
    strokes, top_mm = page_head(title, [_points_words(one, plan), opening_words(one)], paper, palette)
    signs = [
        PickSign(pick=pick, text=text, is_first=text == "P")
        for pick, text in ((one.alternate, "A"), (one.pick, "P"))
        if pick is not None
    ]
    frame = debrief_frame(standard, signs, top_mm, _MAP_FRAC * paper.height_mm, paper)
    drawn = debrief_map(standard, signs, frame, palette)
    below, top_mm = map_with_margin(drawn, frame, standard.answer.ground.grid, plan.march.depart, palette)
    blocks = [
        _key_block(one, plan, paper, palette),
        _factor_block(one, standard, paper, palette),
        _item_block(one, paper, palette),
        _check_block("Your layout, rule by rule", one.layout, paper, palette),
        _check_block("Your timetable", one.timetable, paper, palette),
        _note_block(one, standard, paper, palette),
    ]
    head = page_head(title, [], paper, palette)
    first, *later = words_below([block for block in blocks if block.rows], top_mm, head, paper, palette)
    return sheet_of(
        [[*strokes, *below, *first], *later], title=title, subject=_points_words(one, plan),
        scale_denominator=frame.scale_denominator, paper=paper, palette=palette,
    )  # fmt: skip


def _points_words(one: Assessment, plan: Plan) -> str:
    left = sum(item.worth for item in one.items if item.points is None)
    rest = f" {left:g} more are with the trainer." if left else ""
    return f"{one.points:.0f} of {one.worth:g} points, {one.percent:.0f} %.{rest} {day_words(plan.march.depart)}."


def _key_block(one: Assessment, plan: Plan, paper: Paper, palette: Palette) -> Block:
    told = ["P is your pick"] if one.pick is not None else []
    told += ["A your alternate"] if one.alternate is not None else []
    told.append("numbered discs are the best places that the ground offers in reach, 1 before all others")
    text = ", ".join(told)
    if any(mark.is_for_trainees for mark in plan.exercise.marks):
        text += "; diamonds are the exercise's marks"
    return Block(
        title="On the map", rows=(paragraph(f"{text[0].upper()}{text[1:]}.", paper.inner_mm, palette.text),)
    )  # fmt: skip


def _factor_block(one: Assessment, standard: Standard, paper: Paper, palette: Palette) -> Block:
    """Each factor of the pick beside the best place's, and the best of it that any place had."""
    if one.pick is None or not one.pick.measures:
        return Block(title="", rows=())
    heads = ("", "your place", "score", "best place", "score", "most to be had")
    rows = [_factor_row(heads, None, None, paper, palette)]
    best_by_name = {measure.name: measure for measure in standard.best_measures}
    for measure in sorted(one.pick.measures, key=lambda measure: -measure.weight):
        best, most = best_by_name.get(measure.name), standard.best_of(measure.name)
        if measure.weight <= 0.0:
            continue
        texts = (
            _upper_first(measure.label), measure_words(measure), "",
            "none" if best is None else measure_words(best), "", "none" if most is None else measure_words(most),
        )  # fmt: skip
        rows.append(_factor_row(texts, measure, best, paper, palette))
    return Block(title="Your place beside the best, what counts most first", rows=tuple(rows))


def _factor_row(
    texts: tuple[str, ...], mine: Measure | None, best: Measure | None, paper: Paper, palette: Palette
) -> Row:  # fmt: skip
    edges = (0.0, 44.0, 70.0, 102.0, 128.0, 160.0)
    colour = palette.soft_text if mine is None else palette.text
    widths = [right - left - 2.0 for left, right in zip(edges, (*edges[1:], paper.inner_mm + 2.0), strict=True)]
    cells = tuple(
        Cell(text=text, x_mm=x, width_mm=wide, colour=colour, is_bold=index == 0 and mine is not None)
        for index, (text, x, wide) in enumerate(zip(texts, edges, widths, strict=True))
    )
    row = table_row(cells, size_mm=BODY_MM if mine is not None else SMALL_MM)
    bars: list[Stroke] = []
    for measure, x in ((mine, edges[2]), (best, edges[4])):
        bars += [] if measure is None else score_bar(x, 0.6, measure.score, palette)
    return Row(height_mm=row.height_mm + 0.5, strokes=(*row.strokes, *bars))


def score_bar(x_mm: float, y_mm: float, score: float, palette: Palette, *, long_mm: float = _BAR_MM) -> list[Stroke]:
    """A score 0-1 as a bar in a frame."""

    def ring(long: float) -> tuple[tuple[float, float], ...]:
        right, bottom = round(x_mm + long, 3), round(y_mm + _BAR_HIGH_MM, 3)
        return (x_mm, y_mm), (right, y_mm), (right, bottom), (x_mm, bottom), (x_mm, y_mm)

    filled = max(0.0, min(1.0, score)) * long_mm
    strokes: list[Stroke] = [Area(rings_mm=(ring(long_mm),), fill=palette.measure_back)]
    strokes += [Area(rings_mm=(ring(filled),), fill=palette.measure_bar)] if filled > 0.05 else []
    return [*strokes, Line(points_mm=ring(long_mm), width_mm=0.1, colour=palette.edge)]


def _item_block(one: Assessment, paper: Paper, palette: Palette) -> Block:
    rows = [row for item in one.items for row in _item_rows(item, paper, palette)]
    return Block(title="Points", rows=tuple(rows))


def _item_rows(item: ItemResult, paper: Paper, palette: Palette) -> list[Row]:
    label_mm, points_mm = 44.0, 26.0
    text_mm = label_mm + points_mm
    points = "with the trainer" if item.points is None else f"{item.points:.1f} of {item.worth:g}"
    rows = [
        table_row((
            Cell(text=ITEM_LABELS[item.item], x_mm=0.0, width_mm=label_mm - 2.0, colour=palette.text, is_bold=True),
            Cell(text=points, x_mm=label_mm, width_mm=points_mm - 2.0, colour=palette.text),
            Cell(text=item.sentence, x_mm=text_mm, width_mm=paper.inner_mm - text_mm, colour=palette.text),
        ))
    ]  # fmt: skip
    if item.note:
        before = "" if item.reckoned is None else f" (reckoned: {item.reckoned:.1f})"
        cell = Cell(
            text=f"Changed by the trainer{before}: {item.note}", x_mm=text_mm, width_mm=paper.inner_mm - text_mm,
            colour=palette.soft_text,
        )  # fmt: skip
        rows.append(table_row((cell,)))
    return rows


def _check_block(title: str, checks: tuple[RuleCheck, ...], paper: Paper, palette: Palette) -> Block:
    """Rules that are broken, each with how nearly it is kept, then all others together."""
    mark_mm = 16.0
    rows = [
        table_row((
            Cell(text=f"{100.0 * check.kept_frac:.0f} %", x_mm=0.0, width_mm=mark_mm - 2.0, colour=palette.text,
                 is_bold=True),
            Cell(text=check.sentence, x_mm=mark_mm, width_mm=paper.inner_mm - mark_mm, colour=palette.text),
        ))
        for check in sorted(checks, key=lambda check: check.kept_frac)
        if not check.is_kept
    ]  # fmt: skip
    kept = " ".join(check.sentence for check in checks if check.is_kept)
    if kept:
        rows.append(
            table_row((
                Cell(text="kept", x_mm=0.0, width_mm=mark_mm - 2.0, colour=palette.text),
                Cell(text=kept, x_mm=mark_mm, width_mm=paper.inner_mm - mark_mm, colour=palette.soft_text),
            ))
        )  # fmt: skip
    return Block(title=title, rows=tuple(rows))


def _note_block(one: Assessment, standard: Standard, paper: Paper, palette: Palette) -> Block:
    texts = [text for text in (better_words(one, standard), *one.submission.notes) if text]
    best = standard.answer.sites.sites[:1]
    texts += [f"About the best place: {site.reason}" for site in best if site.reason]
    rows = tuple(paragraph(text, paper.inner_mm, palette.text) for text in texts)
    return Block(title="To take along", rows=rows)


def _upper_first(text: str) -> str:
    return text[:1].upper() + text[1:]
