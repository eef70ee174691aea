"""What a map, a ruler and a compass need of each leg: its bearing, and where it ends."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import accumulate, pairwise

from sitepick.sheet.norths import norths_at
from sitepick.sheet.shape import route_point_m
from sitepick.sheet.words import bearing_words, grid_reference
from sitepick.tonight import Tonight

_STRAIGHT_FRAC = 0.995  # of the distance marched, as the crow flies: less, and one bearing would lead astray
_LEAST_M = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Heading:
    """A stretch of the route.

    Attributes
    ----------
    true_deg, compass_deg : float or None
        True and magnetic bearing; None where the stretch isn't straight or the declination isn't known.
    end_reference : str
        Grid reference of its end.
    """

    true_deg: float | None
    compass_deg: float | None
    end_reference: str

    @property
    def words(self) -> str:
        """Bearing and end in a few words."""
        told = [] if self.true_deg is None else [f"{bearing_words(self.true_deg)} true"]
        told += [] if self.compass_deg is None else [f"compass {bearing_words(self.compass_deg)}"]
        return f"{', '.join(told)} to {self.end_reference}" if told else f"to {self.end_reference}"


def heading(answer: Tonight, start_m: float, end_m: float) -> Heading:
    """The stretch between two distances along the route.

    Parameters
    ----------
    answer : Tonight
    start_m, end_m : float
        From the start of the route, on the ground.
    """
    grid, march = answer.ground.grid, answer.march
    east_m, north_m = route_point_m(march, start_m)
    end_east_m, end_north_m = route_point_m(march, end_m)
    end_reference = grid_reference(grid, end_east_m, end_north_m)
    across_m, up_m = end_east_m - east_m, end_north_m - north_m
    straight_m = math.hypot(across_m, up_m) / grid.point_scale(end_east_m, end_north_m)
    if end_m - start_m < _LEAST_M or straight_m < _STRAIGHT_FRAC * (end_m - start_m):
        return Heading(true_deg=None, compass_deg=None, end_reference=end_reference)
    norths = norths_at(grid, east_m, north_m, march.depart)
    true_deg = (math.degrees(math.atan2(across_m, up_m)) + norths.convergence_deg) % 360.0
    needle = norths.needle
    compass_deg = None if needle is None else (true_deg - needle.declination_deg) % 360.0
    return Heading(true_deg=true_deg, compass_deg=compass_deg, end_reference=end_reference)


def leg_headings(answer: Tonight) -> tuple[Heading, ...]:
    """The heading of every leg, in order."""
    ends_m = [0.0, *accumulate(leg.distance_m for leg in answer.march.legs)]
    return tuple(heading(answer, start_m, end_m) for start_m, end_m in pairwise(ends_m))
