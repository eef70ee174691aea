"""A sentence whose values are edited in place: words and fields that wrap like text."""

from __future__ import annotations

import re
from dataclasses import dataclass

from PySide6.QtCore import QEvent, QPoint, QRect, QSize, Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QLayout, QLayoutItem, QSizePolicy, QWidget

WORD_GAP_PX = 3
LINE_GAP_PX = 5
_PLACE = re.compile(r"\{(\d+)\}")


@dataclass(eq=False)
class Word:
    """A word that the sentence itself paints: a widget a word would be most of the widgets of the window."""

    text: str
    is_glued: bool  # stays with what stands before it, as a full stop does
    place: QRect


class WordLayout(QLayout):
    """Places words and widgets one after the other, on as many lines as the width asks for."""

    def __init__(self, parent: QWidget | None = None, *, gap_px: int = WORD_GAP_PX) -> None:
        super().__init__(parent)
        self._pieces: list[QLayoutItem | Word] = []
        self._items: list[QLayoutItem] = []
        self._gap_px = gap_px
        self._heights_px: dict[int, int] = {}  # by width, until something changes
        self._least: QSize | None = None
        self.setContentsMargins(0, 0, 0, 0)

    @property
    def words(self) -> list[Word]:
        """The words that aren't widgets, each where it was last placed."""
        return [piece for piece in self._pieces if isinstance(piece, Word)]

    def add_words(self, text: str) -> None:
        """Add a text, cut at its spaces."""
        self._pieces += [Word(word, word[0] in ".,;:)", QRect()) for word in text.split()]
        self.invalidate()

    def addItem(self, item: QLayoutItem) -> None:
        self._pieces.append(item)
        self._items.append(item)
        self.invalidate()

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        if not 0 <= index < len(self._items):
            return None
        item = self._items.pop(index)
        self._pieces.remove(item)
        self.invalidate()
        return item

    def invalidate(self) -> None:
        self._heights_px.clear()
        self._least = None
        super().invalidate()

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        if width not in self._heights_px:
            self._heights_px[width] = self._place(QRect(0, 0, width, 0), is_trial=True)
        return self._heights_px[width]

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        if self._least is None:
            sizes = [size for _, _, size in self._shown()]
            self._least = QSize(
                max((size.width() for size in sizes), default=0), max((size.height() for size in sizes), default=0)
            )
        return self._least

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, is_trial=False)

    def _shown(self) -> list[tuple[QLayoutItem | Word, bool, QSize]]:
        """What has a place: the piece, whether it stays with the one before it, and its size."""
        parent = self.parentWidget()
        letters = parent.fontMetrics() if parent is not None else None
        found: list[tuple[QLayoutItem | Word, bool, QSize]] = []
        for piece in self._pieces:
            if isinstance(piece, Word):
                if letters is not None:
                    size = QSize(letters.horizontalAdvance(piece.text), letters.lineSpacing())
                    found.append((piece, piece.is_glued, size))
                continue
            widget = piece.widget()
            if widget is None or not widget.isHidden():
                found.append((piece, widget is not None and bool(widget.property("glued")), piece.sizeHint()))
        return found

    def _place(self, rect: QRect, *, is_trial: bool) -> int:
        """Lay the pieces out and give the height they take."""
        parent = self.parentWidget()
        is_leftward = parent is not None and parent.isRightToLeft()
        x, y, line_height = rect.x(), rect.y(), 0
        line: list[tuple[QLayoutItem | Word, int, QSize]] = []
        for piece, is_glued, size in self._shown():
            start = x if is_glued or not line else x + self._gap_px
            if line and not is_glued and start + size.width() > rect.right() + 1:
                if not is_trial:
                    self._finish(line, rect, y, line_height, is_leftward)
                line, x, start, y, line_height = [], rect.x(), rect.x(), y + line_height + LINE_GAP_PX, 0
            line.append((piece, start, size))
            x = start + size.width()
            line_height = max(line_height, size.height())
        if not is_trial:
            self._finish(line, rect, y, line_height, is_leftward)
        return y + line_height - rect.y()

    @staticmethod
    def _finish(
        line: list[tuple[QLayoutItem | Word, int, QSize]], rect: QRect, y: int, line_height: int, is_leftward: bool
    ) -> None:
        for piece, start, size in line:
            x = rect.right() - (start - rect.x()) - size.width() + 1 if is_leftward else start
            place = QRect(QPoint(x, y + (line_height - size.height()) // 2), size)
            if isinstance(piece, Word):
                piece.place = place
            else:
                piece.setGeometry(place)


class Sentence(QWidget):
    """Words and fields in reading order.

    Parameters
    ----------
    text : str
        The whole sentence with ``{0}``, ``{1}`` ... where its fields stand, so that another language may order them
        in its own way. A field that the text doesn't place stands at the end.
    *fields : QWidget
    """

    def __init__(self, text: str, *fields: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "sentence")
        self._words = WordLayout(self)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        waiting = dict(enumerate(fields))
        said = ""
        for index, piece in enumerate(_PLACE.split(text)):
            if index % 2 == 0:
                self._words.add_words(piece)
                said += piece
            elif (field := waiting.pop(int(piece), None)) is not None:
                self._words.addWidget(field)
                said += field.accessibleName() or "…"
        for field in waiting.values():
            self._words.addWidget(field)
            said += f" {field.accessibleName() or '…'}"
        self.setAccessibleName(said.strip())

    @property
    def text(self) -> str:
        """The words between the fields."""
        return " ".join(word.text for word in self._words.words)

    def changeEvent(self, event: QEvent) -> None:
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._words.invalidate()
            self.updateGeometry()
        super().changeEvent(event)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setPen(self.palette().color(self.foregroundRole()))
        for word in self._words.words:
            if word.place.intersects(event.rect()):
                painter.drawText(word.place, Qt.AlignmentFlag.AlignCenter, word.text)
        painter.end()
