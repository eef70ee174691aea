"""A made survey: a level straight way to the east with sites beside it, no files."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta, timezone

import numpy as np

from sitepick.journey.days import day_plan
from sitepick.journey.model import Candidate, Line, Survey
from sitepick.march.pace import pace_of
from sitepick.march.sled_load import march_with_loads
from sitepick.plan.journey import JourneySettings
from sitepick.plan.model import MarchSettings, Plan, Route
from tests.helpers.made import make_plan

LON, LAT = 21.0, 67.0
DEGREE_M = 111_200.0 * math.cos(math.radians(LAT))


def place_at(km: float, *, north_m: float = 0.0) -> tuple[float, float]:
    return LON + 1000.0 * km / DEGREE_M, LAT + north_m / 111_200.0


def journey_plan(*, length_km: float = 40.0, name: str = "Made route", **journey: object) -> Plan:
    """A plan of several days over the made way, departing at eight in March."""
    depart = datetime(2027, 3, 10, 8, 0, tzinfo=timezone(timedelta(hours=1)))
    return make_plan(
        march=MarchSettings(depart=depart, mode="ski", pitching_min=75.0),
        route=Route(name=name, points=(place_at(0.0), place_at(length_km))),
        journey=JourneySettings(**journey),
    )


def site(km: float, score: float, *, detour_min: float = 5.0, name: str = "") -> Candidate:
    lon, lat = place_at(km, north_m=100.0)
    side = 0.0005
    return Candidate(
        name=name or f"Site at {km:g} km",
        place=(lon, lat),
        ring=((lon, lat), (lon + side, lat), (lon + side, lat + side), (lon, lat)),
        along_m=1000.0 * km,
        detour_min=detour_min,
        rejoin_m=1000.0 * km,
        back_min=detour_min,
        measures=(),
        score=score,
        capacity=6,
    )


def make_survey(plan: Plan, sites: dict[float, float], *, trouble: str = "", minutes_a_km: float = 18.0) -> Survey:
    """The survey of a plan's route with some sites, told as kilometre and score."""
    length_m = 1000.0 * (plan.route.points[-1][0] - LON) * DEGREE_M / 1000.0
    distance_m = np.linspace(0.0, length_m, int(length_m / 100.0) + 1)
    count = len(distance_m)
    nothing = np.zeros(count, bool)
    first = day_plan(plan, 1, since=0)
    return Survey(
        route=plan.route,
        crs="EPSG:32634",
        line=Line(
            lon_deg=LON + distance_m / DEGREE_M,
            lat_deg=np.full(count, LAT),
            distance_m=distance_m,
            height_m=np.full(count, 300.0),
            step_min=np.diff(distance_m, prepend=0.0) / 1000.0 * minutes_a_km,
            tangent=np.zeros(count),
            is_broken=nothing.copy(),
            is_track=nothing.copy(),
            is_avalanche=nothing.copy(),
            is_ice=nothing.copy(),
            is_stream=nothing.copy(),
        ),
        grid_scale=1.0,
        pace=pace_of(march_with_loads(first), first.weather),
        candidates=tuple(site(km, score) for km, score in sites.items()),
        trouble=trouble,
    )


def with_journey(plan: Plan, **journey: object) -> Plan:
    return replace(plan, journey=replace(plan.journey, **journey))
