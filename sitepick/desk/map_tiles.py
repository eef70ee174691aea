"""The map's ground layer in square tiles: drawn once a scale, kept while there is room."""

from __future__ import annotations

import time
from collections import OrderedDict
from collections.abc import Sequence

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen, QPixmap

from sitepick.desk.look import Look
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_picture import LineSet, MapPicture
from sitepick.grid import Grid

TILE_PX = 256
ROOM_BYTES = 96_000_000
PAINT_BUDGET_S = 0.012  # of tiles drawn in one repaint; the rest follow in the next
CONTOURS_FROM_M_PER_PX = 14.0  # coarser than this, only the index contours are drawn

_Key = tuple[float, float, int, int]


class TileStore:
    """Tiles of one picture in one look.

    Parameters
    ----------
    picture : MapPicture
    look : Look
    """

    def __init__(self, picture: MapPicture, look: Look) -> None:
        self._picture = picture
        self._look = look
        self._tiles: OrderedDict[_Key, QPixmap] = OrderedDict()
        self._bytes = 0

    def paint(self, painter: QPainter, frame: MapFrame, dpr: float) -> bool:
        """Draw the ground in view.

        Returns
        -------
        bool
            Whether tiles are still missing; where they are, the bare picture stands in.
        """
        grid = self._picture.grid
        tile_m = TILE_PX * frame.m_per_px
        first_col = int((frame.west_m - grid.west_m) // tile_m)
        past_col = int((frame.west_m + frame.width_px * frame.m_per_px - grid.west_m) // tile_m) + 1
        first_row = int((grid.north_m - frame.top_m) // tile_m)
        past_row = int((grid.north_m - frame.top_m + frame.height_px * frame.m_per_px) // tile_m) + 1
        end = time.perf_counter() + PAINT_BUDGET_S
        is_missing = False
        for row in range(first_row, past_row):
            for col in range(first_col, past_col):
                left_m, top_m = col * tile_m, row * tile_m
                if not self._holds_ground(left_m, top_m, tile_m):
                    continue
                x_px, y_px = frame.to_px(grid.west_m + left_m, grid.north_m - top_m)
                # on whole device pixels, so that neighbours meet without a seam
                target = QRectF(round(x_px * dpr) / dpr, round(y_px * dpr) / dpr, TILE_PX, TILE_PX)
                key = (frame.m_per_px, dpr, row, col)
                tile = self._tiles.get(key)
                if tile is None and time.perf_counter() < end:
                    tile = self._draw(key)
                    self._keep(key, tile)
                if tile is None:
                    is_missing = True
                    paint_levels(painter, self._picture.levels, grid, target, (left_m, top_m, tile_m), is_smooth=False)
                else:
                    self._tiles.move_to_end(key)
                    painter.drawPixmap(target.topLeft(), tile)
        return is_missing

    def _holds_ground(self, left_m: float, top_m: float, tile_m: float) -> bool:
        grid = self._picture.grid
        width_m, height_m = grid.cols * grid.cell_m, grid.rows * grid.cell_m
        return left_m < width_m and top_m < height_m and left_m + tile_m > 0 and top_m + tile_m > 0

    def _keep(self, key: _Key, tile: QPixmap) -> None:
        self._tiles[key] = tile
        self._bytes += tile.width() * tile.height() * 4
        while self._bytes > ROOM_BYTES and len(self._tiles) > 1:
            _, oldest = self._tiles.popitem(last=False)
            self._bytes -= oldest.width() * oldest.height() * 4

    def _draw(self, key: _Key) -> QPixmap:
        m_per_px, dpr, row, col = key
        tile_m = TILE_PX * m_per_px
        left_m, top_m = col * tile_m, row * tile_m
        tile = QPixmap(round(TILE_PX * dpr), round(TILE_PX * dpr))
        tile.setDevicePixelRatio(dpr)
        tile.fill(self._look.paper)
        painter = QPainter(tile)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        whole = QRectF(0, 0, TILE_PX, TILE_PX)
        paint_levels(painter, self._picture.levels, self._picture.grid, whole, (left_m, top_m, tile_m), is_smooth=True)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.scale(1.0 / m_per_px, 1.0 / m_per_px)
        painter.translate(-left_m, -top_m)
        box = (left_m, top_m, left_m + tile_m, top_m + tile_m)
        picture, look = self._picture, self._look
        px = m_per_px
        self._paint_lines(painter, picture.streams, box, look.water_line, 1.6 * px)
        if m_per_px <= CONTOURS_FROM_M_PER_PX:
            self._paint_lines(painter, picture.contours, box, look.contour, 0.9 * px)
        self._paint_lines(painter, picture.index_contours, box, look.index_contour, 1.0 * px)
        self._paint_lines(painter, picture.tracks, box, look.track, 1.6 * px, is_dashed=True)
        painter.end()
        return tile

    @staticmethod
    def _paint_lines(
        painter: QPainter,
        lines: LineSet,
        box: tuple[float, float, float, float],
        colour: QColor,
        width_m: float,
        *,
        is_dashed: bool = False,
    ) -> None:
        pen = QPen(colour, width_m)
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        if is_dashed:
            pen.setDashPattern([5.0, 2.5])
        painter.setPen(pen)
        for polygon in lines.in_box(*box):
            painter.drawPolyline(polygon)


def paint_levels(
    painter: QPainter,
    levels: Sequence[QImage],
    grid: Grid,
    target: QRectF,
    piece: tuple[float, float, float],
    *,
    is_smooth: bool,
) -> None:
    """Paint a piece of a pyramid, in the level that is nearest to the scale asked for.

    Parameters
    ----------
    levels : sequence of QImage
        As `map_picture.picture_levels` makes them.
    grid : Grid
        Of the first level, a pixel a cell.
    target : QRectF
        Where to.
    piece : (left_m, top_m, width_m)
        Which ground, from the grid's north-west corner; as high as the target's shape says.
    """
    left_m, top_m, width_m = piece
    height_m = width_m * target.height() / target.width()
    level, cell_m = 0, grid.cell_m
    while level + 1 < len(levels) and 2 * cell_m <= width_m / target.width():
        level, cell_m = level + 1, 2 * cell_m
    image = levels[level]
    # a halved level may be a rounded half: its own scale, from its own size
    across = image.width() / (grid.cols * grid.cell_m)
    down = image.height() / (grid.rows * grid.cell_m)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform, is_smooth)
    source = QRectF(left_m * across, top_m * down, width_m * across, height_m * down)
    painter.drawImage(target, image, source)
