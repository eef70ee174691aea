"""Edits of a journey: nights pinned and let go."""

from __future__ import annotations

from dataclasses import replace

from sitepick.plan.edits import with_values
from sitepick.plan.journey import PinnedNight
from sitepick.plan.model import Plan


def with_night_pinned(plan: Plan, night: PinnedNight) -> Plan:
    """The plan with a night held at a place, in the stead of an older pin on the same day of the route."""
    others = tuple(one for one in plan.journey.pinned if (one.route, one.day) != (night.route, night.day))
    return with_values(plan, "journey", pinned=(*others, night))


def with_night_let_go(plan: Plan, route: str, day: int) -> Plan:
    """The plan without the pin on one day of a route."""
    others = tuple(one for one in plan.journey.pinned if (one.route, one.day) != (route, day))
    return replace(plan, journey=replace(plan.journey, pinned=others))
