"""A wish to change the plan, as the pieces of the desk send it out.

The pieces never write the plan. They say what should change, in the person's words; the history
carries it out or refuses it.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass

from sitepick.plan.model import Plan

_gestures = itertools.count(1)


def new_gesture() -> int:
    """Number of a drag that begins now; every edit of one drag carries the same number."""
    return next(_gestures)


@dataclass(frozen=True, slots=True, kw_only=True)
class PlanEdit:
    """One change that a person asked for.

    Attributes
    ----------
    text : str
        What they did, in their words ("Move point 3"); stands after Undo and Redo in the menu.
    change : callable
        From the plan before to the plan after; raises `SettingsError` where it can't.
    gesture : int or None
        The drag that it is part of; edits of one drag are undone together.
    """

    text: str
    change: Callable[[Plan], Plan]
    gesture: int | None = None
