"""Departure and camp-by taken in hand on the day line, by pointer and by keyboard; the winds as a rose."""

from __future__ import annotations

from datetime import time, timedelta

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sitepick.desk.main_window import MainWindow
from sitepick.errors import SettingsError
from sitepick.plan.edits import with_values
from sitepick.plan.rose_edits import with_one_wind, with_ray, with_ray_added, with_rose_begun, without_ray
from sitepick.tonight import Tonight


def place_of(window: MainWindow, what: str) -> QPoint:
    line = window.day_line
    moment = next(one for one in line._strip.moments if one.text.startswith(what))
    return QPoint(round(line._x_of(line._strip, moment.at)), line.height() // 2)


def drag(qtbot: QtBot, window: MainWindow, what: str, by_px: int) -> None:
    line, begin = window.day_line, place_of(window, what)
    qtbot.mousePress(line, Qt.MouseButton.LeftButton, pos=begin)
    for part in (by_px // 2, by_px):
        qtbot.mouseMove(line, begin + QPoint(part, 0))
    qtbot.mouseRelease(line, Qt.MouseButton.LeftButton, pos=begin + QPoint(by_px, 0))


@pytest.mark.shape
def test_the_departure_is_dragged_in_one_step_to_five_minutes(qtbot: QtBot, window: MainWindow, answer: Tonight):
    drag(qtbot, window, "depart", 60)
    depart = window.history.plan.march.depart
    assert depart > answer.plan.march.depart
    assert depart.minute % 5 == 0
    assert depart.tzinfo == answer.plan.march.depart.tzinfo
    assert window.history.stack.count() == 1
    assert window.history.stack.undoText() == "Move the departure"


def test_camp_by_is_dragged_to_an_hour_of_ones_own(qtbot: QtBot, window: MainWindow, answer: Tonight):
    assert answer.plan.march.camp_by_hour is None
    drag(qtbot, window, "camp-by", -80)
    hour = window.history.plan.march.camp_by_hour
    assert hour is not None
    assert hour < answer.march.camp_by.time()


def test_both_are_moved_by_keyboard(qtbot: QtBot, window: MainWindow, answer: Tonight):
    qtbot.keyClick(window.day_line, Qt.Key.Key_Right)
    assert window.history.plan.march.depart == answer.plan.march.depart + timedelta(minutes=5)
    qtbot.keyClick(window.day_line, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(window.day_line, Qt.Key.Key_Left, Qt.KeyboardModifier.ShiftModifier)
    hour = window.history.plan.march.camp_by_hour
    assert isinstance(hour, time)
    assert hour.minute % 5 == 0


def test_a_press_on_bare_sky_changes_nothing(qtbot: QtBot, window: MainWindow, answer: Tonight):
    qtbot.mouseClick(window.day_line, Qt.MouseButton.LeftButton, pos=QPoint(3, 40))
    qtbot.mouseMove(window.day_line, QPoint(500, 40))
    assert window.history.plan == answer.plan


def test_the_shares_of_a_rose_always_make_the_whole(answer: Tonight):
    plan = with_values(answer.plan, "weather", wind_from_deg=300.0, wind_kmh=28.0)
    rose = with_rose_begun(plan)
    assert rose.weather.wind_rose[0] == (300.0, 0.7, 28.0)
    more = with_ray_added(rose)
    changed = with_ray(more, 0, (310.0, 0.5, 20.0))
    for step in (rose, more, changed, without_ray(changed, 1)):
        assert sum(share for _, share, _ in step.weather.wind_rose) == pytest.approx(1.0, abs=0.001)
    assert without_ray(rose, 0).weather.wind_rose == ()
    back = with_one_wind(rose)
    assert (back.weather.wind_from_deg, back.weather.wind_kmh) == (300.0, 28.0)
    with pytest.raises(SettingsError):
        with_ray(rose, 0, (400.0, 0.5, 20.0))


def test_several_winds_are_asked_for_on_the_march_page(window: MainWindow):
    rows = window.field_book.march._rose
    rows._begin.click()
    assert len(window.history.plan.weather.wind_rose) == 2
    rows._add.click()
    assert len(window.history.plan.weather.wind_rose) == 3
    rows._one.click()
    assert window.history.plan.weather.wind_rose == ()
