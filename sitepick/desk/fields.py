"""Values edited inside a sentence: numbers, choices, moments. They look like underlined words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime, timedelta, timezone

from PySide6.QtCore import QDateTime, QSignalBlocker, QSize, Qt, QTimeZone, Signal, Slot
from PySide6.QtGui import QFontMetrics, QWheelEvent
from PySide6.QtWidgets import QAbstractSpinBox, QComboBox, QDateTimeEdit, QDoubleSpinBox, QSizePolicy, QWidget

from sitepick.desk.display import shown
from sitepick.desk.translation import tr
from sitepick.desk.words import begun
from sitepick.plan.setting import Setting

EDGE_PX = 5  # room for the caret beside the text


def describe(widget: QWidget, name: str, help_text: str) -> None:
    """Tell a field's name and help to eyes (tool tip) and to screen readers."""
    widget.setAccessibleName(name)
    widget.setAccessibleDescription(help_text)
    widget.setToolTip(help_text)


def setting_help(setting: Setting) -> str:
    """The help of a setting with its limits, as one text, in the units that the person chose."""
    help_text = shown().said(tr(setting.help)) if setting.help else ""
    if setting.low is None and setting.high is None:
        return help_text
    return f"{help_text} {begun(limits_text(setting))}.".strip()


def limits_text(setting: Setting) -> str:
    """The limits of a setting in words, such as ``1 to 400``, in the units that the person chose."""
    unit, factor, offset = shown().unit(setting.unit)
    low, high = (
        "" if limit is None else f"{limit:g}" if unit == setting.unit else _three_figures(limit * factor + offset)
        for limit in (setting.low, setting.high)
    )
    unit = f" {tr(unit)}" if unit else ""
    if not low:
        return tr("at most {high}{unit}", high=high, unit=unit)
    if not high:
        return tr("at least {low}{unit}", low=low, unit=unit)
    return tr("{low} to {high}{unit}", low=low, high=high, unit=unit)


def _three_figures(value: float) -> str:
    """A converted limit, about as finely told as a round metric one."""
    return f"{float(f'{value:.3g}'):.10g}"


class NumberField(QDoubleSpinBox):
    """A number with its unit and limits, or "not known" where the plan allows that.

    Parameters
    ----------
    setting : Setting
        Label, unit, limits and help.
    decimals : int
        As shown; the plan keeps what was typed.
    step : float
        Of the arrow keys and the wheel.
    empty_text : str or None
        What stands for None; None where a value is always needed. It lies one step below the limit,
        so the down key reaches it.

    Signals
    -------
    value_chosen(float or None)
        By the person, when they leave the field, press Enter or step.
    """

    value_chosen = Signal(object)

    def __init__(
        self, setting: Setting, *, decimals: int = 0, step: float = 1.0, empty_text: str | None = None
    ) -> None:
        super().__init__()
        self._empty_text = empty_text
        self._setting = setting
        self._step = step
        self._factor, self._offset = 1.0, 0.0
        self._told_by = shown()
        self.setDecimals(decimals)
        self.setSingleStep(step)
        self._take_units()
        if empty_text is not None:
            self.setSpecialValueText(empty_text)
        self.setFrame(False)
        self.setKeyboardTracking(False)
        self.setCorrectionMode(QAbstractSpinBox.CorrectionMode.CorrectToNearestValue)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        describe(self, tr(setting.label), setting_help(setting))
        self.valueChanged.connect(self._on_value_changed)

    def show_value(self, value: float | None) -> None:
        """Show a value without telling it as chosen."""
        with QSignalBlocker(self):
            self._take_units()
            self.setValue(self.minimum() if value is None else value * self._factor + self._offset)
        self.updateGeometry()

    def show_limits(self, low: float, high: float) -> None:
        """Keep to other limits than the setting's, such as what stands beside it; a value is shown after them."""
        self._setting = replace(self._setting, low=low, high=high)
        with QSignalBlocker(self):
            self._take_units()

    def _take_units(self) -> None:
        """Limits and unit as the person reads them."""
        unit, self._factor, self._offset = shown().unit(self._setting.unit)
        low = self._setting.low if self._setting.low is not None else -1e6
        high = self._setting.high if self._setting.high is not None else 1e6
        low, high = (limit * self._factor + self._offset for limit in (low, high))
        self.setRange(low - self._step if self._empty_text is not None else low, high)
        self.setSuffix({"": "", "°": "°"}.get(unit, f" {tr(unit)}"))
        if self._told_by is not shown():
            self._told_by = shown()
            describe(self, self.accessibleName(), setting_help(self._setting))

    @Slot(float)
    def _on_value_changed(self, value: float) -> None:
        self.updateGeometry()
        is_empty = self._empty_text is not None and value <= self.minimum()
        self.value_chosen.emit(None if is_empty else self._in_plan_units(value))

    def _in_plan_units(self, value: float) -> float:
        """What the plan keeps, within its limits: a rounded imperial limit may lie a hair past them."""
        if self._factor == 1.0:
            return value
        metric = round((value - self._offset) / self._factor, 3)
        low, high = self._setting.low, self._setting.high
        return min(max(metric, metric if low is None else low), metric if high is None else high)

    def sizeHint(self) -> QSize:
        width = QFontMetrics(self.font()).horizontalAdvance(self.text() or "0")
        return QSize(width + 2 * EDGE_PX, QFontMetrics(self.font()).height() + 4)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()  # the page scrolls


class ChoiceField(QComboBox):
    """One of a few phrases.

    Parameters
    ----------
    name, help_text : str
    choices : sequence of (value, phrase)

    Signals
    -------
    value_chosen(object)
        The value of the phrase, chosen by the person.
    """

    value_chosen = Signal(object)

    def __init__(self, name: str, choices: Sequence[tuple[object, str]], help_text: str = "") -> None:
        super().__init__()
        self._values = [value for value, _ in choices]
        self.addItems([phrase for _, phrase in choices])
        self.setFrame(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        # on some systems a combo box speaks its value in place of its name: the name leads the description too
        describe(self, name, f"{begun(name)}. {help_text}".strip())
        self.currentIndexChanged.connect(self._on_index_changed)

    @property
    def value(self) -> object:
        """The value of the phrase shown."""
        return self._values[self.currentIndex()]

    def show_choices(self, choices: Sequence[tuple[object, str]]) -> None:
        """Offer other phrases, without telling one as chosen; the value shown stays where it is among them."""
        if self._values == [value for value, _ in choices] and all(
            self.itemText(k) == phrase for k, (_, phrase) in enumerate(choices)
        ):
            return
        shown = self.value if self._values else None
        with QSignalBlocker(self):
            self.clear()
            self._values = [value for value, _ in choices]
            self.addItems([phrase for _, phrase in choices])
            self.setCurrentIndex(self._values.index(shown) if shown in self._values else 0)
        self.updateGeometry()

    def show_value(self, value: object) -> None:
        """Show a value without telling it as chosen."""
        with QSignalBlocker(self):
            self.setCurrentIndex(self._values.index(value))
        self.updateGeometry()

    @Slot(int)
    def _on_index_changed(self, index: int) -> None:
        self.updateGeometry()
        self.value_chosen.emit(self._values[index])

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        return QSize(metrics.horizontalAdvance(self.currentText()) + 2 * EDGE_PX, metrics.height() + 4)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()


class MomentField(QDateTimeEdit):
    """A date and a time of day, in the zone that the plan gives.

    Signals
    -------
    value_chosen(datetime)
        With the same zone as the value shown.
    """

    value_chosen = Signal(object)

    def __init__(self, name: str, help_text: str = "") -> None:
        super().__init__()
        self._zone: timezone = UTC
        self.setDisplayFormat("ddd d MMM yyyy HH:mm")
        self.setFrame(False)
        self.setKeyboardTracking(False)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setTimeZone(QTimeZone.utc())
        describe(self, name, help_text)
        self.dateTimeChanged.connect(self._on_moment_changed)

    def show_value(self, value: datetime) -> None:
        """Show a moment's wall-clock time without telling it as chosen."""
        self._zone = timezone(value.utcoffset() or timedelta())
        wall = value.replace(tzinfo=UTC)
        with QSignalBlocker(self):
            self.setDateTime(QDateTime.fromSecsSinceEpoch(int(wall.timestamp()), QTimeZone.utc()))
        self.updateGeometry()

    @Slot(QDateTime)
    def _on_moment_changed(self, moment: QDateTime) -> None:
        self.updateGeometry()
        wall = datetime.fromtimestamp(moment.toSecsSinceEpoch(), tz=UTC)
        self.value_chosen.emit(wall.replace(tzinfo=self._zone))

    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        return QSize(metrics.horizontalAdvance(self.text()) + 2 * EDGE_PX, metrics.height() + 4)

    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()

    def wheelEvent(self, event: QWheelEvent) -> None:
        if self.hasFocus():
            super().wheelEvent(event)
        else:
            event.ignore()
