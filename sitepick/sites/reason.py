"""Why a site stands at its rank: one or two sentences from its measures."""

from __future__ import annotations

from collections.abc import Sequence

from sitepick.sites.factors import FACTORS
from sitepick.sites.model import Measure

_TELLING = 0.005  # a difference smaller than half a point of 100 isn't told
_WEAK_SCORE = 0.5


def reason_for(own: tuple[Measure, ...], other: tuple[Measure, ...] | None, *, rank: int, is_last: bool) -> str:
    """What speaks for a site against the next one, and its weakest point.

    Parameters
    ----------
    own : tuple of Measure
    other : tuple of Measure or None
        Those of the next site; of the site before for the last one; None where there is only one.
    rank : int
    is_last : bool
    """
    if other is None:
        return " ".join(["The only place in reach that holds the unit within the limits.", *_weak_point(own)])
    gains = _differences(own, other)
    better = [_told(index, own, other, is_better=True) for index, gain in gains if gain >= _TELLING][:2]
    worse = [_told(index, own, other, is_better=False) for index, gain in reversed(gains) if gain <= -_TELLING][:2]
    against = f"site {rank - 1}" if is_last else f"site {rank + 1}"
    if is_last and worse:
        text = f"Behind {against}: {_joined(worse)}" + (f"; ahead of it: {better[0]}." if better else ".")
    elif better:
        text = f"Ahead of {against}: {_joined(better)}" + (f"; behind it: {worse[0]}." if worse else ".")
    else:
        text = f"Hardly different from {against} by any measure: let the ground itself decide between them."
    return " ".join([_capital(text), *_weak_point(own)])


def _differences(own: tuple[Measure, ...], other: tuple[Measure, ...]) -> list[tuple[int, float]]:
    """Index of each factor with what it gains against another site, the largest gain first."""
    gains = [(k, mine.weight * (mine.score - its.score)) for k, (mine, its) in enumerate(zip(own, other, strict=True))]
    return sorted(gains, key=lambda pair: (-pair[1], pair[0]))


def _told(index: int, own: tuple[Measure, ...], other: tuple[Measure, ...], *, is_better: bool) -> str:
    rule = FACTORS[index]
    words = rule.better if is_better else rule.worse
    return f"{words} ({_value(own[index])} against {_value(other[index])})"


def _value(measure: Measure) -> str:
    if measure.value is None:
        return "unknown" if measure.name != "water" else "none near"
    if measure.unit == "share":
        return f"{100 * measure.value:.0f} %"
    if measure.unit == "°":
        return f"{measure.value:.1f}°"
    if measure.unit == "min":
        return f"{measure.value:.0f} min"
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


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]
