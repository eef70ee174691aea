"""Ready sets of weights for what a leader cares about tonight."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

from sitepick.resource import resource_path

if TYPE_CHECKING:
    from collections.abc import Mapping

    from sitepick.plan.model import Preferences

_WORDS = ("key", "label", "why")


@dataclass(frozen=True, slots=True, kw_only=True)
class Emphasis:
    """A ready set of weights.

    Attributes
    ----------
    key, label, why : str
    weights : mapping of factor to weight
        A factor that isn't named keeps the weight it has.
    """

    key: str
    label: str
    why: str
    weights: Mapping[str, float]


@lru_cache(maxsize=1)
def emphases() -> tuple[Emphasis, ...]:
    """The sets that come with the program, as the file lists them."""
    with resource_path("emphasis.csv").open(encoding="utf-8", newline="") as lines:
        return tuple(
            Emphasis(
                key=row["key"],
                label=row["label"],
                why=row["why"],
                weights={name: float(text) for name, text in row.items() if name not in _WORDS and text},
            )
            for row in csv.DictReader(lines)
        )


def emphasis_of(preferences: Preferences) -> Emphasis | None:
    """The set whose weights these are, in their ratios; None where they are the user's own."""
    weights = {name: factor.weight for name, factor in preferences.factors()}
    for emphasis in emphases():
        total = sum(emphasis.weights.values())
        named = sum(weights[name] for name in emphasis.weights)
        if all(abs(weights[name] / named - weight / total) < 1e-6 for name, weight in emphasis.weights.items()):
            return emphasis
    return None
