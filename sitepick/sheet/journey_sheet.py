"""The comparison on paper: routes side by side with a small picture each, then every route day by day."""

from __future__ import annotations

from sitepick.journey.model import Day, Journey, RouteJourney
from sitepick.sheet.cautions import STANDING_CAUTIONS
from sitepick.sheet.flow import SMALL_MM, Block, Cell, Row, paragraph, set_in_columns, table_row
from sitepick.sheet.journey_picture import bounds_of, route_picture
from sitepick.sheet.journey_words import (
    comparison_rows,
    day_mends,
    route_cautions,
    route_line,
    rule_words,
)
from sitepick.sheet.model import Line, Page, Sheet, Stroke, moved
from sitepick.sheet.page_frame import MARGIN_MM, Paper, foot, paper_named
from sitepick.sheet.palette import Palette, read_palette
from sitepick.sheet.typeface import shortened, text_line, wrapped
from sitepick.sheet.words import clock, count_words, kilometres, zone_words

_GAP_MM = 4.0
_LABEL_MM = 38.0
_PICTURE_MM = 58.0
_NAME_MM = 3.6
_A_ROW = 3  # pictures side by side


def lay_out_journey(journey: Journey, *, paper_name: str | None = None) -> Sheet:
    """The comparison page and the days behind it.

    Parameters
    ----------
    journey : Journey
        With the full answers of its days, or without.
    paper_name : str, optional
        One of `plan.handout.PAPERS`; the plan's own when left out.
    """
    palette = read_palette("paper")
    paper = paper_named(paper_name or journey.plan.handout.paper)
    title = f"{journey.plan.name}: {count_words(len(journey.routes), 'route')} side by side"
    first, top_mm = _head(journey, title, paper, palette)
    top_mm = _pictures(journey, first, top_mm, paper, palette)
    top_mm = _table(journey, first, top_mm, paper, palette)
    blocks = [_words_block(journey, paper, palette)]
    blocks += [_route_block(journey.routes[index], paper.column_mm, palette) for index in journey.order]
    blocks += [_caution_block(journey.routes[index], paper.column_mm, palette) for index in journey.order]
    blocks.append(_standing_block(paper.column_mm, palette))
    drawn = _with_blocks(blocks, first, top_mm, paper, palette)
    pages = tuple(
        Page(
            width_mm=paper.width_mm,
            height_mm=paper.height_mm,
            strokes=(*strokes, *foot(paper, index, len(drawn), palette)),
        )
        for index, strokes in enumerate(drawn)
    )
    return Sheet(title=title, subject=journey.words[0], scale_denominator=1, pages=pages)


def _head(journey: Journey, title: str, paper: Paper, palette: Palette) -> tuple[list[Stroke], float]:
    y = MARGIN_MM + 4.2
    strokes: list[Stroke] = []
    for line in wrapped(title, 5.2, paper.inner_mm, is_bold=True):
        strokes.append(text_line(line, (MARGIN_MM, y), 5.2, palette.text, is_bold=True))
        y += 6.0
    depart = journey.plan.march.depart
    told = f"From {depart.day} {depart:%B %Y}, {clock(depart)} {zone_words(depart)}. {rule_words(journey)}"
    for line in wrapped(f"{told} {journey.plan.note}".strip(), 2.8, paper.inner_mm):
        strokes.append(text_line(line, (MARGIN_MM, y), 2.8, palette.soft_text))
        y += 3.7
    for line in wrapped(journey.words[0], 3.8, paper.inner_mm, is_bold=True):
        y += 1.2
        strokes.append(text_line(line, (MARGIN_MM, y + 2.0), 3.8, palette.text, is_bold=True))
        y += 4.4
    return strokes, y + 2.0


def _pictures(journey: Journey, strokes: list[Stroke], top_mm: float, paper: Paper, palette: Palette) -> float:
    """A picture a route, all at one scale; where the next thing may begin."""
    routes = tuple(journey.routes[index] for index in journey.order)
    bounds = bounds_of(routes)
    columns = min(_A_ROW, len(routes))
    width = (paper.inner_mm - (columns - 1) * _GAP_MM) / columns
    for number, one in enumerate(routes):
        left = MARGIN_MM + (number % columns) * (width + _GAP_MM)
        top = top_mm + (number // columns) * (_PICTURE_MM + _NAME_MM + 5.0)
        name = shortened(f"{number + 1}  {one.name}", _NAME_MM, width, is_bold=True)
        strokes.append(text_line(name, (left, top + _NAME_MM), _NAME_MM, palette.text, is_bold=True))
        strokes += route_picture(one, routes[0], bounds, (left, top + _NAME_MM + 1.6, width, _PICTURE_MM), palette)
    rows = -(-len(routes) // columns)
    y = top_mm + rows * (_PICTURE_MM + _NAME_MM + 5.0)
    legend = (
        "Rings: nights by number, dark from 85 of 100, middling from 65, else light; crossed: no site. Broad line: "
        "avalanche ground. Below: heights."
    )
    strokes.append(text_line(shortened(legend, 2.3, paper.inner_mm), (MARGIN_MM, y), 2.3, palette.soft_text))
    return y + 4.0


def _table(journey: Journey, strokes: list[Stroke], top_mm: float, paper: Paper, palette: Palette) -> float:
    names = tuple(f"{number + 1}  {journey.routes[index].name}" for number, index in enumerate(journey.order))
    width = (paper.inner_mm - _LABEL_MM) / len(names)
    y = top_mm
    for label, values in (("", names), *comparison_rows(journey)):
        is_head = not label
        cells = [Cell(text=label, x_mm=0.0, width_mm=_LABEL_MM - 1.0, colour=palette.soft_text)]
        cells += [
            Cell(
                text=value, x_mm=_LABEL_MM + number * width, width_mm=width - 2.0, colour=palette.text,
                is_bold=is_head or label == "weakest night",
            )
            for number, value in enumerate(values)
        ]  # fmt: skip
        row = table_row(tuple(cells))
        strokes += [moved(stroke, MARGIN_MM, y) for stroke in row.strokes]
        y += row.height_mm
        right = MARGIN_MM + paper.inner_mm
        rule = Line(points_mm=((MARGIN_MM, y - 0.2), (right, y - 0.2)), width_mm=0.12, colour=palette.edge)
        strokes.append(rule)
        y += 0.5
    return y + 3.0


def _with_blocks(
    blocks: list[Block], first: list[Stroke], top_mm: float, paper: Paper, palette: Palette
) -> list[list[Stroke]]:
    """The words under the table, and on as many pages more as they take."""
    columns = [*paper.columns(0, top_mm)]
    later = paper.columns_from(1, MARGIN_MM, paper.bottom_mm)
    set_strokes, _ = set_in_columns(
        blocks, (column for source in (columns, later) for column in source), paper.column_mm, palette, is_endless=True
    )
    count = max(set_strokes, default=0) + 1
    return [[*first, *set_strokes.get(0, [])], *(set_strokes.get(page, []) for page in range(1, count))]


def _words_block(journey: Journey, paper: Paper, palette: Palette) -> Block:
    texts = [*journey.words[1:], *(one.gain and f"{one.name}: {one.gain}" for one in journey.routes)]
    texts += [caution.text for caution in journey.cautions]
    rows = tuple(paragraph(text, paper.column_mm, palette.text) for text in texts if text)
    return Block(title="What one has over the next", rows=rows)


def _route_block(one: RouteJourney, width_mm: float, palette: Palette) -> Block:
    rows = [paragraph(route_line(one), width_mm, palette.text)]
    for day in one.days:
        rows += _day_rows(day, width_mm, palette)
    return Block(title=one.name, rows=tuple(rows))


def _day_rows(day: Day, width_mm: float, palette: Palette) -> list[Row]:
    head = f"Day {day.number}, {day.depart.day} {day.depart:%B}"
    rows = [paragraph(head, width_mm, palette.text, is_bold=True)]
    rows += [paragraph(text, width_mm, palette.text, size_mm=SMALL_MM) for text in _day_texts(day)]
    rows += [paragraph(text, width_mm, palette.text) for text in day_mends(day)]
    return rows


def _day_texts(day: Day) -> list[str]:
    if day.is_rest:
        return ["Rest in camp." + (" Supplies come." if day.is_supplied else "")]
    date = day.depart.date()
    texts = [
        f"{clock(day.depart)} to {clock(day.arrive, date)} (camp-by {clock(day.camp_by, date)}): "
        f"{kilometres(day.distance_m)}, {day.climb_m:.0f} m up and {day.descent_m:.0f} m down."
        + (" Supplies are taken up." if day.is_supplied else "")
    ]
    if day.night is None:
        texts.append("To the end of the route.")
    elif day.night.is_bare:
        texts.append(f"No site: the night falls at {day.end_m / 1000.0:.1f} km of the route.")
    else:
        pinned = ", pinned" if day.is_pinned else ""
        texts.append(f"Night: {day.night.name}, {day.score:.0f} of 100{pinned}.")
    detail = day.detail
    if detail is not None:
        if detail.alternate:
            texts.append(f"Alternate: {detail.alternate.split(', ')[0]}.")
        texts.append(detail.water_words)
        load = f"sled {detail.sled_kg:.0f} kg" if detail.sled_kg else f"load {detail.carried_kg:.0f} kg"
        texts.append(f"Heaviest {load}; {detail.kcal:.0f} kcal for those who have it hardest.")
    if day.bail_out is not None:
        texts.append(f"Way out at the worst: {day.bail_out.minutes / 60.0:.1f} h to {day.bail_out.name}.")
    return texts


def _caution_block(one: RouteJourney, width_mm: float, palette: Palette) -> Block:
    rows = tuple(paragraph(caution.text, width_mm, palette.text) for caution in route_cautions(one))
    return Block(title=f"Go and look: {one.name}", rows=rows)


def _standing_block(width_mm: float, palette: Palette) -> Block:
    rows = tuple(paragraph(caution.text, width_mm, palette.text, size_mm=SMALL_MM) for caution in STANDING_CAUTIONS)
    return Block(title="Always", rows=rows)
