"""What else can count, every limit and every curve: folded away under a sentence each until somebody wants them."""

from __future__ import annotations

from functools import partial

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.curve_rows import CurveRows
from sitepick.desk.fields import NumberField
from sitepick.desk.page import short_label, text_label
from sitepick.desk.plan_field import PlanField
from sitepick.desk.translation import counted, marked, tr
from sitepick.desk.weights import WeightSlider
from sitepick.desk.words import begun
from sitepick.plan.curve_edits import usual_curve
from sitepick.plan.edits import with_factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES, Plan
from sitepick.plan.setting import Setting

_LABEL_ROW_PX = 26  # so that a label stands by its own slider
_SIDES = {"min": marked("at least"), "max": marked("at most")}
# By unit: lowest and highest limit, decimals and step of the field.
_RANGES = {
    "share": (0.0, 1.5, 2, 0.05), "°": (-30.0, 60.0, 1, 0.5), "min": (0.0, 600.0, 0, 5.0), "m": (0.0, 1000.0, 0, 10.0),
    "h": (0.0, 24.0, 1, 0.5), "times": (1.0, 10.0, 1, 0.1), "shelters": (0.0, 100.0, 0, 1.0),
}  # fmt: skip


class Fold(QWidget):
    """A line that opens what stands under it.

    Parameters
    ----------
    inside : QWidget
        Hidden until the line is pressed.
    """

    def __init__(self, inside: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._inside = inside
        self.line = QToolButton()
        self.line.setProperty("role", "quiet")
        self.line.setCheckable(True)
        self.line.setArrowType(Qt.ArrowType.RightArrow)
        self.line.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.line.toggled.connect(self._on_toggled)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.line)
        column.addWidget(inside)
        inside.hide()

    def show_sentence(self, text: str) -> None:
        """What the line says."""
        self.line.setText(text)

    @Slot(bool)
    def _on_toggled(self, is_open: bool) -> None:
        self.line.setArrowType(Qt.ArrowType.DownArrow if is_open else Qt.ArrowType.RightArrow)
        self._inside.setVisible(is_open)


class FurtherCounts(QWidget):
    """The further factors with weight and limit, the limits of the main ones, and the curves of all.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._sliders: dict[str, WeightSlider] = {}
        self._shares = {name: short_label("", "label") for name in FURTHER_NAMES}
        self._limits = {name: _limit_field(name) for name in (*MAIN_NAMES, *FURTHER_NAMES)}
        for field in self._limits.values():
            field.edit_requested.connect(self.edit_requested)
        self.further, self.limits = Fold(self._further_rows()), Fold(self._limit_rows())
        self.curve_rows = CurveRows(_RANGES)
        self.curve_rows.edit_requested.connect(self.edit_requested)
        self.curves = Fold(self.curve_rows)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.further)
        column.addWidget(self.limits)
        column.addWidget(self.curves)

    def _further_rows(self) -> QWidget:
        inside = QWidget()
        inside.setProperty("role", "page")
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(0)
        grid.setColumnStretch(0, 1)
        for number, name in enumerate(FURTHER_NAMES):
            words, slider = FACTOR_WORDS[name], WeightSlider(name)
            slider.edit_requested.connect(self.edit_requested)
            self._sliders[name] = slider
            label = text_label(begun(tr(words.label)), "label")
            label.setToolTip(tr("Its curve: {source}.", source=tr(words.source)))
            self._shares[name].setMinimumWidth(36)
            grid.setRowMinimumHeight(2 * number, _LABEL_ROW_PX)
            grid.addWidget(label, 2 * number, 0, 1, 2, Qt.AlignmentFlag.AlignBottom)
            grid.addWidget(slider, 2 * number + 1, 0)
            grid.addWidget(self._shares[name], 2 * number + 1, 1)
            grid.addLayout(self._limit_words(name), 2 * number + 1, 2)
        return inside

    def _limit_rows(self) -> QWidget:
        inside = QWidget()
        inside.setProperty("role", "page")
        grid = QGridLayout(inside)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(0, 1)
        for row, name in enumerate(MAIN_NAMES):
            words = FACTOR_WORDS[name]
            label = text_label(begun(tr(words.label)), "label")
            label.setToolTip(tr("Its curve: {source}.", source=tr(words.source)))
            grid.addWidget(label, row, 0)
            grid.addLayout(self._limit_words(name), row, 1)
        return inside

    def _limit_words(self, name: str) -> QHBoxLayout:
        line = QHBoxLayout()
        line.setSpacing(3)
        line.addWidget(short_label(tr(_SIDES[FACTOR_WORDS[name].limit]), "label"))
        line.addWidget(self._limits[name].field)
        line.addStretch(1)
        return line

    def slider(self, name: str) -> WeightSlider:
        """The weight of one of the further factors."""
        return self._sliders[name]

    def limit_field(self, name: str) -> PlanField:
        """The limit of a factor."""
        return self._limits[name]

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's weights, limits and curves."""
        preferences = plan.preferences
        total = sum(factor.weight for _, factor in preferences.factors())
        for name, field in self._limits.items():
            field.show_plan(plan)
            if name in FURTHER_NAMES:
                weight = preferences.factor(name).weight
                self._sliders[name].show_value(weight)
                self._shares[name].setText(f"{100 * weight / total:.0f} %" if weight else "–")
        asked = [tr(FACTOR_WORDS[name].label) for name in FURTHER_NAMES if preferences.factor(name).is_asked]
        told = tr("none of it does now") if not asked else _counting(asked)
        self.further.show_sentence(tr("More can count: {told}", told=told))
        limited = sum(preferences.factor(name).limit_min is not None or preferences.factor(name).limit_max is not None
                      for name in MAIN_NAMES)  # fmt: skip
        self.limits.show_sentence(
            tr("Limits: {limited} of {count} main measures have one", limited=limited, count=len(MAIN_NAMES))
        )
        self.curve_rows.show_plan(plan)
        own = sum(factor.curve != usual_curve(name) for name, factor in preferences.factors())
        told = tr("Curves from measure to score: all are the usual ones")
        if own:
            count = len(preferences.factors())
            told = tr("Curves from measure to score: {own} of {count} are your own", own=own, count=count)
        self.curves.show_sentence(told)


def _counting(labels: list[str]) -> str:
    return (
        tr("{label} does now", label=labels[0])
        if len(labels) == 1
        else counted(len(labels), "thing does now", "things do now")
    )


def _limit_field(name: str) -> PlanField:
    words = FACTOR_WORDS[name]
    low, high, decimals, step = _RANGES[words.unit]
    setting = Setting(
        label=tr("limit of {label}", label=tr(words.label)),
        unit="" if words.unit in ("share", "times") else words.unit,
        low=low,
        high=high,
        help=tr("Past it, ground is out whatever else it offers. A step below the least: any."),
    )
    side = f"limit_{words.limit}"
    return PlanField(
        NumberField(setting, decimals=decimals, step=step, empty_text=tr("any")),
        text=tr("Change the limit of {label}", label=tr(words.label)),
        read=partial(_read_limit, name=name, side=side),
        change=partial(_change_limit, name=name, side=side),
    )


def _read_limit(plan: Plan, *, name: str, side: str) -> object:
    return getattr(plan.preferences.factor(name), side)


def _change_limit(plan: Plan, value: object, *, name: str, side: str) -> Plan:
    return with_factor(plan, name, **{side: value})
