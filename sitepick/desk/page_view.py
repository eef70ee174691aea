"""Pages to leaf through: in colour, in grey or by red light, at the width there is or at their true size."""

from __future__ import annotations

import numpy as np
from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QImage, QKeyEvent, QPixmap, QResizeEvent
from PySide6.QtWidgets import QLabel, QScrollArea, QWidget

from sitepick.desk.translation import marked, tr

SEEN = (("colour", marked("in colour")), ("grey", marked("in grey")), ("red", marked("by red light")))
SIZES = (
    ("page", marked("as a whole")),
    ("width", marked("as wide as the window")),
    ("true", marked("in its true size")),
)
_EDGE_PX = 24
_MM_PER_INCH = 25.4


class PageView(QScrollArea):
    """Shows one of some pages.

    Signals
    -------
    page_chosen(int)
        Another page is shown; 0 is the first.
    """

    page_chosen = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._images: tuple[QImage, ...] = ()
        self._dots_per_inch = 96.0
        self._index = 0
        self._seen, self._size = "colour", "page"
        self._picture = QLabel(self)
        self._picture.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._picture.setMargin(_EDGE_PX // 2)
        self.setWidget(self._picture)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("Pages of the sheet"))

    @property
    def index(self) -> int:
        """The page in view."""
        return self._index

    @property
    def page_count(self) -> int:
        """How many pages there are."""
        return len(self._images)

    def show_pages(self, images: tuple[QImage, ...], dots_per_inch: float) -> None:
        """Show other pages; the place in them is kept where there still is one."""
        self._images, self._dots_per_inch = images, dots_per_inch
        self.choose_page(min(self._index, max(0, len(images) - 1)))

    def choose_page(self, index: int) -> None:
        """Show a page; past the last there is none."""
        if 0 <= index < len(self._images):
            if index != self._index:
                self.verticalScrollBar().setValue(0)
            self._index = index
            self._draw()
            self.page_chosen.emit(index)

    def choose_seen(self, name: object) -> None:
        """Show the pages as `SEEN` names it."""
        self._seen = str(name)
        self._draw()

    def choose_size(self, name: object) -> None:
        """Show the pages as large as `SIZES` names it."""
        self._size = str(name)
        self._draw()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        step = {Qt.Key.Key_PageDown: 1, Qt.Key.Key_PageUp: -1}.get(Qt.Key(event.key()), 0)
        if step:
            self.choose_page(self._index + step)
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._draw()

    def sizeHint(self) -> QSize:
        return QSize(640, 640)

    def _draw(self) -> None:
        if not self._images:
            return
        image = self._images[self._index]
        ratio = self.devicePixelRatioF()
        across = round(self._width_px(image) * ratio)
        drawn = image.scaledToWidth(max(1, across), Qt.TransformationMode.SmoothTransformation)
        pixmap = QPixmap.fromImage(as_seen(drawn, self._seen))
        pixmap.setDevicePixelRatio(ratio)
        self._picture.setPixmap(pixmap)
        self._picture.setAccessibleName(tr("Page {index} of {count}", index=self._index + 1, count=len(self._images)))

    def _width_px(self, image: QImage) -> float:
        """How wide the page is drawn, in pixels of the window."""
        if self._size == "true":
            # The screen's own density; some screens tell none.
            return image.width() / self._dots_per_inch * (self.screen().physicalDotsPerInchX() or 96.0)
        room = self.viewport().size()
        wide = max(1, room.width() - _EDGE_PX)
        if self._size == "width":
            return float(wide)
        return min(float(wide), max(1, room.height() - _EDGE_PX) * image.width() / image.height())


def as_seen(image: QImage, name: str) -> QImage:
    """A picture as it comes out of a printer without colour, or as eyes see it by a red lamp."""
    if name == "grey":
        return image.convertToFormat(QImage.Format.Format_Grayscale8)
    if name == "red":
        return _by_red_light(image)
    return image


def _by_red_light(image: QImage) -> QImage:
    """Under red light paper gives back what red there is in its colours, and nothing else."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    rows, cols, line = plain.height(), plain.width(), plain.bytesPerLine()
    pixels = np.frombuffer(plain.constBits(), dtype=np.uint8).reshape(rows, line)[:, : 3 * cols].reshape(rows, cols, 3)
    lit = pixels.copy()
    lit[..., 1:] = 0
    return QImage(lit.tobytes(), cols, rows, 3 * cols, QImage.Format.Format_RGB888).copy()
