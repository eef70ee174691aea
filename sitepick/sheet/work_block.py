"""The sheet's tables of posts, work on arrival and the night's duties."""

from __future__ import annotations

from itertools import groupby

from sitepick.camp.model import Camp, Turn, WorkOrder
from sitepick.plan.camp_edits import tick_of
from sitepick.plan.work_order import ArrivalTick
from sitepick.sheet.flow import SMALL_MM, Block, Cell, Row, paragraph, table_row
from sitepick.sheet.palette import Palette
from sitepick.sheet.words import clock, grid_reference, sector_words
from sitepick.tonight import Tonight

_BOX_MM = 4.6
_SPAN_MM = 17.0  # two times with a dash between them


def post_block(answer: Tonight, camp: Camp, width_mm: float, palette: Palette) -> Block:
    """Where each post stands and what it watches; no rows without posts."""
    if camp.security is None:
        return Block(title="", rows=())
    number_mm, place_mm = 4.2, 26.0
    rows = tuple(
        table_row((
            Cell(text=str(number), x_mm=0.0, width_mm=number_mm, colour=palette.text, is_bold=True),
            Cell(text=" to ".join(sector_words(post)),
                 x_mm=number_mm, width_mm=width_mm - number_mm - place_mm, colour=palette.text),
            Cell(text=grid_reference(answer.ground.grid, post.east_m, post.north_m), x_mm=width_mm - place_mm,
                 width_mm=place_mm, colour=palette.text, to_right=True),
        ), size_mm=SMALL_MM)
        for number, post in enumerate(camp.security.posts, start=1)
    )  # fmt: skip
    return Block(title="Posts, from left to right, true", rows=rows)


def work_blocks(answer: Tonight, work: WorkOrder, width_mm: float, palette: Palette) -> tuple[Block, ...]:
    """Work on arrival, what to look at, the turns of the night, the way out for a casualty."""
    day = answer.march.depart.date()
    done = {None: "", True: ", before dark", False: ", after dark: lamps ready on arrival"}[work.is_done_by_dark]
    jobs = [paragraph(f"Done by {clock(work.ready, day)}{done}. In brackets: how many people.", width_mm, palette.text)]
    jobs += [
        _span_row(
            f"{job.begin:%H:%M} – {job.end:%H:%M}",
            f"{job.who} ({job.people}): {job.what[:1].lower()}{job.what[1:]}",
            width_mm,
            palette,
        )
        for job in work.jobs
    ]
    ticks = tuple(_tick_row(tick_of(answer.plan, what), width_mm, palette) for what in work.ticks)
    turns = tuple(_span_row(span, told, width_mm, palette) for span, told in turns_by_span(work.turns))
    return (
        Block(title="Work on arrival", rows=tuple(jobs)),
        Block(title="To look at on arrival", rows=ticks),
        Block(title="Duties of the night", rows=turns),
        Block(title="Way out for a casualty", rows=(paragraph(work.way_out, width_mm, palette.text),)),
    )


def turns_by_span(turns: tuple[Turn, ...]) -> tuple[tuple[str, str], ...]:
    """Turns that begin and end together told on one line: the hours, then each duty with who has it."""
    told = []
    for span, group in groupby(turns, key=lambda turn: f"{turn.begin:%H:%M} – {turn.end:%H:%M}"):
        who: dict[str, list[str]] = {}
        for turn in group:
            who.setdefault(turn.duty, []).append(turn.who)
        told.append((span, "; ".join(f"{duty}: {', '.join(names)}" for duty, names in who.items())))
    return tuple(told)


def _tick_row(tick: ArrivalTick, width_mm: float, palette: Palette) -> Row:
    """A box, what is looked at, and what was found so far."""
    return table_row((
        Cell(text="[x]" if tick.is_done else "[  ]", x_mm=0.0, width_mm=_BOX_MM, colour=palette.text),
        Cell(text=f"{tick.what}: {tick.found}" if tick.found else tick.what, x_mm=_BOX_MM, width_mm=width_mm - _BOX_MM,
             colour=palette.text),
    ), size_mm=SMALL_MM)  # fmt: skip


def _span_row(span: str, text: str, width_mm: float, palette: Palette) -> Row:
    return table_row((
        Cell(text=span, x_mm=0.0, width_mm=_SPAN_MM, colour=palette.text, is_bold=True),
        Cell(text=text, x_mm=_SPAN_MM, width_mm=width_mm - _SPAN_MM, colour=palette.text),
    ), size_mm=SMALL_MM)  # fmt: skip
