"""Bodies, loads, sleds and food: the sentences of the Unit page, and what comes of them."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from sitepick.desk.fields import NumberField
from sitepick.desk.kit_list import KitList
from sitepick.desk.page import inner_column, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import PlanField, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import tr
from sitepick.plan.edits import with_values
from sitepick.plan.load import LoadSettings
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of

if TYPE_CHECKING:
    from PySide6.QtWidgets import QVBoxLayout

    from sitepick.tonight import Tonight

SUPPLY_CAUTIONS = ("load", "food")


class LoadFields(QWidget):
    """Sentences over the loads, the kit list below; laid into a page's own column.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, column: QVBoxLayout, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.hide()  # holds the signals; what shows stands in the page's column
        body = plan_number("load", "body_kg")
        carried = plan_number("load", "carried_kg", decimals=1, empty_text=tr("what the kit list comes to"))
        ration = plan_number("load", "ration_kcal", step=100.0)
        sleds = _count_field("sled_count", empty_text=tr("one a section"))
        limit, own = plan_number("load", "sled_limit_kg", decimals=1), plan_number("load", "sled_own_kg", decimals=1)
        pullers = _count_field("pullers_per_sled")
        drag = plan_number("load", "sled_drag_frac", decimals=2, step=0.01)
        self._fields = (body, carried, ration, sleds, limit, own, pullers, drag)
        self.kit = KitList()
        self._found, self._cautions = inner_column(), inner_column()
        column.addWidget(text_label(tr("Loads and supplies"), "heading"))
        column.addWidget(
            Sentence(
                tr("A person weighs {0} and carries {1}; a day's ration holds {2}."),
                body.field,
                carried.field,
                ration.field,
            )
        )
        self._sleds = Sentence(
            tr(
                "Sleds: {0}, each with at most {1} on it, {2} empty, pulled by {3} people at a time with a "
                "drag of {4} of its weight."
            ),
            sleds.field,
            limit.field,
            own.field,
            pullers.field,
            drag.field,
        )
        column.addWidget(self._sleds)
        column.addLayout(self._found)
        column.addLayout(self._cautions)
        column.addWidget(text_label(tr("Kit list, to tick before leaving"), "heading"))
        column.addWidget(self.kit)
        for piece in (*self._fields, self.kit):
            piece.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the loads and the kit list."""
        for field in self._fields:
            field.show_plan(plan)
        self._sleds.setVisible(plan.march.has_sled)
        self.kit.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show what the unit needs, and what lies on each sled."""
        if answer.needs is None:
            return
        from sitepick.sheet.needs_words import food_words, fuel_words, load_words, sled_lines, water_words

        needs, people = answer.needs, answer.plan.unit.people
        texts = [food_words(needs, people), water_words(needs, people), fuel_words(needs), load_words(needs)]
        show_texts(self._found, [*texts, *sled_lines(needs)], "reason")
        show_cautions(self._cautions, [caution for caution in needs.cautions if caution.kind in SUPPLY_CAUTIONS])


def _count_field(name: str, *, empty_text: str | None = None) -> PlanField:
    setting = setting_of(LoadSettings, name)
    return PlanField(
        NumberField(setting, empty_text=empty_text),
        text=tr("Change {label}", label=tr(setting.label)),
        read=partial(_read, name=name),
        change=partial(_change, name=name),
    )


def _read(plan: Plan, *, name: str) -> object:
    return getattr(plan.load, name)


def _change(plan: Plan, value: object, *, name: str) -> Plan:
    return with_values(plan, "load", **{name: None if value is None else int(value)})  # type: ignore[call-overload]
