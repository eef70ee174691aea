"""The way in, under cover and then in shade where there is some, and the trail that goes on past the site."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

from sitepick.camp.shade import Shade
from sitepick.camp.surroundings import Surroundings
from sitepick.grid import DoubleArray
from sitepick.march.model import March

DUMMY_TRAIL_M = 200.0  # ours: far enough that who follows it has passed the site
_BARE_COST = 1.5  # a metre in the open counts for so many more under crowns
_SUNLIT_COST = 0.5  # ours: a metre in the sun counts for so many more in shade, a third of what cover counts
_STEEP_COST_PER_DEG = 0.05
CLEAR_M = 8.0  # ours: of shelters and of every other place, for who stands or passes there
_THROUGH_CAMP_COST = 50.0  # ours, times: nobody walks in over a tent or the fuel where there is a way round
UNDER_CROWNS_FRAC = 0.3  # common practice: crowns over three tenths of the ground make a forest
_STEP_M = 5.0  # between two places of a line that are looked at


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WayIn:
    """The last stretch into a camp.

    Attributes
    ----------
    line_m : float64 array of shape (n, 2)
        Grid coordinates. It begins on the route, or where the way comes into the surroundings' window; the last but
        one point is where it meets the site, the last one the middle.
    sentence : str
        What it follows: cover, shade, both or neither.
    """

    line_m: DoubleArray
    sentence: str


def find_way_in(
    around: Surroundings, march: March, shade: Shade | None = None, *, from_things_m: DoubleArray | None = None
) -> WayIn:  # fmt: skip
    """The last stretch from the route to where the way meets the site, then to the middle.

    Parameters
    ----------
    around : Surroundings
    march : March
    shade : Shade, optional
        On arrival; left out where nothing is known of it, and cover alone counts.
    from_things_m : float64 array of the surroundings' window, optional
        Distance from the nearest shelter or other place of the camp: the way keeps `CLEAR_M` off as far as it can.

    Returns
    -------
    WayIn
    """
    start = _start(around, march)
    end = around.grid.cell_at(*around.entry_m)
    last = np.array([around.entry_m, around.centre_m])
    cells = (
        _hidden_way(around, (start, end), shade, from_things_m) if start is not None and _is_inside(around, end) else []
    )
    line = np.array([around.grid.cell_centre_m(*cell) for cell in cells]).reshape(-1, 2)
    whole = np.vstack([line, last])
    return WayIn(line_m=whole, sentence=_what_it_follows(around, whole[:-1], shade))


def _what_it_follows(around: Surroundings, line_m: DoubleArray, shade: Shade | None) -> str:
    """Of a way that is long enough to choose: how much of it lies under crowns and in shade."""
    steps_m = np.hypot(*np.diff(line_m, axis=0).T)
    if steps_m.sum() < 2.0 * around.grid.cell_m:
        return ""
    gone_m = np.concatenate([[0.0], np.cumsum(steps_m)])
    at_m = np.arange(0.0, gone_m[-1], _STEP_M)
    east_m, north_m = (np.interp(at_m, gone_m, line_m[:, axis]) for axis in (0, 1))
    grid = around.grid
    rows = np.clip(((grid.north_m - north_m) / grid.cell_m).astype(int), 0, grid.rows - 1)
    cols = np.clip(((east_m - grid.west_m) / grid.cell_m).astype(int), 0, grid.cols - 1)
    cover = float(np.mean(np.nan_to_num(around.canopy_frac[rows, cols]) >= UNDER_CROWNS_FRAC))
    by_cover = f"under crowns for {100 * cover:.0f} % of its length"
    if shade is None or shade.is_shaded is None:
        follows = "follows cover" if cover > 0.0 else "finds no cover"
        why = "" if shade is None else "; the sun is down on arrival, so shade doesn't count"
        return f"The way in {follows}: {by_cover}{why}."
    dark = float(np.mean(shade.is_shaded[rows, cols]))
    names = [name for name, share in (("cover", cover), ("shade", dark)) if share > 0.0]
    follows = f"follows {' first, then '.join(names)}" if names else "finds neither cover nor shade"
    return (
        f"The way in {follows}: {by_cover}, in the shade of the land for {100 * dark:.0f} % on arrival at "
        f"{shade.at:%H:%M}."
    )


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


def _hidden_way(
    around: Surroundings, ends: tuple[tuple[int, int], tuple[int, int]], shade: Shade | None,
    from_things_m: DoubleArray | None,
) -> list[tuple[int, int]]:  # fmt: skip
    """Cells of the cheapest way; empty where there is none."""
    start, end = ends
    rows, cols = around.grid.shape
    bare = 1.0 - np.nan_to_num(around.canopy_frac.astype(float))
    slope = np.nan_to_num(around.slope_deg.astype(float), nan=90.0)
    sunlit = 0.0 if shade is None or shade.is_shaded is None else np.where(shade.is_shaded, 0.0, bare)
    cost = (1.0 + _BARE_COST * bare + _SUNLIT_COST * sunlit) * (1.0 + _STEEP_COST_PER_DEG * slope)
    if from_things_m is not None:
        cost = cost * (1.0 + _THROUGH_CAMP_COST * np.maximum(0.0, 1.0 - from_things_m / CLEAR_M))
    is_open = around.can_stand.copy()
    is_open[start] = is_open[end] = True
    number = np.arange(rows * cols).reshape(rows, cols)
    joined, weights = [], []
    for down, right in ((0, 1), (1, 0), (1, 1), (1, -1)):
        here = (slice(0, rows - down), slice(max(0, -right), cols - max(0, right)))
        there = (slice(down, rows), slice(max(0, right), cols + min(0, right)))
        both = is_open[here] & is_open[there]
        joined.append(np.stack([number[here][both], number[there][both]]))
        weights.append(np.hypot(down, right) * 0.5 * (cost[here][both] + cost[there][both]))
    source, target = np.concatenate(joined, axis=1)
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
