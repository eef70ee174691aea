"""Each day of a chain as a full answer for that night: its own plan, ground, march, sites, camp and needs."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta

from sitepick.caution import Caution, gravest_first, joined_by_place
from sitepick.errors import MarchError
from sitepick.ground import Ground, read_ground
from sitepick.journey.corridor import corridor, march_of_day
from sitepick.journey.days import day_plan, on_the_day
from sitepick.journey.legs import Legs, distance_m
from sitepick.journey.model import Candidate, Day, DayDetail
from sitepick.journey.path import Path, path_of
from sitepick.march import propose_way
from sitepick.march.sled_load import has_sleds, load_sleds, person_load_kg
from sitepick.plan.exercise_edits import acting_plan
from sitepick.plan.model import Area, LonLat, Plan, Route
from sitepick.terrain import Terrain, read_terrain
from sitepick.tonight import Tonight, tonight_on
from sitepick.work import Watch

SAME_SITE_M = 150.0  # ours: a camp's middle may move so far on the same ground
PAST_STOP_FRAC, PAST_STOP_M = 0.25, 1500.0  # ours: how far past the night's place the day looks for others
QUICKER_TIMES = 1.5  # ours: downhill and on a good day so much more than on the level


def day_answer(
    legs: Legs, day: Day, before: Candidate | None, *, watch: Watch, take: Callable[[int], None] | None = None
) -> Tonight:  # fmt: skip
    """The full answer for a day.

    Parameters
    ----------
    legs : Legs
    day : Day
        A day of march.
    before : Candidate or None
        Last night's place; None on the first day.
    watch : Watch
    take : callable, optional
        ``take(cell_count)`` is called before more than the ground is held in memory; it may wait.

    Raises
    ------
    SitepickError
        The day's ground or way will not serve.
    work.JobStopped
        The watch was stopped.
    """
    path = path_of(legs.survey.route)
    plan = _routed(legs, path, day, before)
    ground = read_ground(plan, watch=watch, window=corridor(plan.route, plan, legs.survey.crs))
    if take is not None:
        take(ground.grid.rows * ground.grid.cols)
    terrain = read_terrain(plan, ground, watch=watch)
    plan = _with_way_back(plan, before, (ground, terrain), watch)
    stop = None if day.night is None or day.night.is_bare else day.night.place
    march = march_of_day(acting_plan(plan), ground, terrain, watch=watch)
    return tonight_on(plan, ground, terrain, watch=watch, march=march, stop=stop)


def day_detail(answer: Tonight, day: Day) -> DayDetail:
    """What a day's full answer adds to the chain; small, so that the ground can be let go."""
    plan, sites, march, needs = answer.plan, answer.sites, answer.march, answer.needs
    assert needs is not None  # tonight always reads them
    pick = sites.sites[0] if day.night is not None and reaches_night(answer, day.night) else None
    alternate = sites.alternate if pick is not None else None
    cautions: list[Caution] = [caution for leg in march.legs for caution in leg.cautions]
    if pick is not None:
        cautions += pick.cautions
    if answer.camp is not None and pick is not None:
        cautions += answer.camp.cautions
    return DayDetail(
        plan=plan,
        site_name="" if pick is None else pick.name,
        score=None if pick is None else pick.score,
        firm_share=None if pick is None else pick.firm_share,
        alternate="" if alternate is None else alternate.name,
        reason="" if pick is None else pick.reason,
        arrive=march.arrive_at_reach_end if pick is None else pick.arrive,
        camp_by=march.camp_by,
        sunrise=march.sun.sunrise,
        useful_light_end=march.useful_light_end,
        water_source=needs.water_source,
        water_words=needs.water_words,
        water_l=needs.water_l,
        fuel_l=needs.fuel_l,
        carried_kg=person_load_kg(plan),
        sled_kg=max((sled.load_kg for sled in load_sleds(plan)), default=0.0) if has_sleds(plan) else 0.0,
        kcal=needs.hardest.total_kcal,
        hindrances=sites.hindrances if day.night is not None and day.night.is_bare else (),
        cautions=gravest_first(joined_by_place(cautions)),
        data_cautions=gravest_first(answer.data_cautions()),
    )


def reaches_night(answer: Tonight, night: Candidate) -> bool:
    """Whether a day's full answer ends at the chain's place."""
    if night.is_bare or not answer.sites.sites:
        return False
    pick = answer.sites.sites[0]
    lon, lat = answer.ground.grid.to_lonlat(pick.east_m, pick.north_m)
    return distance_m(night.place, (float(lon), float(lat))) <= SAME_SITE_M


def _routed(legs: Legs, path: Path, day: Day, before: Candidate | None) -> Plan:
    """The day's plan with the day's piece of the route, from last night's place to some way past tonight's."""
    plan = day_plan(legs.plan, day.number, since=day.since)
    line = legs.survey.line
    last_m = min(line.passable_m, day.end_m + (0.0 if day.night is None else _past_stop_m(legs, day)))
    scale = legs.survey.grid_scale
    lead = () if before is None or before.is_bare else (before.place,)
    route = path.cut(day.begin_m * scale, last_m * scale, before=lead)
    areas = plan.areas
    if day.night is not None and not day.night.is_bare:
        name = f"Night {day.number}, {day.night.name[0].lower()}{day.night.name[1:]}"
        areas = (*areas, Area(name=name, role="site", ring=day.night.ring))
    delays = tuple(
        delay if delay.at_km is None else replace(delay, at_km=delay.at_km - day.begin_m / 1000.0)
        for delay in plan.march.delays
        if delay.at_km is None or day.begin_m <= 1000.0 * delay.at_km <= last_m
    )
    return replace(
        plan,
        route=route,
        areas=areas,
        march=replace(plan.march, delays=delays),
        preferences=on_the_day(plan.preferences),
    )


def _past_stop_m(legs: Legs, day: Day) -> float:
    """How far past the night's place the day looks for others: a share of its way, as far as the hour lets it."""
    pace = legs.survey.pace
    left_min = max(0.0, (day.camp_by - day.arrive) / timedelta(minutes=1))
    left_m = QUICKER_TIMES * 1000.0 / 60.0 * max(pace.broken_kmh, pace.unbroken_kmh) * left_min
    # The way to a place leaves the route before it is beside it: what the place lies beside must be on the day's route.
    least_m = max(PAST_STOP_M, legs.plan.journey.off_route_m)
    return least_m + min(PAST_STOP_FRAC * day.distance_m, left_m)


def _with_way_back(plan: Plan, before: Candidate | None, land: tuple[Ground, Terrain], watch: Watch) -> Plan:
    """The plan with the quickest way from last night's place back to the route, instead of a straight line."""
    points = plan.route.points
    if before is None or points[0] != before.place or len(points) < 3:
        return plan
    try:
        way = propose_way((plan.march, plan.weather), *land, (points[0], points[1]), watch=watch)
    except MarchError:
        return plan
    names = plan.route.names_by_point
    told: tuple[LonLat, ...] = (*way.points[:-1], *points[1:])
    return replace(
        plan,
        route=Route(name=plan.route.name, points=told, point_names=(*(None,) * (len(way.points) - 1), *names[1:])),
    )
