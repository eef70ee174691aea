"""The answer to a trainee's copy of a plan: ground, march and light, and nothing of where to stop."""

from __future__ import annotations

from dataclasses import replace

from sitepick.errors import SettingsError
from sitepick.plan.model import Plan
from sitepick.sites.model import Hindrance
from sitepick.tonight import Tonight

PLACE_WORDS = "This is a trainee's copy of an exercise: what speaks for and against a place is yours to find out."
_FOUND_BY_TRAINEE = Hindrance(
    name="exercise",
    text="This is a trainee's copy of an exercise: where to stop is yours to find out.",
    fix="put your pick on the page Exercise",
    excluded_frac=0.0,
)


def refuse_trainees_copy(plan: Plan) -> None:
    """Tell no sites to whom they are asked of.

    Raises
    ------
    SettingsError
        The plan is a trainee's copy.
    """
    if plan.exercise.handed_in is not None:
        raise SettingsError(
            "this is a trainee's copy of an exercise, which tells no sites",
            fix="find the site on the map, or name the trainer's plan",
        )


def withheld(answer: Tonight) -> Tonight:
    """An answer without its sites and camp, and without what the search found out.

    Parameters
    ----------
    answer : Tonight
    """
    sites = replace(
        answer.sites, sites=(), hindrances=(_FOUND_BY_TRAINEE,), cautions=(), alternate_rank=None, alternate_words="",
        topple=None, own_failed=(), split=None, kept=None,
    )  # fmt: skip
    return replace(answer, sites=sites, camp=None, needs=None)
