"""What floats over the map: the verbs, the reading under the pointer, the answer to "why here?"."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QButtonGroup, QFrame, QGridLayout, QHBoxLayout, QLabel, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.mark_tool import NO_GO, OBSERVER, SITE
from sitepick.desk.translation import marked, tr

MOVE, ROUTE, MARK, CAMP, ASK = "move", "route", "mark", "camp", "ask"
VERBS = (
    (MOVE, marked("&Move"), marked("Drag the map, choose a site (M)")),
    (
        ROUTE,
        marked("&Route"),
        marked("Click adds a point, a drag moves it, Delete removes it, a right click shows more, Esc ends (R)"),
    ),
    (
        MARK,
        marked("Mar&k"),
        marked(
            "Click the corners of an area, a double click ends; drag moves, Delete removes, "
            "a right click shows more (K)"
        ),
    ),
    (
        CAMP,
        marked("&Camp"),
        marked(
            "Drag a shelter, a post or a facility to its place; arrows move the chosen one by 1 m, with Shift by 10 m, "
            "Enter puts it there, Esc puts it back, Delete lets go of it (C)"
        ),
    ),
    (ASK, marked("&Ask here"), marked("Click a place to hear what speaks for and against it (A)")),
)

MARK_KINDS = (
    (NO_GO, marked("No-go area"), marked("Nobody marches or camps there.")),
    (SITE, marked("Own site"), marked("A site of your own, measured like any other.")),
    (OBSERVER, marked("Observer"), marked("Somebody the camp should not be seen by: one click.")),
)


class VerbBar(QFrame):
    """The verbs of the map; one is chosen.

    Signals
    -------
    verb_chosen(str)
        `MOVE`, `ROUTE`, `MARK`, `CAMP` or `ASK`.
    """

    verb_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setAccessibleName(tr("What the pointer does on the map"))
        column = QVBoxLayout(self)
        column.setContentsMargins(1, 1, 1, 1)
        column.setSpacing(0)
        self._group = QButtonGroup(self)
        self._buttons: dict[str, QToolButton] = {}
        for verb, text, tip in VERBS:
            button = QToolButton(self)
            button.setText(tr(text))
            button.setToolTip(tr(tip))
            button.setCheckable(True)
            button.setProperty("role", "verb")
            button.setProperty("verb", verb)
            button.setAccessibleName(tr(text).replace("&", ""))
            button.setAccessibleDescription(tr(tip))
            button.setFixedWidth(84)
            self._group.addButton(button)
            self._buttons[verb] = button
            column.addWidget(button)
        self._buttons[MOVE].setChecked(True)
        self._group.buttonClicked.connect(self._on_clicked)

    def show_verb(self, verb: str) -> None:
        """Show which verb is in use."""
        self._buttons[verb].setChecked(True)

    @Slot(object)
    def _on_clicked(self, button: QToolButton) -> None:
        self.verb_chosen.emit(button.property("verb"))


class MarkBar(QFrame):
    """What a click marks; one kind is chosen.

    Signals
    -------
    kind_chosen(str)
        `mark_tool.NO_GO`, `SITE` or `OBSERVER`.
    """

    kind_chosen = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setAccessibleName(tr("What a click marks"))
        row = QHBoxLayout(self)
        row.setContentsMargins(1, 1, 1, 1)
        row.setSpacing(0)
        self._group = QButtonGroup(self)
        for kind, text, tip in MARK_KINDS:
            button = QToolButton(self)
            button.setText(tr(text))
            button.setToolTip(tr(tip))
            button.setCheckable(True)
            button.setProperty("role", "verb")
            button.setProperty("kind", kind)
            button.setAccessibleDescription(tr(tip))
            self._group.addButton(button)
            row.addWidget(button)
        self._group.buttons()[0].setChecked(True)
        self._group.buttonClicked.connect(self._on_clicked)
        self.hide()

    @Slot(object)
    def _on_clicked(self, button: QToolButton) -> None:
        self.kind_chosen.emit(button.property("kind"))


class ReadingCard(QFrame):
    """Label and value of the point under the pointer."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(12, 8, 12, 8)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(3)
        self._rows: list[tuple[QLabel, QLabel]] = []
        self._told: tuple[tuple[str, str], ...] = ()
        self.hide()

    def show_rows(self, rows: Sequence[tuple[str, str]]) -> None:
        """Show the rows; the first, without a label, is the grid reference."""
        self._told = tuple(rows)
        while len(self._rows) < len(rows):
            self._add_row()
        for index, (label, value) in enumerate(self._rows):
            is_used = index < len(rows)
            label.setVisible(is_used)
            value.setVisible(is_used)
            if is_used:
                label.setText(rows[index][0])
                value.setText(rows[index][1])
        self.setAccessibleName(". ".join(f"{label} {value}".strip() for label, value in rows))
        self.adjustSize()
        self.show()

    def show_last(self, label: str, value: str) -> None:
        """Tell the last row, which takes longer to find than the others."""
        self.show_rows((*self._told[:-1], (label, value)))

    def _add_row(self) -> None:
        row = len(self._rows)
        label, value = QLabel(self), QLabel(self)
        label.setProperty("role", "label")
        value.setProperty("role", "value")
        if row == 0:
            self._grid.addWidget(value, row, 0, 1, 2)
        else:
            self._grid.addWidget(label, row, 0)
            self._grid.addWidget(value, row, 1, Qt.AlignmentFlag.AlignRight)
        self._rows.append((label, value))


class ReasonCard(QLabel):
    """What speaks against the place of a thing that is moved, beside it."""

    def __init__(self, view: QWidget) -> None:
        super().__init__(view)
        self._view = view
        self.setProperty("role", "tag")
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.setTextFormat(Qt.TextFormat.PlainText)
        self.setAccessibleName(tr("What speaks against this place"))
        self.hide()

    def show_beside(self, text: str, x_px: float, y_px: float) -> None:
        """Show a text beside a pixel, where there is room."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleDescription(text)
        self.adjustSize()
        room = self._view.size()
        right = x_px + 18 + self.width() <= room.width()
        left = x_px + 18 if right else max(0.0, x_px - 18 - self.width())
        self.move(int(left), int(min(max(y_px + 14, 4), max(room.height() - self.height() - 4, 4))))
        self.show()
        self.raise_()


class WhyCard(QFrame):
    """What speaks for and against a place.

    Signals
    -------
    closed()
    site_wanted()
        The place is to be a site of the person's own.
    """

    closed = Signal()
    site_wanted = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "card")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        self._title = QLabel(self)
        self._title.setProperty("role", "value")
        self._text = QLabel(self)
        self._text.setProperty("role", "reason")
        self._text.setWordWrap(True)
        self._text.setTextFormat(Qt.TextFormat.PlainText)
        self._text.setFixedWidth(300)
        self._text.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        close = QToolButton(self)
        close.setText(tr("Close"))
        close.setProperty("role", "quiet")
        close.clicked.connect(self._on_close)
        column.addWidget(self._title)
        column.addWidget(self._text)
        own = QToolButton(self)
        own.setText(tr("Make a site here"))
        own.setToolTip(tr("A round site of your own with room for the unit, measured like any other."))
        own.setProperty("role", "quiet")
        own.clicked.connect(self.site_wanted)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(own)
        row.addWidget(close)
        column.addLayout(row)
        self.hide()

    def show_text(self, title: str, text: str) -> None:
        """Show an answer."""
        self._title.setText(title)
        self._text.setText(text)
        self.setAccessibleName(f"{title}. {text}")
        self.adjustSize()
        self.show()
        self.raise_()

    @Slot()
    def _on_close(self) -> None:
        self.hide()
        self.closed.emit()
