"""Which way a shelter's door looks."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sitepick.grid import Grid
from sitepick.plan.model import Plan
from sitepick.units import bearing_between_deg, bearing_deg

CALM_KMH = 2.0  # Beaufort 0 and the low end of 1: smoke rises straight


def steady_wind_from_deg(plan: Plan) -> float | None:
    """True bearing that the wind comes from; None where it is calm or not known."""
    from_deg, wind_kmh = plan.weather.main_wind_from_deg, plan.weather.mean_wind_kmh
    return None if wind_kmh is not None and wind_kmh < CALM_KMH else from_deg


@dataclass(frozen=True, slots=True, kw_only=True)
class Doors:
    """What decides the doors of a camp.

    Attributes
    ----------
    plan : Plan
        Its weather and the angle off the wind.
    grid : Grid
    centre_m : (east_m, north_m)
        Middle of the camp.
    """

    plan: Plan
    grid: Grid
    centre_m: tuple[float, float]

    def bearing_deg(self, east_m: float, north_m: float) -> float:
        """True bearing that the door of a shelter there looks to.

        Oblique to the wind, on the side that looks to the middle of the camp; straight to the middle
        where it is calm or the wind's direction isn't known.
        """
        to_centre_deg = self._to_centre_deg(east_m, north_m)
        from_deg = steady_wind_from_deg(self.plan)
        if from_deg is None:
            return to_centre_deg
        off_deg = self.plan.camp.door_off_wind_deg
        sides = [bearing_deg(from_deg + sign * off_deg) for sign in (1.0, -1.0)]
        return min(sides, key=lambda side: round(bearing_between_deg(side, to_centre_deg), 6))

    def _to_centre_deg(self, east_m: float, north_m: float) -> float:
        """True bearing to the middle of the camp; south from the middle itself, where the sun is."""
        east, north = self.centre_m[0] - east_m, self.centre_m[1] - north_m
        if math.hypot(east, north) < 0.5:
            return 180.0
        return bearing_deg(math.degrees(math.atan2(east, north)) + self.grid.convergence_deg(east_m, north_m))
