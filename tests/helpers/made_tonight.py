"""A made answer: a night's stop on small ground, put together by hand so that everything in it is known."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import numpy as np
from shapely import Point, Polygon, box

from sitepick.camp.model import Camp, Facility, PlacedShelter
from sitepick.caution import Caution
from sitepick.ground.model import FileFacts, Ground
from sitepick.march.model import HaltRule, Leg, March
from sitepick.plan.model import CampSettings, Plan
from sitepick.plan.shelter import NAME_LENGTH_MAX
from sitepick.sites.model import Hindrance, Measure, Site, Sites, Split, SplitPart
from sitepick.sky import SunDay
from sitepick.terrain.model import Terrain
from sitepick.tonight import Tonight
from tests.helpers.made import BIRCH, BOG, LAKE, OPEN, SPRUCE, made_relief, make_ground, make_plan, make_terrain

ROWS, COLS = 160, 320
PACE_MIN_PER_M = 0.02  # 3 km/h
SHELTER_STEP_M = 56.0


def made_tonight(*, people: int = 38, site_count: int = 3, name: str = "", **plan_values: Any) -> Tonight:
    """An answer for a unit of so many people; `name` is put after every site's, shelter's and section's own."""
    ground = _ground()
    plan = make_plan(ground, people=people, note="Invented ground: no place on earth.", **plan_values)
    if name:
        printed = " ".join("".join(letter if letter.isprintable() else " " for letter in name).split())
        shelters = tuple(
            replace(
                shelter,
                name=f"{shelter.name} {printed}"[:NAME_LENGTH_MAX].strip(),
                section=f"{shelter.section} {printed}"[:NAME_LENGTH_MAX].strip(),
            )
            for shelter in plan.unit.shelters
        )
        plan = replace(plan, name=f"Made plan {name}", unit=replace(plan.unit, shelters=shelters))
    terrain = _terrain(ground)
    march = _march(plan, ground)
    found = tuple(_site(plan, ground, march, rank, name) for rank in range(1, site_count + 1))
    sites = Sites(
        grid=ground.grid,
        sites=found,
        need_count=len(plan.unit.shelters),
        can_pitch=~terrain.is_water,
        water_min=np.full(ground.grid.shape, 10.0, np.float32),
        water_limit_min=60.0,
        water_window=(slice(0, ground.grid.rows), slice(0, ground.grid.cols)),
        reach_area_m2=1.2e6,
        unknown_share=0.0213,
        hindrances=() if found else _HINDRANCES,
        cautions=(Caution(kind="data", text="The cover file is from 2021: look for new clearings."),),
    )
    camp = _camp(plan, ground, found[0]) if found else None
    return Tonight(plan=plan, ground=ground, terrain=terrain, march=march, sites=sites, camp=camp)


_HINDRANCES = (
    Hindrance(
        name="slope", text="Slope is over 5.7° on 71 % of the ground in reach.",
        fix="allow 8° to gain 40 ha", excluded_frac=0.71,
    ),
    Hindrance(
        name="room", text="No ground within the limits holds 5 shelters.",
        fix="set the spacing to 30 m", excluded_frac=0.2, spacing_m=30.0,
    ),
)  # fmt: skip


def with_split(answer: Tonight) -> Tonight:
    """The answer with its unit split over two places instead of a site."""
    grid, shelters = answer.ground.grid, answer.plan.unit.shelters
    middle_east_m, middle_north_m = (whole_m + 0.4 for whole_m in grid.centre_m)
    parts = tuple(
        SplitPart(
            name=name,
            outline_m=Point(middle_east_m + away_m, middle_north_m).buffer(60.0),
            east_m=middle_east_m + away_m,
            north_m=middle_north_m,
            capacity=len(mine) + 1,
            shelters=tuple(shelter.name for shelter in mine),
            people=sum(shelter.people for shelter in mine),
            arrive=answer.march.depart + timedelta(hours=6),
        )
        for name, away_m, mine in (("Long Bench", -150.0, shelters[1:]), ("Small Grove", 150.0, shelters[:1]))
    )
    split = Split(
        parts=(parts[0], parts[1]), apart_m=300.0, cautions=(Caution(kind="camp", text="Two camps need two watches."),)
    )
    return replace(answer, sites=replace(answer.sites, split=split))


def _ground() -> Ground:
    relief = 300.0 + made_relief(ROWS, COLS, seed=11, height_m=140.0, roughness=2.2)
    cover = np.full((ROWS, COLS), SPRUCE, dtype=np.int16)
    cover[:50, :120] = BIRCH
    cover[110:, 200:] = OPEN
    cover[90:120, 20:80] = BOG
    cover[20:60, 190:250] = LAKE
    relief[:14, 290:] = np.nan
    cover[:14, 290:] = -1
    ground = make_ground(relief, cover)
    stream = np.column_stack([np.linspace(ground.grid.west_m, ground.grid.east_m, 40), np.full(40, 0.0)])
    stream[:, 1] = ground.grid.south_m + 400.0 + 60.0 * np.sin(np.linspace(0, 9, 40))
    return replace(
        ground,
        stream_lines=(stream,),
        files=(
            FileFacts(path="/nowhere/elevation.tif", role="elevation", text="GeoTIFF, EPSG:32634, 10 m cells."),
            FileFacts(path="/nowhere/cover.tif", role="cover", text="GeoTIFF, EPSG:32634, 10 m cells."),
        ),
    )


def _terrain(ground: Ground) -> Terrain:
    release = np.zeros(ground.grid.shape, dtype=bool)
    runout = release.copy()
    release[120:135, 250:290] = True
    runout[135:150, 245:295] = True
    return make_terrain(ground, is_avalanche_release=release, is_avalanche_runout=runout)


def _march(plan: Plan, ground: Ground) -> March:
    grid = ground.grid
    row = ROWS // 2
    east = np.linspace(grid.west_m + 100.0, grid.east_m - 200.0, 290)
    north = np.full_like(east, grid.cell_centre_m(row, 0)[1])
    distance = east - east[0]
    camp_by = plan.march.depart + timedelta(minutes=70)
    rows, cols = np.indices(grid.shape)
    along = np.clip((cols + 0.5) * grid.cell_m - 100.0, 0.0, None)
    off = np.abs(rows - row) * grid.cell_m
    moving = ((along + 2.0 * off) * PACE_MIN_PER_M).astype(np.float32)
    moving[moving > 72.0] = np.nan
    detour = np.where(np.isfinite(moving), 2.0 * off * PACE_MIN_PER_M, np.nan).astype(np.float32)
    leave = np.where(np.isfinite(moving), np.clip(cols - 10, 0, 289), -1).astype(np.int32)
    rule = HaltRule(halts=((25.0, 10.0),))
    middle = plan.march.depart + timedelta(minutes=30)
    end = plan.march.depart + timedelta(minutes=70)
    return March(
        grid=grid,
        depart=plan.march.depart,
        camp_by=camp_by,
        sun=SunDay(
            civil_dawn=_at(plan, 6, 58), sunrise=_at(plan, 8, 3), sunset=_at(plan, 15, 21),
            civil_dusk=_at(plan, 16, 12), noon_altitude_deg=8.4, kind="day and night",
        ),
        useful_light_end=_at(plan, 16, 12),
        route_m=np.column_stack([east, north]),
        station_distance_m=distance,
        station_moving_min=distance * PACE_MIN_PER_M,
        halt_rule=rule,
        legs=(
            Leg(start_name="Start", end_name="Point 2", depart=plan.march.depart, arrive=middle,
                distance_m=1000.0, climb_m=42.0, descent_m=12.0,
                cautions=(Caution(kind="ice", text="The route crosses a lake: measure the ice first."),)),
            Leg(start_name="Point 2", end_name="Reach", depart=middle, arrive=end,
                distance_m=1790.0, climb_m=55.0, descent_m=61.0),
        ),
        route_length_m=float(distance[-1]),
        reach_along_route_m=2790.0,
        early_reach_m=2890.0,
        late_reach_m=2400.0,
        arrive_at_reach_end=end,
        moving_min=moving,
        early_moving_min_limit=72.0,
        moving_min_limit=60.0,
        late_moving_min_limit=48.0,
        detour_min=detour,
        leave_station=leave,
        minutes_per_100m=np.full(grid.shape, 2.0, dtype=np.float32),
        cautions=(Caution(kind="march", text="The trail is unbroken: change the lead often."),),
    )  # fmt: skip


def _at(plan: Plan, hour: int, minute: int) -> datetime:
    return plan.march.depart.replace(hour=hour, minute=minute)


_SITE_NAMES = ("Bench north of the river", "Spruce rise", "Far wood")


def _site(plan: Plan, ground: Ground, march: March, rank: int, name: str) -> Site:
    grid = ground.grid
    east_m = grid.west_m + 2500.0 - 850.0 * (rank - 1)
    north_m = grid.cell_centre_m(ROWS // 2, 0)[1] + (150.0 if rank % 2 else -160.0)
    outline: Polygon = box(east_m - 190, north_m - 110, east_m + 190, north_m + 110).intersection(
        box(east_m - 170, north_m - 130, east_m + 210, north_m + 130)
    )
    row, col = grid.cell_at(east_m, north_m)
    arrive = march.arrive_at(row, col)
    assert arrive is not None
    return Site(
        rank=rank,
        name=f"{_SITE_NAMES[rank - 1]} {name}".strip(),
        outline_m=outline,
        east_m=east_m,
        north_m=north_m,
        area_m2=outline.area,
        capacity=len(plan.unit.shelters) + 2,
        arrive=arrive,
        moving_min=float(march.moving_min[row, col]),
        detour_min=float(march.detour_min[row, col]),
        leave_distance_m=float(march.station_distance_m[march.leave_station[row, col]]),
        measures=_measures(rank),
        score=84.04 - 6.0 * (rank - 1),
        score_high=86.0 - 6.0 * (rank - 1),
        firm_share=0.81 if rank == 1 else 0.1,
        reason="Densest evergreens in reach, on the lee side; level enough everywhere.",
        cautions=(Caution(kind="timber", text="Old burn 240 m north: look for standing dead timber."),),
    )


def _measures(rank: int) -> tuple[Measure, ...]:
    told = (
        ("forest", "evergreen forest", None if rank == 3 else 0.74, "share", 0.9, 0.3, None, None, "Three quarters."),
        ("slope", "slope", 3.1, "°", 0.8, 0.2, None, 5.7, "Falls 3.1°."),
        ("wind", "wind at the shelter", 0.28, "share", 0.82, 0.25, None, 1.0, "A quarter of the open wind."),
        ("water", "water and back", 9.0, "min", 0.88, 0.15, None, None, "Stream, 9 min there and back."),
        ("room", "room", 2.0, "shelters", 0.66, 0.1, 0.0, None, "Room for two shelters more."),
    )
    return tuple(
        Measure(
            name=key, label=label, value=value, unit=unit, score=score, score_high=score if value is not None else 1.0,
            weight=weight, limit_min=low, limit_max=high, within_limit=True, sentence=sentence,
        )
        for key, label, value, unit, score, weight, low, high, sentence in told
    )  # fmt: skip


def _camp(plan: Plan, ground: Ground, site: Site) -> Camp:
    """Shelters in rows at a little over the usual spacing, whatever the outline."""
    count = len(plan.unit.shelters)
    across = math.ceil(math.sqrt(count))
    spacing = CampSettings().spacing_m
    scale = ground.grid.point_scale(site.east_m, site.north_m)
    placed = tuple(
        PlacedShelter(
            shelter=shelter,
            east_m=site.east_m + (index % across - (across - 1) / 2) * SHELTER_STEP_M + 0.00321,
            north_m=site.north_m + (index // across - (across - 1) / 2) * SHELTER_STEP_M + 0.00477,
            door_bearing_deg=(75.0 + 10.0 * index) % 360.0,
            slope_deg=2.5,
        )
        for index, shelter in enumerate(plan.unit.shelters)
    )
    return Camp(
        site_rank=site.rank,
        site_name=site.name,
        spacing_m=spacing,
        min_distance_m=SHELTER_STEP_M / scale if count > 1 else 0.0,
        shelters=placed,
        missing=(),
        facilities=(
            Facility(kind="latrine", name="Latrine", east_m=site.east_m + 170.0, north_m=site.north_m - 60.0),
            Facility(
                kind="drinking_water", name="Water point", east_m=site.east_m - 150.0, north_m=site.north_m - 100.0
            ),
            Facility(kind="fire", name="Fire", east_m=site.east_m + 14.0, north_m=site.north_m + 42.0),
            Facility(kind="sled_park", name="Sled park", east_m=site.east_m - 60.0, north_m=site.north_m - 96.0),
        ),
        entry_east_m=site.east_m,
        entry_north_m=site.north_m - 110.0,
        cautions=(Caution(kind="fire", text="Air every shelter while a stove burns: fumes kill."),),
    )


def with_named_end(answer: Tonight, name: str = "Upper hut") -> Tonight:
    """The same answer to a plan whose route's second point carries a name."""
    route = replace(answer.plan.route, point_names=(None, name))
    return replace(answer, plan=replace(answer.plan, route=route))
