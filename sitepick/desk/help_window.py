"""The manual in a window, open at the page of the place that the person is in; and every shortcut in one list."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Slot
from PySide6.QtGui import QTextCursor
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QListWidget,
    QMessageBox,
    QPushButton,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from sitepick import __version__
from sitepick.desk.translation import marked, tr
from sitepick.resource import resource_path

# Place, its file under resources/manual. The order is the list's.
CHAPTERS = (
    (marked("First steps"), "example"),
    (marked("Map"), "map"),
    (marked("Ground"), "ground"),
    (marked("Unit"), "unit"),
    (marked("March"), "march"),
    (marked("Sites"), "sites"),
    (marked("Camp"), "camp"),
    (marked("Journey"), "journey"),
    (marked("Exercise"), "exercise"),
    (marked("Day line"), "day_line"),
    (marked("Files and crashes"), "files"),
    (marked("The whole manual"), "manual"),
)
SHORTCUTS = marked("Shortcuts")

# Keys that belong to a place and stand in no menu.
PLACE_KEYS = (
    (marked("Map"), marked("Arrows"), marked("move the map")),
    (marked("Map"), marked("+ and −"), marked("zoom")),
    (marked("Map"), marked("Home"), marked("show the whole route and all sites")),
    (marked("Map"), marked("M, R, K, A"), marked("Move, Route, Mark, Ask here")),
    (marked("Map"), marked("Enter"), marked("ask about the middle; with Mark, set a corner or an observer there")),
    (marked("Map"), marked("Page Down, Page Up"), marked("take the next or previous point or corner in hand")),
    (marked("Map"), marked("Arrows, Delete, N"), marked("move, remove or name what is in hand")),
    (marked("Map"), marked("End"), marked("close the area being drawn")),
    (marked("Map"), marked("Menu key"), marked("what can be done here")),
    (marked("Map"), marked("Esc"), marked("let go")),
    (marked("Day line"), marked("Left, Right"), marked("leave five minutes earlier or later")),
    (marked("Day line"), marked("Shift+Left, Shift+Right"), marked("camp-by five minutes earlier or later")),
    (marked("Field book"), marked("Tab, Shift+Tab"), marked("next and previous value")),
    (marked("Field book"), marked("Up, Down, Page Up, Page Down"), marked("change a number in small or large steps")),
)


ABOUT = marked(
    "sitepick {version} picks tonight's bivouac site and lays out its camp.\n\n"
    "It reads maps; it can't see the ground. Local rules, the land owner's permission and trained judgement on the "
    "ground come first."
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
        self.setWindowTitle(tr("Manual"))
        self._shortcuts = shortcuts
        self._chapters = QListWidget(self)
        self._chapters.setAccessibleName(tr("Chapters"))
        self._chapters.addItems([tr(name) for name in (*(name for name, _ in CHAPTERS), SHORTCUTS)])
        self._chapters.setFixedWidth(170)
        self._text = QTextBrowser(self)
        self._text.setAccessibleName(tr("Chapter"))
        self._text.setOpenLinks(False)
        close = QPushButton(tr("Close"), self)
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
    places = [f"| {tr(place)}: {tr(what)} | {tr(keys)} |" for place, keys, what in PLACE_KEYS]
    head = [f"# {tr(SHORTCUTS)}", "", f"| {tr('what')} | {tr('keys')} |", "|---|---|"]
    return "\n".join([*head, *menus, *places])


def show_about(window: QWidget) -> None:
    """What the program is, and what it can't do."""
    QMessageBox.about(window, tr("About sitepick"), tr(ABOUT, version=__version__))
