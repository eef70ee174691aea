"""Small pictures of the routes side by side, as the comparison on paper has them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from sitepick.desk.look import Look
from sitepick.desk.translation import tr

if TYPE_CHECKING:
    from sitepick.journey.model import Journey
    from sitepick.sheet.model import Page

PX_PER_MM, A_ROW = 4.6, 3
HEIGHT_MM, NAME_MM, GAP_MM, UNITS_PER_MM = 36.0, 3.0, 2.0, 100.0


class RoutePictures(QWidget):
    """Up to six routes, each with its nights, in the order of the plan's rule."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._journey: Journey | None = None
        self.setAccessibleName(tr("Pictures of the routes"))
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
        self.hide()

    def show_journey(self, journey: Journey) -> None:
        """Draw a journey's routes."""
        self._journey = journey
        rows = -(-len(journey.routes) // A_ROW)
        self.setFixedHeight(round(rows * (HEIGHT_MM + NAME_MM + 2 * GAP_MM) * PX_PER_MM))
        names = ", ".join(journey.routes[index].name for index in journey.order)
        self.setAccessibleDescription(tr("{names}: course from above and heights along the way.", names=names))
        self.show()
        self.update()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        from sitepick.paint.strokes import paint_page

        if self._journey is None:
            return
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setLayoutDirection(Qt.LayoutDirection.LeftToRight)
        painter.scale(PX_PER_MM / UNITS_PER_MM, PX_PER_MM / UNITS_PER_MM)
        paint_page(painter, self._page(self._journey))

    def _page(self, journey: Journey) -> Page:
        from sitepick.sheet.journey_picture import bounds_of, route_picture
        from sitepick.sheet.model import Page, Stroke
        from sitepick.sheet.typeface import shortened, text_line

        palette = self._look.palette
        routes = tuple(journey.routes[index] for index in journey.order)
        bounds, columns = bounds_of(routes), min(A_ROW, len(routes))
        wide_mm = self.width() / PX_PER_MM
        width = (wide_mm - (columns - 1) * GAP_MM) / columns
        strokes: list[Stroke] = []
        for number, one in enumerate(routes):
            left = (number % columns) * (width + GAP_MM)
            top = (number // columns) * (HEIGHT_MM + NAME_MM + 2 * GAP_MM)
            name = shortened(f"{number + 1}  {one.name}", NAME_MM, width, is_bold=True)
            strokes.append(text_line(name, (left, top + NAME_MM), NAME_MM, palette.text, is_bold=True))
            box = (left, top + NAME_MM + GAP_MM, width, HEIGHT_MM)
            strokes += route_picture(one, routes[0], bounds, box, palette)
        return Page(width_mm=wide_mm, height_mm=self.height() / PX_PER_MM, strokes=tuple(strokes))
