"""Everything in the camp in one list, tied to the map both ways."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTableWidget,
    QTableWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sitepick.desk.camp_tool import LET_GO_OF_ALL, Key, let_go_edit
from sitepick.desk.display import shown
from sitepick.desk.fields import describe
from sitepick.desk.page import GAP_PX, text_label
from sitepick.desk.translation import marked, tr
from sitepick.plan.model import Plan
from sitepick.units import compass_word

if TYPE_CHECKING:
    from sitepick.camp.model import Camp
    from sitepick.camp.things import Thing
    from sitepick.grid import Grid

LEAST_ROW_PX = 22
NOTHING_CHOSEN = marked("Choose something here or on the map to hear why it lies there, or to put it elsewhere.")
COLUMNS = (marked("In the camp"), marked("People"), marked("Grid reference"), marked("Door"))


class CampTable(QTableWidget):
    """The rows; Enter takes one in hand, Delete lets go of it.

    Signals
    -------
    hand_wanted(), let_go_wanted()
    """

    hand_wanted = Signal()
    let_go_wanted = Signal()

    def __init__(self) -> None:
        super().__init__(0, len(COLUMNS))
        self.setHorizontalHeaderLabels([tr(name) for name in COLUMNS])
        describe(
            self, tr("Shelters, facilities and posts"),
            tr("Up and Down choose, Enter takes the chosen one in hand on the map, Delete lets go of it."),
        )  # fmt: skip
        self.setToolTip("")
        self.verticalHeader().hide()
        self.verticalHeader().setMinimumSectionSize(LEAST_ROW_PX)
        self.setShowGrid(False)
        self.setTabKeyNavigation(False)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        header = self.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self.hand_wanted.emit()
        elif event.key() in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self.let_go_wanted.emit()
        else:
            super().keyPressEvent(event)


class CampList(QWidget):
    """The list, what is known of the chosen thing, and what can be done with it.

    Signals
    -------
    edit_requested(PlanEdit)
    thing_chosen(object)
        Kind and name.
    hand_requested(object)
        The arrow keys are to move this thing on the map.
    """

    edit_requested = Signal(object)
    thing_chosen = Signal(object)
    hand_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._things: tuple[Thing, ...] = ()
        self._told: tuple[str, ...] = ()
        self._pins: frozenset[Key] = frozenset()
        self.table = CampTable()
        self._about = text_label("", "reason")
        self._take, self._let_go, self._all = (
            QPushButton(tr("Move")),
            QPushButton(tr("Let go")),
            QPushButton(tr("Let go of all")),
        )
        describe(
            self._take,
            tr("move by hand"),
            tr("The arrow keys move it on the map, Enter puts it there (Enter in the list)."),
        )
        describe(self._let_go, tr("let go"), tr("The program places it again (Delete in the list)."))
        describe(self._all, tr("let go of all"), tr("The program places everything again."))
        buttons = QHBoxLayout()
        for button in (self._take, self._let_go, self._all):
            buttons.addWidget(button)
        buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_PX)
        column.addLayout(buttons)
        column.addWidget(self._about)
        column.addWidget(self.table)
        self.table.itemSelectionChanged.connect(self._on_selected)
        self.table.hand_wanted.connect(self._on_take)
        self.table.let_go_wanted.connect(self._on_let_go)
        self._take.clicked.connect(self._on_take)
        self._let_go.clicked.connect(self._on_let_go)
        self._all.clicked.connect(self._on_all)
        self._show_chosen()

    @property
    def chosen(self) -> Key | None:
        """The chosen thing's kind and name."""
        row = self.table.currentRow()
        rows = self.table.selectionModel().selectedRows()
        return self._things[row].key if rows and 0 <= row < len(self._things) else None

    def show_plan(self, plan: Plan) -> None:
        """Show what is pinned."""
        self._pins = frozenset(pin.key for pin in plan.camp.pins)
        self._show_chosen()

    def show_camp(self, camp: Camp | None, grid: Grid) -> None:
        """List everything in a camp; what was chosen stays so where it is still there."""
        from sitepick.camp.things import things_of

        chosen = self.chosen
        self._things = () if camp is None else things_of(camp)
        self._told = tuple(caution.text for caution in camp.cautions) if camp is not None else ()
        doors = {} if camp is None else {("shelter", one.shelter.name): one for one in camp.shelters}
        with QSignalBlocker(self.table):
            self.table.setRowCount(len(self._things))
            for row, thing in enumerate(self._things):
                placed = doors.get(thing.key)
                people = "" if placed is None else str(placed.shelter.people)
                door = (
                    "" if placed is None else f"{placed.door_bearing_deg:.0f}° {compass_word(placed.door_bearing_deg)}"
                )
                self._show_row(row, thing, (people, shown().place(grid, thing.east_m, thing.north_m), door))
            self.table.resizeRowsToContents()
        height = self.table.horizontalHeader().sizeHint().height() + 4
        height += sum(self.table.rowHeight(row) for row in range(self.table.rowCount()))
        self.table.setFixedHeight(height)
        self.show_thing(chosen)

    def show_thing(self, key: Key | None) -> None:
        """Mark a thing, without telling it as chosen."""
        row = next((k for k, thing in enumerate(self._things) if thing.key == key), -1)
        with QSignalBlocker(self.table):
            if row < 0:
                self.table.clearSelection()
                self.table.setCurrentCell(-1, -1)
            else:
                self.table.selectRow(row)
        self._show_chosen()

    def _show_row(self, row: int, thing: Thing, others: Sequence[str]) -> None:
        told = tr("{told}, by hand", told=thing.told) if thing.is_pinned else thing.told
        for col, text in enumerate((told, *others)):
            item = QTableWidgetItem(text)
            item.setToolTip(thing.reason)
            self.table.setItem(row, col, item)

    def _show_chosen(self) -> None:
        key = self.chosen
        thing = next((one for one in self._things if one.key == key), None)
        self._about.setText(tr(NOTHING_CHOSEN))
        if thing is not None:
            broken = [text for text in self._told if text.startswith(f"{thing.name}, put there by hand")]
            self._about.setText("\n".join([thing.reason, *broken]).strip())
        self._take.setEnabled(thing is not None)
        self._let_go.setEnabled(key in self._pins)
        self._all.setEnabled(bool(self._pins))

    @Slot()
    def _on_selected(self) -> None:
        self._show_chosen()
        if self.chosen is not None:
            self.thing_chosen.emit(self.chosen)

    @Slot()
    def _on_take(self) -> None:
        if self.chosen is not None:
            self.hand_requested.emit(self.chosen)

    @Slot()
    def _on_let_go(self) -> None:
        if self.chosen in self._pins and self.chosen is not None:
            self.edit_requested.emit(let_go_edit(self.chosen))

    @Slot()
    def _on_all(self) -> None:
        self.edit_requested.emit(LET_GO_OF_ALL)
