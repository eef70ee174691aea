"""Edits: pure functions from one plan to the next. The desk's history is their only caller in the window."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitepick.errors import SettingsError
from sitepick.plan.model import Factor, LonLat, Plan, Route
from sitepick.plan.pace import HAS_OWN_LEVEL, ModePace, mode_key
from sitepick.plan.shelter import shelters_for


def with_route(plan: Plan, route: Route) -> Plan:
    """The plan with another route for tonight."""
    return replace(plan, route=route)


def with_route_point_moved(plan: Plan, index: int, point: LonLat) -> Plan:
    """The plan with one point of its route moved."""
    points = list(plan.route.points)
    points[index] = point
    return with_route(plan, replace(plan.route, points=tuple(points)))


def with_route_point_added(plan: Plan, index: int, point: LonLat) -> Plan:
    """The plan with a point put into its route before the one at `index`."""
    points = list(plan.route.points)
    points.insert(index, point)
    return with_route(plan, replace(plan.route, points=tuple(points)))


def with_route_point_removed(plan: Plan, index: int) -> Plan:
    """The plan with one point taken out of its route; two always stay."""
    points = list(plan.route.points)
    if len(points) <= 2:
        raise SettingsError("a route needs two points", fix="move the point instead")
    del points[index]
    return with_route(plan, replace(plan.route, points=tuple(points)))


def with_alternative_chosen(plan: Plan, index: int) -> Plan:
    """The plan with a named alternative as tonight's route; the old route becomes an alternative."""
    others = list(plan.alternatives)
    chosen = others[index]
    others[index] = plan.route
    return replace(plan, route=chosen, alternatives=tuple(others))


def with_people(plan: Plan, people: int) -> Plan:
    """The plan with another number of people, in the usual shelters for them."""
    if people < 1:
        raise SettingsError(f"people is {people}, outside 1 to 400", fix="give a value within the limits")
    return replace(plan, unit=replace(plan.unit, people=people, shelters=shelters_for(people)))


def with_values(plan: Plan, part: str, **values: object) -> Plan:
    """The plan with values changed in one of its parts, such as ``with_values(plan, "weather", wind_kmh=30.0)``.

    Raises
    ------
    SettingsError
        A value lies outside its limits.
    """
    return replace(plan, **{part: replace(getattr(plan, part), **values)})


def with_pace(plan: Plan, **values: object) -> Plan:
    """The plan with values changed in what its pace is reckoned from.

    Raises
    ------
    SettingsError
        A value lies outside its limits.
    """
    pace: Any = plan.march.pace
    return with_values(plan, "march", pace=replace(pace, **values))


def with_mode_pace(plan: Plan, **values: object) -> Plan:
    """The plan with values changed in the pace of the mode that it marches in."""
    key = mode_key(plan.march.mode, plan.march.pace)
    mode_pace: Any = getattr(plan.march.pace, key)
    return with_pace(plan, **{key: replace(mode_pace, **values)})


def with_slope_function(plan: Plan, key: str, function: str) -> Plan:
    """The plan with another function for one mode's slopes; one without a level speed takes the planning rate."""
    mode_pace: ModePace = getattr(plan.march.pace, key)
    level_from = mode_pace.level_from if function in HAS_OWN_LEVEL else "table"
    return with_pace(plan, **{key: replace(mode_pace, function=function, level_from=level_from)})


def with_weight(plan: Plan, factor_name: str, weight: float) -> Plan:
    """The plan with another weight for one factor."""
    factor: Factor = getattr(plan.preferences, factor_name)
    return with_values(plan, "preferences", **{factor_name: replace(factor, weight=weight)})
