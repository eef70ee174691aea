"""The kit list: a row a thing, ticked before leaving, with its number, weight and place edited in place."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, QTimer, Signal, Slot
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QLineEdit, QPushButton, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, describe, setting_help
from sitepick.desk.page import text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import counted, marked, tr, translated
from sitepick.desk.words import begun
from sitepick.plan.kit import NAME_LENGTH_MAX, KitItem
from sitepick.plan.kit_edits import (
    with_kit_item_added,
    with_kit_item_changed,
    with_kit_item_removed,
    with_kit_unticked,
)
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

ROWS_AT_A_TIME = 4
NAME_WIDTH_PX = 240
_WHOSE = (("person", marked("a person")), ("section", marked("a section")))
_CARRIED = (("back", marked("on the back")), ("sled", marked("on the sled")))
_STOWED = (
    ("low aft", marked("low and aft")),
    ("forward", marked("forward")),
    ("to hand", marked("to hand")),
    ("anywhere", marked("anywhere")),
)


class KitRow(QWidget):
    """One thing on the list.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._name = ""
        self._tick = QCheckBox()
        self._tick.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._number = NumberField(setting_of(KitItem, "number"))
        self._weight = NumberField(setting_of(KitItem, "weight_kg"), decimals=1, step=0.1)
        self._whose = ChoiceField(tr("for"), translated(_WHOSE))
        self._carried = ChoiceField(tr("carried"), translated(_CARRIED))
        self._stowed = ChoiceField(tr("stowed"), translated(_STOWED))
        self._remove = QToolButton()
        self._remove.setText(tr("Remove"))
        self._remove.setProperty("role", "quiet")
        self._remove.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 2, 0, 4)
        column.setSpacing(2)
        head = QHBoxLayout()
        head.addWidget(self._tick, 1)
        head.addWidget(self._remove)
        column.addLayout(head)
        column.addWidget(
            Sentence("{0} × {1} {2} {3} {4}", self._number, self._weight, self._whose, self._carried, self._stowed)
        )
        self._tick.toggled.connect(self._on_ticked)
        self._number.value_chosen.connect(partial(self._on_chosen, "number", _whole))
        self._weight.value_chosen.connect(partial(self._on_chosen, "weight_kg", _same))
        self._whose.value_chosen.connect(partial(self._on_chosen, "whose", _same))
        self._carried.value_chosen.connect(partial(self._on_chosen, "carried", _same))
        self._stowed.value_chosen.connect(partial(self._on_chosen, "stowed", _same))
        self._remove.clicked.connect(self._on_removed)

    @property
    def name(self) -> str:
        """The thing's name."""
        return self._name

    def show_item(self, item: KitItem) -> None:
        """Show a thing, without telling it as chosen."""
        if item.name != self._name:
            self._name = item.name
            self._show_name(item.name)
        with QSignalBlocker(self._tick):
            self._tick.setChecked(item.is_ticked)
        self._number.show_value(item.number)
        self._weight.show_value(item.weight_kg)
        self._whose.show_value(item.whose)
        self._carried.show_value(item.carried)
        self._stowed.show_value(item.stowed)
        self._stowed.setVisible(item.carried == "sled")

    def _show_name(self, name: str) -> None:
        metrics = self._tick.fontMetrics()
        self._tick.setText(metrics.elidedText(name, Qt.TextElideMode.ElideRight, NAME_WIDTH_PX).replace("&", "&&"))
        describe(self._tick, tr("{name} ticked", name=name), tr("Checked before leaving base."))
        describe(self._number, tr("number of {name}", name=name), setting_help(setting_of(KitItem, "number")))
        describe(self._weight, tr("weight of {name}", name=name), setting_help(setting_of(KitItem, "weight_kg")))
        for field, what in (
            (self._whose, tr("who has {name}", name=name)),
            (self._carried, tr("what carries {name}", name=name)),
            (self._stowed, tr("where lies {name}", name=name)),
        ):
            describe(field, what, f"{begun(what)}.")
        describe(self._remove, tr("remove {name}", name=name), tr("Take {name} off the list.", name=name))

    @Slot(bool)
    def _on_ticked(self, is_ticked: bool) -> None:
        name = self._name
        text = tr("Tick {name}", name=name) if is_ticked else tr("Untick {name}", name=name)
        self._wish(text, partial(with_kit_item_changed, name=self._name, is_ticked=is_ticked))

    def _on_chosen(self, field: str, read: Callable[[object], object], value: object) -> None:
        text = tr("Change the kit list: {name}", name=self._name)
        self._wish(text, partial(_changed, name=self._name, field=field, value=read(value)))

    @Slot()
    def _on_removed(self) -> None:
        self._wish(tr("Remove {name}", name=self._name), partial(with_kit_item_removed, name=self._name))

    def _wish(self, text: str, change: Callable[[Plan], Plan]) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=change))


class KitList(QWidget):
    """The whole list, with a line to add to it.

    Rows are made once the list is seen, a few at a time: neither start-up nor the window waits for them.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: Plan | None = None
        self._rows: list[KitRow] = []
        self._soon = QTimer(self)
        self._soon.setSingleShot(True)
        self._soon.timeout.connect(self._make_rows)
        self._told = text_label("", "reason")
        self._column = QVBoxLayout()
        self._column.setSpacing(2)
        self._new_name = QLineEdit()
        self._new_name.setPlaceholderText(tr("something else to take along"))
        self._new_name.setMaxLength(NAME_LENGTH_MAX)
        describe(self._new_name, tr("name of a new thing"), tr("What to put on the kit list; press Enter to add it."))
        self._add, self._untick = QPushButton(tr("Add")), QPushButton(tr("Untick all"))
        describe(
            self._add,
            tr("add to the kit list"),
            tr("Puts it at the end of the list, one a section, 1 kg, on the sled."),
        )
        describe(self._untick, tr("untick all"), tr("Takes every tick off, for the next departure."))
        line = QHBoxLayout()
        line.addWidget(self._new_name, 1)
        line.addWidget(self._add)
        line.addWidget(self._untick)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self._told)
        column.addLayout(self._column)
        column.addLayout(line)
        self._new_name.returnPressed.connect(self._on_add)
        self._add.clicked.connect(self._on_add)
        self._untick.clicked.connect(self._on_untick)

    @property
    def rows(self) -> tuple[KitRow, ...]:
        """The rows made so far."""
        return tuple(self._rows)

    def show_plan(self, plan: Plan) -> None:
        """Show a plan's kit list."""
        self._plan = plan
        kit = plan.load.kit
        while len(self._rows) > len(kit):
            row = self._rows.pop()
            row.hide()
            row.deleteLater()
        for row, item in zip(self._rows, kit, strict=False):
            row.show_item(item)
        if self.isVisible():
            self._soon.start(0)
        if any(item.name.casefold() == self._new_name.text().strip().casefold() for item in kit[-1:]):
            self._new_name.clear()
        ticked, taken = sum(item.is_ticked for item in kit if item.number), sum(item.number > 0 for item in kit)
        self._told.setText(
            tr("{ticked} of {things} ticked.", ticked=ticked, things=counted(taken, "thing"))
            if taken
            else tr("Nothing on the list yet: add what you take.")
        )

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._soon.start(0)

    @Slot()
    def _make_rows(self) -> None:
        """Make the next few rows that are missing."""
        kit = () if self._plan is None else self._plan.load.kit
        for item in kit[len(self._rows) : len(self._rows) + ROWS_AT_A_TIME]:
            row = KitRow()
            row.edit_requested.connect(self.edit_requested)
            row.show_item(item)
            self._rows.append(row)
            self._column.addWidget(row)
        if len(self._rows) < len(kit):
            self._soon.start(0)

    @Slot()
    def _on_add(self) -> None:
        name = " ".join(self._new_name.text().split())
        self.edit_requested.emit(PlanEdit(text=tr("Add {name}", name=name), change=partial(_added, name=name)))

    @Slot()
    def _on_untick(self) -> None:
        self.edit_requested.emit(PlanEdit(text=tr("Untick all"), change=with_kit_unticked))


def _added(plan: Plan, *, name: str) -> Plan:
    return with_kit_item_added(plan, KitItem(name=name))


def _whole(value: object) -> object:
    return int(value)  # type: ignore[call-overload]


def _same(value: object) -> object:
    return value


def _changed(plan: Plan, *, name: str, field: str, value: object) -> Plan:
    return with_kit_item_changed(plan, name, **{field: value})
