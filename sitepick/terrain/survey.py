"""From ground to terrain: every question of this stage in turn."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray
from sitepick.ground.marked import water_allowed
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.plan.model import Plan
from sitepick.terrain.avalanche import read_avalanche
from sitepick.terrain.cold import cold_pool_frac
from sitepick.terrain.model import Terrain
from sitepick.terrain.slope import slope_of, surroundings_slope_deg
from sitepick.terrain.slope_error import height_error_m, slope_error_deg
from sitepick.terrain.stand import canopy_frac, evergreen_frac, read_stand, tree_height_m
from sitepick.terrain.treetops import BareGround, bare_ground
from sitepick.terrain.water import read_water
from sitepick.terrain.wind import WindShare, read_relief, rose_share, wind_share
from sitepick.work import Watch, run_row_blocks

_NOTHING = np.empty((0, 0), np.float32)


def read_terrain(plan: Plan, ground: Ground, *, watch: Watch | None = None) -> Terrain:
    """What the ground means to people who march over it and sleep on it.

    Parameters
    ----------
    plan : Plan
        Its weather, and what it says of forest of unknown leaf type.
    ground : Ground
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    Terrain

    Raises
    ------
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    bare = bare_ground(ground, watch=watch)
    ground = bare.ground
    grid, elevation_m = ground.grid, np.ascontiguousarray(ground.elevation_m)
    slope_deg = slope_of(elevation_m, grid, watch=watch)
    slope_30m_deg = surroundings_slope_deg(elevation_m, grid, watch=watch)
    wind = _read_wind(plan, ground, elevation_m, slope_deg, watch)
    water = read_water(ground, temperature_c=plan.weather.temperature_c, watch=watch)
    cold_frac = cold_pool_frac(elevation_m, slope_30m_deg, water, grid, watch=watch)
    # Two layers of it are needed no more, and large.
    water = replace(water, filled_m=_NOTHING, catchment_count=_NOTHING.astype(np.int32))
    avalanche = read_avalanche(plan.avalanche, ground, slope_deg, water.receiver, watch=watch)
    water = replace(water, receiver=_NOTHING.astype(np.int32))
    cover = _read_cover(plan, bare, slope_deg, slope_30m_deg, watch)
    return Terrain(
        grid=grid,
        slope_deg=slope_deg,
        slope_30m_deg=slope_30m_deg,
        slope_error_deg=cover.slope_error_deg,
        wind_share=wind.mean,
        wind_share_worst=wind.worst,
        evergreen_frac=cover.evergreen_frac,
        canopy_frac=cover.canopy_frac,
        height_above_drainage_m=water.height_above_drainage_m,
        cold_pool_frac=cold_frac,
        water_kind=water.kind,
        is_water=water.is_water,
        is_wet=water.is_wet,
        is_avalanche_release=avalanche.is_release,
        is_avalanche_runout=avalanche.is_runout,
        avalanche_angle_deg=avalanche.angle_deg,
        avalanche_area_m2=avalanche.area_m2,
        unsafe_unknown=cover.unsafe_unknown,
        cautions=(bare.cautions + _wind_cautions(plan, cover.leaf_unknown_share) + water.cautions + avalanche.cautions),
        bare_elevation_m=elevation_m,
        draw_here=water_allowed(plan, grid),
    )


def _read_wind(plan: Plan, ground: Ground, elevation_m: FloatArray, slope_deg: FloatArray, watch: Watch) -> WindShare:
    relief = read_relief(elevation_m, slope_deg, ground.grid, watch=watch)
    stand = read_stand(ground, plan.ground.evergreen_of_forest_frac, watch=watch)
    if plan.weather.wind_rose:
        return rose_share(relief, stand, plan.weather.wind_rose, watch=watch)
    return wind_share(relief, stand, plan.weather.wind_from_deg, watch=watch)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Cover:
    """What the cover tells of each cell by itself; arrays as in `Terrain`."""

    evergreen_frac: FloatArray
    canopy_frac: FloatArray
    slope_error_deg: FloatArray
    unsafe_unknown: MaskArray
    leaf_unknown_share: float


def _read_cover(
    plan: Plan, bare: BareGround, slope_deg: FloatArray, slope_30m_deg: FloatArray, watch: Watch
) -> _Cover:  # fmt: skip
    ground = bare.ground
    shape = ground.grid.shape
    evergreen, canopy, slope_error = (np.empty(shape, np.float32) for _ in range(3))
    is_unsafe = np.empty(shape, bool)
    leaf_unknown_count = []
    height_error = height_error_m(ground, plan.ground.elevation_error_m)

    def block(first: int, last: int) -> None:
        rows = slice(first, last)
        evergreen[rows] = evergreen_frac(ground, plan.ground.evergreen_of_forest_frac, rows)
        canopy[rows] = canopy_frac(ground, rows)
        leaf_unknown_count.append(np.count_nonzero(np.isnan(evergreen[rows]) & (canopy[rows] > 0.0)))
        is_unsafe[rows] = np.isnan(slope_deg[rows]) | np.isnan(slope_30m_deg[rows])
        is_unsafe[rows] |= ground.cover_index[rows] == NOT_KNOWN
        off_m = np.where(bare.is_under_trees[rows], tree_height_m(ground, rows), np.float32(0.0))
        slope_error[rows] = slope_error_deg(slope_30m_deg[rows], height_error, ground, off_m)

    run_row_blocks(block, ground.grid.shape, watch=watch, step="forest and doubt")
    return _Cover(
        evergreen_frac=evergreen,
        canopy_frac=canopy,
        slope_error_deg=slope_error,
        unsafe_unknown=is_unsafe,
        leaf_unknown_share=sum(leaf_unknown_count) / is_unsafe.size,
    )


def _wind_cautions(plan: Plan, leaf_unknown_share: float) -> tuple[Caution, ...]:
    cautions = []
    if plan.weather.main_wind_from_deg is None:
        cautions.append(
            Caution(
                kind="wind",
                text="The wind's direction is not known: shelter is judged for wind from all quarters alike, and the "
                "worst quarter is held against the limit.",
            )
        )
    if leaf_unknown_share > 0.0:
        share_percent = 100.0 * leaf_unknown_share
        told = f"{share_percent:.0f} %" if share_percent >= 1.0 else "Less than 1 %"
        cautions.append(
            Caution(
                kind="data",
                text=f"{told} of the map is forest whose leaf type the cover file doesn't tell: it is taken as bare "
                "trees that stop little wind. Say what share is evergreen, if you know it.",
            )
        )
    return tuple(cautions)
