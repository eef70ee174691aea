"""Journey: how many days, by which rule; the routes side by side and the nights of the one that is looked at."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal, Slot
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

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, describe
from sitepick.desk.fold import Fold
from sitepick.desk.journey_rows import JourneyRows
from sitepick.desk.look import Look
from sitepick.desk.page import clear, inner_column, page_column, short_label, show_texts, text_label
from sitepick.desk.plan_field import plan_choice, plan_number
from sitepick.desk.route_pictures import RoutePictures
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.plan.journey import PinnedNight
from sitepick.plan.journey_edits import with_night_let_go, with_night_pinned
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.journey.model import Day, Journey, RouteJourney
    from sitepick.tonight import Tonight

RULE_CHOICES = (
    ("weakest", marked("the best weakest night")),
    ("mean", marked("the best mean")),
    ("fewest", marked("the fewest days")),
    ("effort", marked("the least time on the move")),
)
INVITATION = marked("Up to six routes stand side by side here: tonight's and those kept in the Routes menu.")


class JourneyPage(QWidget):
    """The Journey page.

    Signals
    -------
    edit_requested(PlanEdit)
    work_requested(), write_requested()
    route_chosen(int)
        Its place in the journey.
    """

    edit_requested = Signal(object)
    work_requested = Signal()
    write_requested = Signal()
    route_chosen = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, tr("Journey"))
        days = plan_number("journey", "days_max")
        hours = plan_number("journey", "hours_max", decimals=1, step=0.5, empty_text=tr("all its light"))
        rule = plan_choice("journey", "rule", translated(RULE_CHOICES))
        supplies = plan_number("journey", "supply_every_days", empty_text=tr("all days"))
        off = plan_number("journey", "off_route_m", step=250.0)
        self._fields = (days, hours, rule, supplies, off)
        column.addWidget(
            Sentence(tr("At most {0} days, each of {1}, nights chosen for {2}."), days.field, hours.field, rule.field)
        )
        column.addWidget(
            Sentence(tr("Supplies last {0}; nights are looked for up to {1} off the route."), supplies.field, off.field)
        )
        self.rows = JourneyRows()
        self.keeps_to = Fold(
            tr("Days of rest, places and forecasts"),
            tr("What the journey must keep to, and the weather of single days."),
        )
        self.keeps_to.column.addWidget(self.rows)
        column.addWidget(self.keeps_to)
        self._button = QPushButton(tr("Work out the journey"))
        self._button.clicked.connect(self.work_requested)
        self._write = QPushButton(tr("Write the journey to a folder …"))
        describe(
            self._write, tr("write the journey to a folder"),
            tr("The comparison, a sheet and an order for each night, and files for other programs."),
        )  # fmt: skip
        self._write.clicked.connect(self.write_requested)
        self._write.setEnabled(False)
        line = QHBoxLayout()
        line.addWidget(self._button)
        line.addWidget(self._write)
        line.addStretch(1)
        column.addLayout(line)
        self._state = text_label(tr(INVITATION), "soft")
        column.addWidget(self._state)
        self._words = inner_column()
        column.addLayout(self._words)
        self._pictures = RoutePictures(look)
        column.addWidget(self._pictures)
        self._table = _table(self)
        column.addWidget(self._table)
        self._route = ChoiceField(tr("route"), [(0, "")])
        self._route_line = Sentence(tr("Nights along {0}:"), self._route)
        column.addWidget(self._route_line)
        self._days = inner_column()
        column.addLayout(self._days)
        self._journey: Journey | None = None
        self._shown_day = 0
        self._table.hide()
        self._route_line.hide()
        self._route.value_chosen.connect(self._on_route_chosen)
        for field in (*self._fields, self.rows):
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the journey's settings."""
        for field in (*self._fields, self.rows):
            field.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Know the ground; tonight's answer says nothing about the days to come."""
        self.rows.show_grid(answer.ground.grid)

    def show_state(self, text: str) -> None:
        """Say what is being worked out, or that something is old."""
        self._state.setText(text)
        self._state.setVisible(bool(text))

    def show_journey(self, journey: Journey) -> None:
        """Show routes side by side, and the nights of the one that comes first or was chosen."""
        chosen = self.route_index
        names = [one.name for one in journey.routes]
        is_same = self._journey is not None and [one.name for one in self._journey.routes] == names
        self._journey = journey
        self._route.show_choices([(index, name) for index, name in enumerate(names)])
        self._route.show_value(chosen if is_same else journey.order[0])
        self._write.setEnabled(True)
        self._show_comparison(journey)
        self._pictures.show_journey(journey)
        self._table.show()
        self._route_line.show()
        self._show_days()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._pictures.show_look(look)

    def show_day(self, number: int) -> None:
        """Mark the day that the strip has chosen."""
        self._shown_day = number
        self._show_days()

    @property
    def route_index(self) -> int:
        """Which route's nights are shown."""
        value = self._route.value
        return value if isinstance(value, int) else 0

    @property
    def table(self) -> QTableWidget:
        """The comparison, a row a cost and a column a route."""
        return self._table

    @Slot(object)
    def _on_route_chosen(self, value: object) -> None:
        self._shown_day = 0
        self._show_days()
        self.route_chosen.emit(self.route_index)

    def _show_comparison(self, journey: Journey) -> None:
        from sitepick.sheet.journey_words import comparison_rows

        texts = [*journey.words, *(caution.text for caution in journey.cautions)]
        show_texts(self._words, texts, "reason")
        rows = comparison_rows(journey)
        self._table.setColumnCount(len(journey.order) + 1)
        self._table.setHorizontalHeaderLabels(["", *(journey.routes[index].name for index in journey.order)])
        self._table.setRowCount(len(rows))
        for row, (label, values) in enumerate(rows):
            for col, text in enumerate((label, *values)):
                item = QTableWidgetItem(text)
                item.setToolTip(text)
                self._table.setItem(row, col, item)
        self._fit_table()

    def _fit_table(self) -> None:
        header = self._table.horizontalHeader()
        for col in range(self._table.columnCount()):
            header.setSectionResizeMode(col, QHeaderView.ResizeMode.Stretch)
        self._table.resizeRowsToContents()
        height = header.sizeHint().height() + 4
        height += sum(self._table.rowHeight(row) for row in range(self._table.rowCount()))
        self._table.setFixedHeight(height)

    def resizeEvent(self, event: object) -> None:
        super().resizeEvent(event)  # type: ignore[arg-type]
        if self._journey is not None:
            self._fit_table()

    def _show_days(self) -> None:
        clear(self._days)
        if self._journey is None:
            return
        one = self._journey.routes[self.route_index]
        if one.chain is None:
            self._days.addWidget(text_label(one.trouble, "caution"))
        for day in one.days:
            self._days.addWidget(self._entry(one, day))
        if one.gain:
            self._days.addWidget(text_label(one.gain, "soft"))

    def _entry(self, one: RouteJourney, day: Day) -> QWidget:
        from sitepick.sheet.journey_words import day_line, day_mends

        entry = QWidget()
        column = QVBoxLayout(entry)
        column.setContentsMargins(0, 2, 0, 2)
        column.setSpacing(2)
        column.addWidget(text_label(day_line(day), "heading" if day.number == self._shown_day else "reason"))
        for text in day_mends(day):
            column.addWidget(text_label(text, "caution"))
        if day.night is not None and not day.night.is_bare and not day.is_rest:
            line = QHBoxLayout()
            line.addWidget(short_label(_detail_words(day), "label"))
            line.addStretch(1)
            line.addWidget(self._pin_button(one, day))
            column.addLayout(line)
        return entry

    def _pin_button(self, one: RouteJourney, day: Day) -> QPushButton:
        assert day.night is not None
        button = QPushButton(tr("Let go") if day.is_pinned else tr("Pin"))
        button.setAccessibleName(tr("{wish} night {number}", wish=button.text(), number=day.number))
        if day.is_pinned:
            change = partial(with_night_let_go, route=one.name, day=day.number)
            edit = PlanEdit(text=tr("Let night {number} go", number=day.number), change=change)
        else:
            night = PinnedNight(route=one.name, day=day.number, place=day.night.place)
            edit = PlanEdit(
                text=tr("Pin night {number}", number=day.number), change=partial(with_night_pinned, night=night)
            )
        button.clicked.connect(partial(self.edit_requested.emit, edit))
        return button


def _detail_words(day: Day) -> str:
    if day.detail is None:
        return tr("being worked out in full")
    spare_min = (day.camp_by - day.arrive).total_seconds() / 60.0
    firm = (
        ""
        if day.detail.firm_share is None
        else tr("; first in {number:.0f} of 100 draws", number=100 * day.detail.firm_share)
    )
    return tr("{spare_min:.0f} min before camp-by{firm}", spare_min=spare_min, firm=firm)


def _table(parent: QWidget) -> QTableWidget:
    table = QTableWidget(0, 0, parent)
    table.setAccessibleName(tr("Routes side by side"))
    table.verticalHeader().hide()
    table.setShowGrid(False)
    table.setWordWrap(True)
    table.setTabKeyNavigation(False)
    table.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
    table.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
    table.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    table.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    header = table.horizontalHeader()
    header.setDefaultAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
    header.setHighlightSections(False)
    return table
