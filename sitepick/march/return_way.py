"""The way back to the route on the next day."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sitepick.ground.model import Ground
from sitepick.march.edges import Surface
from sitepick.march.going import move_height_m
from sitepick.march.model import March
from sitepick.march.pace import pace_of, slope_table
from sitepick.march.sled_load import march_with_loads
from sitepick.march.spread import Cell, Seeds, Spread, spread_from
from sitepick.plan.model import Plan
from sitepick.terrain.model import Terrain
from sitepick.work import Watch


def minutes_back_to_route(
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    march: March,
    cells: Sequence[Cell],
    *,
    limit_min: float,
    watch: Watch | None = None,
) -> Spread:
    """Minutes on the move from some cells back to the route, over unbroken ground.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    cells : sequence of (row, col)
        Asked for; the ground farther off than the farthest of them isn't looked at.
    limit_min : float
        Cells farther off aren't looked at.
    watch : Watch, optional

    Returns
    -------
    Spread
        Minutes, and as seed the station where the route is rejoined, the nearest in time; it may lie before or behind
        the one where the route was left. NaN and -1 past the limit.

    Raises
    ------
    work.JobStopped
        The watch was stopped.

    Notes
    -----
    The ways run from the cells to the route: spread from the route with up and down swapped.
    """
    surface = Surface(
        pace_s_per_m=march.minutes_per_100m * np.float32(0.6),
        height_m=move_height_m(ground),
        is_way=ground.is_track & ~terrain.is_water,
        slope_table=np.ascontiguousarray(slope_table(pace_of(march_with_loads(plan), plan.weather))[::-1]),
        cell_m=ground.grid.ground_cell_m,
    )
    known = np.flatnonzero(np.isfinite(march.station_moving_min))
    east_m, north_m = march.route_m[known].T
    row = np.floor((ground.grid.north_m - north_m) / ground.grid.cell_m).astype(np.int64)
    col = np.floor((east_m - ground.grid.west_m) / ground.grid.cell_m).astype(np.int64)
    seeds = Seeds(row=row, col=col, start_min=np.zeros(known.size), number=known.astype(np.int64))
    watch, step = watch or Watch(), "way back to the route"
    return spread_from(surface, seeds, limit_min=limit_min, watch=watch, step=step, goals=cells)
