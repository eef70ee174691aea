"""What stands over the map's ground, in the order it is painted."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF
from PySide6.QtGui import QPainter, QPainterPath, QPen

from sitepick.desk.day_way import DayWay, paint_day_way
from sitepick.desk.kept_layer import KeptLayer
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_picture import HeightLabels
from sitepick.desk.map_signs import SignPainter
from sitepick.desk.map_tiles import paint_levels
from sitepick.desk.mark_sign import MarkSign, paint_mark_names, paint_marks
from sitepick.desk.route_sign import ReachLines, RouteSign
from sitepick.grid import Grid

if TYPE_CHECKING:
    from sitepick.desk.look_through import LayerPicture
    from sitepick.tonight import Tonight

FADED = 0.45
LENS_PX = 130.0
LAYER_OPACITY = 0.78  # the relief shows through
HEIGHTS_FROM_M_PER_PX, FAR_HEIGHTS_FROM_M_PER_PX = 6.0, 25.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MapShown:
    """What is to be seen on the map besides its ground.

    Attributes
    ----------
    answer : Tonight or None
    is_stale : bool
        The answer is older than the plan.
    chosen_rank : int or None
    has_layer : bool
        Whether a factor is looked through.
    route : RouteSign or None
    reach : ReachLines
    found : KeptLayer
        Keeps the reach and the sites' outlines from frame to frame.
    heights : HeightLabels or None
    marks : MarkSign or None
    paint_camp : callable
        Paints the camp, where there is one.
    day_way : DayWay or None
        The day of the journey that was chosen.
    route_mark_m, cross_m : (east_m, north_m) or None
        The time pointed at on the route; the place asked about, or in the middle by keyboard.
    """

    answer: Tonight | None
    is_stale: bool
    chosen_rank: int | None
    has_layer: bool
    route: RouteSign | None
    reach: ReachLines
    found: KeptLayer
    heights: HeightLabels | None
    marks: MarkSign | None
    paint_camp: Callable[[SignPainter], None]
    day_way: DayWay | None
    route_mark_m: tuple[float, float] | None
    cross_m: tuple[float, float] | None


def paint_signs(signs: SignPainter, grid: Grid, shown: MapShown) -> None:
    """Paint everything over the ground."""
    painter = signs.painter
    signs.grid_lines(grid)
    signs.reserve()
    answer = shown.answer
    sites = answer.sites.sites if answer is not None else ()
    opacity = FADED if shown.is_stale else 1.0
    if shown.marks is not None:
        paint_marks(signs, shown.marks)
    painter.setOpacity(opacity)
    key = (answer, shown.reach, shown.chosen_rank, shown.has_layer)
    shown.found.paint(signs, key, partial(_paint_found, shown=shown))
    split = answer.sites.split if answer is not None else None
    shown.paint_camp(signs)
    painter.setOpacity(1.0)  # the route is the person's own and never fades
    if shown.day_way is not None:
        paint_day_way(signs, shown.day_way, grid)
    if shown.route is not None:
        signs.route(shown.route)
        signs.turn_back(shown.route)  # under the discs: a rank must be readable
    painter.setOpacity(opacity)
    signs.site_discs(sites, shown.chosen_rank)
    if split is not None:
        signs.split_names(split)
    if shown.route is not None:
        signs.turn_back_time(shown.route)
        signs.route_times(shown.route)
    signs.site_names(sites, shown.chosen_rank)
    signs.reach_names(shown.reach)
    painter.setOpacity(1.0)
    if shown.marks is not None:
        paint_mark_names(signs, shown.marks)
    if shown.heights is not None:
        _paint_heights(signs, shown.heights)
    if shown.route_mark_m is not None:
        signs.place_mark(*shown.route_mark_m, is_on_route=True)
    if shown.cross_m is not None:
        signs.place_mark(*shown.cross_m, is_on_route=False)
    signs.north()
    signs.scale_bar()


def _paint_found(signs: SignPainter, shown: MapShown) -> None:
    """The reach, and outlines of the sites."""
    signs.reach(shown.reach, is_over_colours=shown.has_layer)
    if shown.answer is not None:
        signs.site_outlines(shown.answer.sites.sites, shown.chosen_rank)
        if shown.answer.sites.split is not None:
            signs.split_outlines(shown.answer.sites.split)


def paint_layer(painter: QPainter, frame: MapFrame, layer: LayerPicture, lens: QPointF | None, colour: QPen) -> None:
    """Paint a factor over the ground: all of it, or what a lens shows.

    Parameters
    ----------
    lens : QPointF or None
        Middle of the lens; None: the whole map.
    colour : QPen
        Of the lens's rim.
    """
    grid = layer.grid
    view = QRectF(0.0, 0.0, frame.width_px, frame.height_px)
    painter.save()
    if lens is not None:
        rim = QPainterPath()
        rim.addEllipse(lens, LENS_PX, LENS_PX)
        painter.setClipPath(rim)
        view = view.intersected(QRectF(lens.x() - LENS_PX, lens.y() - LENS_PX, 2 * LENS_PX, 2 * LENS_PX))
    left_px, top_px = frame.to_px(grid.west_m, grid.north_m)
    width_px, height_px = grid.cols * grid.cell_m / frame.m_per_px, grid.rows * grid.cell_m / frame.m_per_px
    seen = view.intersected(QRectF(left_px, top_px, width_px, height_px))
    if not seen.isEmpty():
        painter.setOpacity(LAYER_OPACITY)
        left_m, top_m = (seen.left() - left_px) * frame.m_per_px, (seen.top() - top_px) * frame.m_per_px
        paint_levels(painter, layer.levels, grid, seen, (left_m, top_m, seen.width() * frame.m_per_px), is_smooth=False)
    painter.restore()
    if lens is not None:
        painter.setPen(colour)
        painter.drawEllipse(lens, LENS_PX, LENS_PX)


def _paint_heights(signs: SignPainter, heights: HeightLabels) -> None:
    """Heights along the index contours, never upside down."""
    frame = signs.frame
    if frame.m_per_px > FAR_HEIGHTS_FROM_M_PER_PX:
        return
    finest = 1 if frame.m_per_px <= HEIGHTS_FROM_M_PER_PX else 0
    east_m, south_m = frame.to_ground(frame.width_px, frame.height_px)
    for _, height_m, at_east_m, at_north_m, direction in heights.in_box(
        (frame.west_m, south_m, east_m, frame.top_m), finest
    ).tolist():
        x, y = frame.to_px(at_east_m, at_north_m)
        turn_deg = -math.degrees(direction)
        if not -90.0 <= turn_deg <= 90.0:
            turn_deg += 180.0 if turn_deg < 0.0 else -180.0
        signs.height(height_m, QPointF(x, y), turn_deg)
