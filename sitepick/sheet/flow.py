"""Blocks of text set into columns, one after another; what doesn't fit goes on in the next column or page."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sitepick.sheet.model import Line, Stroke, moved
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import shortened, text_line, wrapped

TITLE_MM, BODY_MM, SMALL_MM = 3.3, 2.7, 2.3
LINE_FACTOR = 1.3  # of the type's size, from one base line to the next
_ASCENT = 0.78  # of the type's size, above the base line
_AFTER_BLOCK_MM = 3.0
_CONTINUED = ", continued"


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What stays together on one column: strokes from its own top left corner.

    Attributes
    ----------
    height_mm : float
    strokes : tuple of Stroke
    """

    height_mm: float
    strokes: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A title and its rows.

    Attributes
    ----------
    title : str
    rows : tuple of Row
    titles_from : tuple of str
        What it is called where it goes on on another page with each of its rows; empty: ", continued".
    """

    title: str
    rows: tuple[Row, ...]
    titles_from: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """Where blocks may stand.

    Attributes
    ----------
    page_index : int
    x_mm, y_mm, height_mm : float
    """

    page_index: int
    x_mm: float
    y_mm: float
    height_mm: float


def set_in_columns(
    blocks: Iterable[Block], columns: Iterable[Column], width_mm: float, palette: Palette, *, is_endless: bool = False
) -> tuple[dict[int, list[Stroke]], tuple[Block, ...]]:
    """Strokes of blocks by page, and what the columns had no room for.

    Parameters
    ----------
    blocks : iterable of Block
        In reading order. A title is told again where its rows go on on another page, not in another column.
    columns : iterable of Column
        In reading order.
    width_mm : float
        Of every column.
    palette : Palette
    is_endless : bool
        The columns never end and are all of a height, so a row that is higher than one is set all the same.
    """
    strokes: dict[int, list[Stroke]] = {}
    places = iter(columns)
    queue = [block for block in blocks if block.rows]
    first = next(places, None)
    if first is None:
        return strokes, tuple(queue)
    column, used_mm = first, 0.0
    while queue:
        block = queue.pop(0)
        title = _title(block.title, width_mm, palette)
        for index, row in enumerate(block.rows):
            head_mm = 0.0 if index else title.height_mm
            # The title and the first two rows stay together.
            below_mm = block.rows[1].height_mm if index == 0 and len(block.rows) > 1 else 0.0
            while used_mm + head_mm + row.height_mm + below_mm > column.height_mm and (used_mm > 0.0 or not is_endless):
                page_before = column.page_index
                following = next(places, None)
                if following is None:
                    return strokes, (rest_of(block, index), *queue)
                column, used_mm = following, 0.0
                if index and column.page_index != page_before:
                    title = _title(rest_of(block, index).title, width_mm, palette)
                    head_mm = title.height_mm
            page = strokes.setdefault(column.page_index, [])
            for one in (title, row) if head_mm else (row,):
                page += [moved(stroke, column.x_mm, column.y_mm + used_mm) for stroke in one.strokes]
                used_mm += one.height_mm
        used_mm += _AFTER_BLOCK_MM
    return strokes, ()


def rest_of(block: Block, index: int) -> Block:
    """A block from one of its rows on, under the title that it has there."""
    if block.titles_from:
        titles = block.titles_from[index:]
        return Block(title=titles[0] if index else block.title, rows=block.rows[index:], titles_from=titles)
    title = block.title if index == 0 or block.title.endswith(_CONTINUED) else block.title + _CONTINUED
    return Block(title=title, rows=block.rows[index:])


def paragraph(text: str, width_mm: float, colour: str, *, size_mm: float = BODY_MM, is_bold: bool = False) -> Row:
    """A wrapped paragraph as one row."""
    lines = wrapped(text, size_mm, width_mm, is_bold=is_bold)
    step_mm = size_mm * LINE_FACTOR
    return Row(
        height_mm=step_mm * len(lines) + 0.7,
        strokes=tuple(
            text_line(line, (0.0, _ASCENT * size_mm + index * step_mm), size_mm, colour, is_bold=is_bold)
            for index, line in enumerate(lines)
        ),
    )


def stacked(*rows: Row) -> Row:
    """Rows that must not be parted, as one."""
    strokes: list[Stroke] = []
    height_mm = 0.0
    for row in rows:
        strokes += [moved(stroke, 0.0, height_mm) for stroke in row.strokes]
        height_mm += row.height_mm
    return Row(height_mm=height_mm, strokes=tuple(strokes))


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One piece of a table's row.

    Attributes
    ----------
    text : str
        Wrapped within its width.
    x_mm, width_mm : float
    colour : str
    is_bold, to_right : bool
    line_max : int or None
        What is longer is cut with an ellipsis; None: never.
    """

    text: str
    x_mm: float
    width_mm: float
    colour: str
    is_bold: bool = False
    to_right: bool = False
    line_max: int | None = None


def table_row(cells: tuple[Cell, ...], *, size_mm: float = BODY_MM) -> Row:
    """Cells side by side; the highest sets the row's height."""
    step_mm = size_mm * LINE_FACTOR
    strokes: list[Stroke] = []
    line_count = 1
    for cell in cells:
        lines = _cell_lines(cell, size_mm)
        line_count = max(line_count, len(lines))
        x_mm = cell.x_mm + (cell.width_mm if cell.to_right else 0.0)
        for index, line in enumerate(lines):
            strokes.append(
                text_line(
                    line, (x_mm, _ASCENT * size_mm + index * step_mm), size_mm, cell.colour,
                    is_bold=cell.is_bold, anchor="end" if cell.to_right else "start",
                )
            )  # fmt: skip
    return Row(height_mm=step_mm * line_count + 0.5, strokes=tuple(strokes))


def _cell_lines(cell: Cell, size_mm: float) -> tuple[str, ...]:
    lines = wrapped(cell.text, size_mm, cell.width_mm, is_bold=cell.is_bold)
    if cell.line_max is None or len(lines) <= cell.line_max:
        return lines
    kept, rest = lines[: cell.line_max - 1], " ".join(lines[cell.line_max - 1 :])
    return (*kept, shortened(rest, size_mm, cell.width_mm, is_bold=cell.is_bold))


def _title(title: str, width_mm: float, palette: Palette) -> Row:
    lines = wrapped(title, TITLE_MM, width_mm, is_bold=True)
    step_mm = TITLE_MM * 1.2
    rule_mm = 4.1 + step_mm * (len(lines) - 1)
    strokes: list[Stroke] = [
        text_line(line, (0.0, 2.9 + step_mm * index), TITLE_MM, palette.text, is_bold=True)
        for index, line in enumerate(lines)
    ]
    strokes.append(Line(points_mm=((0.0, rule_mm), (width_mm, rule_mm)), width_mm=0.15, colour=palette.edge))
    return Row(height_mm=rule_mm + 1.3, strokes=tuple(strokes))
