"""Putting things of the camp in their places by hand: what is in hand, what speaks against it. No widgets."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from sitepick.desk.edit import PlanEdit
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.translation import marked, tr
from sitepick.plan.model import LonLat, Plan
from sitepick.plan.pins import Pin, with_pin, with_pin_dropped, with_pins_dropped

if TYPE_CHECKING:
    from sitepick.camp.by_hand import Hand
    from sitepick.camp.things import Thing
    from sitepick.grid import Grid
    from sitepick.tonight import Tonight

REACH_PX = 12.0
STEP_M, LARGE_STEP_M = 1.0, 10.0
FREE = marked("Nothing speaks against it.")
Key = tuple[str, str]


@dataclass(frozen=True, slots=True, kw_only=True)
class InHand:
    """A thing on its way.

    Attributes
    ----------
    key : (kind, name)
    east_m, north_m : float
        Where it is now, grid coordinates.
    reasons : tuple of str
        What speaks against that place.
    """

    key: Key
    east_m: float
    north_m: float
    reasons: tuple[str, ...]

    @property
    def text(self) -> str:
        """The reasons as a person reads them beside the pointer."""
        return "\n".join(f"{reason[0].upper()}{reason[1:]}." for reason in self.reasons) or tr(FREE)


class CampTool:
    """Keeps which thing of the camp is chosen, and where it is while it is moved.

    Attributes
    ----------
    chosen : (kind, name) or None
    in_hand : InHand or None
        None while nothing is moved.
    """

    def __init__(self) -> None:
        self.chosen: Key | None = None
        self.in_hand: InHand | None = None
        self._answer: Tonight | None = None
        self._plan: Plan | None = None
        self._hand: Hand | None = None
        self._grip_m: tuple[float, float] | None = None

    def show_plan(self, plan: Plan) -> None:
        """Take note of what is pinned; a plan that changes under a drag ends it."""
        if self._plan is not None and plan.camp.pins != self._plan.camp.pins:
            self.in_hand, self._grip_m = None, None
        self._plan = plan

    def show_answer(self, answer: Tonight | None) -> None:
        """Take note of where everything lies."""
        if answer is None or self._answer is None or answer.camp is not self._answer.camp:
            self._hand = None
            self.in_hand, self._grip_m = None, None
        self._answer = answer

    @property
    def grid(self) -> Grid | None:
        """The grid that places are in."""
        return None if self._answer is None else self._answer.ground.grid

    @property
    def is_dragging(self) -> bool:
        """Whether the pointer holds a thing."""
        return self._grip_m is not None

    def things(self) -> tuple[Thing, ...]:
        """Everything in the camp, where the plan's pins put it already if the answer is older than they are."""
        from sitepick.camp.things import things_of

        if self._answer is None or self._answer.camp is None or self._plan is None:
            return ()
        grid = self._answer.ground.grid
        pinned = {pin.key: grid.from_lonlat(*pin.place) for pin in self._plan.camp.pins}
        used = {pin.key for pin in self._answer.plan.camp.pins}
        things = []
        for thing in things_of(self._answer.camp):
            at = pinned.get(thing.key)
            if at is not None and (thing.is_pinned or thing.key not in used):
                thing = replace(thing, east_m=float(at[0]), north_m=float(at[1]), is_pinned=True)
            elif at is None and thing.is_pinned:
                thing = replace(thing, is_pinned=False)
            things.append(thing)
        return tuple(things)

    def thing(self, key: Key | None) -> Thing | None:
        """One of them by its key."""
        return next((thing for thing in self.things() if thing.key == key), None)

    def thing_at(self, frame: MapFrame, x_px: float, y_px: float) -> Thing | None:
        """The thing under a pixel, the nearest of those within reach of a hand."""
        things = self.things()
        if not things:
            return None
        at = np.array([frame.to_px(thing.east_m, thing.north_m) for thing in things])
        away = np.hypot(at[:, 0] - x_px, at[:, 1] - y_px)
        nearest = int(np.argmin(away))
        return things[nearest] if away[nearest] <= REACH_PX else None

    def press(self, thing: Thing, east_m: float, north_m: float) -> None:
        """Take a thing in hand where it was gripped."""
        self.chosen = thing.key
        self._grip_m = (thing.east_m - east_m, thing.north_m - north_m)

    def drag(self, east_m: float, north_m: float) -> None:
        """Move the thing along with the pointer, and ask what speaks against the place."""
        if self._grip_m is not None and self.chosen is not None:
            self._hold(self.chosen, east_m + self._grip_m[0], north_m + self._grip_m[1])

    def nudge(self, right: int, up: int, *, is_large: bool) -> bool:
        """Move the chosen thing by the keyboard, a metre or ten on the ground; tells whether there is one."""
        thing = self.thing(self.chosen)
        if thing is None or self._answer is None:
            return False
        grid = self._answer.ground.grid
        at = self.in_hand or InHand(key=thing.key, east_m=thing.east_m, north_m=thing.north_m, reasons=())
        step_m = (LARGE_STEP_M if is_large else STEP_M) * grid.cell_m / grid.ground_cell_m
        self._hold(thing.key, at.east_m + right * step_m, at.north_m + up * step_m)
        return True

    def drop(self) -> PlanEdit | None:
        """Put the thing where it is now; None where it wasn't moved."""
        held, self.in_hand, self._grip_m = self.in_hand, None, None
        return None if held is None else self._pinned(held.key, held.east_m, held.north_m)

    def pin(self) -> PlanEdit | None:
        """Put the chosen thing where it is, moved or not."""
        if self.in_hand is not None:
            return self.drop()
        thing = self.thing(self.chosen)
        return None if thing is None else self._pinned(thing.key, thing.east_m, thing.north_m)

    def put_back(self) -> bool:
        """Leave the thing where it was; tells whether one was on its way."""
        had = self.in_hand is not None
        self.in_hand, self._grip_m = None, None
        return had

    def let_go(self) -> PlanEdit | None:
        """Let go of the chosen thing; None where it isn't pinned."""
        self.put_back()
        is_pinned = self._plan is not None and any(pin.key == self.chosen for pin in self._plan.camp.pins)
        return let_go_edit(self.chosen) if is_pinned and self.chosen is not None else None

    def _hold(self, key: Key, east_m: float, north_m: float) -> None:
        from sitepick.camp.by_hand import hand_of, why_not_there

        answer = self._answer
        if answer is None or answer.camp is None:
            return
        if self._hand is None:
            self._hand = hand_of(answer.plan, answer.ground, answer.terrain, answer.sites, answer.camp)
        reasons = why_not_there(self._hand, key, east_m, north_m)
        self.in_hand = InHand(key=key, east_m=east_m, north_m=north_m, reasons=reasons)

    def _pinned(self, key: Key, east_m: float, north_m: float) -> PlanEdit | None:
        if self._answer is None:
            return None
        lon, lat = self._answer.ground.grid.to_lonlat(east_m, north_m)
        place: LonLat = (round(float(lon), 7), round(float(lat), 7))  # a centimetre
        pin = Pin(kind=key[0], name=key[1], place=place)
        return PlanEdit(text=tr("Put {name} by hand", name=key[1]), change=partial(with_pin, pin=pin))


def let_go_edit(key: Key) -> PlanEdit:
    """Let go of one thing."""
    return PlanEdit(text=tr("Let go of {name}", name=key[1]), change=partial(with_pin_dropped, key=key))


LET_GO_OF_ALL = PlanEdit(text=marked("Let go of everything in the camp"), change=with_pins_dropped)
