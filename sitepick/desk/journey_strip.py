"""The strip of days above the day line: one cell a day, its way and its night."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFontMetricsF, QKeyEvent, QMouseEvent, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from sitepick.desk.look import Look
from sitepick.desk.map_signs import sign_font
from sitepick.desk.translation import counted, tr

if TYPE_CHECKING:
    from sitepick.journey.model import Day, Journey

HEIGHT_PX, SIDE_PX, PAD_PX = 46, 20.0, 8.0


class JourneyStrip(QWidget):
    """The days of one route.

    Signals
    -------
    day_chosen(int)
        Its number.
    """

    day_chosen = Signal(int)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._days: tuple[Day, ...] = ()
        self._name = ""
        self._chosen = 0
        self.setAccessibleName(tr("Days of the journey"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_route(self, journey: Journey, index: int) -> None:
        """Show the days of one of a journey's routes."""
        one = journey.routes[index]
        self._days, self._name = one.days, one.name
        self._chosen = min(self._chosen, len(one.days))
        self.setVisible(bool(one.days))
        self._tell()
        self.update()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        self.update()

    def choose(self, number: int) -> None:
        """Choose a day by its number; 0: none."""
        self._chosen = number
        self._tell()
        self.update()
        if number:
            self.day_chosen.emit(number)

    def sizeHint(self) -> QSize:
        return QSize(400, HEIGHT_PX)

    def day_at(self, x: float) -> int:
        """The number of the day at a place across; 0 where there is none."""
        return next((day.number for day, box in self._cells() if box.left() <= x <= box.right()), 0)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        number = self.day_at(event.position().x())
        if number:
            self.choose(number)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is None or not self._days:
            super().keyPressEvent(event)
            return
        self.choose(min(max(self._chosen + step, 1), len(self._days)))

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), self._look.paper)
        for day, box in self._cells():
            self._draw_cell(painter, day, box)
        if self.hasFocus():
            painter.setPen(QPen(self._look.focus, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(self.rect()).adjusted(1, 1, -1, -1))

    def _cells(self) -> list[tuple[Day, QRectF]]:
        if not self._days:
            return []
        width = (self.width() - 2 * SIDE_PX) / len(self._days)
        return [
            (day, QRectF(SIDE_PX + index * width, 3.0, width, HEIGHT_PX - 6.0)) for index, day in enumerate(self._days)
        ]

    def _draw_cell(self, painter: QPainter, day: Day, box: QRectF) -> None:
        look = self._look
        inner = box.adjusted(1.5, 0.0, -1.5, 0.0)
        painter.setPen(QPen(look.graphite if day.number == self._chosen else look.edge, 1.4))
        painter.setBrush(look.page)
        painter.drawRoundedRect(inner, 3.0, 3.0)
        is_bare = day.night is not None and day.night.is_bare
        if day.night is not None:
            bar = QRectF(inner.left() + 1.0, inner.bottom() - 4.0, (inner.width() - 2.0) * day.score / 100.0, 3.0)
            painter.fillRect(bar, look.bar)
        if is_bare:
            painter.fillRect(
                QRectF(inner.left() + 1.0, inner.bottom() - 4.0, inner.width() - 2.0, 3.0), look.caution_bar
            )
        room = inner.width() - 2 * PAD_PX
        self._write(painter, _head_words(day), inner, 4.0, room, look.graphite, is_bold=True)
        self._write(painter, _night_words(day), inner, 20.0, room, look.soft, is_bold=False)

    def _write(
        self, painter: QPainter, text: str, box: QRectF, top: float, room: float, colour: QColor, *, is_bold: bool
    ) -> None:
        font = sign_font(painter, 12, is_bold=is_bold)
        painter.setFont(font)
        painter.setPen(colour)
        told = QFontMetricsF(font).elidedText(text, Qt.TextElideMode.ElideRight, max(room, 8.0))
        painter.drawText(
            QRectF(box.left() + PAD_PX, box.top() + top, max(room, 8.0), 15.0),
            Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, told,
        )  # fmt: skip

    def _tell(self) -> None:
        """What a person who can't see it is told."""
        told = [f"{_head_words(day)}, {_night_words(day)}" for day in self._days if day.number == self._chosen]
        self.setAccessibleDescription(
            tr(
                "{name}, {days}. {told}", name=self._name, days=counted(len(self._days), "day"), told=" ".join(told)
            ).strip()
        )
        self.setToolTip(tr("Choose a day for the day line; the left and right keys go from day to day."))


def _head_words(day: Day) -> str:
    pinned = tr(" (pinned)") if day.is_pinned else ""
    if day.is_rest:
        return tr("{number}  rest{pinned}", number=day.number, pinned=pinned)
    return tr(
        "{number}  {distance_km:.1f} km, {hours:.1f} h{pinned}",
        number=day.number,
        distance_km=day.distance_m / 1000.0,
        hours=day.hours,
        pinned=pinned,
    )


def _night_words(day: Day) -> str:
    if day.night is None:
        return tr("the end of the route")
    return tr("no site") if day.night.is_bare else f"{day.score:.0f}  {day.night.name}"
