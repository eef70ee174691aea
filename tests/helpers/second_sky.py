"""When sun and moon cross a height, by a second library, to the second.

PyEphem's own search for risings ends early where a body crosses the horizon flatly: it then gives moments at which, by
its own positions, the moon stands two hundred seconds of arc off the horizon. So its positions are asked here, and the
crossings halved down from them.
"""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta
from itertools import pairwise

import ephem


class SecondSky:
    """Sun and moon over a place at sea level, without air, as PyEphem has them."""

    def __init__(self, lat_deg, lon_deg, body, *, upper_rim=False, step_min=2):
        self._there, self._body, self._upper_rim, self._step_min = ephem.Observer(), body, upper_rim, step_min
        self._there.lat, self._there.lon = str(lat_deg), str(lon_deg)
        self._there.elevation, self._there.pressure = 0, 0

    def height_deg(self, moment):
        """Of the body's middle, or of its upper rim."""
        self._there.date = moment.astimezone(UTC).replace(tzinfo=None)
        self._body.compute(self._there)
        return math.degrees(self._body.alt + (self._body.radius if self._upper_rim else 0.0))

    def through(self, begin, end):
        """Moments of some hours in even steps, and heights at them."""
        minutes = range(0, round((end - begin).total_seconds() / 60) + 1, self._step_min)
        moments = [begin + timedelta(minutes=minute) for minute in minutes]
        return moments, [self.height_deg(moment) for moment in moments]

    def crossing(self, before, after, level_deg):
        """The moment between two at which a height is crossed."""
        rises = self.height_deg(after) > level_deg
        while after - before > timedelta(seconds=0.1):
            middle = before + (after - before) / 2
            if (self.height_deg(middle) > level_deg) == rises:
                after = middle
            else:
                before = middle
        return before

    def crossings(self, begin, end, level_deg):
        """All rises over a height and all falls under it, in two lists, and how near the body's turns come to it.

        Nearness in degrees, of the highest and the lowest of those hours: where it is small, nobody can tell whether
        the body crosses.
        """
        moments, heights = self.through(begin, end)
        rises: list[datetime] = []
        falls: list[datetime] = []
        for (before, low), (after, high) in pairwise(zip(moments, heights, strict=True)):
            if (low > level_deg) != (high > level_deg):
                (rises if high > level_deg else falls).append(self.crossing(before, after, level_deg))
        inner = zip(heights, heights[1:], heights[2:], strict=False)
        turns = [max(heights), min(heights), *(b for a, b, c in inner if (b - a) * (c - b) <= 0.0)]
        return rises, falls, min(abs(turn - level_deg) for turn in turns)
