"""The way in, under cover where there is some, and the trail that goes on past the site."""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

from sitepick.camp.surroundings import Surroundings
from sitepick.grid import DoubleArray
from sitepick.march.model import March

DUMMY_TRAIL_M = 200.0  # ours: far enough that who follows it has passed the site
_BARE_COST = 1.5  # a metre in the open counts for so many more under crowns
_STEEP_COST_PER_DEG = 0.05


def way_in_line(around: Surroundings, march: March) -> DoubleArray:
    """The last stretch from the route to where the way meets the site, then to the middle.

    Parameters
    ----------
    around : Surroundings
    march : March

    Returns
    -------
    float64 array of shape (n, 2)
        Grid coordinates. It begins on the route, or where the way comes into the surroundings' window.
    """
    start = _start(around, march)
    end = around.grid.cell_at(*around.entry_m)
    middle = np.array([around.centre_m])
    if start is None or not _is_inside(around, end):
        return np.vstack([np.array([around.entry_m]), middle])
    cells = _covered_way(around, start, end)
    line = np.array([around.grid.cell_centre_m(*cell) for cell in cells]) if cells else np.empty((0, 2))
    return np.vstack([line, np.array([around.entry_m]), middle])


def dummy_trail(march: March, leave_station: int, *, scale: float) -> DoubleArray:
    """The route past the place where the unit leaves it, as far as `DUMMY_TRAIL_M`; empty at the route's end.

    Parameters
    ----------
    march : March
    leave_station : int
    scale : float
        Grid metres a ground metre.
    """
    ahead = march.route_m[max(leave_station, 0) :]
    passable = np.isfinite(march.station_moving_min[max(leave_station, 0) :])
    ahead = ahead[: int(np.argmin(passable)) if not passable.all() else len(passable)]
    if len(ahead) < 2:
        return np.empty((0, 2))
    gone_m = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(ahead, axis=0).T))]) / scale
    if gone_m[-1] < DUMMY_TRAIL_M / 2.0:
        return np.empty((0, 2))
    return np.asarray(ahead[gone_m <= DUMMY_TRAIL_M])


def _start(around: Surroundings, march: March) -> tuple[int, int] | None:
    """The cell of the route that the unit leaves it from, or the first of the straight way inside the window."""
    row, col = march.grid.cell_at(*around.centre_m)
    station = int(march.leave_station[row, col])
    if station < 0:
        return None
    leave_m = march.route_m[station]
    for part in np.linspace(0.0, 1.0, 101):
        at_m = leave_m + part * (np.array(around.entry_m) - leave_m)
        cell = around.grid.cell_at(float(at_m[0]), float(at_m[1]))
        if _is_inside(around, cell):
            return cell
    return None


def _is_inside(around: Surroundings, cell: tuple[int, int]) -> bool:
    return 0 <= cell[0] < around.grid.rows and 0 <= cell[1] < around.grid.cols


def _covered_way(around: Surroundings, start: tuple[int, int], end: tuple[int, int]) -> list[tuple[int, int]]:
    """Cells of the cheapest way; empty where there is none."""
    rows, cols = around.grid.shape
    bare = 1.0 - np.nan_to_num(around.canopy_frac.astype(float))
    slope = np.nan_to_num(around.slope_deg.astype(float), nan=90.0)
    cost = (1.0 + _BARE_COST * bare) * (1.0 + _STEEP_COST_PER_DEG * slope)
    is_open = around.can_stand.copy()
    is_open[start] = is_open[end] = True
    number = np.arange(rows * cols).reshape(rows, cols)
    ends, weights = [], []
    for down, right in ((0, 1), (1, 0), (1, 1), (1, -1)):
        here = (slice(0, rows - down), slice(max(0, -right), cols - max(0, right)))
        there = (slice(down, rows), slice(max(0, right), cols + min(0, right)))
        both = is_open[here] & is_open[there]
        ends.append(np.stack([number[here][both], number[there][both]]))
        weights.append(np.hypot(down, right) * 0.5 * (cost[here][both] + cost[there][both]))
    source, target = np.concatenate(ends, axis=1)
    graph = coo_array((np.concatenate(weights), (source, target)), shape=(rows * cols, rows * cols)).tocsr()
    first, last = start[0] * cols + start[1], end[0] * cols + end[1]
    _, tree = dijkstra(graph, directed=False, indices=[first], return_predecessors=True)
    before = tree[0]
    if before[last] < 0 and last != first:
        return []
    way = [last]
    while way[-1] != first:
        way.append(int(before[way[-1]]))
    return [(cell // cols, cell % cols) for cell in reversed(way)]
