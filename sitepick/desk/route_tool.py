"""Drawing the route by hand: which point is meant, which edit follows. No widgets."""

from __future__ import annotations

from functools import partial

import numpy as np

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.translation import tr
from sitepick.grid import DoubleArray
from sitepick.plan.edits import with_route_point_added, with_route_point_moved, with_route_point_removed
from sitepick.plan.model import LonLat

REACH_PX = 9.0


def point_at(points_px: DoubleArray, x_px: float, y_px: float) -> int | None:
    """Index of the route's point under a pixel, the nearest of those within reach of a hand."""
    distance = np.hypot(points_px[:, 0] - x_px, points_px[:, 1] - y_px)
    index = int(np.argmin(distance))
    return index if distance[index] <= REACH_PX else None


def stretch_at(points_px: DoubleArray, x_px: float, y_px: float) -> int | None:
    """Index of the point before which a new one belongs, where the line passes under a pixel."""
    start, end = points_px[:-1], points_px[1:]
    along = end - start
    square = np.maximum((along**2).sum(axis=1), 1e-9)
    share = np.clip((((x_px, y_px) - start) * along).sum(axis=1) / square, 0.0, 1.0)
    foot = start + share[:, None] * along
    distance = np.hypot(foot[:, 0] - x_px, foot[:, 1] - y_px)
    index = int(np.argmin(distance))
    return index + 1 if distance[index] <= REACH_PX else None


class RouteTool:
    """Keeps which point is in hand while a route is drawn.

    Attributes
    ----------
    selected : int or None
        The point in hand.
    """

    def __init__(self) -> None:
        self.selected: int | None = None
        self._gesture: int | None = None

    def press(self, points_px: DoubleArray, x_px: float, y_px: float, place: LonLat) -> PlanEdit | None:
        """Take the point under the pointer in hand, or set a new one on the line or at its end."""
        self._gesture = new_gesture()
        index = point_at(points_px, x_px, y_px)
        if index is not None:
            self.selected = index
            return None
        index = stretch_at(points_px, x_px, y_px)
        if index is None:
            index = len(points_px)
        self.selected = index
        # the drag that may follow belongs to the same step
        return PlanEdit(
            text=tr("Add point {index}", index=index + 1),
            change=partial(with_route_point_added, index=index, point=place),
            gesture=self._gesture,
        )

    def drag(self, place: LonLat) -> PlanEdit | None:
        """Move the point in hand along with the pointer."""
        if self.selected is None or self._gesture is None:
            return None
        return self._moved(place, self._gesture)

    def release(self) -> None:
        """Let go; the point stays selected for the keyboard."""
        self._gesture = None

    def nudge(self, place: LonLat) -> PlanEdit | None:
        """Move the selected point by the keyboard, one step of its own."""
        return None if self.selected is None else self._moved(place, None)

    def remove(self) -> PlanEdit | None:
        """Take the selected point out of the route."""
        if self.selected is None:
            return None
        index, self.selected = self.selected, None
        return PlanEdit(
            text=tr("Remove point {index}", index=index + 1), change=partial(with_route_point_removed, index=index)
        )

    def step(self, point_count: int, by: int) -> None:
        """Select the next or the previous point."""
        if self.selected is None:
            self.selected = 0 if by > 0 else point_count - 1
        else:
            self.selected = (self.selected + by) % point_count

    def clear(self) -> bool:
        """Select nothing; tells whether something was selected."""
        had = self.selected is not None
        self.selected, self._gesture = None, None
        return had

    def _moved(self, place: LonLat, gesture: int | None) -> PlanEdit:
        index = self.selected
        assert index is not None
        return PlanEdit(
            text=tr("Move point {index}", index=index + 1),
            change=partial(with_route_point_moved, index=index, point=place),
            gesture=gesture,
        )
