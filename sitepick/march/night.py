"""Marching in the dark: slower, by the clock of the day.

Pace and reach are reckoned in minutes *by day*; `Night` turns them into minutes on the move. In the dark everything
is slower by the same share, so the quickest way by day is the quickest way at all, and turning the times of all
ground after the spread is exact, on the route and off it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.march.clock import DayClock

_ONE_MIN = timedelta(minutes=1)
_FOR_EVER_MIN = 1e7


@dataclass(frozen=True, slots=True, kw_only=True)
class Night:
    """The dark stretches of a march.

    Attributes
    ----------
    spans : tuple of (begin_min, end_min)
        In minutes on the move, rising; the last may be endless.
    speed_frac : float
        Speed in the dark against that by day.
    """

    spans: tuple[tuple[float, float], ...]
    speed_frac: float

    def moving_min(self, by_day_min: npt.ArrayLike) -> DoubleArray:
        """Minutes on the move for what takes so many by day; NaN stays NaN."""
        wanted = np.asarray(by_day_min, np.float64)
        if not self.spans:
            return wanted
        moving, by_day = self._knots()
        return np.asarray(np.interp(wanted, by_day, moving), np.float64)

    def moving_min_on_grid(self, by_day_min: FloatArray) -> FloatArray:
        """The same for a whole grid, at once where no minute of it is dark."""
        return by_day_min if self._is_over_by(by_day_min) else self.moving_min(by_day_min).astype(np.float32)

    def by_day_min(self, moving_min: float) -> float:
        """What so many minutes on the move are worth by day."""
        if not self.spans:
            return moving_min
        moving, by_day = self._knots()
        return float(np.interp(moving_min, moving, by_day))

    def longer_min(self, start_min: DoubleArray, more_min: FloatArray) -> FloatArray:
        """Minutes on the move for stretches of `more_min` by day that begin after `start_min` by day."""
        end = start_min + more_min
        return (
            more_min
            if self._is_over_by(end)
            else (self.moving_min(end) - self.moving_min(start_min)).astype(np.float32)
        )

    def _is_over_by(self, by_day_min: npt.NDArray[np.floating]) -> bool:
        """Whether none of these minutes is dark: up to the first that is, both clocks agree."""
        return not self.spans or float(np.fmax.reduce(by_day_min, axis=None, initial=0.0)) <= self.spans[0][0]

    def _knots(self) -> tuple[DoubleArray, DoubleArray]:
        """Minutes on the move, and by day, between which both run straight."""
        edges = sorted({0.0, _FOR_EVER_MIN, *(min(edge, _FOR_EVER_MIN) for span in self.spans for edge in span)})
        moving = np.array(edges)
        middle = (moving[:-1] + moving[1:]) / 2.0
        is_dark = np.zeros(middle.size, bool)
        for begin, end in self.spans:
            is_dark |= (middle > begin) & (middle < end)
        worth = np.diff(moving) * np.where(is_dark, self.speed_frac, 1.0)
        return moving, np.concatenate(([0.0], np.cumsum(worth)))


def read_night(clock: DayClock, speed_frac: float) -> Night:
    """The dark stretches of a day's march: before civil dawn, after civil dusk, all of a polar night."""
    sun = clock.sun
    if sun.kind == "polar night":
        return Night(spans=((0.0, math.inf),), speed_frac=speed_frac)
    spans = []
    if sun.kind not in ("midnight sun", "white night"):
        if sun.civil_dawn is not None and sun.civil_dawn > clock.depart:
            spans.append((0.0, _moving_min(clock, sun.civil_dawn)))
        if sun.civil_dusk is not None:
            spans.append((_moving_min(clock, sun.civil_dusk), math.inf))
    return Night(spans=tuple(spans), speed_frac=speed_frac)


def _moving_min(clock: DayClock, moment: datetime) -> float:
    return clock.halt_rule.moving_min(max(0.0, (moment - clock.depart) / _ONE_MIN))
