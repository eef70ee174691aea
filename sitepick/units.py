"""Units, said once.

Metres, degrees, minutes, km/h and °C everywhere; a number's unit stands in its name
(``slope_deg``, ``wind_kmh``, ``detour_min``). Shares run 0-1 and end in ``_frac``. Bearings are
degrees clockwise from *true* north; a wind bearing is where the wind comes *from*. Cells are
``(row, col)``, ground points ``(east_m, north_m)``, places on the globe ``(lon_deg, lat_deg)``,
always in that order. Grids are float32, row 0 in the north, NaN where not known.
"""

from __future__ import annotations

import math

KMH_PER_MPS = 3.6
FEET_M = 0.3048  # international foot, exact
US_SURVEY_FEET_M = 1200.0 / 3937.0  # US survey foot, exact
YARD_M = 0.9144  # international yard, exact

_COMPASS = (
    "north", "north-north-east", "north-east", "east-north-east",
    "east", "east-south-east", "south-east", "south-south-east",
    "south", "south-south-west", "south-west", "west-south-west",
    "west", "west-north-west", "north-west", "north-north-west",
)  # fmt: skip


def bearing_deg(value_deg: float) -> float:
    """Fold any angle into 0 (included) to 360 (left out)."""
    folded = math.fmod(value_deg, 360.0)
    if folded < 0.0:
        folded += 360.0
    return 0.0 if folded >= 360.0 else folded


def bearing_between_deg(a_deg: float, b_deg: float) -> float:
    """Smallest angle between two bearings, 0-180."""
    return abs((a_deg - b_deg + 180.0) % 360.0 - 180.0)


def compass_word(value_deg: float, *, point_count: int = 8) -> str:
    """Name of the nearest compass point, out of 4, 8 or 16.

    >>> compass_word(350.0)
    'north'
    >>> compass_word(240.0, point_count=16)
    'west-south-west'
    """
    step_deg = 360.0 / point_count
    index = int(bearing_deg(value_deg + step_deg / 2) // step_deg) % point_count
    return _COMPASS[index * (16 // point_count)]


def slope_percent(slope_deg: float) -> float:
    """Slope in per cent from slope in degrees."""
    return 100.0 * math.tan(math.radians(slope_deg))
