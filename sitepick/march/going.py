"""What each cell is like to move over: how slow, or a wall and why."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from sitepick.grid import FloatArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.pace import Pace, trail_is_broken
from sitepick.plan.model import MarchSettings
from sitepick.terrain.model import DERIVED_STREAM, MAPPED_BROOK, MAPPED_STREAM, Terrain
from sitepick.work import Watch, each_block

# Clear ice that bears. Common practice: a file of people 10 cm, sleds and groups 15 cm, white ice counts half.
# Vehicles by the load formula, with what it is known to overrate under heavy plant (56-71 %) taken off.
ICE_FILE_CM = 10.0
ICE_SLED_CM = 15.0
GOLD_KG_PER_CM2 = 3.5  # Gold 1971, Canadian Geotechnical Journal 8:170: P = 3.5 h² kg
GOLD_OVERRATED = 1.71
WHITE_ICE_WORTH = 0.5
BRIDGE_LONGEST_M = 300.0  # ours: a mapped track over wider water is a ferry or an ice road, not a bridge
VEHICLE_CANOPY_MAX_FRAC = 0.4  # ours: a carrier finds no way between the trees of a closed stand
SURFACE_SMOOTHING_M = 50.0  # ours: a surface model's slopes are read over so much, so that stand edges aren't cliffs

STEP = "pace over the ground"

NO_WALL, UNKNOWN, NO_GO, OPEN_WATER, TOO_STEEP, CLOSED_STAND, OUTSIDE = range(7)
WALL_WORDS = (
    "open ground",
    "ground that the files don't know",
    "ground marked out of bounds",
    "water without ice that is known to bear",
    "ground too steep to move on",
    "trees too close for a vehicle",
    "the edge of the ground that was read",
)

WallArray = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Going:
    """What the unit meets on each cell; arrays of the grid's shape.

    Attributes
    ----------
    off_route_s_per_m : float32
        Time over a level metre off the route; NaN on a wall.
    route_s_per_m : float32
        The same where the route runs.
    height_m : float32
        Heights that slopes along the way are read from.
    wall : uint8
        `NO_WALL` or the reason for the wall.
    is_way : bool
        Mapped tracks that can be followed.
    is_bridge, is_ice, is_stream : bool
        Water crossed on a mapped track, on ice that the user measured, and streams crossed without a track.
    """

    off_route_s_per_m: FloatArray
    route_s_per_m: FloatArray
    height_m: FloatArray
    wall: WallArray
    is_way: MaskArray
    is_bridge: MaskArray
    is_ice: MaskArray
    is_stream: MaskArray


def gold_load_kg(ice_cm: float) -> float:
    """What clear ice of a thickness bears by Gold's rule (1971), nothing taken off."""
    return GOLD_KG_PER_CM2 * ice_cm**2


def ice_needed_cm(march: MarchSettings) -> float:
    """Clear ice that must be measured before the unit is led across."""
    if march.mode == "vehicle":
        by_load_cm = math.ceil(math.sqrt(march.pace.vehicle_kg * GOLD_OVERRATED / GOLD_KG_PER_CM2))
        return max(ICE_SLED_CM, float(by_load_cm))
    return ICE_SLED_CM if march.has_sled else ICE_FILE_CM


def ice_worth_cm(march: MarchSettings) -> float | None:
    """The measured ice as so much clear ice; None: not checked, whatever white ice was measured."""
    return None if march.ice_cm is None else march.ice_cm + WHITE_ICE_WORTH * march.pace.white_ice_cm


def ice_bears(march: MarchSettings) -> bool:
    """Whether the ice was checked and is thick enough for how the unit moves."""
    worth_cm = ice_worth_cm(march)
    return worth_cm is not None and worth_cm >= ice_needed_cm(march)


def read_going(
    march: MarchSettings, pace: Pace, ground: Ground, terrain: Terrain, *, watch: Watch | None = None
) -> Going:
    """What each cell is like for a unit that moves like this.

    Parameters
    ----------
    march : MarchSettings
    pace : Pace
    ground : Ground
    terrain : Terrain
    watch : Watch, optional

    Returns
    -------
    Going

    Raises
    ------
    work.JobStopped
        The watch was stopped.

    Notes
    -----
    A track is as quick as open ground, packed ones as a broken trail. It carries over water up to
    300 m wide and over steep ground. Lakes and rivers are walls unless the user measured enough ice.
    """
    watch = watch or Watch()
    shape = ground.grid.shape
    height_m = move_height_m(ground)
    watch.tick(STEP)
    steepness_deg = _steepness_deg(ground, terrain, height_m)
    watch.tick(STEP)
    going = Going(
        off_route_s_per_m=np.empty(shape, np.float32),
        route_s_per_m=np.empty(shape, np.float32),
        height_m=height_m,
        wall=np.empty(shape, np.uint8),
        is_way=np.empty(shape, bool),
        is_bridge=_bridges(ground, terrain.is_water),
        is_ice=np.empty(shape, bool),
        is_stream=np.empty(shape, bool),
    )
    for first, past in each_block(ground.grid.rows, watch=watch, step=STEP):
        _read_rows(going, slice(first, past), march, pace, ground, terrain, steepness_deg)
    return going


def _read_rows(
    going: Going, rows: slice, march: MarchSettings, pace: Pace, ground: Ground, terrain: Terrain,
    steepness_deg: FloatArray,
) -> None:  # fmt: skip
    """Fill in some rows; few enough at once that the watch is asked often and the cache holds them."""
    is_track, is_water, is_bridge = ground.is_track[rows], terrain.is_water[rows], going.is_bridge[rows]
    bears = ice_bears(march)
    wall = going.wall[rows]
    wall[:] = NO_WALL
    if pace.mode == "vehicle":
        wall[(ground.share("canopy_frac", rows) > VEHICLE_CANOPY_MAX_FRAC) & ~is_track] = CLOSED_STAND
    wall[steepness_deg[rows] > pace.steepest_deg] = TOO_STEEP
    wall[is_track] = NO_WALL
    wall[is_water & ~is_bridge] = NO_WALL if bears else OPEN_WATER
    wall[ground.is_no_go[rows]] = NO_GO
    level = ground.share("going_factor", rows)
    wall[np.isnan(ground.elevation_m[rows]) | np.isnan(level)] = UNKNOWN
    is_open = wall == NO_WALL
    is_way, is_ice = going.is_way[rows], going.is_ice[rows]
    is_way[:] = is_track & is_open
    is_ice[:] = is_water & ~is_bridge if bears else False

    level[is_ice | is_way] = 1.0
    level[~is_open] = np.nan
    track_kmh = pace.broken_kmh if march.tracks_packed else pace.unbroken_kmh
    off_route = going.off_route_s_per_m[rows]
    off_route[:] = level * np.float32(3.6 / pace.unbroken_kmh)
    off_route[is_way] = 3.6 / track_kmh
    route_kmh = pace.broken_kmh if trail_is_broken(march) else pace.unbroken_kmh
    going.route_s_per_m[rows] = np.fmin(level * np.float32(3.6 / route_kmh), off_route)
    kind = terrain.water_kind[rows]
    is_stream = (kind == MAPPED_STREAM) | (kind == MAPPED_BROOK) | (kind == DERIVED_STREAM)
    going.is_stream[rows] = is_stream & ~is_way


def move_height_m(ground: Ground) -> FloatArray:
    """Heights that slopes along the way are read from; a surface model's are smoothed."""
    if ground.elevation_kind != "surface":
        return ground.elevation_m
    known = np.isfinite(ground.elevation_m)
    cells = 2 * round(SURFACE_SMOOTHING_M / ground.grid.ground_cell_m / 2.0) + 1
    total = ndimage.uniform_filter(np.where(known, ground.elevation_m, np.float32(0.0)), cells, mode="nearest")
    share = ndimage.uniform_filter(known.astype(np.float32), cells, mode="nearest")
    return np.where(known, total / np.maximum(share, np.float32(1e-6)), np.float32(np.nan))


def _steepness_deg(ground: Ground, terrain: Terrain, height_m: FloatArray) -> FloatArray:
    if ground.elevation_kind != "surface" or min(ground.grid.shape) < 2:
        return terrain.slope_deg
    to_south, to_east = np.gradient(height_m, np.float32(ground.grid.ground_cell_m))
    return np.asarray(np.degrees(np.arctan(np.hypot(to_south, to_east))), np.float32)


def _bridges(ground: Ground, is_water: MaskArray) -> MaskArray:
    """Water cells that a mapped track crosses and that are no longer across than a bridge."""
    over_water = ground.is_track & is_water
    if not over_water.any():
        return over_water
    rows, cols = (np.flatnonzero(over_water.any(axis=axis)) for axis in (1, 0))
    around = slice(rows[0], rows[-1] + 1), slice(cols[0], cols[-1] + 1)
    bridges = np.zeros(over_water.shape, bool)
    bridges[around] = _short_parts(over_water[around], BRIDGE_LONGEST_M / ground.grid.ground_cell_m)
    return bridges


def _short_parts(mask: MaskArray, longest_cells: float) -> MaskArray:
    """The connected parts of a mask that are no longer from corner to corner."""
    part, part_count = ndimage.label(mask, np.ones((3, 3), int))
    rows, cols = np.nonzero(mask)
    numbers = np.arange(1, part_count + 1)
    extents = [
        np.asarray(ndimage.maximum(at, part[rows, cols], numbers)) - ndimage.minimum(at, part[rows, cols], numbers) + 1
        for at in (rows, cols)
    ]
    is_short = np.zeros(part_count + 1, bool)
    is_short[1:] = np.hypot(*extents) <= longest_cells
    short: MaskArray = is_short[part]
    return short
