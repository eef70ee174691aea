"""Camp: who sleeps where, what else it has and by which rules, the work and the watch."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QTableWidget, QWidget

from sitepick.desk.camp_fields import CampFields
from sitepick.desk.camp_list import CampList
from sitepick.desk.camp_tool import Key
from sitepick.desk.camp_work import CampWork
from sitepick.desk.page import inner_column, page_column, show_cautions, show_texts, text_label
from sitepick.desk.plan_field import plan_choice, plan_number
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import counted, tr
from sitepick.plan.handout import PAPERS
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.camp.model import Camp
    from sitepick.tonight import Tonight

MENDED_HERE = ("room", "camp")  # kinds of cautions that the list and the sentences of this page can mend


class CampPage(QWidget):
    """The Camp page.

    Signals
    -------
    edit_requested(PlanEdit)
    thing_chosen(object)
        Kind and name of a thing in the list.
    hand_requested(object)
        The arrow keys are to move this thing on the map.
    dead_ground_toggled(bool)
    """

    edit_requested = Signal(object)
    thing_chosen = Signal(object)
    hand_requested = Signal(object)
    dead_ground_toggled = Signal(bool)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        column = page_column(self, tr("Camp"))
        spacing = plan_number("camp", "spacing_m", decimals=1, step=5.0)
        door = plan_number("camp", "door_off_wind_deg", step=5.0)
        paper = plan_choice("handout", "paper", [(name, name) for name in PAPERS])
        self._fields = (spacing, door, paper)
        column.addWidget(
            Sentence(tr("Shelters stand at least {0} apart, their doors {1} off the wind."), spacing.field, door.field)
        )
        self._gives = inner_column()
        column.addLayout(self._gives)
        self._where = text_label(tr("No camp is laid out yet."), "sentence")
        column.addWidget(self._where)
        self.list, self.fields, self.work = CampList(), CampFields(), CampWork()
        self._broken, self._watch, self._cautions = inner_column(), inner_column(), inner_column()
        column.addLayout(self._broken)
        column.addWidget(self.list)
        column.addWidget(self.fields)
        column.addLayout(self._watch)
        column.addWidget(self.work)
        column.addLayout(self._cautions)
        column.addWidget(Sentence(tr("The sheet is printed on {0} paper."), paper.field))
        self.list.hide()
        self.work.hide()
        for piece in (*self._fields, self.list, self.fields, self.work):
            piece.edit_requested.connect(self.edit_requested)
        self.list.thing_chosen.connect(self.thing_chosen)
        self.list.hand_requested.connect(self.hand_requested)
        self.fields.dead_ground_toggled.connect(self.dead_ground_toggled)

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's settings, pins and ticks."""
        for piece in (*self._fields, self.list, self.fields, self.work):
            piece.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show the camp thing by thing."""
        camp = answer.camp
        self.list.setVisible(camp is not None)
        self.list.show_camp(camp, answer.ground.grid)
        self.work.show_work(None if camp is None else camp.work)
        self._where.setText(_nothing_text(answer) if camp is None else _where_text(camp))
        show_texts(self._gives, () if camp is None else camp.what_gives, "caution")
        show_texts(self._watch, () if camp is None or camp.security is None else camp.security.sentences, "reason")
        cautions = () if camp is None else camp.cautions
        show_cautions(self._broken, (one for one in cautions if one.kind in MENDED_HERE))
        show_cautions(self._cautions, (one for one in cautions if one.kind not in MENDED_HERE))

    def show_thing(self, key: Key | None) -> None:
        """Mark a thing that was chosen on the map."""
        self.list.show_thing(key)

    def take_focus(self) -> None:
        """Give the keyboard back to the list."""
        self.list.table.setFocus()

    @property
    def table(self) -> QTableWidget:
        """Everything in the camp, a row each."""
        return self.list.table


def _nothing_text(answer: Tonight) -> str:
    if answer.plan.exercise.handed_in is not None:
        return tr("Where the camp stands is yours to find: put its shelters down on the page Exercise.")
    return tr("No site found, so no camp is laid out.")


def _where_text(camp: Camp) -> str:
    text = tr("The camp lies on site {site_rank}, {site_name}.", site_rank=camp.site_rank, site_name=camp.site_name)
    if camp.min_distance_m > 0.0:
        text += tr(" The two nearest shelters stand {min_distance_m:.1f} m apart.", min_distance_m=camp.min_distance_m)
    if camp.missing:
        text += tr(" {shelters} no place.", shelters=counted(len(camp.missing), "shelter finds", "shelters find"))
    return text
