"""Edits of what the camp has, how it is watched and what is done on arrival."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitepick.plan.model import Plan
from sitepick.plan.work_order import ArrivalTick

CAMP_PARTS = ("facilities", "security", "work", "layout")
FOUND_LENGTH_MAX = 200


def with_camp_values(plan: Plan, part: str, **values: Any) -> Plan:
    """The plan with values changed in one of the camp's parts, out of `CAMP_PARTS`.

    Raises
    ------
    SettingsError
        A value lies outside its limits.
    """
    changed = replace(getattr(plan.camp, part), **values)
    return replace(plan, camp=replace(plan.camp, **{part: changed}))


def with_tick(plan: Plan, tick: ArrivalTick) -> Plan:
    """The plan with what was found at one thing to look at on arrival; one that says nothing is left out."""
    said = replace(tick, found=" ".join(tick.found.split())[:FOUND_LENGTH_MAX])
    ticks = list(plan.camp.work.ticks)
    place = next((k for k, one in enumerate(ticks) if one.what == said.what), len(ticks))
    ticks[place : place + 1] = [said] if said.is_done or said.found else []
    return with_camp_values(plan, "work", ticks=tuple(ticks))


def tick_of(plan: Plan, what: str) -> ArrivalTick:
    """What was found at one thing to look at; nothing yet where nobody ticked it."""
    return next((tick for tick in plan.camp.work.ticks if tick.what == what), ArrivalTick(what=what))
