"""The order as it will be read, and the leader's own lines in it."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSignalBlocker, QTimer, Signal, Slot
from PySide6.QtWidgets import QPlainTextEdit, QTextBrowser, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.fields import ChoiceField, describe
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr, translated
from sitepick.plan.edits import with_order_note
from sitepick.plan.handout import SECTION_TITLES
from sitepick.plan.model import Plan

_PAUSE_MS = 400  # after the last letter


class OrderNotesPage(QWidget):
    """Shows the order; takes lines for its sections.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: Plan | None = None
        self._name = "signals"
        self._gesture = new_gesture()
        self.order = QTextBrowser(self)
        self.order.setAccessibleName(tr("The order"))
        self.section = ChoiceField(
            tr("section"), translated(tuple(SECTION_TITLES.items())), tr("Where in the order your lines stand.")
        )
        self.section.show_value(self._name)
        self.section.value_chosen.connect(self._on_section)
        self.lines = QPlainTextEdit(self)
        self.lines.setFixedHeight(96)
        self.lines.setTabChangesFocus(True)
        self.lines.setPlaceholderText(tr("One paragraph a line. They stay in the plan when the answer changes."))
        describe(self.lines, tr("your own lines"), tr("Told at the end of the section, one paragraph a line."))
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(_PAUSE_MS)
        self._pause.timeout.connect(self.tell_lines)
        self.lines.textChanged.connect(self._pause.start)
        column = QVBoxLayout(self)
        column.addWidget(self.order, 1)
        column.addWidget(Sentence(tr("Your own lines at the end of {0}:"), self.section))
        column.addWidget(self.lines)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's lines in the section chosen; what is being typed stays as it is."""
        self._plan = plan
        if not self._pause.isActive():
            self._show_lines()

    def show_order(self, markdown: str) -> None:
        """Show the order; the place in it is kept."""
        bar = self.order.verticalScrollBar()
        at = bar.value()
        self.order.setMarkdown(markdown)
        bar.setValue(at)

    @Slot()
    def tell_lines(self) -> None:
        """Ask for what was typed to go into the plan."""
        self._pause.stop()
        text = self.lines.toPlainText()
        if self._plan is not None and text != getattr(self._plan.handout.notes, self._name):
            change = partial(with_order_note, section=self._name, text=text)
            words = tr("Write in the order: {section}", section=tr(SECTION_TITLES[self._name]))
            self.edit_requested.emit(PlanEdit(text=words, change=change, gesture=self._gesture))

    @Slot(object)
    def _on_section(self, name: object) -> None:
        """Lines of another section are another edit."""
        self.tell_lines()
        self._name = str(name)
        self._gesture = new_gesture()
        self._show_lines()

    def _show_lines(self) -> None:
        text = "" if self._plan is None else getattr(self._plan.handout.notes, self._name)
        if text != self.lines.toPlainText():
            with QSignalBlocker(self.lines):
                self.lines.setPlainText(text)
