"""How long it takes from each place to the nearest water, and back."""

from __future__ import annotations

import math

import numpy as np

from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.march.edges import Surface
from sitepick.march.going import move_height_m
from sitepick.march.model import March
from sitepick.march.pace import slope_table, usual_pace
from sitepick.march.spread import Seeds, spread_from
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

Window = tuple[slice, slice]


def minutes_to_and_back(
    march: March,
    ground: Ground,
    terrain: Terrain,
    is_target: MaskArray,
    *,
    limit_min: float,
    window: Window | None = None,
    watch: Watch | None = None,
) -> FloatArray:
    """Minutes from each cell to the nearest target and back the same way, without sled or vehicle.

    Parameters
    ----------
    march : March
        Tells how people of the unit move off the route.
    ground : Ground
    terrain : Terrain
        A target on water is reached at its bank.
    is_target : bool array of the grid's shape
    limit_min : float
        There and back; farther cells aren't looked at.
    window : tuple of slice, optional
        Rows and columns that are asked for; cells elsewhere are left NaN, which saves the time for them.
    watch : Watch, optional

    Returns
    -------
    ndarray of the grid's shape, float32
        0 on the targets, NaN past the limit and where no way leads.
    """
    pace_min = march.minutes_per_100m if march.walking_minutes_per_100m is None else march.walking_minutes_per_100m
    minutes = np.full(is_target.shape, np.nan, np.float32)
    if not np.isfinite(pace_min).any():
        minutes[is_target] = 0.0
        return minutes
    fastest_s_per_m = float(np.nanmin(pace_min)) * 0.6
    around = _grown(window, 30.0 * limit_min / fastest_s_per_m / ground.grid.ground_cell_m, is_target.shape)
    is_target = is_target[around]
    pace_s_per_m = pace_min[around] * np.float32(0.6)
    is_open = np.isfinite(pace_s_per_m)
    if not (is_open.any() and is_target.any()):
        minutes[around][is_target] = 0.0
        return minutes
    is_bank = is_target & ~is_open & with_neighbours(is_open)
    # The last step goes to the water's edge: open ground up to there.
    pace_s_per_m[is_bank] = fastest_s_per_m
    pace = march.walking or usual_pace(march.walking_mode)
    surface = Surface(
        pace_s_per_m=pace_s_per_m,
        height_m=np.ascontiguousarray(move_height_m(ground)[around]),
        is_way=(ground.is_track & ~terrain.is_water)[around],
        slope_table=slope_table(pace, there_and_back=True),
        cell_m=ground.grid.ground_cell_m,
    )
    row, col = np.nonzero(is_target & (is_open | is_bank))
    seeds = Seeds(row=row, col=col, start_min=np.zeros(row.size))
    spread = spread_from(surface, seeds, limit_min=limit_min, watch=watch or Watch(), step="way to water and back")
    minutes[around] = np.where(is_target, np.float32(0.0), spread.minutes)
    return minutes


def _grown(window: Window | None, margin_cells: float, shape: tuple[int, ...]) -> Window:
    """A window with room round it for the longest way that could lead in; the whole ground without one."""
    if window is None:
        return slice(0, shape[0]), slice(0, shape[1])
    margin = math.ceil(margin_cells)
    rows, cols = (
        slice(max(0, span.start - margin), min(size, span.stop + margin))
        for span, size in zip(window, shape, strict=True)
    )
    return rows, cols
