"""The wind as a rose: one row a wind, with a way to add, to drop and to go back to one."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import NumberField, describe
from sitepick.desk.page import clear, inner_column
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr
from sitepick.plan.model import Plan
from sitepick.plan.rose_edits import (
    RAY_FROM,
    RAY_KMH,
    RAY_SHARE,
    RAYS_MAX,
    Ray,
    with_one_wind,
    with_ray,
    with_ray_added,
    with_rose_begun,
    without_ray,
)


class RoseRows(QWidget):
    """The winds of the plan's rose, each edited in place; one button where there is none.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self._rows = inner_column()
        column.addLayout(self._rows)
        help_text = tr("Winds from several sides, each with its share of the time.")
        self._begin = self._button(tr("Several winds instead"), help_text, with_rose_begun)
        self._add = self._button(tr("Add a wind"), help_text, with_ray_added)
        self._one = self._button(tr("One wind again"), tr("Keeps the most frequent one."), with_one_wind)
        buttons = QHBoxLayout()
        for button in (self._begin, self._add, self._one):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column.addLayout(buttons)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's winds."""
        rose = plan.weather.wind_rose
        self._begin.setVisible(not rose)
        self._add.setVisible(0 < len(rose) < RAYS_MAX)
        self._one.setVisible(bool(rose))
        clear(self._rows)
        for index, ray in enumerate(rose):
            self._rows.addWidget(self._row(index, ray))

    def _row(self, index: int, ray: Ray) -> QWidget:
        side, share, speed = NumberField(RAY_FROM, step=5.0), NumberField(RAY_SHARE, step=5.0), NumberField(RAY_KMH)
        for field, value in ((side, ray[0]), (share, 100.0 * ray[1]), (speed, ray[2])):
            field.show_value(value)
        side.value_chosen.connect(partial(self._on_changed, index, ray, 0))
        share.value_chosen.connect(partial(self._on_changed, index, ray, 1))
        speed.value_chosen.connect(partial(self._on_changed, index, ray, 2))
        drop = self._button(tr("Remove"), tr("Takes this wind out of the rose."), partial(without_ray, index=index))
        return Sentence(tr("Wind from {0} for {1} of the time at {2} {3}"), side, share, speed, drop)

    def _button(self, text: str, help_text: str, change: Callable[[Plan], Plan]) -> QPushButton:
        button = QPushButton(text)
        button.setFlat(True)
        describe(button, text, help_text)
        button.clicked.connect(partial(self._ask, text, change))
        return button

    def _ask(self, text: str, change: Callable[[Plan], Plan], is_checked: bool = False) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=change))

    def _on_changed(self, index: int, ray: Ray, part: int, value: float) -> None:
        figures = list(ray)
        figures[part] = value / 100.0 if part == 1 else value
        changed = (figures[0], figures[1], figures[2])
        self._ask(tr("Change the winds"), partial(with_ray, index=index, ray=changed))
