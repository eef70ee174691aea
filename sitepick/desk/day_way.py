"""One day of a journey on the map: its stretch of the route, and the night that it ends in."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
from PySide6.QtCore import QPointF, Qt
from PySide6.QtGui import QBrush, QPen

from sitepick.desk.map_signs import SignPainter, faded
from sitepick.desk.translation import tr
from sitepick.desk.words import clock
from sitepick.grid import DoubleArray, Grid

if TYPE_CHECKING:
    from sitepick.journey.model import RouteJourney

WAY_PX, NIGHT_PX = 9.0, 8.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayWay:
    """What the map shows of a day.

    Attributes
    ----------
    lonlat : float64 array of shape (n, 2)
        From the last night to the next one, by way of the route.
    text : str
        Beside the night.
    """

    lonlat: DoubleArray
    text: str

    def points_m(self, grid: Grid) -> DoubleArray:
        """The way in a grid's projection."""
        east_m, north_m = grid.from_lonlat(*self.lonlat.T)
        return np.column_stack((np.asarray(east_m, float), np.asarray(north_m, float)))


def day_way(one: RouteJourney, number: int) -> DayWay | None:
    """The way of a day of a route; None on a day of rest."""
    day = one.days[number - 1]
    if day.is_rest:
        return None
    line = one.survey.line
    on_way = (line.distance_m >= day.begin_m) & (line.distance_m <= day.end_m)
    places = list(zip(line.lon_deg[on_way].tolist(), line.lat_deg[on_way].tolist(), strict=True))
    before = one.days[number - 2].night if number > 1 else None
    if before is not None:
        places.insert(0, before.place)
    if day.night is not None:
        places.append(day.night.place)
    if len(places) < 2:
        return None
    where = tr("the end of the route") if day.night is None else day.night.name or tr("no site")
    text = tr("Day {number}: {where}, {hour}", number=number, where=where, hour=clock(day.arrive))
    return DayWay(lonlat=np.array(places, float), text=text)


def paint_day_way(signs: SignPainter, way: DayWay, grid: Grid) -> None:
    """Paint a broad pale band under the route, and a ring where the night falls."""
    painter, look = signs.painter, signs.look
    points = signs.frame.line_to_px(way.points_m(grid))
    pen = QPen(faded(look.reach_deep, 0.42), WAY_PX)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    painter.setPen(pen)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawPolyline([QPointF(x, y) for x, y in points.tolist()])
    x, y = (float(value) for value in points[-1])
    painter.setPen(QPen(look.reach_deep, 2.6))
    painter.setBrush(QBrush(look.page))
    painter.drawEllipse(QPointF(x, y), NIGHT_PX, NIGHT_PX)
    for up_px in (4, 20, -12):
        if signs.label(way.text, QPointF(x + NIGHT_PX + 5, y + up_px), colour=look.reach_deep, px=13, is_bold=True):
            break
