"""Points for answers: by the measure of the ground, never by the distance to somebody's own solution."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sitepick.exercise.class_table import class_result
from sitepick.exercise.layout import read_layout
from sitepick.exercise.layout_rules import check_layout
from sitepick.exercise.model import Assessment, ClassResult, ItemResult, PickGround, RuleCheck, Submission
from sitepick.exercise.pick_ground import read_pick
from sitepick.exercise.picks import Collected
from sitepick.exercise.standard import LEAST_SPAN, Standard
from sitepick.exercise.timetable import check_timetable
from sitepick.exercise.words import alternate_words, ground_words, limits_words, reasons_words, rules_words
from sitepick.plan.exercise import ITEMS, Exercise
from sitepick.work import Watch

TELLING_LOSS = 0.01  # of the whole score: less lost by a factor is no miss


def assess_class(standard: Standard, exercise: Exercise, collected: Collected, *, watch: Watch | None = None) -> (
    ClassResult
):  # fmt: skip
    """Assess everyone's answer, and see how the class lies.

    Parameters
    ----------
    standard : Standard
    exercise : Exercise
        The trainer's, with its rubric and what was overruled.
    collected : Collected
    watch : Watch, optional
        Ticked once a trainee; can stop the work.
    """
    watch = watch or Watch()
    assessments = []
    for number, submission in enumerate(collected.submissions):
        watch.tick("answers", number, len(collected.submissions))
        assessments.append(assess(standard, exercise, submission))
    return class_result(assessments, collected, standard)


def assess(standard: Standard, exercise: Exercise, submission: Submission) -> Assessment:
    """Assess one answer.

    Parameters
    ----------
    standard : Standard
    exercise : Exercise
    submission : Submission
    """
    handed_in, rubric = submission.handed_in, exercise.rubric

    def ground_at(place: tuple[float, float] | None) -> PickGround | None:
        if place is None:
            return None
        return read_pick(
            standard, place, tolerance_m=rubric.place_tolerance_m, precision_m=submission.precision_m
        )  # fmt: skip

    pick, alternate = ground_at(handed_in.pick), ground_at(handed_in.alternate)
    layout: tuple[RuleCheck, ...] = ()
    if handed_in.layout:
        layout = check_layout(
            read_layout(standard, handed_in.layout), pick,
            precision_m=submission.precision_m, door_tolerance_deg=rubric.door_tolerance_deg,
        )  # fmt: skip
    timetable: tuple[RuleCheck, ...] = ()
    if handed_in.arrive is not None or handed_in.ready is not None:
        timetable = check_timetable(handed_in, pick, standard.answer.plan, standard.answer.march)
    poor_score = standard.poor_score(rubric.poorest_percent)
    shares = {
        "limits": (limits_frac(pick), limits_words(pick)),
        "ground": (ground_frac(pick, standard.best_score, poor_score), ground_words(pick, standard, poor_score)),
        "alternate": (
            alternate_frac(pick, alternate, standard, poor_score), alternate_words(pick, alternate, standard),
        ),
        "layout": (rules_frac(layout), rules_words(layout, "layout")),
        "timetable": (rules_frac(timetable), rules_words(timetable, "timetable")),
        "reasons": (None if handed_in.reasons.strip() else 0.0, reasons_words(handed_in.reasons)),
    }  # fmt: skip
    items = tuple(
        _item(exercise, submission.trainee, item, *shares[item])
        for item in ITEMS
        if exercise.asks_for(item) and not (item == "alternate" and standard.alternate_score is None)
    )
    return Assessment(
        submission=submission,
        pick=pick,
        alternate=alternate,
        layout=layout,
        timetable=timetable,
        items=items,
        missed_factor=missed_factor(pick, standard),
    )


def limits_frac(pick: PickGround | None) -> float:
    """Share of the points for keeping the limits: the share of the unit that finds room within them."""
    return 0.0 if pick is None else pick.room_frac


def ground_frac(pick: PickGround | None, best_score: float | None, poor_score: float = 0.0) -> float:
    """Share of the points for the ground: how far its score stands from poor to the best, as far as limits are kept.

    Parameters
    ----------
    pick : PickGround or None
    best_score : float or None
        0-100, which earns all of them; None counts as 100.
    poor_score : float
        0-100, below the best, which earns none.
    """
    if pick is None:
        return 0.0
    best = best_score or 100.0
    low = min(poor_score, best - LEAST_SPAN)
    return pick.room_frac * min(1.0, max(0.0, (pick.score - low) / (best - low)))


def alternate_frac(
    pick: PickGround | None, alternate: PickGround | None, standard: Standard, poor_score: float = 0.0
) -> float:
    """The same for the alternate against the best one; none where it shares the pick's ground and so falls with it."""
    if alternate is None or (pick is not None and pick.overlaps(alternate)):
        return 0.0
    return ground_frac(alternate, standard.alternate_score, poor_score)


def rules_frac(checks: Sequence[RuleCheck]) -> float:
    """Mean of how nearly each rule is kept; 0 where nothing was handed in."""
    return float(np.mean([one.kept_frac for one in checks])) if checks else 0.0


def missed_factor(pick: PickGround | None, standard: Standard) -> str:
    """Label of the factor by which a pick lost most against the best place; empty: by none that tells."""
    if pick is None or not pick.measures:
        return ""
    mine = {measure.name: measure.score for measure in pick.measures}
    lost = [(best.weight * (best.score - mine[best.name]), best.label) for best in standard.best_measures]
    most, label = max(lost, default=(0.0, ""))
    return label if most > TELLING_LOSS else ""


def _item(exercise: Exercise, trainee: str, item: str, share: float | None, sentence: str) -> ItemResult:
    worth = exercise.rubric.points(item)
    reckoned = None if share is None else worth * share
    overrule = exercise.overrule_for(trainee, item)
    return ItemResult(
        item=item,
        worth=worth,
        points=reckoned if overrule is None else overrule.points,
        reckoned=reckoned,
        note="" if overrule is None else overrule.note,
        sentence=sentence,
    )
