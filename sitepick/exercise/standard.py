"""What answers are held against: the ground as trainees were shown it, and the best that was to be had on it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sitepick.grid import DoubleArray, FloatArray
from sitepick.plan.exercise_edits import acting_plan
from sitepick.plan.model import Plan
from sitepick.sites.candidates import camp_radius_cells
from sitepick.sites.hindrance import unit_room
from sitepick.sites.limits import Limits, read_limits
from sitepick.sites.measured import Measured
from sitepick.sites.model import Measure
from sitepick.sites.quality import camp_quality
from sitepick.tonight import Tonight

LEAST_SPAN = 10.0  # of 100, between ground that earns nothing and the best: ours, so that even ground parts nobody far


def fair_plan(plan: Plan) -> Plan:
    """The plan that answers are held against: no mark or observer acts in it that trainees couldn't see.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    """
    marks = tuple(mark for mark in plan.exercise.marks if mark.is_for_trainees or not mark.meaning.acts)
    return replace(plan, exercise=replace(plan.exercise, marks=marks), observers=())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standard:
    """The best in reach, and how all other ground compares.

    Attributes
    ----------
    answer : Tonight
        Of the fair plan.
    limits : Limits
    measured : tuple of Measured
        Places within every limit, the best first.
    best_score, alternate_score : float or None
        0-100; None where there is no such place.
    best_measures : tuple of Measure
        Of the best place.
    quality : float32 array of the grid's shape
        As of `sites.quality.camp_quality`.
    quality_steps : float64 array of shape (101,)
        Score, 0-100, at a quick look, that each whole per cent of the ground where the unit could camp stays under;
        0 where there is no such ground.
    radius_cells : float
        Half the width of a round camp.
    """

    answer: Tonight
    limits: Limits
    measured: tuple[Measured, ...]
    best_score: float | None
    alternate_score: float | None
    best_measures: tuple[Measure, ...]
    quality: FloatArray
    quality_steps: DoubleArray
    radius_cells: float

    def best_of(self, name: str) -> Measure | None:
        """The best score of one factor among the places within limits."""
        held = [measure for one in self.measured for measure in one.measures if measure.name == name]
        return max(held, key=lambda measure: measure.score, default=None)

    def poor_score(self, poorest_percent: float) -> float:
        """The score, 0-100, that earns nothing: that of the poorest ground where the unit could camp.

        Parameters
        ----------
        poorest_percent : float
            So much of that ground scores less still.
        """
        best = 100.0 if self.best_score is None else self.best_score
        poor = float(np.interp(poorest_percent, np.arange(101.0), self.quality_steps))
        return max(0.0, min(poor, best - LEAST_SPAN))

    def better_frac(self, row: int, col: int) -> float:
        """Share of the ground where the unit could camp that is better than a cell of it, at a quick look."""
        rest = self.quality[self.quality >= 0.0]
        return float(np.mean(rest > self.quality[row, col])) if rest.size else 0.0


def read_standard(answer: Tonight) -> Standard:
    """What answers are held against.

    Parameters
    ----------
    answer : Tonight
        Of the fair plan.
    """
    answer = replace(answer, plan=acting_plan(answer.plan))
    plan, sites = answer.plan, answer.sites
    kept = sites.kept
    limits = kept.limits if kept is not None else read_limits(plan, answer.ground, answer.terrain, answer.march)
    radius = camp_radius_cells(unit_room(plan, answer.ground.grid), sites.need_count)
    measured = () if kept is None else tuple(one for one in kept.measured if one.is_within_limits)
    measured = tuple(sorted(measured, key=lambda one: -one.score))
    quality = camp_quality(
        plan, answer.terrain, answer.march, limits.can_pitch, sites.water_min, sites.layers, radius_cells=radius
    )  # fmt: skip
    alternate = sites.alternate
    held = quality[quality >= 0.0]
    return Standard(
        answer=answer,
        limits=limits,
        measured=measured,
        best_score=measured[0].score if measured else None,
        alternate_score=None if alternate is None else alternate.score,
        best_measures=measured[0].measures if measured else (),
        quality=quality,
        quality_steps=100.0 * np.percentile(held, np.arange(101.0)) if held.size else np.zeros(101),
        radius_cells=radius,
    )
