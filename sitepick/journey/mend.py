"""What would bring every night to a site, where a chain has nights without one: tried out, not guessed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sitepick.errors import SitepickError
from sitepick.journey.chain import best_chain
from sitepick.journey.legs import Legs
from sitepick.plan.journey import JourneySettings
from sitepick.plan.model import Plan

_MORE_HOURS = (0.5, 1.0, 1.5, 2.0, 3.0, 4.0)
_MORE_DAYS = (1, 2, 3)
_LONGEST_H = 23.0


def mends(legs: Legs, plan: Plan, along_m: float) -> tuple[str, ...]:
    """What would let the journey do without a night at a place that has no site.

    Parameters
    ----------
    legs : Legs
    plan : Plan
        The journey's.
    along_m : float
        Where on the route the night falls now.
    """
    told = [_gap_words(legs, along_m)]
    settings = plan.journey
    for hours in _MORE_HOURS:
        longer = _longer_days(legs, plan, hours)
        if longer is not None and _is_whole(legs, longer):
            told.append(f"Days {hours:g} h longer, the end of them in the dark, would bring every night to a site.")
            break
    for days in _MORE_DAYS:
        if _is_whole(legs, _with(plan, days_max=settings.days_max + days)):
            told.append(f"With {days} more {'day' if days == 1 else 'days'} every night falls on a site.")
            break
    if settings.pinned and _is_whole(legs, _with(plan, pinned=())):
        told.append("Without the pinned nights every night falls on a site.")
    if settings.rest_days and _is_whole(legs, _with(plan, rest_days=())):
        told.append("Without the rest days every night falls on a site.")
    if len(told) == 1:
        told.append("Looser limits for a site, or a longer way off the route, may help: see what is out on that day.")
    return tuple(told)


def _gap_words(legs: Legs, along_m: float) -> str:
    """Between which sites of the route the night falls."""
    sites = np.array([place.along_m for place in legs.places if not place.is_bare and place.ring])
    before, after = sites[sites <= along_m], sites[sites > along_m]
    first = f"{before.max() / 1000.0:.1f} km" if before.size else "the start"
    last = f"{after.min() / 1000.0:.1f} km" if after.size else "the end"
    return f"No site holds the unit between {first} and {last} of the route, or none at the right hour."


def _with(plan: Plan, **values: object) -> Plan:
    settings: JourneySettings = replace(plan.journey, **values)  # type: ignore[arg-type]
    return replace(plan, journey=settings)


def _longer_days(legs: Legs, plan: Plan, hours: float) -> Plan | None:
    """The plan with each day so much longer; None where a day has no more hours."""
    clocks = legs.clocks(1).clocks
    now_h = min((clock.camp_by - clock.depart).total_seconds() / 3600.0 for clock in clocks)
    if now_h + hours > _LONGEST_H:
        return None
    longer = _with(plan, hours_max=now_h + hours)
    return replace(longer, march=replace(longer.march, camp_in_dark=True, camp_by_hour=None))


def _is_whole(legs: Legs, plan: Plan) -> bool:
    """Whether a chain of sites answers the plan over the same ground."""
    try:
        other = Legs(plan, legs.survey)
        chain = best_chain(other.question(plan), "fewest")
    except SitepickError:
        return False
    return chain is not None and chain.bare_count == 0
