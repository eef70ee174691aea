"""Which matters more, and how much? From a few answers in pairs to weights."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from sitepick.errors import SettingsError

if TYPE_CHECKING:
    from sitepick.sites.model import Measure, Site

LEAST_RANGE = 0.02  # scores closer together than this tell no site from another


@dataclass(frozen=True, slots=True, kw_only=True)
class Swing:
    """How far a factor goes among the sites listed.

    Attributes
    ----------
    name, label : str
    worst, best : Measure
        Of the sites that score lowest and highest.
    """

    name: str
    label: str
    worst: Measure
    best: Measure

    @property
    def range_frac(self) -> float:
        """From the worst score to the best."""
        return self.best.score - self.worst.score


@dataclass(frozen=True, slots=True, kw_only=True)
class PairAnswer:
    """One answer: going from worst to best in one factor matters so many times as much as in another.

    Attributes
    ----------
    name, other : str
    times : float
        0: it doesn't matter at all.
    """

    name: str
    other: str
    times: float


def swings(sites: Sequence[Site]) -> tuple[Swing, ...]:
    """The factors in which the sites differ, the one that counts most now first.

    Parameters
    ----------
    sites : sequence of Site
        Those listed.
    """
    if not sites:
        return ()
    found = []
    for k, measure in enumerate(sites[0].measures):
        of_all = sorted((site.measures[k] for site in sites), key=lambda one: one.score)
        swing = Swing(name=measure.name, label=measure.label, worst=of_all[0], best=of_all[-1])
        if swing.range_frac >= LEAST_RANGE:
            found.append((measure.weight * swing.range_frac, swing))
    return tuple(swing for _, swing in sorted(found, key=lambda pair: -pair[0]))


def weights_from_answers(
    answers: Sequence[PairAnswer], ranges: Mapping[str, float], weights: Mapping[str, float]
) -> dict[str, float]:  # fmt: skip
    """Weights by which the factors matter as they were said to.

    Parameters
    ----------
    answers : sequence of PairAnswer
    ranges : mapping of factor to float
        From its worst to its best score among the sites listed, each > 0.
    weights : mapping of factor to float
        As they are now.

    Returns
    -------
    dict
        Weights of all factors. What nobody was asked about keeps its weight; those asked about share what they
        weighed together before, so the rest keep their part of the whole.

    Raises
    ------
    SettingsError
        Nothing that was asked about is to matter at all.

    Notes
    -----
    What a factor's swing counts is weight x range of scores, so weight = answer / range. Answers that go round in
    a circle and don't agree are levelled by least squares of their logarithms, which is the geometric mean of what
    they say.
    """
    asked = list(dict.fromkeys(name for answer in answers for name in (answer.other, answer.name)))
    nothing = {answer.name for answer in answers if answer.times <= 0.0}
    told = [answer for answer in answers if not {answer.name, answer.other} & nothing]
    mattering = [name for name in asked if name not in nothing]
    whole = sum(weights[name] for name in asked)
    if asked and (not mattering or whole <= 0.0):
        raise SettingsError("nothing is said to matter", fix="let at least one of the factors matter")
    importance = _levelled(told, mattering, ranges, weights)
    raw = {name: importance[name] / ranges[name] for name in mattering}
    scale = whole / sum(raw.values()) if raw else 0.0
    return {name: raw.get(name, 0.0) * scale if name in asked else weight for name, weight in weights.items()}


def _levelled(
    answers: Sequence[PairAnswer], names: Sequence[str], ranges: Mapping[str, float], weights: Mapping[str, float]
) -> dict[str, float]:
    """How much each swing matters; factors that no answer ties to the rest stay as they are now."""
    place = {name: k for k, name in enumerate(names)}
    rows = np.zeros((len(answers), len(names)))
    sides = np.empty(len(answers))
    for row, answer in enumerate(answers):
        rows[row, place[answer.name]], rows[row, place[answer.other]] = 1.0, -1.0
        sides[row] = np.log(answer.times)
    # The least change from what the weights say now, so that what the answers leave open stays.
    now = np.log([max(weights[name] * ranges[name], 1e-9) for name in names])
    change, *_ = np.linalg.lstsq(rows, sides - rows @ now, rcond=None)
    return {name: float(np.exp(now[k] + change[k])) for name, k in place.items()}
