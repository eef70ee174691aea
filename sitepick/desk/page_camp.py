"""Camp: who sleeps where, and which way each door looks."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QAbstractItemView, QHeaderView, QTableWidget, QTableWidgetItem, QWidget

from sitepick.desk.ground_reading import spaced_mgrs
from sitepick.desk.page import inner_column, page_column, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import plan_choice, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.words import counted
from sitepick.plan.handout import PAPERS
from sitepick.plan.model import Plan
from sitepick.units import compass_word

if TYPE_CHECKING:
    from sitepick.camp.model import Camp
    from sitepick.grid import Grid
    from sitepick.tonight import Tonight

COLUMNS = ("Shelter", "People", "Grid reference", "Door")


class CampPage(QWidget):
    """The Camp page.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, "Camp")
        spacing = plan_number("camp", "spacing_m", decimals=1, step=5.0)
        door = plan_number("camp", "door_off_wind_deg", step=5.0)
        paper = plan_choice("handout", "paper", [(name, name) for name in PAPERS])
        self._fields = (spacing, door, paper)
        column.addWidget(
            Sentence("Shelters stand at least", spacing.field, "apart, their doors", door.field, "off the wind.")
        )
        self._where = text_label("No camp is laid out yet.", "sentence")
        column.addWidget(self._where)
        self._table = QTableWidget(0, len(COLUMNS), self)
        self._table.setHorizontalHeaderLabels(COLUMNS)
        self._table.setAccessibleName("Shelters")
        self._table.verticalHeader().hide()
        self._table.setShowGrid(False)
        self._table.setTabKeyNavigation(False)
        self._table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self._table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self._table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        header = self._table.horizontalHeader()
        header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
        header.setHighlightSections(False)
        header.setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        column.addWidget(self._table)
        self._others, self._cautions = inner_column(), inner_column()
        column.addLayout(self._others)
        column.addLayout(self._cautions)
        column.addWidget(Sentence("The sheet is printed on", paper.field, "paper."))
        self._table.hide()
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's spacing and doors."""
        for field in self._fields:
            field.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show the camp shelter by shelter."""
        camp = answer.camp
        self._table.setVisible(camp is not None)
        if camp is None:
            self._where.setText("No site found, so no camp is laid out.")
            show_texts(self._others, (), "reason")
            show_cautions(self._cautions, ())
            return
        self._where.setText(_where_text(camp))
        self._show_shelters(camp, answer.ground.grid)
        grid = answer.ground.grid
        texts = [f"{one.name}: {spaced_mgrs(grid.mgrs(one.east_m, one.north_m))}" for one in camp.facilities]
        show_texts(self._others, texts, "reason")
        show_cautions(self._cautions, camp.cautions)

    @property
    def table(self) -> QTableWidget:
        """The shelters, a row each."""
        return self._table

    def _show_shelters(self, camp: Camp, grid: Grid) -> None:
        self._table.setRowCount(len(camp.shelters))
        for row, placed in enumerate(camp.shelters):
            shelter = placed.shelter
            door = f"{placed.door_bearing_deg:.0f}° {compass_word(placed.door_bearing_deg)}"
            texts = (
                shelter.name,
                str(shelter.people),
                spaced_mgrs(grid.mgrs(placed.east_m, placed.north_m)),
                door,
            )
            for col, text in enumerate(texts):
                item = QTableWidgetItem(text)
                item.setToolTip(
                    f"{shelter.section}: {shelter.kind.label}, ground under it {placed.slope_deg:.1f}° at most"
                )
                self._table.setItem(row, col, item)
        self._table.resizeRowsToContents()
        height = self._table.horizontalHeader().sizeHint().height() + 4
        height += sum(self._table.rowHeight(row) for row in range(self._table.rowCount()))
        self._table.setFixedHeight(height)


def _where_text(camp: Camp) -> str:
    text = f"The camp lies on site {camp.site_rank}, {camp.site_name}."
    if camp.min_distance_m > 0.0:
        text += f" The two nearest shelters stand {camp.min_distance_m:.1f} m apart."
    if camp.missing:
        text += f" {counted(len(camp.missing), 'shelter finds', 'shelters find')} no place."
    return text
