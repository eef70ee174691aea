"""What a route offers from end to end: its line and the places where a night may fall, read stretch by stretch."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace

import numpy as np
from scipy import ndimage

from sitepick.caution import Caution, gravest_first
from sitepick.errors import SitepickError
from sitepick.grid import DoubleArray
from sitepick.ground import Ground, read_ground
from sitepick.journey.beside import Room, RouteWatch
from sitepick.journey.corridor import corridor, march_of_survey
from sitepick.journey.days import day_plan
from sitepick.journey.model import Candidate, Line, Survey
from sitepick.journey.path import Path, path_of
from sitepick.journey.places import Stretch, find_places
from sitepick.march.clock import read_clock
from sitepick.march.going import NO_WALL, TOO_STEEP, WALL_WORDS, ice_bears, move_height_m, read_going
from sitepick.march.pace import pace_of, trail_is_broken
from sitepick.march.sled_load import march_with_loads
from sitepick.plan.model import LonLat, Plan, Route
from sitepick.terrain import read_terrain
from sitepick.terrain.model import DERIVED_STREAM, MAPPED_BROOK, MAPPED_STREAM
from sitepick.work import Watch

STRETCH_MOST_M, STRETCH_LEAST_M = 12_000.0, 4_000.0
_BINS_A_DAY = 3.0


def survey_route(plan: Plan, route: Route, *, watch: RouteWatch, room: Room) -> Survey:
    """Read a route's ground by stretches, and measure where nights may fall.

    Parameters
    ----------
    plan : Plan
        The journey's.
    route : Route
    watch : RouteWatch
    room : Room
        What of the ground is held at once is taken from it.

    Returns
    -------
    Survey
        As far as the route can be followed; `trouble` says what stops it.

    Raises
    ------
    SitepickError
        Not even its first stretch will serve.
    """
    path = path_of(route)
    first = replace(day_plan(plan, 1, since=0), route=route)
    day_m = _day_m(first)
    count = max(1, round(path.length_m / min(max(day_m, STRETCH_LEAST_M), STRETCH_MOST_M)))
    edges_m = np.linspace(0.0, path.length_m, count + 1)
    lines: list[Line] = []
    candidates: list[Candidate] = []
    cautions: list[Caution] = []
    trouble = ""
    begin_m = 0.0
    pinned = [one.place for one in plan.journey.pinned if one.route == route.name]
    for number, (from_m, to_m) in enumerate(itertools.pairwise(edges_m), start=1):
        watch.heading(f"{route.name}: stretch {number} of {count}", number - 1, count)
        part = replace(first, route=path.cut(from_m, to_m))
        with room.share(watch) as take:
            try:
                stretch = _read_stretch(part, path, begin_m, watch, take)
            except SitepickError as fault:
                if not lines:
                    raise
                trouble = f"from {begin_m / 1000.0:.1f} km on: {fault.what}"
                break
            candidates += find_places(stretch, bin_m=day_m / _BINS_A_DAY, pinned=pinned, watch=watch)
            cautions += [*stretch.ground.cautions, *stretch.terrain.cautions]
            line = _line(stretch)
            lines.append(line)
            begin_m = line.length_m
            if not np.isfinite(line.step_min).all():
                trouble = _wall_words(stretch, line)
                break
            del stretch
    watch.heading(route.name, count, count)
    return Survey(
        route=route,
        crs=path.grid.crs,
        line=_joined(lines),
        grid_scale=float(edges_m[len(lines)]) / begin_m,
        pace=pace_of(march_with_loads(first), first.weather),
        candidates=_named(_apart(candidates)),
        trouble=trouble,
        cautions=gravest_first(cautions),
    )


def _day_m(plan: Plan) -> float:
    """About how far the first day goes on level open ground."""
    pace = pace_of(march_with_loads(plan), plan.weather)
    kmh = pace.broken_kmh if trail_is_broken(plan.march) else pace.unbroken_kmh
    return 1000.0 * kmh * read_clock(plan).moving_min / 60.0


def _read_stretch(plan: Plan, path: Path, begin_m: float, watch: Watch, take: Callable[[int], None]) -> Stretch:
    ground = read_ground(plan, watch=watch, window=corridor(plan.route, plan, path.grid.crs))
    take(ground.grid.rows * ground.grid.cols)
    terrain = read_terrain(plan, ground, watch=watch)
    march = march_of_survey(plan, ground, terrain, watch=watch)
    return Stretch(plan=plan, ground=ground, terrain=terrain, march=march, begin_m=begin_m)


def _line(stretch: Stretch) -> Line:
    """The stretch's stations and what they cross."""
    ground, terrain, march = stretch.ground, stretch.terrain, stretch.march
    grid = ground.grid
    east_m, north_m = march.route_m.T
    row = np.floor((grid.north_m - north_m) / grid.cell_m).astype(int)
    col = np.floor((east_m - grid.west_m) / grid.cell_m).astype(int)
    inside = (row >= 0) & (row < grid.rows) & (col >= 0) & (col < grid.cols)
    at = np.clip(row, 0, grid.rows - 1), np.clip(col, 0, grid.cols - 1)
    height_m = _heights_at(ground, row, col, (east_m, north_m))
    step_m = np.diff(march.station_distance_m)
    tangent = np.divide(np.diff(height_m), step_m, out=np.zeros_like(step_m), where=step_m > 0.0)
    lon, lat = grid.to_lonlat(east_m, north_m)
    settings = stretch.plan.march
    is_track = ground.is_track[at] & inside
    is_water = terrain.is_water[at] & inside & ~is_track
    kind = terrain.water_kind[at]
    is_stream = np.isin(kind, (MAPPED_STREAM, MAPPED_BROOK, DERIVED_STREAM)) & inside & ~is_track
    return Line(
        lon_deg=lon,
        lat_deg=lat,
        distance_m=stretch.begin_m + march.station_distance_m,
        height_m=height_m,
        step_min=np.concatenate(([0.0], np.diff(march.station_moving_min))),
        tangent=np.concatenate(([0.0], np.nan_to_num(tangent))),
        is_broken=(is_track & settings.tracks_packed) | trail_is_broken(settings),
        is_track=is_track,
        is_avalanche=(terrain.is_avalanche_release | terrain.is_avalanche_runout)[at] & inside,
        is_ice=is_water & ice_bears(settings),
        is_stream=is_stream,
    )


def _heights_at(
    ground: Ground, row: np.ndarray, col: np.ndarray, place_m: tuple[DoubleArray, DoubleArray]
) -> DoubleArray:
    """Heights between the cells, along the way; NaN where not known."""
    grid = ground.grid
    east_m, north_m = place_m
    at = np.stack(((grid.north_m - north_m) / grid.cell_m - 0.5, (east_m - grid.west_m) / grid.cell_m - 0.5))
    return np.asarray(ndimage.map_coordinates(move_height_m(ground), at, order=1, mode="nearest"), float)


def _wall_words(stretch: Stretch, line: Line) -> str:
    """What stops the route, and where."""
    march = stretch.march
    at = int(np.flatnonzero(np.isnan(march.station_moving_min))[0])
    settings = march_with_loads(stretch.plan)
    going = read_going(stretch.plan.march, pace_of(settings, stretch.plan.weather), stretch.ground, stretch.terrain)
    grid = stretch.ground.grid
    row, col = grid.cell_at(*(float(value) for value in march.route_m[at]))
    is_inside = 0 <= row < grid.rows and 0 <= col < grid.cols
    wall = int(going.wall[row, col]) if is_inside else len(WALL_WORDS) - 1
    words = WALL_WORDS[TOO_STEEP if wall == NO_WALL else wall]
    return f"at {line.distance_m[at] / 1000.0:.1f} km it meets {words}"


def _joined(lines: Sequence[Line]) -> Line:
    """Stretches end to end; the first station of each is the last of the one before."""

    def of(name: str) -> np.ndarray:
        first = getattr(lines[0], name)
        return np.concatenate((first, *(getattr(line, name)[1:] for line in lines[1:])))

    return Line(**{name: of(name) for name in Line.__slots__})


def _apart(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """By place along the route, and no ground twice where two stretches meet."""
    kept: list[Candidate] = []
    for one in sorted(candidates, key=lambda candidate: (candidate.along_m, candidate.place)):
        near = [other for other in kept[-40:] if _apart_m(one.place, other.place) < 150.0]
        if near and near[0].score >= one.score:
            continue
        for other in near:
            kept.remove(other)
        kept.append(one)
    return tuple(kept)


def _named(candidates: Sequence[Candidate]) -> tuple[Candidate, ...]:
    """Names told apart by where along the whole route each place lies."""
    bare = [one.name.split(", ")[0].split(" (")[0] for one in candidates]
    common = Counter(bare)
    told: Counter[str] = Counter()
    named = []
    for one, name in zip(candidates, bare, strict=True):
        if common[name] > 1:
            name = f"{name} at {one.along_m / 1000.0:.1f} km"
        told[name] += 1
        named.append(replace(one, name=name if told[name] == 1 else f"{name} ({told[name]})"))
    return tuple(named)


def _apart_m(one: LonLat, other: LonLat) -> float:
    north_m = (one[1] - other[1]) * 111_200.0
    east_m = (one[0] - other[0]) * 111_200.0 * np.cos(np.radians(one[1]))
    return float(np.hypot(east_m, north_m))
