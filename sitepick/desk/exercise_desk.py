"""What the Exercise page asks for beyond the plan: the pack, the assessment, marks from and to files."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal, Slot
from PySide6.QtWidgets import QFileDialog, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.jobs import JobRunner
from sitepick.desk.page_exercise import ExercisePage
from sitepick.desk.translation import counted, marked, tr
from sitepick.errors import SitepickError
from sitepick.plan.exercise_edits import with_marks_added
from sitepick.plan.mark_file import read_marks, write_marks
from sitepick.plan.model import Plan
from sitepick.work import Watch

if TYPE_CHECKING:
    from sitepick.desk.main_window import MainWindow
    from sitepick.tonight import Tonight

GROUP = "exercise"
ANSWER_FILTER = marked("Answers (*.csv *.tsv *.gpx *.geojson);;All files (*)")
MARK_FILTER = marked("Marks (*.geojson *.json);;All files (*)")


def write_pack_files(plan: Plan, folder: Path, watch: Watch) -> str:
    """Write the pack into a folder; tells what was written."""
    from sitepick.exercise.handout import write_pack
    from sitepick.exercise.trainee import trainee_plan
    from sitepick.ground import read_ground
    from sitepick.paint import write_pdf
    from sitepick.terrain import read_terrain

    copy = trainee_plan(plan)
    ground = read_ground(copy, watch=watch)
    terrain = read_terrain(copy, ground, watch=watch)
    paths = write_pack(plan, ground, terrain, folder, draw_pdf=write_pdf, watch=watch)
    return tr("Pack written to {folder}: {files}.", folder=folder, files=counted(len(paths), "file"))


def assess_answers(
    plan: Plan, paths: Sequence[Path], folder: Path, previous: Tonight | None, watch: Watch
) -> tuple[str, ...]:
    """Assess answers and write the debriefs; tells how the class did, a line each."""
    from sitepick.exercise.answers import assess_files
    from sitepick.exercise.handout import class_lines, write_assessment
    from sitepick.paint import write_pdf

    standard, result = assess_files(plan, paths, watch=watch, previous=previous)
    write_assessment(plan, standard, result, folder, draw_pdf=write_pdf, watch=watch)
    return class_lines(result)


class ExerciseDesk(QObject):
    """Asks for files and folders, and has the work done beside the window.

    Parameters
    ----------
    page : ExercisePage
    runner : JobRunner
    plan_now : callable
        ``plan_now() -> Plan``.
    answer_now : callable
        ``answer_now() -> Tonight or None``: used again as far as it holds.
    parent : QWidget
        Dialogs belong to it.

    Signals
    -------
    edit_requested(PlanEdit)
    progressed(str, int, int)
    ended(str)
        With what is to be said; may be empty.
    refused(SitepickError)
    broken(BaseException)
    """

    edit_requested = Signal(object)
    progressed = Signal(str, int, int)
    ended = Signal(str)
    refused = Signal(object)
    broken = Signal(object)

    def __init__(
        self, page: ExercisePage, runner: JobRunner, plan_now: Callable[[], Plan],
        answer_now: Callable[[], Tonight | None], parent: QWidget,
    ) -> None:  # fmt: skip
        super().__init__(parent)
        self._page, self._runner, self._window = page, runner, parent
        self._plan_now, self._answer_now = plan_now, answer_now
        self._job_id: int | None = None
        page.pack_requested.connect(self._on_pack)
        page.assess_requested.connect(self._on_assess)
        page.marks_open_requested.connect(self._on_marks_open)
        page.marks_save_requested.connect(self._on_marks_save)
        runner.progressed.connect(self._on_progressed)
        runner.finished.connect(self._on_finished)
        runner.failed.connect(self._on_failed)
        runner.stopped.connect(self._on_stopped)

    def write_pack(self, folder: Path) -> None:
        """Have the pack written into a folder."""
        self._job_id = self._runner.submit(GROUP, partial(write_pack_files, self._plan_now(), folder))

    def assess(self, paths: Sequence[Path], folder: Path) -> None:
        """Have answers assessed, the debriefs written into a folder."""
        work = partial(assess_answers, self._plan_now(), paths, folder, self._answer_now())
        self._job_id = self._runner.submit(GROUP, work)

    def take_over_marks(self, path: Path) -> None:
        """Take over the marks of a file, to be undone like every edit; one that will not serve is told."""
        try:
            marks = read_marks(path)
        except SitepickError as fault:
            self.refused.emit(fault)
            return
        self.edit_requested.emit(PlanEdit(text=tr("Take over marks"), change=partial(with_marks_added, marks=marks)))

    def save_marks(self, path: Path) -> None:
        """Save the plan's marks by themselves."""
        try:
            write_marks(self._plan_now().exercise.marks, path)
        except SitepickError as fault:
            self.refused.emit(fault)
            return
        self.ended.emit(tr("Marks saved as {path}.", path=path))

    @Slot(float, float)
    def show_clicked(self, east_m: float, north_m: float) -> None:
        """Let the page know where the map was clicked, grid coordinates."""
        answer = self._answer_now()
        if answer is not None:
            lon, lat = answer.ground.grid.to_lonlat(east_m, north_m)
            self._page.show_clicked((round(float(lon), 6), round(float(lat), 6)))

    @Slot()
    def stop(self) -> None:
        """Stop what is in hand."""
        self._runner.stop(GROUP)

    @Slot()
    def _on_pack(self) -> None:
        name = QFileDialog.getExistingDirectory(self._window, tr("Write the pack to folder"))
        if name:
            self.write_pack(Path(name))

    @Slot()
    def _on_assess(self) -> None:
        names, _ = QFileDialog.getOpenFileNames(self._window, tr("Answers that came in"), "", tr(ANSWER_FILTER))
        if not names and not self._plan_now().exercise.answers:
            return
        folder = QFileDialog.getExistingDirectory(self._window, tr("Write the debriefs to folder"))
        if folder:
            self.assess([Path(name) for name in names], Path(folder))

    @Slot()
    def _on_marks_open(self) -> None:
        name, _ = QFileDialog.getOpenFileName(self._window, tr("Take over marks"), "", tr(MARK_FILTER))
        if name:
            self.take_over_marks(Path(name))

    @Slot()
    def _on_marks_save(self) -> None:
        name, _ = QFileDialog.getSaveFileName(self._window, tr("Save marks as"), "marks.geojson", tr(MARK_FILTER))
        if name:
            self.save_marks(Path(name))

    @Slot(int, str, int, int)
    def _on_progressed(self, job_id: int, step: str, done_count: int, total_count: int) -> None:
        if job_id == self._job_id:
            self.progressed.emit(step, done_count, total_count)

    @Slot(int, object)
    def _on_finished(self, job_id: int, result: object) -> None:
        if job_id != self._job_id:
            return
        if isinstance(result, tuple):
            self._page.show_class(result)
            self.ended.emit(tr("The class is assessed; its debriefs are written."))
        else:
            self.ended.emit(str(result))

    @Slot(int, object)
    def _on_failed(self, job_id: int, fault: BaseException) -> None:
        if job_id != self._job_id:
            return
        self.ended.emit("")
        (self.refused if isinstance(fault, SitepickError) else self.broken).emit(fault)

    @Slot(int)
    def _on_stopped(self, job_id: int) -> None:
        if job_id == self._job_id:
            self.ended.emit(tr("Stopped; nothing was written."))


def connect_exercise(window: MainWindow) -> None:
    """The wires between the window's pieces and what the Exercise page asks for.

    Parameters
    ----------
    window : MainWindow
        Its pieces made.
    """
    exercise, line = window.exercise, window.answer_line

    def show_progress(step: str, done_count: int, total_count: int) -> None:
        line.show_started(is_old=not window.asker.is_fresh)
        line.show_progress(step, done_count, total_count)

    def show_ended(text: str) -> None:
        line.show_stopped("", is_old=window.asker.answer is not None and not window.asker.is_fresh)
        if text:
            window.notices.show_text(text)

    window.map.ask_requested.connect(exercise.show_clicked)
    line.stop_requested.connect(exercise.stop)
    exercise.edit_requested.connect(window.apply)
    exercise.progressed.connect(show_progress)
    exercise.ended.connect(show_ended)
    exercise.refused.connect(window.notices.show_error)
    exercise.broken.connect(window.broken)
