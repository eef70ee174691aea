"""Small surfaces to spread over."""

from __future__ import annotations

import numpy as np

from sitepick.march.edges import Surface
from sitepick.march.pace import Pace, slope_table
from sitepick.march.spread import Seeds, Spread, spread_from
from sitepick.work import Watch

WALKER = Pace(mode="foot", has_sled=False, unbroken_kmh=3.6, broken_kmh=3.6, steepest_deg=30.0)  # 1 m/s on the level


def level_surface(rows=41, cols=41, *, pace=WALKER, cell_m=10.0, walls=()):
    """Level open ground of 1 s/m; `walls` holds index expressions that become walls."""
    pace_s_per_m = np.ones((rows, cols), np.float32)
    for wall in walls:
        pace_s_per_m[wall] = np.nan
    return Surface(
        pace_s_per_m=pace_s_per_m,
        height_m=np.zeros((rows, cols), np.float32),
        is_way=np.zeros((rows, cols), bool),
        slope_table=slope_table(pace),
        cell_m=cell_m,
    )


def spread_over(surface, *starts, limit_min=1e4, at_min=None, watch=None) -> Spread:
    """Spread from some cells, all at minute 0 unless told."""
    row, col = np.array(starts, dtype=np.int64).T
    start_min = np.zeros(len(starts)) if at_min is None else np.array(at_min, float)
    return spread_from(
        surface,
        Seeds(row=row, col=col, start_min=start_min),
        limit_min=limit_min,
        watch=watch or Watch(),
        step="ground in reach",
    )
