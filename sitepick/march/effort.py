"""What each leg asks of a person: effort by slope, trail and load, and how open it is to the wind.

The route is read in short spans. Each has the pace that the march gives it, its own slope, and the
coefficient of what lies underfoot.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import timedelta

import numpy as np
from scipy import ndimage

from sitepick.grid import DoubleArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.energy import (
    BOG_FACTOR,
    OPEN_FACTOR,
    PACKED_SNOW_FACTOR,
    STAND_FACTOR,
    STANDING_W_PER_KG,
    TRACK_FACTOR,
    harness_w,
    kcal,
    march_w,
    sinkage_cm,
    snow_factor,
)
from sitepick.march.going import move_height_m
from sitepick.march.model import March
from sitepick.march.sled_load import load_sleds, person_load_kg
from sitepick.plan.model import Plan
from sitepick.terrain.chill import Frostbite, frostbite, wind_chill_c
from sitepick.terrain.model import Terrain

SPAN_M = 50.0  # ours: the slope over less than this is the raster's noise
OPEN_CANOPY_FRAC = 0.4  # ours: thinner crowns, and ground whose trees aren't known, let the wind through
WALKERS_WIND_KMH = 4.8  # walking into the wind at this is in the index already; its authors' walker
_FACE_SHARE = 0.667  # of the wind at 10 m that meets a face, as in the index


@dataclass(frozen=True, slots=True, kw_only=True)
class Chill:
    """What open ground feels like on the move.

    Attributes
    ----------
    felt_c : float
    frostbite : Frostbite
        What that does to bare skin.
    """

    felt_c: float
    frostbite: Frostbite


@dataclass(frozen=True, slots=True, kw_only=True)
class LegEffort:
    """What one leg asks of a person.

    Attributes
    ----------
    start_name, end_name : str
        As in `march.model.Leg`.
    walk_w, walk_kcal : float
        Mean on the move, and in all, for a person who carries.
    pull_w, pull_kcal : float or None
        The same for one in a sled's harness all the way; None without sleds.
    open_m : float
        How much of the leg lies open to the wind.
    chill : Chill or None
        What it feels like there; None where the weather isn't known or no part lies open.
    """

    start_name: str
    end_name: str
    walk_w: float
    walk_kcal: float
    pull_w: float | None
    pull_kcal: float | None
    open_m: float
    chill: Chill | None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spans:
    """The route as far as the unit gets, in stretches of about `SPAN_M`; arrays of one length.

    Attributes
    ----------
    leg : int64
        Number of the leg that each belongs to.
    end_m, length_m, minutes : float64
        Where it ends along the route, how long it is, minutes on the move.
    grade_pct, terrain_factor : float64
    walk_w, harness_w : float64
        Watts of a person who carries; watts on top for one in harness (0 without sleds).
    is_open, is_sunny : bool
        Open to the wind; the sun is up when the unit passes.
    """

    leg: np.ndarray
    end_m: DoubleArray
    length_m: DoubleArray
    minutes: DoubleArray
    grade_pct: DoubleArray
    terrain_factor: DoubleArray
    walk_w: DoubleArray
    harness_w: DoubleArray
    is_open: MaskArray
    is_sunny: MaskArray


def read_spans(plan: Plan, ground: Ground, terrain: Terrain, march: March) -> Spans:
    """The route's spans with the effort of each.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March

    Returns
    -------
    Spans
        Empty where the march has no legs.
    """
    leg, edges = _edges(march)
    count = int(np.isfinite(march.station_moving_min).sum())
    distance_m, moving_min = march.station_distance_m[:count], march.station_moving_min[:count]
    start_m, end_m = edges[:, 0], edges[:, 1]
    length_m = end_m - start_m
    start_min, end_min = np.interp(start_m, distance_m, moving_min), np.interp(end_m, distance_m, moving_min)
    minutes = np.maximum(end_min - start_min, 1e-6)
    height_m = _heights(ground, march.route_m[:count])
    rise_m = np.interp(end_m, distance_m, height_m) - np.interp(start_m, distance_m, height_m)
    grade_pct = 100.0 * rise_m / length_m
    middle = np.clip(np.searchsorted(distance_m, (start_m + end_m) / 2.0), 0, count - 1)
    row, col = _cells(ground, march.route_m[middle])
    factor = terrain_factors(plan, ground, terrain, row, col)
    speed_ms = length_m / minutes / 60.0
    walk_w, pull_w = person_w(plan, speed_ms, grade_pct, factor)
    return Spans(
        leg=leg,
        end_m=end_m,
        length_m=length_m,
        minutes=minutes,
        grade_pct=grade_pct,
        terrain_factor=factor,
        walk_w=walk_w,
        harness_w=pull_w,
        is_open=~(terrain.canopy_frac[row, col] >= OPEN_CANOPY_FRAC),
        is_sunny=_sunny(march, (start_min + end_min) / 2.0),
    )


def person_w(
    plan: Plan, speed_ms: DoubleArray, grade_pct: DoubleArray, factor: DoubleArray
) -> tuple[DoubleArray, DoubleArray]:
    """Watts of a person who carries, and on top for one in the harness that is hardest to pull in."""
    body_kg = plan.load.body_kg
    if plan.march.mode == "vehicle":
        return np.full(speed_ms.shape, STANDING_W_PER_KG * body_kg), np.zeros(speed_ms.shape)
    walk_w = march_w(body_kg, person_load_kg(plan), speed_ms, grade_pct, factor)
    share_kg = max(((sled.load_kg + plan.load.sled_own_kg) / sled.pullers for sled in load_sleds(plan)), default=0.0)
    return walk_w, harness_w(share_kg, plan.load.sled_drag_frac, speed_ms, grade_pct)


def terrain_factors(
    plan: Plan, ground: Ground, terrain: Terrain, row: np.ndarray, col: np.ndarray, *, on_route: bool = True
) -> DoubleArray:
    """Terrain coefficient of some cells.

    Snow whose depth isn't known counts as none: what comes of it is a lower bound.
    """
    march, weather = plan.march, plan.weather
    is_stand = terrain.canopy_frac[row, col] >= OPEN_CANOPY_FRAC
    is_way = ground.is_track[row, col]
    cover = np.where(is_stand, STAND_FACTOR, OPEN_FACTOR)
    if not weather.snow_cm:
        bare = np.where(terrain.is_wet[row, col], BOG_FACTOR, cover)
        return np.where(is_way, TRACK_FACTOR, bare)
    unbroken = float(snow_factor(sinkage_cm(weather.snow_cm, weather.snow_density_kg_m3, march.mode)))
    is_packed = np.full(is_way.shape, on_route and march.trail_broken) | (is_way & march.tracks_packed)
    return np.where(is_packed, PACKED_SNOW_FACTOR, np.where(is_way, unbroken, np.maximum(unbroken, cover)))


def leg_efforts(plan: Plan, march: March, spans: Spans) -> tuple[LegEffort, ...]:
    """What each of the march's legs asks of a person, all of its length counted."""
    has_harness = bool((spans.harness_w > 0.0).any())
    efforts = []
    for number, leg in enumerate(march.legs):
        mine = spans.leg == number
        minutes = spans.minutes[mine]
        total_min = max(float(minutes.sum()), 1e-6)
        walk_w, pull_w = spans.walk_w[mine], spans.walk_w[mine] + spans.harness_w[mine]
        is_open = spans.is_open[mine]
        open_m = float(spans.length_m[mine][is_open].sum())
        speed_kmh = 60.0 / 1000.0 * float((spans.length_m[mine] / minutes).max(initial=0.0))
        efforts.append(
            LegEffort(
                start_name=leg.start_name,
                end_name=leg.end_name,
                walk_w=float((walk_w * minutes).sum()) / total_min,
                walk_kcal=kcal(walk_w, minutes),
                pull_w=float((pull_w * minutes).sum()) / total_min if has_harness else None,
                pull_kcal=kcal(pull_w, minutes) if has_harness else None,
                open_m=open_m,
                chill=march_chill(plan, speed_kmh) if open_m > 0.0 else None,
            )
        )
    return tuple(efforts)


def march_chill(plan: Plan, speed_kmh: float) -> Chill | None:
    """What the open feels like on the move at the night's lowest temperature, and what that does to bare skin.

    Notes
    -----
    The index counts a walker who faces the wind; only what a faster unit adds to it is put on top.
    """
    temperature_c, wind_kmh = plan.weather.temperature_c, plan.weather.mean_wind_kmh
    if temperature_c is None or wind_kmh is None:
        return None
    felt_kmh = wind_kmh + max(0.0, speed_kmh - WALKERS_WIND_KMH) / _FACE_SHARE
    return Chill(felt_c=wind_chill_c(temperature_c, felt_kmh), frostbite=frostbite(temperature_c, felt_kmh))


def _edges(march: March) -> tuple[np.ndarray, DoubleArray]:
    """Number of its leg, start and end of each span."""
    legs, edges, done_m = [np.zeros(0, np.int64)], [np.zeros((0, 2))], 0.0
    for number, leg in enumerate(march.legs):
        count = max(1, math.ceil(leg.distance_m / SPAN_M))
        ends = np.linspace(done_m, done_m + leg.distance_m, count + 1)
        done_m += leg.distance_m
        if leg.distance_m > 0.0:
            legs.append(np.full(count, number))
            edges.append(np.stack((ends[:-1], ends[1:]), axis=1))
    return np.concatenate(legs), np.concatenate(edges)


def _cells(ground: Ground, places_m: DoubleArray) -> tuple[np.ndarray, np.ndarray]:
    grid = ground.grid
    row = np.floor((grid.north_m - places_m[:, 1]) / grid.cell_m).astype(np.int64)
    col = np.floor((places_m[:, 0] - grid.west_m) / grid.cell_m).astype(np.int64)
    return np.clip(row, 0, grid.rows - 1), np.clip(col, 0, grid.cols - 1)


def _heights(ground: Ground, places_m: DoubleArray) -> DoubleArray:
    """Height of each place between the cells around it; the own cell's where a neighbour isn't known."""
    grid, height_m = ground.grid, move_height_m(ground)
    at = ((grid.north_m - places_m[:, 1]) / grid.cell_m - 0.5, (places_m[:, 0] - grid.west_m) / grid.cell_m - 0.5)
    between = ndimage.map_coordinates(height_m, np.array(at), order=1, mode="nearest", output=np.float64)
    return np.asarray(np.where(np.isnan(between), height_m[_cells(ground, places_m)], between), float)


def _sunny(march: March, moving_min: DoubleArray) -> MaskArray:
    """Whether the sun is up when so many minutes have been spent on the move."""
    sun = march.sun
    if sun.kind == "midnight sun":
        return np.ones(moving_min.shape, bool)
    rise, down = sun.sunrise, sun.sunset
    times = [march.depart + timedelta(minutes=march.halt_rule.elapsed_min(float(one))) for one in moving_min]
    has_sun = rise is not None or down is not None
    return np.array(
        [has_sun and (rise is None or rise <= at) and (down is None or at <= down) for at in times], dtype=bool
    )
