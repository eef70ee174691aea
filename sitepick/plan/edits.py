"""Edits: pure functions from one plan to the next. The desk's history is their only caller in the window."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from sitepick.errors import SettingsError
from sitepick.plan.model import Area, Factor, LonLat, Plan, Route
from sitepick.plan.shelter import shelters_for
from sitepick.plan.weighting import SiteMark


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


def with_weight(plan: Plan, factor_name: str, weight: float) -> Plan:
    """The plan with another weight for one factor."""
    factor: Factor = getattr(plan.preferences, factor_name)
    return with_values(plan, "preferences", **{factor_name: replace(factor, weight=weight)})


def with_weights(plan: Plan, weights: Mapping[str, float]) -> Plan:
    """The plan with other weights for some factors, by name."""
    changed = {name: replace(getattr(plan.preferences, name), weight=weight) for name, weight in weights.items()}
    return with_values(plan, "preferences", **changed)


def with_weighting(plan: Plan, **values: object) -> Plan:
    """The plan with other values for how the factors become a score and what it is tried against."""
    return with_values(plan, "preferences", weighting=replace(plan.preferences.weighting, **values))  # type: ignore[arg-type]


def with_site_mark(plan: Plan, mark: SiteMark, *, instead_of: LonLat | None = None) -> Plan:
    """The plan with a mark on the site at a place, in the stead of an older one; one that says nothing is dropped."""
    others = tuple(one for one in plan.site_marks if one.place not in (mark.place, instead_of))
    return replace(plan, site_marks=others if mark.says_nothing else (*others, mark))


def with_sites_shown(plan: Plan) -> Plan:
    """The plan with no site hidden any more."""
    shown = (replace(mark, is_hidden=False) for mark in plan.site_marks)
    return replace(plan, site_marks=tuple(mark for mark in shown if not mark.says_nothing))


def with_own_site(plan: Plan, name: str, ring: tuple[LonLat, ...]) -> Plan:
    """The plan with a site of the user's own; one of the same name is drawn anew."""
    others = tuple(area for area in plan.areas if (area.role, area.name) != ("site", name))
    return replace(plan, areas=(*others, Area(name=name, role="site", ring=ring)))


def without_own_site(plan: Plan, name: str) -> Plan:
    """The plan without one of the user's own sites."""
    return replace(plan, areas=tuple(area for area in plan.areas if (area.role, area.name) != ("site", name)))


def is_weights_only(old: Plan, new: Plan) -> bool:
    """Whether two plans ask the same of the ground and differ only in weights, the way to the score, and site marks."""

    def of_the_ground(plan: Plan) -> object:
        bare = tuple(replace(factor, weight=1.0) for _, factor in plan.preferences.factors())
        same = old.preferences
        others = replace(plan.preferences, weighting=same.weighting, site_count_max=same.site_count_max)
        for name, factor in same.factors():
            others = replace(others, **{name: factor})  # type: ignore[arg-type]
        return bare, replace(plan, preferences=others, site_marks=(), name="", note="", alternatives=())

    return of_the_ground(old) == of_the_ground(new)
