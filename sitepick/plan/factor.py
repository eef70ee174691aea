"""How one measure of a site counts: its limits, its curve to a score, its weight."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class Factor:
    """How one measure of a site counts.

    Attributes
    ----------
    weight : float
        Against the other factors' weights; only ratios count.
    limit_min, limit_max : float or None
        Past either, ground is out whatever else it offers; in the measure's unit.
    curve : tuple of (measure, score)
        Anchor points from measure to score 0-1, measures rising, straight between, level outside.
    """

    weight: float = setting(label="weight", low=0.0, high=1000.0)
    limit_min: float | None = None
    limit_max: float | None = None
    curve: tuple[tuple[float, float], ...]

    def __post_init__(self) -> None:
        check_settings(self)
        measures = [measure for measure, _ in self.curve]
        scores = [score for _, score in self.curve]
        # Written so that what is no number fails.
        if len(self.curve) < 2 or not all(b > a for a, b in pairwise(measures)):
            raise SettingsError("a curve needs at least two points with rising measures", fix="mend the curve's points")
        steps = [b - a for a, b in pairwise(scores)]
        if not (min(scores) >= 0.0 and max(scores) <= 1.0) or (min(steps) < 0.0 < max(steps)):
            raise SettingsError(
                "a curve's scores must lie between 0 and 1 and never turn back", fix="mend the curve's points"
            )
        if self.limit_min is not None and self.limit_max is not None and self.limit_min > self.limit_max:
            raise SettingsError("a lower limit lies above the upper one", fix="swap or clear one of them")

    @property
    def is_asked(self) -> bool:
        """Whether it counts at all: by a weight or by a limit."""
        return self.weight > 0.0 or self.limit_min is not None or self.limit_max is not None
