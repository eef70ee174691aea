"""The day's march from plan to reach: strings the stage's questions together."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, Grid
from sitepick.ground.model import Ground
from sitepick.march.clock import DayClock, read_clock, with_stops
from sitepick.march.going import NO_WALL, OUTSIDE, WALL_WORDS, Going, read_going
from sitepick.march.legs import Way, make_legs
from sitepick.march.model import March
from sitepick.march.pace import Pace, pace_of, slope_table, unladen_pace
from sitepick.march.route import follow, lay_stations
from sitepick.march.spread import Seeds, Spread, Surface, spread_each
from sitepick.march.turn_back import back_to_start_min, find_turn_back
from sitepick.plan.model import Plan
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

OFF_ROUTE_WEIGHT = 1.5  # ours: what a minute off the route counts for, when it comes to where to leave it


def plan_march(plan: Plan, ground: Ground, terrain: Terrain, *, watch: Watch | None = None) -> March:
    """How far the unit gets before camp-by, when it is where, and the ground it can camp on.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    watch : Watch, optional

    Returns
    -------
    March

    Raises
    ------
    MarchError
        The route starts where nobody can march, or the day leaves no time for it.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    grid = ground.grid
    clock = read_clock(plan)
    pace = pace_of(plan.march, plan.weather)
    watch.tick("pace over the ground")
    going = read_going(plan.march, pace, ground, terrain)
    stations = lay_stations(plan.route, grid)
    progress = follow(stations, going, pace, grid)
    way = Way(stations=stations, progress=progress, going=going, terrain=terrain)
    clock = with_stops(clock, plan.march, way.moving_min_at)
    count = progress.passable_count
    back_min = back_to_start_min(stations, count, going, pace, grid)

    error = plan.march.pace_error_frac
    early_min, late_min = clock.moving_min * (1.0 + error), clock.moving_min * (1.0 - error)
    spread, detour = _spread(way, pace, grid, limit_min=early_min, watch=watch)
    reach_min = min(clock.moving_min, float(np.nanmax(progress.moving_min)))
    walking = unladen_pace(plan.march, plan.weather)
    return March(
        grid=grid,
        depart=clock.depart,
        camp_by=clock.camp_by,
        sun=clock.sun,
        useful_light_end=clock.useful_light_end,
        route_m=np.stack((stations.east_m, stations.north_m), axis=1),
        station_distance_m=stations.distance_m,
        station_moving_min=progress.moving_min,
        halt_rule=clock.halt_rule,
        legs=make_legs(way, clock),
        route_length_m=float(stations.distance_m[-1]),
        reach_along_route_m=way.distance_m(clock.moving_min),
        early_reach_m=way.distance_m(early_min),
        late_reach_m=way.distance_m(late_min),
        arrive_at_reach_end=clock.depart + timedelta(minutes=clock.halt_rule.elapsed_min(reach_min)),
        moving_min=spread.minutes,
        early_moving_min_limit=early_min,
        moving_min_limit=clock.moving_min,
        late_moving_min_limit=late_min,
        detour_min=detour.minutes,
        leave_station=detour.seed,
        minutes_per_100m=going.off_route_s_per_m * np.float32(1.0 / 0.6),
        walking_minutes_per_100m=_walking_minutes_per_100m(plan, walking, pace, going, ground, terrain),
        walking_mode=walking.mode,
        cautions=(*clock.cautions, *_cautions(plan, way, clock, spread)),
        pitching_min=clock.pitching_min,
        turn_back=find_turn_back(stations, progress.moving_min[:count], back_min, clock),
        dark=clock.dark,
        moon=clock.moon,
    )


def _spread(way: Way, pace: Pace, grid: Grid, *, limit_min: float, watch: Watch) -> tuple[Spread, Spread]:
    """Minutes on the move to each cell, and minutes off the route with the station where it is left."""
    surface = Surface(
        pace_s_per_m=way.going.off_route_s_per_m,
        height_m=way.going.height_m,
        is_way=way.going.is_way,
        slope_table=slope_table(pace),
        cell_m=grid.ground_cell_m,
    )
    count = way.progress.passable_count
    station_min = way.progress.moving_min[:count]
    seeds = Seeds(row=way.stations.row[:count], col=way.stations.col[:count], start_min=station_min)
    # Minutes on the route made cheap are minutes off it made dear, over the same edges.
    late_seeds = replace(seeds, start_min=station_min / OFF_ROUTE_WEIGHT)
    step = "ground in reach"
    spread, late = spread_each(surface, (seeds, late_seeds), limit_min=limit_min, watch=watch, step=step)
    seed = np.where(spread.seed >= 0, late.seed, np.int32(-1))
    left_min = np.append(late_seeds.start_min, np.nan).astype(np.float32)[seed]
    return spread, Spread(minutes=np.maximum(late.minutes - left_min, np.float32(0.0)), seed=seed)


def _walking_minutes_per_100m(
    plan: Plan, walking: Pace, pace: Pace, going: Going, ground: Ground, terrain: Terrain
) -> FloatArray | None:
    if walking == pace:
        return None
    if walking.mode != pace.mode:
        going = read_going(plan.march, walking, ground, terrain)
        return going.off_route_s_per_m * np.float32(1.0 / 0.6)
    return going.off_route_s_per_m * np.float32(pace.unbroken_kmh / walking.unbroken_kmh / 0.6)


def _cautions(plan: Plan, way: Way, clock: DayClock, spread: Spread) -> list[Caution]:
    told = []
    wall, reached = way.progress.wall, np.isfinite(spread.minutes)
    if wall != NO_WALL:
        end_m = float(way.stations.distance_m[way.progress.passable_count - 1])
        fix = "take a route inside the ground" if wall == OUTSIDE else "look for a way around, or move the route"
        text = f"The route can be followed for {end_m / 1000.0:.1f} km only: it meets {WALL_WORDS[wall]}; {fix}."
        told.append(Caution(kind="march", text=text))
    if reached[0].any() or reached[-1].any() or reached[:, 0].any() or reached[:, -1].any():
        text = "The reach runs out of the ground that was read: what lies beyond its edge isn't looked at."
        told.append(Caution(kind="data", text=text))
    if np.any(way.going.is_ice & reached):
        text = (
            f"Ice counts as passable because {plan.march.ice_cm:g} cm of clear ice were measured: it bears elsewhere "
            "only if it is as thick there, so measure it again at each crossing."
        )
        told.append(Caution(kind="ice", text=text))
    if plan.march.mode == "foot" and plan.weather.snow_cm is None:
        text = "The depth of the snow isn't known: the pace on foot holds for less than 30 cm."
        told.append(Caution(kind="march", text=text))
    if plan.march.level_kmh is None:
        text = "The speed on the level is a planning rate from memory, not measured: check it against your own unit's."
        told.append(Caution(kind="march", text=text))
    return told
