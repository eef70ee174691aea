"""How much each factor counts: a slider a factor."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import QSignalBlocker, Qt, Signal, Slot
from PySide6.QtGui import QFocusEvent, QWheelEvent
from PySide6.QtWidgets import QGridLayout, QSlider, QWidget

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.fields import describe
from sitepick.desk.page import short_label
from sitepick.desk.translation import marked, tr
from sitepick.desk.words import begun
from sitepick.plan.edits import with_weight
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import MAIN_NAMES, Plan

HIGHEST = 60


_SHORT_NAMES = {
    "forest": marked("forest"),
    "slope": marked("slope"),
    "wind": marked("wind"),
    "water": marked("water"),
    "room": marked("room"),
    "progress": marked("progress"),
    "detour": marked("detour"),
}


def short_name(factor_name: str) -> str:
    """A factor in as few words as there is room for beside a slider."""
    return tr(_SHORT_NAMES.get(factor_name, FACTOR_WORDS[factor_name].label))


class WeightSlider(QSlider):
    """The weight of one factor; a drag, or the keys while it has the focus, are one gesture.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, factor_name: str) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self._factor_name = factor_name
        self._gesture = new_gesture()
        self.setRange(0, HIGHEST)
        self.setPageStep(5)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        describe(
            self,
            tr("weight of {label}", label=tr(FACTOR_WORDS[factor_name].label)),
            tr("Against the other weights; only ratios count."),
        )
        self.sliderPressed.connect(self._on_begun)
        self.valueChanged.connect(self._on_value_changed)

    def show_value(self, weight: float) -> None:
        """Show a weight without telling it as chosen."""
        with QSignalBlocker(self):
            self.setValue(min(round(weight), HIGHEST))

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._on_begun()
        super().focusInEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        event.ignore()  # the page scrolls

    @Slot()
    def _on_begun(self) -> None:
        self._gesture = new_gesture()

    @Slot(int)
    def _on_value_changed(self, value: int) -> None:
        self.edit_requested.emit(
            PlanEdit(
                text=tr("Change what {factor} counts", factor=short_name(self._factor_name)),
                change=partial(with_weight, factor_name=self._factor_name, weight=float(value)),
                gesture=self._gesture,
            )
        )


class Weights(QWidget):
    """The weights of the main factors, each with its share of the whole.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(1, 1)
        self._sliders = {name: WeightSlider(name) for name in MAIN_NAMES}
        self._shares = {name: short_label("", "label") for name in MAIN_NAMES}
        for row, name in enumerate(MAIN_NAMES):
            label = short_label(begun(short_name(name)), "label")
            self._shares[name].setMinimumWidth(40)
            grid.addWidget(label, row, 0)
            grid.addWidget(self._sliders[name], row, 1)
            grid.addWidget(self._shares[name], row, 2)
            self._sliders[name].edit_requested.connect(self.edit_requested)

    def slider(self, factor_name: str) -> WeightSlider:
        """The slider of one factor."""
        return self._sliders[factor_name]

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's weights."""
        factors = plan.preferences.factors()
        total = sum(factor.weight for _, factor in factors)
        for name, factor in factors:
            if name not in self._sliders:
                continue
            self._sliders[name].show_value(factor.weight)
            self._shares[name].setText(f"{100 * factor.weight / total:.0f} %")
