"""Which matters more, and how much? A few answers in pairs, and the weights that follow."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QVBoxLayout, QWidget

from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField
from sitepick.desk.page import rule, text_label
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.words import begun
from sitepick.plan.edits import with_weights

if TYPE_CHECKING:
    from sitepick.plan.model import Plan
    from sitepick.sites.swing import PairAnswer, Swing

TIMES = (
    (0.0, marked("not at all")),
    (0.1, marked("a tenth as much")),
    (0.25, marked("a quarter as much")),
    (0.5, marked("half as much")),
    (0.75, marked("three quarters as much")),
    (1.0, marked("just as much")),
    (1.5, marked("half as much again")),
    (2.0, marked("twice as much")),
    (3.0, marked("three times as much")),
    (5.0, marked("five times as much")),
)


class SwingDialog(QDialog):
    """Asks about each factor against the one that counts most now.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, plan: Plan, swings: Sequence[Swing], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(tr("Which matters more?"))
        self.setAccessibleName(tr("Which matters more, and how much?"))
        self.setMinimumWidth(520)
        self._swings = tuple(swings)
        self._weights = {name: factor.weight for name, factor in plan.preferences.factors()}
        column = QVBoxLayout(self)
        column.setSpacing(10)
        first = self._swings[0]
        column.addWidget(text_label(
            tr("Think of the worst and the best of the listed sites. In {label} it is {span}. Against that "
               "step, how much would these matter?", label=tr(first.label), span=_span(first)), "sentence",
        ))  # fmt: skip
        column.addWidget(rule())
        self._fields: dict[str, ChoiceField] = {}
        for swing in self._swings[1:]:
            field = ChoiceField(
                tr("how much {label} matters", label=tr(swing.label)),
                translated(TIMES),
                tr("Against {label}.", label=tr(first.label)),
            )
            field.show_value(self._now(swing))
            self._fields[swing.name] = field
            column.addWidget(
                Sentence(
                    tr(
                        "{label}, {span}, matters {field}.",
                        label=begun(tr(swing.label)),
                        span=_span(swing),
                        field="{0}",
                    ),
                    field,
                )
            )
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel)
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText(tr("Set the weights"))
        buttons.accepted.connect(self._on_accepted)
        buttons.rejected.connect(self.reject)
        column.addWidget(buttons)

    def field(self, name: str) -> ChoiceField:
        """The answer about one factor."""
        return self._fields[name]

    def answers(self) -> tuple[PairAnswer, ...]:
        """What is said, as it stands."""
        from sitepick.sites.swing import PairAnswer

        first = self._swings[0].name
        return tuple(
            PairAnswer(name=name, other=first, times=TIMES[field.currentIndex()][0])
            for name, field in self._fields.items()
        )

    def _now(self, swing: Swing) -> float:
        """The answer that comes nearest to what the weights say now."""
        first = self._swings[0]
        now = (self._weights[swing.name] * swing.range_frac) / (self._weights[first.name] * first.range_frac)
        return min((times for times, _ in TIMES), key=lambda times: abs(times - now))

    def _on_accepted(self) -> None:
        self.edit_requested.emit(
            PlanEdit(
                text=tr("Set the weights by what matters more"),
                change=partial(_answered, answers=self.answers(), ranges={s.name: s.range_frac for s in self._swings}),
            )
        )
        self.accept()


def _answered(plan: Plan, *, answers: tuple[PairAnswer, ...], ranges: dict[str, float]) -> Plan:
    from sitepick.sites.swing import weights_from_answers

    weights = {name: factor.weight for name, factor in plan.preferences.factors()}
    return with_weights(plan, weights_from_answers(answers, ranges, weights))


def _span(swing: Swing) -> str:
    from sitepick.sheet.words import measure_words

    return tr(
        "from {worst} to {best}",
        worst=measure_words(swing.worst),
        best=measure_words(swing.best),
    )
