"""The user's own kinds of shelter: a sentence each, with a line to add one."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, describe, setting_help
from sitepick.desk.page import short_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of
from sitepick.plan.shelter import NAME_LENGTH_MAX, ShelterKind
from sitepick.plan.shelter_edits import with_own_kind_added, with_own_kind_changed, with_own_kind_removed

_TREES = ((False, marked("stands anywhere")), (True, marked("needs two trees")))


class OwnKindRow(QWidget):
    """One kind.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._label = ""
        self._title = short_label("", "sentence")
        self._places = NumberField(setting_of(ShelterKind, "places"))
        self._width = NumberField(setting_of(ShelterKind, "footprint_m"), decimals=1, step=0.1)
        self._time = NumberField(setting_of(ShelterKind, "pitching_min"), step=5.0, empty_text=tr("as long as a tent"))
        self._snow = NumberField(setting_of(ShelterKind, "needs_snow_cm"), step=10.0)
        self._trees = ChoiceField(tr("trees"), translated(_TREES))
        self._remove = QToolButton()
        self._remove.setText(tr("Remove"))
        self._remove.setProperty("role", "quiet")
        self._fields: tuple[tuple[NumberField | ChoiceField, str], ...] = (
            (self._places, "places"), (self._width, "footprint_m"), (self._time, "pitching_min"),
            (self._snow, "needs_snow_cm"), (self._trees, "needs_trees"),
        )  # fmt: skip
        head = QHBoxLayout()
        head.addWidget(self._title, 1)
        head.addWidget(self._remove)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 4)
        column.setSpacing(2)
        column.addLayout(head)
        column.addWidget(
            Sentence(
                tr("sleeps {0} on {1}, takes {2} to put up, needs {3} of snow and {4}."),
                self._places,
                self._width,
                self._time,
                self._snow,
                self._trees,
            )
        )
        for field, name in self._fields:
            field.value_chosen.connect(partial(self._on_chosen, name))
        self._remove.clicked.connect(self._on_removed)

    def show_kind(self, kind: ShelterKind) -> None:
        """Show a kind, without telling anything as chosen."""
        if kind.label != self._label:
            self._label = kind.label
            self._title.setText(kind.label)
            for field, name in self._fields[:-1]:
                setting = setting_of(ShelterKind, name)
                describe(
                    field,
                    tr("{label} of the {kind}", label=tr(setting.label), kind=kind.label),
                    setting_help(setting),
                )
            text = tr("Trees for the {label}. Two to hang it between.", label=kind.label)
            describe(self._trees, tr("trees for the {label}", label=kind.label), text)
            describe(
                self._remove,
                tr("remove the kind {label}", label=kind.label),
                tr("Takes it out of the plan where no shelter is one."),
            )
        for field, name in self._fields:
            field.show_value(getattr(kind, name))

    def _on_chosen(self, name: str, value: object) -> None:
        if name == "places":
            value = int(value)  # type: ignore[call-overload]
        self._wish(
            tr("Change the {label}", label=self._label), partial(_changed, label=self._label, field=name, value=value)
        )

    @Slot()
    def _on_removed(self) -> None:
        self._wish(tr("Remove the kind {label}", label=self._label), partial(with_own_kind_removed, label=self._label))

    def _wish(self, text: str, change: Callable[[Plan], Plan]) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=change))


class OwnKinds(QWidget):
    """All of the user's own kinds.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rows: list[OwnKindRow] = []
        self._column = QVBoxLayout()
        self._new_name = QLineEdit()
        self._new_name.setPlaceholderText(tr("a kind of shelter of your own"))
        self._new_name.setMaxLength(NAME_LENGTH_MAX)
        describe(self._new_name, tr("name of a new kind of shelter"), tr("What it is called; press Enter to add it."))
        self._add = QPushButton(tr("Add a kind"))
        describe(
            self._add, tr("add a kind of shelter"), tr("Then say how many it sleeps, how wide it is and what it needs.")
        )
        line = QHBoxLayout()
        line.addWidget(self._new_name, 1)
        line.addWidget(self._add)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._column)
        column.addLayout(line)
        self._new_name.returnPressed.connect(self._on_add)
        self._add.clicked.connect(self._on_add)

    def show_plan(self, plan: Plan) -> None:
        """Show a plan's own kinds."""
        kinds = plan.unit.shelter_kinds
        while len(self._rows) > len(kinds):
            row = self._rows.pop()
            row.hide()
            row.deleteLater()
        for _ in range(len(self._rows), len(kinds)):
            row = OwnKindRow()
            row.edit_requested.connect(self.edit_requested)
            self._rows.append(row)
            self._column.addWidget(row)
        for row, kind in zip(self._rows, kinds, strict=True):
            row.show_kind(kind)
        if any(kind.label.casefold() == self._new_name.text().strip().casefold() for kind in kinds[-1:]):
            self._new_name.clear()

    @Slot()
    def _on_add(self) -> None:
        label = " ".join(self._new_name.text().split())
        self.edit_requested.emit(
            PlanEdit(text=tr("Add {label}", label=label), change=partial(with_own_kind_added, label=label))
        )


def _changed(plan: Plan, *, label: str, field: str, value: object) -> Plan:
    return with_own_kind_changed(plan, label, **{field: value})
