"""A painted layer kept a little larger than the view: while the map is moved, the picture of it is moved."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QPainter, QPixmap

from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_signs import SignPainter

MARGIN_PX = 192  # so far the map may be moved before the layer is painted anew


class KeptLayer:
    """What is painted once a scale; handed on from frame to frame."""

    def __init__(self) -> None:
        self._key: object = None
        self._frame: MapFrame | None = None
        self._picture = QPixmap()

    def paint(self, signs: SignPainter, key: object, paint: Callable[[SignPainter], None]) -> None:
        """Paint the layer, anew where it shows something else, at another scale or too far away.

        Parameters
        ----------
        signs : SignPainter
            Where to.
        key : object
            Equal as long as the layer would look the same.
        paint : callable
            Paints it with the painter of signs that it is given.
        """
        frame, ratio = signs.frame, signs.painter.device().devicePixelRatioF()
        key = (key, frame.m_per_px, frame.width_px, frame.height_px, ratio, signs.look.palette.name)
        kept = self._frame
        if kept is None or key != self._key or not _covers(kept, frame):
            self._key = key
            kept = self._frame = replace(
                frame, width_px=frame.width_px + 2 * MARGIN_PX, height_px=frame.height_px + 2 * MARGIN_PX
            )
            self._draw(replace(signs, frame=kept), ratio, paint)
        x_px, y_px = frame.to_px(kept.west_m, kept.top_m)
        signs.painter.drawPixmap(QPointF(round(x_px * ratio) / ratio, round(y_px * ratio) / ratio), self._picture)

    def _draw(self, signs: SignPainter, ratio: float, paint: Callable[[SignPainter], None]) -> None:
        width_px, height_px = round(signs.frame.width_px * ratio), round(signs.frame.height_px * ratio)
        if (self._picture.width(), self._picture.height()) != (width_px, height_px):
            self._picture = QPixmap(width_px, height_px)
        self._picture.setDevicePixelRatio(ratio)
        self._picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(self._picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        paint(replace(signs, painter=painter))
        painter.end()


def _covers(kept: MapFrame, frame: MapFrame) -> bool:
    right_px, down_px = (frame.east_m - kept.east_m) / frame.m_per_px, (kept.north_m - frame.north_m) / frame.m_per_px
    return abs(right_px) <= MARGIN_PX and abs(down_px) <= MARGIN_PX
