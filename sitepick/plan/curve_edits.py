"""Edits of the curves from measure to score: pure functions from one plan to the next."""

from __future__ import annotations

from sitepick.errors import SettingsError
from sitepick.plan.edits import with_factor
from sitepick.plan.factor import Factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import Plan, Preferences

Curve = tuple[tuple[float, float], ...]
POINTS_LEAST, POINTS_MAX = 2, 8


def usual_curve(factor_name: str) -> Curve:
    """The curve that a factor has in a new plan."""
    return Preferences().factor(factor_name).curve


def with_curve(plan: Plan, factor_name: str, curve: Curve) -> Plan:
    """The plan with another curve for one factor.

    Raises
    ------
    SettingsError
        Its measures don't rise, its scores turn back, or all of it comes to lie past the factor's limit.
    """
    held = plan.preferences.factor(factor_name)
    changed = with_factor(plan, factor_name, curve=curve)
    if is_past_limit(changed.preferences.factor(factor_name)) and not is_past_limit(held):
        raise SettingsError(
            f"the curve of {FACTOR_WORDS[factor_name].label} would lie wholly past its limit, so that all ground "
            "within the limit scored alike",
            fix="move the limit first, or another point of the curve",
        )
    return changed


def with_curve_point(
    plan: Plan, factor_name: str, index: int, *, measure: float | None = None, score: float | None = None
) -> Plan:
    """The plan with one anchor point of a curve moved; what isn't given stays."""
    curve = list(plan.preferences.factor(factor_name).curve)
    old_measure, old_score = curve[index]
    curve[index] = (old_measure if measure is None else measure, old_score if score is None else score)
    return with_curve(plan, factor_name, tuple(curve))


def with_curve_point_added(plan: Plan, factor_name: str, index: int) -> Plan:
    """The plan with an anchor point half way between one and the next, on the curve, so that no score changes."""
    curve = plan.preferences.factor(factor_name).curve
    if len(curve) >= POINTS_MAX:
        raise SettingsError(f"a curve has {POINTS_MAX} points at most", fix="take one out first")
    (low, low_score), (high, high_score) = curve[index], curve[index + 1]
    middle = ((low + high) / 2.0, (low_score + high_score) / 2.0)
    return with_curve(plan, factor_name, (*curve[: index + 1], middle, *curve[index + 1 :]))


def without_curve_point(plan: Plan, factor_name: str, index: int) -> Plan:
    """The plan with an anchor point taken out of a curve; two always stay."""
    curve = plan.preferences.factor(factor_name).curve
    if len(curve) <= POINTS_LEAST:
        raise SettingsError("a curve needs two points", fix="move the point, or go back to the usual curve")
    return with_curve(plan, factor_name, (*curve[:index], *curve[index + 1 :]))


def with_usual_curve(plan: Plan, factor_name: str) -> Plan:
    """The plan with a factor's usual curve; its weight and limits stay."""
    return with_factor(plan, factor_name, curve=usual_curve(factor_name))


def is_past_limit(factor: Factor) -> bool:
    """Whether all ground within a factor's limits scores alike, since its curve lies past one of them."""
    first, last = factor.curve[0][0], factor.curve[-1][0]
    return (factor.limit_max is not None and factor.limit_max <= first) or (
        factor.limit_min is not None and factor.limit_min >= last
    )


def score_room(curve: Curve, index: int) -> tuple[float, float]:
    """Lowest and highest score that a point may have without the curve turning back."""
    rest = [score for number, (_, score) in enumerate(curve) if number != index]
    is_rising, is_falling = rest[0] <= rest[-1], rest[0] >= rest[-1]
    before = curve[index - 1][1] if index else None
    after = curve[index + 1][1] if index + 1 < len(curve) else None
    if before is not None and after is not None:
        return min(before, after), max(before, after)
    beside = before if after is None else after
    assert beside is not None
    if len(rest) == 1 or (is_rising and is_falling):
        return 0.0, 1.0
    is_low_end = (after is None) == is_falling  # the end of a falling curve, the beginning of a rising one
    return (0.0, beside) if is_low_end else (beside, 1.0)
