"""The first line of the window: tonight's answer as a sentence, or that it is being worked out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtWidgets import (
    QDialog,
    QGraphicsOpacityEffect,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from sitepick.desk.display import shown
from sitepick.desk.sentence import WordLayout
from sitepick.desk.translation import counted, marked, tr
from sitepick.desk.words import all_cautions, answer_on_top, caution_count

if TYPE_CHECKING:
    from sitepick.caution import Caution
    from sitepick.tonight import Tonight

SHOW_PROGRESS_AFTER_MS = 300
FADED = 0.45
OLD_ANSWER = marked("Old: the plan has changed since this answer.")


class AnswerLine(QWidget):
    """The answer, its cautions, and the progress of a newer one.

    Signals
    -------
    stop_requested()
    """

    stop_requested = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._cautions: Sequence[Caution] = ()
        self._has_answer = False
        self._is_old = False
        self._name = self._label("answer")
        self._facts = self._label("answer_takes")
        self._alternate = self._label("answer_alternate")
        self._step = self._label("label")
        self._stop = QPushButton(tr("&Stop"), self)
        self._stop.setToolTip(tr("Stop working; the last answer stays."))
        self._stop.clicked.connect(self.stop_requested)
        self._caution_button = QToolButton(self)
        self._caution_button.setProperty("role", "cautions")
        self._caution_button.clicked.connect(self._on_cautions)
        self._progress = QProgressBar(self)
        self._progress.setTextVisible(False)
        self._progress.setAccessibleName(tr("Progress"))
        self._late = QTimer(self)
        self._late.setSingleShot(True)
        self._late.setInterval(SHOW_PROGRESS_AFTER_MS)
        self._late.timeout.connect(self._on_late)
        self._lay_out()
        self._show_working(False)
        self._caution_button.hide()
        self._name.setText(tr("Working out tonight's stop …"))

    def _label(self, role: str) -> QLabel:
        label = QLabel(self)
        label.setProperty("role", role)
        label.setTextFormat(Qt.TextFormat.PlainText)
        return label

    def _lay_out(self) -> None:
        self._words = QWidget(self)
        words = WordLayout(self._words, gap_px=10)
        for label in (self._name, self._facts, self._alternate):
            words.addWidget(label)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self._words.setSizePolicy(policy)
        row = QHBoxLayout()
        row.setContentsMargins(16, 7, 16, 5)
        row.setSpacing(12)
        row.addWidget(self._words, 1, Qt.AlignmentFlag.AlignVCenter)
        row.addWidget(self._step)
        row.addWidget(self._stop)
        row.addWidget(self._caution_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(row)
        column.addWidget(self._progress)
        keep = self._progress.sizePolicy()
        keep.setRetainSizeWhenHidden(True)
        self._progress.setSizePolicy(keep)

    def show_answer(self, answer: Tonight) -> None:
        """Tell an answer."""
        name, facts, alternate = (shown().said(text) for text in answer_on_top(answer))
        self._name.setText(name)
        self._facts.setText(facts)
        self._alternate.setText(alternate)
        self.setAccessibleName(f"{name} {facts} {alternate}".strip())
        self._cautions = all_cautions(answer)
        self._caution_button.setText(counted(caution_count(answer), "caution"))
        self._caution_button.show()
        self._has_answer = True
        self._is_old = False
        self._show_working(False)

    def show_started(self, *, is_old: bool) -> None:
        """Work has begun; after a moment progress shows, and an answer that is old by then fades."""
        self._is_old = is_old
        if not self._stop.isVisible() and not self._late.isActive():
            self._late.start()

    def show_progress(self, step: str, done_count: int, total_count: int) -> None:
        """How far the work is."""
        self._step.setText(tr(step))
        self._progress.setRange(0, total_count)
        self._progress.setValue(done_count)

    def show_stopped(self, text: str, *, is_old: bool) -> None:
        """Nothing is being worked out any more; an answer that is old says so."""
        self._is_old = is_old
        self._show_working(False)
        if not self._has_answer:
            self._name.setText(text)
        elif is_old:
            self._step.setText(tr(OLD_ANSWER))
            self._step.show()

    @property
    def says_old(self) -> bool:
        """Whether the answer that stands here is told to be old."""
        return not self._step.isHidden() and self._step.text() == tr(OLD_ANSWER)

    @property
    def is_working(self) -> bool:
        """Whether progress shows."""
        return not self._stop.isHidden()

    def _show_working(self, is_working: bool) -> None:
        self._late.stop()
        for widget in (self._progress, self._stop, self._step):
            widget.setVisible(is_working)
        if self._is_old and self._has_answer:
            effect = QGraphicsOpacityEffect(self._words)
            effect.setOpacity(FADED)
            self._words.setGraphicsEffect(effect)
        else:
            self._words.setGraphicsEffect(None)  # type: ignore[arg-type]

    @Slot()
    def _on_late(self) -> None:
        self._show_working(True)

    @Slot()
    def _on_cautions(self) -> None:
        cautions_dialog(self, self._cautions).open()


def cautions_dialog(parent: QWidget, cautions: Sequence[Caution]) -> QDialog:
    """Every caution in a window of its own, one under the other."""
    dialog = QDialog(parent)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setWindowTitle(tr("Cautions"))
    inside = QWidget(dialog)
    inside.setProperty("role", "page")
    column = QVBoxLayout(inside)
    column.setContentsMargins(20, 20, 20, 20)
    column.setSpacing(8)
    for caution in cautions:
        label = QLabel(shown().said(caution.text), inside)
        label.setProperty("role", "caution")
        label.setTextFormat(Qt.TextFormat.PlainText)
        label.setWordWrap(True)
        column.addWidget(label)
    column.addStretch(1)
    scroll = QScrollArea(dialog)
    scroll.setWidgetResizable(True)
    scroll.setWidget(inside)
    close = QPushButton(tr("Close"), dialog)
    close.clicked.connect(dialog.accept)
    outer = QVBoxLayout(dialog)
    outer.addWidget(scroll, 1)
    outer.addWidget(close, 0, Qt.AlignmentFlag.AlignRight)
    dialog.resize(560, 480)
    return dialog
