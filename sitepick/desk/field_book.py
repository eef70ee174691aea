"""The notebook at the right: one page a stage, chosen from a row of plain words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer, Signal, Slot
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QButtonGroup, QHBoxLayout, QSizePolicy, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.look import REASON_PX, Look
from sitepick.desk.page import rule
from sitepick.desk.page_camp import CampPage
from sitepick.desk.page_exercise import ExercisePage
from sitepick.desk.page_ground import GroundPage
from sitepick.desk.page_journey import JourneyPage
from sitepick.desk.page_march import MarchPage
from sitepick.desk.page_sites import SitesPage
from sitepick.desk.page_unit import UnitPage
from sitepick.desk.translation import marked, tr
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

PAGE_NAMES = (
    marked("Ground"),
    marked("Unit"),
    marked("March"),
    marked("Sites"),
    marked("Camp"),
    marked("Journey"),
    marked("Exercise"),
)
LEAST_PX, USUAL_PX = 410, 440
WORD_MARGIN_PX = 3


Page = GroundPage | UnitPage | MarchPage | SitesPage | CampPage | JourneyPage | ExercisePage


class FieldBook(QWidget):
    """The field book.

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
        self.setMinimumWidth(LEAST_PX)
        self.setProperty("role", "page")
        self.setAttribute(Qt.WidgetAttribute.WA_StyledBackground)
        self.sites = SitesPage(look)
        self.camp = CampPage()
        self.exercise = ExercisePage()
        self.march = MarchPage()
        self.journey = JourneyPage(look)
        self._pages: tuple[Page, ...] = (
            GroundPage(),
            UnitPage(),
            self.march,
            self.sites,
            self.camp,
            self.journey,
            self.exercise,
        )
        self._answer: Tonight | None = None
        self._due: list[Page] = []  # pages that haven't shown the answer yet
        self._turn = QTimer(self)
        self._turn.setSingleShot(True)
        self._turn.timeout.connect(self._show_next)
        self._stack = QStackedWidget(self)
        words = QHBoxLayout()
        words.setContentsMargins(10, 4, 10, 0)
        words.setSpacing(0)
        self._group = QButtonGroup(self)
        chosen_word = QFont(self.font())
        chosen_word.setPixelSize(REASON_PX)
        chosen_word.setWeight(QFont.Weight.DemiBold)
        word_metrics = QFontMetrics(chosen_word)  # the style's own hint leaves room that seven words don't have
        for index, word in enumerate(tr(name) for name in PAGE_NAMES):
            button = QToolButton(self)
            button.setText(word)
            button.setCheckable(True)
            button.setProperty("role", "page_word")
            button.setAccessibleName(tr("{name} page", name=word))
            button.setToolTip(tr("{name} (Ctrl+{index})", name=word, index=index + 1))
            button.setMinimumWidth(word_metrics.horizontalAdvance(word) + 2 * WORD_MARGIN_PX)
            button.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Fixed)
            self._group.addButton(button, index)
            words.addWidget(button, len(word))
            self._stack.addWidget(self._pages[index])
        for page in self._pages:
            page.edit_requested.connect(self.edit_requested)
        self._group.idClicked.connect(self.choose_page)
        self.sites.site_chosen.connect(self.site_chosen)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addLayout(words)
        column.addWidget(rule())
        column.addWidget(self._stack, 1)
        self.choose_page(PAGE_NAMES.index("Sites"))

    def show_plan(self, plan: Plan) -> None:
        """Show a plan on every page."""
        for page in self._pages:
            page.show_plan(plan)

    def show_answer(self, answer: Tonight) -> None:
        """Show an answer on the open page at once, on the others one a turn: all together would hold the window up."""
        self._answer = answer
        self._due = list(self._pages)
        self._show_on(self._pages[self._stack.currentIndex()])
        self._turn.start(0)

    def show_site(self, rank: int) -> None:
        """Mark the chosen site."""
        self.sites.show_site(rank)

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self.sites.show_look(look)
        self.journey.show_look(look)

    @Slot(int)
    def choose_page(self, index: int) -> None:
        """Open a page, by its place in `PAGE_NAMES`."""
        self._group.button(index).setChecked(True)
        self._show_on(self._pages[index])
        self._stack.setCurrentIndex(index)

    @property
    def page_name(self) -> str:
        """The page that is open."""
        return PAGE_NAMES[self._stack.currentIndex()]

    @Slot()
    def _show_next(self) -> None:
        if self._due:
            self._show_on(self._due[0])
            self._turn.start(0)

    def _show_on(self, page: Page) -> None:
        """Show the answer on a page that is still due."""
        if page in self._due and self._answer is not None:
            self._due.remove(page)
            page.show_answer(self._answer)
