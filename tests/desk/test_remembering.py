"""What outlives a start: the window's place on a screen that is there, the look, the units, the tour."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PySide6.QtCore import QRect

from sitepick.desk.display import Display
from sitepick.desk.main_window import MainWindow
from sitepick.desk.memory import Memory
from sitepick.desk.plan_keeper import Keepsakes
from sitepick.desk.window_place import SEEN_PX, window_place

LAPTOP, TABLE = QRect(0, 0, 1280, 720), QRect(1280, 0, 2560, 1440)


def test_a_window_opens_where_it_stood():
    stood = QRect(1400, 60, 1600, 1000)
    assert window_place(stood, [LAPTOP, TABLE]) == stood


def test_a_window_whose_screen_is_gone_comes_to_the_one_that_is_there():
    place = window_place(QRect(1400, 60, 1600, 1000), [LAPTOP])
    assert LAPTOP.contains(place)


@given(st.tuples(*[st.integers(-9000, 9000)] * 2), st.tuples(*[st.integers(0, 9000)] * 2))
def test_any_remembered_place_can_be_got_hold_of(corner: tuple[int, int], size: tuple[int, int]):
    place = window_place(QRect(*corner, *size), [LAPTOP])
    seen = place.intersected(LAPTOP)
    assert seen.width() >= SEEN_PX
    assert seen.height() >= SEEN_PX
    assert place.top() >= LAPTOP.top()


def test_what_was_chosen_is_there_at_the_next_start(tmp_path: Path):
    path = tmp_path / "desk.ini"
    memory = Memory(path)
    memory.keep_look("night")
    memory.keep_display(Display(form="utm", is_imperial=True))
    memory.keep_window(QRect(10, 20, 900, 700), [500, 400])
    memory.keep_guided()
    del memory
    again = Memory(path)
    assert again.look_name == "night"
    assert again.display == Display(form="utm", is_imperial=True)
    assert again.window_place == QRect(10, 20, 900, 700)
    assert again.splitter_sizes == [500, 400]
    assert again.is_guided


@pytest.mark.parametrize("text", ["", "[General]\nwindow=a, b\nlook=pink\nplaces=9\nsplitter=1\n", "\x00\xff junk"])
def test_a_damaged_memory_is_as_good_as_none(tmp_path: Path, text: str):
    path = tmp_path / "desk.ini"
    path.write_text(text, encoding="utf-8")
    memory = Memory(path)
    assert memory.window_place is None
    assert memory.look_name == "day"
    assert memory.display == Display()
    assert memory.splitter_sizes == []
    assert memory.recent == ()


def test_the_first_start_shows_the_way_through_once(open_window: Callable[..., MainWindow], keepsakes: Keepsakes):
    window = open_window(None, keepsakes)
    window.greet()
    assert window.guide.text.startswith("1 of 6.")
    pages = []
    for _ in range(6):
        pages.append(window.field_book.page_name)
        window.guide._next.click()
    assert pages == ["Sites", "March", "March", "Sites", "Sites", "Camp"]
    assert window.guide.text == ""
    again = open_window(None, keepsakes)
    again.greet()
    assert again.guide.text == ""
