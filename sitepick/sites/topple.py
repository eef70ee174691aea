"""The one change that would topple the pick: the smallest, in units of its own stated error."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sitepick.grid import DoubleArray
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import Plan
from sitepick.sites.firmness import Draws, outcome_of, still_draws
from sitepick.sites.model import Topple
from sitepick.sites.spread import Spread
from sitepick.units import bearing_deg, compass_word

_STEP = 0.1  # units of error, first time through
_FINE_STEPS = 20


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that turns out otherwise, to one side.

    Attributes
    ----------
    name : str
        A factor whose weight changes, or "wind direction", "wind speed", "pace", "ground".
    error : float
        Its stated error: a share, degrees, or 1 for the ground, which is told in errors.
    sign : float
        1 or -1.
    units_most : float
        How many errors are tried.
    make : callable
        ``make(draws, amounts) -> draws``; amounts with their sign.
    words : callable
        ``words(amount) -> str``: the change as a person says it.
    """

    name: str
    error: float
    sign: float
    units_most: float
    make: Callable[[Draws, DoubleArray], Draws]
    words: Callable[[float], str]


def smallest_topple(spread: Spread, plan: Plan) -> Topple | None:
    """The smallest single change that takes the pick from its place.

    Parameters
    ----------
    spread : Spread
        The sites by rank, the pick first.
    plan : Plan

    Returns
    -------
    Topple or None
        None where no change tried does it.

    Notes
    -----
    Each change is tried in steps of a tenth of its error and refined from there; what topples only between two
    steps is not seen.
    """
    best: tuple[float, Change, int] | None = None
    for change in _changes(spread, plan):
        found = _least(spread, plan, change)
        if found is not None and (best is None or found[0] < best[0] - 1e-9):
            best = found[0], change, found[1]
    if best is None:
        return None
    units, change, first = best
    return Topple(
        name=change.name,
        text=change.words(change.sign * units * change.error),
        error_units=units,
        then_first=None if first < 0 else first,
    )


def _least(spread: Spread, plan: Plan, change: Change) -> tuple[float, int] | None:
    """How many errors it takes, and which site is first then."""
    units: DoubleArray = np.arange(1, int(change.units_most / _STEP + 1e-6) + 1, dtype=np.float64) * _STEP
    for fine in (False, True):
        if not units.size:
            return None
        first = _first_after(spread, plan, change, units)
        toppled = np.flatnonzero(first != 0)
        if not toppled.size:
            return None
        at = int(toppled[0])
        if fine:
            return float(units[at]), int(first[at])
        units = units[at] - _STEP + np.arange(1, _FINE_STEPS + 1) * (_STEP / _FINE_STEPS)
    return None


def _first_after(spread: Spread, plan: Plan, change: Change, units: DoubleArray) -> np.ndarray:
    draws = change.make(still_draws(spread, len(units)), change.sign * change.error * units)
    return outcome_of(spread, plan.preferences, draws).first()


def _changes(spread: Spread, plan: Plan) -> list[Change]:
    weighting, changes = plan.preferences.weighting, []
    factors = dict(plan.preferences.factors())
    for k, name in enumerate(spread.names):
        if factors[name].weight > 0.0:
            changes += _both(name, weighting.weight_error_frac, (12.0, _down(weighting.weight_error_frac, 0.0)),
                             _weight_changer(k), _weight_teller(FACTOR_WORDS[name].label))  # fmt: skip
    if spread.wind_from:
        most = 180.0 / max(weighting.wind_error_deg, 1e-9)
        main_deg = plan.weather.main_wind_from_deg or 0.0
        changes += _both("wind direction", weighting.wind_error_deg, (most, most), _turned, _turn_teller(main_deg))
    speed = weighting.wind_speed_error_frac
    changes += _both("wind speed", speed, (12.0, _down(speed, 0.1)), _blown, _wind_words)
    pace = plan.march.pace_error_frac
    changes += _both("pace", pace, (6.0, _down(pace, 0.2)), _paced, _pace_words)
    if spread.slope_error_deg[0] > 0.0:
        changes += _both("ground", 1.0, (4.0, 4.0), _steepened, _slope_teller(float(spread.slope_error_deg[0])))
    return changes


def _both(
    name: str,
    error: float,
    most: tuple[float, float],
    make: Callable[[Draws, DoubleArray], Draws],
    words: Callable[[float], str],
) -> list[Change]:
    """The change to either side; none where it is stated to be certain."""
    if error <= 0.0:
        return []
    return [
        Change(name=name, error=error, sign=sign, units_most=units_most, make=make, words=words)
        for sign, units_most in zip((1.0, -1.0), most, strict=True)
    ]


def _down(error: float, least: float) -> float:
    """How many errors lead from all of a quantity down to a share of it."""
    return (1.0 - least) / error if error > 0.0 else 0.0


def _weight_changer(k: int) -> Callable[[Draws, DoubleArray], Draws]:
    def make(draws: Draws, amounts: DoubleArray) -> Draws:
        weights = draws.weights.copy()
        weights[:, k] = np.maximum(1.0 + amounts, 0.0)
        return replace(draws, weights=weights)

    return make


def _turned(draws: Draws, amounts: DoubleArray) -> Draws:
    return replace(draws, turn_deg=amounts)


def _blown(draws: Draws, amounts: DoubleArray) -> Draws:
    return replace(draws, wind_speed=1.0 + amounts)


def _paced(draws: Draws, amounts: DoubleArray) -> Draws:
    return replace(draws, pace=1.0 + amounts)


def _steepened(draws: Draws, amounts: DoubleArray) -> Draws:
    errors = draws.slope_errors.copy()
    errors[:, 0] = amounts
    return replace(draws, slope_errors=errors)


def _weight_teller(label: str) -> Callable[[float], str]:
    def words(amount: float) -> str:
        times = 1.0 + amount
        if times <= 0.005:
            return f"{label} not counting at all"
        if abs(times - 2.0) < 0.05:
            return f"{label} weighing twice as much"
        if times > 2.0:
            return f"{label} weighing {times:.1f} times as much"
        return f"{label} weighing {_percent(amount)} {'more' if amount > 0.0 else 'less'}"

    return words


def _turn_teller(main_deg: float) -> Callable[[float], str]:
    def words(amount: float) -> str:
        there_deg = bearing_deg(main_deg + amount)
        side = compass_word(there_deg, point_count=16)
        return f"the wind {'veering' if amount > 0.0 else 'backing'} to {side} ({there_deg:.0f}°) or past it"

    return words


def _wind_words(amount: float) -> str:
    return f"a wind {_percent(amount)} {'stronger' if amount > 0.0 else 'weaker'}"


def _pace_words(amount: float) -> str:
    return f"a pace {_percent(amount)} {'faster' if amount > 0.0 else 'slower'}"


def _slope_teller(error_deg: float) -> Callable[[float], str]:
    def words(amount: float) -> str:
        side = "steeper" if amount > 0.0 else "leveller"
        return f"the ground {abs(amount) * error_deg:.1f}° {side} than the heights tell"

    return words


def _percent(amount: float) -> str:
    share = 100.0 * abs(amount)
    return f"{share:.0f} %" if share >= 1.0 else "less than 1 %"
