"""Asks for the journey: first the days of every route, then each day's full answer."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QObject, Signal, Slot

from sitepick.desk.desk_work import DeskWork
from sitepick.desk.jobs import JobRunner
from sitepick.desk.translation import tr
from sitepick.errors import SitepickError
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.journey.model import Journey

JOURNEY, DAYS, WRITING = "journey", "journey days", "journey files"


class JourneyAsker(QObject):
    """Keeps the last journey and asks for the next one.

    Parameters
    ----------
    runner : JobRunner
    work : DeskWork

    Signals
    -------
    progressed(str)
    answered(Journey)
        Once when the days are there, once more with their full answers.
    written(tuple of Path)
        The files that the journey was written to.
    aged()
        The plan changed; the journey shown is old.
    ended(str)
        Nothing more comes: a sentence why, or empty.
    refused(SitepickError)
    broken(BaseException)
    """

    progressed = Signal(str)
    answered = Signal(object)
    written = Signal(object)
    aged = Signal()
    ended = Signal(str)
    refused = Signal(object)
    broken = Signal(object)

    def __init__(self, runner: JobRunner, work: DeskWork, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._work = work
        self._plan: Plan | None = None
        self._journey: Journey | None = None
        self._newest: dict[str, int] = {}
        runner.progressed.connect(self._on_progressed)
        runner.finished.connect(self._on_finished)
        runner.failed.connect(self._on_failed)
        runner.stopped.connect(self._on_stopped)

    @property
    def journey(self) -> Journey | None:
        """The last one; may be older than the plan."""
        return self._journey

    def show_plan(self, plan: Plan) -> None:
        """Take a plan; days are planned anew at once where only the journey's own settings have changed."""
        old, self._plan = self._plan, plan
        if self._journey is None or plan == old:
            return
        if replace(self._journey.plan, journey=plan.journey) == plan and plan != self._journey.plan:
            self.ask()
        elif plan != self._journey.plan:
            self.aged.emit()

    @Slot()
    def ask(self) -> None:
        """Work the journey out."""
        if self._plan is not None:
            self._runner.stop(DAYS)
            self._newest.pop(DAYS, None)
            self._submit(JOURNEY, partial(self._work.work_out_journey, self._plan, self._journey))

    def write(self, folder: Path) -> None:
        """Work the journey of the plan as it is now out in full, and write it."""
        if self._plan is not None:
            self._submit(WRITING, partial(self._work.write_journey, self._plan, folder))

    @Slot()
    def stop(self) -> None:
        """Stop what is being worked out or written."""
        for group in (JOURNEY, DAYS, WRITING):
            self._runner.stop(group)

    def _submit(self, group: str, work: object) -> None:
        self._newest[group] = self._runner.submit(group, work)  # type: ignore[arg-type]

    def _group_of(self, job_id: int) -> str | None:
        return next((group for group, newest in self._newest.items() if newest == job_id), None)

    @Slot(int, str, int, int)
    def _on_progressed(self, job_id: int, step: str, done_count: int, total_count: int) -> None:
        if self._group_of(job_id) is not None:
            self.progressed.emit(step)

    @Slot(int, object)
    def _on_finished(self, job_id: int, result: object) -> None:
        group = self._group_of(job_id)
        if group is None:
            return
        del self._newest[group]
        if group == WRITING:
            self.written.emit(result)
            self.ended.emit("")
            return
        self._journey = cast("Journey", result)
        self.answered.emit(result)
        if group == JOURNEY:
            self._submit(DAYS, partial(self._work.work_out_days, self._journey))
        else:
            self.ended.emit("")

    @Slot(int, object)
    def _on_failed(self, job_id: int, fault: BaseException) -> None:
        group = self._group_of(job_id)
        if group is None:
            return
        del self._newest[group]
        could_not = (
            tr("The journey could not be written.") if group == WRITING else tr("The journey could not be worked out.")
        )
        self.ended.emit(could_not)
        (self.refused if isinstance(fault, SitepickError) else self.broken).emit(fault)

    @Slot(int)
    def _on_stopped(self, job_id: int) -> None:
        group = self._group_of(job_id)
        if group is not None:
            del self._newest[group]
            self.ended.emit(tr("Stopped."))
