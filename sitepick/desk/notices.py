"""The bar that tells what a person can mend: what went wrong, and what to do now."""

from __future__ import annotations

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QFrame, QHBoxLayout, QLabel, QToolButton, QWidget

from sitepick.desk.display import shown
from sitepick.desk.translation import tr
from sitepick.errors import SitepickError


class NoticeBar(QFrame):
    """One notice at a time, closed by the person or by the next success.

    Signals
    -------
    closed()
    wish_chosen()
        The button that a notice offered.
    """

    closed = Signal()
    wish_chosen = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "notice")
        self._text = QLabel(self)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setWordWrap(True)
        self._text.setTextInteractionFlags(
            Qt.TextInteractionFlag.TextSelectableByMouse | Qt.TextInteractionFlag.TextSelectableByKeyboard
        )
        self._wish = QToolButton(self)
        self._wish.setProperty("role", "quiet")
        self._wish.clicked.connect(self.wish_chosen)
        self._details = QToolButton(self)
        self._details.setText(tr("Details"))
        self._details.setProperty("role", "quiet")
        self._details.setCheckable(True)
        self._details.toggled.connect(self._on_details)
        close = QToolButton(self)
        close.setText(tr("Close"))
        close.setProperty("role", "quiet")
        close.clicked.connect(self.clear)
        row = QHBoxLayout(self)
        row.setContentsMargins(16, 6, 16, 6)
        row.addWidget(self._text, 1)
        row.addWidget(self._wish)
        row.addWidget(self._details)
        row.addWidget(close)
        self._short = ""
        self._where = ""
        self._is_error = False
        self.hide()

    def show_error(self, error: SitepickError, *, wish: str = "") -> None:
        """Tell what went wrong and what to do now; the place on request, and a way out on a button."""
        self._show(f"{_sentence(error.what)} {_sentence(error.fix)}", error.where or "", wish, is_error=True)

    def show_text(self, text: str) -> None:
        """Tell something that went well and is worth a word."""
        self._show(text, "", "", is_error=False)

    @property
    def text(self) -> str:
        """What is told, empty where nothing is."""
        return self._text.text() if not self.isHidden() else ""

    @Slot()
    def clear(self) -> None:
        """Take the notice away."""
        if not self.isHidden():
            self.hide()
            self.closed.emit()

    @Slot()
    def clear_error(self) -> None:
        """Take an error away; what went well stays until it is closed."""
        if self._is_error:
            self.clear()

    def _show(self, short: str, where: str, wish: str, *, is_error: bool) -> None:
        self._is_error = is_error
        self._short, self._where = shown().said(short), where
        self._wish.setText(wish)
        self._wish.setVisible(bool(wish))
        self._details.setVisible(bool(where))
        self._details.setChecked(False)
        self._on_details(False)
        self.show()

    @Slot(bool)
    def _on_details(self, is_open: bool) -> None:
        self._text.setText(f"{self._short}\n{self._where}" if is_open else self._short)
        self.setAccessibleName(self._text.text())


def _sentence(clause: str) -> str:
    return f"{clause[0].upper()}{clause[1:]}." if clause else ""
