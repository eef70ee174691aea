"""Where the unit is along its route, and when."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import numpy.typing as npt

from sitepick.errors import MarchError
from sitepick.grid import DoubleArray, FloatArray, Grid
from sitepick.march.going import NO_WALL, OUTSIDE, TOO_STEEP, UNKNOWN, WALL_WORDS, Going
from sitepick.march.pace import Pace, slope_factor
from sitepick.plan.model import Route

CLIMB_NOISE_M = 2.0  # ours: a rise or fall smaller than this is the raster's noise, not a climb


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stations:
    """The route, thinned to places at most one cell apart; arrays of one length.

    Attributes
    ----------
    east_m, north_m : float64
        In the grid's projection.
    row, col : int64
        The cell of each; may lie outside the window.
    distance_m : float64
        Along the route, on the ground.
    point_index : tuple of int
        The station of each of the route's own points.
    point_names : tuple of str or None
        What each of those is called.
    """

    east_m: DoubleArray
    north_m: DoubleArray
    row: npt.NDArray[np.int64]
    col: npt.NDArray[np.int64]
    distance_m: DoubleArray
    point_index: tuple[int, ...]
    point_names: tuple[str | None, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Progress:
    """The unit's way along its stations.

    Attributes
    ----------
    moving_min : float64
        Minutes on the move at each station; NaN past a wall.
    height_m : float64
        At each station; NaN where not known.
    wall : int
        Why the route can't be followed further; `NO_WALL` where all of it can.
    """

    moving_min: DoubleArray
    height_m: DoubleArray
    wall: int

    @property
    def passable_count(self) -> int:
        """How many stations lie before the wall."""
        return int(np.isfinite(self.moving_min).sum())


def lay_stations(route: Route, grid: Grid) -> Stations:
    """Places along a route at most one cell apart, its own points among them.

    Raises
    ------
    MarchError
        All of the route's points lie in one place.
    """
    lon, lat = np.array(route.points, float).T
    east, north = (np.asarray(value, float) for value in grid.from_lonlat(lon, lat))
    stations = stations_along(east, north, route.names_by_point, grid)
    if stations.point_index[-1] == 0:
        raise MarchError(
            f"all points of the route {route.name!r} lie in one place", where="route", fix="draw its end elsewhere"
        )
    return stations


def stations_along(east: DoubleArray, north: DoubleArray, names: tuple[str | None, ...], grid: Grid) -> Stations:
    """Places at most one cell apart along straight lines between points in the grid's projection."""
    middle = (east[:-1] + east[1:]) / 2.0, (north[:-1] + north[1:]) / 2.0
    scales = grid.point_scales(*middle).tolist()
    easts, norths, distances, index = [east[:1]], [north[:1]], [np.zeros(1)], [0]
    done_m = 0.0
    pairs = pairwise(zip(east.tolist(), north.tolist(), strict=True))
    for ((east_0, north_0), (east_1, north_1)), scale in zip(pairs, scales, strict=True):
        grid_m = math.hypot(east_1 - east_0, north_1 - north_0)
        count = math.ceil(grid_m / grid.cell_m)
        index.append(index[-1] + count)
        if count == 0:
            continue
        share = np.arange(1, count + 1) / count
        easts.append(east_0 + share * (east_1 - east_0))
        norths.append(north_0 + share * (north_1 - north_0))
        distances.append(done_m + share * (grid_m / scale))
        done_m += grid_m / scale
    east_m, north_m = np.concatenate(easts), np.concatenate(norths)
    return Stations(
        east_m=east_m,
        north_m=north_m,
        row=np.floor((grid.north_m - north_m) / grid.cell_m).astype(np.int64),
        col=np.floor((east_m - grid.west_m) / grid.cell_m).astype(np.int64),
        distance_m=np.concatenate(distances),
        point_index=tuple(index),
        point_names=names,
    )


def follow(stations: Stations, going: Going, pace: Pace, grid: Grid) -> Progress:
    """Minutes on the move along the route, up to its end or to the first wall.

    Raises
    ------
    MarchError
        The route starts outside the ground or on a wall.
    """
    inside = (stations.row >= 0) & (stations.row < grid.rows) & (stations.col >= 0) & (stations.col < grid.cols)
    row, col = np.clip(stations.row, 0, grid.rows - 1), np.clip(stations.col, 0, grid.cols - 1)
    wall = np.where(inside, going.wall[row, col], OUTSIDE)
    height_m = _height_at(stations, going.height_m, grid)
    wall = np.where((wall == NO_WALL) & np.isnan(height_m), UNKNOWN, wall)
    if wall[0] != NO_WALL:
        raise MarchError(
            f"the route starts on {WALL_WORDS[wall[0]]}",
            where=grid.mgrs(float(stations.east_m[0]), float(stations.north_m[0])),
            fix="move its first point to known ground that can be crossed",
        )
    pace_s_per_m = np.where(inside, going.route_s_per_m[row, col], np.nan).astype(float)
    step_m = np.diff(stations.distance_m)
    tangent = np.divide(np.diff(height_m), step_m, out=np.zeros_like(step_m), where=step_m > 0.0)
    factor = slope_factor(pace, np.nan_to_num(tangent))
    blocked = (wall[1:] != NO_WALL) | ~np.isfinite(factor)
    step_min = np.where(blocked, np.nan, step_m * (pace_s_per_m[:-1] + pace_s_per_m[1:]) / 2.0 / 60.0)
    step_min *= np.where(np.isfinite(factor), factor, 1.0)
    moving_min = np.concatenate(([0.0], np.cumsum(step_min)))
    first_wall = NO_WALL
    if blocked.any():
        at = int(np.argmax(blocked))
        first_wall = int(wall[at + 1]) if wall[at + 1] != NO_WALL else TOO_STEEP
    return Progress(moving_min=moving_min, height_m=height_m, wall=first_wall)


def climb_and_descent(height_m: DoubleArray) -> tuple[float, float]:
    """Metres up and metres down along some heights; what is smaller than the raster's noise doesn't count.

    Notes
    -----
    A turn counts once the heights have moved `CLIMB_NOISE_M` away from it. The difference of both is the
    height between start and end.
    """
    heights = height_m[np.isfinite(height_m)].tolist()
    if not heights:
        return 0.0, 0.0
    steps = []
    turn = extreme = heights[0]
    way = 0  # 1 up, -1 down, 0 not told yet
    for height in heights:
        if way == 0:
            if abs(height - turn) >= CLIMB_NOISE_M:
                way, extreme = (1 if height > turn else -1), height
        elif (height - extreme) * way > 0.0:
            extreme = height
        elif (extreme - height) * way >= CLIMB_NOISE_M:
            steps.append(extreme - turn)
            turn, extreme, way = extreme, height, -way
    steps += [extreme - turn, heights[-1] - extreme]
    return sum(step for step in steps if step > 0.0), -sum(step for step in steps if step < 0.0)


def _height_at(stations: Stations, height_m: FloatArray, grid: Grid) -> DoubleArray:
    """Height at each station between the cells around it; the own cell's where a neighbour isn't known."""
    row = np.clip((grid.north_m - stations.north_m) / grid.cell_m - 0.5, 0.0, grid.rows - 1.0)
    col = np.clip((stations.east_m - grid.west_m) / grid.cell_m - 0.5, 0.0, grid.cols - 1.0)
    top, left = np.floor(row).astype(int), np.floor(col).astype(int)
    below, right = np.minimum(top + 1, grid.rows - 1), np.minimum(left + 1, grid.cols - 1)
    down, along = row - top, col - left
    between = (
        (1.0 - down) * ((1.0 - along) * height_m[top, left] + along * height_m[top, right])
        + down * ((1.0 - along) * height_m[below, left] + along * height_m[below, right])
    )  # fmt: skip
    own = height_m[np.clip(stations.row, 0, grid.rows - 1), np.clip(stations.col, 0, grid.cols - 1)]
    return np.asarray(np.where(np.isnan(between), own, between), float)
