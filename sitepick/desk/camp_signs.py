"""How the camp is drawn on the map: shelters, facilities, posts, sections, the ways in and past."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QPainterPath, QPen, QPolygonF

from sitepick.desk.camp_tool import InHand, Key
from sitepick.desk.map_signs import CAMP_FROM_M_PER_PX, SHELTER_PX, SignPainter, faded
from sitepick.desk.translation import tr
from sitepick.grid import DoubleArray, Grid

if TYPE_CHECKING:
    from shapely import Polygon

    from sitepick.camp.model import Camp, Post, Security
    from sitepick.camp.things import Thing

NAMES_FROM_M_PER_PX = 1.3
SECTIONS_FROM_M_PER_PX = 1.0
SECTOR_PX = 46.0
RING_PX = 13.0
_GAP_PX = 6.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CampSigns:
    """Paints a camp.

    Attributes
    ----------
    signs : SignPainter
    grid : Grid
    camp : Camp
    things : tuple of Thing
        Everything in it, where it lies now.
    chosen : (kind, name) or None
    in_hand : InHand or None
        A thing on its way.
    shows_dead_ground : bool
        Hatch what no post sees.
    """

    signs: SignPainter
    grid: Grid
    camp: Camp
    things: tuple[Thing, ...]
    chosen: Key | None = None
    in_hand: InHand | None = None
    shows_dead_ground: bool = False

    @property
    def is_near(self) -> bool:
        """Whether shelters can be told apart."""
        return self.signs.frame.m_per_px < CAMP_FROM_M_PER_PX

    def paint(self) -> None:
        """Everything, what lies lowest first."""
        if not self.is_near:
            return
        security = self.camp.security
        if security is not None:
            if self.shows_dead_ground:
                self._dead_ground(security)
            self._sections()
            self._outline(security.perimeter_m, self._pen(self.signs.look.graphite, 1.2, Qt.PenStyle.DashLine, 0.7))
            self._way(security.way_in_m, Qt.PenStyle.SolidLine, tr("way in"))
            self._way(security.dummy_trail_m, Qt.PenStyle.DashDotDotLine, tr("trail past the site"))
        posts = {post.name: post for post in security.posts} if security is not None else {}
        for thing in self.things:
            if thing.kind == "post" and thing.name in posts:
                self._post(thing, posts[thing.name])
            elif thing.kind != "shelter":
                self._facility(thing)
        self._shelters()
        for thing in self.things:
            if thing.is_pinned:
                self._pin(thing.east_m, thing.north_m)
        self._names()
        self._chosen()

    def _shelters(self) -> None:
        doors = {one.shelter.name: one for one in self.camp.shelters}
        look, painter = self.signs.look, self.signs.painter
        for thing in self.things:
            placed = doors.get(thing.name) if thing.kind == "shelter" else None
            if placed is None:
                continue
            x, y = self.signs.frame.to_px(thing.east_m, thing.north_m)
            radius = self._radius_px(placed.shelter.kind.footprint_m)
            door = math.radians(placed.door_bearing_deg - self.signs.convergence_deg)
            painter.setPen(QPen(look.graphite, 1.4))
            painter.setBrush(QBrush(look.graphite if placed.shelter.is_leaders else look.page))
            painter.drawPolygon(hexagon(x, y, radius, door))
            painter.setPen(QPen(look.graphite, 2.2))
            painter.drawLine(
                QPointF(x + radius * math.sin(door), y - radius * math.cos(door)),
                QPointF(x + (radius + 5) * math.sin(door), y - (radius + 5) * math.cos(door)),
            )

    def _radius_px(self, footprint_m: float) -> float:
        return max(footprint_m / 2 / self.signs.frame.m_per_px, SHELTER_PX * 0.4)

    def _facility(self, thing: Thing) -> None:
        x, y = self.signs.frame.to_px(thing.east_m, thing.north_m)
        self.signs.painter.setPen(QPen(self.signs.look.graphite, 1.4))
        self.signs.painter.setBrush(QBrush(self.signs.look.page))
        self.signs.painter.drawRect(QRectF(x - 3, y - 3, 6, 6))

    def _post(self, thing: Thing, post: Post) -> None:
        """A triangle, and the edges of what it watches as far as a thumb."""
        painter, look = self.signs.painter, self.signs.look
        x, y = self.signs.frame.to_px(thing.east_m, thing.north_m)
        left, right = (
            math.radians(deg - self.signs.convergence_deg) for deg in (post.left_bearing_deg, post.right_bearing_deg)
        )
        painter.setPen(self._pen(look.graphite, 1.0, Qt.PenStyle.SolidLine, 0.55))
        for edge in (left, right):
            painter.drawLine(QPointF(x, y), QPointF(x + SECTOR_PX * math.sin(edge), y - SECTOR_PX * math.cos(edge)))
        width = (right - left) % (2.0 * math.pi) or 2.0 * math.pi
        box = QRectF(x - SECTOR_PX, y - SECTOR_PX, 2 * SECTOR_PX, 2 * SECTOR_PX)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(self._pen(look.graphite, 1.0, Qt.PenStyle.DotLine, 0.55))
        painter.drawArc(box, round(16 * (90.0 - math.degrees(left + width))), round(16 * math.degrees(width)))
        middle = left + width / 2.0
        tip = QPointF(x + 8 * math.sin(middle), y - 8 * math.cos(middle))
        feet = [
            QPointF(x + 6 * math.sin(middle + turn), y - 6 * math.cos(middle + turn)) for turn in (2.2, 2.2 + 1.883)
        ]
        painter.setPen(QPen(look.graphite, 1.4))
        painter.setBrush(QBrush(look.page))
        painter.drawPolygon(QPolygonF([tip, *feet]))

    def _pin(self, east_m: float, north_m: float) -> None:
        """A pin's head in the colour of what the person decides, up to the right."""
        x, y = self.signs.frame.to_px(east_m, north_m)
        painter, intent = self.signs.painter, self.signs.look.intent
        painter.setPen(QPen(intent, 1.8))
        painter.drawLine(QPointF(x, y), QPointF(x + 6, y - 10))
        painter.setBrush(QBrush(intent))
        painter.drawEllipse(QPointF(x + 6, y - 10), 3.2, 3.2)

    def _sections(self) -> None:
        """Each section's part in a light dotted outline."""
        for area in self.camp.sub_areas:
            self._outline(area.outline_m, self._pen(self.signs.look.graphite, 1.0, Qt.PenStyle.DotLine, 0.4))

    def _section_names(self) -> None:
        if self.signs.frame.m_per_px >= SECTIONS_FROM_M_PER_PX:
            return
        named: set[str] = set()
        for area in sorted(self.camp.sub_areas, key=lambda area: -area.outline_m.area):
            if area.section in named:
                continue
            at = area.outline_m.representative_point()
            x, y = self.signs.frame.to_px(at.x, at.y)
            for down in (0, 16, -16, 32, -32):
                if self.signs.label(area.section, QPointF(x - 20, y + down), colour=self.signs.look.soft, px=12):
                    named.add(area.section)
                    break

    def _dead_ground(self, security: Security) -> None:
        """A light hatch over what no post sees."""
        if security.dead_ground is None:
            return
        frame, (top, left) = self.signs.frame, security.dead_ground_corner
        path = QPainterPath()
        side = self.grid.cell_m / frame.m_per_px
        for row in range(security.dead_ground.shape[0]):
            for start, end in _runs(security.dead_ground[row]):
                east_m = self.grid.west_m + (left + start) * self.grid.cell_m
                north_m = self.grid.north_m - (top + row) * self.grid.cell_m
                x, y = frame.to_px(east_m, north_m)
                path.addRect(QRectF(x, y, (end - start) * side, side))
        self.signs.painter.setPen(Qt.PenStyle.NoPen)
        self.signs.painter.fillPath(path, QBrush(faded(self.signs.look.graphite, 0.45), Qt.BrushStyle.BDiagPattern))

    def _way(self, line_m: DoubleArray, style: Qt.PenStyle, name: str) -> None:
        if len(line_m) < 2:
            return
        points = self.signs.frame.line_to_px(line_m)
        self.signs.painter.setPen(self._pen(self.signs.look.graphite, 1.8, style, 0.85))
        self.signs.painter.drawPolyline(QPolygonF([QPointF(x, y) for x, y in points.tolist()]))
        width, height = self.signs.frame.width_px, self.signs.frame.height_px
        inside = [k for k, (x, y) in enumerate(points.tolist()) if 20 < x < width - 120 and 20 < y < height - 20]
        for k in inside[len(inside) // 2 :: max(1, len(inside) // 8)]:
            at = QPointF(float(points[k, 0]) + 6, float(points[k, 1]) - 6)
            if self.signs.label(name, at, colour=self.signs.look.soft, px=12):
                return

    def _names(self) -> None:
        """What each thing is called, on whichever side there is room."""
        if self.signs.frame.m_per_px >= NAMES_FROM_M_PER_PX:
            return
        first = sorted(self.things, key=lambda thing: (thing.key != self.chosen, thing.kind != "shelter"))
        for thing in first:
            x, y = self.signs.frame.to_px(thing.east_m, thing.north_m)
            reach = _GAP_PX + (self._radius_px(5.3) if thing.kind == "shelter" else 2.0)
            self._name(thing.told, x, y, reach, is_bold=thing.key == self.chosen)
        self._section_names()

    def _name(self, text: str, x: float, y: float, reach: float, *, is_bold: bool) -> None:
        width = self.signs.text_width(text, px=12, is_bold=is_bold)
        for place in (
            QPointF(x + reach, y + 4),
            QPointF(x - reach - width, y + 4),
            QPointF(x - width / 2, y + reach + 10),
            QPointF(x - width / 2, y - reach - 3),
        ):
            if self.signs.label(text, place, colour=self.signs.look.graphite, px=12, is_bold=is_bold):
                return

    def _chosen(self) -> None:
        """A ring round the chosen thing; on its way, where it would stand and what room it takes."""
        painter, look = self.signs.painter, self.signs.look
        held = self.in_hand
        chosen = next((thing for thing in self.things if thing.key == self.chosen), None)
        painter.setBrush(Qt.BrushStyle.NoBrush)
        if held is None:
            if chosen is not None:
                painter.setPen(QPen(look.reach_deep, 2.0))
                painter.drawEllipse(QPointF(*self.signs.frame.to_px(chosen.east_m, chosen.north_m)), RING_PX, RING_PX)
            return
        x, y = self.signs.frame.to_px(held.east_m, held.north_m)
        if chosen is not None:
            painter.setPen(self._pen(look.intent, 1.2, Qt.PenStyle.DashLine, 1.0))
            painter.drawLine(QPointF(*self.signs.frame.to_px(chosen.east_m, chosen.north_m)), QPointF(x, y))
        if held.key[0] == "shelter":
            # Round the middles of its neighbours: none may lie inside.
            reach = self.camp.spacing_m * self.grid.cell_m / self.grid.ground_cell_m / self.signs.frame.m_per_px
            painter.setPen(self._pen(look.intent, 1.0, Qt.PenStyle.DotLine, 0.8))
            painter.drawEllipse(QPointF(x, y), reach, reach)
        painter.setPen(QPen(look.intent, 2.4))
        painter.drawEllipse(QPointF(x, y), RING_PX - 4, RING_PX - 4)
        if held.reasons:  # a cross besides the words, for those who don't look at them
            for sign in (-1, 1):
                painter.drawLine(QPointF(x - 5, y - 5 * sign), QPointF(x + 5, y + 5 * sign))

    def _outline(self, outline_m: Polygon, pen: QPen) -> None:
        points = self.signs.frame.line_to_px(np.asarray(outline_m.exterior.coords, dtype=np.float64)[:, :2])
        self.signs.painter.setPen(pen)
        self.signs.painter.setBrush(Qt.BrushStyle.NoBrush)
        self.signs.painter.drawPolygon(QPolygonF([QPointF(x, y) for x, y in points.tolist()]))

    @staticmethod
    def _pen(colour: QColor, width: float, style: Qt.PenStyle, alpha: float) -> QPen:
        return QPen(faded(colour, alpha), width, style)


def hexagon(x: float, y: float, radius: float, turned_rad: float) -> QPolygonF:
    """A hexagon with a flat side towards a direction."""
    angles = [turned_rad + math.radians(30 + 60 * corner) for corner in range(6)]
    return QPolygonF([QPointF(x + radius * math.sin(a), y - radius * math.cos(a)) for a in angles])


def _runs(row: np.ndarray) -> list[tuple[int, int]]:
    """Starts and ends of the stretches of True."""
    edges = np.flatnonzero(np.diff(np.concatenate(([False], row, [False])).astype(np.int8)))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))
