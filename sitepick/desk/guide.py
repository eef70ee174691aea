"""A short way through at the first start: six sentences, each beside what it tells of."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QWidget

from sitepick.desk.translation import marked, tr

# Each step, and the page of the field book that it opens.
STEPS = (
    (
        marked("The top line is tonight's answer for the sample plan: where, when, how much light is left."),
        marked("Sites"),
    ),
    (
        marked("The map: drag moves it, the wheel zooms. Choose Route and drag a cross-tick: a new answer follows."),
        marked("March"),
    ),
    (
        marked("The page March: when you leave, how you move, the weather. Click an underlined value to change it."),
        marked("March"),
    ),
    (
        marked("The page Sites: each site's measures beside their limits. Move a weight and the list follows."),
        marked("Sites"),
    ),
    (marked("Choose Ask here and click any place to hear what speaks for and against it."), marked("Sites")),
    (
        marked("Camp lists every shelter. File, Write handout makes the sheet and the order. F1 opens the manual."),
        marked("Camp"),
    ),
)


class GuideBar(QFrame):
    """The way through, a step at a time; closed for good when the person has had enough.

    Signals
    -------
    page_wanted(str)
        A page of the field book.
    ended()
    """

    page_wanted = Signal(str)
    ended = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "guide")
        self._step = 0
        self._text = QLabel(self)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setWordWrap(True)
        self._next = QToolButton(self)
        self._next.setProperty("role", "quiet")
        self._next.clicked.connect(self._on_next)
        close = QToolButton(self)
        close.setText(tr("End the tour"))
        close.setProperty("role", "quiet")
        close.clicked.connect(self._on_end)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 6, 16, 6)
        row.addWidget(self._text, 1)
        row.addWidget(self._next)
        row.addWidget(close)
        self.hide()

    @Slot()
    def start(self) -> None:
        """Begin at the first step."""
        self._show_step(0)
        self.show()

    @property
    def text(self) -> str:
        """What is told, empty where nothing is."""
        return self._text.text() if not self.isHidden() else ""

    def _show_step(self, step: int) -> None:
        self._step = step
        text, page = STEPS[step]
        self._text.setText(tr("{step} of {count}. {told}", step=step + 1, count=len(STEPS), told=tr(text)))
        self._next.setText(tr("Next") if step + 1 < len(STEPS) else tr("Done"))
        self.setAccessibleName(self._text.text())
        self.page_wanted.emit(page)

    @Slot()
    def _on_next(self) -> None:
        if self._step + 1 < len(STEPS):
            self._show_step(self._step + 1)
        else:
            self._on_end()

    @Slot()
    def _on_end(self) -> None:
        self.hide()
        self.ended.emit()
