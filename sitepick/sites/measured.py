"""Pieces of ground with their measures: what a weight that moves re-ranks without looking at the ground again."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from sitepick.grid import FloatArray, MaskArray
from sitepick.plan.model import Plan, Preferences
from sitepick.sites.candidates import Piece
from sitepick.sites.limits import Limits
from sitepick.sites.model import Measure, Site
from sitepick.sites.score import whole_score

if TYPE_CHECKING:
    from sitepick.sites.spread import Spread


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Measured:
    """A piece with its measures.

    Attributes
    ----------
    piece : Piece
    measures : tuple of Measure
    mean : str
        Out of `plan.weighting.MEANS`.
    own_name : str
        Of a site that the user drew; empty for one that was found.
    """

    piece: Piece
    measures: tuple[Measure, ...]
    mean: str = "arithmetic"
    own_name: str = ""

    @property
    def score(self) -> float:
        """Lower bound, 0-100."""
        return self._whole([measure.score for measure in self.measures])

    @property
    def score_high(self) -> float:
        """Upper bound, 0-100."""
        return self._whole([measure.score_high for measure in self.measures])

    @property
    def is_within_limits(self) -> bool:
        """Whether every measure keeps its limits."""
        return all(measure.within_limit for measure in self.measures)

    def _whole(self, scores: list[float]) -> float:
        return 100.0 * float(whole_score(scores, [measure.weight for measure in self.measures], mean=self.mean))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Kept:
    """What a search found out about the ground, kept for the next question about it.

    Attributes
    ----------
    plan : Plan
        The one that it was found for.
    limits : Limits
    is_roomy : bool array of the grid's shape
        Ground in parts that may be large enough for the unit.
    measured : tuple of Measured
        All that was measured, the user's own sites among them, in the order they were found.
    spread : Spread or None
        What the draws need of the sites within limits; None where there is none.
    ways_back : dict from a piece's identity to (minutes, metres)
        As `way_back.ways_back` tells them.
    told : dict from a piece's identity to Site
        Sites as they were told, whatever their rank was; filled as more are asked for.
    layers : dict of factor to float32 array of the grid's shape
        Of the further factors that the plan asks for.
    """

    plan: Plan
    limits: Limits
    is_roomy: MaskArray
    measured: tuple[Measured, ...]
    spread: Spread | None
    ways_back: dict[int, tuple[float, float]]
    told: dict[int, Site]
    layers: dict[str, FloatArray] = field(default_factory=dict)


def weighed(one: Measured, preferences: Preferences) -> Measured:
    """The same piece under other weights, or another way to the score; curves and limits must be the same."""
    factors = dict(preferences.measured_factors())
    whole = sum(factor.weight for factor in factors.values())
    measures = tuple(replace(measure, weight=factors[measure.name].weight / whole) for measure in one.measures)
    return replace(one, measures=measures, mean=preferences.weighting.mean)
