"""What is handed out, looked at before it is printed or saved: the sheet page by page, the order, a map by itself."""

from __future__ import annotations

from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, cast

from PySide6.QtCore import QTimer, Signal, Slot
from PySide6.QtGui import QCloseEvent, QShowEvent
from PySide6.QtWidgets import (
    QCheckBox,
    QDialog,
    QHBoxLayout,
    QProgressBar,
    QPushButton,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from sitepick.desk import handout_files, plan_files, printing
from sitepick.desk.fields import ChoiceField
from sitepick.desk.handout_work import PREVIEW_DOTS_PER_INCH, HandoutWork, Preview
from sitepick.desk.jobs import JobRunner, Work
from sitepick.desk.map_choice import MapChoice
from sitepick.desk.order_notes import OrderNotesPage
from sitepick.desk.page import text_label
from sitepick.desk.page_view import SEEN, SIZES, PageView
from sitepick.desk.plan_field import plan_choice
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr, translated
from sitepick.desk.words import begun
from sitepick.errors import SitepickError
from sitepick.plan.handout import PAPERS
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

PREVIEW, EXPORT = "preview", "export"
_PAUSE_MS = 120  # a drag on the map brings many answers


class HandingOut(QDialog):
    """A window beside the desk that follows its answer.

    Parameters
    ----------
    runner : JobRunner
        The window's own.
    work : HandoutWork, optional
        Tests put quicker work in.
    parent : QWidget, optional

    Attributes
    ----------
    folder : Path
        Where saving begins to look.

    Signals
    -------
    edit_requested(PlanEdit)
    broken(BaseException)
        Our own mistake, from a job.
    """

    edit_requested = Signal(object)
    broken = Signal(object)

    def __init__(self, runner: JobRunner, work: HandoutWork | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Preview and print"))
        self.setAccessibleName(tr("Preview and print"))
        self._runner, self._work = runner, work or HandoutWork()
        self.folder = Path.home()
        self._answer: Tonight | None = None
        self._preview: Preview | None = None
        self._is_due, self._is_old = True, False
        self._newest: dict[str, int] = {}
        self.pages = PageView()
        self.order = OrderNotesPage()
        self.map_choice = MapChoice()
        self.paper = plan_choice("handout", "paper", [(name, name) for name in PAPERS])
        self.told = text_label("", "reason")
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._lay_out()
        self._connect()
        self._show_state()

    def _lay_out(self) -> None:
        seen, size = (
            ChoiceField(tr("seen"), translated(SEEN), tr("What becomes of the colours.")),
            ChoiceField(tr("size"), translated(SIZES), tr("How large the pages are shown.")),
        )
        seen.value_chosen.connect(self.pages.choose_seen)
        size.value_chosen.connect(self.pages.choose_size)
        self.back, self.on = QPushButton(tr("Page before")), QPushButton(tr("Page after"))
        self.place = text_label("", "reason")
        leafing = QHBoxLayout()
        leafing.addWidget(self.back)
        leafing.addWidget(self.on)
        leafing.addWidget(self.place, 1)
        sheet = QWidget()
        column = QVBoxLayout(sheet)
        column.addWidget(Sentence(tr("On {0} paper, shown {1} and {2}."), self.paper.field, seen, size))
        column.addWidget(self.pages, 1)
        column.addLayout(leafing)
        self.tabs = QTabWidget()
        for piece, name in (
            (sheet, tr("Sheet")),
            (self.order, tr("Order")),
            (self.map_choice, tr("One map as a picture")),
        ):
            self.tabs.addTab(piece, name)
        self.bar = QProgressBar()
        self.bar.setTextVisible(False)
        self.print_button, self.pdf_button = QPushButton(tr("Print …")), QPushButton(tr("Save sheet as PDF …"))
        self.folder_button, self.stop_button = (
            QPushButton(tr("Write everything to a folder …")),
            QPushButton(tr("Stop")),
        )
        close = QPushButton(tr("Close"))
        close.clicked.connect(self.close)
        row = QHBoxLayout()
        self.layers = QCheckBox(tr("with every layer of the ground"))
        self.layers.setToolTip(tr("As cloud-optimised GeoTIFF and PNG, in a folder of their own. Takes a while."))
        for piece in (self.print_button, self.pdf_button, self.folder_button, self.layers):
            row.addWidget(piece)
        row.addStretch(1)
        row.addWidget(self.stop_button)
        row.addWidget(close)
        whole = QVBoxLayout(self)
        whole.addWidget(self.tabs, 1)
        whole.addWidget(self.told)
        whole.addWidget(self.bar)
        whole.addLayout(row)
        for button in self.findChildren(QPushButton):
            button.setAutoDefault(False)  # Enter in a field must not print
        self.resize(820, 900)

    def _connect(self) -> None:
        runner = self._runner
        runner.progressed.connect(self._on_progressed)
        runner.finished.connect(self._on_finished)
        runner.failed.connect(self._on_failed)
        runner.stopped.connect(self._on_stopped)
        self._pause.timeout.connect(self._make_preview)
        self.paper.edit_requested.connect(self.edit_requested)
        self.order.edit_requested.connect(self.edit_requested)
        self.back.clicked.connect(partial(self._leaf, -1))
        self.on.clicked.connect(partial(self._leaf, 1))
        self.pages.page_chosen.connect(self._show_state)
        self.print_button.clicked.connect(self._on_print)
        self.pdf_button.clicked.connect(self._on_pdf)
        self.folder_button.clicked.connect(self._on_folder)
        self.map_choice.picture_requested.connect(self._on_picture)
        self.stop_button.clicked.connect(self.stop)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's paper and the leader's lines."""
        self.paper.show_plan(plan)
        self.order.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Lay out another answer, once the window is in view and no newer one has come for a moment."""
        if answer is not self._answer:
            self._is_due = True
        self._answer, self._is_old = answer, False
        self.map_choice.show_has_camp(answer.camp is not None)
        self._ask()

    def show_stale(self, is_stale: bool) -> None:
        """Whether the plan has changed since the answer; an old sheet isn't handed out."""
        self._is_old = is_stale
        self._show_state()

    @Slot()
    def stop(self) -> None:
        """Stop whatever is in hand."""
        for group in (PREVIEW, EXPORT):
            self._runner.stop(group)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._ask()

    def closeEvent(self, event: QCloseEvent) -> None:
        self.order.tell_lines()
        self._runner.stop(PREVIEW)
        super().closeEvent(event)

    # What the person asked for

    @Slot()
    def _on_print(self) -> None:
        if self._preview is not None:
            sheet = self._preview.sheet
            printer = printing.ask_printer(self, sheet)
            if printer is not None:
                self._submit(EXPORT, partial(self._work.print_out, sheet, printer))

    @Slot()
    def _on_pdf(self) -> None:
        path = handout_files.ask_pdf(self, self.folder)
        if path is not None and self._preview is not None:
            self._submit(EXPORT, partial(self._work.save_pdf, self._preview.sheet, path))

    @Slot()
    def _on_folder(self) -> None:
        folder = plan_files.ask_folder(self, self.folder)
        if folder is not None and self._answer is not None:
            self._submit(EXPORT, partial(self._work.write_all, self._answer, folder, self.layers.isChecked()))

    @Slot(str, int, float)
    def _on_picture(self, name: str, scale_denominator: int, dots_per_inch: float) -> None:
        path = handout_files.ask_picture(self, self.folder, name)
        if path is not None and self._answer is not None:
            self._submit(
                EXPORT,
                partial(self._work.save_picture, self._answer, name, scale_denominator, dots_per_inch, path),  # type: ignore[arg-type]
            )

    def _leaf(self, step: int) -> None:
        self.pages.choose_page(self.pages.index + step)

    # Jobs

    def _ask(self) -> None:
        if self.isVisible() and self._is_due and self._answer is not None:
            self._pause.start()
        self._show_state()

    @Slot()
    def _make_preview(self) -> None:
        if self._answer is not None:
            self._is_due = False
            self._submit(PREVIEW, partial(self._work.make_preview, self._answer))

    def _submit(self, group: str, work: Work) -> None:
        self._newest[group] = self._runner.submit(group, work)
        self._show_state()

    def _take(self, job_id: int) -> str | None:
        """The group that an ended job is the newest of, which then has none in hand; None for any other job."""
        group = next((group for group, newest in self._newest.items() if newest == job_id), None)
        if group is not None:
            del self._newest[group]
        return group

    @Slot(int, str, int, int)
    def _on_progressed(self, job_id: int, step: str, done_count: int, total_count: int) -> None:
        if job_id in self._newest.values():
            self.bar.setRange(0, total_count)
            self.bar.setValue(done_count)
            self.told.setText(f"{begun(tr(step))} …")

    @Slot(int, object)
    def _on_finished(self, job_id: int, result: object) -> None:
        group = self._take(job_id)
        if group == PREVIEW:
            preview = cast(Preview, result)
            self._preview = preview
            self.pages.show_pages(preview.images, PREVIEW_DOTS_PER_INCH)
            self.order.show_order(preview.order)
            self.told.setText("")
        elif group == EXPORT:
            self.told.setText(str(result))
        self._show_state()

    @Slot(int, object)
    def _on_failed(self, job_id: int, fault: BaseException) -> None:
        if self._take(job_id) is None:
            return
        if isinstance(fault, SitepickError):
            self.told.setText(f"{begun(fault.what)}: {fault.fix}.")
        else:
            self.told.setText("")
            self.broken.emit(fault)
        self._show_state()

    @Slot(int)
    def _on_stopped(self, job_id: int) -> None:
        group = self._take(job_id)
        if group is not None:
            self._is_due = self._is_due or group == PREVIEW
            self.told.setText(tr("Stopped."))
            self._show_state()

    @Slot()
    def _show_state(self) -> None:
        """What can be asked for now, and where in the pages one is."""
        is_working = bool(self._newest)
        is_ready = self._preview is not None and not self._is_due and not self._is_old and not is_working
        for button in (self.print_button, self.pdf_button, self.folder_button):
            button.setEnabled(is_ready)
        self.map_choice.show_ready(is_ready)
        self.stop_button.setVisible(is_working)
        self.bar.setVisible(is_working)
        index, count = self.pages.index, self.pages.page_count
        self.back.setEnabled(index > 0)
        self.on.setEnabled(index + 1 < count)
        old = tr(" The plan has changed: a new answer is being worked out.") if self._is_old else ""
        self.place.setText(
            tr("Page {index} of {number}.{old}", index=index + 1, number=count, old=old)
            if count
            else tr("No page yet.{old}", old=old)
        )
