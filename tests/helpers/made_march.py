"""A made march over made ground: a straight route, an even pace, everything known."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import numpy as np

from sitepick.ground.model import Ground
from sitepick.march.model import HaltRule, March
from sitepick.plan.model import Plan
from sitepick.sky import SunDay

PACE_MIN_PER_100M = 2.0


def make_march(plan: Plan, ground: Ground, *, limit_min: float = 1e6, **known: Any) -> March:
    """A march along the middle row from west to east; every cell is reached straight across from the route.

    Ground within `limit_min` minutes on the move is in reach; no halts.
    """
    grid = ground.grid
    row = grid.rows // 2
    cell_m = grid.ground_cell_m
    cols = np.arange(grid.cols)
    east, north = grid.cell_centre_m(row, cols)  # type: ignore[arg-type]
    along = cols * cell_m
    off_m = np.abs(np.arange(grid.rows) - row)[:, None] * cell_m + np.zeros(grid.shape)
    minutes = (along[None, :] + off_m) * PACE_MIN_PER_100M / 100.0
    is_near = minutes <= limit_min
    limit = min(limit_min, float(minutes.max()))
    camp_by = plan.march.depart + timedelta(minutes=limit + 60.0)
    values: dict[str, Any] = {
        "grid": grid,
        "depart": plan.march.depart,
        "camp_by": camp_by,
        "sun": _sun(camp_by),
        "useful_light_end": camp_by + timedelta(minutes=75),
        "route_m": np.column_stack([east, np.full(grid.cols, north)]),
        "station_distance_m": along,
        "station_moving_min": along * PACE_MIN_PER_100M / 100.0,
        "halt_rule": HaltRule(halts=()),
        "legs": (),
        "route_length_m": float(along[-1]),
        "reach_along_route_m": min(float(along[-1]), limit / PACE_MIN_PER_100M * 100.0),
        "early_reach_m": float(along[-1]),
        "late_reach_m": float(along[-1]),
        "arrive_at_reach_end": plan.march.depart + timedelta(minutes=limit),
        "moving_min": np.where(is_near, minutes, np.nan).astype(np.float32),
        "early_moving_min_limit": limit,
        "moving_min_limit": limit,
        "late_moving_min_limit": limit,
        "detour_min": np.where(is_near, off_m * PACE_MIN_PER_100M / 100.0, np.nan).astype(np.float32),
        "leave_station": np.where(is_near, cols[None, :], -1).astype(np.int32),
        "minutes_per_100m": np.full(grid.shape, PACE_MIN_PER_100M, np.float32),
    }
    return March(**{**values, **known})


def _sun(camp_by: datetime) -> SunDay:
    return SunDay(
        civil_dawn=camp_by.replace(hour=7, minute=0),
        sunrise=camp_by.replace(hour=8, minute=0),
        sunset=camp_by.replace(hour=15, minute=30),
        civil_dusk=camp_by.replace(hour=16, minute=15),
        noon_altitude_deg=8.0,
        kind="day and night",
    )
