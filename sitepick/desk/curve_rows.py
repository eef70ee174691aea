"""A factor's curve from measure to score: its anchor points in rows, and a small drawing of it."""

from __future__ import annotations

from collections.abc import Mapping
from functools import partial

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal, Slot
from PySide6.QtGui import QPainter, QPaintEvent, QPalette, QPen, QPolygonF
from PySide6.QtWidgets import QGridLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, describe
from sitepick.desk.page import short_label, text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr
from sitepick.plan.curve_edits import (
    POINTS_LEAST,
    POINTS_MAX,
    Curve,
    is_past_limit,
    score_room,
    usual_curve,
    with_curve_point,
    with_curve_point_added,
    with_usual_curve,
    without_curve_point,
)
from sitepick.plan.factor import Factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES, Plan
from sitepick.plan.setting import Setting

NAMES = (*MAIN_NAMES, *FURTHER_NAMES)
_HIGH_PX, _EDGE_PX, _DOT_PX = 72, 7.0, 3.0
_SCORES = 100.0  # told as of 100, like a site's


class CurveRows(QWidget):
    """One factor's curve at a time, edited point by point.

    Parameters
    ----------
    ranges : mapping of unit to (lowest, highest, decimals, step)
        What a measure may be, by its unit.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, ranges: Mapping[str, tuple[float, float, int, float]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("role", "page")
        self._ranges, self._name = ranges, ""
        self._plan: Plan | None = None
        self._rows: list[_PointRow] = []
        self.factor = ChoiceField(
            tr("factor whose curve is shown"), [(name, tr(FACTOR_WORDS[name].label)) for name in NAMES],
            tr("Each measure becomes a score by a curve of its own."),
        )  # fmt: skip
        self.factor.value_chosen.connect(self._on_factor_chosen)
        self.picture = CurvePicture()
        self.usual = _quiet_button(tr("Back to the usual curve"))
        self.usual.clicked.connect(self._on_usual)
        self.told = text_label("", "soft")
        self._grid = QGridLayout()
        self._grid.setVerticalSpacing(2)
        self._grid.setColumnStretch(6, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addWidget(Sentence(tr("The score for {0} is:"), self.factor))
        column.addLayout(self._grid)
        column.addWidget(self.picture)
        column.addWidget(self.told)
        column.addWidget(Sentence("{0}", self.usual))

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's curve of the chosen factor; rows stay while their number does, and so does the caret."""
        self._plan = plan
        name = str(self.factor.value)
        factor, words = plan.preferences.factor(name), FACTOR_WORDS[name]
        if name != self._name or len(factor.curve) != len(self._rows):
            self._name = name
            self._make_rows(name, len(factor.curve))
        low, high, decimals, _ = self._ranges[words.unit]
        for row in self._rows:
            row.show_curve(factor.curve, low, high, 10.0**-decimals)
        self.picture.show_factor(factor, tr("curve of {factor}", factor=tr(words.label)))
        is_usual = factor.curve == usual_curve(name)
        self.usual.setEnabled(not is_usual)
        name = tr("back to the usual curve of {factor}", factor=tr(words.label))
        describe(self.usual, name, tr("The usual one: {source}.", source=words.source))
        told = tr("Your own curve.")
        if is_usual:
            told = tr("The usual curve ({source}).", source=words.source)
        if is_past_limit(factor):
            told = f"{told} {tr('Its limit lies past the curve: all ground within it scores alike.')}"
        self.told.setText(told)

    def point(self, index: int) -> tuple[NumberField, NumberField]:
        """The measure and the score of one anchor point."""
        return self._rows[index].measure, self._rows[index].score

    def buttons(self, index: int) -> tuple[QToolButton, QToolButton]:
        """What adds a point after an anchor point, and what takes it out."""
        return self._rows[index].more, self._rows[index].less

    @property
    def _label(self) -> str:
        return tr(FACTOR_WORDS[self._name].label)

    def _make_rows(self, name: str, count: int) -> None:
        for row in self._rows:
            for widget in row.widgets:
                self._grid.removeWidget(widget)
                widget.hide()
                widget.deleteLater()
        self._rows = []
        for index in range(count):
            row = _PointRow(name, index, self._ranges[FACTOR_WORDS[name].unit])
            row.measure.value_chosen.connect(partial(self._on_moved, index, "measure"))
            row.score.value_chosen.connect(partial(self._on_moved, index, "score"))
            row.more.clicked.connect(partial(self._on_added, index))
            row.less.clicked.connect(partial(self._on_removed, index))
            for place, widget in enumerate(row.widgets):
                self._grid.addWidget(widget, index, place)
            self._rows.append(row)

    def _ask(self, text: str, change: partial[Plan]) -> None:
        self.edit_requested.emit(PlanEdit(text=text, change=change))
        if self._plan is not None:
            self.show_plan(self._plan)  # where it was refused, the field shows again what holds

    def _on_moved(self, index: int, part: str, value: float) -> None:
        held = {part: value / _SCORES if part == "score" else value}
        change = partial(with_curve_point, factor_name=self._name, index=index, **held)  # type: ignore[arg-type]
        self._ask(tr("Change the curve of {factor}", factor=self._label), change)

    def _on_added(self, index: int, is_checked: bool = False) -> None:
        change = partial(with_curve_point_added, factor_name=self._name, index=index)
        self._ask(tr("Add a point to the curve of {factor}", factor=self._label), change)

    def _on_removed(self, index: int, is_checked: bool = False) -> None:
        change = partial(without_curve_point, factor_name=self._name, index=index)
        self._ask(tr("Remove a point of the curve of {factor}", factor=self._label), change)

    @Slot()
    def _on_usual(self) -> None:
        change = partial(with_usual_curve, factor_name=self._name)
        self._ask(tr("Go back to the usual curve of {factor}", factor=self._label), change)

    @Slot(object)
    def _on_factor_chosen(self, name: object) -> None:
        if self._plan is not None:
            self.show_plan(self._plan)


class _PointRow:
    """The widgets of one anchor point."""

    def __init__(self, name: str, index: int, measured: tuple[float, float, int, float]) -> None:
        words = FACTOR_WORDS[name]
        low, high, decimals, step = measured
        told = tr("point {number} of the curve of {factor}", number=index + 1, factor=tr(words.label))
        unit = "" if words.unit in ("share", "times") else words.unit
        self._index = index
        self.measure = NumberField(
            Setting(label=tr("measure at {point}", point=told), unit=unit, low=low, high=high,
                    help=tr("Lies between the measures of the points beside it.")),
            decimals=decimals, step=step,
        )  # fmt: skip
        self.score = NumberField(
            Setting(label=tr("score at {point}", point=told), low=0.0, high=_SCORES,
                    help=tr("Of 100. A curve never turns back, so it lies between the scores beside it.")),
            step=5.0,
        )  # fmt: skip
        self.more, self.less = _quiet_button(tr("Add below")), _quiet_button(tr("Remove"))
        tips = tr("Half way to the next point; no score changes."), tr("Straight between the points beside it.")
        for button, tip in zip((self.more, self.less), tips, strict=True):
            describe(button, f"{button.text().lower()}: {told}", tip)
        self.widgets: tuple[QWidget, ...] = (
            short_label(tr("at"), "label"), self.measure, short_label(tr("of 100:"), "label"), self.score,
            self.more, self.less,
        )  # fmt: skip

    def show_curve(self, curve: Curve, low: float, high: float, gap: float) -> None:
        """Show the point's figures, each held between its neighbours'."""
        index = self._index
        measure, score = curve[index]
        least = low if index == 0 else curve[index - 1][0] + gap
        most = high if index + 1 == len(curve) else curve[index + 1][0] - gap
        # A plan's file may hold figures past the desk's: they are shown as they are.
        self.measure.show_limits(min(least, measure), max(most, measure))
        self.measure.show_value(measure)
        lowest, highest = score_room(curve, index)
        self.score.show_limits(_SCORES * lowest, _SCORES * highest)
        self.score.show_value(_SCORES * score)
        self.more.setVisible(index + 1 < len(curve))
        self.more.setEnabled(len(curve) < POINTS_MAX)
        self.less.setEnabled(len(curve) > POINTS_LEAST)


class CurvePicture(QWidget):
    """A small drawing of a curve: measures to the right, scores upward, ground past a limit shaded."""

    def __init__(self) -> None:
        super().__init__()
        self._factor: Factor | None = None
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setMinimumHeight(_HIGH_PX)

    def show_factor(self, factor: Factor, name: str) -> None:
        """Draw a factor's curve, with its limits."""
        self._factor = factor
        told = ", ".join(
            tr("{measure} scores {score}", measure=f"{measure:g}", score=f"{_SCORES * score:.0f}")
            for measure, score in factor.curve
        )
        self.setAccessibleName(name)
        self.setAccessibleDescription(told)
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(240, _HIGH_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        if self._factor is None:
            return
        curve, palette = self._factor.curve, self.palette()
        beyond = 0.12 * (curve[-1][0] - curve[0][0])
        low, high = curve[0][0] - beyond, curve[-1][0] + beyond
        wide, tall = self.width() - 2 * _EDGE_PX, self.height() - 2 * _EDGE_PX

        def at(measure: float, score: float) -> QPointF:
            share = min(max((measure - low) / (high - low), 0.0), 1.0)
            return QPointF(_EDGE_PX + share * wide, _EDGE_PX + (1.0 - score) * tall)

        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        text = palette.color(QPalette.ColorRole.WindowText)
        shade = palette.color(QPalette.ColorRole.WindowText)
        shade.setAlphaF(0.18)
        for limit, end in ((self._factor.limit_min, low), (self._factor.limit_max, high)):
            if limit is not None:
                painter.fillRect(_between(at(end, 1.0), at(limit, 0.0)), shade)
        edge = palette.color(QPalette.ColorRole.WindowText)
        edge.setAlphaF(0.4)
        painter.setPen(QPen(edge, 1.0))
        painter.drawLine(at(low, 0.0), at(high, 0.0))
        painter.drawLine(at(low, 0.0), at(low, 1.0))
        painter.setPen(QPen(text, 2.0))
        painter.drawPolyline(
            QPolygonF([at(low, curve[0][1]), *(at(*point) for point in curve), at(high, curve[-1][1])])
        )
        painter.setBrush(text)
        painter.setPen(Qt.PenStyle.NoPen)
        for point in curve:
            painter.drawEllipse(at(*point), _DOT_PX, _DOT_PX)
        painter.end()


def _between(one: QPointF, other: QPointF) -> QRectF:
    return QRectF(one, other).normalized()


def _quiet_button(text: str) -> QToolButton:
    button = QToolButton()
    button.setText(text)
    button.setProperty("role", "quiet")
    button.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    return button
