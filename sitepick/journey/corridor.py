"""The ground beside a route on which a journey looks for its nights, and the march over no more than that."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import numpy.typing as npt

from sitepick.caution import Caution
from sitepick.grid import FloatArray, Grid, MaskArray
from sitepick.ground import Ground, ground_window
from sitepick.ground.window import GroundWindow
from sitepick.march import plan_march
from sitepick.march.clock import DayClock, arrival_sun, route_middle
from sitepick.march.day import OFF_ROUTE_WEIGHT
from sitepick.march.edges import TILE_COLS, TILE_ROWS, Edges, Surface, TileArray
from sitepick.march.going import move_height_m, read_going
from sitepick.march.model import HaltRule, March
from sitepick.march.pace import pace_of, slope_table
from sitepick.march.route import lay_stations
from sitepick.march.sled_load import march_with_loads
from sitepick.march.spread import Seeds, spread_beside
from sitepick.moon import moon_night
from sitepick.plan.model import Plan, Route
from sitepick.terrain import Terrain
from sitepick.work import Watch

MARGIN_M = 2000.0  # around the ground that is looked at: shelters, shades, drains and water
WALK_M = 700.0  # ours: so much farther off a way to a place, or from it to water, may swing out on a survey
ENDLESS_MIN = 6000.0  # nobody is so long on one stretch
_STAMP_M = 100.0  # a disc is put down so often along the route; it lies 1 m short of its edge halfway between
_AT_ONCE_MIN = 1.0
STEP = "ground beside the route"


def corridor(route: Route, plan: Plan, crs: str) -> GroundWindow:
    """The ground along a stretch: as far off as nights are looked for, and what shelters it."""
    return ground_window(route, off_route_m=plan.journey.off_route_m, margin_m=MARGIN_M, crs=crs)


def near_route(route: Route, grid: Grid, within_m: float) -> MaskArray:
    """Cells whose middle lies within a distance of a route.

    Parameters
    ----------
    route : Route
    grid : Grid
        May hold a part of the route only.
    within_m : float
        On the ground.

    Returns
    -------
    bool array of the grid's shape
        True a metre or two farther in than the distance tells, nowhere farther out than a cell.
    """
    near: MaskArray = np.zeros(grid.shape, bool)
    stations = lay_stations(route, grid)
    reach = within_m / grid.ground_cell_m
    size = math.ceil(reach)
    steps = np.arange(-size, size + 1)
    disc = np.hypot(steps[:, None], steps[None, :]) <= reach
    every = max(1, int(_STAMP_M / grid.cell_m))
    index = np.unique(np.append(np.arange(0, stations.row.size, every), stations.row.size - 1))
    for row, col in zip(stations.row[index].tolist(), stations.col[index].tolist(), strict=True):
        top, left = max(0, row - size), max(0, col - size)
        bottom, right = min(grid.rows, row + size + 1), min(grid.cols, col + size + 1)
        if top < bottom and left < right:
            near[top:bottom, left:right] |= disc[
                top - row + size : bottom - row + size, left - col + size : right - col + size
            ]
    return near


def march_of_survey(plan: Plan, ground: Ground, terrain: Terrain, *, watch: Watch) -> March:
    """The march along a stretch as if the day had no end, and the ways off it as far as nights are looked for.

    Parameters
    ----------
    plan : Plan
        Its route is the stretch.
    ground : Ground
    terrain : Terrain
    watch : Watch

    Returns
    -------
    March
        Detours, and the stations where they leave the route, as `march.plan_march` finds them; nobody moves farther
        off the route than `WALK_M` past where nights are looked for, and what is farther is a wall.
    """
    plan = replace(plan, march=replace(plan.march, delays=(), pace_error_frac=0.0))
    far_m = plan.journey.off_route_m
    watch.tick(STEP)
    closed = _closed(ground, near_route(plan.route, ground.grid, far_m + WALK_M))
    # Told to end at once, the march's own spread is over at once: only the one that is needed is made below.
    march = plan_march(plan, closed, terrain, watch=watch, clock=_endless_clock(plan, _AT_ONCE_MIN))
    detour_min, station = _detours(plan, ground, terrain, march, watch)
    watch.tick(STEP)
    is_near = near_route(plan.route, ground.grid, far_m) & (station >= 0)
    return replace(
        march,
        moving_min_limit=ENDLESS_MIN,
        early_moving_min_limit=ENDLESS_MIN,
        late_moving_min_limit=ENDLESS_MIN,
        moving_min=detour_min,
        detour_min=np.where(is_near, detour_min, np.float32(np.nan)),
        leave_station=np.where(is_near, station, np.int32(-1)),
    )


def march_of_day(plan: Plan, ground: Ground, terrain: Terrain, *, watch: Watch) -> March:
    """A day's march, whose reach ends where nights are no longer looked for.

    Parameters
    ----------
    plan : Plan
        Its route is the day's.
    ground : Ground
    terrain : Terrain
    watch : Watch

    Returns
    -------
    March
        Cut at that distance off the route; what people walk over from camp goes as far as the ground around it is
        known, `MARGIN_M` farther.

    Raises
    ------
    MarchError
        The route starts where nobody can march, or the day leaves no time for it.
    """
    far_m, grid = plan.journey.off_route_m, ground.grid
    watch.tick(STEP)
    march = plan_march(plan, _closed(ground, near_route(plan.route, grid, far_m + WALK_M)), terrain, watch=watch)
    watch.tick(STEP)
    minutes, walking = _minutes_per_100m(
        plan, march, _closed(ground, near_route(plan.route, grid, far_m + MARGIN_M)), terrain, watch
    )
    watch.tick(STEP)
    is_near = near_route(plan.route, grid, far_m)
    watch.tick(STEP)
    told = f"Nights are looked for within {far_m / 1000.0:g} km of the route: what lies farther off isn't in the reach."
    return replace(
        march,
        moving_min=np.where(is_near, march.moving_min, np.float32(np.nan)),
        detour_min=np.where(is_near, march.detour_min, np.float32(np.nan)),
        leave_station=np.where(is_near, march.leave_station, np.int32(-1)),
        minutes_per_100m=minutes,
        walking_minutes_per_100m=walking,
        cautions=(*march.cautions, Caution(kind="data", text=told)),
    )


def _closed(ground: Ground, near: MaskArray) -> Ground:
    """The ground with nobody moving where it isn't near."""
    return replace(ground, is_no_go=ground.is_no_go | ~near)


def _endless_clock(plan: Plan, moving_min: float) -> DayClock:
    """A day of light without halts: for what lies along a route, whatever the hour."""
    depart = plan.march.depart
    return DayClock(
        depart=depart,
        camp_by=depart + timedelta(minutes=ENDLESS_MIN),
        sun=replace(arrival_sun(plan.route, depart), kind="midnight sun", civil_dawn=None, civil_dusk=None),
        useful_light_end=None,
        pitching_min=0.0,
        dark=(),
        moon=moon_night(*route_middle(plan.route), depart, depart + timedelta(days=1)),
        halt_rule=HaltRule(halts=()),
        moving_min=moving_min,
        cautions=(),
    )


def _detours(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, watch: Watch
) -> tuple[FloatArray, npt.NDArray[np.int32]]:
    """Minutes off the route to each cell, and the station where it is left; NaN and -1 where no way leads."""
    grid = ground.grid
    watch.tick(STEP)
    surface = Surface(
        pace_s_per_m=march.minutes_per_100m * np.float32(0.6),
        height_m=np.ascontiguousarray(move_height_m(ground)),
        is_way=ground.is_track & np.isfinite(march.minutes_per_100m),
        slope_table=slope_table(pace_of(march_with_loads(plan), plan.weather)),
        cell_m=grid.ground_cell_m,
    )
    stations = lay_stations(plan.route, grid)
    known = np.flatnonzero(np.isfinite(march.station_moving_min))
    row, col = stations.row[known], stations.col[known]
    known = known[np.isfinite(surface.pace_s_per_m[row, col])]
    late_min = march.station_moving_min / OFF_ROUTE_WEIGHT
    seeds = Seeds(row=stations.row[known], col=stations.col[known], start_min=late_min[known], number=known)
    edges = Edges(surface, watch=watch, step=STEP)
    (late,) = spread_beside(edges, (seeds,), _open_tiles(surface), ENDLESS_MIN)
    watch.tick(STEP)
    start_min = np.append(late_min, np.nan).astype(np.float32)
    return np.maximum(late.minutes - start_min[late.seed], np.float32(0.0)), late.seed


def _open_tiles(surface: Surface) -> TileArray:
    """Tiles that hold a cell which can be moved over."""
    is_open = np.isfinite(surface.pace_s_per_m)
    by_row = np.logical_or.reduceat(is_open, np.arange(0, is_open.shape[0], TILE_ROWS), axis=0)
    return np.argwhere(np.logical_or.reduceat(by_row, np.arange(0, is_open.shape[1], TILE_COLS), axis=1))


def _minutes_per_100m(
    plan: Plan, march: March, ground: Ground, terrain: Terrain, watch: Watch
) -> tuple[FloatArray, FloatArray | None]:
    """Time over each cell, as `March.minutes_per_100m` and `March.walking_minutes_per_100m`, over other ground."""
    pace, walking = march.pace, march.walking
    assert pace is not None
    assert walking is not None  # a march that was planned knows both
    minutes = read_going(plan.march, pace, ground, terrain, watch=watch).off_route_s_per_m * np.float32(1.0 / 0.6)
    if march.walking_minutes_per_100m is None:
        return minutes, None
    if walking.mode != pace.mode:
        going = read_going(plan.march, walking, ground, terrain, watch=watch)
        return minutes, going.off_route_s_per_m * np.float32(1.0 / 0.6)
    return minutes, minutes * np.float32(pace.unbroken_kmh / walking.unbroken_kmh)
