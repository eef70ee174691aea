"""Why a site stands at its rank: one or two sentences from its measures and its arrival."""

from __future__ import annotations

import math
from collections.abc import Sequence

from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.sites.model import Measure

_TELLING = 0.005  # a difference smaller than half a point of 100 isn't told
_TELLING_MIN = 5.0  # nor an arrival that differs by less
_WEAK_SCORE = 0.5
_LEAST_SCORE = 1e-3  # stands for 0 where a logarithm would have no end


def reason_for(
    own: tuple[Measure, ...],
    other: tuple[Measure, ...] | None,
    *,
    rank: int,
    is_last: bool,
    other_rank: int | None = None,
    later_min: float = 0.0,
    mean: str = "arithmetic",
) -> str:
    """What speaks for a site against the next one, and its weakest point.

    Parameters
    ----------
    own : tuple of Measure
    other : tuple of Measure or None
        Those of the next site; of the site before for the last one; None where there is only one.
    rank : int
    is_last : bool
    other_rank : int, optional
        Of the other site; without it, the next one or the one before.
    later_min : float
        How much later the unit is at the other site.
    mean : str
        Out of `plan.weighting.MEANS`: how the score is made, so what a difference counts.
    """
    if other is None:
        return " ".join(["The only place in reach that holds the unit within the limits.", *_weak_point(own)])
    gains = _differences(own, other, mean)
    better = [_told(k, own, other, is_better=True) for k, gain in gains if gain >= _TELLING][:2]
    worse = [_told(k, own, other, is_better=False) for k, gain in reversed(gains) if gain <= -_TELLING][:2]
    if other_rank is None:
        other_rank = rank - 1 if is_last else rank + 1
    against = f"site {other_rank}"
    arrival = _arrival(later_min)
    if is_last and worse:
        text = f"Behind {against}: {_joined(worse)}" + (f"; ahead of it: {better[0]}" if better else "")
    elif better:
        text = f"Ahead of {against}: {_joined(better)}" + (f"; behind it: {worse[0]}" if worse else "")
    elif worse:
        text = f"Level with {against} but for {_joined(worse)}"
    elif arrival:
        text = f"Hardly different from {against} by any measure"
    else:
        text = f"Hardly different from {against} by any measure: let the ground itself decide between them"
    text = f"{text}; {arrival}." if arrival else f"{text}."
    return " ".join([text, *_weak_point(own)])


def _arrival(later_min: float) -> str:
    """When the unit is there, against the other site; empty where that hardly differs."""
    if abs(later_min) < _TELLING_MIN:
        return ""
    return f"reached {abs(later_min):.0f} min {'sooner' if later_min > 0.0 else 'later'}"


def _differences(own: tuple[Measure, ...], other: tuple[Measure, ...], mean: str) -> list[tuple[int, float]]:
    """Index of each factor with what it gains against another site, the largest gain first."""
    gains = []
    for k, (mine, its) in enumerate(zip(own, other, strict=True)):
        if mean == "geometric":
            gain = math.log(max(mine.score, _LEAST_SCORE)) - math.log(max(its.score, _LEAST_SCORE))
        else:
            gain = mine.score - its.score
        gains.append((k, mine.weight * gain))
    return sorted(gains, key=lambda pair: (-pair[1], pair[0]))


def _told(index: int, own: tuple[Measure, ...], other: tuple[Measure, ...], *, is_better: bool) -> str:
    told = FACTOR_WORDS[own[index].name]
    words = told.better if is_better else told.worse
    return f"{words} ({_value(own[index])} against {_value(other[index])})"


def _value(measure: Measure) -> str:
    if measure.value is None:
        return "unknown" if measure.name != "water" else "none near"
    if measure.unit == "share":
        return f"{100 * measure.value:.0f} %"
    if measure.unit == "°":
        return f"{measure.value:.1f}°"
    if measure.unit in ("min", "m"):
        return f"{measure.value:.0f} {measure.unit}"
    if measure.unit in ("h", "times"):
        return f"{measure.value:.1f} {measure.unit}"
    return f"{measure.value:.0f}"


def _weak_point(own: tuple[Measure, ...]) -> list[str]:
    """The factor that costs most, in its own sentence, where it scores badly."""
    costs = [measure.weight * (1.0 - measure.score) for measure in own]
    weakest = own[costs.index(max(costs))]
    if weakest.weight == 0.0 or weakest.score >= _WEAK_SCORE:
        return []
    return [f"Its weak point is {weakest.label}: {weakest.sentence[0].lower()}{weakest.sentence[1:]}"]


def _joined(parts: Sequence[str]) -> str:
    return " and ".join(parts)
