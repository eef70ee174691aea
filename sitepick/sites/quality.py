"""How good a camp around each cell would be, at a quick look over the whole ground."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from scipy import ndimage

from sitepick.grid import FloatArray, MaskArray
from sitepick.march.model import March
from sitepick.plan.factor import Factor
from sitepick.plan.model import Plan
from sitepick.sites.factors import progress_frac
from sitepick.terrain.model import Terrain

_LEAST = np.float32(1e-3)  # stands for a score of 0 under a logarithm: bad, and still told from what is worse yet


def camp_quality(
    plan: Plan,
    terrain: Terrain,
    march: March,
    can_pitch: MaskArray,
    water_min: FloatArray,
    layers: Mapping[str, FloatArray],
    *,
    radius_cells: float,
) -> FloatArray:
    """The weighted score of the ground to pitch on within a camp's width of each cell.

    Parameters
    ----------
    plan : Plan
        Its preferences.
    terrain : Terrain
    march : March
    can_pitch : bool array
    water_min : float32
        Minutes to water and back; NaN where too far.
    layers : mapping of factor to float32
        Of the further factors; those without a layer don't lead the search.
    radius_cells : float
        Half the camp's width.

    Returns
    -------
    ndarray of the grid's shape, float32
        0-1 on `can_pitch`; -1 elsewhere, and where the forest is outside its limits.
    """
    quality = np.full(can_pitch.shape, -1.0, np.float32)
    window = window_of(can_pitch)
    if window is None:
        return quality
    preferences, is_open = plan.preferences, np.ascontiguousarray(can_pitch[window])
    width = max(1, 2 * int(radius_cells) + 1)
    share = _mean(is_open.astype(np.float32), width)
    forest = _smoothed(terrain.evergreen_frac[window], is_open, share, width, unknown=0.0)
    slope = _smoothed(terrain.slope_30m_deg[window], is_open, share, width, unknown=90.0)
    wind = _smoothed(terrain.wind_share[window], is_open, share, width, unknown=1.0)
    far_min = preferences.water.curve[-1][0]
    water = np.where(np.isnan(water_min[window]), np.float32(far_min), water_min[window])
    # One bad thing spoils a place: products of scores are sums of their logarithms.
    is_geometric = preferences.weighting.mean == "geometric"
    total = np.zeros(is_open.shape, np.float32)
    for factor, layer in (
        (preferences.forest, forest),
        (preferences.slope, slope),
        (preferences.wind, wind),
        (preferences.water, water),
        (preferences.progress, np.nan_to_num(progress_frac(march, march.leave_station[window]))),
        (preferences.detour, np.nan_to_num(march.detour_min[window], nan=preferences.detour.curve[-1][0])),
    ):
        total += np.float32(factor.weight) * _scores(factor, layer, is_geometric=is_geometric)
    # Wide ground leaves a choice of places: a camp's width of it counts as all the room one could want.
    roomy = np.minimum(share, np.float32(1.0))
    total += np.float32(preferences.room.weight) * (np.log(np.maximum(roomy, _LEAST)) if is_geometric else roomy)
    is_out = ~is_open
    for name, layer in layers.items():
        factor = preferences.factor(name)
        further = _smoothed(layer[window], is_open, share, width, unknown=_worst_measure(factor))
        total += np.float32(factor.weight) * _scores(factor, further, is_geometric=is_geometric)
        is_out |= _past_limits(factor, further)
    total /= np.float32(sum(factor.weight for _, factor in preferences.factors()))
    if is_geometric:
        total = np.exp(total)
    is_out |= _past_limits(preferences.forest, forest)
    if preferences.water.limit_max is not None:
        is_out |= water > preferences.water.limit_max
    quality[window] = np.where(is_out, np.float32(-1.0), total)
    return quality


def window_of(mask: MaskArray) -> tuple[slice, slice] | None:
    """Rows and columns that hold every cell of a mask; None where it holds none."""
    rows, cols = np.flatnonzero(mask.any(axis=1)), np.flatnonzero(mask.any(axis=0))
    if not rows.size:
        return None
    return slice(int(rows[0]), int(rows[-1]) + 1), slice(int(cols[0]), int(cols[-1]) + 1)


def _mean(layer: FloatArray, width: int) -> FloatArray:
    return np.asarray(ndimage.uniform_filter(layer, width, mode="constant"), np.float32)


def _smoothed(layer: FloatArray, is_open: MaskArray, share: FloatArray, width: int, *, unknown: float) -> FloatArray:
    """Mean of the open cells around each cell; what isn't known counts as the worst."""
    held = np.where(is_open, np.nan_to_num(layer, nan=unknown), 0.0).astype(np.float32)
    return np.asarray(_mean(held, width) / np.maximum(share, np.float32(1e-4)), np.float32)


def _worst_measure(factor: Factor) -> float:
    """What stands for a measure that isn't known: the end of the curve that scores least."""
    (first, first_score), (last, last_score) = factor.curve[0], factor.curve[-1]
    return first if first_score <= last_score else last


def _past_limits(factor: Factor, layer: FloatArray) -> MaskArray:
    is_past: MaskArray = np.zeros(layer.shape, bool)
    if factor.limit_min is not None:
        is_past |= layer < factor.limit_min
    if factor.limit_max is not None:
        is_past |= layer > factor.limit_max
    return is_past


def _scores(factor: Factor, layer: FloatArray, *, is_geometric: bool) -> FloatArray:
    """Scores of a whole layer, or their logarithms; a table of steps is much quicker than interpolating each cell."""
    measures, scores = (np.array(part) for part in zip(*factor.curve, strict=True))
    low, high = measures[0], measures[-1]
    table = np.interp(np.linspace(low, high, 1024), measures, scores).astype(np.float32)
    if is_geometric:
        table = np.log(np.maximum(table, _LEAST))
    place = np.clip((layer - np.float32(low)) * np.float32(1023.0 / (high - low)), 0.0, 1023.0)
    return np.asarray(table[place.astype(np.int16)], np.float32)
