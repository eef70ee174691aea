"""The work on arrival, the night's duties, and what is looked at on the spot."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtWidgets import QCheckBox, QGridLayout, QLabel, QLineEdit, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import describe
from sitepick.desk.fold import Fold
from sitepick.desk.page import GAP_PX, text_label
from sitepick.desk.translation import counted, marked, tr
from sitepick.desk.words import clock
from sitepick.plan.camp_edits import FOUND_LENGTH_MAX, tick_of, with_tick
from sitepick.plan.model import Plan
from sitepick.plan.work_order import ArrivalTick

if TYPE_CHECKING:
    from sitepick.camp.model import Job, WorkOrder


class TickRow(QWidget):
    """One thing to look at: ticked or not, and what was found.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, what: str) -> None:
        super().__init__()
        self._tick = ArrivalTick(what=what)
        self._box = QCheckBox()
        describe(self._box, tr("{what}: done", what=what), tr("Tick once somebody has looked."))
        self._found = QLineEdit()
        self._found.setPlaceholderText(tr("what was found"))
        self._found.setMaxLength(FOUND_LENGTH_MAX)
        describe(self._found, tr("{what}: what was found", what=what), tr("It is kept with the plan."))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        label = text_label(what, "reason")
        grid.addWidget(self._box, 0, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(label, 0, 1)
        grid.addWidget(self._found, 1, 1)
        grid.setColumnStretch(1, 1)
        self._box.toggled.connect(self._on_toggled)
        self._found.editingFinished.connect(self._on_found)

    @property
    def what(self) -> str:
        """What is looked at."""
        return self._tick.what

    @property
    def box(self) -> QCheckBox:
        """Its tick."""
        return self._box

    @property
    def found(self) -> QLineEdit:
        """What was found."""
        return self._found

    def show_plan(self, plan: Plan) -> None:
        """Show what the plan says of it."""
        self._tick = tick_of(plan, self.what)
        with QSignalBlocker(self._box):
            self._box.setChecked(self._tick.is_done)
        if self._found.text() != self._tick.found:
            self._found.setText(self._tick.found)

    @Slot(bool)
    def _on_toggled(self, is_done: bool) -> None:
        said = ArrivalTick(what=self.what, is_done=is_done, found=self._found.text())
        what = _begin(self.what)
        self._wish(tr("Tick {what}", what=what) if is_done else tr("Untick {what}", what=what), said)

    @Slot()
    def _on_found(self) -> None:
        if self._found.text() != self._tick.found:
            said = ArrivalTick(what=self.what, is_done=self._tick.is_done, found=self._found.text())
            self._wish(tr("Note what was found: {what}", what=_begin(self.what)), said)

    def _wish(self, text: str, tick: ArrivalTick) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=partial(with_tick, tick=tick)))


class CampWork(QWidget):
    """Jobs, duties and ticks, folded to one line each until asked for.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self) -> None:
        super().__init__()
        self._plan: Plan | None = None
        self._rows: list[TickRow] = []
        self._ready = text_label("", "sentence")
        self.jobs = Fold(tr("Work on arrival"), tr("Who does what, from when to when."))
        self.turns = Fold(tr("Duties of the night"), tr("Who is awake, from when to when."))
        self.ticks = Fold(
            tr("To look at on arrival"), tr("Tick each once somebody has looked, and note what was found.")
        )
        self._jobs, self._turns = QGridLayout(), QGridLayout()
        for fold, lines in ((self.jobs, self._jobs), (self.turns, self._turns)):
            lines.setHorizontalSpacing(10)
            lines.setVerticalSpacing(3)
            lines.setColumnStretch(1, 1)
            fold.column.addLayout(lines)
        self._supplies = text_label("", "reason")
        self.jobs.column.addWidget(self._supplies)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_PX)
        for part in (self._ready, self.jobs, self.turns, self.ticks):
            column.addWidget(part)

    @property
    def rows(self) -> tuple[TickRow, ...]:
        """What is looked at, a row each."""
        return tuple(self._rows)

    def show_plan(self, plan: Plan) -> None:
        """Show what was ticked."""
        self._plan = plan
        for row in self._rows:
            row.show_plan(plan)
        done = sum(tick_of(plan, row.what).is_done for row in self._rows)
        self.ticks.button.setText(tr("To look at on arrival: {done} of {count} done", done=done, count=len(self._rows)))

    def show_work(self, work: WorkOrder | None) -> None:
        """Show a camp's work; None where there is none."""
        self.setVisible(work is not None)
        if work is None:
            return
        self._ready.setText(_ready_text(work))
        _fill(self._jobs, [(_span(job.begin, job.end), f"{job.what}: {_who(job)}") for job in work.jobs])
        _fill(
            self._turns,
            [
                (_span(turn.begin, turn.end), f"{turn.duty[:1].upper()}{turn.duty[1:]}: {turn.who}")
                for turn in work.turns
            ],
        )
        self._supplies.setText(_supplies_text(work))
        if tuple(row.what for row in self._rows) != work.ticks:
            self._make_rows(work.ticks)
        if self._plan is not None:
            self.show_plan(self._plan)

    def _make_rows(self, ticks: tuple[str, ...]) -> None:
        for row in self._rows:
            row.hide()
            row.deleteLater()
        self._rows = [TickRow(what) for what in ticks]
        for row in self._rows:
            row.edit_requested.connect(self.edit_requested)
            self.ticks.column.addWidget(row)


def _fill(grid: QGridLayout, lines: Sequence[tuple[str, str]]) -> None:
    """Fill a grid with times and what is done then, in place of what stood there."""
    while (item := grid.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()
    for row, (time, text) in enumerate(lines):
        when = QLabel(time)
        when.setProperty("role", "label")
        grid.addWidget(when, row, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(text_label(text, "reason"), row, 1)


def _who(job: Job) -> str:
    return job.who if job.who == "Leader" else f"{job.who}, {counted(job.people, 'person', 'people')}"


def _span(begin: datetime, end: datetime) -> str:
    return f"{clock(begin)}-{clock(end)}"


def _ready_text(work: WorkOrder) -> str:
    text = tr("Everyone is under shelter by {ready}", ready=clock(work.ready))
    if work.is_done_by_dark is None:
        return f"{text}."
    return tr("{text}, before dark.", text=text) if work.is_done_by_dark else tr("{text}, after dark.", text=text)


def _supplies_text(work: WorkOrder) -> str:
    parts = (
        (marked("{amount:.0f} l of snow to melt"), work.snow_l),
        (marked("{amount:.0f} l of fuel to melt it"), work.fuel_l),
        (marked("{amount:.1f} m³ of boughs"), work.boughs_m3),
        (marked("{amount:.1f} m³ of firewood"), work.firewood_m3),
    )
    told = [tr(text, amount=amount) for text, amount in parts if amount is not None]
    lines = [tr("It takes {supplies}.", supplies=", ".join(told))] if told else []
    way_out = f"{work.way_out[:1].lower()}{work.way_out[1:]}"
    return " ".join([*lines, tr("Way out for a casualty: {way_out}", way_out=way_out)])


def _begin(what: str) -> str:
    """The first words of a thing to look at, for the menu."""
    first = what.split(":")[0].split(";")[0].split(",")[0]
    return f"{first[:1].lower()}{first[1:]}"
