"""Made ground for an exercise: a patchy forest with a lake, every answer worked out by the stages themselves."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import lru_cache

import numpy as np

from sitepick.camp import lay_out_camp
from sitepick.exercise.standard import Standard, read_standard
from sitepick.plan.exercise import HandedIn, PlacedThing
from sitepick.sites import find_sites
from sitepick.tonight import Tonight
from tests.helpers.made import BIRCH, LAKE, OPEN, SPRUCE, made_relief, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

ROWS, COLS = 120, 160


@lru_cache(maxsize=1)
def made_standard() -> Standard:
    """A standard on ground of every kind, the same for every test; nobody changes it."""
    cover = np.full((ROWS, COLS), SPRUCE, np.int16)
    cover[:40, :60] = BIRCH
    cover[60:, 100:] = OPEN
    cover[95:110, 20:60] = LAKE
    heights = 300.0 + made_relief(ROWS, COLS, height_m=20.0)
    heights[cover == LAKE] = heights.min()
    ground = make_ground(heights, cover)
    rng = np.random.default_rng(5)
    slope = (2.0 + 4.5 * rng.random((ROWS // 10, COLS // 10))).repeat(10, 0).repeat(10, 1).astype(np.float32)
    terrain = make_terrain(ground, slope_30m_deg=slope, slope_deg=slope, wind_share=0.3, wind_share_worst=0.5)
    plan = make_plan(ground)
    march = make_march(plan, ground)
    sites = find_sites(plan, ground, terrain, march)
    camp = lay_out_camp(plan, ground, terrain, march, sites)
    return read_standard(Tonight(plan=plan, ground=ground, terrain=terrain, march=march, sites=sites, camp=camp))


def lonlat(standard: Standard, east_m: float, north_m: float) -> tuple[float, float]:
    """A grid point on the globe."""
    lon, lat = standard.answer.ground.grid.to_lonlat(east_m, north_m)
    return float(lon), float(lat)


def best_answer(standard: Standard, trainee: str = "Best") -> HandedIn:
    """The program's own answer, handed in as a trainee's."""
    answer = standard.answer
    pick, alternate = answer.sites.sites[0], answer.sites.alternate
    assert alternate is not None
    assert answer.camp is not None
    things = [
        PlacedThing(
            what=one.shelter.name, place=lonlat(standard, one.east_m, one.north_m), door_deg=one.door_bearing_deg % 360
        )
        for one in answer.camp.shelters
    ]
    things += [
        PlacedThing(what=one.name.split(",")[0], place=lonlat(standard, one.east_m, one.north_m))
        for one in answer.camp.facilities
    ]
    minutes = answer.march.halt_rule.elapsed_min(pick.moving_min)
    arrive = answer.march.depart + timedelta(minutes=minutes)
    return HandedIn(
        trainee=trainee,
        pick=lonlat(standard, pick.east_m, pick.north_m),
        alternate=lonlat(standard, alternate.east_m, alternate.north_m),
        layout=tuple(things),
        arrive=arrive,
        ready=arrive + timedelta(minutes=answer.march.pitching_min),
        reasons="Dense spruce near the lake.",
    )


def with_thing(handed_in: HandedIn, what: str, **values: object) -> HandedIn:
    """The answer with one thing of its layout changed."""
    layout = tuple(
        replace(one, **values) if one.what == what else one  # type: ignore[arg-type]
        for one in handed_in.layout
    )
    return replace(handed_in, layout=layout)
