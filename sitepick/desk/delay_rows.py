"""The delays that a person foresees: one row each, with a way to add and to drop them."""

from __future__ import annotations

from dataclasses import replace
from datetime import time
from functools import partial

from PySide6.QtCore import QTime, Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QTimeEdit, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import NumberField, describe
from sitepick.desk.page import clear, inner_column
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr
from sitepick.plan.delay import Delay
from sitepick.plan.edits import with_delays
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

NEW_DELAY_MIN = 15.0


class DelayRows(QWidget):
    """The plan's delays, each edited in place.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._delays: tuple[Delay, ...] | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self._rows = inner_column()
        column.addLayout(self._rows)
        buttons = QHBoxLayout()
        for text, name in ((tr("Add a delay at a place"), "place"), (tr("Add a delay at a time"), "time")):
            button = QPushButton(text)
            button.setFlat(True)
            describe(
                button, text, tr("A stop that the march must hold room for, such as a ford or a crossing in turns.")
            )
            button.clicked.connect(self._on_place_added if name == "place" else self._on_time_added)
            buttons.addWidget(button)
        buttons.addStretch(1)
        column.addLayout(buttons)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's delays; rows that are right already stay, so that the caret does too."""
        if plan.march.delays == self._delays:
            return
        self._delays = plan.march.delays
        clear(self._rows)
        for number, delay in enumerate(self._delays):
            row = DelayRow(number, delay)
            row.changed.connect(self._on_changed)
            row.dropped.connect(self._on_dropped)
            self._rows.addWidget(row)

    def _ask(self, text: str, delays: tuple[Delay, ...]) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=partial(with_delays, delays=delays)))

    @Slot()
    def _on_place_added(self) -> None:
        self._ask(tr("Add a delay"), (*(self._delays or ()), Delay(minutes=NEW_DELAY_MIN, at_km=1.0)))

    @Slot()
    def _on_time_added(self) -> None:
        self._ask(tr("Add a delay"), (*(self._delays or ()), Delay(minutes=NEW_DELAY_MIN, at=time(12, 0))))

    @Slot(int, object)
    def _on_changed(self, number: int, delay: Delay) -> None:
        delays = list(self._delays or ())
        delays[number] = delay
        self._ask(tr("Change a delay"), tuple(delays))

    @Slot(int)
    def _on_dropped(self, number: int) -> None:
        delays = list(self._delays or ())
        del delays[number]
        self._ask(tr("Remove a delay"), tuple(delays))


class DelayRow(QWidget):
    """One delay as a sentence.

    Parameters
    ----------
    number : int
        Its place in the plan's list.
    delay : Delay

    Signals
    -------
    changed(int, Delay)
    dropped(int)
    """

    changed = Signal(int, object)
    dropped = Signal(int)

    def __init__(self, number: int, delay: Delay) -> None:
        super().__init__()
        self._number, self._delay = number, delay
        minutes = NumberField(setting_of(Delay, "minutes"), step=5.0)
        minutes.show_value(delay.minutes)
        minutes.value_chosen.connect(self._on_minutes)
        self._reason = QLineEdit(delay.reason)
        self._reason.setPlaceholderText(tr("reason"))
        describe(self._reason, tr("reason of the delay"), tr("Such as a ford, a crossing in turns, a wait for others."))
        self._reason.editingFinished.connect(self._on_reason)
        drop = QPushButton(tr("Remove"))
        drop.setFlat(True)
        describe(drop, tr("remove this delay"), tr("Takes the delay out of the plan."))
        drop.clicked.connect(self._on_drop)
        where = tr("Stand {0} at {1} for {2} {3}") if delay.at_km is None else tr("Stand {0} after {1} for {2} {3}")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence(where, minutes, self._where(), self._reason, drop))

    def _where(self) -> QWidget:
        if self._delay.at_km is not None:
            place = NumberField(setting_of(Delay, "at_km"), decimals=1, step=0.1)
            place.show_value(self._delay.at_km)
            place.value_chosen.connect(self._on_place)
            return place
        field = QTimeEdit()
        field.setDisplayFormat("HH:mm")
        field.setFrame(False)
        field.setKeyboardTracking(False)
        at = self._delay.at or time(12, 0)
        field.setTime(QTime(at.hour, at.minute))
        describe(field, tr("time of the delay"), tr("Time of day, in the plan's own time zone."))
        field.timeChanged.connect(self._on_time)
        return field

    @Slot(object)
    def _on_minutes(self, value: float) -> None:
        self.changed.emit(self._number, replace(self._delay, minutes=value))

    @Slot(object)
    def _on_place(self, value: float) -> None:
        self.changed.emit(self._number, replace(self._delay, at_km=value))

    @Slot(QTime)
    def _on_time(self, value: QTime) -> None:
        self.changed.emit(self._number, replace(self._delay, at=time(value.hour(), value.minute())))

    @Slot()
    def _on_reason(self) -> None:
        if self._reason.text() != self._delay.reason:
            self.changed.emit(self._number, replace(self._delay, reason=self._reason.text()))

    @Slot()
    def _on_drop(self) -> None:
        self.dropped.emit(self._number)
