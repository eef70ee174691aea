"""Marking ground by hand: no-go areas, sites of one's own, observers. Which edit follows from which act; no widgets."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.route_tool import REACH_PX, point_at, stretch_at
from sitepick.desk.translation import marked, tr
from sitepick.grid import DoubleArray
from sitepick.plan.mark_edits import (
    closed_ring,
    free_name,
    open_ring,
    with_area_added,
    with_area_values,
    with_corner_added,
    with_corner_moved,
    with_observer_added,
    with_observer_values,
    without_area,
    without_corner,
    without_observer,
)
from sitepick.plan.model import Area, LonLat, Plan
from sitepick.plan.observer import Observer

NO_GO, SITE, OBSERVER = "no_go", "site", "observer"
STEMS = {NO_GO: marked("No-go area"), SITE: marked("Own site"), OBSERVER: marked("Observer")}
CORNERS_LEAST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkInHand:
    """A corner of an area, or an observer.

    Attributes
    ----------
    kind : str
        `OBSERVER`, or ``"area"``.
    index : int
        Among the plan's observers or areas.
    corner : int
        0 for an observer.
    """

    kind: str
    index: int
    corner: int = 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class MarksPx:
    """Where a plan's marks are seen.

    Attributes
    ----------
    areas : tuple of float64 arrays of shape (n, 2)
        Corners, each once.
    observers : float64 array of shape (n, 2)
    """

    areas: tuple[DoubleArray, ...]
    observers: DoubleArray

    def handles(self) -> list[MarkInHand]:
        """Everything that can be taken in hand, in order."""
        corners = [
            MarkInHand(kind="area", index=index, corner=corner)
            for index, ring in enumerate(self.areas)
            for corner in range(len(ring))
        ]
        return corners + [MarkInHand(kind=OBSERVER, index=index) for index in range(len(self.observers))]

    def place(self, mark: MarkInHand) -> tuple[float, float]:
        """Where a mark in hand is seen."""
        points = self.observers if mark.kind == OBSERVER else self.areas[mark.index]
        x, y = points[mark.index if mark.kind == OBSERVER else mark.corner].tolist()
        return x, y

    def handle_at(self, x_px: float, y_px: float) -> MarkInHand | None:
        """What can be taken in hand under a pixel."""
        if len(self.observers):
            index = point_at(self.observers, x_px, y_px)
            if index is not None:
                return MarkInHand(kind=OBSERVER, index=index)
        for index, ring in enumerate(self.areas):
            corner = point_at(ring, x_px, y_px)
            if corner is not None:
                return MarkInHand(kind="area", index=index, corner=corner)
        return None

    def side_at(self, x_px: float, y_px: float) -> MarkInHand | None:
        """The area whose side passes under a pixel, with the corner before which a new one belongs."""
        for index, ring in enumerate(self.areas):
            corner = stretch_at(np.vstack((ring, ring[:1])), x_px, y_px)
            if corner is not None:
                return MarkInHand(kind="area", index=index, corner=corner)
        return None


class MarkTool:
    """Keeps what is drawn and what is in hand.

    Attributes
    ----------
    kind : str
        What a click marks: `NO_GO`, `SITE` or `OBSERVER`.
    corners : list of (lon_deg, lat_deg)
        Of the area that is being drawn.
    selected : MarkInHand or None
    """

    def __init__(self) -> None:
        self.kind = NO_GO
        self.corners: list[LonLat] = []
        self.selected: MarkInHand | None = None
        self._gesture: int | None = None

    def press(self, plan: Plan, seen: MarksPx, first_px: tuple[float, float] | None, at: tuple[float, float],
              place: LonLat) -> PlanEdit | None:  # fmt: skip
        """Take in hand what lies under the pointer, close the area being drawn, or set its next corner.

        Parameters
        ----------
        plan : Plan
        seen : MarksPx
        first_px : (x, y) or None
            Where the first corner of the area being drawn is seen.
        at : (x, y)
            Pixel under the pointer.
        place : (lon_deg, lat_deg)
            The same on the globe.
        """
        if not self.corners:
            self.selected = seen.handle_at(*at)
            self._gesture = new_gesture()
            if self.selected is not None:
                return None
            side = seen.side_at(*at)
            if side is not None:
                self.selected = side
                change = partial(with_corner_added, index=side.index, corner=side.corner, place=place)
                return PlanEdit(text=tr("Add a corner to {name}", name=plan.areas[side.index].name), change=change,
                                gesture=self._gesture)  # fmt: skip
        if first_px is not None and np.hypot(at[0] - first_px[0], at[1] - first_px[1]) <= REACH_PX:
            return self.close(plan)
        return self.put(plan, place)

    def put(self, plan: Plan, place: LonLat) -> PlanEdit | None:
        """Mark a place: an observer at once, or the next corner of an area."""
        if self.kind == OBSERVER:
            name = free_name(plan, tr(STEMS[OBSERVER]))
            change = partial(with_observer_added, observer=Observer(place=place, name=name))
            return PlanEdit(text=tr("Mark {name}", name=name), change=change)
        self.selected = None
        self.corners.append(place)
        return None

    def close(self, plan: Plan) -> PlanEdit | None:
        """End the area being drawn; one of fewer than three corners goes on."""
        if len(set(self.corners)) < CORNERS_LEAST:
            return None
        ring, self.corners = closed_ring(self.corners), []
        area = partial(Area, name=free_name(plan, tr(STEMS[self.kind])), role=self.kind, ring=ring)
        return PlanEdit(text=tr("Mark {name}", name=area.keywords["name"]), change=partial(_with_area_made, make=area))

    def drag(self, plan: Plan, place: LonLat) -> PlanEdit | None:
        """Move what is in hand along with the pointer."""
        return None if self.selected is None or self._gesture is None else self._moved(plan, place, self._gesture)

    def nudge(self, plan: Plan, place: LonLat) -> PlanEdit | None:
        """Move what is in hand by the keyboard, one step of its own."""
        return None if self.selected is None else self._moved(plan, place, None)

    def release(self) -> None:
        """Let go; it stays selected for the keyboard."""
        self._gesture = None

    def remove(self, plan: Plan) -> PlanEdit | None:
        """Take out what is in hand, or the last corner drawn."""
        if self.corners:
            self.corners.pop()
            return None
        mark, self.selected = self.selected, None
        if mark is None:
            return None
        if mark.kind == OBSERVER:
            name = plan.observers[mark.index].name
            return PlanEdit(text=tr("Remove {name}", name=name), change=partial(without_observer, index=mark.index))
        area = plan.areas[mark.index]
        if len(open_ring(area.ring)) > CORNERS_LEAST:
            change = partial(without_corner, index=mark.index, corner=mark.corner)
            return PlanEdit(text=tr("Remove a corner of {name}", name=area.name), change=change)
        return PlanEdit(text=tr("Remove {name}", name=area.name), change=partial(without_area, index=mark.index))

    def step(self, seen: MarksPx, by: int) -> None:
        """Take the next or the previous mark in hand."""
        handles = seen.handles()
        if not handles:
            return
        at = handles.index(self.selected) if self.selected in handles else -1 if by > 0 else 0
        self.selected = handles[(at + by) % len(handles)]

    def clear(self) -> bool:
        """Let everything go; tells whether there was anything."""
        had = self.selected is not None or bool(self.corners)
        self.selected, self._gesture, self.corners = None, None, []
        return had

    def _moved(self, plan: Plan, place: LonLat, gesture: int | None) -> PlanEdit:
        mark = self.selected
        assert mark is not None
        if mark.kind == OBSERVER:
            change = partial(with_observer_values, index=mark.index, place=place)
            return PlanEdit(
                text=tr("Move {name}", name=plan.observers[mark.index].name), change=change, gesture=gesture
            )
        moved = partial(with_corner_moved, index=mark.index, corner=mark.corner, place=place)
        return PlanEdit(
            text=tr("Move a corner of {name}", name=plan.areas[mark.index].name), change=moved, gesture=gesture
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkNameWish:
    """To give a mark another name."""

    mark: MarkInHand


def mark_entries(plan: Plan, mark: MarkInHand) -> list[tuple[str, PlanEdit | MarkNameWish]]:
    """What can be done with a mark: the entries of its menu."""
    if mark.kind == OBSERVER:
        observer = plan.observers[mark.index]
        gone = PlanEdit(
            text=tr("Remove {name}", name=observer.name), change=partial(without_observer, index=mark.index)
        )
        return [(tr("Rename {name} …", name=observer.name), MarkNameWish(mark=mark)), (gone.text, gone)]
    area = plan.areas[mark.index]
    other, words = (SITE, tr("a site of our own")) if area.role == NO_GO else (NO_GO, tr("a no-go area"))
    turned = PlanEdit(
        text=tr("Make {name} {words}", name=area.name, words=words),
        change=partial(with_area_values, index=mark.index, role=other),
    )
    gone = PlanEdit(text=tr("Remove {name}", name=area.name), change=partial(without_area, index=mark.index))
    return [(tr("Rename {name} …", name=area.name), MarkNameWish(mark=mark)), (turned.text, turned), (gone.text, gone)]


def renamed(plan: Plan, mark: MarkInHand, name: str) -> PlanEdit:
    """Give a mark another name."""
    change = with_observer_values if mark.kind == OBSERVER else with_area_values
    old = (plan.observers if mark.kind == OBSERVER else plan.areas)[mark.index].name
    return PlanEdit(
        text=tr("Rename {old}", old=old), change=partial(change, index=mark.index, name=" ".join(name.split()) or old)
    )


def _with_area_made(plan: Plan, make: partial[Area]) -> Plan:
    return with_area_added(plan, make())
