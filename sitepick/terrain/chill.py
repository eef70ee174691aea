"""How cold the wind makes it, and how soon skin freezes.

Pure functions of the air temperature and of the wind at 10 m. For a shelter that is the forecast
wind times its share of it; the height is never corrected a second time, the index does that itself.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray

CALM_KMH = 5.0  # below it the index has a form of its own
WARM_C = 10.0  # above it the index says nothing

# Index no higher than this -> what to expect of bare skin. Common practice in northern forecasts.
_BANDS = (
    (-55.0, "extreme", "bare skin freezes in under 2 minutes"),
    (-48.0, "severe", "bare skin freezes in 2 to 5 minutes"),
    (-40.0, "very high", "bare skin freezes in 5 to 10 minutes"),
    (-28.0, "high", "bare skin freezes in 10 to 30 minutes"),
    (-10.0, "moderate", "skin is numbed by the cold after a long time outside"),
    (-1.0, "low", "uncomfortable without warm clothing"),
)
_NO_BAND = ("none", "no danger of frostbite")
BAND_NAMES = tuple(f"{name}: {words}" for _, name, words in ((0.0, *_NO_BAND), *reversed(_BANDS)))
BAND_NOT_KNOWN = 255
_ROWS_AT_ONCE = 256  # so that no work array grows with the window

# Range of the formula for the time to frostbite. Lower ends and formula: Canada's weather service,
# from memory; the upper end of the wind likewise.
_MINUTES_WIND_KMH = (25.0, 80.0)
_MINUTES_BELOW_C = -15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Frostbite:
    """What the cold does to bare skin.

    Attributes
    ----------
    band : str
        ``"none"``, ``"low"``, ``"moderate"``, ``"high"``, ``"very high"``, ``"severe"``, ``"extreme"``.
    text : str
        The same for a person, one clause without a full stop.
    minutes : float or None
        To frostbite of bare skin in the most susceptible one in twenty; None outside the range
        that the formula holds for, where only the band counts.
    """

    band: str
    text: str
    minutes: float | None


def wind_chill_c(temperature_c: float, wind_kmh: float) -> float:
    """Temperature that would feel as cold without wind.

    Parameters
    ----------
    temperature_c : float
        Of the air.
    wind_kmh : float
        At 10 m, >= 0.

    Returns
    -------
    float
        °C, never above the air's. Above 10 °C the air's own.

    Notes
    -----
    The index of 2001 of Canada and the United States (Osczevski & Bluestein 2005, BAMS 86:1453).
    Below 5 km/h the straight line to still air, from memory.
    """
    if wind_kmh < 0.0:
        raise ValueError(f"wind of {wind_kmh} km/h")
    if temperature_c > WARM_C:
        return temperature_c
    if wind_kmh < CALM_KMH:
        return min(temperature_c, temperature_c + (-1.59 + 0.1345 * temperature_c) / CALM_KMH * wind_kmh)
    power = math.pow(wind_kmh, 0.16)
    return 13.12 + 0.6215 * temperature_c - 11.37 * power + 0.3965 * temperature_c * power


def frostbite(temperature_c: float, wind_kmh: float) -> Frostbite:
    """How soon bare skin freezes.

    Parameters
    ----------
    temperature_c : float
        Of the air.
    wind_kmh : float
        At 10 m, >= 0.

    Returns
    -------
    Frostbite
        Band always; minutes only in winds over 25 (to 80) km/h and below -15 °C.
    """
    index = round(wind_chill_c(temperature_c, wind_kmh))
    band, text = next(((name, words) for limit, name, words in _BANDS if index <= limit), _NO_BAND)
    minutes = None
    if _MINUTES_WIND_KMH[0] < wind_kmh <= _MINUTES_WIND_KMH[1] and temperature_c < _MINUTES_BELOW_C:
        minutes = (-24.5 * (0.667 * wind_kmh + 4.8) + 2111.0) * math.pow(-4.8 - temperature_c, -1.668)
    return Frostbite(band=band, text=text, minutes=minutes)


def chill_layers(temperature_c: float, wind_kmh: FloatArray) -> tuple[FloatArray, npt.NDArray[np.uint8]]:
    """Wind chill and band of frostbite of every cell.

    Parameters
    ----------
    temperature_c : float
        Of the air.
    wind_kmh : ndarray of shape (rows, cols), float32
        What reaches a shelter of the wind at 10 m; NaN where not known.

    Returns
    -------
    chill_c : ndarray of the same shape, float32
        As `wind_chill_c` tells; NaN where the wind isn't known.
    band : ndarray of the same shape, uint8
        Number in `BAND_NAMES`, from none to extreme; `BAND_NOT_KNOWN` where the wind isn't known.
    """
    chill_c, band = np.empty(wind_kmh.shape, np.float32), np.empty(wind_kmh.shape, np.uint8)
    limits = np.array([limit for limit, *_ in _BANDS])
    for first in range(0, len(wind_kmh), _ROWS_AT_ONCE):
        rows = slice(first, first + _ROWS_AT_ONCE)
        wind = wind_kmh[rows].astype(np.float64)
        if temperature_c > WARM_C:
            index = temperature_c + 0.0 * wind
        else:
            power = np.power(wind, 0.16)
            blown = 13.12 + 0.6215 * temperature_c - 11.37 * power + 0.3965 * temperature_c * power
            calm = np.minimum(temperature_c, temperature_c + (-1.59 + 0.1345 * temperature_c) / CALM_KMH * wind)
            index = np.where(wind < CALM_KMH, calm, blown)
        chill_c[rows] = index
        # Bands are told by the whole degree, like those of one place.
        number = len(limits) - np.searchsorted(limits, np.rint(index), side="left")
        band[rows] = np.where(np.isnan(index), BAND_NOT_KNOWN, number)
    return chill_c, band
