"""Published functions from slope to speed, as published: what a lone person does, without load, snow and night.

Slopes are tangents (rise over run along the way, up positive), never degrees or percent. Sources and limits of use
stand with `plan.pace.SLOPE_FUNCTIONS`, where the user reads them.
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray

TOBLER_OFF_PATH_FRAC = 0.6  # Tobler 1993
NAISMITH_KMH = 5.0
NAISMITH_CLIMB_M_PER_H = 600.0
LANGMUIR_MIN_PER_M = 10.0 / 300.0
LANGMUIR_GENTLE_DEG, LANGMUIR_STEEP_DEG = 5.0, 12.0

SlopeFunctionOf = Callable[[npt.ArrayLike], DoubleArray]


def tobler_kmh(tangent: npt.ArrayLike) -> DoubleArray:
    """Walking speed on a firm path.

    Parameters
    ----------
    tangent : array_like
        Rise over run along the way, up positive.

    Notes
    -----
    Tobler 1993 (NCGIA Technical Report 93-1); fastest at 6 km/h on a fall of 5 %. Off paths 0.6 of it.
    """
    return np.asarray(6.0 * np.exp(-3.5 * np.abs(np.asarray(tangent, float) + 0.05)))


def tobler_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre by `tobler_kmh`."""
    return np.asarray(60.0 / tobler_kmh(tangent))


def naismith_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre.

    Notes
    -----
    Naismith 1892: 1 h for 5 km and 1 h more for 600 m up. Langmuir's corrections: 10 min less for 300 m down
    between 5 and 12°, 10 min more where it is steeper. It jumps at both angles, as published.
    """
    slope = np.asarray(tangent, float)
    up = np.maximum(slope, 0.0) * 1000.0 / NAISMITH_CLIMB_M_PER_H * 60.0
    down = np.maximum(-slope, 0.0)
    gentle, steep = (math.tan(math.radians(angle)) for angle in (LANGMUIR_GENTLE_DEG, LANGMUIR_STEEP_DEG))
    sign = np.where(down > steep, 1.0, np.where(down >= gentle, -1.0, 0.0))
    return np.asarray(60.0 / NAISMITH_KMH + up + sign * down * 1000.0 * LANGMUIR_MIN_PER_M)


def irmischer_path_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre on paths, after Irmischer and Clarke 2018 (as remembered)."""
    percent = 100.0 * np.asarray(tangent, float)
    speed_m_per_s = 0.11 + np.exp(-((percent + 5.0) ** 2) / (2.0 * 30.0**2))
    return np.asarray(1000.0 / 60.0 / speed_m_per_s)


def irmischer_off_path_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre off paths, after Irmischer and Clarke 2018 (as remembered)."""
    percent = 100.0 * np.asarray(tangent, float)
    speed_m_per_s = 0.11 + 0.67 * np.exp(-((percent + 2.0) ** 2) / (2.0 * 30.0**2))
    return np.asarray(1000.0 / 60.0 / speed_m_per_s)


def rees_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre, after Rees 2004: 0.75 + 0.09 |S| + 14.6 S² s/m."""
    slope = np.abs(np.asarray(tangent, float))
    return np.asarray((0.75 + 0.09 * slope + 14.6 * slope**2) * 1000.0 / 60.0)


def winter_card_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre on snow: 3 km/h, 1 min more for 10 m up, 20 s less for 10 m down.

    Notes
    -----
    A planning card for winter hill walking (walkers' magazine, 2018). Past a fall of 12° nothing more is gained (ours).
    """
    slope = np.asarray(tangent, float)
    down = np.minimum(np.maximum(-slope, 0.0), math.tan(math.radians(LANGMUIR_STEEP_DEG)))
    return np.asarray(20.0 + 100.0 * np.maximum(slope, 0.0) - 100.0 / 3.0 * down)


def ski_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes for one horizontal kilometre on touring skis.

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


def vehicle_min_per_km(tangent: npt.ArrayLike) -> DoubleArray:
    """Minutes against the level's: a fifth more for each 4 % uphill (ours); it gives no level speed of its own."""
    return np.asarray(1.0 + 5.0 * np.maximum(np.asarray(tangent, float), 0.0))


# One for each of `plan.pace.FUNCTION_KEYS`.
MINUTES_PER_KM: dict[str, SlopeFunctionOf] = {
    "tobler": tobler_min_per_km,
    "naismith": naismith_min_per_km,
    "irmischer_path": irmischer_path_min_per_km,
    "irmischer_off_path": irmischer_off_path_min_per_km,
    "rees": rees_min_per_km,
    "winter_card": winter_card_min_per_km,
    "ski_rule": ski_min_per_km,
    "vehicle_grade": vehicle_min_per_km,
}


def own_level_kmh(key: str) -> float:
    """Speed on the level of a function that gives one, on a firm path."""
    path_key = "irmischer_path" if key == "irmischer_off_path" else key
    return 60.0 / float(MINUTES_PER_KM[path_key](0.0))


def off_path_frac(key: str) -> float | None:
    """Speed off paths against that on them, on the level; None where the function doesn't tell."""
    if key == "tobler":
        return TOBLER_OFF_PATH_FRAC
    if key in ("irmischer_path", "irmischer_off_path"):
        return float(irmischer_path_min_per_km(0.0) / irmischer_off_path_min_per_km(0.0))
    return None
