"""The drawn ground of the map: a pyramid of pictures, and its lines cut up for fast drawing.

Made beside the window's thread; QImage may be used there, QPixmap may not.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QImage, QPolygonF

from sitepick.grid import DoubleArray, Grid

CHUNK_POINTS = 64
LABEL_EVERY_M = 1200.0
SMALLEST_LEVEL_PX = 256


class LineSet:
    """Many lines, cut into short pieces so that only the pieces in view are drawn.

    Parameters
    ----------
    lines_m : iterable of float64 arrays of shape (n, 2)
        Grid coordinates.
    grid : Grid
        Pieces are kept relative to its corner, with y downwards.
    """

    def __init__(self, lines_m: Iterable[DoubleArray], grid: Grid) -> None:
        self._pieces: list[DoubleArray] = []
        for line_m in lines_m:
            local = np.column_stack((line_m[:, 0] - grid.west_m, grid.north_m - line_m[:, 1]))
            for start in range(0, len(local) - 1, CHUNK_POINTS):
                self._pieces.append(local[start : start + CHUNK_POINTS + 1])
        boxes = [(*piece.min(axis=0), *piece.max(axis=0)) for piece in self._pieces]
        self._boxes = np.array(boxes, dtype=np.float64).reshape(-1, 4)
        self._polygons: dict[int, QPolygonF] = {}

    def __len__(self) -> int:
        return len(self._pieces)

    def in_box(self, left_m: float, top_m: float, right_m: float, bottom_m: float) -> list[QPolygonF]:
        """The pieces that may touch a box, relative to the grid's corner."""
        boxes = self._boxes
        touches = (
            (boxes[:, 0] <= right_m) & (boxes[:, 2] >= left_m) & (boxes[:, 1] <= bottom_m) & (boxes[:, 3] >= top_m)
        )
        return [self._polygon(int(index)) for index in np.flatnonzero(touches)]

    def _polygon(self, index: int) -> QPolygonF:
        if index not in self._polygons:
            self._polygons[index] = QPolygonF([QPointF(x, y) for x, y in self._pieces[index].tolist()])
        return self._polygons[index]


class HeightLabels:
    """Where heights stand on the index contours, at even distances along each.

    Parameters
    ----------
    lines : iterable of (height_m, float64 array of shape (n, 2))
        Grid coordinates.
    """

    def __init__(self, lines: Iterable[tuple[float, DoubleArray]]) -> None:
        rows = [row for height_m, line_m in lines for row in _label_rows(height_m, line_m)]
        # the farther apart, the earlier in the list: from afar the first few are enough
        self._rows = np.array(sorted(rows), dtype=np.float64).reshape(-1, 5)

    def in_box(self, box_m: tuple[float, float, float, float], finest: int) -> DoubleArray:
        """Rows (rank, height_m, east_m, north_m, direction_rad) in a box (west, south, east, north), up to a rank."""
        rows = self._rows
        inside = (
            (rows[:, 2] >= box_m[0]) & (rows[:, 2] <= box_m[2]) & (rows[:, 3] >= box_m[1]) & (rows[:, 3] <= box_m[3])
        )
        return rows[inside & (rows[:, 0] <= finest)]


def _label_rows(height_m: float, line_m: DoubleArray) -> list[tuple[float, float, float, float, float]]:
    """A line's labels; every fourth has rank 0 and is told from afar too."""
    step_m = np.hypot(*np.diff(line_m, axis=0).T)
    along_m = np.concatenate(([0.0], np.cumsum(step_m)))
    rows = []
    for number, at_m in enumerate(np.arange(LABEL_EVERY_M / 2.0, along_m[-1], LABEL_EVERY_M)):
        index = int(np.searchsorted(along_m, at_m)) - 1
        before, after = line_m[max(index - 2, 0)], line_m[min(index + 3, len(line_m) - 1)]
        direction = math.atan2(after[1] - before[1], after[0] - before[0])
        east_m, north_m = line_m[index].tolist()
        rows.append((0.0 if number % 4 == 0 else 1.0, height_m, east_m, north_m, direction))
    return rows


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MapPicture:
    """The ground as the map draws it.

    Attributes
    ----------
    grid : Grid
    levels : tuple of QImage
        The picture, each next one half as wide; the first has a pixel a cell.
    contours, index_contours : LineSet
        Every fifth is an index contour.
    streams, tracks : LineSet
    interval_m : float
        Height between contours.
    heights : HeightLabels
        Told on the index contours.
    """

    grid: Grid
    levels: tuple[QImage, ...]
    contours: LineSet
    index_contours: LineSet
    streams: LineSet
    tracks: LineSet
    interval_m: float
    heights: HeightLabels


def picture_levels(picture: npt.NDArray[np.uint8]) -> tuple[QImage, ...]:
    """The pyramid over a picture of shape (rows, cols, 3)."""
    rows, cols, _ = picture.shape
    pixels = np.ascontiguousarray(picture)
    # copy(): the image must own its pixels, the array goes out of scope
    image = QImage(pixels.data, cols, rows, 3 * cols, QImage.Format.Format_RGB888).convertToFormat(
        QImage.Format.Format_RGB32
    )
    levels = [image.copy()]
    while min(levels[-1].width(), levels[-1].height()) >= 2 * SMALLEST_LEVEL_PX:
        levels.append(_halved(levels[-1]))
    return tuple(levels)


def _halved(image: QImage) -> QImage:
    return image.scaled(
        (image.width() + 1) // 2,
        (image.height() + 1) // 2,
        Qt.AspectRatioMode.IgnoreAspectRatio,
        Qt.TransformationMode.SmoothTransformation,
    )
