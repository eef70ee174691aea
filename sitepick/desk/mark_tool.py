"""Marking ground by hand: no-go areas, sites of one's own, observers, and the marks of an exercise once they are there.

Which edit follows from which act; no widgets.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

import numpy as np

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.route_tool import REACH_PX, point_at, stretch_at
from sitepick.desk.translation import marked, tr
from sitepick.grid import DoubleArray
from sitepick.plan.exercise_edits import (
    with_mark_changed,
    with_mark_point_added,
    with_mark_point_moved,
    without_mark,
    without_mark_point,
)
from sitepick.plan.mark import POINTS_LEAST, Mark
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
AREA, EXERCISE = "area", "exercise"  # beside observers, what a hand can hold
STEMS = {NO_GO: marked("No-go area"), SITE: marked("Own site"), OBSERVER: marked("Observer")}
CORNERS_LEAST = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkInHand:
    """A corner of an area, an observer, or a point of an exercise's mark.

    Attributes
    ----------
    kind : str
        `OBSERVER`, `AREA` or `EXERCISE`.
    index : int
        Among the plan's observers, its areas or its exercise's marks.
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
    marks : tuple of (float64 array of shape (n, 2), bool)
        Points of the exercise's marks, each once, and whether they go round an area.
    """

    areas: tuple[DoubleArray, ...]
    observers: DoubleArray
    marks: tuple[tuple[DoubleArray, bool], ...] = ()

    def handles(self) -> list[MarkInHand]:
        """Everything that can be taken in hand, in order."""
        corners = [
            MarkInHand(kind=kind, index=index, corner=corner)
            for kind, lines in ((AREA, self.areas), (EXERCISE, tuple(points for points, _ in self.marks)))
            for index, line in enumerate(lines)
            for corner in range(len(line))
        ]
        return corners + [MarkInHand(kind=OBSERVER, index=index) for index in range(len(self.observers))]

    def place(self, mark: MarkInHand) -> tuple[float, float]:
        """Where a mark in hand is seen."""
        if mark.kind == OBSERVER:
            x, y = self.observers[mark.index].tolist()
        elif mark.kind == EXERCISE:
            x, y = self.marks[mark.index][0][mark.corner].tolist()
        else:
            x, y = self.areas[mark.index][mark.corner].tolist()
        return x, y

    def handle_at(self, x_px: float, y_px: float) -> MarkInHand | None:
        """What can be taken in hand under a pixel."""
        if len(self.observers):
            index = point_at(self.observers, x_px, y_px)
            if index is not None:
                return MarkInHand(kind=OBSERVER, index=index)
        for kind, lines in ((EXERCISE, [points for points, _ in self.marks]), (AREA, self.areas)):
            for index, line in enumerate(lines):
                corner = point_at(line, x_px, y_px)
                if corner is not None:
                    return MarkInHand(kind=kind, index=index, corner=corner)
        return None

    def side_at(self, x_px: float, y_px: float) -> MarkInHand | None:
        """The area or line whose side passes under a pixel, with the corner before which a new one belongs."""
        rings = [(AREA, index, ring, True) for index, ring in enumerate(self.areas)]
        lines = [(EXERCISE, index, line, is_ring) for index, (line, is_ring) in enumerate(self.marks) if len(line) > 1]
        for kind, index, line, is_ring in (*lines, *rings):
            corner = stretch_at(np.vstack((line, line[:1])) if is_ring else line, x_px, y_px)
            if corner is not None:
                return MarkInHand(kind=kind, index=index, corner=corner)
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
                return _corner_added(plan, side, place, self._gesture)
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
        return None if mark is None else _corner_removed(plan, mark)

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
        name = mark_name(plan, mark)
        if mark.kind == OBSERVER:
            change = partial(with_observer_values, index=mark.index, place=place)
            return PlanEdit(text=tr("Move {name}", name=name), change=change, gesture=gesture)
        if mark.kind == EXERCISE:
            change = partial(with_mark_point_moved, index=mark.index, point=mark.corner, place=place)
            is_whole = plan.exercise.marks[mark.index].shape == "point"
            text = tr("Move {name}", name=name) if is_whole else tr("Move a point of {name}", name=name)
            return PlanEdit(text=text, change=change, gesture=gesture)
        change = partial(with_corner_moved, index=mark.index, corner=mark.corner, place=place)
        return PlanEdit(text=tr("Move a corner of {name}", name=name), change=change, gesture=gesture)


@dataclass(frozen=True, slots=True, kw_only=True)
class MarkNameWish:
    """To give a mark another name."""

    mark: MarkInHand


def mark_name(plan: Plan, mark: MarkInHand) -> str:
    """What a mark is called."""
    if mark.kind == EXERCISE:
        return plan.exercise.marks[mark.index].told
    return (plan.observers if mark.kind == OBSERVER else plan.areas)[mark.index].name


def is_there(plan: Plan, mark: MarkInHand) -> bool:
    """Whether a plan still has what was taken in hand."""
    if mark.kind == OBSERVER:
        return mark.index < len(plan.observers)
    if mark.kind == EXERCISE:
        marks = plan.exercise.marks
        return mark.index < len(marks) and mark.corner < len(open_ring(marks[mark.index].points))
    return mark.index < len(plan.areas) and mark.corner < len(open_ring(plan.areas[mark.index].ring))


def movable_marks(plan: Plan) -> tuple[Mark, ...]:
    """Marks of the exercise that a hand may move; on a trainee's copy they stand as they were given."""
    return plan.exercise.marks if plan.exercise.handed_in is None else ()


def mark_entries(plan: Plan, mark: MarkInHand) -> list[tuple[str, PlanEdit | MarkNameWish]]:
    """What can be done with a mark: the entries of its menu."""
    name = mark_name(plan, mark)
    rename: tuple[str, PlanEdit | MarkNameWish] = (tr("Rename {name} …", name=name), MarkNameWish(mark=mark))
    gone = _removed(plan, mark)
    if mark.kind != AREA:
        return [rename, (gone.text, gone)]
    is_no_go = plan.areas[mark.index].role == NO_GO
    other, words = (SITE, tr("a site of our own")) if is_no_go else (NO_GO, tr("a no-go area"))
    turned = PlanEdit(
        text=tr("Make {name} {words}", name=name, words=words),
        change=partial(with_area_values, index=mark.index, role=other),
    )
    return [rename, (turned.text, turned), (gone.text, gone)]


def renamed(plan: Plan, mark: MarkInHand, name: str) -> PlanEdit:
    """Give a mark another name."""
    change = _CHANGES[mark.kind]
    old = mark_name(plan, mark)
    name = " ".join(name.split()) or old
    return PlanEdit(text=tr("Rename {old}", old=old), change=partial(change, index=mark.index, name=name))


_CHANGES = {OBSERVER: with_observer_values, AREA: with_area_values, EXERCISE: with_mark_changed}
_REMOVALS = {OBSERVER: without_observer, AREA: without_area, EXERCISE: without_mark}


def _removed(plan: Plan, mark: MarkInHand) -> PlanEdit:
    return PlanEdit(
        text=tr("Remove {name}", name=mark_name(plan, mark)), change=partial(_REMOVALS[mark.kind], index=mark.index)
    )


def _corner_added(plan: Plan, side: MarkInHand, place: LonLat, gesture: int | None) -> PlanEdit:
    name = mark_name(plan, side)
    if side.kind == EXERCISE:
        change = partial(with_mark_point_added, index=side.index, point=side.corner, place=place)
        return PlanEdit(text=tr("Add a point to {name}", name=name), change=change, gesture=gesture)
    change = partial(with_corner_added, index=side.index, corner=side.corner, place=place)
    return PlanEdit(text=tr("Add a corner to {name}", name=name), change=change, gesture=gesture)


def _corner_removed(plan: Plan, mark: MarkInHand) -> PlanEdit:
    """Take a corner out, or the whole where none can be spared."""
    if mark.kind == EXERCISE:
        held = plan.exercise.marks[mark.index]
        if len(open_ring(held.points)) > POINTS_LEAST[held.shape]:
            change = partial(without_mark_point, index=mark.index, point=mark.corner)
            return PlanEdit(text=tr("Remove a point of {name}", name=held.told), change=change)
    elif mark.kind == AREA and len(open_ring(plan.areas[mark.index].ring)) > CORNERS_LEAST:
        change = partial(without_corner, index=mark.index, corner=mark.corner)
        return PlanEdit(text=tr("Remove a corner of {name}", name=plan.areas[mark.index].name), change=change)
    return _removed(plan, mark)


def _with_area_made(plan: Plan, make: partial[Area]) -> Plan:
    return with_area_added(plan, make())
