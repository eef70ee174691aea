"""How far a slope may be off, and the chance that ground is within a limit."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt
from scipy import special

from sitepick.grid import FloatArray
from sitepick.ground.model import Ground
from sitepick.terrain.slope import SURROUNDINGS_M

UNDER_TREES_FRAC = 0.1  # ours: what tree tops add, by the height of the trees

# Error of one height against the next, one standard deviation, by the width of the source's cells (5 % of slack).
# From memory: a 30 m surface model promises 2 m between neighbours for nine in ten on slopes up to 20 %,
# 2 / 1.645 = 1.2; airborne lasers 0.1-0.2 m on open ground. The rest is ours, in between.
_ERROR_M = {
    "terrain": ((2.6, 0.15), (10.5, 0.3), (31.5, 1.0), (math.inf, 2.5)),
    "surface": ((2.6, 0.3), (10.5, 0.6), (31.5, 1.2), (math.inf, 3.0)),
}
_ERROR_M["unknown"] = _ERROR_M["surface"]
_FAR_FROM_LEVEL = 1000.0  # squared slope over error past which the exact distribution and the normal one agree


def height_error_m(ground: Ground, told_m: float | None) -> float:
    """Vertical error that neighbouring heights don't share, one standard deviation.

    Parameters
    ----------
    ground : Ground
    told_m : float or None
        What the user knows of the files; None: what is usual for the kind of model and its cells.
    """
    if told_m is not None:
        return told_m
    table = _ERROR_M[ground.elevation_kind]
    return next(error_m for width_m, error_m in table if ground.source_cell_m <= width_m)


def slope_error_deg(
    slope_30m_deg: FloatArray, height_error_m: float, ground: Ground, taken_off_m: FloatArray | None = None
) -> FloatArray:
    """Error of the 30 m slope, one standard deviation along and across the fall.

    Parameters
    ----------
    slope_30m_deg : ndarray, float32
    height_error_m : float
        Of one height of the source.
    ground : Ground
    taken_off_m : ndarray of the slope's shape, float32, optional
        Height of the trees where they were taken off the heights, 0 elsewhere.

    Returns
    -------
    ndarray of the slope's shape, float32
        Degrees; NaN where the slope is.

    Notes
    -----
    A plane through n x n heights, each with the same error e and L apart, has a gradient with the error
    e / sqrt(n L^2 n (n^2 - 1) / 12). Between heights that lie wider apart than 30 m it is e sqrt(2) / L.
    """
    spacing_m = max(ground.source_cell_m, ground.grid.ground_cell_m)
    count = round(SURROUNDINGS_M / spacing_m)
    lever_m = spacing_m * (count * math.sqrt((count**2 - 1) / 12.0) if count >= 2 else math.sqrt(0.5))
    error_m: FloatArray | np.float32 = np.float32(height_error_m)
    if taken_off_m is not None:
        error_m = np.hypot(error_m, np.float32(UNDER_TREES_FRAC) * taken_off_m)
    level = np.cos(np.radians(slope_30m_deg)) ** 2  # a gradient's error turns the angle less, the steeper it is
    return np.asarray(np.degrees(error_m / np.float32(lever_m) * level), np.float32)


def chance_within(slope_deg: npt.ArrayLike, error_deg: npt.ArrayLike, limit_deg: float) -> npt.NDArray[np.float64]:
    """Chance that the ground is no steeper than a limit.

    Parameters
    ----------
    slope_deg, error_deg : array_like
        As read, and its error as `slope_error_deg` tells it.
    limit_deg : float

    Returns
    -------
    ndarray, float64
        0-1; NaN where slope or error is.

    Notes
    -----
    The gradient has an error of its own to the north and to the east, so the true steepness follows Rice's
    distribution: level ground is rarely as level as it looks. Without error it is yes or no.
    """
    slope, error = np.asarray(slope_deg, np.float64), np.asarray(error_deg, np.float64)
    spread = np.radians(error) / np.cos(np.radians(slope)) ** 2
    with np.errstate(divide="ignore", invalid="ignore"):
        steep, limit = np.tan(np.radians(slope)) / spread, math.tan(math.radians(limit_deg)) / spread
        is_far = steep**2 > _FAR_FROM_LEVEL
        near = special.chndtr(limit**2, 2.0, np.where(is_far, 0.0, steep**2))
        chance = np.where(is_far, special.ndtr(limit - steep), near)
    certain = np.where(slope <= limit_deg, 1.0, 0.0)
    chance = np.where(error == 0.0, certain, chance)
    return np.where(np.isnan(slope) | np.isnan(error), np.nan, chance)
