"""Fields of the March page for what the speed is reckoned from, and the finer points that fold away."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from PySide6.QtCore import Qt, Signal, Slot
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from sitepick.desk.fields import ChoiceField, NumberField, setting_help
from sitepick.desk.page import GAP_PX, text_label
from sitepick.desk.plan_field import PlanField
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr
from sitepick.plan.edits import with_mode_pace, with_pace, with_slope_function
from sitepick.plan.model import Plan
from sitepick.plan.pace import MODE_PACES, ModePace, PaceSettings, functions_for, mode_key, slope_function
from sitepick.plan.setting import setting_of

_MODE_NAMES = {
    "foot": marked("on foot"),
    "snowshoe": marked("on snowshoes"),
    "ski": marked("on skis"),
    "vehicle": marked("by vehicle"),
    "tow": marked("behind a vehicle"),
}


def pace_number(name: str, *, decimals: int = 0, step: float = 1.0, empty_text: str | None = None) -> PlanField:
    """A number of the plan's pace, with its limits and help."""
    setting = setting_of(PaceSettings, name)
    return PlanField(
        NumberField(setting, decimals=decimals, step=step, empty_text=empty_text),
        text=tr("Change {label}", label=tr(setting.label)),
        read=partial(_read, name=name),
        change=partial(_change, name=name),
    )


def pace_count(name: str) -> PlanField:
    """A whole number of the plan's pace."""
    setting = setting_of(PaceSettings, name)
    return PlanField(
        NumberField(setting),
        text=tr("Change {label}", label=tr(setting.label)),
        read=partial(_read, name=name),
        change=lambda plan, value: with_pace(plan, **{name: int(value)}),  # type: ignore[call-overload]
    )


def pace_choice(name: str, choices: Sequence[tuple[object, str]], *, label: str, help_text: str = "") -> PlanField:
    """A choice of the plan's pace."""
    return PlanField(
        ChoiceField(label, choices, help_text),
        text=tr("Change {label}", label=label),
        read=partial(_read, name=name),
        change=partial(_change, name=name),
    )


def current_key(plan: Plan) -> str:
    """Which mode's pace the plan uses."""
    return mode_key(plan.march.mode, plan.march.pace)


def _read(plan: Plan, *, name: str) -> object:
    return getattr(plan.march.pace, name)


def _change(plan: Plan, value: object, *, name: str) -> Plan:
    return with_pace(plan, **{name: value})


def _mode_number(name: str, *, decimals: int = 1, step: float = 0.2) -> PlanField:
    setting = setting_of(ModePace, name)
    return PlanField(
        NumberField(setting, decimals=decimals, step=step),
        text=tr("Change {label}", label=tr(setting.label)),
        read=lambda plan: getattr(_mode_pace(plan), name),
        change=partial(_change_mode, name=name),
    )


def _mode_pace(plan: Plan) -> ModePace:
    found: ModePace = getattr(plan.march.pace, current_key(plan))
    return found


def _change_mode(plan: Plan, value: object, *, name: str) -> Plan:
    return with_mode_pace(plan, **{name: value})


class FunctionField(PlanField):
    """The choice among the functions that serve one mode; each phrase tells its source when pointed at."""

    def __init__(self, key: str) -> None:
        self.key = key
        choices = tuple((name, tr(slope_function(name).label)) for name in functions_for(key))
        field = ChoiceField(tr("slopes by, {mode}", mode=tr(_MODE_NAMES[key])), choices)
        super().__init__(
            field,
            text=tr("Change how slopes count"),
            read=lambda plan: getattr(plan.march.pace, key).function,
            change=lambda plan, value: with_slope_function(plan, key, str(value)),
        )
        for index, (name, _) in enumerate(choices):
            field.setItemData(index, told_function(name), Qt.ItemDataRole.ToolTipRole)


def told_function(key: str) -> str:
    """Source of a function and what it holds for, as one text."""
    function = slope_function(key)
    source, limits = tr(function.source), tr(function.limits)
    return tr("{source} Holds for: {limits}", source=source, limits=f"{limits[:1].lower()}{limits[1:]}")


class FinerPoints(QWidget):
    """What is rarely changed about the pace; folded away until asked for.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_PX)
        self._button = QToolButton(self)
        self._button.setProperty("role", "quiet")
        self._button.setText(tr("Finer points of the pace"))
        self._button.setCheckable(True)
        self._button.setAccessibleName(tr("Finer points of the pace"))
        self._button.setToolTip(tr("Functions with their sources, rates, dark, snow, load, sled and ice."))
        self._button.toggled.connect(self._on_toggled)
        column.addWidget(self._button)
        self._inside = QWidget(self)
        self._inside.setVisible(False)
        column.addWidget(self._inside)
        self._functions = tuple(FunctionField(key) for key in MODE_PACES)
        self._source = text_label("", "soft")
        self._vehicle: Sentence
        self._fields = (*self._functions, *self._fill(QVBoxLayout(self._inside)))
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def _fill(self, column: QVBoxLayout) -> tuple[PlanField, ...]:
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP_PX)
        setting = setting_of(ModePace, "level_from")
        level = PlanField(
            ChoiceField(
                tr(setting.label),
                (("table", tr("the planning rate")), ("function", tr("the function's own"))),
                setting_help(setting),
            ),
            text=tr("Change {label}", label=tr(setting.label)),
            read=lambda plan: _mode_pace(plan).level_from,
            change=partial(_change_mode, name="level_from"),
        )
        unbroken, broken = _mode_number("unbroken_kmh"), _mode_number("broken_kmh")
        steepest = _mode_number("steepest_deg", decimals=0, step=1.0)
        night = pace_number("night_frac", decimals=2, step=0.05)
        margin = pace_number("lead_margin_min", step=5.0)
        sinking = pace_number("sinking_cm", step=5.0, empty_text=tr("as the snow's depth and density tell"))
        free, loss = pace_number("load_free_kg"), pace_number("load_loss_frac", decimals=3, step=0.01)
        sled = pace_number("sled_frac", decimals=2, step=0.05)
        uphill, percent = pace_number("sled_uphill_frac", decimals=2, step=0.05), pace_number("sled_uphill_percent")
        sled_steepest = pace_number("sled_steepest_deg")
        white_ice, vehicle = pace_number("white_ice_cm"), pace_number("vehicle_kg", step=500.0)
        self._vehicle = Sentence(tr("The loaded vehicle weighs {0}; the ice is asked to bear it."), vehicle.field)
        for part in (
            Sentence(
                tr("Slopes count by {0} {1} {2} {3} {4}; the speed on the level is {5}."),
                *(field.field for field in self._functions),
                level.field,
            ),
            self._source,
            Sentence(
                tr(
                    "The planning rate is {0} on an unbroken trail and {1} on a broken one; ground steeper than "
                    "{2} is not entered."
                ),
                unbroken.field,
                broken.field,
                steepest.field,
            ),
            Sentence(tr("A lead party leaves {0} before it must."), margin.field),
            Sentence(tr("In the dark the speed is {0} of that by day."), night.field),
            Sentence(tr("A boot sinks in {0}."), sinking.field),
            Sentence(
                tr("Up to {0} on the back cost no speed; each 4.5 kg more costs {1} of it."), free.field, loss.field
            ),
            Sentence(
                tr(
                    "With 30 kg of sled a head the speed is {0} of that without, and {1} uphill from {2} on; no "
                    "sled goes steeper than {3}."
                ),
                sled.field,
                uphill.field,
                percent.field,
                sled_steepest.field,
            ),
            Sentence(tr("White ice over the clear: {0}; it counts half."), white_ice.field),
            self._vehicle,
        ):
            column.addWidget(part)
        return (
            level, unbroken, broken, steepest, margin, night, sinking, free, loss, sled, uphill, percent, sled_steepest,
            white_ice, vehicle,
        )  # fmt: skip

    def show_plan(self, plan: Plan) -> None:
        """Show the pace of the plan's mode."""
        key = current_key(plan)
        for function in self._functions:
            function.field.setVisible(function.key == key)
        self._source.setText(told_function(_mode_pace(plan).function))
        self._vehicle.setVisible(plan.march.mode == "vehicle")
        for field in self._fields:
            field.show_plan(plan)

    @Slot(bool)
    def _on_toggled(self, is_open: bool) -> None:
        self._inside.setVisible(is_open)
