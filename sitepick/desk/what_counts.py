"""What counts: ready sets of weights, each weight by hand, the way to the score, and how far all that may be off."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QSignalBlocker, Signal, Slot
from PySide6.QtWidgets import QToolButton, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField, setting_help
from sitepick.desk.further_counts import FurtherCounts
from sitepick.desk.page import text_label
from sitepick.desk.plan_field import PlanField
from sitepick.desk.sentence import Sentence
from sitepick.desk.swing_dialog import SwingDialog
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.weights import Weights
from sitepick.plan.edits import with_weighting, with_weights
from sitepick.plan.emphasis import emphases, emphasis_of
from sitepick.plan.model import Plan
from sitepick.plan.setting import setting_of
from sitepick.plan.weighting import Weighting

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

OWN = "own"
MEAN_PHRASES = (("arithmetic", marked("is made up for by good ones")), ("geometric", marked("spoils a site")))


class WhatCounts(QWidget):
    """The weights and what goes with them.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._plan: Plan | None = None
        self._answer: Tonight | None = None
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        choices = [(emphasis.key, tr(emphasis.label)) for emphasis in emphases()]
        self._emphasis = ChoiceField(
            tr("what tonight is about"), [*choices, (OWN, tr("your own weights"))], tr("A ready set of weights.")
        )
        self._emphasis.value_chosen.connect(self._on_emphasis_chosen)
        self._why = text_label("", "soft")
        self.weights = Weights()
        self.further = FurtherCounts()
        self._swing = QToolButton()
        self._swing.setText(tr("Which matters more, and how much? …"))
        self._swing.setProperty("role", "quiet")
        self._swing.setToolTip(tr("A few answers in pairs set the weights."))
        self._swing.setEnabled(False)
        self._swing.clicked.connect(self.ask_swings)
        mean = PlanField(
            ChoiceField(tr("way to the score"), translated(MEAN_PHRASES), tr(setting_of(Weighting, "mean").help)),
            text=tr("Change the way to the score"),
            read=lambda plan: plan.preferences.weighting.mean,
            change=lambda plan, value: with_weighting(plan, mean=value),
        )
        weight, wind, speed = (
            _weighting_number("weight_error_frac", decimals=2, step=0.05),
            _weighting_number("wind_error_deg", decimals=1, step=2.5),
            _weighting_number("wind_speed_error_frac", decimals=2, step=0.05),
        )
        self._fields = (mean, weight, wind, speed)
        column.addWidget(Sentence(tr("Tonight is about {0}."), self._emphasis))
        column.addWidget(self._why)
        column.addWidget(self.weights)
        column.addWidget(self.further)
        column.addWidget(self._swing)
        column.addWidget(Sentence(tr("One bad thing {0}."), mean.field))
        column.addWidget(
            Sentence(
                tr(
                    "The ranking is tried with weights off by a share of up to {0}, the wind's direction by {1} "
                    "and its speed by a share of {2}; pace and slopes by their own errors."
                ),
                weight.field,
                wind.field,
                speed.field,
            )
        )
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)
        self.weights.edit_requested.connect(self.edit_requested)
        self.further.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's weights and errors."""
        self._plan = plan
        self.weights.show_plan(plan)
        self.further.show_plan(plan)
        for field in self._fields:
            field.show_plan(plan)
        emphasis = emphasis_of(plan.preferences)
        with QSignalBlocker(self._emphasis):
            self._emphasis.show_value(OWN if emphasis is None else emphasis.key)
        self._why.setText("" if emphasis is None else emphasis.why)
        self._why.setVisible(emphasis is not None)

    def show_answer(self, answer: Tonight) -> None:
        """Between the sites of an answer one can ask what matters more."""
        from sitepick.sites.swing import swings

        self._answer = answer
        self._swing.setEnabled(len(swings(answer.sites.sites)) >= 2)

    @property
    def emphasis_field(self) -> ChoiceField:
        """The ready sets."""
        return self._emphasis

    @Slot()
    def ask_swings(self) -> None:
        """Ask what matters more, and how much."""
        dialog = self.swing_dialog()
        if dialog is not None:
            dialog.exec()

    def swing_dialog(self) -> SwingDialog | None:
        """The questions about the sites in view; None where they don't differ."""
        from sitepick.sites.swing import swings

        if self._plan is None or self._answer is None:
            return None
        found = list(swings(self._answer.sites.sites))
        weights = {name: factor.weight for name, factor in self._plan.preferences.factors()}
        # All is asked against the first, so that one must weigh something.
        found.sort(key=lambda swing: -weights[swing.name] * swing.range_frac)
        if len(found) < 2 or weights[found[0].name] <= 0.0:
            return None
        dialog = SwingDialog(self._plan, found, self)
        dialog.edit_requested.connect(self.edit_requested)
        return dialog

    @Slot(object)
    def _on_emphasis_chosen(self, key: object) -> None:
        emphasis = next((one for one in emphases() if one.key == key), None)
        if emphasis is None:
            if self._plan is not None:
                self.show_plan(self._plan)  # one's own weights are set by hand, not by choosing the words
            return
        self.edit_requested.emit(
            PlanEdit(
                text=tr("Weigh for {label}", label=tr(emphasis.label)),
                change=partial(with_weights, weights=dict(emphasis.weights)),
            )
        )


def _weighting_number(name: str, *, decimals: int, step: float) -> PlanField:
    setting = setting_of(Weighting, name)
    field = NumberField(setting, decimals=decimals, step=step)
    field.setToolTip(setting_help(setting))

    def change(plan: Plan, value: object) -> Plan:
        return with_weighting(plan, **{name: value})

    return PlanField(
        field,
        text=tr("Change the {label}", label=tr(setting.label)),
        read=lambda plan: getattr(plan.preferences.weighting, name),
        change=change,
    )
