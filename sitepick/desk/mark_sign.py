"""Marks as the map draws them: no-go areas hatched, sites of one's own dashed, observers as rings with a stem."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPen, QPolygonF

from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_signs import SignPainter
from sitepick.desk.mark_tool import NO_GO, OBSERVER, MarkInHand, MarksPx, MarkTool, movable_marks
from sitepick.grid import DoubleArray, Grid
from sitepick.plan.mark_edits import open_ring
from sitepick.plan.model import LonLat, Plan

CORNER_PX, OBSERVER_PX = 3.5, 6.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarkSign:
    """A plan's marks, ready to be drawn; grid coordinates.

    Attributes
    ----------
    areas : tuple of (role, name, float64 array of shape (n, 2))
    observers : tuple of (name, east_m, north_m)
    marks : tuple of (float64 array of shape (n, 2), bool)
        Of the exercise, as far as a hand may move them: points, and whether they go round an area. Their signs are
        drawn elsewhere.
    drawn_m : float64 array of shape (n, 2)
        Corners of the area that is being drawn.
    selected : MarkInHand or None
    is_edited : bool
        Whether corners show, to be taken in hand.
    """

    areas: tuple[tuple[str, str, DoubleArray], ...]
    observers: tuple[tuple[str, float, float], ...]
    marks: tuple[tuple[DoubleArray, bool], ...]
    drawn_m: DoubleArray
    selected: MarkInHand | None
    is_edited: bool

    def seen(self, frame: MapFrame) -> MarksPx:
        """The same in pixels."""
        places = np.array([(east_m, north_m) for _, east_m, north_m in self.observers]).reshape(-1, 2)
        return MarksPx(
            areas=tuple(frame.line_to_px(ring) for _, _, ring in self.areas),
            observers=frame.line_to_px(places),
            marks=tuple((frame.line_to_px(points), is_ring) for points, is_ring in self.marks),
        )


def mark_sign(plan: Plan, grid: Grid, tool: MarkTool, *, is_edited: bool) -> MarkSign:
    """The plan's marks in a projection."""
    return MarkSign(
        areas=tuple((area.role, area.name, _line_m(grid, open_ring(area.ring))) for area in plan.areas),
        observers=tuple((one.name, *_line_m(grid, (one.place,))[0].tolist()) for one in plan.observers),
        marks=tuple((_line_m(grid, open_ring(one.points)), one.shape == "area") for one in movable_marks(plan)),
        drawn_m=_line_m(grid, tuple(tool.corners)),
        selected=tool.selected,
        is_edited=is_edited,
    )


def paint_marks(signs: SignPainter, marks: MarkSign) -> None:
    """Paint areas, observers and the area being drawn."""
    painter, look, frame = signs.painter, signs.look, signs.frame
    for role, _, ring_m in marks.areas:
        points = _polygon(frame.line_to_px(ring_m))
        if role == NO_GO:
            painter.setPen(QPen(look.graphite, 1.6))
            hatch = QColor(look.graphite)
            hatch.setAlphaF(0.55)
            painter.setBrush(QBrush(hatch, Qt.BrushStyle.BDiagPattern))
        else:
            painter.setPen(QPen(look.reach_deep, 1.8, Qt.PenStyle.DashLine))
            painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolygon(points)
    painter.setBrush(QBrush(look.page))
    for _, east_m, north_m in marks.observers:
        x, y = frame.to_px(east_m, north_m)
        painter.setPen(QPen(look.graphite, 2.0))
        painter.drawLine(QPointF(x, y), QPointF(x, y - 2.6 * OBSERVER_PX))
        painter.drawEllipse(QPointF(x, y - 2.6 * OBSERVER_PX), OBSERVER_PX, OBSERVER_PX)
        painter.drawEllipse(QPointF(x, y), 2.0, 2.0)
    _paint_handles(signs, marks)


def paint_mark_names(signs: SignPainter, marks: MarkSign) -> None:
    """Name no-go areas and observers, where nothing else is written; own sites are named with their rank."""
    frame, colour = signs.frame, signs.look.graphite
    for role, name, ring_m in marks.areas:
        if role == NO_GO:
            box = _polygon(frame.line_to_px(ring_m)).boundingRect()
            width_px = 7.0 * len(name)
            inside = QPointF(box.center().x() - width_px / 2, box.center().y() + 4)
            beside = QPointF(box.right() + 5, box.center().y() + 4)
            for place in (inside, beside) if width_px < box.width() else (beside, inside):
                if signs.label(name, place, colour=colour, px=12):
                    break
    for name, east_m, north_m in marks.observers:
        x, y = frame.to_px(east_m, north_m)
        signs.label(name, QPointF(x + 10, y - 10), colour=colour, px=12, is_bold=True)


def _paint_handles(signs: SignPainter, marks: MarkSign) -> None:
    painter, look, frame = signs.painter, signs.look, signs.frame
    painter.setPen(QPen(look.graphite, 1.4))
    painter.setBrush(QBrush(look.page))
    if marks.is_edited:
        for points_m in (*(ring_m for _, _, ring_m in marks.areas), *(points_m for points_m, _ in marks.marks)):
            for x, y in frame.line_to_px(points_m).tolist():
                painter.drawRect(QRectF(x - CORNER_PX, y - CORNER_PX, 2 * CORNER_PX, 2 * CORNER_PX))
    if len(marks.drawn_m):
        drawn = frame.line_to_px(marks.drawn_m)
        painter.setPen(QPen(look.graphite, 1.8, Qt.PenStyle.DashLine))
        painter.drawPolyline(_polygon(drawn))
        for x, y in drawn.tolist():
            painter.drawEllipse(QPointF(x, y), CORNER_PX + 1, CORNER_PX + 1)
    if marks.selected is not None and marks.is_edited:
        x, y = marks.seen(frame).place(marks.selected)
        painter.setPen(QPen(look.reach_deep, 2.0))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        lift = 1.3 * OBSERVER_PX if marks.selected.kind == OBSERVER else 0.0
        painter.drawEllipse(QPointF(x, y - lift), 15, 15)


def _line_m(grid: Grid, points: tuple[LonLat, ...]) -> DoubleArray:
    if not points:
        return np.zeros((0, 2))
    return np.column_stack(grid.from_lonlat(*zip(*points, strict=True)))


def _polygon(points_px: DoubleArray) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points_px.tolist()])
