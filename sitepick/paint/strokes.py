"""Draws a page's strokes with Qt, on paper and on pictures alike.

The painter's unit is a hundredth of a millimetre: type is set in whole units, and none is too coarse to see.
"""

from __future__ import annotations

from functools import singledispatch

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFontMetricsF, QImage, QPainter, QPainterPath, QPen, QPolygonF

from sitepick.paint.fonts import drawable, register_fonts, sheet_font
from sitepick.sheet.model import Area, Disc, Line, Page, Picture, Point, Text

UNITS_PER_MM = 100.0
_HALO_OF_SIZE = 0.22


def paint_page(painter: QPainter, page: Page) -> None:
    """Draw a page.

    Parameters
    ----------
    painter : QPainter
        Active, its unit a hundredth of a millimetre, its origin the page's top left corner.
    page : Page
    """
    register_fonts()
    painter.setRenderHints(
        QPainter.RenderHint.Antialiasing
        | QPainter.RenderHint.TextAntialiasing
        | QPainter.RenderHint.SmoothPixmapTransform
        | QPainter.RenderHint.LosslessImageRendering
    )
    painter.setLayoutDirection(Qt.LayoutDirection.LeftToRight)
    for stroke in page.strokes:
        _paint(stroke, painter)


@singledispatch
def _paint(stroke: object, painter: QPainter) -> None:
    raise TypeError(f"no way to paint {type(stroke).__name__}")


@_paint.register
def _(stroke: Line, painter: QPainter) -> None:
    painter.setPen(_pen(stroke.colour, stroke.width_mm, stroke.dash_mm))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline(_polygon(stroke.points_mm))


@_paint.register
def _(stroke: Area, painter: QPainter) -> None:
    path = QPainterPath()
    for ring in stroke.rings_mm:
        path.addPolygon(_polygon(ring))
        path.closeSubpath()
    painter.fillPath(path, QBrush(QColor(stroke.fill)))


@_paint.register
def _(stroke: Disc, painter: QPainter) -> None:
    painter.setPen(_pen(stroke.edge, stroke.edge_mm, ()))
    painter.setBrush(QBrush(QColor(stroke.fill)))
    radius = stroke.radius_mm * UNITS_PER_MM
    painter.drawEllipse(_point((stroke.x_mm, stroke.y_mm)), radius, radius)


@_paint.register
def _(stroke: Picture, painter: QPainter) -> None:
    rows, cols, _ = stroke.pixels.shape
    # The image shares the array's memory, which the stroke keeps alive and still.
    image = QImage(stroke.pixels.data, cols, rows, 3 * cols, QImage.Format.Format_RGB888)
    frame = (stroke.x_mm, stroke.y_mm, stroke.width_mm, stroke.height_mm)
    painter.drawImage(QRectF(*(value * UNITS_PER_MM for value in frame)), image)


@_paint.register
def _(stroke: Text, painter: QPainter) -> None:
    text = drawable(stroke.text)
    font = sheet_font(round(stroke.size_mm * UNITS_PER_MM), is_bold=stroke.is_bold)
    room = stroke.width_mm * UNITS_PER_MM
    drawn = QFontMetricsF(font).horizontalAdvance(text)
    narrowing = min(1.0, room / drawn) if drawn > 0 else 1.0
    left, _, _, _ = stroke.box_mm
    # What turns out narrower than its room keeps its anchor.
    slack = room - drawn * narrowing
    left_units = left * UNITS_PER_MM + {"start": 0.0, "middle": 0.5, "end": 1.0}[stroke.anchor] * slack

    painter.save()
    painter.translate(left_units, stroke.y_mm * UNITS_PER_MM)
    painter.scale(narrowing, 1.0)
    painter.setFont(font)
    if stroke.halo is not None:
        path = QPainterPath()
        path.addText(QPointF(0.0, 0.0), font, text)
        painter.strokePath(path, _pen(stroke.halo, stroke.size_mm * _HALO_OF_SIZE * 2, ()))
    painter.setPen(QColor(stroke.colour))
    painter.drawText(QPointF(0.0, 0.0), text)
    painter.restore()


def _pen(colour: str, width_mm: float, dash_mm: tuple[float, ...]) -> QPen:
    pen = QPen(QColor(colour), width_mm * UNITS_PER_MM)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    if dash_mm:
        pen.setDashPattern([length / width_mm for length in dash_mm])  # Qt counts in pen widths
    return pen


def _point(point: Point) -> QPointF:
    return QPointF(point[0] * UNITS_PER_MM, point[1] * UNITS_PER_MM)


def _polygon(points: tuple[Point, ...]) -> QPolygonF:
    return QPolygonF([_point(point) for point in points])
