"""One site in the list: its rank, name and score, its measures beside their limits, its reason and cautions."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from itertools import pairwise
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QFocusEvent, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QFrame, QGridLayout, QHBoxLayout, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from sitepick.desk.look import Look
from sitepick.desk.map_signs import sign_font
from sitepick.desk.page import short_label, show_texts, text_label
from sitepick.desk.translation import marked, tr
from sitepick.desk.words import begun, measure_text, score_text, site_line, spoken_site

if TYPE_CHECKING:
    from sitepick.plan.factor import Factor
    from sitepick.sites.model import Measure, Site

DISC_PX = 28
PIN, HIDE, NAME, COMPARE = "pin", "hide", "name", "compare"
WISHES = (
    (COMPARE, marked("Compare"), marked("Show it side by side with other sites, up to six.")),
    (PIN, marked("Keep"), marked("Keep it in the list, whatever its rank.")),
    (NAME, marked("Name …"), marked("Give it a name of your own.")),
    (HIDE, marked("Hide"), marked("Take it out of the list and the ranking.")),
)
BAR_WIDTH_PX, BAR_HEIGHT_PX, TICK_PX = 96, 5, 11


class RankDisc(QWidget):
    """The rank in a disc; the pick's is filled."""

    def __init__(self, rank: int, look: Look) -> None:
        super().__init__()
        self._rank = rank
        self._look = look
        self.setFixedSize(DISC_PX, DISC_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        is_pick = self._rank == 1
        painter.setPen(QPen(self._look.graphite, 1.8))
        painter.setBrush(QBrush(self._look.graphite if is_pick else self._look.page))
        box = QRectF(self.rect()).adjusted(1.5, 1.5, -1.5, -1.5)
        painter.drawEllipse(box)
        painter.setFont(sign_font(painter, 14, is_bold=True))
        painter.setPen(self._look.page if is_pick else self._look.graphite)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, str(self._rank))
        painter.end()


class MeasureBar(QWidget):
    """A measure's score as a thin bar, with a tick at the score where its limit lies."""

    def __init__(self, measure: Measure, factor: Factor | None, look: Look) -> None:
        super().__init__()
        self._measure = measure
        self._look = look
        self._limit_frac = _limit_score(measure, factor)
        self.setFixedHeight(TICK_PX + 2)
        self.setMinimumWidth(BAR_WIDTH_PX)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip(f"{tr(measure.label)}: {measure_text(measure)}. {measure.sentence}")

    def sizeHint(self) -> QSize:
        return QSize(BAR_WIDTH_PX, TICK_PX + 2)

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        look, measure = self._look, self._measure
        top = (self.height() - BAR_HEIGHT_PX) / 2
        whole = QRectF(0, top, self.width(), BAR_HEIGHT_PX)
        painter.fillRect(whole, look.bar_ground)
        painter.fillRect(QRectF(0, top, self.width() * measure.score, BAR_HEIGHT_PX), look.bar)
        if measure.score_high > measure.score:
            # not known: what it may be is hatched
            box = QRectF(
                self.width() * measure.score, top, self.width() * (measure.score_high - measure.score), BAR_HEIGHT_PX
            )
            painter.fillRect(box, QBrush(look.bar, Qt.BrushStyle.BDiagPattern))
        if self._limit_frac is not None:
            x = min(max(self.width() * self._limit_frac, 1.0), self.width() - 1.0)
            painter.setPen(QPen(look.limit, 2.0))
            painter.drawLine(QPointF(x, 1), QPointF(x, self.height() - 1))
        painter.end()


def _limit_score(measure: Measure, factor: Factor | None) -> float | None:
    """Where on the bar the limit lies: the score that a measure at its limit has."""
    limit = measure.limit_max if measure.limit_max is not None else measure.limit_min
    if limit is None or factor is None:
        return None
    points = factor.curve
    if limit <= points[0][0]:
        return points[0][1]
    for (low, low_score), (high, high_score) in pairwise(points):
        if limit <= high:
            return low_score + (high_score - low_score) * (limit - low) / (high - low)
    return points[-1][1]


class SiteEntry(QFrame):
    """One site of the list.

    Signals
    -------
    chosen(int)
        Its rank, by click, Enter or Space.
    step_requested(int, int)
        Its rank, and +1 or -1 for the next and the previous site.
    wished(int, str)
        Its rank, and `PIN`, `HIDE`, `NAME` or `COMPARE`.
    """

    chosen = Signal(int)
    step_requested = Signal(int, int)
    wished = Signal(int, str)

    def __init__(self, site: Site, factors: dict[str, Factor], look: Look) -> None:
        super().__init__()
        self._rank = site.rank
        self.setProperty("role", "entry")
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(spoken_site(site))
        row = QHBoxLayout(self)
        row.setContentsMargins(6, 8, 6, 8)
        row.setSpacing(12)
        row.addWidget(RankDisc(site.rank, look), 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(5)
        row.addLayout(column, 1)
        head = QHBoxLayout()
        head.addWidget(text_label(site.name, "heading"), 1)
        score = short_label(score_text(site), "score")
        is_range = site.score_high > site.score
        score.setToolTip(tr("Score of 100; a range where a measure is not known.") if is_range else tr("Score of 100."))
        head.addWidget(score)
        column.addLayout(head)
        column.addWidget(text_label(site_line(site), "label"))
        column.addLayout(_measure_grid(site.measures, factors, look))
        column.addWidget(text_label(site.reason, "reason"))
        column.addLayout(self._wish_row(site))
        told = QVBoxLayout()
        told.setSpacing(4)
        show_texts(told, [caution.text for caution in site.cautions], "caution")
        column.addLayout(told)

    def _wish_row(self, site: Site) -> QHBoxLayout:
        """What may be done with the site."""
        row = QHBoxLayout()
        row.setSpacing(4)
        self._wishes: dict[str, QToolButton] = {}
        for wish, text, tip in WISHES:
            button = QToolButton()
            button.setText(tr(text))
            button.setToolTip(tr(tip))
            button.setAccessibleName(tr("{wish}: site {rank}", wish=tr(text), rank=site.rank))
            button.setAccessibleDescription(tr(tip))
            button.setProperty("role", "quiet")
            button.setCheckable(wish in (PIN, COMPARE))
            button.setChecked(wish == PIN and site.is_pinned)
            button.clicked.connect(partial(self._on_wished, wish))
            self._wishes[wish] = button
            row.addWidget(button)
        row.addStretch(1)
        return row

    def _on_wished(self, wish: str, is_checked: bool = False) -> None:
        self.wished.emit(self._rank, wish)

    def wish_button(self, wish: str) -> QToolButton:
        """The button of one wish."""
        return self._wishes[wish]

    def show_compared(self, is_compared: bool) -> None:
        """Mark that the site stands in the comparison."""
        self._wishes[COMPARE].setChecked(is_compared)

    @property
    def rank(self) -> int:
        """The site's rank."""
        return self._rank

    def show_chosen(self, is_chosen: bool) -> None:
        """Mark the entry."""
        self.setProperty("chosen", "true" if is_chosen else "false")
        self.style().unpolish(self)
        self.style().polish(self)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        if event.button() == Qt.MouseButton.LeftButton and self.rect().contains(event.position().toPoint()):
            self.chosen.emit(self._rank)

    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter, Qt.Key.Key_Space):
            self.chosen.emit(self._rank)
        elif event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
            self.step_requested.emit(self._rank, 1 if event.key() == Qt.Key.Key_Down else -1)
        else:
            super().keyPressEvent(event)


def _measure_grid(measures: Sequence[Measure], factors: dict[str, Factor], look: Look) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(12)
    grid.setVerticalSpacing(1)
    for row, measure in enumerate(measures):
        label = text_label(begun(tr(measure.label)), "label")
        value = text_label(measure_text(measure), "label")
        grid.addWidget(label, row, 0)
        grid.addWidget(MeasureBar(measure, factors.get(measure.name), look), row, 1)
        grid.addWidget(value, row, 2)
    grid.setColumnStretch(0, 5)
    grid.setColumnStretch(1, 4)
    grid.setColumnStretch(2, 6)
    return grid
