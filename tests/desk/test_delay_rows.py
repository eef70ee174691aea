"""Delays and the hour of camp-by are edited in place."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import pytest
from PySide6.QtWidgets import QLineEdit, QPushButton

from sitepick.desk.delay_rows import DelayRow, DelayRows
from sitepick.desk.fields import NumberField
from sitepick.desk.hour_field import HourField
from sitepick.plan import Delay
from tests.helpers.made import make_plan

FORD, RADIO = Delay(minutes=20.0, at_km=3.2, reason="ford"), Delay(minutes=10.0, at=time(12, 5))


@pytest.fixture
def plan():
    made = make_plan()
    return replace(made, march=replace(made.march, delays=(FORD, RADIO)))


@pytest.fixture
def rows(qtbot, plan):
    widget = DelayRows()
    qtbot.addWidget(widget)
    widget.show_plan(plan)
    return widget


def asked(qtbot, rows, plan, act):
    with qtbot.waitSignal(rows.edit_requested) as heard:
        act()
    return heard.args[0].change(plan).march.delays


def shown(rows):
    return [row for row in rows.findChildren(DelayRow) if not row.isHidden()]


def button(widget, text):
    return next(found for found in widget.findChildren(QPushButton) if found.text() == text)


def test_each_delay_has_a_row(rows):
    assert len(shown(rows)) == 2


def test_delays_are_added_changed_and_removed(qtbot, rows, plan):
    added = asked(qtbot, rows, plan, button(rows, "Add a delay at a place").click)
    assert added[:2] == (FORD, RADIO)
    assert added[2].at_km == 1.0
    assert asked(qtbot, rows, plan, button(rows, "Add a delay at a time").click)[2].at == time(12, 0)
    first = shown(rows)[0]
    minutes = first.findChildren(NumberField)[0]
    assert asked(qtbot, rows, plan, lambda: minutes.setValue(35.0)) == (replace(FORD, minutes=35.0), RADIO)
    place = first.findChildren(NumberField)[1]
    assert asked(qtbot, rows, plan, lambda: place.setValue(4.5)) == (replace(FORD, at_km=4.5), RADIO)
    assert asked(qtbot, rows, plan, button(first, "Remove").click) == (RADIO,)


def test_a_reason_is_typed(qtbot, rows, plan):
    reason = next(edit for edit in shown(rows)[1].findChildren(QLineEdit) if edit.placeholderText() == "reason")
    reason.setText("radio")
    assert asked(qtbot, rows, plan, reason.editingFinished.emit) == (FORD, replace(RADIO, reason="radio"))


def test_an_odd_minute_of_the_plan_is_shown(qtbot):
    field = HourField("hour", "", "none")
    qtbot.addWidget(field)
    field.show_value(time(14, 37))
    assert field.currentText() == "14:37"
    field.show_value(None)
    assert field.currentText() == "none"
    with qtbot.waitSignal(field.value_chosen) as heard:
        field.setCurrentIndex(5)
    assert heard.args == [time(1, 0)]
