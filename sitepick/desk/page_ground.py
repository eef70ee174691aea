"""Ground: which files the land is read from, and what is known of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from sitepick.desk.page import inner_column, page_column, rule, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import plan_choice, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import marked, tr, translated
from sitepick.desk.words import joined
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

_KINDS = (
    ("terrain", marked("follow the ground")),
    ("surface", marked("follow the tree tops")),
    ("unknown", marked("are of unknown kind")),
)


class GroundPage(QWidget):
    """The Ground page.

    Signals
    -------
    edit_requested(PlanEdit)
    """

    edit_requested = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, tr("Ground"))
        kind = plan_choice("ground", "elevation_kind", translated(_KINDS))
        evergreen = plan_number("ground", "evergreen_of_forest_frac", decimals=2, step=0.05, empty_text=tr("not known"))
        error = plan_number("ground", "elevation_error_m", decimals=1, step=0.5, empty_text=tr("as is usual for them"))
        gentlest, steepest = plan_number("avalanche", "release_min_deg"), plan_number("avalanche", "release_max_deg")
        least = plan_number("avalanche", "least_area_m2", step=500.0)
        crowns = plan_number("avalanche", "dense_canopy_frac", decimals=2, step=0.05)
        runout, path = plan_number("avalanche", "runout_deg"), plan_number("avalanche", "path_deg")
        release_step = plan_number("avalanche", "release_per_level_deg", decimals=1, step=0.5)
        runout_step = plan_number("avalanche", "runout_per_level_deg", decimals=1, step=0.5)
        self._fields = (
            kind, error, evergreen, gentlest, steepest, least, crowns, runout, path, release_step, runout_step,
        )  # fmt: skip
        self._sources = text_label("", "sentence")
        column.addWidget(self._sources)
        column.addWidget(Sentence(tr("The heights {0}; their error is {1}."), kind.field, error.field))
        column.addWidget(
            Sentence(tr("Where the cover file can't tell, the evergreen share of forest is {0}."), evergreen.field)
        )
        column.addWidget(text_label(tr("Avalanche ground"), "heading"))
        column.addWidget(
            Sentence(
                tr("Slopes of {0} to {1} and {2} can release, unless crowns cover {3} of them."),
                gentlest.field,
                steepest.field,
                least.field,
                crowns.field,
            )
        )
        column.addWidget(
            Sentence(
                tr("Snow stops where the line up to its release is flatter than {0}, or along its path than {1}."),
                runout.field,
                path.field,
            )
        )
        column.addWidget(
            Sentence(
                tr("Each bulletin level above 2 takes {0} off the slope and {1} off the line."),
                release_step.field,
                runout_step.field,
            )
        )
        column.addWidget(rule())
        self._facts, self._cautions = inner_column(), inner_column()
        column.addLayout(self._facts)
        column.addLayout(self._cautions)
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show which files the plan names."""
        ground = plan.ground
        legend = ground.legend if isinstance(ground.legend, str) else ground.legend.name
        self._sources.setText(
            tr(
                "Heights come from {elevation}, cover from {cover} with the legend {legend}.",
                elevation=_names(ground.elevation),
                cover=_names(ground.cover),
                legend=legend,
            )
        )
        for field in self._fields:
            field.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show what was found in the files."""
        ground = answer.ground
        share = 100 * answer.sites.unknown_share
        texts = [f"{fact.role.capitalize()}: {Path(fact.path).name}. {fact.text}" for fact in ground.files]
        texts.append(
            tr("{share:.1f} % of the ground in reach is not known.", share=share)
            if share
            else tr("All ground in reach is known.")
        )
        show_texts(self._facts, texts, "reason")
        show_cautions(self._cautions, ground.cautions + answer.terrain.cautions)


def _names(paths: tuple[Path, ...]) -> str:
    names = [path.name for path in paths]
    return (
        joined(names)
        if len(names) <= 3
        else tr("{names} and {number} more tiles", names=names[0], number=len(names) - 1)
    )
