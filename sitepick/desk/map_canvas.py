"""What the map shows: the ground in tiles, factors to look through, the answer's signs and the plan's over them."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import QPointF, QRectF, Qt, QTimer, Signal, Slot
from PySide6.QtGui import (
    QCloseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPixmap,
    QResizeEvent,
)
from PySide6.QtWidgets import QWidget

from sitepick.desk.camp_tool import Key
from sitepick.desk.display import shown
from sitepick.desk.exercise_signs import ExerciseSigns
from sitepick.desk.jobs import JobRunner
from sitepick.desk.kept_layer import KeptLayer
from sitepick.desk.legend_card import LegendCard
from sitepick.desk.long_line import LongLines
from sitepick.desk.look import Look
from sitepick.desk.map_cards import ASK, CAMP, MARK, MOVE, ROUTE, MarkBar, ReadingCard, VerbBar, WhyCard
from sitepick.desk.map_frame import MapFrame, grid_around
from sitepick.desk.map_hand import MapHand
from sitepick.desk.map_paint import MapShown, paint_layer, paint_signs
from sitepick.desk.map_picture import MapPicture
from sitepick.desk.map_signs import SignPainter
from sitepick.desk.map_tiles import TileStore
from sitepick.desk.mark_sign import MarkSign, mark_sign
from sitepick.desk.mark_tool import MarkTool, is_there
from sitepick.desk.route_sign import (
    ReachLines,
    RouteSign,
    route_sign,
    station_at,
)
from sitepick.desk.route_tool import RouteTool
from sitepick.desk.site_wishes import own_site_edit
from sitepick.desk.snap import TrackSnap
from sitepick.desk.sun_reading import SunReading
from sitepick.desk.translation import tr
from sitepick.grid import Grid
from sitepick.plan.model import Plan, Route

if TYPE_CHECKING:
    from sitepick.desk.day_way import DayWay
    from sitepick.desk.look_through import LayerPicture
    from sitepick.tonight import Tonight


ZOOM_STEP = 2.0**0.25
CARD_MARGIN_PX = 16
TILES_TAKEN_MS = 30  # between two paintings of tiles that are ready


class MapCanvas(QWidget):
    """What the map shows, and how it is drawn.

    Signals
    -------
    edit_requested(PlanEdit)
        The route was drawn on.
    site_chosen(int)
        A site's rank.
    thing_chosen((kind, name))
        A thing of the camp.
    left_for_list()
        The keyboard is done with a thing of the camp.
    ask_requested(float, float)
        "What speaks for and against this place?", grid coordinates.
    moment_pointed(datetime or None)
        When the unit is at the point of the route under the pointer.
    verb_changed(str)
    name_requested(int)
        A point of the route wants a name.
    way_requested(int, object)
        Find a way from a point of the route to a place (longitude, latitude), or (None) to the next point.
    mark_name_requested(MarkInHand)
        A marked area or observer wants another name.
    """

    edit_requested = Signal(object)
    site_chosen = Signal(int)
    thing_chosen = Signal(object)
    left_for_list = Signal()
    ask_requested = Signal(float, float)
    moment_pointed = Signal(object)
    verb_changed = Signal(str)
    name_requested = Signal(int)
    way_requested = Signal(int, object)
    mark_name_requested = Signal(object)

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMinimumSize(320, 240)
        self.setAccessibleName(tr("Map"))
        self.setAccessibleDescription(
            tr(
                "Arrows move the map, plus and minus zoom, Home shows all, Enter asks about the middle. "
                "M, R, K, C and A choose what the pointer does; with R, Page Down takes a point of the route in hand, "
                "N names it and the menu key shows what can be done. With K, Enter sets a corner or an observer in the "
                "middle, End closes the area, Page Down takes a corner in hand. With C, Page Down takes a thing of "
                "the camp in hand, arrows move it, Enter puts it there. Sites and camp are told in full on their pages."
            )
        )
        self._look = look
        self._frame = MapFrame(east_m=0.0, north_m=0.0, m_per_px=10.0, width_px=640.0, height_px=480.0)
        self._is_framed = False
        self._plan: Plan | None = None
        self._answer: Tonight | None = None
        self._is_stale = False
        self._grid: Grid | None = None
        self._route: RouteSign | None = None
        self._reach = ReachLines()
        self._picture: MapPicture | None = None
        self._tiles: TileStore | None = None
        self._runner = JobRunner(parent=self)  # the map's own: long work must not keep the ground from being drawn
        self._is_in_pieces = False  # tiles in view are still missing
        self._tile_timer = QTimer(self, singleShot=True, interval=TILES_TAKEN_MS)
        self._tile_timer.timeout.connect(self.update)
        self._runner.progressed.connect(self._on_tile)
        self._runner.finished.connect(self._on_tile)
        self._chosen_rank: int | None = None
        self._verb = MOVE
        self._tool = RouteTool()
        self._marking = MarkTool()
        self._marks: MarkSign | None = None
        self._snap = TrackSnap(())
        self._is_snapping = False
        self._layer: LayerPicture | None = None
        self._is_lens = False
        self._pointer: QPointF | None = None
        self._pan_from: QPointF | None = None
        self._pressed_at: QPointF | None = None
        self._route_mark_m: tuple[float, float] | None = None
        self._day_way: DayWay | None = None
        self._asked_m: tuple[float, float] | None = None
        self._why_text = ""
        self._labels: dict[object, QPixmap] = {}
        self._lines = LongLines()
        self._found = KeptLayer()
        self._is_keyboard_mark = False
        self._is_by_keyboard = False
        self._verbs = VerbBar(self)
        self._reading = ReadingCard(self)
        self._sun = SunReading(self._runner, self)
        self._sun.told.connect(self._on_sun)
        self._hand = MapHand(self)
        self._exercise = ExerciseSigns()
        self._legend = LegendCard(look, self)
        self._mark_bar = MarkBar(self)
        self._mark_bar.kind_chosen.connect(self._on_mark_kind)
        self._why = WhyCard(self)
        self._why.closed.connect(self._on_why_closed)
        self._why.site_wanted.connect(self._on_site_wanted)
        self._verbs.verb_chosen.connect(self.choose_verb)
        self._hand.edit_requested.connect(self.edit_requested)
        self._hand.thing_chosen.connect(self.thing_chosen)
        self._hand.put_down.connect(self.left_for_list)

    # What it is shown

    def show_plan(self, plan: Plan) -> None:
        """Show the plan's route; a plan elsewhere on the globe moves the map there."""
        is_elsewhere = self._grid is None or not self._holds(self._grid, plan.route)
        self._plan = plan
        if is_elsewhere:
            self.show_layer(None)
            self._answer, self._picture, self._tiles, self._reach = None, None, None, ReachLines()
            self._hand.show_answer(None, self._frame)
            self._grid = grid_around(plan.route)
            self._is_framed = False
        self._hand.show_plan(plan, self._frame)
        self._exercise.show_plan(plan)
        self._draw_route()
        if not self._is_framed:
            self.show_all()

    def show_answer(self, answer: Tonight) -> None:
        """Show what was worked out."""
        if self._answer is None or self._answer.ground is not answer.ground:
            self._snap = TrackSnap(answer.ground.track_lines)
        self._answer = answer
        self._hand.show_answer(answer, self._frame)
        self._use_grid(answer.ground.grid)
        self._is_stale = False
        ranks = [site.rank for site in answer.sites.sites]
        if self._chosen_rank not in ranks:
            self._chosen_rank = ranks[0] if ranks else None
        self._draw_route()

    def show_picture(self, picture: MapPicture, reach: ReachLines) -> None:
        """Show the drawn ground and the reach."""
        if picture is not self._picture:
            self._picture = picture
            self._tiles = TileStore(picture, self._look, self._runner)
        self._reach = reach
        self.update()

    def show_stale(self, is_stale: bool) -> None:
        """Fade the answer while a newer one is being worked out."""
        if is_stale != self._is_stale:  # asked at every step of the work, and painting takes a while
            self._is_stale = is_stale
            self.update()

    def show_look(self, look: Look) -> None:
        """Draw in other colours."""
        self._look = look
        if self._picture is not None:
            self._tiles = TileStore(self._picture, look, self._runner)
        self._legend.show_look(look)
        self.update()

    def show_layer(self, layer: LayerPicture | None) -> None:
        """Look through a factor; None: at the ground itself."""
        self._layer = layer
        self._legend.show_layer(layer)
        self._place_cards()
        self.update()

    def show_lens(self, is_lens: bool) -> None:
        """Look through round the pointer only, or over the whole map."""
        self._is_lens = is_lens
        self.update()

    def show_snapping(self, is_snapping: bool) -> None:
        """Let points of the route take to mapped tracks."""
        self._is_snapping = is_snapping

    def show_display(self) -> None:
        """Tell places and lengths by another choice."""
        self._legend.show_layer(self._layer)
        self._reading.hide()
        self._sun.drop()
        if self._asked_m is not None:
            self.show_why(*self._asked_m, self._why_text)
        self._place_cards()
        self.update()

    def show_site(self, rank: int) -> None:
        """Bring a site to the middle and draw it as chosen."""
        self._chosen_rank = rank
        if self._answer is not None:
            for site in self._answer.sites.sites:
                if site.rank == rank:
                    self._look_at(self._frame.centred(site.east_m, site.north_m))
        self.update()

    @Slot(object)
    def show_thing(self, key: Key | None) -> None:
        """Ring a thing of the camp, and bring it into view."""
        self._look_at(self._hand.frame_on(key, self._frame, self.rect()))

    @Slot(object)
    def take_thing(self, key: Key) -> None:
        """Put a thing of the camp under the arrow keys."""
        self.show_thing(key)
        self.choose_verb(CAMP)
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @Slot(bool)
    def show_dead_ground(self, is_shown: bool) -> None:
        """Hatch what no post sees, or no longer."""
        self._hand.shows_dead_ground = is_shown
        self.update()

    def show_moment(self, moment: datetime | None) -> None:
        """Mark where on the route the unit is at a time."""
        self._route_mark_m = None
        if moment is not None and self._answer is not None:
            self._route_mark_m = station_at(self._answer.march, moment)
        self.update()

    def show_day_way(self, way: DayWay | None) -> None:
        """Show a day of the journey, with its night in view; None: no day."""
        self._day_way = way
        if way is not None and self._grid is not None:
            east_m, north_m = way.points_m(self._grid)[-1]
            x_px, y_px = self._frame.to_px(float(east_m), float(north_m))
            if not self.rect().contains(int(x_px), int(y_px)):
                self._look_at(self._frame.centred(float(east_m), float(north_m)))
        self.update()

    def show_why(self, east_m: float, north_m: float, text: str) -> None:
        """Show what speaks for and against a place, beside it."""
        if self._grid is None:
            return
        self._asked_m, self._why_text = (east_m, north_m), text
        self._why.show_text(shown().place(self._grid, east_m, north_m), shown().said(text))
        self._place_why()
        self.update()

    # What it can be told to do

    @Slot()
    def zoom_in(self) -> None:
        """Closer, around the middle."""
        self._zoom(ZOOM_STEP**2, self.width() / 2, self.height() / 2)

    @Slot()
    def zoom_out(self) -> None:
        """Further, around the middle."""
        self._zoom(ZOOM_STEP**-2, self.width() / 2, self.height() / 2)

    @Slot()
    def show_all(self) -> None:
        """The whole route and all sites in view."""
        if self._grid is None or self._route is None:
            return
        points = self._route.points_m
        west_m, south_m = points.min(axis=0)
        east_m, north_m = points.max(axis=0)
        if self._answer is not None:
            split = self._answer.sites.split
            for site in (*self._answer.sites.sites, *(() if split is None else split.parts)):
                box = site.outline_m.bounds
                west_m, south_m = min(west_m, box[0]), min(south_m, box[1])
                east_m, north_m = max(east_m, box[2]), max(north_m, box[3])
        self._look_at(self._frame.showing((west_m, south_m, east_m, north_m), margin_px=72.0))
        self._is_framed = True
        self.update()

    @Slot(str)
    def choose_verb(self, verb: str) -> None:
        """What the pointer does from now on: `MOVE`, `ROUTE`, `MARK`, `CAMP` or `ASK`."""
        self._verb = verb
        self._tool.clear()
        self._marking.clear()
        self._hand.put_back(self._frame)
        self._verbs.show_verb(verb)
        self._mark_bar.setVisible(verb == MARK)
        self._place_cards()
        self.setCursor(
            {
                MOVE: Qt.CursorShape.OpenHandCursor,
                ROUTE: Qt.CursorShape.CrossCursor,
                MARK: Qt.CursorShape.CrossCursor,
                CAMP: Qt.CursorShape.OpenHandCursor,
                ASK: Qt.CursorShape.WhatsThisCursor,
            }[verb]
        )
        self._draw_route()
        self.verb_changed.emit(verb)

    @property
    def frame(self) -> MapFrame:
        """The part of the ground in view."""
        return self._frame

    # How it is drawn

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._look_at(self._frame.resized(self.width(), self.height()))
        self._place_cards()
        self._place_reading()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        if self._tiles is None or not self._tiles.covers(self._frame):
            painter.fillRect(self.rect(), self._look.paper)
        if self._tiles is not None:
            self._is_in_pieces = self._tiles.paint(painter, self._frame, self.devicePixelRatioF())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._layer is not None:
            lens = (self._pointer or QPointF(self.width() / 2, self.height() / 2)) if self._is_lens else None
            paint_layer(painter, self._frame, self._layer, lens, QPen(self._look.graphite, 1.6))
        if self._grid is not None:
            signs = SignPainter(
                painter=painter,
                frame=self._frame,
                look=self._look,
                convergence_deg=self._grid.convergence_deg(self._frame.east_m, self._frame.north_m),
                labels=self._labels,
                lines=self._lines,
            )
            paint_signs(signs, self._grid, self._shown())
            self._exercise.paint(signs, self._grid)
        if self.hasFocus() and self._is_by_keyboard:
            painter.setPen(QPen(self._look.focus, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))
        painter.end()

    def closeEvent(self, event: QCloseEvent) -> None:
        self._runner.shutdown()
        super().closeEvent(event)

    @Slot()
    def _on_tile(self) -> None:
        if self._is_in_pieces and not self._tile_timer.isActive():
            self._tile_timer.start()

    def _shown(self) -> MapShown:
        middle = (self._frame.east_m, self._frame.north_m)
        return MapShown(
            answer=self._answer,
            is_stale=self._is_stale,
            chosen_rank=self._chosen_rank,
            has_layer=self._layer is not None,
            route=self._route,
            reach=self._reach,
            found=self._found,
            heights=self._picture.heights if self._picture is not None else None,
            marks=self._marks,
            paint_camp=self._hand.paint,
            route_mark_m=self._route_mark_m,
            day_way=self._day_way,
            cross_m=self._asked_m or (middle if self._is_keyboard_mark else None),
        )

    # Small steps of the above

    @staticmethod
    def _holds(grid: Grid, route: Route) -> bool:
        east_m, north_m = grid.from_lonlat(*zip(*route.points, strict=True))
        return all(grid.contains(float(e), float(n)) for e, n in zip(east_m, north_m, strict=True))

    def _use_grid(self, grid: Grid) -> None:
        """Work in an answer's projection; the middle of the view stays where it is on the globe."""
        if self._grid is not None and self._grid.crs != grid.crs:
            lon, lat = self._grid.to_lonlat(self._frame.east_m, self._frame.north_m)
            east_m, north_m = grid.from_lonlat(lon, lat)
            self._look_at(self._frame.centred(float(east_m), float(north_m)))
        self._grid = grid

    def _draw_route(self) -> None:
        if self._plan is None or self._grid is None:
            return
        march = None
        if self._answer is not None and self._answer.plan.route == self._plan.route:
            march = self._answer.march
        selected = self._tool.selected
        if selected is not None and selected >= len(self._plan.route.points):
            self._tool.clear()
            selected = None
        self._route = route_sign(self._plan, self._grid, march, selected)
        self._draw_marks()

    def _draw_marks(self) -> None:
        if self._plan is None or self._grid is None:
            return
        mark = self._marking.selected
        if mark is not None and not is_there(self._plan, mark):
            self._marking.clear()
        self._marks = mark_sign(self._plan, self._grid, self._marking, is_edited=self._verb == MARK)
        self.update()

    def _zoom(self, factor: float, x_px: float, y_px: float) -> None:
        self._look_at(self._frame.zoomed(factor, x_px, y_px))
        self.update()

    def _look_at(self, frame: MapFrame) -> None:
        """Show other ground; what stands beside a place goes along."""
        self._frame = frame
        self._place_why()
        self._hand.follow(frame)

    def _place_why(self) -> None:
        """The answer beside the place that was asked about, as long as that is in view."""
        if self._asked_m is None:
            return
        x_px, y_px = self._frame.to_px(*self._asked_m)
        self._why.setVisible(self.rect().contains(int(x_px), int(y_px)))
        left = min(max(int(x_px) + 14, 8), max(self.width() - self._why.width() - 8, 8))
        top = min(max(int(y_px) + 14, 8), max(self.height() - self._why.height() - 8, 8))
        self._why.move(left, top)

    def _place_cards(self) -> None:
        self._verbs.adjustSize()
        self._verbs.move(CARD_MARGIN_PX, CARD_MARGIN_PX)
        self._mark_bar.adjustSize()
        self._mark_bar.move(CARD_MARGIN_PX + self._verbs.width() + 8, CARD_MARGIN_PX)
        self._legend.adjustSize()
        self._legend.move(CARD_MARGIN_PX, max(self.height() - self._legend.height() - 2 * CARD_MARGIN_PX, 0))

    @Slot(str)
    def _on_mark_kind(self, kind: str) -> None:
        self._marking.kind = kind
        self._marking.clear()
        self._draw_marks()
        self.setFocus(Qt.FocusReason.OtherFocusReason)

    @Slot(str, str)
    def _on_sun(self, label: str, value: str) -> None:
        if self._reading.isVisible():
            self._reading.show_last(label, shown().said(value))
            self._place_reading()

    def _place_reading(self) -> None:
        self._reading.move(self.width() - self._reading.width() - CARD_MARGIN_PX, CARD_MARGIN_PX)

    @Slot()
    def _on_site_wanted(self) -> None:
        if self._plan is not None and self._grid is not None and self._asked_m is not None:
            self.edit_requested.emit(own_site_edit(self._plan, self._grid, *self._asked_m))
            self._why.hide()
            self._on_why_closed()

    @Slot()
    def _on_why_closed(self) -> None:
        self._asked_m = None
        self.update()
