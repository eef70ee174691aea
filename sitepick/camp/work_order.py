"""Who does what on arrival, what must be fetched, who watches at night, what is looked at."""

from __future__ import annotations

from datetime import datetime, timedelta

from sitepick.camp.crew import Crew, Hands, latest
from sitepick.camp.duties import night_turns
from sitepick.camp.model import Camp, Job, WorkOrder
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.plan.pitching import pitching_time_min
from sitepick.sites.model import Site
from sitepick.terrain.melt import melting_for

LOOK_MIN = 15.0  # ours: the leader walks the site and marks the shelters before anyone unpacks
_LOOK_FRAC = 0.2  # of the pitching time, where that is short
# Bed of boughs 25 cm deep, 0.7 by 1.8 m for each person; 0.4 m³ of firewood, stacked, a night for ten. Common practice.
BOUGHS_M3_PER_PERSON = 0.25 * 0.7 * 1.8
FIREWOOD_M3_PER_PERSON = 0.04
_DIGGERS, _DRAWERS, _CUTTERS, _TRAIL = 4, 4, 6, 2

TICKS = (
    "Walk the whole site before anyone unpacks; move on if it won't do",
    "Probe the snow at every mark: stones, stumps, water, hollows",
    "Look up at every mark: dead, leaning or snow-loaded trees and branches",
    "Look at the slopes above: nothing that can slide or fall",
    "Test the ice where water is drawn, and mark safe footing",
    "Feel the wind at the doors; turn a door that drifts up",
    "Air every shelter: two openings, someone awake while anything burns",
    "Count everyone, and look at each other's faces, fingers and feet",
)


def work_order(plan: Plan, camp: Camp, site: Site, march: March, way_out: str) -> WorkOrder:
    """The work on arrival and the duties of the night.

    Parameters
    ----------
    plan : Plan
    camp : Camp
        With shelters, facilities and security.
    site : Site
        The one it lies on.
    march : March
    way_out : str
        For a casualty.
    """
    arrive = site.arrive.replace(microsecond=0)
    pitching_min = pitching_time_min(plan)  # from the arrival on: the leader's look is in it
    start = arrive + timedelta(minutes=min(LOOK_MIN, _LOOK_FRAC * pitching_min))
    up = arrive + timedelta(minutes=pitching_min)
    crew = Crew(hands=_hands(camp, start))
    look = "Walk the site, probe, mark shelters and paths"
    jobs = [Job(what=look, who="Leader", begin=arrive, end=start, people=1)]
    jobs += _security_jobs(camp, crew, (arrive, start, up))
    jobs += _pitching_jobs(camp, crew, (start, up))
    people = sum(placed.shelter.people for placed in camp.shelters)
    boughs_m3 = people * BOUGHS_M3_PER_PERSON if plan.camp.work.may_cut_boughs else None
    firewood_m3 = people * FIREWOOD_M3_PER_PERSON if plan.camp.work.may_gather_firewood else None
    jobs += _common_jobs(plan, camp, crew, start, (boughs_m3 or 0.0) + (firewood_m3 or 0.0))
    ready = latest(jobs, start)
    has_water = any(place.kind == "drinking_water" for place in camp.facilities)
    melting = melting_for(people, plan.weather.snow_density_kg_m3, plan.weather.temperature_c)
    is_melting = not has_water and plan.weather.snow_cm != 0.0
    return WorkOrder(
        jobs=tuple(sorted(jobs, key=lambda job: job.begin)),
        ready=ready,
        is_done_by_dark=None if march.useful_light_end is None else ready <= march.useful_light_end,
        turns=night_turns(plan, camp, ready),
        snow_l=melting.snow_l if is_melting else None,
        fuel_l=melting.melt_fuel_l if is_melting else None,
        boughs_m3=boughs_m3,
        firewood_m3=firewood_m3,
        way_out=way_out,
        ticks=_ticks(camp),
    )


def _hands(camp: Camp, start: datetime) -> list[Hands]:
    return [
        Hands(section=placed.shelter.section, people=placed.shelter.people, free=start)
        for placed in camp.shelters
        if placed.shelter.people
    ]


def _security_jobs(camp: Camp, crew: Crew, times: tuple[datetime, datetime, datetime]) -> list[Job]:
    """One sentry to a post until the shelters are up, from the sections in turn."""
    arrive, start, up = times
    posts = camp.security.posts if camp.security is not None else ()
    leaders = {placed.shelter.section for placed in camp.shelters if placed.shelter.is_leaders}
    largest = sorted(
        (some for some in crew.hands if some.people > 2 and some.section not in leaders), key=lambda some: -some.people
    )
    jobs = []
    for number, post in enumerate(posts if largest else ()):
        section = largest[number % len(largest)].section
        if crew.take(section, 1, start, (up - start).total_seconds() / 60.0):
            jobs.append(Job(what=f"Man {post.name.lower()}", who=section, begin=arrive, end=up, people=1))
    return jobs


def _pitching_jobs(camp: Camp, crew: Crew, times: tuple[datetime, datetime]) -> list[Job]:
    """Each section at its own shelter, half of it or at least two."""
    start, up = times
    jobs = []
    for placed in camp.shelters:
        shelter = placed.shelter
        wanted = max(min(2, shelter.people), (shelter.people + 1) // 2)
        taken = crew.take(shelter.section, wanted, start, (up - start).total_seconds() / 60.0)
        if taken:
            what = f"Tread snow, pitch {shelter.name}"
            jobs.append(Job(what=what, who=shelter.section, begin=start, end=up, people=taken))
    return jobs


def _common_jobs(plan: Plan, camp: Camp, crew: Crew, start: datetime, wood_m3: float) -> list[Job]:
    """Latrine, water, wood and the trail, in that order, by whoever is done first."""
    work = plan.camp.work
    latrines = sum(1 for place in camp.facilities if place.kind == "latrine")
    has_water = any(place.kind == "drinking_water" for place in camp.facilities)
    has_trail = camp.security is not None and len(camp.security.dummy_trail_m) > 1
    wanted: list[tuple[str, float, int]] = [
        (f"Dig the latrine{'s' * (latrines > 1)}", work.latrine_person_min * latrines, _DIGGERS),
        ("Draw water" if has_water else "Fill bags with clean snow", work.water_person_min, _DRAWERS),
        ("Cut boughs and gather firewood", work.wood_person_min * wood_m3, _CUTTERS),
        ("Tread the trail past the site", work.trail_person_min if has_trail else 0.0, _TRAIL),
    ]
    jobs = [crew.share(what, person_min, most=most, not_before=start) for what, person_min, most in wanted]
    return [job for job in jobs if job is not None]


def _ticks(camp: Camp) -> tuple[str, ...]:
    draws = any(place.kind == "drinking_water" for place in camp.facilities)
    return tuple(tick for tick in TICKS if draws or not tick.startswith("Test the ice"))
