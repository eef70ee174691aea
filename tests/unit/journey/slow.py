"""Chains of nights the slow obvious way: every chain there is, one after the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sitepick.journey.chain import NOTHING_WEAK, Question


@dataclass(frozen=True)
class SlowChain:
    places: tuple[int, ...]
    scores: tuple[float, ...]
    minutes: float
    bare_count: int

    @property
    def weakest(self) -> float:
        return min(self.scores, default=NOTHING_WEAK)

    @property
    def mean(self) -> float:
        return sum(self.scores) / len(self.scores) if self.scores else NOTHING_WEAK


def every_chain(question: Question) -> Iterator[SlowChain]:
    """Every chain of days that reaches the end within the limits, nights without a site among them."""
    end = question.place_count - 1

    def go_on(
        day: int, at: int, since: int, places: tuple[int, ...], scores: tuple[float, ...], minutes: float, bare: int
    ):
        if day > question.days_max:
            return
        if day in question.rest_days:
            steps = [(at, 0.0, False)] if at != 0 else []
        else:
            leg = question.leg_min(day, since)[at]
            steps = [
                (to, float(leg[to]), bool(question.supplies[at, to])) for to in range(end + 1) if np.isfinite(leg[to])
            ]
        for to, more, is_supplied in steps:
            if not question.held[to, day]:
                continue
            later = 0 if is_supplied else since + 1
            if question.comes_to_camp and later >= question.supply_days_max:
                later = 0
            if later > question.supply_days_max:
                continue
            if to == end:
                yield SlowChain((*places, to), scores, minutes + more, bare)
                continue
            is_bare = bool(question.is_bare[to])
            score = 0.0 if is_bare else float(question.score[to, day])
            yield from go_on(day + 1, to, later, (*places, to), (*scores, score), minutes + more, bare + is_bare)

    yield from go_on(1, 0, 0, (), (), 0.0, 0)


def best_by(question: Question, rule: str) -> float | None:
    """What the best chain by a rule is worth, among those without a bare night; None where there is none."""
    chains = [chain for chain in every_chain(question) if chain.bare_count == 0]
    if not chains:
        return None
    return {
        "weakest": lambda: max(chain.weakest for chain in chains),
        "mean": lambda: max(chain.mean for chain in chains),
        "fewest": lambda: -min(len(chain.places) for chain in chains),
        "effort": lambda: -min(chain.minutes for chain in chains),
    }[rule]()
