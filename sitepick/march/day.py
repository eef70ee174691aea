"""The day's march from plan to reach: strings the stage's questions together."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import numpy.typing as npt

from sitepick.caution import Caution
from sitepick.grid import FloatArray, Grid, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.clock import DayClock, read_clock, with_stops
from sitepick.march.edges import Surface
from sitepick.march.going import NO_WALL, OPEN_WATER, OUTSIDE, WALL_WORDS, Going, ice_needed_cm, read_going
from sitepick.march.lead import lead_min
from sitepick.march.legs import Way, make_legs
from sitepick.march.model import March
from sitepick.march.night import Night, read_night
from sitepick.march.pace import Pace, breaking_pace, pace_of, slope_table, unladen_pace
from sitepick.march.pace_cautions import measured_ice_words, pace_cautions
from sitepick.march.route import follow, lay_stations
from sitepick.march.sled_load import march_with_loads
from sitepick.march.spread import Seeds, spread_each
from sitepick.march.turn_back import back_to_start_min, find_turn_back
from sitepick.plan.model import Plan
from sitepick.terrain.model import Terrain
from sitepick.work import Watch, run_row_blocks

OFF_ROUTE_WEIGHT = 1.5  # ours: what a minute off the route counts for, when it comes to where to leave it


def plan_march(
    plan: Plan, ground: Ground, terrain: Terrain, *, watch: Watch | None = None, clock: DayClock | None = None
) -> March:
    """How far the unit gets before camp-by, when it is where, and the ground it can camp on.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    watch : Watch, optional
    clock : DayClock, optional
        The day's times; by the plan and the sun if not told.

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
    clock = clock or read_clock(plan)
    march = march_with_loads(plan)
    pace = pace_of(march, plan.weather)
    going = read_going(plan.march, pace, ground, terrain, watch=watch)
    stations = lay_stations(plan.route, grid)
    by_day = follow(stations, going, pace, grid)
    # Where the night falls hangs on the stops, and the stops at places hang on how far the night lets the unit get.
    dark_first = read_night(clock, pace.night_frac)
    first = replace(by_day, moving_min=dark_first.moving_min(by_day.moving_min))
    on_the_way = Way(stations=stations, progress=first, going=going, terrain=terrain)
    clock = with_stops(clock, plan.march, on_the_way.moving_min_at)
    night = read_night(clock, pace.night_frac)
    progress = replace(by_day, moving_min=night.moving_min(by_day.moving_min))
    way = Way(stations=stations, progress=progress, going=going, terrain=terrain)
    count = progress.passable_count
    back_min = back_to_start_min(stations, count, going, pace, grid)

    error, day_min = plan.march.pace_error_frac, night.by_day_min(clock.moving_min)
    early_min, late_min = night.moving_min([day_min * (1.0 + error), day_min * (1.0 - error)]).tolist()
    moving_min, detour_min, leave_station = _reach(
        replace(way, progress=by_day), pace, grid, night, limit_min=day_min * (1.0 + error), watch=watch
    )
    reach_min = min(clock.moving_min, float(np.nanmax(progress.moving_min)))
    walking = unladen_pace(march, plan.weather)
    ahead_min = None
    if plan.march.pace.breaking == "lead_party" and not plan.march.trail_broken:
        party = breaking_pace(march, plan.weather)
        ahead_min = lead_min(stations, going, progress, (pace, party), clock, grid) + plan.march.pace.lead_margin_min
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
        moving_min=moving_min,
        early_moving_min_limit=early_min,
        moving_min_limit=clock.moving_min,
        late_moving_min_limit=late_min,
        detour_min=detour_min,
        leave_station=leave_station,
        minutes_per_100m=going.off_route_s_per_m * np.float32(1.0 / 0.6),
        walking_minutes_per_100m=_walking_minutes_per_100m(plan, walking, pace, going, ground, terrain, watch),
        walking_mode=walking.mode,
        pace=pace,
        walking=walking,
        lead_min=ahead_min,
        cautions=(
            *clock.cautions,
            *_cautions(plan, way, np.isfinite(moving_min)),
            *pace_cautions(replace(plan, march=march), pace, clock, ahead_min),
        ),
        pitching_min=clock.pitching_min,
        turn_back=find_turn_back(stations, progress.moving_min[:count], back_min, clock),
        dark=clock.dark,
        moon=clock.moon,
    )


def _reach(
    way: Way, pace: Pace, grid: Grid, night: Night, *, limit_min: float, watch: Watch
) -> tuple[FloatArray, FloatArray, npt.NDArray[np.int32]]:
    """Minutes on the move to each cell, those of them off the route, and the station where it is left."""
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
    moving_min, detour_min = np.empty(grid.shape, np.float32), np.empty(grid.shape, np.float32)
    station = np.empty(grid.shape, np.int32)
    late_min = np.append(late_seeds.start_min, np.nan).astype(np.float32)

    def by_the_clock(first: int, last: int) -> None:
        rows = slice(first, last)
        station[rows] = np.where(spread.seed[rows] >= 0, late.seed[rows], np.int32(-1))
        off_route_min = np.maximum(late.minutes[rows] - late_min[station[rows]], np.float32(0.0))
        moving_min[rows] = night.moving_min_on_grid(spread.minutes[rows])
        detour_min[rows] = night.longer_min(way.progress.moving_min[station[rows]], off_route_min)

    run_row_blocks(by_the_clock, grid.rows, watch=watch, step=step)
    return moving_min, detour_min, station


def _walking_minutes_per_100m(
    plan: Plan, walking: Pace, pace: Pace, going: Going, ground: Ground, terrain: Terrain, watch: Watch
) -> FloatArray | None:
    if walking == pace:
        return None
    if walking.mode != pace.mode:
        going = read_going(plan.march, walking, ground, terrain, watch=watch)
        return going.off_route_s_per_m * np.float32(1.0 / 0.6)
    return going.off_route_s_per_m * np.float32(pace.unbroken_kmh / walking.unbroken_kmh / 0.6)


def _cautions(plan: Plan, way: Way, reached: MaskArray) -> list[Caution]:
    told, wall = [], way.progress.wall
    if wall != NO_WALL:
        end_m = float(way.stations.distance_m[way.progress.passable_count - 1])
        fix = _way_out(wall, plan)
        text = f"The route can be followed for {end_m / 1000.0:.1f} km only: it meets {WALL_WORDS[wall]}; {fix}."
        told.append(Caution(kind="march", text=text))
    if reached[0].any() or reached[-1].any() or reached[:, 0].any() or reached[:, -1].any():
        text = "The reach runs out of the ground that was read: what lies beyond its edge isn't looked at."
        told.append(Caution(kind="data", text=text))
    if np.any(way.going.is_ice & reached):
        text = (
            f"Ice counts as passable because {measured_ice_words(plan.march)} were measured: it bears elsewhere "
            "only if it is as thick there, so measure it again at each crossing."
        )
        told.append(Caution(kind="ice", text=text))
    return told


def _way_out(wall: int, plan: Plan) -> str:
    if wall == OUTSIDE:
        return "take a route inside the ground"
    fix = "look for a way around, or move the route"
    if wall != OPEN_WATER:
        return fix
    return f"{fix}; on ice it takes {ice_needed_cm(plan.march):g} cm of clear ice, measured there and told to the plan"
