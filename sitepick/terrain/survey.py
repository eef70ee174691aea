"""From ground to terrain: every question of this stage in turn."""

from __future__ import annotations

import numpy as np

from sitepick.caution import Caution
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.plan.model import Plan
from sitepick.terrain.avalanche import read_avalanche
from sitepick.terrain.cold import read_hollows
from sitepick.terrain.model import Terrain
from sitepick.terrain.slope import slope_and_aspect, surroundings_slope_deg
from sitepick.terrain.slope_error import height_error_m, slope_error_deg
from sitepick.terrain.stand import evergreen_frac, read_stand, tree_height_m
from sitepick.terrain.treetops import bare_ground
from sitepick.terrain.water import read_water
from sitepick.terrain.wind import read_relief, rose_share, wind_share
from sitepick.work import Watch


def read_terrain(plan: Plan, ground: Ground, *, watch: Watch | None = None) -> Terrain:
    """What the ground means to people who march over it and sleep on it.

    Parameters
    ----------
    plan : Plan
        Its weather, what counts as avalanche ground, and what it says of forest of unknown leaf type.
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
    height_m = tree_height_m(ground)
    bare = bare_ground(ground, height_m, watch=watch)
    ground = bare.ground
    grid, elevation_m = ground.grid, np.ascontiguousarray(ground.elevation_m)
    slope_deg, aspect_deg = slope_and_aspect(elevation_m, grid, watch=watch)
    slope_30m_deg = surroundings_slope_deg(elevation_m, grid, watch=watch)
    evergreen = evergreen_frac(ground, plan.ground.evergreen_of_forest_frac)
    canopy = ground.share("canopy_frac")
    relief = read_relief(elevation_m, slope_deg, aspect_deg, grid, watch=watch)
    stand = read_stand(ground, height_m, plan.ground.evergreen_of_forest_frac)
    if plan.weather.wind_rose:
        wind = rose_share(relief, stand, plan.weather.wind_rose, watch=watch)
    else:
        wind = wind_share(relief, stand, plan.weather.wind_from_deg, watch=watch)
    water = read_water(ground, temperature_c=plan.weather.temperature_c, watch=watch)
    hollows = read_hollows(elevation_m, slope_30m_deg, water, grid, watch=watch)
    avalanche = read_avalanche(plan.avalanche, ground, slope_deg, height_m, water.receiver, watch=watch)
    return Terrain(
        grid=grid,
        slope_deg=slope_deg,
        slope_30m_deg=slope_30m_deg,
        slope_error_deg=slope_error_deg(
            slope_30m_deg,
            height_error_m(ground, plan.ground.elevation_error_m),
            ground,
            np.where(bare.is_under_trees, height_m, np.float32(0.0)),
        ),
        aspect_deg=aspect_deg,
        wind_share=wind.mean,
        wind_share_worst=wind.worst,
        evergreen_frac=evergreen,
        canopy_frac=canopy,
        height_above_drainage_m=water.height_above_drainage_m,
        position_near_m=hollows.position_near_m,
        position_far_m=hollows.position_far_m,
        cold_pool_frac=hollows.cold_pool_frac,
        roughness_m=hollows.roughness_m,
        water_kind=water.kind,
        is_water=water.is_water,
        is_wet=water.is_wet,
        is_avalanche_release=avalanche.is_release,
        is_avalanche_runout=avalanche.is_runout,
        avalanche_angle_deg=avalanche.angle_deg,
        avalanche_area_m2=avalanche.area_m2,
        unsafe_unknown=np.isnan(slope_deg) | np.isnan(slope_30m_deg) | (ground.cover_index == NOT_KNOWN),
        cautions=(
            bare.cautions
            + _wind_cautions(plan, float(np.mean(np.isnan(evergreen) & (canopy > 0.0))))
            + water.cautions
            + avalanche.cautions
        ),
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
        told = f"{leaf_unknown_share:.0%}" if leaf_unknown_share >= 0.01 else "Less than 1%"
        cautions.append(
            Caution(
                kind="data",
                text=f"{told} of the map is forest whose leaf type the cover file doesn't tell: it is taken as bare "
                "trees that stop little wind. Say what share is evergreen, if you know it.",
            )
        )
    return tuple(cautions)
