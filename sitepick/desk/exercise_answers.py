"""Answers on the Exercise page: a trainee's own, those the trainer takes down by hand, and points overruled."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from functools import partial
from typing import Any

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QLineEdit, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.exercise_fields import TextBox
from sitepick.desk.fields import ChoiceField, NumberField, describe
from sitepick.desk.hour_field import HourField
from sitepick.desk.page import text_label
from sitepick.desk.sentence import Sentence
from sitepick.exercise.words import ITEM_LABELS
from sitepick.grid import mgrs_reference
from sitepick.plan.exercise import HandedIn, Overrule, PlacedThing
from sitepick.plan.exercise_edits import with_answer, with_exercise_part, with_overrule, with_thing_put
from sitepick.plan.mark import LonLat
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

_OTHER_THINGS = (
    "Latrine",
    "Drinking water",
    "Washing",
    "Waste",
    "Cooking",
    "Fire",
    "Fuel",
    "Stores",
    "Sleds and vehicles",
)


def place_words(place: LonLat | None) -> str:
    """A place as its grid reference, or that there is none yet."""
    return "not chosen" if place is None else mgrs_reference(*place)


class OwnAnswer(QWidget):
    """What a trainee fills in on their own copy.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._clicked: LonLat | None = None
        self._depart: datetime | None = None
        self._name = QLineEdit()
        self._name.setPlaceholderText("your name")
        describe(self._name, "your name", "As on the list of trainees.")
        self._name.editingFinished.connect(lambda: self._change_text("trainee", self._name.text()))
        self._pick, self._alternate = text_label("", "sentence"), text_label("", "sentence")
        self._times = {
            "arrive": HourField("time of arrival", "When all are on the site.", "not told"),
            "ready": HourField("time under shelter", "When everyone is under shelter.", "not told"),
        }
        for name, field in self._times.items():
            field.value_chosen.connect(partial(self._on_time, name))
        self._reasons = TextBox("your reasons", "Why there.", 4)
        self._reasons.text_chosen.connect(partial(self._change_text, "reasons"))
        self._buttons = [self._place_button(name, words) for name, words in
                         (("pick", "The place clicked is my pick"), ("alternate", "It is my alternate"))]  # fmt: skip
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence("My name:", self._name))
        for widget in (self._pick, self._alternate, Sentence(*self._buttons)):
            column.addWidget(widget)
        column.addWidget(Sentence("On the site at", self._times["arrive"], ", everyone under shelter at",
                                  self._times["ready"], "."))  # fmt: skip
        column.addWidget(self._reasons)
        self._layout = OwnLayout()
        self._layout.edit_requested.connect(self.edit_requested)
        column.addWidget(self._layout)
        column.addWidget(text_label("Save this plan and hand it in.", "soft"))

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's answer."""
        self._depart = plan.march.depart
        held = plan.exercise.handed_in or HandedIn()
        self._held = held
        if self._name.text() != held.trainee:
            self._name.setText(held.trainee)
        self._pick.setText(f"My pick: {place_words(held.pick)}.")
        self._alternate.setText(f"My alternate: {place_words(held.alternate)}.")
        for name, field in self._times.items():
            moment: datetime | None = getattr(held, name)
            field.show_value(None if moment is None else moment.time())
        self._reasons.show_text(held.reasons)
        self._layout.setVisible(plan.exercise.asked.has_layout)
        self._layout.show_plan(plan)

    def show_clicked(self, place: LonLat) -> None:
        """Know where the map was clicked last."""
        self._clicked = place
        self._layout.show_clicked(place)
        for button in self._buttons:
            button.setEnabled(True)

    def _place_button(self, name: str, words: str) -> QPushButton:
        button = QPushButton(words)
        describe(button, words, "Click the map first.")
        button.setEnabled(False)
        button.clicked.connect(lambda: self._change(name, self._clicked))
        return button

    def _change(self, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        change = partial(with_exercise_part, part="handed_in", **values)
        self.edit_requested.emit(PlanEdit(text="Change the answer", change=change))

    def _change_text(self, name: str, text: str) -> None:
        if text != getattr(self._held, name):
            self._change(name, text)

    def _on_time(self, name: str, value: object) -> None:
        self._change(name, _after(self._depart, value))


def _after(depart: datetime | None, value: object) -> datetime | None:
    """A time of day as the first such moment after the departure."""
    if depart is None or not isinstance(value, time):
        return None
    moment = depart.replace(hour=value.hour, minute=value.minute, second=0, microsecond=0)
    return moment if moment >= depart else moment + timedelta(days=1)


class OwnLayout(QWidget):
    """A line to put shelters and other things of the camp where the map was clicked.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._clicked: LonLat | None = None
        self._what = ChoiceField("what stands where the map was clicked", [("Latrine", "Latrine")], "Of the camp.")
        self._door_deg: float | None = None
        self._door = NumberField(setting_of(PlacedThing, "door_deg"), step=5.0, empty_text="not told")
        self._door.show_value(None)
        self._door.value_chosen.connect(self._on_door)
        self._button = QPushButton("Put")
        describe(self._button, "put it there", "Click the map first.")
        self._button.setEnabled(False)
        self._button.clicked.connect(self._on_put)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence("The place clicked is", self._what, ", its door to", self._door, self._button))
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Offer the unit's shelters and what else a camp has, and show what has been put."""
        names = [shelter.name for shelter in plan.unit.shelters]
        self._what.show_choices([(name, name) for name in (*names, *_OTHER_THINGS)])
        held = plan.exercise.handed_in
        placed = () if held is None else held.layout
        self._told.setText("\n".join(f"{one.what}: {place_words(one.place)}" for one in placed))
        self._told.setVisible(bool(placed))

    def show_clicked(self, place: LonLat) -> None:
        """Know where the map was clicked last."""
        self._clicked = place
        self._button.setEnabled(True)

    @Slot(object)
    def _on_door(self, value: float | None) -> None:
        self._door_deg = value

    @Slot()
    def _on_put(self) -> None:
        if self._clicked is not None:
            thing = PlacedThing(what=str(self._what.value), place=self._clicked, door_deg=self._door_deg)
            change = partial(with_thing_put, thing=thing)
            self.edit_requested.emit(PlanEdit(text=f"Put {thing.what}", change=change))


class TakeDown(QWidget):
    """A line to take down where a trainee's pick is: the place that the map was clicked at.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._clicked: LonLat | None = None
        self._who = QLineEdit()
        self._who.setPlaceholderText("trainee")
        describe(self._who, "trainee whose pick it is", "As on the list of trainees.")
        choices: list[tuple[object, str]] = [("pick", "pick"), ("alternate", "alternate")]
        self._what = ChoiceField("which of the two", choices, "Pick or alternate.")
        self._button = QPushButton("Take down")
        describe(self._button, "take the pick down", "Click the map first.")
        self._button.setEnabled(False)
        self._button.clicked.connect(self._on_clicked)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence("The place clicked on the map is the", self._what, "of", self._who, self._button))
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Show whose answers have been taken down."""
        names = [one.trainee for one in plan.exercise.answers]
        self._told.setText(f"Taken down: {', '.join(names)}.")
        self._told.setVisible(bool(names))

    def show_clicked(self, place: LonLat) -> None:
        """Know where the map was clicked last."""
        self._clicked = place
        self._button.setEnabled(True)

    @Slot()
    def _on_clicked(self) -> None:
        name = " ".join(self._who.text().split())
        if name and self._clicked is not None:
            values: dict[str, Any] = {str(self._what.value): self._clicked}
            change = partial(with_answer, trainee=name, **values)
            self.edit_requested.emit(PlanEdit(text=f"Take down {name}'s {self._what.currentText()}", change=change))


class OverruleLine(QWidget):
    """A line to give a trainee other points for a part, with a note.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._who, self._note = QLineEdit(), QLineEdit()
        self._who.setPlaceholderText("trainee")
        self._note.setPlaceholderText("why")
        describe(self._who, "trainee whose points change", "As in the list of answers.")
        describe(self._note, "why the points change", "Stands in the debrief.")
        items: list[tuple[object, str]] = [(item, label.lower()) for item, label in ITEM_LABELS.items()]
        self._item = ChoiceField("part of the answer", items, "Which points change.")
        self._item.show_value("reasons")
        self._points = NumberField(setting_of(Overrule, "points"), decimals=1)
        self._points.show_value(0.0)
        button = QPushButton("Give")
        describe(button, "give these points", "They hold from the next assessment on.")
        button.clicked.connect(self._on_give)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence("Give", self._who, self._points, "for", self._item, "because", self._note, button))
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Show what has been overruled."""
        told = [f"{one.trainee}: {one.points:g} for {ITEM_LABELS[one.item].lower()}, {one.note}"
                for one in plan.exercise.overrules]  # fmt: skip
        self._told.setText("\n".join(told))
        self._told.setVisible(bool(told))

    @Slot()
    def _on_give(self) -> None:
        name = " ".join(self._who.text().split())
        if not name:
            return
        change = partial(
            _overruled, trainee=name, item=str(self._item.value), points=self._points.value(),
            note=self._note.text(),
        )  # fmt: skip
        self.edit_requested.emit(PlanEdit(text=f"Change {name}'s points", change=change))


def _overruled(plan: Plan, *, trainee: str, item: str, points: float, note: str) -> Plan:
    return with_overrule(plan, Overrule(trainee=trainee, item=item, points=points, note=note))
