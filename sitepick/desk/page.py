"""What the pages of the field book are set with: a column, titles, sentences, cautions."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt
from PySide6.QtWidgets import QFrame, QLabel, QLayout, QScrollArea, QSizePolicy, QVBoxLayout, QWidget

from sitepick.desk.display import shown
from sitepick.desk.translation import tr

if TYPE_CHECKING:
    from sitepick.caution import Caution

MARGIN_PX = 20
GAP_PX = 10


class PageInside(QWidget):
    """What a page scrolls; as high as its words are at the width it has, not at the least it could have."""

    def __init__(self) -> None:
        super().__init__()
        self.setProperty("role", "page")

    def minimumSizeHint(self) -> QSize:
        return QSize(0, 0)


def page_column(page: QWidget, title: str) -> QVBoxLayout:
    """A column under a title that scrolls up and down, filling a page."""
    page.setAccessibleName(tr("{title} page", title=title))
    inside = PageInside()
    filled = QVBoxLayout(inside)
    filled.setContentsMargins(MARGIN_PX, 14, MARGIN_PX, MARGIN_PX)
    column = QVBoxLayout()
    column.setSpacing(GAP_PX)
    filled.addLayout(column)
    filled.addStretch(1)
    column.addWidget(text_label(title, "title"))
    scroll = QScrollArea(page)
    scroll.setWidgetResizable(True)
    scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    scroll.setWidget(inside)
    outer = QVBoxLayout(page)
    outer.setContentsMargins(0, 0, 0, 0)
    outer.addWidget(scroll)
    return column


def text_label(text: str, role: str) -> QLabel:
    """Plain text that wraps, dressed by its role."""
    label = QLabel(shown().said(text))
    label.setProperty("role", role)
    label.setTextFormat(Qt.TextFormat.PlainText)
    label.setWordWrap(True)
    # long words must not widen the page; the height follows from the width
    label.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Minimum)
    label.setMinimumSize(1, 1)
    return label


def short_label(text: str, role: str) -> QLabel:
    """Plain text on one line, as wide as it is."""
    label = QLabel(text)
    label.setProperty("role", role)
    label.setTextFormat(Qt.TextFormat.PlainText)
    return label


def rule() -> QFrame:
    """A hairline."""
    line = QFrame()
    line.setProperty("role", "rule")
    line.setFixedHeight(1)
    return line


def show_texts(column: QLayout, texts: Iterable[str], role: str) -> None:
    """Fill a column with one label a text, in place of what stood there."""
    clear(column)
    for text in texts:
        column.addWidget(text_label(text, role))


def show_cautions(column: QLayout, cautions: Iterable[Caution]) -> None:
    """Fill a column with cautions."""
    show_texts(column, (caution.text for caution in cautions), "caution")


def clear(column: QLayout) -> None:
    """Take everything out of a column."""
    while (item := column.takeAt(0)) is not None:
        widget = item.widget()
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def inner_column() -> QVBoxLayout:
    """A column inside a column, for what changes with the answer."""
    column = QVBoxLayout()
    column.setSpacing(6)
    return column
