"""What the colours of a factor mean, over the map's lower left corner."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QLinearGradient, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QWidget

from sitepick.desk.display import shown
from sitepick.desk.look import Look
from sitepick.desk.map_signs import sign_font
from sitepick.desk.translation import tr

if TYPE_CHECKING:
    from sitepick.desk.look_through import LayerPicture
    from sitepick.sheet.layer_look import Ramp

WIDTH_PX, RAMP_PX, LINE_PX, EDGE_PX = 300, 14, 19, 12
SWATCHES_MAX = 12


class LegendCard(QWidget):
    """The legend of what is looked through; hidden where nothing is."""

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._look = look
        self._layer: LayerPicture | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self.hide()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        self.update()

    def show_layer(self, layer: LayerPicture | None) -> None:
        """Tell a factor's colours; None: nothing."""
        self._layer = layer
        self.setVisible(layer is not None)
        if layer is not None:
            told = [words for _, words in layer.swatches]
            if layer.ramp is not None:
                told = [*mark_texts(layer), *told]
            self.setAccessibleName(tr("Legend: {label}. {marks}", label=tr(layer.factor.label), marks=", ".join(told)))
            self.resize(self.sizeHint())
            self.update()

    def sizeHint(self) -> QSize:
        if self._layer is None:
            return QSize(0, 0)
        ramp_px = RAMP_PX + LINE_PX + 4 if self._layer.ramp is not None else 0
        lines = len(self._layer.swatches[:SWATCHES_MAX]) + (len(self._layer.swatches) > SWATCHES_MAX)
        return QSize(WIDTH_PX, 2 * EDGE_PX + LINE_PX + ramp_px + lines * LINE_PX)

    def paintEvent(self, event: QPaintEvent) -> None:
        layer = self._layer
        if layer is None:
            return
        painter = QPainter(self)
        painter.setPen(QPen(self._look.edge, 1.0))
        painter.setBrush(self._look.page)
        painter.drawRoundedRect(QRectF(self.rect()).adjusted(0.5, 0.5, -0.5, -0.5), 3, 3)
        painter.setPen(self._look.graphite)
        painter.setFont(sign_font(painter, 13, is_bold=True))
        inside = self.width() - 2 * EDGE_PX
        title = QFontMetricsF(painter.font()).elidedText(tr(layer.factor.label), Qt.TextElideMode.ElideRight, inside)
        painter.drawText(QRectF(EDGE_PX, EDGE_PX - 3, inside, LINE_PX), Qt.AlignmentFlag.AlignVCenter, title)
        top = EDGE_PX + LINE_PX
        painter.setFont(sign_font(painter, 12))
        if layer.ramp is not None:
            self._paint_ramp(painter, layer, layer.ramp, top)
            top += RAMP_PX + LINE_PX + 4
        for colour, words in self._lines(layer):
            if colour:
                painter.setPen(QPen(self._look.edge, 1.0))
                painter.setBrush(QColor(colour))
                painter.drawRect(QRectF(EDGE_PX + 0.5, top + 3.5, 18, 11))
            painter.setPen(self._look.graphite)
            box = QRectF(EDGE_PX + 26, top, inside - 26, LINE_PX)
            text = QFontMetricsF(painter.font()).elidedText(words, Qt.TextElideMode.ElideRight, box.width())
            painter.drawText(box, Qt.AlignmentFlag.AlignVCenter, text)
            top += LINE_PX
        painter.end()

    @staticmethod
    def _lines(layer: LayerPicture) -> list[tuple[str, str]]:
        lines = list(layer.swatches[:SWATCHES_MAX])
        more = len(layer.swatches) - SWATCHES_MAX
        return [*lines, ("", tr("and {more} more", more=more))] if more > 0 else lines

    def _paint_ramp(self, painter: QPainter, layer: LayerPicture, ramp: Ramp, top: float) -> None:
        from sitepick.sheet.layer_look import ramp_colour

        width = self.width() - 2 * EDGE_PX
        brush = QLinearGradient(EDGE_PX, 0, EDGE_PX + width, 0)
        for step in range(17):
            brush.setColorAt(step / 16, QColor(*ramp_colour(step / 16, self._look.palette, is_turning=ramp.is_turning)))
        painter.setPen(QPen(self._look.edge, 1.0))
        painter.setBrush(brush)
        painter.drawRect(QRectF(EDGE_PX + 0.5, top + 0.5, width - 1, RAMP_PX))
        painter.setPen(self._look.graphite)
        low, high = ramp.marks[0], ramp.marks[-1]
        texts = mark_texts(layer)
        every = 1 if len(texts) <= 7 else 2
        for number, (value, text) in enumerate(zip(ramp.marks, texts, strict=True)):
            if number % every and number != len(texts) - 1:
                continue
            x = EDGE_PX + width * (value - low) / (high - low)
            text_px = QFontMetricsF(painter.font()).horizontalAdvance(text)
            left = min(max(x - text_px / 2, EDGE_PX), EDGE_PX + width - text_px)
            painter.drawText(QRectF(left, top + RAMP_PX + 2, text_px + 2, LINE_PX), Qt.AlignmentFlag.AlignVCenter, text)


def mark_texts(layer: LayerPicture) -> list[str]:
    """The figures beside a ramp, the last with its unit; shares in per cent."""
    ramp = layer.ramp
    assert ramp is not None
    unit = layer.factor.unit
    if unit == "1":
        texts = [f"{100 * value:.0f}" for value in ramp.marks]
        texts[-1] += " %"
    else:
        shown_unit, factor, offset = shown().unit(unit)
        texts = [f"{value * factor + offset:.4g}" for value in ramp.marks]
        texts[-1] += shown_unit if shown_unit == "°" else f" {shown_unit}"
    if ramp.has_lower:
        texts[0] = f"≤ {texts[0]}"
    if ramp.has_higher:
        texts[-1] = f"≥ {texts[-1]}"
    return texts
