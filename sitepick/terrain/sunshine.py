"""How long the sun shines on the ground on the day of arrival, over the horizon of the real relief.

Trees are left out: in a stand there is less sun than told here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import groupby

import numpy as np

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import Ground
from sitepick.plan.model import Plan
from sitepick.sky import SunPath, arrival_day, sun_path, upper_rim_deg
from sitepick.terrain import _kernels_sun
from sitepick.terrain.horizon import EARTH_RADIUS_M, horizon_around_deg, horizon_deg
from sitepick.work import Watch, run_row_blocks

AZIMUTH_COUNT = 36  # directions that the horizon is found in; between two of them it is interpolated
_AZIMUTH_STEP_DEG = 360.0 / AZIMUTH_COUNT


@dataclass(frozen=True, slots=True, kw_only=True)
class DirectSun:
    """The sun at one place on the day of arrival, trees left out.

    Attributes
    ----------
    hours : float or None
        Of direct sun; None where the height of the place isn't known.
    first, last : datetime or None
        When the sun's rim first comes over the horizon and last goes under it, in the zone of the departure; None:
        does not happen that day.
    """

    hours: float | None
    first: datetime | None
    last: datetime | None


def read_sun_hours(plan: Plan, ground: Ground, *, watch: Watch | None = None) -> FloatArray:
    """Hours of direct sun at each cell on the day of arrival.

    Parameters
    ----------
    plan : Plan
        Its departure says which day.
    ground : Ground
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    ndarray of the grid's shape, float32
        0-24; 0 everywhere in the polar night. NaN where the height isn't known.

    Raises
    ------
    SettingsError
        The year lies outside what the ephemeris covers.
    work.JobStopped
        The watch was stopped.

    Notes
    -----
    The sun stands each ten minutes; between two moments its way over the horizon is a straight line, so that level
    ground has its sun to the minute. The horizon is interpolated between 36 directions: where a steep edge of it stands
    between two, the hours may be off by half of one. They count from the upper rim, as sunrise does. The shade of
    trees isn't counted, nor relief outside the ground that was read.
    """
    watch = watch or Watch()
    grid, elevation_m = ground.grid, np.ascontiguousarray(ground.elevation_m)
    path = _path_at(plan, ground, grid.centre_m)
    bearing_deg = (path.azimuth_deg - grid.convergence_deg(*grid.centre_m)) % 360.0
    sun_deg = _sun_by_cell(path, bearing_deg, grid.shape, grid.ground_cell_m)
    place = bearing_deg / _AZIMUTH_STEP_DEG
    hours = np.where(np.isnan(elevation_m), np.float32(np.nan), np.float32(0.0))
    clear_deg = np.full(grid.shape, -np.inf, np.float32)
    step_h = float(path.minutes[1]) / 60.0
    horizons: dict[int, FloatArray] = {}
    for sector, moments in groupby(_moments_that_count(sun_deg, grid.shape), key=lambda moment: int(place[moment])):
        pair = tuple(number % AZIMUTH_COUNT for number in (sector, sector + 1))
        horizons = {
            number: horizons[number]
            if number in horizons
            else horizon_deg(elevation_m, number * _AZIMUTH_STEP_DEG, cell_m=grid.ground_cell_m, watch=watch)
            for number in pair
        }
        near_deg, far_deg = horizons[pair[0]], horizons[pair[1]]
        chosen = np.array(list(moments))
        part, sun = place[chosen] - sector, sun_deg[chosen]

        def block(
            first: int, last: int, near_deg: FloatArray = near_deg, far_deg: FloatArray = far_deg,
            part: DoubleArray = part, sun: DoubleArray = sun,
        ) -> None:  # fmt: skip
            _kernels_sun.sun_rows(near_deg, far_deg, part, sun, step_h, clear_deg, hours, first, last)

        run_row_blocks(block, grid.shape, watch=watch, step="hours of direct sun")
    return hours


def sun_at(plan: Plan, ground: Ground, cell: tuple[int, int]) -> DirectSun:
    """The sun at one place on the day of arrival: how long, first and last.

    Parameters
    ----------
    plan : Plan
        Its departure says which day, and in which zone times are told.
    ground : Ground
    cell : (row, col)

    Returns
    -------
    DirectSun

    Raises
    ------
    SettingsError
        The year lies outside what the ephemeris covers.

    Notes
    -----
    As `read_sun_hours`, with the horizon found exactly where the sun stands.
    """
    grid = ground.grid
    place_m = grid.cell_centre_m(*cell)
    path = _path_at(plan, ground, place_m)
    bearing_deg = path.azimuth_deg - grid.convergence_deg(*place_m)
    if np.isnan(ground.elevation_m[cell]):
        return DirectSun(hours=None, first=None, last=None)
    clear_deg = upper_rim_deg(path.altitude_deg)
    is_up = clear_deg > 0.0
    clear_deg[is_up] -= horizon_around_deg(ground.elevation_m, cell, bearing_deg[is_up], cell_m=grid.ground_cell_m)
    before, after = clear_deg[:-1], clear_deg[1:]
    upper, lower = np.maximum(before, after), np.minimum(before, after)
    span = np.where(upper > lower, upper - lower, 1.0)
    share = np.where(lower >= 0.0, 1.0, np.where(upper <= 0.0, 0.0, upper / span))
    step_min = float(path.minutes[1])
    rises = np.flatnonzero((before <= 0.0) & (after > 0.0))
    sets = np.flatnonzero((before > 0.0) & (after <= 0.0))

    def told(step: int, part: float) -> datetime:
        moment = path.start + timedelta(minutes=(step + part) * step_min)
        return moment.astimezone(plan.march.depart.tzinfo)

    return DirectSun(
        hours=float(share.sum()) * step_min / 60.0,
        first=told(int(rises[0]), 1.0 - float(share[rises[0]])) if rises.size else None,
        last=told(int(sets[-1]), float(share[sets[-1]])) if sets.size else None,
    )


def _path_at(plan: Plan, ground: Ground, place_m: tuple[float, float]) -> SunPath:
    lon, lat = ground.grid.to_lonlat(*place_m)
    lon_deg, lat_deg = float(lon), float(lat)
    day, solar = arrival_day(lon_deg, lat_deg, plan.march.depart)
    return sun_path(lon_deg, lat_deg, day, solar)


def _sun_by_cell(path: SunPath, bearing_deg: DoubleArray, shape: tuple[int, int], cell_m: float) -> DoubleArray:
    """Height of the sun's rim at cell (0, 0), more by row, more by column: it rises as one walks towards it."""
    by_cell = math.degrees(cell_m / EARTH_RADIUS_M)
    by_row, by_col = -by_cell * np.cos(np.radians(bearing_deg)), by_cell * np.sin(np.radians(bearing_deg))
    corner = upper_rim_deg(path.altitude_deg) - by_row * (shape[0] - 1) / 2.0 - by_col * (shape[1] - 1) / 2.0
    return np.stack([corner, by_row, by_col], axis=1)


def _moments_that_count(sun_deg: DoubleArray, shape: tuple[int, int]) -> list[int]:
    """Moments at which the sun is up somewhere on the ground, and those just before and after."""
    corner, by_row, by_col = sun_deg.T
    highest = corner + np.maximum(0.0, by_row * (shape[0] - 1)) + np.maximum(0.0, by_col * (shape[1] - 1))
    is_up = highest > 0.0
    counts = is_up.copy()
    counts[1:] |= is_up[:-1]
    counts[:-1] |= is_up[1:]
    return [int(moment) for moment in np.flatnonzero(counts)]
