"""The way from the route to a piece of ground, as the reach was spread: what a sled or a vehicle meets on it."""

from __future__ import annotations

import math

import numpy as np

from sitepick.march.model import March
from sitepick.sites.outline import middle_of
from sitepick.sites.reading import PieceGround
from sitepick.sites.room import CellArray

_LONGEST_MOVE = 3  # cells; the reach is spread by moves of up to so many
_SPAN = range(-_LONGEST_MOVE, _LONGEST_MOVE + 1)
_OFFSETS = np.array([(down, right) for down in _SPAN for right in _SPAN if (down, right) != (0, 0)])
_LENGTHS = np.hypot(_OFFSETS[:, 0], _OFFSETS[:, 1])


def way_cells(march: March, row: int, col: int) -> CellArray:
    """Cells of the way from a place back to where it leaves the route, the place first.

    Parameters
    ----------
    march : March
    row, col : int

    Returns
    -------
    int64 array of shape (n, 2)
        At least the place itself; the whole way is down the minutes off the route, by the steepest fall of them.
    """
    minutes = march.detour_min
    rows, cols = minutes.shape
    station = int(march.leave_station[row, col])
    way, here = [(row, col)], np.array((row, col))
    while minutes[tuple(here)] > 0.0:
        near = here + _OFFSETS
        is_inside = (near >= 0).all(axis=1) & (near < (rows, cols)).all(axis=1)
        near, away = near[is_inside], _LENGTHS[is_inside]
        there = minutes[near[:, 0], near[:, 1]]
        fall = (minutes[tuple(here)] - there) / away
        fall[np.isnan(fall) | (march.leave_station[near[:, 0], near[:, 1]] < 0)] = -np.inf
        best = int(np.argmax(fall))
        if not fall[best] > 0.0:
            break
        way += _between(here, near[best])
        here = near[best]
    if station >= 0:
        east_m, north_m = march.route_m[station]
        end = march.grid.cell_at(float(east_m), float(north_m))
        if np.hypot(*(here - end)) <= _LONGEST_MOVE:
            way += _between(here, np.array(end))
    return np.array(way, np.int64)


def _between(here: np.ndarray, there: np.ndarray) -> list[tuple[int, int]]:
    """Cells of a straight move, the first left out."""
    steps = int(np.max(np.abs(there - here)))
    parts = np.arange(1, steps + 1)[:, None] / max(steps, 1)
    return [(int(row), int(col)) for row, col in np.rint(here + parts * (there - here))]


def _way_of(on: PieceGround) -> tuple[np.ndarray, np.ndarray]:
    cells = way_cells(on.march, *middle_of(on.piece.cells))
    return cells[:, 0], cells[:, 1]


def steepest_deg(on: PieceGround) -> float:
    """The steepest bit of the way in over 30 m; NaN where none of it is known."""
    slopes = on.terrain.slope_30m_deg[_way_of(on)]
    return math.nan if np.isnan(slopes).all() else float(np.nanmax(slopes))


def slowest_going(on: PieceGround) -> float:
    """The slowest ground on the way in, in times of the minutes over open ground; NaN where none of it is known.

    Mapped tracks count as open ground.
    """
    way = _way_of(on)
    factors = np.array([*(cover.going_factor for cover in on.ground.legend.classes), np.nan])
    times = np.where(on.ground.is_track[way], 1.0, factors[on.ground.cover_index[way]])
    return math.nan if np.isnan(times).all() else float(np.nanmax(times))
