"""The paper: its size and columns, the answer at its head, the standing word at its foot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from sitepick.sheet.flow import Column
from sitepick.sheet.model import Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.summary import alternate_words, answer_facts, answer_name, caution_count
from sitepick.sheet.typeface import shortened, text_line, width_mm, wrapped
from sitepick.sheet.words import count_words, people_words
from sitepick.tonight import Tonight

MARGIN_MM = 10.0
NOTE_LINES_MAX = 2  # a longer note of the plan stands whole among the words
_GAP_MM = 5.0
_COLUMN_MM = 60.0  # about so wide
_NAME_SIZES_MM = (5.2, 4.8, 4.4, 4.0)
_NAME_LINES_MAX = 10
_FACTS_MM, _PLAN_MM, _SMALL_MM = 3.5, 2.8, 2.3
_FOOT_MM = 13.0  # from the page's lower edge
_SIZES_MM = {"A4": (210.0, 297.0), "A3": (297.0, 420.0), "Letter": (215.9, 279.4)}  # ISO 216, ANSI/ASME Y14.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """An upright page.

    Attributes
    ----------
    width_mm, height_mm : float
    """

    width_mm: float
    height_mm: float

    @property
    def inner_mm(self) -> float:
        """Width between the margins."""
        return self.width_mm - 2 * MARGIN_MM

    @property
    def bottom_mm(self) -> float:
        """How far down words and maps may reach."""
        return self.height_mm - _FOOT_MM - 3.0

    @property
    def column_count(self) -> int:
        """Columns of words side by side."""
        return round((self.inner_mm + _GAP_MM) / (_COLUMN_MM + _GAP_MM))

    @property
    def column_mm(self) -> float:
        """Width of a column."""
        return (self.inner_mm + _GAP_MM) / self.column_count - _GAP_MM

    def columns(self, page_index: int, top_mm: float, bottom_mm: float | None = None) -> tuple[Column, ...]:
        """The columns of one page from a height down; none where there is no room."""
        height_mm = (self.bottom_mm if bottom_mm is None else bottom_mm) - top_mm
        if height_mm <= 0.0:
            return ()
        return tuple(
            Column(
                page_index=page_index,
                x_mm=MARGIN_MM + index * (self.column_mm + _GAP_MM),
                y_mm=top_mm,
                height_mm=height_mm,
            )
            for index in range(self.column_count)
        )

    def columns_from(self, page_index: int, top_mm: float, bottom_mm: float) -> Iterator[Column]:
        """The columns of one page after another, without end."""
        for index in count(page_index):
            yield from self.columns(index, top_mm, bottom_mm)


def paper_named(name: str) -> Paper:
    """One of `plan.handout.PAPERS`, upright."""
    width_mm, height_mm = _SIZES_MM[name]
    return Paper(width_mm=width_mm, height_mm=height_mm)


def first_head(answer: Tonight, paper: Paper, palette: Palette) -> tuple[list[Stroke], float]:
    """The answer as a sentence, and where the map may begin."""
    told = count_words(caution_count(answer), "caution")
    right = paper.width_mm - MARGIN_MM
    room_mm = paper.inner_mm - width_mm(told, _FACTS_MM, is_bold=True) - 4.0
    name = answer_name(answer)
    fitting = (size for size in _NAME_SIZES_MM if width_mm(name, size, is_bold=True) <= room_mm)
    name_mm = next(fitting, _NAME_SIZES_MM[-1])
    y = MARGIN_MM + 4.2
    strokes: list[Stroke] = [text_line(told, (right, y), _FACTS_MM, palette.text, is_bold=True, anchor="end")]
    y -= 1.25 * name_mm
    for line in _at_most(name, name_mm, room_mm, _NAME_LINES_MAX, is_bold=True):
        y += 1.25 * name_mm
        strokes.append(text_line(line, (MARGIN_MM, y), name_mm, palette.text, is_bold=True))
    y += 1.2
    for sentence, colour in ((answer_facts(answer), palette.text), (alternate_words(answer), palette.soft_text)):
        for line in _at_most(sentence, _FACTS_MM, paper.inner_mm, _NAME_LINES_MAX):
            y += 4.5
            strokes.append(text_line(line, (MARGIN_MM, y), _FACTS_MM, colour))
    y += 0.4
    for line in _at_most(plan_words(answer, paper), _PLAN_MM, paper.inner_mm, _NAME_LINES_MAX):
        y += 3.7
        strokes.append(text_line(line, (MARGIN_MM, y), _PLAN_MM, palette.soft_text))
    return strokes, y + 2.5


def plan_words(answer: Tonight, paper: Paper) -> str:
    """Whose plan and for which day, with its note where that is short."""
    bare = f"{answer.plan.name}, {_day_words(answer)}. {people_words(answer)}."
    whole = f"{bare} {answer.plan.note}".strip()
    return whole if is_note_short(answer, paper) else bare


def is_note_short(answer: Tonight, paper: Paper) -> bool:
    """Whether the plan's note stands at the head of the sheet."""
    return len(wrapped(answer.plan.note, _PLAN_MM, paper.inner_mm)) <= NOTE_LINES_MAX


def next_head(answer: Tonight, title: str, paper: Paper, palette: Palette) -> tuple[list[Stroke], float]:
    """What a later page is and to which answer it belongs, and where its own begins."""
    y = MARGIN_MM - 1.4
    strokes: list[Stroke] = []
    for line in _at_most(title, 4.4, paper.inner_mm, _NAME_LINES_MAX, is_bold=True):
        y += 5.4
        strokes.append(text_line(line, (MARGIN_MM, y), 4.4, palette.text, is_bold=True))
    y += 0.6
    for line in _at_most(f"{answer.plan.name}, {_day_words(answer)}.", _PLAN_MM, paper.inner_mm, _NAME_LINES_MAX):
        y += 3.7
        strokes.append(text_line(line, (MARGIN_MM, y), _PLAN_MM, palette.soft_text))
    return strokes, y + 3.0


def foot(paper: Paper, index: int, page_count: int, palette: Palette) -> list[Stroke]:
    """The standing word on every page."""
    page = f"page {index + 1} of {page_count}"
    words = (
        "A map can't see the ground. Local rules, the land owner's permission and trained judgement on the ground come "
        "first."
    )
    y = paper.height_mm - _FOOT_MM + 2.0
    return [
        text_line(words, (MARGIN_MM, y), _SMALL_MM, palette.text),
        text_line(page, (paper.width_mm - MARGIN_MM, y), _SMALL_MM, palette.soft_text, anchor="end"),
    ]


def _day_words(answer: Tonight) -> str:
    day = answer.march.depart
    return f"{day.day} {day:%B %Y}"


def _at_most(
    text: str, size_mm: float, room_mm: float, line_max: int, *, is_bold: bool = False
) -> tuple[str, ...]:  # fmt: skip
    """Wrapped lines; what is too long even so is cut, and the order has it whole."""
    lines = wrapped(text, size_mm, room_mm, is_bold=is_bold)
    if len(lines) <= line_max:
        return lines
    rest = " ".join(lines[line_max - 1 :])
    return (*lines[: line_max - 1], shortened(rest, size_mm, room_mm, is_bold=is_bold))
