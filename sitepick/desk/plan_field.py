"""A field tied to one value of the plan: what it reads, what it asks to change."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial

from PySide6.QtCore import QObject, Signal, Slot

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, MomentField, NumberField, setting_help
from sitepick.desk.translation import tr
from sitepick.plan.avalanche import AvalancheSettings
from sitepick.plan.edits import with_values
from sitepick.plan.handout import HandoutSettings
from sitepick.plan.journey import JourneySettings
from sitepick.plan.load import LoadSettings
from sitepick.plan.model import CampSettings, GroundSource, MarchSettings, Plan, Preferences, Unit, Weather
from sitepick.plan.setting import setting_of

PARTS: dict[str, type] = {
    "ground": GroundSource,
    "unit": Unit,
    "weather": Weather,
    "avalanche": AvalancheSettings,
    "march": MarchSettings,
    "preferences": Preferences,
    "camp": CampSettings,
    "load": LoadSettings,
    "handout": HandoutSettings,
    "journey": JourneySettings,
}

Field = NumberField | ChoiceField | MomentField


class PlanField(QObject):
    """Ties a field to a value of the plan.

    Parameters
    ----------
    field : NumberField, ChoiceField or MomentField
    text : str
        The edit in the person's words.
    read : callable
        From the plan to the value.
    change : callable
        ``change(plan, value) -> plan``.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(
        self,
        field: Field,
        *,
        text: str,
        read: Callable[[Plan], object],
        change: Callable[[Plan, object], Plan],
    ) -> None:
        super().__init__(field)
        self.field = field
        self._text = text
        self._read = read
        self._change = change
        field.value_chosen.connect(self._on_value_chosen)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's value."""
        self.field.show_value(self._read(plan))  # type: ignore[arg-type]

    @Slot(object)
    def _on_value_chosen(self, value: object) -> None:
        self.edit_requested.emit(PlanEdit(text=self._text, change=partial(_changed, change=self._change, value=value)))


def _changed(plan: Plan, *, change: Callable[[Plan, object], Plan], value: object) -> Plan:
    return change(plan, value)


def _read_value(plan: Plan, *, part: str, name: str) -> object:
    return getattr(getattr(plan, part), name)


def _change_value(plan: Plan, value: object, *, part: str, name: str) -> Plan:
    return with_values(plan, part, **{name: value})


def plan_number(
    part: str, name: str, *, decimals: int = 0, step: float = 1.0, empty_text: str | None = None
) -> PlanField:
    """A number of the plan, with the limits and the help that stand beside it there."""
    setting = setting_of(PARTS[part], name)
    return PlanField(
        NumberField(setting, decimals=decimals, step=step, empty_text=empty_text),
        text=tr("Change {label}", label=tr(setting.label)),
        read=partial(_read_value, part=part, name=name),
        change=partial(_change_value, part=part, name=name),
    )


def plan_choice(part: str, name: str, choices: Sequence[tuple[object, str]], *, label: str | None = None) -> PlanField:
    """A choice of the plan; a label is needed where the plan's field carries no setting."""
    if label is None:
        setting = setting_of(PARTS[part], name)
        label, help_text = tr(setting.label), setting_help(setting)
    else:
        help_text = ""
    return PlanField(
        ChoiceField(label, choices, help_text),
        text=tr("Change {label}", label=label),
        read=partial(_read_value, part=part, name=name),
        change=partial(_change_value, part=part, name=name),
    )
