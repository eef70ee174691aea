"""The unit's shelters: a row each, with its kind, people, section and what it is joined to edited in place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLineEdit, QPushButton, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, describe, setting_help
from sitepick.desk.page import text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import counted, marked, tr, translated
from sitepick.plan.model import Plan, Unit
from sitepick.plan.setting import setting_of
from sitepick.plan.shelter import NAME_LENGTH_MAX, SHELTER_KINDS, Shelter
from sitepick.plan.shelter_edits import with_shelter_added, with_shelter_changed, with_shelter_removed

ROWS_AT_A_TIME = 3
_ALONE = (("", marked("by itself")),)


class ShelterRow(QWidget):
    """One shelter.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._shelter: Shelter | None = None
        self._name, self._section = QLineEdit(), QLineEdit()
        for line in (self._name, self._section):
            line.setMaxLength(NAME_LENGTH_MAX)
            line.setFrame(False)
        self._people = NumberField(setting_of(Shelter, "people"))
        self._kind = ChoiceField(tr("kind"), ())
        self._joined = ChoiceField(tr("joined to"), translated(_ALONE))
        self._leaders = QCheckBox(tr("leader's"))
        self._leaders.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._remove = QToolButton()
        self._remove.setText(tr("Remove"))
        self._remove.setProperty("role", "quiet")
        self._remove.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        head = QHBoxLayout()
        head.addWidget(self._name, 1)
        head.addWidget(self._leaders)
        head.addWidget(self._remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 4)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(
            Sentence(tr("{0} of {1} in a {2} that stands {3}"), self._people, self._section, self._kind, self._joined)
        )
        self._name.editingFinished.connect(partial(self._on_text, self._name, "name"))
        self._section.editingFinished.connect(partial(self._on_text, self._section, "section"))
        self._people.value_chosen.connect(self._on_people)
        self._kind.value_chosen.connect(self._on_kind)
        self._joined.value_chosen.connect(self._on_joined)
        self._leaders.toggled.connect(self._on_leaders)
        self._remove.clicked.connect(self._on_removed)

    def show_shelter(self, shelter: Shelter, unit: Unit) -> None:
        """Show a shelter, without telling anything as chosen."""
        before, self._shelter = self._shelter, shelter
        kinds = [(kind.key, tr(kind.label)) for kind in (*SHELTER_KINDS, *unit.shelter_kinds)]
        others = [
            (one.name, tr("joined to {name}", name=one.name)) for one in unit.shelters if _may_join(shelter, one, unit)
        ]
        self._kind.show_choices(kinds)
        self._kind.show_value(shelter.kind.key)
        self._joined.show_choices((*translated(_ALONE), *others))
        self._joined.show_value(shelter.joined_to)
        self._people.show_value(shelter.people)
        for line, text in ((self._name, shelter.name), (self._section, shelter.section)):
            if line.text() != text:
                line.setText(text)
        with QSignalBlocker(self._leaders):
            self._leaders.setChecked(shelter.is_leaders)
        if before is None or before.name != shelter.name:
            self._describe(shelter.name)

    def _describe(self, name: str) -> None:
        describe(self._name, tr("name of {name}", name=name), tr("Unlike any other shelter's; it stands on the sheet."))
        describe(
            self._section,
            tr("section of {name}", name=name),
            tr("Who sleeps there; a section's shelters are kept together."),
        )
        describe(self._people, tr("people in {name}", name=name), setting_help(setting_of(Shelter, "people")))
        describe(
            self._kind,
            tr("kind of {name}", name=name),
            tr("Kind of {name}. What it is, and so how many it sleeps.", name=name),
        )
        text = tr(
            "What {name} is joined to. Two that are pitched against each other make one, such as an aid post.",
            name=name,
        )
        describe(self._joined, tr("what {name} is joined to", name=name), text)
        describe(
            self._leaders,
            tr("{name} is the leader's", name=name),
            tr("The leader's own stands in the middle of the camp."),
        )
        describe(
            self._remove,
            tr("remove {name}", name=name),
            tr("Take {name} off the list; its people move to free places.", name=name),
        )

    def _on_text(self, line: QLineEdit, field: str) -> None:
        text = " ".join(line.text().split())
        if self._shelter is not None and text != getattr(self._shelter, field):
            line.setText(getattr(self._shelter, field))  # shown anew once it is taken
            name = self._shelter.name
            wish = tr("Name {name}", name=name) if field == "name" else tr("Change the section of {name}", name=name)
            self._change(wish, field, text)

    @Slot(object)
    def _on_people(self, value: float) -> None:
        self._change(tr("Change people in {told}", told=self._told), "people", int(value))

    @Slot(object)
    def _on_kind(self, key: str) -> None:
        self._wish(tr("Change the kind of {told}", told=self._told), partial(_with_kind, name=self._told, key=key))

    @Slot(object)
    def _on_joined(self, name: str) -> None:
        self._change(
            tr("Join {told}", told=self._told) if name else tr("Part {told}", told=self._told), "joined_to", name
        )

    @Slot(bool)
    def _on_leaders(self, is_leaders: bool) -> None:
        name = self._told
        text = tr("Make {name} the leader's", name=name) if is_leaders else tr("Unmake {name} the leader's", name=name)
        self._change(text, "is_leaders", is_leaders)

    @Slot()
    def _on_removed(self) -> None:
        self._wish(tr("Remove {told}", told=self._told), partial(with_shelter_removed, name=self._told))

    @property
    def _told(self) -> str:
        return "" if self._shelter is None else self._shelter.name

    def _change(self, text: str, field: str, value: object) -> None:
        self._wish(text, partial(_changed, name=self._told, field=field, value=value))

    def _wish(self, text: str, change: Callable[[Plan], Plan]) -> None:
        shelter = self._shelter
        self.edit_requested.emit(PlanEdit(text=text, change=change))
        if shelter is self._shelter and shelter is not None:
            self._show_again(shelter)

    def _show_again(self, shelter: Shelter) -> None:
        """What was refused gives way to what the plan holds."""
        self._people.show_value(shelter.people)
        self._kind.show_value(shelter.kind.key)
        self._joined.show_value(shelter.joined_to)
        with QSignalBlocker(self._leaders):
            self._leaders.setChecked(shelter.is_leaders)


class ShelterList(QWidget):
    """All shelters, with a line to add to them.

    Rows are made once the list is seen, a few at a time: neither start-up nor the window waits for them.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._unit: Unit | None = None
        self._rows: list[ShelterRow] = []
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._make_rows)
        self._told = text_label("", "reason")
        self._column = QVBoxLayout()
        self._column.setSpacing(2)
        self._new_kind = ChoiceField(tr("kind of a new shelter"), (), tr("What to add to the list."))
        self._add = QPushButton(tr("Add"))
        describe(
            self._add, tr("add a shelter"), tr("Puts an empty one at the end of the list, in a section of its own.")
        )
        line = QHBoxLayout()
        line.addWidget(self._add)
        line.addWidget(self._new_kind)
        line.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._told)
        column.addLayout(self._column)
        column.addLayout(line)
        self._add.clicked.connect(self._on_add)

    @property
    def rows(self) -> tuple[ShelterRow, ...]:
        """The rows made so far."""
        return tuple(self._rows)

    def show_plan(self, plan: Plan) -> None:
        """Show a plan's shelters."""
        unit = self._unit = plan.unit
        self._new_kind.show_choices(
            [(kind.key, tr("a {kind}", kind=tr(kind.label))) for kind in (*SHELTER_KINDS, *unit.shelter_kinds)]
        )
        while len(self._rows) > len(unit.shelters):
            row = self._rows.pop()
            row.hide()
            row.deleteLater()
        for row, shelter in zip(self._rows, unit.shelters, strict=False):
            row.show_shelter(shelter, unit)
        if self.isVisible():
            self._soon.start(0)
        self._told.setText(people_sentence(unit.shelters))

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._soon.start(0)

    @Slot()
    def _make_rows(self) -> None:
        """Make the next few rows that are missing."""
        shelters = () if self._unit is None else self._unit.shelters
        for shelter in shelters[len(self._rows) : len(self._rows) + ROWS_AT_A_TIME]:
            row = ShelterRow()
            row.edit_requested.connect(self.edit_requested)
            row.show_shelter(shelter, self._unit)  # type: ignore[arg-type]
            self._rows.append(row)
            self._column.addWidget(row)
        if len(self._rows) < len(shelters):
            self._soon.start(0)

    @Slot()
    def _on_add(self) -> None:
        key = str(self._new_kind.value)
        self.edit_requested.emit(PlanEdit(text=tr("Add a shelter"), change=partial(with_shelter_added, kind_key=key)))


def people_sentence(shelters: Sequence[Shelter]) -> str:
    """How the people and the places add up."""
    people, places = sum(one.people for one in shelters), sum(one.kind.places for one in shelters)
    empty = sum(one.people == 0 for one in shelters)
    text = tr(
        "{people} in {shelters}; ",
        people=counted(people, "person sleeps", "people sleep"),
        shelters=counted(len(shelters), "shelter"),
    )
    free, of_places = places - people or tr("none"), counted(places, "place")
    if free == 1:
        text += tr("{free} of {places} is free.", free=free, places=of_places)
    else:
        text += tr("{free} of {places} are free.", free=free, places=of_places)
    return text + (
        tr(" {shelters} empty.", shelters=counted(empty, "shelter stands", "shelters stand")) if empty else ""
    )


def _may_join(shelter: Shelter, other: Shelter, unit: Unit) -> bool:
    """Whether a shelter can be joined to another: shelters are joined by twos."""
    taken = {one.joined_to: one.name for one in unit.shelters if one.joined_to}
    is_free = not other.joined_to and taken.get(other.name, shelter.name) == shelter.name
    return other.name != shelter.name and shelter.name not in taken and is_free


def _changed(plan: Plan, *, name: str, field: str, value: object) -> Plan:
    return with_shelter_changed(plan, name, **{field: value})


def _with_kind(plan: Plan, *, name: str, key: str) -> Plan:
    kinds = (*SHELTER_KINDS, *plan.unit.shelter_kinds)
    return with_shelter_changed(plan, name, kind=next(kind for kind in kinds if kind.key == key))
