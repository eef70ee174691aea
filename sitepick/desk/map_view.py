"""The map: the ground in tiles, the answer's signs over it, the route drawn by hand."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, QTimer, Signal, Slot
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QMenu, QWidget

from sitepick.desk.camp_tool import Key
from sitepick.desk.edit import PlanEdit
from sitepick.desk.ground_reading import reading_at, spaced_mgrs
from sitepick.desk.look import Look
from sitepick.desk.map_cards import ASK, CAMP, MOVE, ROUTE, ReadingCard, VerbBar, WhyCard
from sitepick.desk.map_frame import MapFrame, grid_around
from sitepick.desk.map_hand import MapHand
from sitepick.desk.map_picture import MapPicture
from sitepick.desk.map_signs import SignPainter, disc_places
from sitepick.desk.map_tiles import TileStore
from sitepick.desk.route_menu import NameWish, WayWish, place_entries, point_entries
from sitepick.desk.route_sign import (
    ReachLines,
    RouteSign,
    nearest_station,
    route_sign,
    station_at,
    time_at_station,
)
from sitepick.desk.route_tool import RouteTool, point_at, stretch_at
from sitepick.desk.site_wishes import own_site_edit
from sitepick.grid import Grid
from sitepick.plan.model import LonLat, Plan, Route

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

ZOOM_STEP = 2.0**0.25
PAN_STEP_PX = 80.0
NUDGE_PX = 8.0
SITE_REACH_PX = 14.0
POINTED_PX = 12.0  # so near to the route the pointer means a time on it
FADED = 0.45
CARD_MARGIN_PX = 16
_PANS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_VERB_KEYS = {Qt.Key.Key_M: MOVE, Qt.Key.Key_R: ROUTE, Qt.Key.Key_C: CAMP, Qt.Key.Key_A: ASK}
_BY_KEYBOARD = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason, Qt.FocusReason.ShortcutFocusReason)


class MapView(QWidget):
    """The map.

    Signals
    -------
    edit_requested(PlanEdit)
        The route was drawn on.
    site_chosen(int)
        A site's rank.
    thing_chosen(object)
        A shelter, post or facility: its kind and name.
    left_for_list()
        The keyboard is done with the thing in hand.
    ask_requested(float, float)
        "What speaks for and against this place?", grid coordinates.
    moment_pointed(datetime or None)
        When the unit is at the point of the route under the pointer.
    verb_changed(str)
    name_requested(int)
        A point of the route wants a name.
    way_requested(int, object)
        Find a way from a point of the route to a place (longitude, latitude), or (None) to the next point.
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

    def __init__(self, look: Look, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setMouseTracking(True)
        self.setMinimumSize(320, 240)
        self.setAccessibleName("Map")
        self.setAccessibleDescription(
            "Arrows move the map, plus and minus zoom, Home shows all, Enter asks about the middle. "
            "M, R, C and A choose what the pointer does; with R, Page Down takes a point of the route in hand, N names "
            "it and the menu key shows what can be done with it; with C, Page Down takes a thing of the camp in hand, "
            "arrows move it, Enter puts it there. Sites and camp are told in full on their pages."
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
        self._chosen_rank: int | None = None
        self._verb = MOVE
        self._tool = RouteTool()
        self._pan_from: QPointF | None = None
        self._pressed_at: QPointF | None = None
        self._route_mark_m: tuple[float, float] | None = None
        self._asked_m: tuple[float, float] | None = None
        self._is_keyboard_mark = False
        self._is_by_keyboard = False
        self._verbs = VerbBar(self)
        self._reading = ReadingCard(self)
        self._hand = MapHand(self)
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
            self._answer, self._picture, self._tiles, self._reach = None, None, None, ReachLines()
            self._hand.show_answer(None, self._frame)
            self._grid = grid_around(plan.route)
            self._is_framed = False
        self._hand.show_plan(plan, self._frame)
        self._draw_route()
        if not self._is_framed:
            self.show_all()

    def show_answer(self, answer: Tonight) -> None:
        """Show what was worked out."""
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
            self._tiles = TileStore(picture, self._look)
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
            self._tiles = TileStore(self._picture, look)
        self.update()

    def show_site(self, rank: int) -> None:
        """Bring a site to the middle and draw it as chosen."""
        self._chosen_rank = rank
        if self._answer is not None:
            for site in self._answer.sites.sites:
                if site.rank == rank:
                    self._frame = self._frame.centred(site.east_m, site.north_m)
        self.update()

    @Slot(object)
    def show_thing(self, key: Key | None) -> None:
        """Ring a thing of the camp, and bring it into view."""
        self._frame = self._hand.frame_on(key, self._frame, self.rect())
        self._hand.follow(self._frame)

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

    def show_why(self, east_m: float, north_m: float, text: str) -> None:
        """Show what speaks for and against a place, beside it."""
        if self._grid is None:
            return
        self._asked_m = (east_m, north_m)
        self._why.show_text(spaced_mgrs(self._grid.mgrs(east_m, north_m)), text)
        x_px, y_px = self._frame.to_px(east_m, north_m)
        left = min(max(int(x_px) + 14, 8), max(self.width() - self._why.width() - 8, 8))
        top = min(max(int(y_px) + 14, 8), max(self.height() - self._why.height() - 8, 8))
        self._why.move(left, top)
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
        self._frame = self._frame.showing((west_m, south_m, east_m, north_m), margin_px=72.0)
        self._is_framed = True
        self.update()

    @Slot(str)
    def choose_verb(self, verb: str) -> None:
        """What the pointer does from now on: `MOVE`, `ROUTE`, `CAMP` or `ASK`."""
        self._verb = verb
        self._tool.clear()
        self._hand.put_back(self._frame)
        self._verbs.show_verb(verb)
        self.setCursor(
            {
                MOVE: Qt.CursorShape.OpenHandCursor,
                ROUTE: Qt.CursorShape.CrossCursor,
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

    # What a person does

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        place = event.position()
        is_left = event.button() == Qt.MouseButton.LeftButton
        if self._verb == CAMP and is_left and self._hand.press(self._frame, place):
            return
        if event.button() == Qt.MouseButton.MiddleButton or (is_left and self._verb != ROUTE):
            self._pan_from, self._pressed_at = place, place
        elif is_left and self._route is not None:
            points_px = self._frame.line_to_px(self._route.points_m)
            edit = self._tool.press(points_px, place.x(), place.y(), self._lonlat_at(place))
            self._draw_route()
            if edit is not None:
                self.edit_requested.emit(edit)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        self._is_keyboard_mark = False
        if self._pan_from is not None:
            moved = place - self._pan_from
            self._pan_from = place
            self._frame = self._frame.panned(-moved.x(), -moved.y())
            self.update()
        elif self._verb == ROUTE and event.buttons() & Qt.MouseButton.LeftButton:
            edit = self._tool.drag(self._lonlat_at(place))
            if edit is not None:
                self.edit_requested.emit(edit)
        else:
            self._hand.drag(self._frame, place)
        self._read_at(place)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        place, pressed = event.position(), self._pressed_at
        self._pan_from, self._pressed_at = None, None
        if self._verb == ROUTE:
            self._tool.release()
            return
        if self._hand.release(self._frame):
            return
        is_click = pressed is not None and (place - pressed).manhattanLength() < 5
        if not is_click or event.button() != Qt.MouseButton.LeftButton:
            return
        if self._verb == ASK:
            self._ask(place)
            return
        rank = self._site_at(place)
        if not self._hand.choose_at(self._frame, place) and rank is not None:
            self.site_chosen.emit(rank)

    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        if self._plan is None or self._route is None:
            return
        points_px = self._frame.line_to_px(self._route.points_m)
        index = self._tool.selected
        place = QPointF(event.pos())
        things = self._hand.menu_entries(self._frame, place)
        if things and event.reason() != QContextMenuEvent.Reason.Keyboard:
            self._pop_up(things, place)
            return
        if event.reason() != QContextMenuEvent.Reason.Keyboard:
            index = point_at(points_px, place.x(), place.y())
        elif index is not None:
            place = QPointF(*points_px[index].tolist())
        else:
            place = QPointF(self.width() / 2, self.height() / 2)
        if index is not None:
            entries = point_entries(self._plan.route, index)
        else:
            stretch = stretch_at(points_px, place.x(), place.y())
            entries = place_entries(self._plan.route, stretch, self._lonlat_at(place))
        self._pop_up(entries, place)

    def _pop_up(self, entries: Iterable[tuple[str, PlanEdit | NameWish | WayWish]], place: QPointF) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for text, wish in entries:
            menu.addAction(text).triggered.connect(partial(self._tell_wish, wish))
        menu.popup(self.mapToGlobal(place.toPoint()))

    def _tell_wish(self, wish: PlanEdit | NameWish | WayWish, is_checked: bool = False) -> None:
        self._tool.clear()
        if isinstance(wish, NameWish):
            self.name_requested.emit(wish.index)
        elif isinstance(wish, WayWish):
            self.way_requested.emit(wish.index, wish.goal)
        else:
            self.edit_requested.emit(wish)

    def focusInEvent(self, event: QFocusEvent) -> None:
        self._is_by_keyboard = event.reason() in _BY_KEYBOARD
        self.update()

    def leaveEvent(self, event: QEvent) -> None:
        self._reading.hide()
        self.moment_pointed.emit(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        notches = event.angleDelta().y() / 120.0
        if notches:
            self._zoom(ZOOM_STEP**notches, event.position().x(), event.position().y())
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if self._verb == ROUTE and self._route_key(key):
            return
        if self._verb == CAMP and self._hand.key(event, self._frame):
            self.show_thing(self._hand.tool.chosen)
            return
        if key in _PANS:
            right, down = _PANS[key]
            self._frame = self._frame.panned(right * PAN_STEP_PX, down * PAN_STEP_PX)
            self._mark_middle()
        elif key in (Qt.Key.Key_Plus, Qt.Key.Key_Equal):
            self.zoom_in()
        elif key == Qt.Key.Key_Minus:
            self.zoom_out()
        elif key == Qt.Key.Key_Home:
            self.show_all()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._ask(QPointF(self.width() / 2, self.height() / 2))
        elif key == Qt.Key.Key_Escape:
            self._why.hide()
            self._on_why_closed()
            self.choose_verb(MOVE)
        elif key in _VERB_KEYS:
            self.choose_verb(_VERB_KEYS[key])
        else:
            super().keyPressEvent(event)

    def _route_key(self, key: Qt.Key) -> bool:
        """Work the route by keyboard; tells whether the key was meant for it."""
        if self._route is None:
            return False
        if key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            self._tool.step(len(self._route.points_m), 1 if key == Qt.Key.Key_PageDown else -1)
            self._draw_route()
            return True
        edit = None
        if key == Qt.Key.Key_N and self._tool.selected is not None:
            self.name_requested.emit(self._tool.selected)
            return True
        if key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            edit = self._tool.remove()
        elif key in _PANS and self._tool.selected is not None:
            right, down = _PANS[key]
            x_px, y_px = self._frame.to_px(*self._route.points_m[self._tool.selected])
            edit = self._tool.nudge(self._lonlat_at(QPointF(x_px + right * NUDGE_PX, y_px + down * NUDGE_PX)))
        elif key == Qt.Key.Key_Escape:
            had = self._tool.clear()
            self._draw_route()
            return had
        else:
            return False
        if edit is not None:
            self.edit_requested.emit(edit)
        return True

    # How it is drawn

    def resizeEvent(self, event: QResizeEvent) -> None:
        self._frame = self._frame.resized(self.width(), self.height())
        self._verbs.move(CARD_MARGIN_PX, CARD_MARGIN_PX)
        self._verbs.adjustSize()
        self._place_reading()

    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.fillRect(self.rect(), self._look.paper)
        is_missing = False
        if self._tiles is not None:
            is_missing = self._tiles.paint(painter, self._frame, self.devicePixelRatioF())
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        if self._grid is not None:
            self._paint_signs(painter, self._grid)
        if self.hasFocus() and self._is_by_keyboard:
            painter.setPen(QPen(self._look.focus, 2.0))
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.drawRect(QRectF(1, 1, self.width() - 2, self.height() - 2))
        painter.end()
        if is_missing:
            QTimer.singleShot(0, self.update)

    def _paint_signs(self, painter: QPainter, grid: Grid) -> None:
        signs = SignPainter(
            painter=painter,
            frame=self._frame,
            look=self._look,
            convergence_deg=grid.convergence_deg(self._frame.east_m, self._frame.north_m),
        )
        signs.grid_lines(grid)
        signs.reserve()
        answer = self._answer
        sites = answer.sites.sites if answer is not None else ()
        opacity = FADED if self._is_stale else 1.0
        painter.setOpacity(opacity)
        signs.reach(self._reach)
        signs.site_outlines(sites, self._chosen_rank)
        split = answer.sites.split if answer is not None else None
        if split is not None:
            signs.split_outlines(split)
        if answer is not None and answer.camp is not None:
            self._hand.paint(signs)
        painter.setOpacity(1.0)  # the route is the person's own and never fades
        if self._route is not None:
            signs.route(self._route)
        painter.setOpacity(opacity)
        signs.site_discs(sites, self._chosen_rank)
        if split is not None:
            signs.split_names(split)
        if self._route is not None:
            signs.turn_back(self._route)
            signs.route_times(self._route)
        signs.site_names(sites, self._chosen_rank)
        signs.reach_names(self._reach)
        painter.setOpacity(1.0)
        if self._route_mark_m is not None:
            signs.place_mark(*self._route_mark_m, is_on_route=True)
        if self._asked_m is not None:
            signs.place_mark(*self._asked_m, is_on_route=False)
        elif self._is_keyboard_mark:
            signs.place_mark(self._frame.east_m, self._frame.north_m, is_on_route=False)
        signs.north()
        signs.scale_bar()

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
            self._frame = self._frame.centred(float(east_m), float(north_m))
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
        self.update()

    def _lonlat_at(self, place: QPointF) -> LonLat:
        assert self._grid is not None
        lon, lat = self._grid.to_lonlat(*self._frame.to_ground(place.x(), place.y()))
        return round(float(lon), 6), round(float(lat), 6)

    def _zoom(self, factor: float, x_px: float, y_px: float) -> None:
        self._frame = self._frame.zoomed(factor, x_px, y_px)
        self._hand.follow(self._frame)

    def _site_at(self, place: QPointF) -> int | None:
        if self._answer is None:
            return None
        for rank, (x_px, y_px) in disc_places(self._frame, self._answer.sites.sites).items():
            if (QPointF(x_px, y_px) - place).manhattanLength() <= SITE_REACH_PX:
                return rank
        return None

    def _ask(self, place: QPointF) -> None:
        if self._answer is not None:
            self.ask_requested.emit(*self._frame.to_ground(place.x(), place.y()))

    def _read_at(self, place: QPointF) -> None:
        if self._grid is None:
            return
        east_m, north_m = self._frame.to_ground(place.x(), place.y())
        self._reading.show_rows(reading_at(self._answer, self._grid, east_m, north_m))
        self._place_reading()
        moment = None
        if self._answer is not None:
            index, distance_m = nearest_station(self._answer.march, east_m, north_m)
            if distance_m <= POINTED_PX * self._frame.m_per_px:
                moment = time_at_station(self._answer.march, index)
        self.moment_pointed.emit(moment)

    def _mark_middle(self) -> None:
        self._is_keyboard_mark = True
        self._read_at(QPointF(self.width() / 2, self.height() / 2))
        self.update()

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
