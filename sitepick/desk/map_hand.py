"""The hand that moves things of the camp on the map: pointer and keys in, wishes out."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QPointF, QRect, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QWidget

from sitepick.desk.camp_signs import CampSigns
from sitepick.desk.camp_tool import CampTool, Key, let_go_edit
from sitepick.desk.edit import PlanEdit
from sitepick.desk.map_cards import ReasonCard
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_signs import CAMP_FROM_M_PER_PX, SignPainter
from sitepick.desk.translation import tr
from sitepick.plan.model import Plan

if TYPE_CHECKING:
    from sitepick.camp.things import Thing
    from sitepick.tonight import Tonight

NEAR_M_PER_PX = 0.9  # as near as a chosen thing is shown
EDGE_PX = 20
ARROWS = {
    Qt.Key.Key_Left: (-1, 0),
    Qt.Key.Key_Right: (1, 0),
    Qt.Key.Key_Up: (0, 1),
    Qt.Key.Key_Down: (0, -1),
}


class MapHand(QObject):
    """What the pointer and the keyboard do to the camp on the map.

    Signals
    -------
    edit_requested(PlanEdit)
    thing_chosen(object)
        A thing's kind and name.
    put_down()
        The keyboard is done with the thing.
    """

    edit_requested = Signal(object)
    thing_chosen = Signal(object)
    put_down = Signal()

    def __init__(self, view: QWidget) -> None:
        super().__init__(view)
        self._view = view
        self._tool = CampTool()
        self._card = ReasonCard(view)
        self._answer: Tonight | None = None
        self.shows_dead_ground = False

    @property
    def tool(self) -> CampTool:
        """What is chosen and in hand."""
        return self._tool

    def show_plan(self, plan: Plan, frame: MapFrame) -> None:
        """Take note of what is pinned."""
        self._tool.show_plan(plan)
        self.follow(frame)

    def show_answer(self, answer: Tonight | None, frame: MapFrame) -> None:
        """Take note of where everything lies."""
        self._answer = answer
        self._tool.show_answer(answer)
        self.follow(frame)

    def follow(self, frame: MapFrame) -> None:
        """Show what speaks against the place of the thing in hand, beside it."""
        held = self._tool.in_hand
        if held is None:
            self._card.hide()
        else:
            self._card.show_beside(held.text, *frame.to_px(held.east_m, held.north_m))
        self._view.update()

    def thing_at(self, frame: MapFrame, place: QPointF) -> Thing | None:
        """The thing of the camp under the pointer, where the camp is drawn."""
        if frame.m_per_px >= CAMP_FROM_M_PER_PX:
            return None
        return self._tool.thing_at(frame, place.x(), place.y())

    def choose_at(self, frame: MapFrame, place: QPointF) -> bool:
        """Choose what lies under the pointer; tells whether something does."""
        thing = self.thing_at(frame, place)
        if thing is None:
            return False
        self._tool.chosen = thing.key
        self.thing_chosen.emit(thing.key)
        self._view.update()
        return True

    def press(self, frame: MapFrame, place: QPointF) -> bool:
        """Take what lies under the pointer in hand; tells whether something does."""
        thing = self.thing_at(frame, place)
        if thing is None:
            return False
        self._tool.press(thing, *frame.to_ground(place.x(), place.y()))
        self.thing_chosen.emit(thing.key)
        self._view.update()
        return True

    def drag(self, frame: MapFrame, place: QPointF) -> bool:
        """Move what is in hand; tells whether something is."""
        if not self._tool.is_dragging:
            return False
        self._tool.drag(*frame.to_ground(place.x(), place.y()))
        self.follow(frame)
        return True

    def release(self, frame: MapFrame) -> bool:
        """Put down what the pointer holds; tells whether it held something."""
        if not self._tool.is_dragging:
            return False
        self._tell(self._tool.drop(), frame)
        return True

    def put_back(self, frame: MapFrame) -> bool:
        """Leave things as they were; tells whether one was on its way."""
        had = self._tool.put_back()
        self.follow(frame)
        return had

    def key(self, event: QKeyEvent, frame: MapFrame) -> bool:
        """Work the camp by keyboard; tells whether the key was meant for it."""
        key = Qt.Key(event.key())
        if key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageUp):
            self._step(1 if key == Qt.Key.Key_PageDown else -1)
        elif key in ARROWS and self._tool.chosen is not None:
            is_large = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
            if not self._tool.nudge(*ARROWS[key], is_large=is_large):
                return False
            self.follow(frame)
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self._tool.chosen is not None:
            self._tell(self._tool.pin(), frame)
            self.put_down.emit()
        elif key in (Qt.Key.Key_Delete, Qt.Key.Key_Backspace):
            self._tell(self._tool.let_go(), frame)
        elif key == Qt.Key.Key_Escape:
            return self.put_back(frame)
        else:
            return False
        return True

    def menu_entries(self, frame: MapFrame, place: QPointF) -> list[tuple[str, PlanEdit]]:
        """What can be done with the thing under the pointer."""
        thing = self.thing_at(frame, place)
        return (
            []
            if thing is None or not thing.is_pinned
            else [(tr("Let go of {name}", name=thing.name), let_go_edit(thing.key))]
        )

    def frame_on(self, key: Key | None, frame: MapFrame, rect: QRect) -> MapFrame:
        """Choose a thing, and tell the frame that shows it well: the same where it can be seen already."""
        self._tool.chosen = key
        thing = self._tool.thing(key)
        if thing is None:
            return frame
        x_px, y_px = frame.to_px(thing.east_m, thing.north_m)
        inside = rect.adjusted(EDGE_PX, EDGE_PX, -EDGE_PX, -EDGE_PX)
        if frame.m_per_px <= NEAR_M_PER_PX and inside.contains(int(x_px), int(y_px)):
            return frame
        factor = max(1.0, frame.m_per_px / NEAR_M_PER_PX)
        return frame.centred(thing.east_m, thing.north_m).zoomed(factor, rect.width() / 2, rect.height() / 2)

    def paint(self, signs: SignPainter) -> None:
        """Draw the camp."""
        if self._answer is None or self._answer.camp is None:
            return
        CampSigns(
            signs=signs, grid=self._answer.ground.grid, camp=self._answer.camp, things=self._tool.things(),
            chosen=self._tool.chosen, in_hand=self._tool.in_hand, shows_dead_ground=self.shows_dead_ground,
        ).paint()  # fmt: skip

    def _step(self, by: int) -> None:
        keys = [thing.key for thing in self._tool.things()]
        if keys:
            now = keys.index(self._tool.chosen) if self._tool.chosen in keys else -1 if by > 0 else 0
            self._tool.put_back()
            self._tool.chosen = keys[(now + by) % len(keys)]
            self.thing_chosen.emit(self._tool.chosen)

    def _tell(self, edit: PlanEdit | None, frame: MapFrame) -> None:
        """Send an edit out, once nothing is in hand any more."""
        self.follow(frame)
        if edit is not None:
            self.edit_requested.emit(edit)
