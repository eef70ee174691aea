"""How fast the unit moves, by mode, trail, load and slope.

Speed is the level rate, divided by the slope's factor and by the cover's going factor. Level rates are
a cold-region table recalled from memory, and the user can set their own; slope shapes are published.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.plan.model import MarchSettings, Weather

DEEP_SNOW_CM = 30.0  # from memory: deeper unbroken snow holds up people on foot
DEEP_SNOW_KMH = 0.8  # from memory: 0.4-1.2 km/h
SLED_SPEED_SHARE = 0.7  # common practice: 0.6-0.8 of the speed without
SLED_UPHILL_SHARE = 0.5  # common practice: on more than 8 % uphill
SLED_UPHILL_TANGENT = 0.08
SLED_STEEPEST_DEG = 20.0  # common practice: a sled is roped or carried beyond

_TABLE_HALF = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Gait:
    """How one mode moves on the level, and the steepest ground it takes.

    Attributes
    ----------
    unbroken_kmh, broken_kmh : float
        On level open ground, for a trail to be broken and for a broken one.
    steepest_deg : float
    """

    unbroken_kmh: float
    broken_kmh: float
    steepest_deg: float


# Rates from memory (middle of a cold-region planning table), the vehicle's ours: a tracked carrier off and
# on a packed trail. Steepest ground: common practice.
GAITS = {
    "foot": Gait(unbroken_kmh=3.2, broken_kmh=3.2, steepest_deg=30.0),
    "snowshoe": Gait(unbroken_kmh=2.4, broken_kmh=3.2, steepest_deg=30.0),
    "ski": Gait(unbroken_kmh=3.2, broken_kmh=4.8, steepest_deg=25.0),
    "vehicle": Gait(unbroken_kmh=8.0, broken_kmh=15.0, steepest_deg=15.0),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How a unit moves.

    Attributes
    ----------
    mode : str
        Out of `plan.model.MODES`.
    has_sled : bool
    unbroken_kmh, broken_kmh : float
        On level open ground, sled counted.
    steepest_deg : float
        Steeper ground is a wall.
    """

    mode: str
    has_sled: bool
    unbroken_kmh: float
    broken_kmh: float
    steepest_deg: float


def pace_of(march: MarchSettings, weather: Weather) -> Pace:
    """How the unit moves, by the plan.

    The user's own speed stands for the route's trail as the plan has it, load and sled included; other
    trails keep the mode's proportion to it. A sled behind a vehicle doesn't slow it.
    """
    gait = GAITS[march.mode]
    unbroken_kmh, broken_kmh = gait.unbroken_kmh, gait.broken_kmh
    if march.mode == "foot" and weather.snow_cm is not None and weather.snow_cm > DEEP_SNOW_CM:
        unbroken_kmh = DEEP_SNOW_KMH
    has_sled = march.has_sled and march.mode != "vehicle"
    if march.level_kmh is not None:
        share = march.level_kmh / (broken_kmh if march.trail_broken else unbroken_kmh)
    else:
        share = SLED_SPEED_SHARE if has_sled else 1.0
    return Pace(
        mode=march.mode,
        has_sled=has_sled,
        unbroken_kmh=unbroken_kmh * share,
        broken_kmh=broken_kmh * share,
        steepest_deg=min(gait.steepest_deg, SLED_STEEPEST_DEG) if has_sled else gait.steepest_deg,
    )


def unladen_pace(march: MarchSettings, weather: Weather) -> Pace:
    """How people of the unit move without sled or vehicle, such as to fetch water."""
    if march.mode == "vehicle":
        return pace_of(MarchSettings(depart=march.depart, mode="foot"), weather)
    pace = pace_of(march, weather)
    if not pace.has_sled:
        return pace
    return Pace(
        mode=pace.mode,
        has_sled=False,
        unbroken_kmh=pace.unbroken_kmh / SLED_SPEED_SHARE,
        broken_kmh=pace.broken_kmh / SLED_SPEED_SHARE,
        steepest_deg=GAITS[pace.mode].steepest_deg,
    )


def tobler_kmh(tangent: npt.ArrayLike) -> DoubleArray:
    """Walking speed on a firm path.

    Parameters
    ----------
    tangent : array_like
        Rise over run along the way, up positive.

    Notes
    -----
    Tobler 1993 (NCGIA Technical Report 93-1); fastest at 6 km/h on a fall of 5 %.
    """
    return np.asarray(6.0 * np.exp(-3.5 * np.abs(np.asarray(tangent, float) + 0.05)))


def ski_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre on touring skis.

    Parameters
    ----------
    tangent : array_like
        Rise over run along the way, up positive.

    Notes
    -----
    The planning rule after Munter: (km + metres up or down / 100) / rate in hours, with rates of
    4 up, 6 on the level and 10 down (figures partly confirmed). The rule jumps where the ground turns from level to
    sloping; ours runs straight from the level to slopes of 5 %.
    """
    slope = np.asarray(tangent, float)
    steep = 1.0 + 10.0 * np.maximum(np.abs(slope), 0.05)
    share = np.minimum(np.abs(slope) / 0.05, 1.0)
    level = 1.0 / 6.0
    sloping = np.where(slope > 0.0, steep / 4.0, steep / 10.0)
    return np.asarray(60.0 * (level + share * (sloping - level)))


def slope_factor(pace: Pace, tangent: npt.ArrayLike) -> DoubleArray:
    """Time on a slope against the level; infinite where it is too steep.

    Parameters
    ----------
    pace : Pace
    tangent : array_like
        Rise over run along the way, up positive.

    Notes
    -----
    On foot and on snowshoes the shape is Tobler's, on skis Munter's; a vehicle loses a fifth on each 4 %
    uphill (ours). With a sled uphill, speed falls further, to half of that without a sled from 8 % on
    (common practice).
    """
    slope = np.asarray(tangent, float)
    if pace.mode == "ski":
        factor = ski_min_per_km(slope) / ski_min_per_km(0.0)
    elif pace.mode == "vehicle":
        factor = 1.0 + 5.0 * np.maximum(slope, 0.0)
    else:
        factor = tobler_kmh(0.0) / tobler_kmh(slope)
    if pace.has_sled:
        toil = SLED_SPEED_SHARE / SLED_UPHILL_SHARE
        factor = factor * np.interp(slope, [0.0, SLED_UPHILL_TANGENT], [1.0, toil])
    steepest = math.tan(math.radians(pace.steepest_deg))
    return np.asarray(np.where(np.abs(slope) > steepest, np.inf, factor))


def slope_table(pace: Pace, *, there_and_back: bool = False) -> FloatArray:
    """The slope's factor as a table over the tangent from -1 to 1, both included.

    With `there_and_back`, each move costs the way there and the same way back.
    """
    tangent = np.arange(-_TABLE_HALF, _TABLE_HALF + 1) / _TABLE_HALF
    factor = slope_factor(pace, tangent)
    return (factor + factor[::-1] if there_and_back else factor).astype(np.float32)
