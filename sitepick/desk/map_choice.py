"""Which map becomes a picture, at which scale and how fine."""

from __future__ import annotations

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.fields import ChoiceField
from sitepick.desk.page import text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.sheet.map_scales import PICTURE_SCALES

_NAMES = (("way", marked("map of the way")), ("camp", marked("map of the camp")))
_DOTS = ((100.0, "100"), (150.0, "150"), (200.0, "200"), (300.0, "300"), (600.0, "600"))
_USUAL = {"way": 25_000, "camp": 1000}


class MapChoice(QWidget):
    """A sentence about one map, and a button.

    Signals
    -------
    picture_requested(str, int, float)
        Which map, its scale's denominator, dots an inch.
    """

    picture_requested = Signal(str, int, float)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._has_camp, self._is_ready = False, False
        self.name = ChoiceField(tr("map"), translated(_NAMES), tr("Which map."))
        self.scales = {
            name: ChoiceField(
                tr("scale"), [(scale, f"1:{scale:,}".replace(",", " ")) for scale in PICTURE_SCALES[name]],
                tr("True on the ground when the picture is printed in its own size."),
            )
            for name, _ in _NAMES
        }  # fmt: skip
        self.dots = ChoiceField(tr("dots an inch"), _DOTS, tr("300 for a printer; 100 for a screen."))
        self.dots.show_value(300.0)
        self.button = QPushButton(tr("Save as PNG …"))
        self.button.clicked.connect(self._on_clicked)
        self.name.value_chosen.connect(self._show_state)
        for name, field in self.scales.items():
            field.show_value(_USUAL[name])
        column = QVBoxLayout(self)
        column.addWidget(
            Sentence(tr("The {0} at {1} {2} with {3} dots an inch."), self.name, *self.scales.values(), self.dots)
        )
        column.addWidget(text_label(
            tr("The picture is as large as the map needs, with its grid, norths, scale and signs. A picture of the way "
            "at 1:5 000 can be metres wide."), "soft",
        ))  # fmt: skip
        row = QHBoxLayout()
        row.addWidget(self.button)
        row.addStretch(1)
        column.addLayout(row)
        column.addStretch(1)
        self._show_state()

    def show_has_camp(self, has_camp: bool) -> None:
        """Whether there is a camp to draw."""
        self._has_camp = has_camp
        self._show_state()

    def show_ready(self, is_ready: bool) -> None:
        """Whether a picture can be asked for now."""
        self._is_ready = is_ready
        self._show_state()

    def _chosen(self) -> str:
        return _NAMES[self.name.currentIndex()][0]

    @Slot()
    def _show_state(self) -> None:
        chosen = self._chosen()
        for name, field in self.scales.items():
            field.setVisible(name == chosen)
        self.button.setEnabled(self._is_ready and (chosen == "way" or self._has_camp))

    @Slot()
    def _on_clicked(self) -> None:
        name = self._chosen()
        scale = PICTURE_SCALES[name][self.scales[name].currentIndex()]
        self.picture_requested.emit(name, scale, _DOTS[self.dots.currentIndex()][0])
