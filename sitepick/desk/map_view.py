"""The map under a person's hand: what pointer, keys and menu do to the view, the route and the marks."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import (
    QContextMenuEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QWheelEvent,
)
from PySide6.QtWidgets import QMenu

from sitepick.desk.edit import PlanEdit
from sitepick.desk.ground_reading import reading_at
from sitepick.desk.map_cards import ASK, CAMP, MARK, MOVE, ROUTE
from sitepick.desk.map_signs import disc_places
from sitepick.desk.mark_tool import MarkInHand, MarkNameWish, mark_entries
from sitepick.desk.route_menu import NameWish, WayWish, place_entries, point_entries
from sitepick.desk.route_sign import (
    nearest_station,
    time_at_station,
)
from sitepick.desk.route_tool import point_at, stretch_at
from sitepick.desk.snap import SNAP_PX
from sitepick.desk.translation import tr
from sitepick.plan.model import LonLat

if TYPE_CHECKING:
    pass

from sitepick.desk.map_canvas import ZOOM_STEP, MapCanvas

PAN_STEP_PX = 80.0
NUDGE_PX = 8.0
AWAITED = "…"
SITE_REACH_PX = 14.0
POINTED_PX = 12.0  # so near to the route the pointer means a time on it
_PANS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, -1),
    Qt.Key.Key_Down: (0, 1),
}
_VERB_KEYS = {Qt.Key.Key_M: MOVE, Qt.Key.Key_R: ROUTE, Qt.Key.Key_K: MARK, Qt.Key.Key_C: CAMP, Qt.Key.Key_A: ASK}
_BY_KEYBOARD = (Qt.FocusReason.TabFocusReason, Qt.FocusReason.BacktabFocusReason, Qt.FocusReason.ShortcutFocusReason)


class MapView(MapCanvas):
    """The map; see `MapCanvas` for what it shows and tells."""

    def mousePressEvent(self, event: QMouseEvent) -> None:
        self.setFocus(Qt.FocusReason.MouseFocusReason)
        place = event.position()
        is_left = event.button() == Qt.MouseButton.LeftButton
        if self._verb == CAMP and is_left and self._hand.press(self._frame, place):
            return
        if event.button() == Qt.MouseButton.MiddleButton or (is_left and self._verb not in (ROUTE, MARK)):
            self._pan_from, self._pressed_at = place, place
        elif is_left and self._verb == MARK:
            self._press_mark(place)
        elif is_left and self._route is not None:
            points_px = self._frame.line_to_px(self._route.points_m)
            edit = self._tool.press(points_px, place.x(), place.y(), self._route_lonlat(place))
            self._draw_route()
            if edit is not None:
                self.edit_requested.emit(edit)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        self._is_keyboard_mark = False
        if self._pan_from is not None:
            moved = place - self._pan_from
            self._pan_from = place
            self._look_at(self._frame.panned(-moved.x(), -moved.y()))
            self.update()
        elif self._verb == ROUTE and event.buttons() & Qt.MouseButton.LeftButton:
            edit = self._tool.drag(self._route_lonlat(place))
            if edit is not None:
                self.edit_requested.emit(edit)
        elif self._verb == MARK and event.buttons() & Qt.MouseButton.LeftButton and self._plan is not None:
            self._tell(self._marking.drag(self._plan, self._lonlat_at(place)))
        else:
            self._hand.drag(self._frame, place)
        self._pointer = place
        if self._is_lens and self._layer is not None:
            self.update()
        self._read_at(place)

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        if self._verb == MARK and self._plan is not None and event.button() == Qt.MouseButton.LeftButton:
            self._tell(self._marking.close(self._plan))
        else:
            self.mousePressEvent(event)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        place, pressed = event.position(), self._pressed_at
        self._pan_from, self._pressed_at = None, None
        if self._verb in (ROUTE, MARK):
            self._tool.release()
            self._marking.release()
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
        is_by_key = event.reason() == QContextMenuEvent.Reason.Keyboard
        place = QPointF(self.width() / 2, self.height() / 2) if is_by_key else QPointF(event.pos())
        things = [] if is_by_key else self._hand.menu_entries(self._frame, place)
        if things:
            self._show_menu(things, place)
            return
        mark = self._mark_at(place, is_by_key=is_by_key)
        if mark is not None:
            self._show_menu(mark_entries(self._plan, mark), place)
            return
        points_px = self._frame.line_to_px(self._route.points_m)
        index = self._tool.selected if is_by_key else point_at(points_px, place.x(), place.y())
        if is_by_key and index is not None:
            place = QPointF(*points_px[index].tolist())
        if index is not None:
            entries = point_entries(self._plan.route, index)
        else:
            stretch = stretch_at(points_px, place.x(), place.y())
            entries = place_entries(self._plan.route, stretch, self._lonlat_at(place))
        self._show_menu(entries, place)

    def _mark_at(self, place: QPointF, *, is_by_key: bool) -> MarkInHand | None:
        """The mark that a menu is about."""
        if self._marks is None or (is_by_key and self._verb != MARK):
            return None
        if is_by_key:
            return self._marking.selected
        seen = self._marks.seen(self._frame)
        return seen.handle_at(place.x(), place.y()) or seen.side_at(place.x(), place.y())

    def _show_menu(self, entries: Sequence[tuple[str, object]], place: QPointF) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        for text, wish in entries:
            menu.addAction(text).triggered.connect(partial(self._tell_wish, wish))
        menu.popup(self.mapToGlobal(place.toPoint()))

    def _tell_wish(self, wish: object, is_checked: bool = False) -> None:
        self._tool.clear()
        self._marking.clear()
        if isinstance(wish, MarkNameWish):
            self.mark_name_requested.emit(wish.mark)
        elif isinstance(wish, NameWish):
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
        self._sun.drop()
        self._pointer = None
        self.update()
        self.moment_pointed.emit(None)

    def wheelEvent(self, event: QWheelEvent) -> None:
        fingers = event.pixelDelta()
        is_touch_pad = event.phase() != Qt.ScrollPhase.NoScrollPhase and not fingers.isNull()
        notches = event.angleDelta().y() / 120.0
        if is_touch_pad and not event.modifiers() & Qt.KeyboardModifier.ControlModifier:
            self._look_at(self._frame.panned(-fingers.x(), -fingers.y()))
            self.update()
        elif notches:
            self._zoom(ZOOM_STEP**notches, event.position().x(), event.position().y())
        event.accept()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = Qt.Key(event.key())
        if self._verb == ROUTE and self._route_key(key):
            return
        if self._verb == MARK and self._mark_key(key):
            return
        if self._verb == CAMP and self._hand.key(event, self._frame):
            self.show_thing(self._hand.tool.chosen)
            return
        if key in _PANS:
            right, down = _PANS[key]
            self._look_at(self._frame.panned(right * PAN_STEP_PX, down * PAN_STEP_PX))
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

    def _press_mark(self, place: QPointF) -> None:
        if self._plan is None or self._marks is None:
            return
        drawn = self._marks.drawn_m
        first_px = self._frame.to_px(*drawn[0].tolist()) if len(drawn) else None
        seen = self._marks.seen(self._frame)
        self._tell(self._marking.press(self._plan, seen, first_px, (place.x(), place.y()), self._lonlat_at(place)))

    def _mark_key(self, key: Qt.Key) -> bool:
        """Work the marks by keyboard; tells whether the key was meant for them."""
        if self._plan is None or self._marks is None:
            return False
        tool, edit, selected = self._marking, None, self._marking.selected
        if key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            edit = tool.put(self._plan, self._lonlat_at(QPointF(self.width() / 2, self.height() / 2)))
            self._mark_middle()
        elif key == Qt.Key.Key_End:
            edit = tool.close(self._plan)
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            edit = tool.remove(self._plan)
        elif key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            tool.step(self._marks.seen(self._frame), 1 if key == Qt.Key.Key_PageDown else -1)
        elif key == Qt.Key.Key_N and selected is not None:
            self.mark_name_requested.emit(selected)
        elif key in _PANS and selected is not None:
            right, down = _PANS[key]
            x_px, y_px = self._marks.seen(self._frame).place(selected)
            edit = tool.nudge(self._plan, self._lonlat_at(QPointF(x_px + right * NUDGE_PX, y_px + down * NUDGE_PX)))
        elif key == Qt.Key.Key_Escape:
            had = tool.clear()
            self._draw_marks()
            return had
        else:
            return False
        self._tell(edit)
        return True

    def _tell(self, edit: PlanEdit | None) -> None:
        """Ask for an edit of the marks, if there is one, and draw them anew."""
        if edit is not None:
            self.edit_requested.emit(edit)
        self._draw_marks()

    # Small steps of the above

    def _lonlat_at(self, place: QPointF) -> LonLat:
        assert self._grid is not None
        lon, lat = self._grid.to_lonlat(*self._frame.to_ground(place.x(), place.y()))
        return round(float(lon), 6), round(float(lat), 6)

    def _route_lonlat(self, place: QPointF) -> LonLat:
        """A point for the route; on a track, where one is near and that is wanted."""
        if self._is_snapping:
            ground_m = self._frame.to_ground(place.x(), place.y())
            found = self._snap.nearest(*ground_m, within_m=SNAP_PX * self._frame.m_per_px)
            if found is not None:
                place = QPointF(*self._frame.to_px(*found))
        return self._lonlat_at(place)

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
        rows = reading_at(self._answer, self._grid, east_m, north_m)
        if self._answer is not None and len(rows) > 1:
            rows = (*rows, (tr("Sun"), AWAITED))
            self._sun.ask(self._answer, east_m, north_m)
        else:
            self._sun.drop()
        self._reading.show_rows(rows)
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
