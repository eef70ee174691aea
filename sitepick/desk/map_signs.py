"""What the map draws over the ground: grid, reach, route, sites, scale bar and north."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from sitepick.desk.display import MILE_M, shown
from sitepick.desk.long_line import LongLines
from sitepick.desk.look import LABEL_PX, Look
from sitepick.desk.map_frame import MapFrame, round_step
from sitepick.desk.route_sign import ReachLines, RouteSign
from sitepick.desk.translation import tr
from sitepick.grid import DoubleArray, Grid
from sitepick.units import FEET_M

if TYPE_CHECKING:
    from sitepick.sites.model import Site, Split

DISC_PX = 11.0
DISC_GAP_PX = 26.0  # between the middles of two discs
TICK_PX = 6.0
SHELTER_PX = 7.0
TURN_BACK_PX = 5.0
HALO_PX = 3.0
LABEL_RISE = 1.3  # room over and under a label's line, in sizes of its type
LABELS_KEPT = 2000
HEIGHT_ROOM_PX, HEIGHT_OWN_PX = 22.0, 14.0  # around a contour's height: free of other text, kept from it
NAME_PLACES = 400  # points of a line that its name may stand at
SHORT_LINE_POINTS = 200  # as many points are drawn as they are
NAMED_SITES = 3
CAMP_FROM_M_PER_PX = 2.5  # coarser than this, shelters would run together under the disc

_Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SignPainter:
    """Paints signs in one frame and one look.

    Attributes
    ----------
    painter : QPainter
    frame : MapFrame
    look : Look
    convergence_deg : float
        True bearing of grid north in the middle of the view.
    taken : list of (left, top, right, bottom)
        Where text stands already; a label that would cover another is left out.
    labels : dict
        Texts drawn before; handed on from frame to frame.
    lines : LongLines
        The same for long lines.
    """

    painter: QPainter
    frame: MapFrame
    look: Look
    convergence_deg: float = 0.0
    taken: list[_Box] = field(default_factory=list)
    labels: dict[object, QPixmap] = field(default_factory=dict)
    lines: LongLines = field(default_factory=LongLines)

    def grid_lines(self, grid: Grid) -> None:
        """Grid lines at a round distance, their last two figures of kilometres at the edges; or degrees."""
        if shown().form == "latlon":
            self._degree_lines(grid)
            return
        step_m = round_step(120.0 * self.frame.m_per_px)
        painter, frame = self.painter, self.frame
        upright = self._strip(1, math.ceil(frame.height_px))
        level = self._strip(math.ceil(frame.width_px), 1)
        east_m, south_m = frame.to_ground(frame.width_px, frame.height_px)
        lines = []
        for east in np.arange(math.ceil(frame.west_m / step_m) * step_m, east_m, step_m):
            x_px = round(frame.to_px(float(east), 0.0)[0])
            painter.drawPixmap(x_px, 0, upright)
            lines.append((_grid_figure(float(east), step_m), QPointF(x_px + 3, frame.height_px - 5)))
        for north in np.arange(math.ceil(south_m / step_m) * step_m, frame.top_m, step_m):
            y_px = round(frame.to_px(0.0, float(north))[1])
            painter.drawPixmap(0, y_px, level)
            lines.append((_grid_figure(float(north), step_m), QPointF(4, y_px - 3)))
        for text, place in lines:
            self._text(text, place, colour=self.look.soft, px=11)

    def _strip(self, width_px: int, height_px: int) -> QPixmap:
        """A faint line as a picture: a line of the painter's takes ten times as long."""
        ratio = self.painter.device().devicePixelRatioF()
        key = (width_px, height_px, self.look.palette.name, ratio)
        picture = self.labels.get(key)
        if picture is None:
            picture = QPixmap(math.ceil(width_px * ratio), math.ceil(height_px * ratio))
            picture.setDevicePixelRatio(ratio)
            picture.fill(faded(self.look.graphite, 0.16))
            self._keep(key, picture)
        return picture

    def _degree_lines(self, grid: Grid) -> None:
        """Lines of even longitude and latitude; straight within the view, which spans a small part of a degree."""
        painter, frame = self.painter, self.frame
        painter.setPen(QPen(faded(self.look.graphite, 0.16), 1.0))
        east_m, south_m = frame.to_ground(frame.width_px, frame.height_px)
        lon, lat = grid.to_lonlat([frame.west_m, east_m], [south_m, frame.top_m])
        span_deg = (lat[1] - lat[0]) * 120.0 / frame.height_px
        step_lat = round_step(max(float(span_deg), 1e-5))
        step_lon = round_step(max(float((lon[1] - lon[0]) * 120.0 / frame.width_px), 1e-5))
        lines = []
        for value in np.arange(math.ceil(lon[0] / step_lon) * step_lon, lon[1], step_lon):
            ends = np.column_stack(grid.from_lonlat([value, value], lat))
            self._line(ends)
            x, _ = frame.to_px(*ends[0].tolist())
            lines.append((f"{value:g}°", QPointF(x + 3, frame.height_px - 5)))
        for value in np.arange(math.ceil(lat[0] / step_lat) * step_lat, lat[1], step_lat):
            ends = np.column_stack(grid.from_lonlat(lon, [value, value]))
            self._line(ends)
            _, y = frame.to_px(*ends[0].tolist())
            lines.append((f"{value:g}°", QPointF(4, y - 3)))
        for text, place in lines:
            self._text(text, place, colour=self.look.soft, px=11)

    def reach(self, lines: ReachLines, *, is_over_colours: bool) -> None:
        """Blue lines: likely solid, early dashed, late dotted; over a factor's colours on a pale bed."""
        blue = self.look.reach
        if is_over_colours:
            self.painter.setPen(QPen(faded(self.look.paper, 0.75), 4.5))
            for line in (*lines.early, *lines.late, *lines.likely):
                self._line(line)
        for group, width_px, style in (
            (lines.early, 1.4, Qt.PenStyle.DashLine),
            (lines.late, 1.4, Qt.PenStyle.DotLine),
            (lines.likely, 2.2, Qt.PenStyle.SolidLine),
        ):
            pen = QPen(blue, width_px, style)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            self.painter.setPen(pen)
            for line in group:
                self._line(line)

    def reach_names(self, lines: ReachLines) -> None:
        """Which line is which, in a word on each."""
        for text, group in ((tr("early"), lines.early), (tr("likely"), lines.likely), (tr("late"), lines.late)):
            self._name_line(text, group)

    def _name_line(self, text: str, group: Sequence[DoubleArray]) -> None:
        """Write a reach line's word on it, once, where it is in view and free."""
        for line in sorted(group, key=len, reverse=True)[:3]:
            points = self.frame.line_to_px(line[:: max(1, len(line) // NAME_PLACES)])
            inside = np.flatnonzero(
                (points[:, 0] > 90)
                & (points[:, 0] < self.frame.width_px - 90)
                & (points[:, 1] > 30)
                & (points[:, 1] < self.frame.height_px - 30)
            )
            for index in inside[:: max(1, len(inside) // 12)]:
                place = QPointF(float(points[index, 0]) + 4, float(points[index, 1]) - 4)
                if self.label(text, place, colour=self.look.reach_deep, px=12):
                    return

    def route(self, sign: RouteSign) -> None:
        """A solid line with cross-ticks at its points; lighter past the reach."""
        intent = self.look.intent
        for line, alpha in ((sign.beyond_m, 0.45), (sign.reached_m, 1.0)):
            pen = QPen(faded(intent, alpha), 2.6)
            pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
            pen.setCapStyle(Qt.PenCapStyle.FlatCap)
            self.painter.setPen(pen)
            if len(line) > 1:
                self._line(line)
        points = self.frame.line_to_px(sign.points_m)
        last_x, last_y = math.inf, math.inf
        for index in range(len(points)):
            x, y = float(points[index, 0]), float(points[index, 1])
            if math.hypot(x - last_x, y - last_y) < TICK_PX and index not in (sign.selected, len(points) - 1):
                continue  # points of a recorded route, too close to be told apart
            last_x, last_y = x, y
            across = _across(points, index)
            size = TICK_PX + 3 if index == sign.selected else TICK_PX
            self.painter.setPen(QPen(intent, 3.4 if index == sign.selected else 2.2))
            self.painter.drawLine(
                QPointF(x - across[0] * size, y - across[1] * size), QPointF(x + across[0] * size, y + across[1] * size)
            )
            if index == sign.selected:
                self.painter.setPen(QPen(self.look.reach_deep, 2.0))
                self.painter.setBrush(Qt.BrushStyle.NoBrush)
                self.painter.drawEllipse(QPointF(x, y), 13, 13)

    def route_times(self, sign: RouteSign) -> None:
        """What each point of the route is called, and when the unit is there."""
        for (x, y), text in zip(self.frame.line_to_px(sign.points_m).tolist(), sign.labels, strict=True):
            for up_px in (-8, 18) if text else ():
                if self.label(text, QPointF(x + 9, y + up_px), colour=self.look.intent, px=12, is_bold=True):
                    break

    def turn_back(self, sign: RouteSign) -> None:
        """A ring where the unit must turn to be back at base in time."""
        if sign.turn_back_m is None:
            return
        x, y = self.frame.to_px(*sign.turn_back_m)
        self.painter.setPen(QPen(self.look.intent, 2.2))
        self.painter.setBrush(QBrush(self.look.page))
        self.painter.drawEllipse(QPointF(x, y), TURN_BACK_PX, TURN_BACK_PX)

    def turn_back_time(self, sign: RouteSign) -> None:
        """The hour to turn at, where there is room beside the ring."""
        if sign.turn_back_m is None:
            return
        x, y = self.frame.to_px(*sign.turn_back_m)
        for right_px, down_px in ((9, 16), (9, 30), (9, -14), (DISC_PX + 12, 4)):
            place = QPointF(x + right_px, y + down_px)
            if self.label(sign.turn_back_text, place, colour=self.look.intent, px=12, is_bold=True):
                break

    def site_outlines(self, sites: Sequence[Site], chosen_rank: int | None) -> None:
        """Graphite outlines, the chosen one's heavier."""
        painter, look = self.painter, self.look
        for site in reversed(sites):
            outline = self.frame.line_to_px(np.asarray(site.outline_m.exterior.coords, dtype=np.float64)[:, :2])
            painter.setPen(QPen(look.graphite, 2.6 if site.rank == chosen_rank else 1.5))
            painter.setBrush(QBrush(faded(look.paper, 0.42)))
            painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in outline.tolist()]))

    def split_outlines(self, split: Split) -> None:
        """Dashed outlines of two sites for one unit."""
        self.painter.setPen(QPen(self.look.graphite, 2.0, Qt.PenStyle.DashLine))
        self.painter.setBrush(QBrush(faded(self.look.paper, 0.42)))
        for part in split.parts:
            outline = self.frame.line_to_px(np.asarray(part.outline_m.exterior.coords, dtype=np.float64)[:, :2])
            self.painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in outline.tolist()]))

    def split_names(self, split: Split) -> None:
        """Their letters in discs, and their names."""
        from sitepick.sites.model import PART_LETTERS

        for letter, part in zip(PART_LETTERS, split.parts, strict=True):
            place = QPointF(*self.frame.to_px(part.east_m, part.north_m))
            self._disc(letter, place, is_pick=False, is_chosen=False)
            name, beside = part.name.partition(",")[0], place + QPointF(DISC_PX + 6, 4)
            for up_px in (0.0, -DISC_PX - 4, DISC_PX + 6):
                if self.label(name, beside + QPointF(0, up_px), colour=self.look.graphite, px=LABEL_PX, is_bold=True):
                    break

    def site_discs(self, sites: Sequence[Site], chosen_rank: int | None) -> None:
        """Each site's rank in a disc; the pick's is filled; one moved aside is tied to its place."""
        places = disc_places(self.frame, sites)
        for site in reversed(sites):
            home, place = QPointF(*_disc_home(self.frame, site)), QPointF(*places[site.rank])
            if home != place:
                self.painter.setPen(QPen(self.look.graphite, 1.2))
                self.painter.drawLine(home, place)
            self._disc(str(site.rank), place, is_pick=site.rank == 1, is_chosen=site.rank == chosen_rank)

    def site_names(self, sites: Sequence[Site], chosen_rank: int | None) -> None:
        """Names of the first sites and of the chosen one, as far as their first comma."""
        places = disc_places(self.frame, sites)
        for site in sites:
            if site.rank <= NAMED_SITES or site.rank == chosen_rank:
                x, y = places[site.rank]
                name = site.name.partition(",")[0]
                place = QPointF(x + DISC_PX + 6, y + 4)
                self.label(name, place, colour=self.look.graphite, px=LABEL_PX, is_bold=True)

    def _disc(self, text: str, place: QPointF, *, is_pick: bool, is_chosen: bool) -> None:
        look, painter = self.look, self.painter
        if is_chosen:
            painter.setPen(QPen(look.reach_deep, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawEllipse(place, DISC_PX + 4, DISC_PX + 4)
        painter.setPen(QPen(look.graphite, 1.6))
        painter.setBrush(QBrush(look.graphite if is_pick else look.page))
        painter.drawEllipse(place, DISC_PX, DISC_PX)
        painter.setFont(sign_font(painter, 12, is_bold=True))
        painter.setPen(look.page if is_pick else look.graphite)
        box = QRectF(place.x() - DISC_PX, place.y() - DISC_PX, 2 * DISC_PX, 2 * DISC_PX)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)
        self.taken.append(sides_of(box))

    def place_mark(self, east_m: float, north_m: float, *, is_on_route: bool) -> None:
        """A place pointed at: a ring in the colour of intent on the route, else a graphite cross."""
        x, y = self.frame.to_px(east_m, north_m)
        if is_on_route:
            self.painter.setPen(QPen(self.look.intent, 2.2))
            self.painter.setBrush(QBrush(self.look.page))
            self.painter.drawEllipse(QPointF(x, y), 5.5, 5.5)
            return
        self.painter.setPen(QPen(self.look.graphite, 1.4))
        self.painter.drawLine(QPointF(x - 8, y), QPointF(x + 8, y))
        self.painter.drawLine(QPointF(x, y - 8), QPointF(x, y + 8))

    def scale_bar(self) -> None:
        """A bar of a round length at the lower right, on a backing."""
        length_m, text = _bar(90.0 * self.frame.m_per_px)
        width_px = length_m / self.frame.m_per_px
        right, bottom = self.frame.width_px - 24, self.frame.height_px - 26
        self._backing(self._scale_box())
        self.painter.setPen(QPen(self.look.graphite, 1.4))
        self.painter.drawLine(QPointF(right - width_px, bottom), QPointF(right, bottom))
        for x in (right - width_px, right - width_px / 2, right):
            self.painter.drawLine(QPointF(x, bottom - 4), QPointF(x, bottom))
        self.painter.setFont(sign_font(self.painter, 12))
        self.painter.setPen(self.look.graphite)
        box = QRectF(right - width_px - 14, bottom - 24, width_px + 28, 18)
        self.painter.drawText(box, Qt.AlignmentFlag.AlignCenter, text)

    def north(self) -> None:
        """An arrow to true north beside the scale bar."""
        box = self._north_box()
        x, y = box.center().x(), box.center().y()
        self._backing(box)
        painter = self.painter
        painter.save()
        painter.translate(x, y + 4)
        painter.rotate(-self.convergence_deg)  # true north lies west of grid north where the convergence is positive
        painter.setPen(QPen(self.look.graphite, 1.4))
        painter.setBrush(QBrush(self.look.graphite))
        painter.drawLine(QPointF(0, 14), QPointF(0, -8))
        painter.drawPolygon(QPolygonF([QPointF(0, -14), QPointF(4, -5), QPointF(-4, -5)]))
        painter.restore()
        painter.setFont(sign_font(painter, 11, is_bold=True))
        painter.setPen(self.look.graphite)
        painter.drawText(QRectF(x - 16, y - 26, 32, 15), Qt.AlignmentFlag.AlignCenter, "N")

    def reserve(self) -> None:
        """Keep text from where the scale bar and the arrow will stand; they are drawn last, over everything."""
        self.taken.extend((sides_of(self._scale_box()), sides_of(self._north_box())))

    def _scale_box(self) -> QRectF:
        width_px = _bar(90.0 * self.frame.m_per_px)[0] / self.frame.m_per_px
        return QRectF(self.frame.width_px - width_px - 38, self.frame.height_px - 50, width_px + 28, 36)

    def _north_box(self) -> QRectF:
        return QRectF(self.frame.width_px - 50, self.frame.height_px - 118, 32, 52)

    def _line(self, line_m: DoubleArray) -> None:
        """A line in the pen in use."""
        if len(line_m) < SHORT_LINE_POINTS:
            self.painter.drawPolyline(_polygon(self.frame.line_to_px(line_m)))
        else:
            self.lines.paint(self.painter, self.frame, line_m)

    def height(self, height_m: float, place: QPointF, turn_deg: float) -> None:
        """A contour's height, along the contour, where nothing else stands."""
        x, y = place.x(), place.y()
        if not self._is_free((x - HEIGHT_ROOM_PX, y - HEIGHT_ROOM_PX, x + HEIGHT_ROOM_PX, y + HEIGHT_ROOM_PX)):
            return
        self.taken.append((x - HEIGHT_OWN_PX, y - HEIGHT_OWN_PX, x + HEIGHT_OWN_PX, y + HEIGHT_OWN_PX))
        text = shown().said(f"{height_m:.0f} m").partition(" ")[0]
        ratio = self.painter.device().devicePixelRatioF()
        key = (text, round(turn_deg), self.look.palette.name, ratio)
        picture = self.labels.get(key)
        if picture is None:
            picture = self._keep(key, self._drawn_height(text, round(turn_deg), ratio))
        half = picture.width() / ratio / 2.0
        self.painter.drawPixmap(QPointF(round((x - half) * ratio) / ratio, round((y - half) * ratio) / ratio), picture)

    def _drawn_height(self, text: str, turn_deg: int, ratio: float) -> QPixmap:
        """A height on its patch of paper, which breaks the contour, turned."""
        font = sign_font(self.painter, 10)
        box = QFontMetricsF(font).boundingRect(text)
        side_px = math.ceil(math.hypot(box.width() + 4.0, box.height())) + 2
        picture = QPixmap(math.ceil(side_px * ratio), math.ceil(side_px * ratio))
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(side_px / 2.0, side_px / 2.0)
        painter.rotate(turn_deg)
        painter.setFont(font)
        painter.fillRect(box.translated(-box.center()).adjusted(-2, 0, 2, 0), faded(self.look.paper, 0.72))
        painter.setPen(self.look.soft)
        painter.drawText(QPointF(-box.center().x(), -box.center().y()), text)
        painter.end()
        return picture

    def label(self, text: str, place: QPointF, *, colour: QColor, px: int, is_bold: bool = False) -> bool:
        """Text with a halo, unless other text stands there."""
        font = sign_font(self.painter, px, is_bold=is_bold)
        metrics = QFontMetricsF(font)
        box = sides_of(metrics.boundingRect(text).translated(place).adjusted(-2, -1, 2, 1))
        if not self._is_free(box):
            return False
        self.taken.append(box)
        self._text(text, place, colour=colour, px=px, is_bold=is_bold)
        return True

    def _is_free(self, box: _Box) -> bool:
        """Whether no text stands there yet."""
        left, top, right, bottom = box
        return not any(left < r and right > x and top < b and bottom > y for x, y, r, b in self.taken)

    def _keep(self, key: object, picture: QPixmap) -> QPixmap:
        if len(self.labels) >= LABELS_KEPT:
            self.labels.clear()
        self.labels[key] = picture
        return picture

    def text_width(self, text: str, *, px: int, is_bold: bool = False) -> float:
        """Width of a text in pixels."""
        return QFontMetricsF(sign_font(self.painter, px, is_bold=is_bold)).horizontalAdvance(text)

    def _text(self, text: str, place: QPointF, *, colour: QColor, px: int, is_bold: bool = False) -> None:
        """Text with a halo; drawn once and kept, since stroking letters takes longer than all else in a frame."""
        ratio = self.painter.device().devicePixelRatioF()
        key = (text, px, is_bold, colour.rgba(), self.look.palette.name, ratio)
        picture = self.labels.get(key)
        if picture is None:
            font = sign_font(self.painter, px, is_bold=is_bold)
            picture = self._keep(key, self._drawn_text(text, colour, font, ratio))
        left, top = place.x() - 2 * HALO_PX, place.y() - LABEL_RISE * px
        # on whole device pixels, so that letters stay sharp
        self.painter.drawPixmap(QPointF(round(left * ratio) / ratio, round(top * ratio) / ratio), picture)

    def _drawn_text(self, text: str, colour: QColor, font: QFont, ratio: float) -> QPixmap:
        px = font.pixelSize()
        width_px, height_px = QFontMetricsF(font).horizontalAdvance(text) + 4 * HALO_PX, 2.0 * LABEL_RISE * px
        picture = QPixmap(math.ceil(width_px * ratio), math.ceil(height_px * ratio))
        picture.setDevicePixelRatio(ratio)
        picture.fill(Qt.GlobalColor.transparent)
        painter = QPainter(picture)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        path = QPainterPath()
        path.addText(QPointF(2 * HALO_PX, LABEL_RISE * px), font, text)
        pen = QPen(faded(self.look.paper, 0.85), HALO_PX)
        pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
        painter.strokePath(path, pen)
        painter.fillPath(path, colour)
        painter.end()
        return picture

    def _backing(self, box: QRectF) -> None:
        self.painter.setPen(QPen(self.look.edge, 1.0))
        self.painter.setBrush(QBrush(faded(self.look.page, 0.9)))
        self.painter.drawRoundedRect(box, 3, 3)


def disc_places(frame: MapFrame, sites: Sequence[Site]) -> dict[int, tuple[float, float]]:
    """Where each site's disc stands, by rank.

    In the site's middle, or on its northern edge where the camp inside can be seen; a disc that would
    cover one of a better rank is moved aside.
    """
    placed: dict[int, tuple[float, float]] = {}
    for site in sites:
        x, y = _disc_home(frame, site)
        for angle_deg in range(0, 360, 45):
            if all(math.hypot(x - other_x, y - other_y) >= DISC_GAP_PX for other_x, other_y in placed.values()):
                break
            angle = math.radians(60 + angle_deg)
            home_x, home_y = _disc_home(frame, site)
            x, y = home_x + DISC_GAP_PX * math.cos(angle), home_y + DISC_GAP_PX * math.sin(angle)
        placed[site.rank] = (x, y)
    return placed


def _disc_home(frame: MapFrame, site: Site) -> tuple[float, float]:
    if frame.m_per_px >= CAMP_FROM_M_PER_PX:
        return frame.to_px(site.east_m, site.north_m)
    corners = np.asarray(site.outline_m.exterior.coords, dtype=np.float64)
    east_m, north_m = corners[np.argmax(corners[:, 1]), :2]
    return frame.to_px(float(east_m), float(north_m))


def sign_font(painter: QPainter, px: int, *, is_bold: bool = False) -> QFont:
    """The painter's font at a size in pixels."""
    font = QFont(painter.font())
    font.setPixelSize(px)
    font.setWeight(QFont.Weight.DemiBold if is_bold else QFont.Weight.Normal)
    return font


def _polygon(points_px: DoubleArray) -> QPolygonF:
    return QPolygonF([QPointF(x, y) for x, y in points_px.tolist()])


def sides_of(box: QRectF) -> _Box:
    """Left, top, right and bottom, as plain numbers: asked for far more often than drawn."""
    return box.left(), box.top(), box.right(), box.bottom()


def faded(colour: QColor, alpha: float) -> QColor:
    """A colour let through by so much."""
    faded = QColor(colour)
    faded.setAlphaF(alpha * colour.alphaF())
    return faded


def _bar(least_m: float) -> tuple[float, str]:
    """A round length for the scale bar, at least so long, and what stands on it."""
    if not shown().is_imperial:
        length_m = round_step(least_m)
        return length_m, f"{length_m / 1000:g} km" if length_m >= 1000 else f"{length_m:g} m"
    if least_m > 0.2 * MILE_M:
        miles = round_step(least_m / MILE_M)
        return miles * MILE_M, f"{miles:g} mi"
    feet = round_step(least_m / FEET_M)
    return feet * FEET_M, f"{feet:g} ft"


def _grid_figure(value_m: float, step_m: float) -> str:
    """A grid line's figures: kilometres within 100 km, with one more figure where lines are closer."""
    km = (value_m / 1000.0) % 100.0
    return f"{km:02.0f}" if step_m >= 1000.0 else f"{km:04.1f}" if step_m >= 100.0 else f"{km:05.2f}"


def _across(points: DoubleArray, index: int) -> tuple[float, float]:
    """Unit direction across the line at one of its points."""
    before, after = points[max(index - 1, 0)], points[min(index + 1, len(points) - 1)]
    dx, dy = after - before
    norm = math.hypot(dx, dy) or 1.0
    return -dy / norm, dx / norm
