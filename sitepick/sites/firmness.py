"""How firm the ranking is: how often each site is first when what it was reckoned from varies within its errors."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, MaskArray
from sitepick.plan.factor import Factor
from sitepick.plan.model import Plan, Preferences
from sitepick.sites.spread import SLOPE_SHIFTS, Spread, share_from, telling_winds

_SEED = 41
_TOP_COUNT = 3
PLACES = 9  # digits that scores are compared to, as in the ranking

OrderArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Draws:
    """Ways in which things may turn out; a row each.

    Attributes
    ----------
    weights : float64 array of shape (draws, factors)
        By what each weight is multiplied.
    turn_deg : float64 array
        How far the wind turns clockwise from the forecast; where no bearing is known, the bearing it comes from;
        NaN: as it was measured.
    wind_speed, pace : float64 arrays
        By what the speed of the wind and of the march is multiplied.
    slope_errors : float64 array of shape (draws, sites)
        How many of its errors a site's ground is steeper.
    """

    weights: DoubleArray
    turn_deg: DoubleArray
    wind_speed: DoubleArray
    pace: DoubleArray
    slope_errors: DoubleArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outcome:
    """What comes of some draws.

    Attributes
    ----------
    scores : float64 array of shape (draws, sites)
        0-1.
    is_out : bool array of shape (draws, sites)
        Past a limit, out of reach or without room.
    """

    scores: DoubleArray
    is_out: MaskArray

    def order(self) -> OrderArray:
        """The sites of each draw, the best first and those that are out last; equal ones as they come."""
        standing = np.where(self.is_out, -1.0, np.round(self.scores, PLACES))
        return np.argsort(-standing, axis=1, kind="stable")

    def first(self) -> OrderArray:
        """Which site is first in each draw; -1 where all are out."""
        standing = np.where(self.is_out, -1.0, np.round(self.scores, PLACES))
        best = np.argmax(standing, axis=1)
        return np.where(self.is_out.all(axis=1), -1, best)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Firmness:
    """How the sites stand over all draws; arrays have an entry a site.

    Attributes
    ----------
    first_share, top_three_share, out_share : float64 arrays
    is_out : bool array of shape (draws, sites)
    """

    first_share: DoubleArray
    top_three_share: DoubleArray
    out_share: DoubleArray
    is_out: MaskArray


def firmness(spread: Spread, plan: Plan) -> Firmness:
    """How often each site is first, among the first three, and out.

    Parameters
    ----------
    spread : Spread
        The sites by rank.
    plan : Plan
        Its preferences, and the error of its pace.

    Returns
    -------
    Firmness
        The same for the same input.
    """
    outcome = outcome_of(spread, plan.preferences, random_draws(spread, plan))
    draw_count, site_count = outcome.is_out.shape
    first = outcome.first()
    leading = outcome.order()[:, :_TOP_COUNT]
    is_leading = ~np.take_along_axis(outcome.is_out, leading, axis=1)
    return Firmness(
        first_share=np.bincount(first[first >= 0], minlength=site_count) / draw_count,
        top_three_share=np.bincount(leading[is_leading], minlength=site_count) / draw_count,
        out_share=outcome.is_out.mean(axis=0),
        is_out=outcome.is_out,
    )


def random_draws(spread: Spread, plan: Plan) -> Draws:
    """Seeded draws: even within the stated errors; the slope's by the normal distribution."""
    weighting, random = plan.preferences.weighting, np.random.default_rng(_SEED)
    count, (site_count, factor_count) = weighting.draw_count, spread.scores.shape
    turn_most = weighting.wind_error_deg if spread.wind_from else 180.0

    def even(most: float, *shape: int) -> DoubleArray:
        return random.uniform(-most, most, shape)

    return Draws(
        weights=1.0 + even(weighting.weight_error_frac, count, factor_count),
        turn_deg=even(turn_most, count),
        wind_speed=1.0 + even(weighting.wind_speed_error_frac, count),
        pace=1.0 + even(plan.march.pace_error_frac, count),
        slope_errors=random.standard_normal((count, site_count)),
    )


def still_draws(spread: Spread, count: int) -> Draws:
    """Draws in which everything turns out as it was measured."""
    site_count, factor_count = spread.scores.shape
    return Draws(
        weights=np.ones((count, factor_count)),
        turn_deg=np.full(count, np.nan),
        wind_speed=np.ones(count),
        pace=np.ones(count),
        slope_errors=np.zeros((count, site_count)),
    )


def outcome_of(spread: Spread, preferences: Preferences, draws: Draws) -> Outcome:
    """Scores and limits of every site in every draw.

    Parameters
    ----------
    spread : Spread
    preferences : Preferences
    draws : Draws

    Returns
    -------
    Outcome
    """
    factors = dict(preferences.factors())
    is_out = spread.way_min[None, :] > draws.pace[:, None] * spread.moving_min_limit
    total, whole = np.zeros(is_out.shape), np.zeros(len(draws.pace))
    is_geometric = preferences.weighting.mean == "geometric"
    is_spoiled = np.zeros(is_out.shape, bool)
    for k, name in enumerate(spread.names):
        factor, varies = factors[name], _VARYING.get(name)
        if varies is None:
            scores = np.broadcast_to(spread.scores[:, k], is_out.shape)
        else:
            values, worst = varies(spread, spread.values[:, k], draws)
            scores = _scores(factor, values, spread.scores[:, k])
            is_out |= np.isneginf(values)
            # What isn't known was within the limits as measured, and no draw can tell more.
            if factor.limit_max is not None:
                is_out |= worst > factor.limit_max
            if factor.limit_min is not None:
                is_out |= values < factor.limit_min
        weights = factor.weight * draws.weights[:, k]
        whole += weights
        if is_geometric:
            is_spoiled |= (scores <= 0.0) & (weights > 0.0)[:, None]
            scores = np.log(np.maximum(scores, 1e-300))
        total += weights[:, None] * scores
    total /= np.maximum(whole, 1e-12)[:, None]
    if is_geometric:
        total = np.where(is_spoiled, 0.0, np.exp(total))
    return Outcome(scores=total, is_out=is_out)


def _scores(factor: Factor, values: DoubleArray, measured: DoubleArray) -> DoubleArray:
    anchors, scores = zip(*factor.curve, strict=True)
    drawn = np.interp(values, anchors, scores)
    return np.where(np.isnan(values), measured[None, :], drawn)


def _wind(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    """Share of the open wind; for the score it is told in winds as fast as forecast, so a faster one counts as more."""
    turn_deg = np.nan_to_num(draws.turn_deg)
    mean = np.broadcast_to(measured, (len(turn_deg), len(measured)))
    worst = np.broadcast_to(spread.wind_worst, mean.shape)
    if spread.wind_from:
        for from_deg, share in spread.wind_from:
            home = np.array([from_deg])
            change = share_from(spread.wind_mean_from, from_deg + turn_deg) - share_from(spread.wind_mean_from, home)
            mean = mean + share * np.nan_to_num(change)
        telling = telling_winds(spread.wind_from)
        there = np.max([share_from(spread.wind_worst_from, from_deg + turn_deg) for from_deg in telling], axis=0)
        here = np.max([share_from(spread.wind_worst_from, np.array([from_deg])) for from_deg in telling], axis=0)
        worst = worst + np.nan_to_num(there - here)
    else:
        is_drawn = np.isfinite(draws.turn_deg)[:, None]
        there, there_worst = share_from(spread.wind_mean_from, turn_deg), share_from(spread.wind_worst_from, turn_deg)
        mean = np.where(is_drawn & np.isfinite(there), there, mean)
        worst = np.where(is_drawn & np.isfinite(there_worst), there_worst, worst)
    return np.maximum(mean, 0.0) * draws.wind_speed[:, None], worst


def _slope(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    """Mean slope. The limit is held against room: a camp loses the ground that is too steep, not all of it."""
    values = np.maximum(measured + draws.slope_errors * spread.slope_error_deg, 0.0)
    return values, np.full(values.shape, -np.inf)


def _kept_frac(spread: Spread, draws: Draws) -> DoubleArray:
    """How much of each site keeps the slope's limit in each draw."""
    place = np.clip(draws.slope_errors, 0.0, SLOPE_SHIFTS[-1]) / (SLOPE_SHIFTS[1] - SLOPE_SHIFTS[0])
    low = np.minimum(place.astype(np.int64), SLOPE_SHIFTS.size - 2)
    part, site = place - low, np.arange(len(spread.capacity))
    kept = spread.slope_kept_frac[site, low] * (1.0 - part) + spread.slope_kept_frac[site, low + 1] * part
    return np.asarray(kept)


def _room(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    spare = np.floor(spread.capacity * _kept_frac(spread, draws) + 1e-9) - spread.need_count
    # Without room for all, a place is no site, whatever the plan's own limit says.
    return np.where(spare < 0.0, -np.inf, spare), spare


def _steepest(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    values = np.maximum(measured + draws.slope_errors * spread.slope_error_deg, 0.0)
    return values, values


def _level_chance(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    """The chance as measured, of what is left of the site when all of it is steeper."""
    values = measured * _kept_frac(spread, draws)
    return values, values


def _minutes(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    values = measured / draws.pace[:, None]
    return values, values


def _progress(spread: Spread, measured: DoubleArray, draws: Draws) -> tuple[DoubleArray, DoubleArray]:
    def share(pace: DoubleArray) -> DoubleArray:
        along_m = np.interp(pace * spread.moving_min_limit, spread.station_min, spread.station_m)
        home_m = np.interp(spread.moving_min_limit, spread.station_min, spread.station_m)
        reach_m = spread.reach_m * along_m / max(float(home_m), 1e-9)
        return np.minimum(spread.leave_m[None, :] / np.maximum(reach_m, 1.0)[:, None], 1.0)

    values = measured + share(draws.pace) - share(np.ones(1))
    return values, values


# A factor that isn't named here stays as it was measured, and only its weight varies.
_VARYING: dict[str, Callable[[Spread, DoubleArray, Draws], tuple[DoubleArray, DoubleArray]]] = {
    "wind": _wind, "slope": _slope, "room": _room, "water": _minutes, "detour": _minutes, "progress": _progress,
    "steepest": _steepest, "level_chance": _level_chance, "morning": _minutes,
}  # fmt: skip
