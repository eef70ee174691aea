"""The manual in a window, open at the page of the place that the person is in; and every shortcut in one list."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import QDialog, QHBoxLayout, QListWidget, QPushButton, QTextBrowser, QVBoxLayout, QWidget

from sitepick.resource import resource_path

# Place, its file under resources/manual. The order is the list's.
CHAPTERS = (
    ("First steps", "example"),
    ("Map", "map"),
    ("Ground", "ground"),
    ("Unit", "unit"),
    ("March", "march"),
    ("Sites", "sites"),
    ("Camp", "camp"),
    ("Exercise", "exercise"),
    ("Day line", "day_line"),
    ("Files and crashes", "files"),
    ("The whole manual", "manual"),
)
SHORTCUTS = "Shortcuts"

# Keys that belong to a place and stand in no menu.
PLACE_KEYS = (
    ("Map", "Arrows", "move the map"),
    ("Map", "+ and −", "zoom"),
    ("Map", "Home", "show the whole route and all sites"),
    ("Map", "M, R, K, A", "Move, Route, Mark, Ask here"),
    ("Map", "Enter", "ask about the middle; with Mark, set a corner or an observer there"),
    ("Map", "Page Down, Page Up", "take the next or previous point or corner in hand"),
    ("Map", "Arrows, Delete, N", "move, remove or name what is in hand"),
    ("Map", "End", "close the area being drawn"),
    ("Map", "Menu key", "what can be done here"),
    ("Map", "Esc", "let go"),
    ("Day line", "Left, Right", "leave five minutes earlier or later"),
    ("Day line", "Shift+Left, Shift+Right", "camp-by five minutes earlier or later"),
    ("Field book", "Tab, Shift+Tab", "next and previous value"),
    ("Field book", "Up, Down, Page Up, Page Down", "change a number in small or large steps"),
)


class HelpWindow(QDialog):
    """The manual.

    Parameters
    ----------
    shortcuts : sequence of (what, keys)
        Of the menus.
    """

    def __init__(self, shortcuts: Sequence[tuple[str, str]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Manual")
        self._shortcuts = shortcuts
        self._chapters = QListWidget(self)
        self._chapters.setAccessibleName("Chapters")
        self._chapters.addItems([*(name for name, _ in CHAPTERS), SHORTCUTS])
        self._chapters.setFixedWidth(170)
        self._text = QTextBrowser(self)
        self._text.setAccessibleName("Chapter")
        self._text.setOpenLinks(False)
        close = QPushButton("Close", self)
        close.clicked.connect(self.close)
        row = QHBoxLayout()
        row.addWidget(self._chapters)
        row.addWidget(self._text, 1)
        column = QVBoxLayout(self)
        column.addLayout(row, 1)
        column.addWidget(close, 0, Qt.AlignmentFlag.AlignRight)
        self._chapters.currentRowChanged.connect(self._on_row)
        self.resize(820, 600)

    def open_at(self, place: str) -> None:
        """Open at a place of the desk; an unknown one begins at the beginning."""
        names = [name for name, _ in CHAPTERS] + [SHORTCUTS]
        self._chapters.setCurrentRow(names.index(place) if place in names else 0)
        self.show()
        self.raise_()
        self._text.setFocus()

    @property
    def text(self) -> str:
        """What is open, as plain text."""
        return self._text.toPlainText()

    @Slot(int)
    def _on_row(self, row: int) -> None:
        if row < len(CHAPTERS):
            path = resource_path("manual", f"{CHAPTERS[row][1]}.md")
            self._text.setMarkdown(path.read_text(encoding="utf-8"))
        else:
            self._text.setMarkdown(shortcuts_text(self._shortcuts))
        self._loosen()

    def _loosen(self) -> None:
        """Room between paragraphs, which Markdown leaves to the reader of it."""
        document = self._text.document()
        document.setDocumentMargin(16)
        document.setIndentWidth(18)
        block = document.begin()
        while block.isValid():
            form = block.blockFormat()
            form.setBottomMargin(5)
            QTextCursor(block).setBlockFormat(form)
            block = block.next()
        self._text.moveCursor(QTextCursor.MoveOperation.Start)


def shortcuts_text(shortcuts: Sequence[tuple[str, str]]) -> str:
    """Every shortcut, as Markdown."""
    menus = [f"| {what} | {keys} |" for what, keys in shortcuts]
    places = [f"| {place}: {what} | {keys} |" for place, keys, what in PLACE_KEYS]
    return "\n".join(["# Shortcuts", "", "| what | keys |", "|---|---|", *menus, *places])
