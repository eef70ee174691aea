"""Edits: pure functions from one plan to the next. The desk's history is their only caller in the window."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from sitepick.errors import SettingsError
from sitepick.plan.delay import Delay
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES, Area, GroundSource, LonLat, Plan, Route
from sitepick.plan.pace import HAS_OWN_LEVEL, ModePace, mode_key
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
    return with_route_points_added(plan, index, (point,))


def with_route_points_added(plan: Plan, index: int, points: Sequence[LonLat]) -> Plan:
    """The plan with several points put into its route before the one at `index`, in their order."""
    held, names = list(plan.route.points), list(plan.route.names_by_point)
    held[index:index] = points
    names[index:index] = [None] * len(points)
    return _with_points(plan, held, names)


def with_route_point_removed(plan: Plan, index: int) -> Plan:
    """The plan with one point, and its name, taken out of its route; two always stay."""
    points, names = list(plan.route.points), list(plan.route.names_by_point)
    if len(points) <= 2:
        raise SettingsError("a route needs two points", fix="move the point instead")
    del points[index], names[index]
    return _with_points(plan, points, names)


def with_route_point_named(plan: Plan, index: int, name: str) -> Plan:
    """The plan with one point of its route named; an empty name takes the name away."""
    names = list(plan.route.names_by_point)
    names[index] = " ".join(name.split()) or None
    return _with_points(plan, plan.route.points, names)


def with_route_turned(plan: Plan) -> Plan:
    """The plan with its route marched the other way."""
    return _with_points(plan, plan.route.points[::-1], plan.route.names_by_point[::-1])


def with_route_cut(plan: Plan, index: int) -> Plan:
    """The plan with its route ended at one of its points; the rest becomes another route."""
    route = plan.route
    if not 0 < index < len(route.points) - 1:
        raise SettingsError("the route can't be cut at its end", fix="choose a point between its start and its end")
    rest = replace(
        route, name=f"Rest of {route.name}", points=route.points[index:], point_names=route.names_by_point[index:]
    )
    shorter = _with_points(plan, route.points[: index + 1], route.names_by_point[: index + 1])
    return replace(shorter, alternatives=(*plan.alternatives, rest))


def with_routes_taken(plan: Plan, routes: Sequence[Route]) -> Plan:
    """The plan with the first of some routes as tonight's; the others and the old route are kept beside it."""
    return replace(plan, route=routes[0], alternatives=(*plan.alternatives, plan.route, *routes[1:]))


def with_alternative_chosen(plan: Plan, index: int) -> Plan:
    """The plan with a named alternative as tonight's route; the old route becomes an alternative."""
    others = list(plan.alternatives)
    chosen = others[index]
    others[index] = plan.route
    return replace(plan, route=chosen, alternatives=tuple(others))


def with_alternative_dropped(plan: Plan, index: int) -> Plan:
    """The plan without one of its other routes."""
    return replace(plan, alternatives=(*plan.alternatives[:index], *plan.alternatives[index + 1 :]))


def _with_points(plan: Plan, points: Sequence[LonLat], names: Sequence[str | None]) -> Plan:
    return with_route(plan, replace(plan.route, points=tuple(points), point_names=tuple(names)))


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


def with_ground(plan: Plan, ground: GroundSource) -> Plan:
    """The plan with its ground read from other files."""
    return replace(plan, ground=ground)


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


def with_delays(plan: Plan, delays: tuple[Delay, ...]) -> Plan:
    """The plan with other delays on the way."""
    return with_values(plan, "march", delays=delays)


def with_pitching(plan: Plan, name: str, value: float) -> Plan:
    """The plan with one figure changed in the rule for the pitching time."""
    return with_values(plan, "march", pitching=replace(plan.march.pitching, **{name: value}))


def with_factor(plan: Plan, factor_name: str, **values: object) -> Plan:
    """The plan with another weight, limit or curve for one factor, such as ``with_factor(plan, "sun", weight=5.0)``.

    Raises
    ------
    SettingsError
        A value lies outside its limits, or the curve turns back.
    """
    changes: Any = values
    factor = replace(plan.preferences.factor(factor_name), **changes)
    return replace(plan, preferences=plan.preferences.with_factor(factor_name, factor))


def with_weight(plan: Plan, factor_name: str, weight: float) -> Plan:
    """The plan with another weight for one factor."""
    return with_factor(plan, factor_name, weight=weight)


def with_weights(plan: Plan, weights: Mapping[str, float]) -> Plan:
    """The plan with other weights for some factors, by name."""
    same = plan.preferences
    # All at once: on the way from one set to another every weight may be 0.
    further = {name: replace(same.factor(name), weight=weights[name]) for name in weights if name in FURTHER_NAMES}
    main = {name: replace(same.factor(name), weight=weights[name]) for name in weights if name not in FURTHER_NAMES}
    return with_values(plan, "preferences", further=replace(same.further, **further), **main)


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
        bare = tuple((name, replace(factor, weight=1.0)) for name, factor in plan.preferences.measured_factors())
        same = old.preferences
        main: dict[str, Any] = {name: same.factor(name) for name in MAIN_NAMES}
        others = replace(
            plan.preferences, weighting=same.weighting, site_count_max=same.site_count_max, further=same.further, **main
        )
        whole = replace(plan, preferences=others, site_marks=(), name="", note="", alternatives=())
        return bare, replace(whole, journey=old.journey)

    return of_the_ground(old) == of_the_ground(new)


def with_order_note(plan: Plan, section: str, text: str) -> Plan:
    """The plan with other lines of the leader's own in one section of the order."""
    notes = replace(plan.handout.notes, **{section: text})
    return replace(plan, handout=replace(plan.handout, notes=notes))
