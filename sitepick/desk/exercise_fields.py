"""Fields of the Exercise page: texts of several lines, choices and numbers of the plan's exercise."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from sitepick.desk.fields import ChoiceField, NumberField, describe
from sitepick.desk.plan_field import PlanField
from sitepick.desk.translation import tr
from sitepick.plan.exercise import Rubric
from sitepick.plan.exercise_edits import with_exercise_part
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of


class TextBox(QPlainTextEdit):
    """A text of several lines; it is told once the caret leaves it.

    Parameters
    ----------
    name, help_text : str
    line_count : int
        So high at least.

    Signals
    -------
    text_chosen(str)
    """

    text_chosen = Signal(str)

    def __init__(self, name: str, help_text: str, line_count: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        describe(self, name, help_text)
        self.setPlaceholderText(name)
        self.setTabChangesFocus(True)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * line_count + 14)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a text without telling it as chosen; the caret stays where the text is the same."""
        self._shown = text
        if text != self.toPlainText():
            self.setPlainText(text)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if self.toPlainText() != self._shown:
            self._shown = self.toPlainText()
            self.text_chosen.emit(self._shown)


def flag_field(part: str, name: str, label: str, yes: str, no: str) -> PlanField:
    """A choice of two phrases for a yes-or-no value of a part of the exercise."""
    return _field(part, name, ChoiceField(label, [(True, yes), (False, no)], tr("Choose what holds.")), label)


def points_field(name: str, *, step: float = 1.0) -> PlanField:
    """A number of the rubric, with the limits and the help that stand beside it there."""
    described = setting_of(Rubric, name)
    return _field("rubric", name, NumberField(described, step=step), tr(described.label))


def _field(part: str, name: str, field: ChoiceField | NumberField, label: str) -> PlanField:
    read: Callable[[Plan], object] = partial(_read, part=part, name=name)
    return PlanField(
        field, text=tr("Change {label}", label=label), read=read, change=partial(_changed, part=part, name=name)
    )


def _read(plan: Plan, *, part: str, name: str) -> object:
    return getattr(getattr(plan.exercise, part), name)


def _changed(plan: Plan, value: object, *, part: str, name: str) -> Plan:
    return with_exercise_part(plan, part, **{name: value})
