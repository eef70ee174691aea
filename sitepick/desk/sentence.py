"""A sentence whose values are edited in place: words and fields that wrap like text."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLabel, QLayout, QLayoutItem, QSizePolicy, QWidget

WORD_GAP_PX = 3
LINE_GAP_PX = 5


class WordLayout(QLayout):
    """Places items one after the other, on as many lines as the width asks for."""

    def __init__(self, parent: QWidget | None = None, *, gap_px: int = WORD_GAP_PX) -> None:
        super().__init__(parent)
        self._items: list[QLayoutItem] = []
        self._gap_px = gap_px
        self.setContentsMargins(0, 0, 0, 0)

    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def count(self) -> int:
        return len(self._items)

    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    def hasHeightForWidth(self) -> bool:
        return True

    def heightForWidth(self, width: int) -> int:
        return self._place(QRect(0, 0, width, 0), is_trial=True)

    def sizeHint(self) -> QSize:
        return self.minimumSize()

    def minimumSize(self) -> QSize:
        widest, highest = 0, 0
        for item in self._items:
            if not _is_hidden(item):
                widest = max(widest, item.sizeHint().width())
                highest = max(highest, item.sizeHint().height())
        return QSize(widest, highest)

    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        self._place(rect, is_trial=False)

    def _place(self, rect: QRect, *, is_trial: bool) -> int:
        """Lay the items out and give the height they take."""
        parent = self.parentWidget()
        is_leftward = parent is not None and parent.isRightToLeft()
        x, y, line_height = rect.x(), rect.y(), 0
        line: list[tuple[QLayoutItem, int, QSize]] = []
        for item in self._items:
            if _is_hidden(item):
                continue
            size = item.sizeHint()
            glued = _is_glued(item)
            start = x if glued or not line else x + self._gap_px
            if line and not glued and start + size.width() > rect.right() + 1:
                self._finish(line, rect, y, line_height, is_leftward, is_trial)
                line, x, start, y, line_height = [], rect.x(), rect.x(), y + line_height + LINE_GAP_PX, 0
            line.append((item, start, size))
            x = start + size.width()
            line_height = max(line_height, size.height())
        self._finish(line, rect, y, line_height, is_leftward, is_trial)
        return y + line_height - rect.y()

    @staticmethod
    def _finish(
        line: list[tuple[QLayoutItem, int, QSize]],
        rect: QRect,
        y: int,
        line_height: int,
        is_leftward: bool,
        is_trial: bool,
    ) -> None:
        if is_trial:
            return
        for item, start, size in line:
            x = rect.right() - (start - rect.x()) - size.width() + 1 if is_leftward else start
            item.setGeometry(QRect(QPoint(x, y + (line_height - size.height()) // 2), size))


def _is_hidden(item: QLayoutItem) -> bool:
    widget = item.widget()
    return widget is not None and widget.isHidden()


def _is_glued(item: QLayoutItem) -> bool:
    """Whether an item stays with the one before it, as a full stop does."""
    widget = item.widget()
    return widget is not None and bool(widget.property("glued"))


class Sentence(QWidget):
    """Words and fields in reading order.

    Parameters
    ----------
    parts : str or QWidget
        Text is cut at its spaces; a part that begins with a stop or comma stays with what stands
        before it.
    """

    def __init__(self, *parts: str | QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._layout = WordLayout(self)
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Minimum)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)
        for part in parts:
            if isinstance(part, QWidget):
                self._layout.addWidget(part)
                continue
            for word in part.split():
                label = QLabel(word, self)
                label.setProperty("role", "sentence")
                label.setTextFormat(Qt.TextFormat.PlainText)
                label.setProperty("glued", word[0] in ".,;:)")
                self._layout.addWidget(label)
