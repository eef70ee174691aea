"""Marks of an exercise on its page: a row each, put by grid reference or where the map was clicked last."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, time, timedelta
from functools import partial
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, describe
from sitepick.desk.hour_field import HourField
from sitepick.desk.page import clear, inner_column, text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.typed_places import typed_places
from sitepick.errors import SettingsError
from sitepick.grid import Grid
from sitepick.plan.exercise_edits import with_mark_changed, with_mark_copied, with_marks_added, without_mark
from sitepick.plan.mark import MARK_KINDS, LonLat, Mark
from sitepick.plan.model import Plan

_KINDS: list[tuple[object, str]] = [(kind.key, kind.label) for kind in MARK_KINDS]
_SEEN: list[tuple[object, str]] = [
    ("both", marked("everyone")),
    ("trainer", marked("the trainer alone")),
    ("trainee", marked("trainees, on their copies")),
]


class MarkRows(QWidget):
    """Every mark of the plan's exercise, and a line to put another.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._marks: tuple[Mark, ...] | None = None
        self._grid: Grid | None = None
        self._clicked: LonLat | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        self._rows = inner_column()
        column.addLayout(self._rows)
        self._kind = ChoiceField(tr("meaning of a new mark"), translated(_KINDS), tr("What the mark stands for."))
        self._kind.show_value("danger")
        self._places = QLineEdit()
        self._places.setPlaceholderText(tr("grid references; apart by semicolons"))
        self._places.setMinimumWidth(240)
        describe(
            self._places, tr("places of a new mark"), tr("One for a point, more for a line or the corners of an area.")
        )
        self._places.returnPressed.connect(self._on_put)
        put = QPushButton(tr("Put"))
        describe(put, tr("put the mark"), tr("Adds a mark at these places."))
        put.clicked.connect(self._on_put)
        self._here = QPushButton(tr("Put where the map was clicked"))
        describe(
            self._here, tr("put the mark where the map was clicked"), tr("Click the map first; more points come later.")
        )
        self._here.clicked.connect(self._on_here)
        self._here.setEnabled(False)
        column.addWidget(Sentence(tr("A {0} at {1} {2} {3}"), self._kind, self._places, put, self._here))

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's marks; rows that are right already stay, so that the caret does too."""
        self._depart = plan.march.depart
        held, self._marks = self._marks, plan.exercise.marks
        # A mark that is dragged keeps its words, and so its row.
        if held is not None and list(map(_row_words, held)) == list(map(_row_words, self._marks)):
            return
        clear(self._rows)
        for number, mark in enumerate(self._marks):
            row = MarkRow(number, mark, self._depart)
            row.edit_requested.connect(self.edit_requested)
            row.point_wanted.connect(self._on_point_wanted)
            self._rows.addWidget(row)

    def show_grid(self, grid: Grid) -> None:
        """Know the ground, from which short references are filled in."""
        self._grid = grid

    def show_clicked(self, place: LonLat) -> None:
        """Know where the map was clicked last."""
        self._clicked = place
        self._here.setEnabled(True)

    def put(self, kind: str, places: Sequence[LonLat]) -> None:
        """Ask for a mark of some meaning at some places."""
        change = partial(_with_mark_put, kind=kind, places=tuple(places))
        self.edit_requested.emit(PlanEdit(text=tr("Put {kind}", kind=_label(kind)), change=change))

    @Slot()
    def _on_put(self) -> None:
        change = partial(_with_mark_read, kind=str(self._kind.value), text=self._places.text(), grid=self._grid)
        self.edit_requested.emit(PlanEdit(text=tr("Put {kind}", kind=_label(str(self._kind.value))), change=change))

    @Slot()
    def _on_here(self) -> None:
        if self._clicked is not None:
            self.put(str(self._kind.value), [self._clicked])

    @Slot(int)
    def _on_point_wanted(self, number: int) -> None:
        if self._clicked is None:
            return
        change = partial(_with_point_added, index=number, place=self._clicked)
        self.edit_requested.emit(PlanEdit(text=tr("Add a point to a mark"), change=change))


class MarkRow(QWidget):
    """One mark as a sentence.

    Parameters
    ----------
    number : int
        Its place in the plan's list.
    mark : Mark
    depart : datetime
        Hours follow it.

    Signals
    -------
    edit_requested(PlanEdit)
    point_wanted(int)
        The place clicked last is to be added to it.
    """

    edit_requested = Signal(object)
    point_wanted = Signal(int)

    def __init__(self, number: int, mark: Mark, depart: datetime) -> None:
        super().__init__()
        self._number, self._mark, self._depart = number, mark, depart
        kind = ChoiceField(
            tr("meaning of mark {number}", number=number + 1), translated(_KINDS), tr("What the mark stands for.")
        )
        kind.show_value(mark.kind)
        kind.value_chosen.connect(partial(self._change, "kind"))
        seen = ChoiceField(
            tr("who sees mark {number}", number=number + 1),
            translated(_SEEN),
            tr("What the trainer alone sees reaches no trainee."),
        )
        seen.show_value(mark.seen_by)
        seen.value_chosen.connect(partial(self._change, "seen_by"))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 4)
        column.setSpacing(2)
        column.addWidget(text_label(f"{number + 1}. {_shape_words(mark)}", "soft"))
        column.addWidget(Sentence(tr("{0} {1} seen by {2}"), kind, self._line("name", mark.name), seen))
        column.addWidget(
            Sentence(
                tr("from {0} until {1} {2}"),
                self._hour("holds_from"),
                self._hour("holds_until"),
                self._line("note", mark.note),
            )
        )
        column.addWidget(Sentence("", *self._buttons()))

    def _line(self, name: str, text: str) -> QLineEdit:
        line = QLineEdit(text)
        told = tr("name") if name == "name" else tr("note")
        line.setPlaceholderText(told)
        describe(
            line, tr("{told} of mark {number}", told=told, number=self._number + 1), tr("As told on the map's list.")
        )
        line.editingFinished.connect(lambda: self._change_text(name, line.text()))
        return line

    def _hour(self, name: str) -> HourField:
        told = tr("begin") if name == "holds_from" else tr("end")
        field = HourField(
            tr("{told} of mark {number}", told=told, number=self._number + 1),
            tr("Only marks that hold on the day act."),
            tr("any time"),
        )
        moment: datetime | None = getattr(self._mark, name)
        field.show_value(None if moment is None else moment.astimezone(self._depart.tzinfo).time())
        field.value_chosen.connect(partial(self._change_hour, name))
        return field

    def _buttons(self) -> list[QPushButton]:
        made = []
        number = self._number
        edits = (
            (tr("Copy"), PlanEdit(text=tr("Copy a mark"), change=partial(with_mark_copied, index=number))),
            (tr("Remove"), PlanEdit(text=tr("Remove a mark"), change=partial(without_mark, index=number))),
        )
        more = QPushButton(tr("Add the point clicked"))
        more.setFlat(True)
        describe(
            more,
            tr("add the point clicked to mark {number}", number=number + 1),
            tr("A point becomes a line, a line an area."),
        )
        more.clicked.connect(lambda: self.point_wanted.emit(self._number))
        made.append(more)
        for text, edit in edits:
            button = QPushButton(text)
            button.setFlat(True)
            describe(button, tr("{told} mark {number}", told=text.lower(), number=number + 1), edit.text)
            button.clicked.connect(partial(self._ask, edit))
            made.append(button)
        return made

    def _ask(self, edit: PlanEdit, is_checked: bool = False) -> None:
        self.edit_requested.emit(edit)

    def _change(self, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        change = partial(with_mark_changed, index=self._number, **values)
        self.edit_requested.emit(PlanEdit(text=tr("Change a mark"), change=change))

    def _change_text(self, name: str, text: str) -> None:
        if text != getattr(self._mark, name):
            self._change(name, text)

    def _change_hour(self, name: str, value: object) -> None:
        moment = None
        if isinstance(value, time):
            moment = self._depart.replace(hour=value.hour, minute=value.minute, second=0, microsecond=0)
            begin = self._mark.holds_from
            if name == "holds_until" and moment <= (begin or self._depart):
                moment += timedelta(days=1)
        self._change(name, moment)


def _label(kind: str) -> str:
    return tr(next(one.label for one in MARK_KINDS if one.key == kind))


def _shape_words(mark: Mark) -> str:
    if mark.shape == "point":
        return tr("a point")
    if mark.shape == "line":
        return tr("a line of {number} points", number=len(mark.points))
    return tr("an area of {number} points", number=len(mark.points))


def _row_words(mark: Mark) -> tuple[object, ...]:
    """What a row shows of its mark."""
    return (mark.kind, _shape_words(mark), mark.name, mark.note, mark.seen_by, mark.holds_from, mark.holds_until)


def _shape_for(kind: str, count: int) -> str:
    """The shape that so many points make for a meaning; what doesn't go together is refused by the mark itself."""
    shapes = next(one.shapes for one in MARK_KINDS if one.key == kind)
    if count == 1:
        return "point"
    return "area" if count >= 3 and "area" in shapes else "line"


def _with_mark_put(plan: Plan, *, kind: str, places: tuple[LonLat, ...]) -> Plan:
    shape = _shape_for(kind, len(places))
    shapes = next(one.shapes for one in MARK_KINDS if one.key == kind)
    if shape not in shapes and len(places) == 1:
        raise SettingsError(
            tr("a mark for {kind!r} needs more than one place", kind=_label(kind)),
            fix=tr("give the references of its corners, apart by semicolons"),
        )
    return with_marks_added(plan, (Mark(kind=kind, shape=shape, points=places),))


def _with_mark_read(plan: Plan, *, kind: str, text: str, grid: Grid | None) -> Plan:
    return _with_mark_put(plan, kind=kind, places=typed_places(text, grid))


def _with_point_added(plan: Plan, *, index: int, place: LonLat) -> Plan:
    mark = plan.exercise.marks[index]
    points = (*mark.points, place)
    return with_mark_changed(plan, index, points=points, shape=_shape_for(mark.kind, len(points)))
