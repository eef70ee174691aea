"""What may turn out otherwise at each site: the wind from another side, another pace, ground read a little wrong."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sitepick.grid import DoubleArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.measured import Measured
from sitepick.sites.outline import middle_of
from sitepick.terrain.model import Terrain
from sitepick.terrain.wind import ROSE_WORST_SHARE
from sitepick.terrain.wind_round import BEARING_COUNT, CellArray, wind_round

SLOPE_SHIFTS = np.linspace(0.0, 4.0, 33)  # in errors of the site's mean slope
_WIND_CELLS_MAX = 24  # a site's wind is read at so many cells, spread evenly over it
_PATCH_M = 30.0  # heights farther apart than the slope is taken over err on their own


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spread:
    """The sites within limits, as the draws see them; arrays have a row a site.

    Attributes
    ----------
    names : tuple of str
        Factors, in the order of the columns.
    scores, values : float64 arrays of shape (sites, factors)
        As measured; a value that isn't known is NaN and its score, the lower bound, stays as it is.
    wind_worst : float64 array
        Greatest share of the open wind on a site, as measured.
    wind_mean_from, wind_worst_from : float64 arrays of shape (sites, BEARING_COUNT)
        The same shares for wind from each bearing.
    wind_from : tuple of (bearing_deg, share)
        The winds of the forecast, with their shares of the time; empty where no bearing is known.
    slope_error_deg : float64 array
        Error of a site's mean slope, one standard deviation.
    slope_kept_frac : float64 array of shape (sites, shifts)
        How much of a site keeps the slope's limit when its ground is steeper by each of `SLOPE_SHIFTS`.
    way_min, leave_m : float64 arrays
        Minutes on the move to a site; where along the route the way to it leaves it.
    capacity : int64 array
    need_count : int
    moving_min_limit, reach_m : float
    station_min, station_m : float64 arrays
        Minutes and distance along the route, as far as it can be marched.
    """

    names: tuple[str, ...]
    scores: DoubleArray
    values: DoubleArray
    wind_worst: DoubleArray
    wind_mean_from: DoubleArray
    wind_worst_from: DoubleArray
    wind_from: tuple[tuple[float, float], ...]
    slope_error_deg: DoubleArray
    slope_kept_frac: DoubleArray
    way_min: DoubleArray
    leave_m: DoubleArray
    capacity: CellArray
    need_count: int
    moving_min_limit: float
    reach_m: float
    station_min: DoubleArray
    station_m: DoubleArray


def read_spread(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, measured: Sequence[Measured]
) -> Spread | None:  # fmt: skip
    """What may turn out otherwise at each site.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    measured : sequence of Measured
        The sites within limits.

    Returns
    -------
    Spread or None
        None without sites.
    """
    if not measured:
        return None
    mean_from, worst_from = _wind_by_bearing(plan, ground, terrain, measured)
    error_deg, kept = _slopes(plan, terrain, measured)
    middles = [middle_of(one.piece.cells) for one in measured]
    is_marched = np.isfinite(march.station_moving_min)
    return Spread(
        names=tuple(measure.name for measure in measured[0].measures),
        scores=np.array([[measure.score for measure in one.measures] for one in measured]),
        values=np.array(
            [[np.nan if measure.value is None else measure.value for measure in one.measures] for one in measured]
        ),
        wind_worst=np.array([_most(terrain.wind_share_worst[one.piece.index]) for one in measured]),
        wind_mean_from=mean_from,
        wind_worst_from=worst_from,
        wind_from=_winds(plan),
        slope_error_deg=error_deg,
        slope_kept_frac=kept,
        way_min=np.array([march.way_min_at(*middle) for middle in middles]),
        leave_m=np.array(
            [float(np.median(march.station_distance_m[march.leave_station[one.piece.index]])) for one in measured]
        ),
        capacity=np.array([one.piece.capacity for one in measured], np.int64),
        need_count=len(plan.unit.shelters),
        moving_min_limit=march.moving_min_limit,
        reach_m=max(march.reach_along_route_m, 1.0),
        station_min=march.station_moving_min[is_marched],
        station_m=march.station_distance_m[is_marched],
    )


def _most(values: np.ndarray) -> float:
    return float("nan") if np.isnan(values).all() else float(np.nanmax(values))


def _winds(plan: Plan) -> tuple[tuple[float, float], ...]:
    weather = plan.weather
    if weather.wind_rose:
        total = sum(share for _, share, _ in weather.wind_rose)
        return tuple((from_deg, share / total) for from_deg, share, _ in weather.wind_rose if share > 0.0)
    return () if weather.wind_from_deg is None else ((weather.wind_from_deg, 1.0),)


def telling_winds(wind_from: tuple[tuple[float, float], ...]) -> tuple[float, ...]:
    """Bearings of the winds that set the worst: those that blow often enough, as `wind.rose_share` has it."""
    if not wind_from:
        return ()
    telling = min(ROSE_WORST_SHARE, max(share for _, share in wind_from)) - 1e-6
    return tuple(from_deg for from_deg, share in wind_from if share >= telling)


def _wind_by_bearing(
    plan: Plan, ground: Ground, terrain: Terrain, measured: Sequence[Measured]
) -> tuple[DoubleArray, DoubleArray]:
    chosen = [_spread_evenly(one.piece.cells) for one in measured]
    around = wind_round(
        ground, terrain, np.concatenate(chosen), of_forest_frac=plan.ground.evergreen_of_forest_frac
    )  # fmt: skip
    ends = np.cumsum([len(cells) for cells in chosen])[:-1]
    mean_from = np.array([_mean_known(part) for part in np.split(around.mean, ends)])
    worst_from = np.array([_most_known(part) for part in np.split(around.worst, ends)])
    return mean_from, worst_from


def _spread_evenly(cells: CellArray) -> CellArray:
    ordered = cells[np.lexsort((cells[:, 1], cells[:, 0]))]
    count = min(len(ordered), _WIND_CELLS_MAX)
    return ordered[np.linspace(0, len(ordered) - 1, count).round().astype(np.int64)]


def _mean_known(shares: DoubleArray) -> DoubleArray:
    """Mean over the cells that are known; NaN where none is."""
    count = np.isfinite(shares).sum(axis=0)
    return np.asarray(np.where(count > 0, np.nansum(shares, axis=0) / np.maximum(count, 1), np.nan))


def _most_known(shares: DoubleArray) -> DoubleArray:
    most = np.where(np.isnan(shares), -np.inf, shares).max(axis=0)
    return np.asarray(np.where(np.isfinite(most), most, np.nan))


def _slopes(plan: Plan, terrain: Terrain, measured: Sequence[Measured]) -> tuple[DoubleArray, DoubleArray]:
    """Error of each site's mean slope, and how much of the site keeps the limit when all of it is steeper."""
    limit_deg = plan.preferences.slope.limit_max
    cell_m = terrain.grid.ground_cell_m
    errors, kept = [], []
    for one in measured:
        slopes_deg = terrain.slope_30m_deg[one.piece.index].astype(np.float64)
        patch_count = max(1.0, slopes_deg.size * cell_m**2 / _PATCH_M**2)
        known = terrain.slope_error_deg[one.piece.index]
        known = known[np.isfinite(known)]
        error_deg = float(np.mean(known)) / math.sqrt(patch_count) if known.size else 0.0
        errors.append(error_deg)
        if limit_deg is None:
            kept.append(np.ones(SLOPE_SHIFTS.size))
        else:
            room_deg = np.sort(limit_deg - slopes_deg)
            lost = np.searchsorted(room_deg, SLOPE_SHIFTS * error_deg, side="left")
            kept.append(1.0 - lost / slopes_deg.size)
    return np.array(errors), np.array(kept)


def share_from(by_bearing: DoubleArray, from_deg: DoubleArray) -> DoubleArray:
    """Shares at any bearing, straight between the two nearest.

    Parameters
    ----------
    by_bearing : float64 array of shape (sites, BEARING_COUNT)
    from_deg : float64 array of shape (draws,)

    Returns
    -------
    ndarray of shape (draws, sites)
    """
    place = (from_deg % 360.0) / (360.0 / BEARING_COUNT)
    low = np.floor(place).astype(np.int64) % BEARING_COUNT
    part = (place - np.floor(place))[:, None]
    return np.asarray(by_bearing.T[low] * (1.0 - part) + by_bearing.T[(low + 1) % BEARING_COUNT] * part)
