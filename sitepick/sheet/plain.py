"""The order's Markdown as plain text: titles underlined, tables in columns, no signs of markup."""

from __future__ import annotations

import re
import unicodedata

_ESCAPED = re.compile(r"\\([\\`*_\[\]<>|#])")
_CELL_EDGE = re.compile(r"(?<!\\)\|")
_STRONG = re.compile(r"(?<!\\)\*+")


def plain_text(markdown: str) -> str:
    """Plain text of such Markdown as the order is written in: headings, lists, tables, bold.

    >>> print(plain_text("**Pick**: site 1").strip())
    Pick: site 1
    """
    told: list[str] = []
    table: list[list[str]] = []
    for line in markdown.splitlines():
        if line.startswith("|"):
            cells = [_bare(cell.strip()) for cell in _CELL_EDGE.split(line)[1:-1]]
            if not all(set(cell) <= {"-"} and cell for cell in cells):
                table.append(cells)
            continue
        told += _columns(table)
        table = []
        marks = len(line) - len(line.lstrip("#"))
        if marks and line[marks : marks + 1] == " ":
            title = _bare(line[marks + 1 :])
            told += [title, ("=" if marks == 1 else "-") * _cells_wide(title)]
        else:
            told.append(_bare(line))
    told += _columns(table)
    return "\n".join(told) + "\n"


def _columns(table: list[list[str]]) -> list[str]:
    if not table:
        return []
    widths = [max(_cells_wide(row[index]) for row in table) for index in range(len(table[0]))]
    return [
        "  ".join(cell + " " * (width - _cells_wide(cell)) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in table
    ]


def _cells_wide(text: str) -> int:
    """How many places of a typewriter a text takes."""
    return sum(
        0 if unicodedata.combining(letter) else 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        for letter in text
    )


def _bare(text: str) -> str:
    return _ESCAPED.sub(r"\1", _STRONG.sub("", text))
