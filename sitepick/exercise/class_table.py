"""The whole class: who got how much, how far they lie apart, what most of them missed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np

from sitepick.exercise.model import Assessment, ClassResult, Spread
from sitepick.exercise.picks import Collected
from sitepick.exercise.standard import Standard

_LIMIT_WORDS = {
    "slope": "too steep", "wind": "too windy", "water": "on water or too near it", "wet": "wet ground",
    "avalanche": "avalanche ground", "ice": "glacier or lasting snow", "built": "built over",
    "no_go": "out of bounds", "timber": "dead timber", "unknown": "ground not known", "reach": "out of reach",
    "room": "too little room", "progress": "too early in the day", "detour": "too far off the route",
    "forest": "too little forest",
}  # fmt: skip


def class_result(assessments: Sequence[Assessment], collected: Collected, standard: Standard) -> ClassResult:
    """How a class lies.

    Parameters
    ----------
    assessments : sequence of Assessment
    collected : Collected
        Who is absent, and what must be said.
    standard : Standard
    """
    notes = list(collected.notes)
    if standard.best_score is None:
        notes.append("No place in reach holds the unit within every limit, so nobody can have found one.")
    return ClassResult(
        assessments=tuple(assessments),
        absent=collected.absent,
        spread=_spread([one.percent for one in assessments]),
        missed=_counted(one.missed_factor for one in assessments),
        broken=_counted(
            name for one in assessments if one.pick is not None for name in {limit.name for limit in one.pick.broken}
        ),
        notes=tuple(notes),
    )


def limit_words(name: str) -> str:
    """What a broken limit is called in a table."""
    return _LIMIT_WORDS.get(name, name.replace("_", " "))


def _spread(percents: Sequence[float]) -> Spread | None:
    if not percents:
        return None
    lowest, lower, middle, upper, highest = np.percentile(percents, (0.0, 25.0, 50.0, 75.0, 100.0)).tolist()
    return Spread(
        count=len(percents), lowest=lowest, lower_quarter=lower, middle=middle, upper_quarter=upper, highest=highest
    )


def _counted(words: Iterable[str]) -> tuple[tuple[str, int], ...]:
    """Words by how often they come, the most frequent first, then by the alphabet; empty ones don't count."""
    counts = Counter(word for word in words if word)
    return tuple(sorted(counts.items(), key=lambda one: (-one[1], one[0])))
