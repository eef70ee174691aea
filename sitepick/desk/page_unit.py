"""Unit: who marches and what they sleep in."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from sitepick.desk.display import shown
from sitepick.desk.fields import NumberField
from sitepick.desk.load_fields import LoadFields
from sitepick.desk.own_kinds import OwnKinds
from sitepick.desk.page import page_column, rule, text_label
from sitepick.desk.plan_field import PlanField, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.shelter_list import ShelterList
from sitepick.desk.translation import tr
from sitepick.desk.words import shelters_phrase
from sitepick.plan.edits import with_people, with_pitching
from sitepick.plan.model import Plan, Unit
from sitepick.plan.pitching import PitchingRule, pitching_words
from sitepick.plan.setting import setting_of

if TYPE_CHECKING:
    from sitepick.tonight import Tonight


def _rule_number(name: str) -> PlanField:
    setting = setting_of(PitchingRule, name)
    return PlanField(
        NumberField(setting, step=1.0),
        text=tr("Change {label}", label=tr(setting.label)),
        read=lambda plan: getattr(plan.march.pitching, name),
        change=lambda plan, value: with_pitching(plan, name, cast("float", value)),
    )


class UnitPage(QWidget):
    """The Unit page.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, tr("Unit"))
        people = PlanField(
            NumberField(setting_of(Unit, "people")),
            text=tr("Change people"),
            read=lambda plan: plan.unit.people,
            change=lambda plan, value: with_people(plan, int(value)),  # type: ignore[call-overload]
        )
        pitching = plan_number("march", "pitching_min", step=5.0, empty_text=tr("as long as the rule says"))
        tents, logs, trenches, caves, vehicles, undug, digging, size = (
            _rule_number(name)
            for name in (
                "tent_min", "log_shelter_min", "trench_min", "cave_min", "vehicle_min", "digging_from_cm",
                "digging_min_per_10_cm", "size_min_per_10_people",
            )
        )  # fmt: skip
        self._fields = (people, pitching, tents, logs, trenches, caves, vehicles, undug, digging, size)
        column.addWidget(Sentence(tr("Tonight {0} people sleep out."), people.field))
        self._shelters = text_label("", "sentence")
        column.addWidget(self._shelters)
        column.addWidget(Sentence(tr("From the last arrival to everyone under shelter takes {0}."), pitching.field))
        column.addWidget(
            Sentence(
                tr(
                    "The rule: {0} for tents, {1} for log shelters, {2} for snow trenches, {3} for snow caves, "
                    "{4} for vehicles; snow deeper than {5} is dug out at {6} for each 10 cm; each ten people "
                    "more take {7}."
                ),
                tents.field,
                logs.field,
                trenches.field,
                caves.field,
                vehicles.field,
                undug.field,
                digging.field,
                size.field,
            )
        )
        self._pitching = text_label("", "soft")
        column.addWidget(self._pitching)
        column.addWidget(text_label(tr("Another number of people gets the usual tents again."), "soft"))
        column.addWidget(rule())
        self._list, self._kinds = ShelterList(), OwnKinds()
        for part in (self._list, self._kinds):
            column.addWidget(part)
            part.edit_requested.connect(self.edit_requested)
        column.addWidget(rule())
        self._load = LoadFields(column, self)
        self._load.edit_requested.connect(self.edit_requested)
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the unit and its shelters."""
        for field in self._fields:
            field.show_plan(plan)
        self._pitching.setText(shown().said(tr("Pitching takes {time}.", time=pitching_words(plan))))
        self._shelters.setText(tr("They sleep in {shelters}.", shelters=shelters_phrase(plan)))
        self._list.show_plan(plan)
        self._kinds.show_plan(plan)
        self._load.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show what the unit needs."""
        self._load.show_answer(answer)
