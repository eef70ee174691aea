"""Pages of words alone: as few as will do, the type as large as they hold, the columns about evenly long."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from sitepick.sheet.flow import Block, rest_of, set_in_columns
from sitepick.sheet.model import Stroke, scaled
from sitepick.sheet.page_frame import Paper
from sitepick.sheet.palette import Palette

_GROWTH = (1.6, 1.5, 1.4, 1.3, 1.2, 1.1, 1.0)  # of the usual type
_BALANCE_STEP_MM = 4.0
_LEAST_COLUMN_MM = 40.0

MakeBlocks = Callable[[float], tuple[Block, ...]]


def carried_over(blocks: tuple[Block, ...], rest: tuple[Block, ...]) -> tuple[Block, ...]:
    """The part of some blocks that another page had no room for, where that page had them in another width.

    Parameters
    ----------
    blocks : tuple of Block
        Each with as many rows as it had there, whatever the width.
    rest : tuple of Block
        What came back from `flow.set_in_columns`.
    """
    if not rest:
        return ()
    first, *others = blocks[len(blocks) - len(rest) :]
    return (rest_of(first, len(first.rows) - len(rest[0].rows)), *others)


def word_pages(make_blocks: MakeBlocks, top_mm: float, paper: Paper, palette: Palette) -> list[list[Stroke]]:
    """The strokes of each page below its head; none where there are no words.

    Parameters
    ----------
    make_blocks : callable
        From a column's width to the blocks that fit it; the same rows for every width.
    top_mm : float
        Where the words may begin.
    paper : Paper
    palette : Palette
    """
    blocks = make_blocks(paper.column_mm)
    if not any(block.rows for block in blocks):
        return []
    page_count = len(_set(blocks, 1.0, top_mm, paper.bottom_mm, paper, palette))
    for growth in _GROWTH:
        blocks = make_blocks(paper.column_mm / growth)
        best = _set(blocks, growth, top_mm, paper.bottom_mm, paper, palette)
        if len(best) == page_count:
            break
    bottom_mm = paper.bottom_mm - _BALANCE_STEP_MM
    highest_mm = growth * max(row.height_mm for block in blocks for row in block.rows)
    while bottom_mm > top_mm + max(_LEAST_COLUMN_MM, highest_mm + 12.0):
        tried = _set(blocks, growth, top_mm, bottom_mm, paper, palette)
        if len(tried) > page_count:
            break
        best, bottom_mm = tried, bottom_mm - _BALANCE_STEP_MM
    return best


def _set(
    blocks: tuple[Block, ...], growth: float, top_mm: float, bottom_mm: float, paper: Paper, palette: Palette
) -> list[list[Stroke]]:  # fmt: skip
    """Set in the usual type on paper that is smaller by the growth, then drawn larger by it."""
    columns = (
        replace(
            column, x_mm=column.x_mm / growth, y_mm=column.y_mm / growth, height_mm=column.height_mm / growth
        )
        for column in paper.columns_from(0, top_mm, bottom_mm)
    )  # fmt: skip
    pages, _ = set_in_columns(blocks, columns, paper.column_mm / growth, palette, is_endless=True)
    return [[scaled(stroke, growth) for stroke in pages.get(index, [])] for index in range(max(pages) + 1)]
