"""An exercise's marks and picks taken down, on the desk's map: numbered diamonds, edges, hatching, squares."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainterPath, QPen, QPolygonF

from sitepick.desk.map_signs import SignPainter, faded, sides_of
from sitepick.desk.translation import tr
from sitepick.grid import Grid
from sitepick.plan.exercise import Exercise
from sitepick.plan.mark import LonLat, Mark
from sitepick.plan.model import Plan

_HALF_PX, _SQUARE_PX = 10.0, 8.0


class ExerciseSigns:
    """Draws what a plan's exercise puts on the ground."""

    def __init__(self) -> None:
        self._exercise: Exercise | None = None

    def show_plan(self, plan: Plan) -> None:
        """Know what there is to draw."""
        self._exercise = plan.exercise

    def paint(self, signs: SignPainter, grid: Grid) -> None:
        """Paint marks, then picks."""
        exercise = self._exercise
        if exercise is None:
            return
        for mark in exercise.marks:
            _paint_ground(signs, mark, _points_px(signs, grid, mark.points))
        for number, mark in enumerate(exercise.marks, start=1):
            points = _points_px(signs, grid, mark.points)
            place = points[0] if mark.shape != "area" or mark.meaning.acts == "encloses" else _middle(points)
            _paint_diamond(signs, place, str(number))
            _paint_name(signs, mark.told, place)
        own = exercise.handed_in
        answers = [*exercise.answers, *([] if own is None else [own])]
        for one in answers:
            for point, is_pick in ((one.pick, True), (one.alternate, False)):
                if point is not None:
                    _paint_square(signs, _points_px(signs, grid, (point,))[0], is_filled=is_pick)
                    name = one.trainee if is_pick else tr("{trainee}, alternate", trainee=one.trainee).strip(", ")
                    _paint_name(signs, name, _points_px(signs, grid, (point,))[0])


def _points_px(signs: SignPainter, grid: Grid, points: tuple[LonLat, ...]) -> list[QPointF]:
    lon, lat = zip(*points, strict=True)
    placed = signs.frame.line_to_px(np.column_stack(grid.from_lonlat(lon, lat)))
    return [QPointF(x, y) for x, y in placed.tolist()]


def _middle(points: list[QPointF]) -> QPointF:
    return QPointF(sum(p.x() for p in points) / len(points), sum(p.y() for p in points) / len(points))


def _paint_ground(signs: SignPainter, mark: Mark, points: list[QPointF]) -> None:
    """The edge of an area or a line; ground that is closed is hatched crosswise."""
    if mark.shape == "point":
        return
    painter = signs.painter
    is_boundary = mark.meaning.acts == "encloses"
    painter.setPen(QPen(signs.look.graphite, 1.8, Qt.PenStyle.DashDotLine if is_boundary else Qt.PenStyle.DashLine))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    if mark.shape == "line":
        painter.drawPolyline(QPolygonF(points))
        return
    if mark.meaning.acts == "closes":
        painter.setBrush(QBrush(faded(signs.look.graphite, 0.45), Qt.BrushStyle.CrossPattern))
    painter.drawPolygon(QPolygonF(points))


def _paint_diamond(signs: SignPainter, place: QPointF, text: str) -> None:
    painter = signs.painter
    half = _HALF_PX + 2.0 * (len(text) - 1)
    shape = QPolygonF([place + QPointF(x * half, y * half) for x, y in ((0, -1), (1, 0), (0, 1), (-1, 0))])
    painter.setPen(QPen(signs.look.graphite, 1.6))
    painter.setBrush(QBrush(signs.look.page))
    painter.drawPolygon(shape)
    box = QRectF(place.x() - half, place.y() - half, 2 * half, 2 * half)
    _centred(signs, box, text)
    signs.taken.append(sides_of(box))


def _paint_name(signs: SignPainter, name: str, place: QPointF) -> None:
    """A name beside its sign, where nothing stands yet."""
    for right, down in ((_HALF_PX + 4, 4), (_HALF_PX - 2, -_HALF_PX - 2), (_HALF_PX - 2, _HALF_PX + 12), (-20, 26)):
        if signs.label(name, place + QPointF(right, down), colour=signs.look.graphite, px=12):
            return


def _centred(signs: SignPainter, box: QRectF, text: str) -> None:
    painter = signs.painter
    font = painter.font()
    font.setPixelSize(11)
    font.setBold(True)
    painter.setFont(font)
    painter.setPen(signs.look.graphite)
    painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)


def _paint_square(signs: SignPainter, place: QPointF, *, is_filled: bool) -> None:
    painter = signs.painter
    box = QRectF(place.x() - _SQUARE_PX, place.y() - _SQUARE_PX, 2 * _SQUARE_PX, 2 * _SQUARE_PX)
    around = QPainterPath()
    around.addRect(box.adjusted(-2, -2, 2, 2))
    painter.fillPath(around, signs.look.page)
    painter.setPen(QPen(signs.look.graphite, 1.6))
    painter.setBrush(QBrush(signs.look.graphite if is_filled else signs.look.page))
    painter.drawRect(box)
    signs.taken.append(sides_of(box))
