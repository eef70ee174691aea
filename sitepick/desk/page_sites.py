"""Sites: where the unit can camp, ranked, and what the rank is made of."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal, Slot
from PySide6.QtWidgets import QInputDialog, QPushButton, QVBoxLayout, QWidget

from sitepick.desk.comparing import SITES_MOST, Comparing
from sitepick.desk.edit import PlanEdit
from sitepick.desk.look import Look
from sitepick.desk.page import clear, inner_column, page_column, rule, show_cautions, text_label
from sitepick.desk.plan_field import plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.site_entry import COMPARE, HIDE, NAME, PIN, SiteEntry
from sitepick.desk.site_wishes import hide_edit, name_edit, pin_edit
from sitepick.desk.translation import counted, tr
from sitepick.desk.what_counts import WhatCounts
from sitepick.desk.words import two_sites_lines
from sitepick.plan.edits import with_sites_shown, with_values, without_own_site
from sitepick.plan.model import CampSettings, MarchSettings, Plan
from sitepick.plan.pitching import pitching_time_min
from sitepick.plan.setting import setting_of

if TYPE_CHECKING:
    from sitepick.sites.model import Hindrance
    from sitepick.tonight import Tonight


class SitesPage(QWidget):
    """The Sites page.

    Signals
    -------
    edit_requested(PlanEdit)
    site_chosen(int)
        A rank.
    """

    edit_requested = Signal(object)
    site_chosen = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._answer: Tonight | None = None
        self._plan: Plan | None = None
        self._chosen_rank: int | None = None
        column = page_column(self, tr("Sites"))
        spacing = plan_number("camp", "spacing_m", decimals=1, step=5.0)
        listed = plan_number("preferences", "site_count_max", step=1.0)
        self._fields = (spacing, listed)
        self._found = text_label(tr("No answer yet."), "sentence")
        column.addWidget(self._found)
        column.addWidget(
            Sentence(tr("Shelters stand {0} apart; at most {1} sites are listed."), spacing.field, listed.field)
        )
        column.addWidget(text_label(tr("What counts"), "heading"))
        self._counts = WhatCounts()
        self._weights = self._counts.weights
        column.addWidget(self._counts)
        column.addWidget(rule())
        self._firm = text_label("", "sentence")
        self._firm.hide()
        column.addWidget(self._firm)
        self._comparing = Comparing()
        self._compared: list[str] = []
        column.addWidget(self._comparing)
        self._own = inner_column()
        column.addLayout(self._own)
        self._list = QWidget()
        self._list.setProperty("role", "page")
        self._list.setAccessibleName(tr("Ranked sites"))
        self._entries_column = QVBoxLayout(self._list)
        self._entries_column.setContentsMargins(0, 0, 0, 0)
        self._entries_column.setSpacing(4)
        column.addWidget(self._list)
        self._cautions = inner_column()
        column.addLayout(self._cautions)
        self._entries: list[SiteEntry] = []
        for field in self._fields:
            field.edit_requested.connect(self.edit_requested)
        self._counts.edit_requested.connect(self.edit_requested)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's spacing and weights."""
        self._plan = plan
        for field in self._fields:
            field.show_plan(plan)
        self._counts.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show the ranked sites; where there are none, why, and what would help."""
        self._answer = answer
        self._counts.show_answer(answer)
        self._show_firmness(answer)
        self._show_own(answer)
        clear(self._entries_column)
        self._entries = []
        sites = answer.sites.sites
        if not sites:
            self._show_nothing(answer)
        else:
            held = counted(len(sites), "place holds", "places hold")
            people, shelters = answer.plan.unit.people, len(answer.plan.unit.shelters)
            self._found.setText(
                tr(
                    "{held} {people} people in {shelters}, best first.",
                    held=held,
                    people=people,
                    shelters=counted(shelters, "shelter"),
                )
            )
        factors = dict(answer.plan.preferences.factors())
        for site in sites:
            entry = SiteEntry(site, factors, self._look)
            entry.chosen.connect(self._on_chosen)
            entry.step_requested.connect(self._on_step)
            entry.wished.connect(self._on_wished)
            self._entries.append(entry)
            self._entries_column.addWidget(entry)
            self._entries_column.addWidget(rule())
        self.show_site(self._chosen_rank or 1)
        self._show_compared()
        show_cautions(self._cautions, answer.sites.cautions)

    def show_site(self, rank: int) -> None:
        """Mark the site that is chosen."""
        self._chosen_rank = rank
        for entry in self._entries:
            entry.show_chosen(entry.rank == rank)

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        if self._answer is not None:
            self.show_answer(self._answer)

    @property
    def entries(self) -> tuple[SiteEntry, ...]:
        """The list as it stands, by rank."""
        return tuple(self._entries)

    def _show_firmness(self, answer: Tonight) -> None:
        from sitepick.sheet.summary import firmness_words

        told = [firmness_words(answer), answer.sites.alternate_words]
        if answer.sites.alternate_words and answer.sites.alternate is not None:
            told[1] = tr(
                "Alternate: site {rank}. {alternate_words}",
                rank=answer.sites.alternate.rank,
                alternate_words=answer.sites.alternate_words,
            )
        text = " ".join(part for part in told if part)
        self._firm.setText(text)
        self._firm.setVisible(bool(text))

    def _show_own(self, answer: Tonight) -> None:
        """The user's own sites that are past a limit, and what is hidden."""
        clear(self._own)
        for own in answer.sites.own_failed:
            scored = "" if own.score is None else tr(" It would score {score:.0f} of 100.", score=own.score)
            self._own.addWidget(
                text_label(
                    tr("{name} is not listed. {told}{scored}", name=own.name, told=own.text, scored=scored), "caution"
                )
            )
        for area in answer.plan.areas:
            if area.role == "site":
                edit = PlanEdit(
                    text=tr("Remove {name}", name=area.name), change=partial(without_own_site, name=area.name)
                )
                self._own.addWidget(self._edit_button(edit))
        count = answer.sites.hidden_count
        if count:
            edit = PlanEdit(text=tr("Show {sites}", sites=counted(count, "hidden site")), change=with_sites_shown)
            self._own.addWidget(self._edit_button(edit))

    def _edit_button(self, edit: PlanEdit) -> QPushButton:
        button = QPushButton(edit.text)
        button.clicked.connect(partial(self._on_edit_clicked, edit))
        return button

    def _on_edit_clicked(self, edit: PlanEdit, is_checked: bool = False) -> None:
        self.edit_requested.emit(edit)

    @property
    def comparing(self) -> Comparing:
        """The sites side by side."""
        return self._comparing

    @property
    def counts(self) -> WhatCounts:
        """The weights and what goes with them."""
        return self._counts

    def _show_compared(self) -> None:
        if self._answer is None:
            return
        by_name = {site.name: site for site in self._answer.sites.sites}
        self._compared = [name for name in self._compared if name in by_name]
        chosen = sorted((by_name[name] for name in self._compared), key=lambda site: site.rank)
        self._comparing.show_sites(chosen, dict(self._answer.plan.preferences.factors()), self._look)
        ranks = {site.rank for site in chosen}
        for entry in self._entries:
            entry.show_compared(entry.rank in ranks)

    @Slot(int, str)
    def _on_wished(self, rank: int, wish: str) -> None:
        if self._answer is None or self._plan is None:
            return
        site = next(one for one in self._answer.sites.sites if one.rank == rank)
        grid = self._answer.ground.grid
        if wish == COMPARE:
            if site.name in self._compared:
                self._compared.remove(site.name)
            else:
                self._compared = [*self._compared, site.name][-SITES_MOST:]
            self._show_compared()
        elif wish == PIN:
            self.edit_requested.emit(pin_edit(self._plan, site, grid))
        elif wish == HIDE:
            self.edit_requested.emit(hide_edit(self._plan, site, grid))
        elif wish == NAME:
            name, is_given = QInputDialog.getText(
                self, tr("Name the site"), tr("Name (empty: as on the map):"), text=site.name
            )
            if is_given:
                self.edit_requested.emit(name_edit(self._plan, site, grid, name))

    def _show_nothing(self, answer: Tonight) -> None:
        is_exercise = answer.plan.exercise.handed_in is not None
        self._found.setText("" if is_exercise else tr("No site found. Why, what weighs most first:"))
        for line in two_sites_lines(answer):
            self._entries_column.addWidget(text_label(line, "reason"))
            self._entries_column.addWidget(rule())
        for hindrance in answer.sites.hindrances:
            self._entries_column.addWidget(text_label(hindrance.text, "reason"))
            self._entries_column.addWidget(text_label(tr("What would help: {fix}.", fix=hindrance.fix), "soft"))
            edit = relaxing(answer.plan, hindrance)
            if edit is not None:
                button = QPushButton(edit.text)
                button.clicked.connect(partial(self.edit_requested.emit, edit))
                self._entries_column.addWidget(button)
            self._entries_column.addWidget(rule())

    @Slot(int)
    def _on_chosen(self, rank: int) -> None:
        self.show_site(rank)
        self.site_chosen.emit(rank)

    @Slot(int, int)
    def _on_step(self, rank: int, by: int) -> None:
        for entry in self._entries:
            if entry.rank == rank + by:
                entry.setFocus()
                self._on_chosen(entry.rank)


def relaxing(plan: Plan, hindrance: Hindrance) -> PlanEdit | None:
    """The edit that does what a hindrance says would help; None where nothing should give way, or nothing would do."""
    if hindrance.name == "room":
        fits_m = hindrance.spacing_m
        if fits_m is None or fits_m < (setting_of(CampSettings, "spacing_m").low or 0.0):
            return None
        return PlanEdit(
            text=tr("Set the spacing to {fits_m:g} m", fits_m=fits_m),
            change=partial(with_values, part="camp", spacing_m=fits_m),
        )
    if hindrance.name == "reach":
        pitching = pitching_time_min(plan) - 15.0
        if pitching < (setting_of(MarchSettings, "pitching_min").low or 0.0):
            return None
        return PlanEdit(
            text=tr("Allow {pitching:g} min for pitching", pitching=pitching),
            change=partial(with_values, part="march", pitching_min=pitching),
        )
    return None
