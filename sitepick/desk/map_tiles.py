"""The map's ground layer in square tiles: drawn beside the window's thread, once a scale, kept while there is room."""

from __future__ import annotations

from collections import OrderedDict, deque
from collections.abc import Iterator, Sequence
from functools import partial

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QImage, QPainter, QPen

from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_picture import LineSet, MapPicture
from sitepick.grid import Grid
from sitepick.work import Watch

TILE_PX = 256
ROOM_BYTES = 96_000_000
CONTOURS_FROM_M_PER_PX = 14.0  # coarser than this, only the index contours are drawn
TILE_STEP = "the map"

_Key = tuple[float, float, int, int]


class TileStore:
    """Tiles of one picture in one look.

    Parameters
    ----------
    picture : MapPicture
    look : Look
    runner : JobRunner
        Draws them; its `progressed` tells of each tile that is ready.
    """

    def __init__(self, picture: MapPicture, look: Look, runner: JobRunner) -> None:
        self._picture = picture
        self._look = look
        self._runner = runner
        self._tiles: OrderedDict[_Key, QImage] = OrderedDict()
        self._ready: deque[tuple[_Key, QImage]] = deque()  # filled beside the window's thread
        self._asked: frozenset[_Key] = frozenset()
        self._bytes = 0

    def paint(self, painter: QPainter, frame: MapFrame, dpr: float) -> bool:
        """Draw the ground in view.

        Returns
        -------
        bool
            Whether tiles are still missing; where they are, the bare picture stands in.
        """
        self._take_ready()
        grid, tile_m = self._picture.grid, TILE_PX * frame.m_per_px
        missing: list[_Key] = []
        painter.save()
        painter.scale(1.0 / dpr, 1.0 / dpr)  # a tile's pixels are the device's: moved, never scaled
        for row, col in self._places(frame, 0):
            key = (frame.m_per_px, dpr, row, col)
            x_px, y_px = frame.to_px(grid.west_m + col * tile_m, grid.north_m - row * tile_m)
            place = QPointF(round(x_px * dpr), round(y_px * dpr))
            tile = self._tiles.get(key)
            if tile is not None:
                self._tiles.move_to_end(key)
                painter.drawImage(place, tile)
                continue
            missing.append(key)
            side_px = round(TILE_PX * dpr)
            target = QRectF(place.x(), place.y(), side_px, side_px)
            paint_levels(
                painter, self._picture.levels, grid, target, (col * tile_m, row * tile_m, tile_m), is_smooth=False
            )
        painter.restore()
        self._ask(frame, dpr, missing)
        return bool(missing)

    def covers(self, frame: MapFrame) -> bool:
        """Whether the whole view is ground."""
        grid = self._picture.grid
        east_m, south_m = frame.to_ground(frame.width_px, frame.height_px)
        return grid.contains(frame.west_m, frame.top_m) and grid.contains(east_m, south_m)

    def _places(self, frame: MapFrame, around: int) -> Iterator[tuple[int, int]]:
        """Rows and columns of the tiles in view and so many around that hold ground."""
        grid, tile_m = self._picture.grid, TILE_PX * frame.m_per_px
        left_m, top_m = frame.west_m - grid.west_m, grid.north_m - frame.top_m
        right_m, bottom_m = left_m + frame.width_px * frame.m_per_px, top_m + frame.height_px * frame.m_per_px
        for row in range(int(top_m // tile_m) - around, int(bottom_m // tile_m) + 1 + around):
            for col in range(int(left_m // tile_m) - around, int(right_m // tile_m) + 1 + around):
                if self._holds_ground(col * tile_m, row * tile_m, tile_m):
                    yield row, col

    def _ask(self, frame: MapFrame, dpr: float, missing: list[_Key]) -> None:
        """Have what is missing drawn, and what lies just outside the view: the middle first, the edge last."""
        places = self._places(frame, 1)
        wanted = frozenset(key for place in places if (key := (frame.m_per_px, dpr, *place)) not in self._tiles)
        if wanted <= self._asked or self._runner.is_shut:
            return
        tile_m, grid = TILE_PX * frame.m_per_px, self._picture.grid
        middle_row, middle_col = (grid.north_m - frame.north_m) / tile_m, (frame.east_m - grid.west_m) / tile_m

        def away(key: _Key) -> tuple[bool, float]:
            return key not in missing, max(abs(key[2] + 0.5 - middle_row), abs(key[3] + 0.5 - middle_col))

        self._asked = wanted
        self._runner.submit("tiles", partial(self._draw_all, sorted(wanted, key=away)))

    def _draw_all(self, keys: Sequence[_Key], watch: Watch) -> None:
        for number, key in enumerate(keys, start=1):
            self._ready.append((key, self._draw(key)))
            watch.tick(TILE_STEP, number, len(keys))

    def _take_ready(self) -> None:
        while self._ready:
            self._keep(*self._ready.popleft())

    def _holds_ground(self, left_m: float, top_m: float, tile_m: float) -> bool:
        grid = self._picture.grid
        width_m, height_m = grid.cols * grid.cell_m, grid.rows * grid.cell_m
        return left_m < width_m and top_m < height_m and left_m + tile_m > 0 and top_m + tile_m > 0

    def _keep(self, key: _Key, tile: QImage) -> None:
        self._asked -= {key}
        if key in self._tiles:
            return
        self._tiles[key] = tile
        self._bytes += tile.width() * tile.height() * 4
        while self._bytes > ROOM_BYTES and len(self._tiles) > 1:
            _, oldest = self._tiles.popitem(last=False)
            self._bytes -= oldest.width() * oldest.height() * 4

    def _draw(self, key: _Key) -> QImage:
        m_per_px, dpr, row, col = key
        tile_m = TILE_PX * m_per_px
        left_m, top_m = col * tile_m, row * tile_m
        tile = QImage(round(TILE_PX * dpr), round(TILE_PX * dpr), QImage.Format.Format_RGB32)
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
        tile.setDevicePixelRatio(1.0)
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
