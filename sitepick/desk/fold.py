"""A part of a page that is folded away until asked for."""

from __future__ import annotations

from PySide6.QtCore import Qt, Slot
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from sitepick.desk.fields import describe
from sitepick.desk.page import GAP_PX


class Fold(QWidget):
    """A title that opens and closes what stands under it.

    Parameters
    ----------
    title, tip : str
    is_open : bool
    """

    def __init__(self, title: str, tip: str, *, is_open: bool = False) -> None:
        super().__init__()
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, 0, 0)
        outer.setSpacing(GAP_PX)
        self._button = QToolButton(self)
        self._button.setProperty("role", "quiet")
        self._button.setText(title)
        self._button.setCheckable(True)
        self._button.setChecked(is_open)
        self._button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        describe(self._button, title, tip)
        outer.addWidget(self._button)
        self._inside = QWidget(self)
        self.column = QVBoxLayout(self._inside)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(GAP_PX)
        outer.addWidget(self._inside)
        self._inside.setVisible(is_open)
        self._button.toggled.connect(self._on_toggled)

    @property
    def button(self) -> QToolButton:
        """What opens and closes it."""
        return self._button

    @property
    def inside(self) -> QWidget:
        """What is folded away."""
        return self._inside

    @Slot(bool)
    def _on_toggled(self, is_open: bool) -> None:
        self._inside.setVisible(is_open)
