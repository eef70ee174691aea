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
from sitepick.desk.translation import marked, tr
from sitepick.exercise.words import ITEM_LABELS
from sitepick.grid import mgrs_reference
from sitepick.plan.exercise import HandedIn, Overrule, PlacedThing
from sitepick.plan.exercise_edits import with_answer, with_exercise_part, with_overrule, with_thing_put
from sitepick.plan.mark import LonLat
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

_OTHER_THINGS = (
    marked("Latrine"),
    marked("Drinking water"),
    marked("Washing"),
    marked("Waste"),
    marked("Cooking"),
    marked("Fire"),
    marked("Fuel"),
    marked("Stores"),
    marked("Sleds and vehicles"),
)


def place_words(place: LonLat | None) -> str:
    """A place as its grid reference, or that there is none yet."""
    return tr("not chosen") if place is None else mgrs_reference(*place)


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
        self._name.setPlaceholderText(tr("your name"))
        describe(self._name, tr("your name"), tr("As on the list of trainees."))
        self._name.editingFinished.connect(lambda: self._change_text("trainee", self._name.text()))
        self._pick, self._alternate = text_label("", "sentence"), text_label("", "sentence")
        self._times = {
            "arrive": HourField(tr("time of arrival"), tr("When all are on the site."), tr("not told")),
            "ready": HourField(tr("time under shelter"), tr("When everyone is under shelter."), tr("not told")),
        }
        for name, field in self._times.items():
            field.value_chosen.connect(partial(self._on_time, name))
        self._reasons = TextBox(tr("your reasons"), tr("Why there."), 4)
        self._reasons.text_chosen.connect(partial(self._change_text, "reasons"))
        self._buttons = [
            self._place_button(name, words)
            for name, words in (("pick", tr("The place clicked is my pick")), ("alternate", tr("It is my alternate")))
        ]
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(Sentence(tr("My name: {0}"), self._name))
        for widget in (self._pick, self._alternate, Sentence("", *self._buttons)):
            column.addWidget(widget)
        column.addWidget(
            Sentence(
                tr("On the site at {0}, everyone under shelter at {1}."), self._times["arrive"], self._times["ready"]
            )
        )
        column.addWidget(self._reasons)
        self._layout = OwnLayout()
        self._layout.edit_requested.connect(self.edit_requested)
        column.addWidget(self._layout)
        column.addWidget(text_label(tr("Save this plan and hand it in."), "soft"))

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's answer."""
        self._depart = plan.march.depart
        held = plan.exercise.handed_in or HandedIn()
        self._held = held
        if self._name.text() != held.trainee:
            self._name.setText(held.trainee)
        self._pick.setText(tr("My pick: {pick}.", pick=place_words(held.pick)))
        self._alternate.setText(tr("My alternate: {alternate}.", alternate=place_words(held.alternate)))
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
        describe(button, words, tr("Click the map first."))
        button.setEnabled(False)
        button.clicked.connect(lambda: self._change(name, self._clicked))
        return button

    def _change(self, name: str, value: object) -> None:
        values: dict[str, Any] = {name: value}
        change = partial(with_exercise_part, part="handed_in", **values)
        self.edit_requested.emit(PlanEdit(text=tr("Change the answer"), change=change))

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
        self._what = ChoiceField(
            tr("what stands where the map was clicked"), [(_OTHER_THINGS[0], tr(_OTHER_THINGS[0]))], tr("Of the camp.")
        )
        self._door_deg: float | None = None
        self._door = NumberField(setting_of(PlacedThing, "door_deg"), step=5.0, empty_text=tr("not told"))
        self._door.show_value(None)
        self._door.value_chosen.connect(self._on_door)
        self._button = QPushButton(tr("Put"))
        describe(self._button, tr("put it there"), tr("Click the map first."))
        self._button.setEnabled(False)
        self._button.clicked.connect(self._on_put)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(
            Sentence(tr("The place clicked is {0}, its door to {1} {2}"), self._what, self._door, self._button)
        )
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Offer the unit's shelters and what else a camp has, and show what has been put."""
        names = [shelter.name for shelter in plan.unit.shelters]
        others = [(name, tr(name)) for name in _OTHER_THINGS]
        self._what.show_choices([*((name, name) for name in names), *others])
        held = plan.exercise.handed_in
        placed = () if held is None else held.layout
        self._told.setText("\n".join(f"{tr(one.what)}: {place_words(one.place)}" for one in placed))
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
            self.edit_requested.emit(PlanEdit(text=tr("Put {what}", what=tr(thing.what)), change=change))


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
        self._who.setPlaceholderText(tr("trainee"))
        describe(self._who, tr("trainee whose pick it is"), tr("As on the list of trainees."))
        choices: list[tuple[object, str]] = [("pick", tr("pick")), ("alternate", tr("alternate"))]
        self._what = ChoiceField(tr("which of the two"), choices, tr("Pick or alternate."))
        self._button = QPushButton(tr("Take down"))
        describe(self._button, tr("take the pick down"), tr("Click the map first."))
        self._button.setEnabled(False)
        self._button.clicked.connect(self._on_clicked)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(
            Sentence(tr("The place clicked on the map is the {0} of {1} {2}"), self._what, self._who, self._button)
        )
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Show whose answers have been taken down."""
        names = [one.trainee for one in plan.exercise.answers]
        self._told.setText(tr("Taken down: {picks}.", picks=", ".join(names)))
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
            self.edit_requested.emit(
                PlanEdit(
                    text=tr("Take down {name}'s {pick}", name=name, pick=self._what.currentText()),
                    change=change,
                )
            )


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
        self._who.setPlaceholderText(tr("trainee"))
        self._note.setPlaceholderText(tr("why"))
        describe(self._who, tr("trainee whose points change"), tr("As in the list of answers."))
        describe(self._note, tr("why the points change"), tr("Stands in the debrief."))
        items: list[tuple[object, str]] = [(item, tr(label).lower()) for item, label in ITEM_LABELS.items()]
        self._item = ChoiceField(tr("part of the answer"), items, tr("Which points change."))
        self._item.show_value("reasons")
        self._points = NumberField(setting_of(Overrule, "points"), decimals=1)
        self._points.show_value(0.0)
        button = QPushButton(tr("Give"))
        describe(button, tr("give these points"), tr("They hold from the next assessment on."))
        button.clicked.connect(self._on_give)
        self._told = text_label("", "soft")
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(
            Sentence(
                tr("Give {0} {1} for {2} because {3} {4}"), self._who, self._points, self._item, self._note, button
            )
        )
        column.addWidget(self._told)

    def show_plan(self, plan: Plan) -> None:
        """Show what has been overruled."""
        told = [
            tr(
                "{trainee}: {points:g} for {item}, {note}",
                trainee=one.trainee,
                points=one.points,
                item=tr(ITEM_LABELS[one.item]).lower(),
                note=one.note,
            )
            for one in plan.exercise.overrules
        ]
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
        self.edit_requested.emit(PlanEdit(text=tr("Change {name}'s points", name=name), change=change))


def _overruled(plan: Plan, *, trainee: str, item: str, points: float, note: str) -> Plan:
    return with_overrule(plan, Overrule(trainee=trainee, item=item, points=points, note=note))
