"""Pages of an exercise's papers: a head, a map over words, words alone, the standing word at the foot."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from itertools import count

from sitepick.grid import Grid
from sitepick.sheet.flow import Block, Column, set_in_columns
from sitepick.sheet.map_frame import MapFrame, fitted_map
from sitepick.sheet.map_margin import GRID_LABEL_MM, grid_labels, map_notes
from sitepick.sheet.map_sheet import DrawnMap
from sitepick.sheet.model import Page, Sheet, Stroke
from sitepick.sheet.page_frame import MARGIN_MM, Paper, foot
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import text_line, wrapped

MAP_SCALES = (
    5000, 10_000, 15_000, 20_000, 25_000, 30_000, 40_000, 50_000, 60_000, 75_000, 100_000,
    150_000, 200_000, 250_000, 500_000, 1_000_000,
)  # fmt: skip
_TITLE_MM, _WORDS_MM = 5.0, 3.2
_EDGE_MM = 9.0  # between what must show and the frame
_AFTER_NOTES_MM = 4.0


def page_head(title: str, words: Iterable[str], paper: Paper, palette: Palette) -> tuple[list[Stroke], float]:
    """A title with paragraphs under it, and where the page goes on.

    Parameters
    ----------
    title : str
    words : iterable of str
        A paragraph each.
    paper : Paper
    palette : Palette
    """
    y = MARGIN_MM - 2.0
    strokes: list[Stroke] = []
    for line in wrapped(title, _TITLE_MM, paper.inner_mm, is_bold=True):
        y += 1.25 * _TITLE_MM
        strokes.append(text_line(line, (MARGIN_MM, y), _TITLE_MM, palette.text, is_bold=True))
    for text in words:
        y += 1.0
        for line in wrapped(text, _WORDS_MM, paper.inner_mm):
            y += 1.3 * _WORDS_MM
            strokes.append(text_line(line, (MARGIN_MM, y), _WORDS_MM, palette.text))
    return strokes, y + 4.0


def map_frame(
    bounds_m: tuple[float, float, float, float], top_mm: float, height_mm: float, grid: Grid, paper: Paper
) -> MapFrame:
    """The frame of a map as wide as the page, at a round scale that shows some bounds."""
    box = (MARGIN_MM + GRID_LABEL_MM, top_mm, paper.inner_mm - GRID_LABEL_MM, height_mm)
    return fitted_map(bounds_m, box, _EDGE_MM, grid, MAP_SCALES)


def map_with_margin(
    drawn: DrawnMap, frame: MapFrame, grid: Grid, moment: datetime, palette: Palette
) -> tuple[list[Stroke], float]:
    """A map with its grid's numbers, scale and norths, and where the page goes on under it."""
    notes, notes_mm = map_notes(grid, frame, moment, drawn.contour_m, drawn.keys, palette)
    return [*drawn.strokes, *grid_labels(frame, palette), *notes], frame.box_mm[3] + notes_mm + _AFTER_NOTES_MM


def words_below(
    blocks: Sequence[Block], top_mm: float, head: tuple[list[Stroke], float], paper: Paper, palette: Palette, *,
    column_count: int = 1,
) -> list[list[Stroke]]:  # fmt: skip
    """Strokes of blocks by page: from a height down on the first, under a head of their own on those that follow.

    Parameters
    ----------
    blocks : sequence of Block
        Set for `column_width`.
    top_mm : float
    head : strokes and a height
        Of each later page.
    paper : Paper
    palette : Palette
    column_count : int
        On every page.
    """
    columns = [column for column in _columns(0, top_mm, paper, column_count) if column.height_mm > 0.0]
    width_mm = column_width(paper, column_count)
    later = (column for page in count(1) for column in _columns(page, head[1], paper, column_count))
    first, rest = set_in_columns(blocks, columns, width_mm, palette) if columns else ({}, tuple(blocks))
    pages = [first.get(0, [])]
    if rest:
        more, _ = set_in_columns(rest, later, width_mm, palette, is_endless=True)
        pages += [[*head[0], *more.get(page, [])] for page in range(1, max(more, default=0) + 1)]
    return pages


_GAP_MM = 6.0


def column_width(paper: Paper, column_count: int) -> float:
    """Width of one of so many columns."""
    return (paper.inner_mm + _GAP_MM) / column_count - _GAP_MM


def _columns(page: int, top_mm: float, paper: Paper, column_count: int) -> list[Column]:
    width_mm = column_width(paper, column_count)
    return [
        Column(
            page_index=page, x_mm=MARGIN_MM + index * (width_mm + _GAP_MM), y_mm=top_mm,
            height_mm=paper.bottom_mm - top_mm,
        )
        for index in range(column_count)
    ]  # fmt: skip


def sheet_of(
    pages: Sequence[Sequence[Stroke]], *, title: str, subject: str, scale_denominator: int, paper: Paper,
    palette: Palette,
) -> Sheet:  # fmt: skip
    """Pages with their feet as one sheet."""
    return Sheet(
        title=title,
        subject=subject,
        scale_denominator=scale_denominator,
        pages=tuple(
            Page(
                width_mm=paper.width_mm,
                height_mm=paper.height_mm,
                strokes=(*strokes, *foot(paper, index, len(pages), palette)),
            )
            for index, strokes in enumerate(pages)
        ),
    )


def day_words(moment: datetime) -> str:
    """A date as people write it."""
    return f"{moment.day} {moment:%B %Y}"
