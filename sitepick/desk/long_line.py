"""Long lines of the map, made ready once a scale: while the map is moved only the pieces in view are drawn."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPolygonF

from sitepick.desk.map_frame import MapFrame
from sitepick.grid import DoubleArray

PIECE_POINTS = 48
EDGE_PX = 8.0  # half a pen and its joins
LINES_KEPT = 96


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Scaled:
    """A line at one scale, cut up; pixels from its first point."""

    line_m: DoubleArray  # held, so that no other line can get its identity
    points: DoubleArray
    boxes: DoubleArray
    begin_px: DoubleArray
    _pieces: dict[int, QPolygonF] = field(default_factory=dict)

    def piece(self, index: int) -> QPolygonF:
        """A piece ready to be drawn; made when it is first in view."""
        if index not in self._pieces:
            start = index * PIECE_POINTS
            piece = self.points[start : start + PIECE_POINTS + 1].tolist()
            self._pieces[index] = QPolygonF([QPointF(x, y) for x, y in piece])
        return self._pieces[index]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LongLines:
    """Keeps lines ready; handed on from frame to frame."""

    _kept: dict[tuple[int, float], _Scaled] = field(default_factory=dict)

    def paint(self, painter: QPainter, frame: MapFrame, line_m: DoubleArray) -> None:
        """Draw a line in the painter's pen; dashes stay where they are as the map is moved."""
        key = (id(line_m), frame.m_per_px)
        scaled = self._kept.get(key)
        if scaled is None:
            if len(self._kept) >= LINES_KEPT:
                self._kept.clear()
            scaled = self._kept[key] = _scaled(line_m, frame.m_per_px)
        x, y = frame.to_px(*line_m[0].tolist())
        boxes = scaled.boxes + np.array((x, y, x, y))
        in_view = (
            (boxes[:, 0] <= frame.width_px + EDGE_PX)
            & (boxes[:, 2] >= -EDGE_PX)
            & (boxes[:, 1] <= frame.height_px + EDGE_PX)
            & (boxes[:, 3] >= -EDGE_PX)
        )
        pen = painter.pen()
        is_dashed = pen.style() != Qt.PenStyle.SolidLine
        painter.translate(x, y)
        for index in np.flatnonzero(in_view).tolist():
            if is_dashed:
                pen.setDashOffset(float(scaled.begin_px[index]) / pen.widthF())
                painter.setPen(pen)
            painter.drawPolyline(scaled.piece(index))
        painter.translate(-x, -y)


def _scaled(line_m: DoubleArray, m_per_px: float) -> _Scaled:
    """The line in pixels, no two points within one."""
    points = (line_m - line_m[0]) * (1.0, -1.0) / m_per_px
    cells = np.floor(points)
    is_new = np.any(np.diff(cells, axis=0) != 0.0, axis=1)
    is_new[-1] = True  # the end stays the end
    points = points[np.concatenate(([True], is_new))]
    along_px = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(points, axis=0).T))))
    starts = np.arange(0, max(len(points) - 1, 1), PIECE_POINTS)
    # a piece ends where the next one starts
    ends = points[np.minimum(starts + PIECE_POINTS, len(points) - 1)]
    return _Scaled(
        line_m=line_m,
        points=points,
        boxes=np.hstack(
            (
                np.minimum(np.minimum.reduceat(points, starts), ends),
                np.maximum(np.maximum.reduceat(points, starts), ends),
            )
        ),
        begin_px=along_px[starts],
    )
