"""Pages of words: the type grows as far as the pages hold it, and nothing is lost on the way."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.plan.edits import with_order_note
from sitepick.sheet.flow import Block, paragraph
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Disc, Stroke, Text, scaled
from sitepick.sheet.page_frame import paper_named
from sitepick.sheet.palette import read_palette
from sitepick.sheet.word_pages import carried_over, word_pages
from tests.helpers.made_tonight import made_tonight, with_split
from tests.helpers.moved import watched

PAPER, PALETTE, TOP_MM = paper_named("A4"), read_palette("paper"), 25.0


def blocks_of(count: int):
    def make(width_mm: float) -> tuple[Block, ...]:
        rows = tuple(paragraph(f"Row {number} of the words that stand here.", width_mm, "#000000")
                     for number in range(count))  # fmt: skip
        return (Block(title="Words", rows=rows),)

    return make


def texts(strokes: list[Stroke]) -> list[Text]:
    return [stroke for stroke in strokes if isinstance(stroke, Text)]


@pytest.mark.parametrize("count", [3, 40, 90, 200])
def test_type_grows_while_the_pages_stay_as_few(count: int) -> None:
    pages = word_pages(blocks_of(count), TOP_MM, PAPER, PALETTE)
    sizes = {round(text.size_mm / 2.7, 2) for page in pages for text in texts(page) if text.text.startswith("Row")}
    assert len(sizes) == 1
    (growth,) = sizes
    assert 1.0 <= growth <= 1.6
    told = " ".join(text.text for page in pages for text in texts(page))
    for number in range(count):
        assert f"Row {number} " in told
    for text in (text for page in pages for text in texts(page)):
        assert text.box_mm[3] <= PAPER.bottom_mm + 0.5
        assert text.box_mm[2] <= PAPER.width_mm - 9.0


def test_few_words_are_set_large_and_many_in_the_usual_type() -> None:
    few, many = (
        next(text.size_mm for text in texts(word_pages(blocks_of(count), TOP_MM, PAPER, PALETTE)[0])
             if text.text.startswith("Row"))
        for count in (20, 130)
    )  # fmt: skip
    assert few > many >= 2.7


def test_what_another_page_had_no_room_for_goes_on_in_another_width() -> None:
    (wide,) = blocks_of(10)(60.0)
    rest = (Block(title="Words, continued", rows=wide.rows[7:]),)
    (carried,) = carried_over(blocks_of(10)(40.0), rest)
    assert len(carried.rows) == 3
    assert carried.title == "Words, continued"
    assert carried_over(blocks_of(10)(40.0), ()) == ()


def test_a_stroke_grows_with_its_place() -> None:
    disc = Disc(x_mm=2.0, y_mm=4.0, radius_mm=1.0, fill="#000000", edge="#000000", edge_mm=0.2)
    assert scaled(disc, 1.5) == replace(disc, x_mm=3.0, y_mm=6.0, radius_mm=1.5, edge_mm=0.2 * 1.5)


def test_there_is_room_to_write_signals_and_casualties_and_the_leaders_lines_are_told() -> None:
    answer = watched(made_tonight())
    answer = replace(answer, plan=with_order_note(answer.plan, "signals", "Channel 4, on the hour."))
    sheet = lay_out_sheet(answer)
    told = " ".join(text.text for page in sheet.pages for text in texts(list(page.strokes)))
    for words in ("Leader, and who takes over", "Recognition signals", "Who to call, and how", "Channel 4"):
        assert words in told


def test_the_two_places_of_a_split_unit_are_on_the_map() -> None:
    answer = with_split(made_tonight(site_count=0))
    first = lay_out_sheet(answer).pages[0]
    told = [text.text for text in texts(list(first.strokes))]
    assert {"A", "B", "one of two places for the unit"} <= set(told)
    assert "alternate" not in told


def test_the_alternate_is_told_from_the_other_sites() -> None:
    told = [text.text for text in texts(list(lay_out_sheet(made_tonight()).pages[0].strokes))]
    assert {"tonight's site", "alternate", "other site, by rank"} <= set(told)
