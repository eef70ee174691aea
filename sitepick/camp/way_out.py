"""The way out for a casualty: to a mapped track, to a clearing, back to the start."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sitepick.camp.model import Camp
from sitepick.ground.model import Ground
from sitepick.march.edges import Surface
from sitepick.march.going import move_height_m
from sitepick.march.model import March
from sitepick.march.pace import pace_of, slope_table
from sitepick.march.sled_load import march_with_loads
from sitepick.march.spread import Seeds, spread_from
from sitepick.plan.model import Plan
from sitepick.sites.model import Site
from sitepick.terrain.model import Terrain
from sitepick.units import bearing_deg, compass_word
from sitepick.work import Watch

TRACK_WITHIN_MIN = 90.0  # ours: a track farther off on the move is told no better than the way back
_AT_TRACK_M = 15.0


@dataclass(frozen=True, slots=True, kw_only=True)
class ToTrack:
    """The mapped track that is reached first.

    Attributes
    ----------
    minutes : float
        On the move over unbroken snow at the unit's pace.
    away_m : float
        Straight, on the ground.
    bearing_deg : float
        True.
    """

    minutes: float
    away_m: float
    bearing_deg: float


def way_to_track(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, at_m: tuple[float, float], *, watch: Watch
) -> ToTrack | None:  # fmt: skip
    """From a place to the mapped track or road that is reached first; None where none is within `TRACK_WITHIN_MIN`.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    at_m : (east_m, north_m)
        Grid coordinates.
    watch : Watch
        Can stop the work.
    """
    grid = ground.grid
    row, col = grid.cell_at(*at_m)
    tracks = np.argwhere(ground.is_track & ~terrain.is_water)
    if not len(tracks):
        return None
    away = np.hypot(tracks[:, 0] - row, tracks[:, 1] - col)
    nearest = tracks[int(np.argmin(away))]
    surface = Surface(
        pace_s_per_m=march.minutes_per_100m * np.float32(0.6),
        height_m=move_height_m(ground),
        is_way=ground.is_track & ~terrain.is_water,
        slope_table=slope_table(pace_of(march_with_loads(plan), plan.weather)),
        cell_m=grid.ground_cell_m,
    )
    seeds = Seeds(
        row=np.array([row]), col=np.array([col]), start_min=np.zeros(1), number=np.zeros(1, np.int64)
    )  # fmt: skip
    # What is reached before the nearest in a straight line is known to the minute; nothing after it is better.
    minutes = spread_from(
        surface, seeds, limit_min=TRACK_WITHIN_MIN, watch=watch, step="way out to a track",
        goals=[(int(nearest[0]), int(nearest[1]))],
    ).minutes  # fmt: skip
    taken = minutes[tracks[:, 0], tracks[:, 1]]
    if not np.isfinite(taken).any():
        return None
    first = int(np.nanargmin(taken))
    east_m, north_m = grid.cell_centre_m(*tracks[first].tolist())
    east, north = east_m - at_m[0], north_m - at_m[1]
    return ToTrack(
        minutes=float(taken[first]),
        away_m=math.hypot(east, north) / grid.point_scale(*at_m),
        bearing_deg=bearing_deg(math.degrees(math.atan2(east, north)) + grid.convergence_deg(*at_m)),
    )


def way_out_words(camp: Camp, site: Site, to_track: ToTrack | None) -> str:
    """Every way that a casualty can be brought out by, in sentences; the shortest is the leader's to choose."""
    back_min = 5.0 * max(1, round(site.moving_min / 5.0))
    told = []
    if to_track is not None:
        told.append(_track_words(to_track))
    told.append(
        f"By the way in and back along the trodden trail: {site.leave_distance_m / 1000:.1f} km to the start, about "
        f"{back_min:.0f} min on the move at the pace of the way out, longer with someone to carry."
    )
    clearing = next((place for place in camp.facilities if place.kind == "pick_up"), None)
    if clearing is not None:
        told.append(f"To the landing or pick-up place: {clearing.reason}")
    return " ".join(told)


def _track_words(to_track: ToTrack) -> str:
    if to_track.away_m < _AT_TRACK_M:
        return "A mapped track runs by the camp."
    away_m = 10.0 * max(1, round(to_track.away_m / 10.0))
    minutes = 5.0 * math.ceil(to_track.minutes / 5.0)
    return (
        f"To the nearest mapped track: {away_m:.0f} m to the {compass_word(to_track.bearing_deg)} "
        f"({to_track.bearing_deg:03.0f}° true), about {minutes:.0f} min over unbroken snow, longer with someone to "
        "carry."
    )
