"""The planner's question: where each night falls along each route, and which route is worth walking."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial

from sitepick.errors import SettingsError, SitepickError
from sitepick.journey.beside import Room, RouteWatch, run_beside
from sitepick.journey.chain import Chain, best_chain, greedy_chain
from sitepick.journey.compare import clock_cautions, compared_words, meeting_cautions, route_order
from sitepick.journey.cut import cut_days
from sitepick.journey.detail import day_answer, day_detail, reaches_night
from sitepick.journey.legs import Legs, StruckLeg, check_points
from sitepick.journey.mend import mends
from sitepick.journey.model import Candidate, Day, Journey, RouteJourney, Survey
from sitepick.journey.survey import survey_route
from sitepick.plan.journey import ROUTE_COUNT_MAX
from sitepick.plan.model import Plan, Route
from sitepick.tonight import Tonight
from sitepick.work import Watch

OnDay = Callable[[RouteJourney, Day, Tonight], None]


def plan_journey(plan: Plan, *, watch: Watch | None = None, previous: Journey | None = None) -> Journey:
    """Cut every route of a plan into days, by the best chain of nights; the days' full answers come after.

    Parameters
    ----------
    plan : Plan
        Its route and its other routes, up to six.
    watch : Watch, optional
        Hears of the progress and can stop the work.
    previous : Journey, optional
        An earlier answer: a route's survey, and a day's full answer, are used again where what they read is unchanged.

    Returns
    -------
    Journey

    Raises
    ------
    SitepickError
        No route will serve at all.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    told = []
    for route, survey in zip(routes := _routes(plan), _surveys(plan, routes, previous, watch), strict=True):
        watch.tick(f"nights along {route.name}")
        old = None if previous is None else next((one for one in previous.routes if one.survey is survey), None)
        again = _route_journey(plan, survey, frozenset() if old is None else old.struck)
        told.append(again if old is None else _kept_days(again, old))
    return _side_by_side(plan, told)


def _surveys(plan: Plan, routes: tuple[Route, ...], previous: Journey | None, watch: Watch) -> list[Survey]:
    """What each route offers; routes that were surveyed before are not surveyed again."""
    kept = [_kept_survey(plan, route, previous) for route in routes]
    asked = [route for route, survey in zip(routes, kept, strict=True) if survey is None]
    room = Room()

    def survey(route: Route, beside: RouteWatch) -> Survey:
        return survey_route(plan, route, watch=beside, room=room)

    made = iter(run_beside([partial(survey, route) for route in asked], watch=watch))
    return [next(made) if one is None else one for one in kept]


def with_days(
    journey: Journey, *, watch: Watch | None = None, on_day: OnDay | None = None
) -> Journey:  # fmt: skip
    """The journey with the full answer of every day that has none yet.

    Parameters
    ----------
    journey : Journey
    watch : Watch, optional
    on_day : callable, optional
        ``on_day(route, day, answer)`` for each day of march as its full answer is there, on the caller's thread, the
        days of one route in order, routes in between each other; the answer is let go
        afterwards, since all of them at once would fill the memory.
    """
    room = Room()

    def answered(one: RouteJourney, beside: RouteWatch) -> RouteJourney:
        return _with_its_days(journey.plan, one, beside, room, on_day)

    routes = run_beside([partial(answered, one) for one in journey.routes], watch=watch or Watch())
    return _side_by_side(journey.plan, routes)


def _with_its_days(
    plan: Plan, one: RouteJourney, watch: RouteWatch, room: Room, on_day: OnDay | None
) -> RouteJourney:  # fmt: skip
    """A route with its days answered in full; a night that its day can't make is struck, and the rest planned anew."""
    told: list[Day] = []
    while (day := _next_day(one, told, is_heard=on_day is not None)) is not None:
        index = day.number - 1
        watch.heading(f"{one.name}: day {day.number} of {len(one.days)}", index, len(one.days))
        before = _before(list(one.days), index)
        with room.share(watch) as take:
            answer = day_answer(Legs(plan, one.survey), day, before, watch=watch, take=take)
            if day.night is not None and not day.night.is_bare and not reaches_night(answer, day.night):
                leg = (day.number, 0.0 if before is None else before.along_m, day.night.place)
                again = _route_journey(plan, one.survey, one.struck | {leg})
                one = _kept_days(again, one)
                continue
            whole = replace(day, detail=day_detail(answer, day))
            one = replace(one, days=(*one.days[:index], whole, *one.days[index + 1 :]))
            told.append(whole)
            if on_day is not None:
                watch.call_outside(partial(on_day, one, whole, answer))
            del answer
    watch.heading(one.name, len(one.days), len(one.days))
    return one


def _next_day(one: RouteJourney, told: list[Day], *, is_heard: bool) -> Day | None:
    """The first day of march without a full answer, or that hasn't been told yet to one who listens."""
    for day in one.days:
        is_done = day.detail is not None and (not is_heard or any(day is other for other in told))
        if not day.is_rest and not is_done:
            return day
    return None


def journey_day(journey: Journey, route_index: int, number: int, *, watch: Watch | None = None) -> Tonight:
    """The full answer for one day of one route, with its ground: for whoever looks at that day."""
    one = journey.routes[route_index]
    index = number - 1
    legs = Legs(journey.plan, one.survey)
    return day_answer(legs, one.days[index], _before(list(one.days), index), watch=watch or Watch())


def _before(days: list[Day], index: int) -> Candidate | None:
    return days[index - 1].night if index else None


def _routes(plan: Plan) -> tuple[Route, ...]:
    routes = (plan.route, *plan.alternatives)
    if len(routes) > ROUTE_COUNT_MAX:
        raise SettingsError(
            f"the plan has {len(routes)} routes, and {ROUTE_COUNT_MAX} can be held side by side",
            fix="drop the other routes that don't matter",
        )
    names = [route.name for route in routes]
    if len(set(names)) < len(names):
        raise SettingsError("two routes carry the same name", fix="give each route a name of its own")
    unknown = [night.route for night in plan.journey.pinned if night.route not in names]
    if unknown:
        raise SettingsError(
            f"a night is pinned on {unknown[0]!r}, and no route has that name", fix=f"use one of {', '.join(names)}"
        )
    return routes


def _route_journey(plan: Plan, survey: Survey, struck: frozenset[StruckLeg]) -> RouteJourney:
    if survey.trouble:
        text = f"{survey.route.name} can't be followed to its end: {survey.trouble}."
        return RouteJourney(survey=survey, chain=None, days=(), trouble=text)
    legs = Legs(plan, survey, struck)
    try:
        check_points(legs)
        question = legs.question(plan)
        chain = best_chain(question, plan.journey.rule)
    except SitepickError as fault:
        return RouteJourney(survey=survey, chain=None, days=(), trouble=str(fault))
    if chain is None:
        return RouteJourney(survey=survey, chain=None, days=(), trouble=_no_chain_words(legs, plan))
    days = tuple(
        replace(day, mends=mends(legs, plan, day.end_m)) if day.night is not None and day.night.is_bare else day
        for day in cut_days(legs, question, chain)
    )
    gain = _gain_words(chain, greedy_chain(question))
    return RouteJourney(survey=survey, chain=chain, days=days, gain=gain, struck=struck)


def _no_chain_words(legs: Legs, plan: Plan) -> str:
    """Why no chain of days reaches the end, and what would."""
    settings, name = plan.journey, legs.survey.route.name

    def reaches(**values: object) -> bool:
        other = replace(plan, journey=replace(settings, **values))  # type: ignore[arg-type]
        try:
            return best_chain(Legs(other, legs.survey).question(other), "fewest") is not None
        except SitepickError:
            return False

    mine = [night for night in settings.pinned if night.route == name]
    for night in mine:
        if reaches(pinned=tuple(one for one in settings.pinned if one is not night)):
            return (
                f"The night of day {night.day} on {name} can't be kept where it is pinned: no march ends there that "
                "day. Take the pin away, or move it to another day."
            )
    for more in (1, 2, 3, 5, 8):
        if settings.days_max + more <= 30 and reaches(days_max=settings.days_max + more):
            return (
                f"{name} takes {settings.days_max + more} days, {more} more than there are: allow more days, or longer "
                "ones."
            )
    if settings.supply_every_days is not None and reaches(supply_every_days=None):
        return (
            f"{name} has stretches longer than supplies last; lay out supplies nearer by, or carry them for more days."
        )
    if settings.points and reaches(points=()):
        return f"The places that {name} must take in lie more than a day apart: let a night farther off count."
    return f"{name} has no chain of days that reaches its end within the limits: allow more days or longer ones."


def _gain_words(chain: Chain, greedy: Chain | None) -> str:
    """What looking ahead brings against the best site in reach each evening."""
    if chain.bare_count:
        return ""
    if greedy is None:
        return "Taking the best site in reach each evening leads into a day from which no site is in reach."
    gain = chain.weakest - greedy.weakest
    if len(chain.places) < len(greedy.places):
        return (
            f"Taking the best site in reach each evening would need {len(greedy.places)} days instead of "
            f"{len(chain.places)}."
        )
    if gain >= 1.0:
        return (
            f"Taking the best site in reach each evening would end in a weakest night of {greedy.weakest:.0f} instead "
            f"of {chain.weakest:.0f}."
        )
    return ""


def _side_by_side(plan: Plan, routes: list[RouteJourney]) -> Journey:
    order = route_order(routes, plan.journey.rule)
    return Journey(
        plan=plan,
        routes=tuple(routes),
        order=order,
        words=compared_words(routes, order, plan.journey.rule),
        cautions=(*meeting_cautions([one.survey.route for one in routes]), *clock_cautions(plan)),
    )


def _kept_survey(plan: Plan, route: Route, previous: Journey | None) -> Survey | None:
    if previous is None or _survey_inputs(previous.plan) != _survey_inputs(plan):
        return None
    return next((one.survey for one in previous.routes if one.survey.route == route), None)


def _survey_inputs(plan: Plan) -> object:
    """What a survey reads of the plan."""
    bare = replace(
        plan.journey, rule="weakest", days_max=30, rest_days=(), points=(), hours_max=None, zone=None, pinned=()
    )
    no_go = tuple(area for area in plan.areas if area.role == "no_go")
    preferences = replace(plan.preferences, progress=plan.preferences.detour, site_count_max=1)
    march = replace(plan.march, delays=(), camp_by_hour=None, camp_in_dark=False)
    return bare, no_go, preferences, march, plan.ground, plan.unit, plan.weather, plan.avalanche, plan.load, plan.camp


def _kept_days(one: RouteJourney, old: RouteJourney) -> RouteJourney:
    """The route with those of an older answer's days that are as they were, full answers and all."""
    days = []
    for index, day in enumerate(one.days):
        was = old.days[index] if index < len(old.days) else None
        is_same = (
            was is not None
            and was.detail is not None
            and (was.night, was.begin_m, was.since, was.depart, was.camp_by, was.is_pinned, was.mends)
            == (day.night, day.begin_m, day.since, day.depart, day.camp_by, day.is_pinned, day.mends)
            and _before(list(old.days), index) == _before(list(one.days), index)
        )
        days.append(was if is_same and was is not None else day)
    return replace(one, days=tuple(days))
