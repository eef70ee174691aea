"""Perimeter, posts, sectors, the alarm point: who watches which side."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime

import numpy as np
import shapely
from shapely import Polygon

from sitepick.camp.approach import CLEAR_M, dummy_trail, find_way_in
from sitepick.camp.model import Facility, Post, Security
from sitepick.camp.shade import shade_at
from sitepick.camp.surroundings import Surroundings
from sitepick.grid import DoubleArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.terrain.sight import SightRule, read_sight
from sitepick.units import bearing_deg
from sitepick.work import Watch

TARGET_M = 1.0  # someone who comes bent over
EYE_M = 1.5  # a sentry kneels or stands
CANDIDATE_COUNT = 24  # round the perimeter
POSTS_LEAST, POSTS_MOST = 2, 6  # as far as there are people
PEOPLE_PER_POST = 6  # ours: fewer people than that can't spare one more
APART_LEAST_M = 40.0  # ours: two nearer to each other watch as one
GAIN_LEAST_FRAC = 0.04  # of the approaches: a further post that adds less isn't worth the sleep
DEAD_BELOW_FRAC = 0.1
_BY_THE_WAY_IN = ("racks", "sled_park")  # meant to be passed on the way in


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Lookout:
    """A place that a sentry could stand, and what is seen from it; `seen_frac` over the approaches' cells."""

    east_m: float
    north_m: float
    seen_frac: DoubleArray
    name: str = ""  # of one that the user put there


def secure(
    around: Surroundings, places: tuple[Facility, ...], ground: Ground, march: March, *, watch: Watch,
    pinned: Mapping[str, tuple[float, float]] | None = None, arrive: datetime | None = None,
) -> Security:  # fmt: skip
    """Lay out how the camp is watched.

    Parameters
    ----------
    around : Surroundings
    places : tuple of Facility
    ground : Ground
    march : March
    watch : Watch
    pinned : mapping of str to (east_m, north_m), optional
        Posts that the user put somewhere, by name: the others add to what they see.
    arrive : datetime, optional
        When the unit comes in, with its zone: the way in keeps to shade then. Left out: cover alone counts.

    Returns
    -------
    Security
    """
    rules = around.plan.camp.security
    perimeter_m = perimeter_of(around, places)
    is_approach = approaches(around, perimeter_m)
    from_things_m = _from_things_m(around, places)
    is_clear: MaskArray = around.can_stand & (from_things_m >= CLEAR_M)
    lookouts = _lookouts(around, perimeter_m, is_approach, is_clear, ground, watch, pinned or {})
    held = sum(bool(one.name) for one in lookouts)
    seen_frac = np.array([one.seen_frac for one in lookouts]).reshape(len(lookouts), int(is_approach.sum()))
    people = sum(placed.shelter.people for placed in around.shelters)
    pool = Pool(seen_frac=seen_frac, is_near=_near_each_other(around, lookouts), held=held)
    chosen = choose_posts(pool, rules.post_count, most=people // PEOPLE_PER_POST)
    posts = _posts(around, [lookouts[k] for k in chosen], is_approach)
    hidden = np.ones(int(is_approach.sum()))
    for k in chosen:
        hidden *= 1.0 - lookouts[k].seen_frac
    dead = np.zeros(is_approach.shape, bool)
    dead[is_approach] = 1.0 - hidden < DEAD_BELOW_FRAC
    row, col = march.grid.cell_at(*around.centre_m)
    alarm = _alarm_point(around, is_clear)
    shade = None if arrive is None else shade_at(around, ground, arrive, watch=watch)
    aside = tuple(place for place in places if place.kind not in _BY_THE_WAY_IN)
    way_in = find_way_in(around, march, shade, from_things_m=_from_things_m(around, aside))
    security = Security(
        perimeter_m=perimeter_m,
        posts=posts,
        seen_frac=float(np.mean(1.0 - hidden)) if hidden.size else 0.0,
        dead_ground=dead,
        dead_ground_corner=around.corner,
        alarm_east_m=alarm[0],
        alarm_north_m=alarm[1],
        way_in_m=way_in.line_m,
        dummy_trail_m=dummy_trail(march, int(march.leave_station[row, col]), scale=around.scale),
    )
    return replace(security, sentences=_sentences(security, rules.watch_out_to_m, way_in.sentence))


def perimeter_of(around: Surroundings, places: tuple[Facility, ...]) -> Polygon:
    """Round the shelters and what lies among them; water far out and a landing place are left outside."""
    clear_m = around.plan.camp.security.perimeter_clear_m * around.scale
    outside = ("drinking_water", "cooking_water", "washing", "snow_for_water", "pick_up")
    points = [(east_m, north_m) for east_m, north_m in around.shelters_m.tolist()]
    points += [(place.east_m, place.north_m) for place in places if place.kind not in outside]
    hull = shapely.convex_hull(shapely.MultiPoint(points))
    perimeter: Polygon = hull.buffer(clear_m, quad_segs=4)
    return perimeter


def approaches(around: Surroundings, perimeter_m: Polygon) -> MaskArray:
    """Cells outside the perimeter that are watched."""
    out_m = around.plan.camp.security.watch_out_to_m * around.scale
    outer = perimeter_m.buffer(out_m, quad_segs=8)
    is_near = np.asarray(shapely.contains_xy(outer, around.east_m, around.north_m), bool)
    is_inside = np.asarray(shapely.contains_xy(perimeter_m, around.east_m, around.north_m), bool)
    outside: MaskArray = is_near & ~is_inside & np.isfinite(around.elevation_m)
    return outside


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pool:
    """Lookouts to choose from.

    Attributes
    ----------
    seen_frac : float64 array of shape (lookouts, cells)
        Share of the sight that gets through from each lookout to each cell.
    is_near : bool array of shape (lookouts, lookouts)
        Which stand too near to each other to be two posts, where there are others.
    held : int
        The first so many are manned whatever they see.
    """

    seen_frac: DoubleArray
    is_near: MaskArray
    held: int = 0


def choose_posts(pool: Pool, wanted: int, *, most: int) -> list[int]:
    """Which lookouts to man: each time the one that adds most ground seen.

    Parameters
    ----------
    pool : Pool
    wanted : int
        How many; 0: as long as one more adds `GAIN_LEAST_FRAC`, but for the first two, and none near another.
    most : int
        Where no number is wanted, no more than this, `POSTS_MOST` and one are ever chosen.

    Returns
    -------
    list of int
        In the order they were chosen. What is seen grows by less with each post, so that this never
        falls short of the best set by more than 37 % where none are near each other (Nemhauser, Wolsey & Fisher 1978).
    """
    chosen = list(range(pool.held))
    hidden = np.prod(1.0 - pool.seen_frac[: pool.held], axis=0)
    count = min(wanted or max(1, min(POSTS_MOST, most)), len(pool.seen_frac))
    while len(chosen) < count:
        gain = (pool.seen_frac * hidden).mean(axis=1) if hidden.size else np.zeros(len(pool.seen_frac))
        is_near = pool.is_near[:, chosen].any(axis=1)
        gain[chosen] = -1.0
        if not wanted or not is_near.all():
            gain[is_near] = -1.0
        best = int(np.argmax(gain))
        if not wanted and gain[best] < (GAIN_LEAST_FRAC if len(chosen) >= POSTS_LEAST else 0.0):
            break
        chosen.append(best)
        hidden = hidden * (1.0 - pool.seen_frac[best])
    return chosen


def _near_each_other(around: Surroundings, lookouts: list[_Lookout]) -> MaskArray:
    at = np.array([(one.east_m, one.north_m) for one in lookouts]).reshape(-1, 2)
    apart_m = np.hypot(*(at[:, None, :] - at[None, :, :]).transpose(2, 0, 1)) / around.scale
    near: MaskArray = apart_m < APART_LEAST_M
    return near


def _lookouts(
    around: Surroundings, perimeter_m: Polygon, is_approach: MaskArray, is_clear: MaskArray, ground: Ground,
    watch: Watch, pinned: Mapping[str, tuple[float, float]],
) -> list[_Lookout]:  # fmt: skip
    """Posts put by hand, then places round the perimeter, each with what is seen of the approaches."""
    ring = perimeter_m.exterior
    near_m = around.plan.camp.security.watch_out_to_m + ring.length / around.scale / math.pi
    rule = SightRule(eye_m=EYE_M, target_m=TARGET_M, reach_m=min(near_m, 800.0))
    window = _window_ground(around, ground)
    by_hand = []
    for name, (east_m, north_m) in pinned.items():
        seen = read_sight(around.plan, window, np.array([[east_m, north_m]]), rule=rule)
        share = np.nan_to_num(seen[is_approach]).astype(float)
        by_hand.append(_Lookout(east_m=east_m, north_m=north_m, seen_frac=share, name=name))
    found: dict[tuple[int, int], _Lookout] = {}
    for part in np.arange(CANDIDATE_COUNT) / CANDIDATE_COUNT:
        watch.tick("posts", int(part * CANDIDATE_COUNT), CANDIDATE_COUNT)
        at = ring.interpolate(part, normalized=True)
        cell = _nearest_standing(around, is_clear, at.x, at.y)
        if cell is None or cell in found:
            continue
        east_m, north_m = around.grid.cell_centre_m(*cell)
        seen = read_sight(around.plan, window, np.array([[east_m, north_m]]), rule=rule)
        found[cell] = _Lookout(east_m=east_m, north_m=north_m, seen_frac=np.nan_to_num(seen[is_approach]).astype(float))
    return [*by_hand, *found.values()]


def _from_things_m(around: Surroundings, places: tuple[Facility, ...]) -> DoubleArray:
    """Ground distance of each cell's middle from the nearest shelter or other place of the camp."""
    nearest = around.from_shelters_m()
    for place in places:
        np.minimum(nearest, around.from_m(place.east_m, place.north_m), out=nearest)
    return nearest


def _nearest_standing(
    around: Surroundings, is_clear: MaskArray, east_m: float, north_m: float
) -> tuple[int, int] | None:  # fmt: skip
    """The clear cell nearest to a point, within two cells."""
    away_m = np.where(is_clear, around.from_m(east_m, north_m), np.inf)
    index = int(np.argmin(away_m))
    if away_m.flat[index] > 2.5 * around.grid.ground_cell_m:
        return None
    row, col = divmod(index, around.grid.cols)
    return row, col


def _window_ground(around: Surroundings, ground: Ground) -> Ground:
    top, left = around.corner
    rows, cols = slice(top, top + around.grid.rows), slice(left, left + around.grid.cols)
    return replace(
        ground,
        grid=around.grid,
        elevation_m=np.ascontiguousarray(ground.elevation_m[rows, cols]),
        cover_index=np.ascontiguousarray(ground.cover_index[rows, cols]),
        canopy_height_m=None if ground.canopy_height_m is None else ground.canopy_height_m[rows, cols].copy(),
        is_stream=ground.is_stream[rows, cols].copy(),
        is_track=ground.is_track[rows, cols].copy(),
        is_no_go=ground.is_no_go[rows, cols].copy(),
    )


def _posts(around: Surroundings, lookouts: list[_Lookout], is_approach: MaskArray) -> tuple[Post, ...]:
    """Posts clockwise from the north, with sectors that meet half way between neighbours and leave no gap."""
    if not lookouts:
        return ()
    centre_east, centre_north = around.centre_m
    turn = [_turn_deg(one.east_m - centre_east, one.north_m - centre_north) for one in lookouts]
    order = sorted(range(len(lookouts)), key=lambda k: turn[k])
    out_m = around.plan.camp.security.watch_out_to_m * around.scale
    cell_turn = np.degrees(np.arctan2(around.east_m - centre_east, around.north_m - centre_north))[is_approach] % 360.0
    posts = []
    taken = {one.name for one in lookouts}
    free_names = iter(name for number in range(1, 2 * len(order) + 1) if (name := f"Post {number}") not in taken)
    for number, k in enumerate(order, start=1):
        one = lookouts[k]
        if len(order) == 1:
            left, width = turn[k] - 180.0, 360.0
        else:
            before, after = turn[order[number - 2]], turn[order[number % len(order)]]
            back, ahead = (turn[k] - before) % 360.0 or 360.0, (after - turn[k]) % 360.0 or 360.0
            left, width = turn[k] - back / 2.0, (back + ahead) / 2.0
        inside = (cell_turn - left) % 360.0 <= width
        reach_m = math.hypot(one.east_m - centre_east, one.north_m - centre_north) + out_m
        edges = [_bearing_from(around, one, left + side * width, reach_m) for side in (0.0, 1.0)]
        posts.append(
            Post(
                name=one.name or next(free_names),
                east_m=one.east_m,
                north_m=one.north_m,
                left_bearing_deg=edges[0],
                right_bearing_deg=edges[1],
                seen_frac=float(one.seen_frac[inside].mean()) if inside.any() else 0.0,
                is_pinned=bool(one.name),
            )
        )
    return tuple(posts)


def _bearing_from(around: Surroundings, one: _Lookout, turn_deg: float, reach_m: float) -> float:
    """True bearing from a post to the outer end of a sector's edge, which starts at the middle of the camp."""
    to_rad = math.radians(turn_deg)
    east = around.centre_m[0] + reach_m * math.sin(to_rad) - one.east_m
    north = around.centre_m[1] + reach_m * math.cos(to_rad) - one.north_m
    return bearing_deg(_turn_deg(east, north) + around.grid.convergence_deg(one.east_m, one.north_m))


def _turn_deg(east: float, north: float) -> float:
    return math.degrees(math.atan2(east, north)) % 360.0


def _alarm_point(around: Surroundings, is_clear: MaskArray) -> tuple[float, float]:
    """Near the middle, clear of shelters and of what burns."""
    if not is_clear.any():
        return around.centre_m
    index = int(np.argmin(np.where(is_clear, around.from_m(*around.centre_m), np.inf)))
    return float(around.east_m.flat[index]), float(around.north_m.flat[index])


def _sentences(security: Security, out_to_m: float, way_in: str) -> tuple[str, ...]:
    told = []
    if security.posts:
        told.append(
            f"{len(security.posts)} posts between them see {100 * security.seen_frac:.0f} % of the approaches out to "
            f"{out_to_m:.0f} m; among trees they hear more than they see, so patrol the dead ground."
        )
    else:
        told.append("No ground round the camp serves for a post: the leader sets the watch by eye.")
    if way_in:
        told.append(way_in)
    if len(security.dummy_trail_m):
        told.append("The trail goes on along the route past the turning, so that it doesn't end at the camp.")
    return tuple(told)
