"""From a trainer's plan and a heap of answers to a class assessed."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from sitepick.exercise.assess import assess_class
from sitepick.exercise.model import ClassResult
from sitepick.exercise.picks import collect
from sitepick.exercise.standard import Standard, fair_plan, read_standard
from sitepick.plan.model import Plan
from sitepick.tonight import Tonight, tonight
from sitepick.work import Watch


def assess_files(
    plan: Plan, paths: Sequence[Path], *, watch: Watch | None = None, previous: Tonight | None = None
) -> tuple[Standard, ClassResult]:
    """Read answers and assess them.

    Parameters
    ----------
    plan : Plan
        The trainer's.
    paths : sequence of Path
        Files, and folders of them.
    watch : Watch, optional
        Hears of the progress and can stop the work.
    previous : Tonight, optional
        An earlier answer to the plan, used again as far as it holds.

    Raises
    ------
    SitepickError
        Something in the plan, its files or the answers will not serve.
    work.JobStopped
        The watch was stopped.
    """
    standard = read_standard(tonight(fair_plan(plan), watch=watch, previous=previous))
    collected = collect(paths, plan, standard.answer.ground.grid)
    return standard, assess_class(standard, plan.exercise, collected, watch=watch)
