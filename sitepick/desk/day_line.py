"""The strip under the map: time of day, what the sky does and what the unit does in it."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFontMetricsF,
    QKeyEvent,
    QLinearGradient,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QWidget

from sitepick.desk.day_grip import CAMP_BY, DEPART, DayGrip, grip_at, nudged
from sitepick.desk.day_strip import DARK, LIGHT, DayStrip, Moment, Span, bare_strip, day_strip
from sitepick.desk.look import Look
from sitepick.desk.map_signs import sign_font
from sitepick.desk.translation import counted, tr
from sitepick.desk.words import clock, sun_sentence
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

SIDE_PX, HOURS_PX, STRIP_PX, BAR_PX, NAMES_PX = 20.0, 24.0, 44.0, 14.0, 40.0
FADED = 0.45


class DayLine(QWidget):
    """The day line.

    Signals
    -------
    moment_pointed(datetime or None)
        The time under the pointer.
    edit_requested(PlanEdit)
        Departure or camp-by was moved.
    """

    moment_pointed = Signal(object)
    edit_requested = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._strip: DayStrip | None = None
        self._is_stale = False
        self._pointed: datetime | None = None
        self._plan: Plan | None = None
        self._grip: DayGrip | None = None
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Day line"))
        self.setToolTip(tr("Drag the departure or camp-by; by keyboard Left and Right, with Shift for camp-by."))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def show_plan(self, plan: Plan) -> None:
        """Show the departure until there is an answer for it."""
        self._plan = plan
        if self._strip is None or not self._strip.sky:
            self._strip = bare_strip(plan)
            self.setAccessibleDescription(f"{self._strip.moments[0].text}.")
            self.update()

    def show_answer(self, answer: Tonight) -> None:
        """Show the day of an answer."""
        self._strip = day_strip(answer)
        self._is_stale = False
        halt_count = sum(span.kind == "halt" for span in self._strip.acts)
        told = ", ".join(moment.text for moment in self._strip.moments)
        self.setAccessibleDescription(f"{told}; {counted(halt_count, 'halt')}. {sun_sentence(answer.march)}")
        self.update()

    def show_strip(self, strip: DayStrip, description: str) -> None:
        """Show another day, such as one of a journey; the next answer takes its place."""
        self._strip = strip
        self._is_stale = False
        self.setAccessibleDescription(description)
        self.update()

    def show_stale(self, is_stale: bool) -> None:
        """Fade the day while a newer one is being worked out."""
        self._is_stale = is_stale
        self.update()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        self.update()

    def show_moment(self, moment: datetime | None) -> None:
        """Mark a time that is pointed at elsewhere."""
        self._pointed = moment
        self.update()

    def sizeHint(self) -> QSize:
        return QSize(640, int(HOURS_PX + STRIP_PX + NAMES_PX + 6))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        if self._strip is not None and self._plan is not None and event.button() == Qt.MouseButton.LeftButton:
            x = event.position().x()
            self._grip = grip_at(self._strip, self._plan, partial(self._x_of, self._strip), x)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        self._grip = None

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_Left: -1, Qt.Key.Key_Right: 1}.get(Qt.Key(event.key()))
        if step is None or self._strip is None or self._plan is None:
            super().keyPressEvent(event)
            return
        what = CAMP_BY if event.modifiers() & Qt.KeyboardModifier.ShiftModifier else DEPART
        self.edit_requested.emit(nudged(self._strip, self._plan, what, step))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        strip = self._strip
        if strip is None:
            return
        x = event.position().x()
        share = (x - SIDE_PX) / max(self.width() - 2 * SIDE_PX, 1.0)
        inside = 0.0 <= share <= 1.0
        self._pointed = strip.begin + share * (strip.end - strip.begin) if inside else None
        if self._grip is not None and self._pointed is not None:
            self.edit_requested.emit(self._grip.moved(self._pointed))
        elif self._plan is not None:
            is_grip = grip_at(strip, self._plan, partial(self._x_of, strip), x) is not None
            self.setCursor(Qt.CursorShape.SizeHorCursor if is_grip else Qt.CursorShape.ArrowCursor)
        self.moment_pointed.emit(self._pointed)
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._pointed = None
        self.moment_pointed.emit(None)
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.paper)
        if self._strip is None:
            painter.end()
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(FADED if self._is_stale else 1.0)
        self._paint_sky(painter, self._strip)
        self._paint_moon(painter, self._strip)
        self._paint_acts(painter, self._strip)
        self._paint_moments(painter, self._strip)
        self._paint_pointed(painter, self._strip)
        if self.hasFocus():
            painter.setPen(QPen(self._look.focus, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))
        painter.end()

    def _x_of(self, strip: DayStrip, moment: datetime) -> float:
        share = (moment - strip.begin) / (strip.end - strip.begin)
        return SIDE_PX + share * (self.width() - 2 * SIDE_PX)

    def _paint_sky(self, painter: QPainter, strip: DayStrip) -> None:
        left, right = self._x_of(strip, strip.begin), self._x_of(strip, strip.end)
        box = QRectF(left, HOURS_PX, right - left, STRIP_PX)
        painter.fillRect(box, self._sky_brush(strip, left, right) if strip.sky else QBrush(self._look.tab))
        painter.setFont(sign_font(painter, 12))
        hour_px = (right - left) / max((strip.end - strip.begin) / timedelta(hours=1), 1.0)
        every = 1 if hour_px >= 36 else 2 if hour_px >= 18 else 6
        hour = strip.begin
        while hour <= strip.end:
            x = self._x_of(strip, hour)
            faint = QColor(self._look.graphite)
            faint.setAlphaF(0.16)
            painter.setPen(QPen(faint, 1.0))
            painter.drawLine(QPointF(x, HOURS_PX), QPointF(x, HOURS_PX + STRIP_PX))
            if hour.hour % every == 0:
                painter.setPen(self._look.soft)
                painter.drawText(QRectF(x - 24, 4, 48, 18), Qt.AlignmentFlag.AlignCenter, f"{hour:%H}")
            hour += timedelta(hours=1)

    def _paint_moon(self, painter: QPainter, strip: DayStrip) -> None:
        """A pale line along the top while the moon is up, as thick as its lit share; the word in the first stretch."""
        for number, span in enumerate(strip.moon):
            left, right = self._x_of(strip, span.begin), self._x_of(strip, span.end)
            painter.setPen(QPen(self._look.moon, 1.0 + 3.0 * strip.moon_lit_frac, Qt.PenStyle.SolidLine,
                                Qt.PenCapStyle.FlatCap))  # fmt: skip
            painter.drawLine(QPointF(left, HOURS_PX + 5), QPointF(right, HOURS_PX + 5))
            text = tr("moon, {moon_lit_frac:.0f} % lit", moon_lit_frac=100 * strip.moon_lit_frac)
            painter.setFont(sign_font(painter, 11))
            width = QFontMetricsF(painter.font()).horizontalAdvance(text)
            left += 3.0
            for tick in sorted(self._x_of(strip, moment.at) for moment in strip.moments):
                if left - 3.0 <= tick <= left + width:  # no tick goes through the word
                    left = tick + 4.0
            if number == 0 and width < right - left:
                box = QRectF(left, HOURS_PX + STRIP_PX - 14, right - left, 14)
                painter.drawText(box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)

    def _sky_brush(self, strip: DayStrip, left: float, right: float) -> QBrush:
        """Twilight runs from dark to light; the rest is even."""
        look = self._look
        colour = {DARK: look.dark_sky, LIGHT: look.light_sky}
        brush = QLinearGradient(left, 0, right, 0)
        whole = strip.end - strip.begin
        for index, span in enumerate(strip.sky):
            begin, end = (span.begin - strip.begin) / whole, (span.end - strip.begin) / whole
            if span.kind in colour:
                first = last = colour[span.kind]
            else:
                before = strip.sky[index - 1].kind if index > 0 else span.kind
                after = strip.sky[index + 1].kind if index + 1 < len(strip.sky) else span.kind
                first, last = colour.get(before, look.twilight_sky), colour.get(after, look.twilight_sky)
            brush.setColorAt(min(begin + 1e-6, 1.0), first)
            brush.setColorAt(max(end - 1e-6, 0.0), last)
        return QBrush(brush)

    def _paint_acts(self, painter: QPainter, strip: DayStrip) -> None:
        top = HOURS_PX + (STRIP_PX - BAR_PX) / 2
        for span in strip.acts:
            self._paint_act(painter, span, QRectF(
                self._x_of(strip, span.begin), top, self._x_of(strip, span.end) - self._x_of(strip, span.begin), BAR_PX
            ))  # fmt: skip

    def _paint_act(self, painter: QPainter, span: Span, box: QRectF) -> None:
        intent = self._look.intent
        if span.kind == "march":
            painter.fillRect(box, intent)
        elif span.kind == "halt":
            painter.fillRect(QRectF(box.left(), box.center().y() - 1, box.width(), 2), intent)
        else:
            painter.setPen(QPen(intent, 1.6, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(box.adjusted(0.5, 0.5, -0.5, -0.5))

    def _paint_moments(self, painter: QPainter, strip: DayStrip) -> None:
        """Names under the strip, on a second line where the first is taken."""
        taken: list[QRectF] = []
        for moment in sorted(strip.moments, key=lambda one: not one.is_intent):
            if strip.begin <= moment.at <= strip.end:
                self._paint_moment(painter, moment, self._x_of(strip, moment.at), taken)

    def _paint_moment(self, painter: QPainter, moment: Moment, x: float, taken: list[QRectF]) -> None:
        is_heavy = moment.is_intent or moment.kind == "camp-by"
        font = sign_font(painter, 12, is_bold=is_heavy)
        width = QFontMetricsF(font).horizontalAdvance(moment.text) + 8
        left = min(max(x - width / 2, 4.0), self.width() - width - 4)
        for line in range(2):
            box = QRectF(left, HOURS_PX + STRIP_PX + 4 + 18 * line, width, 17)
            if not any(box.intersects(other) for other in taken):
                break
        else:
            return
        taken.append(box)
        colour = self._look.intent if moment.is_intent else self._look.graphite
        painter.setPen(QPen(colour, 2.0 if moment.kind == "camp-by" else 1.0))
        top = HOURS_PX - 2 if moment.kind == "camp-by" else HOURS_PX + STRIP_PX - 8
        # Down to the first line of names only: a tick through a neighbour's name makes both hard to read.
        painter.drawLine(QPointF(x, top), QPointF(x, HOURS_PX + STRIP_PX + 4))
        painter.setFont(font)
        painter.setPen(colour if is_heavy else self._look.soft)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, moment.text)

    def _paint_pointed(self, painter: QPainter, strip: DayStrip) -> None:
        if self._pointed is None or not strip.begin <= self._pointed <= strip.end:
            return
        x = self._x_of(strip, self._pointed)
        painter.setPen(QPen(self._look.focus, 1.5))
        painter.drawLine(QPointF(x, 2), QPointF(x, HOURS_PX + STRIP_PX))
        painter.setFont(sign_font(painter, 12, is_bold=True))
        text_box = QRectF(x + 4, 3, 44, 18)
        painter.fillRect(text_box, self._look.paper)
        painter.drawText(text_box, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, clock(self._pointed))
