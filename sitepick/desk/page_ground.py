"""Ground: which files the land is read from, and what is known of them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from sitepick.desk.page import inner_column, page_column, rule, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import plan_choice, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.words import joined
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

_KINDS = (
    ("terrain", "follow the ground"),
    ("surface", "follow the tree tops"),
    ("unknown", "are of unknown kind"),
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
        column = page_column(self, "Ground")
        kind = plan_choice("ground", "elevation_kind", _KINDS)
        evergreen = plan_number("ground", "evergreen_of_forest_frac", decimals=2, step=0.05, empty_text="not known")
        error = plan_number("ground", "elevation_error_m", decimals=1, step=0.5, empty_text="as is usual for them")
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
        column.addWidget(Sentence("The heights", kind.field, "; their error is", error.field, "."))
        column.addWidget(
            Sentence("Where the cover file can't tell, the evergreen share of forest is", evergreen.field, ".")
        )
        column.addWidget(text_label("Avalanche ground", "heading"))
        column.addWidget(
            Sentence("Slopes of", gentlest.field, "to", steepest.field, "and", least.field,
                     "can release, unless crowns cover", crowns.field, "of them.")
        )  # fmt: skip
        column.addWidget(
            Sentence("Snow stops where the line up to its release is flatter than", runout.field,
                     ", or along its path than", path.field, ".")
        )  # fmt: skip
        column.addWidget(
            Sentence("Each bulletin level above 2 takes", release_step.field, "off the slope and", runout_step.field,
                     "off the line.")
        )  # fmt: skip
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
            f"Heights come from {_names(ground.elevation)}, cover from {_names(ground.cover)} with the legend {legend}."
        )
        for field in self._fields:
            field.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show what was found in the files."""
        ground = answer.ground
        share = 100 * answer.sites.unknown_share
        texts = [f"{fact.role.capitalize()}: {Path(fact.path).name}. {fact.text}" for fact in ground.files]
        texts.append(
            f"{share:.1f} % of the ground in reach is not known." if share else "All ground in reach is known."
        )
        show_texts(self._facts, texts, "reason")
        show_cautions(self._cautions, ground.cautions + answer.terrain.cautions)


def _names(paths: tuple[Path, ...]) -> str:
    names = [path.name for path in paths]
    return joined(names) if len(names) <= 3 else f"{names[0]} and {len(names) - 1} more tiles"
