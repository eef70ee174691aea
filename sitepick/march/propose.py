"""A way between two places by least time, as a first line for a person to draw over."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np

from sitepick.errors import MarchError
from sitepick.grid import DoubleArray, FloatArray, Grid, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.edges import MOVES, TILE_COLS, TILE_ROWS, Edges, Surface, TileArray
from sitepick.march.going import NO_WALL, WALL_WORDS, Going, read_going
from sitepick.march.pace import Pace, pace_of, slope_table
from sitepick.march.route import follow, lay_stations, stations_along
from sitepick.march.spread import Cell, Seeds, likely_tiles, spread_beside
from sitepick.plan.model import LonLat, MarchSettings, Route, Weather
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

LIMIT_MIN = 48 * 60.0  # nobody asks for a way of more than two days
GUESSED_TIMES = (1.3, 2.0)  # ours: most ways take no longer than so many times the straight line at the usual pace
STRAIGHT_TIMES = 1.05  # a straight stretch may take so much longer than the cells it stands for
STRAIGHT_SPARE_MIN = 0.5
STEP = "looking for a way"
SLIVER_M = 0.3  # of a cell at a line's corner: places are told to 0.1 m


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A way by least time.

    Attributes
    ----------
    points : tuple of (lon_deg, lat_deg)
        From the start to the goal, both as they were given; straight stretches between are passable.
    minutes : float
        On the move, off any trail.
    distance_m : float
        On the ground.
    """

    points: tuple[LonLat, ...]
    minutes: float
    distance_m: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Land:
    """What a way is looked for over."""

    grid: Grid
    going: Going
    pace: Pace
    is_wall: MaskArray


def propose_way(
    settings: tuple[MarchSettings, Weather],
    ground: Ground,
    terrain: Terrain,
    ends: tuple[LonLat, LonLat],
    *,
    watch: Watch | None = None,
) -> Proposal:
    """Find the quickest way between two places over the ground that was read.

    Parameters
    ----------
    settings : (MarchSettings, Weather)
        How the unit moves. A trail broken along the old route counts for nothing here.
    ground : Ground
    terrain : Terrain
    ends : (start, goal)
        Longitude and latitude of each.
    watch : Watch, optional

    Returns
    -------
    Proposal

    Raises
    ------
    MarchError
        An end lies outside the ground or on a wall, both are one place, or walls lie between them.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    march, weather = settings
    pace = pace_of(march, weather)
    going = read_going(march, pace, ground, terrain, watch=watch)
    # Off the trail everywhere; no squeezing past a corner between two walls, where a straight line would cut it.
    land = _Land(grid=ground.grid, going=replace(going, route_s_per_m=going.off_route_s_per_m), pace=pace,
                 is_wall=going.wall != NO_WALL)  # fmt: skip
    start, goal = (_cell(land, place, which) for place, which in zip(ends, ("start", "goal"), strict=True))
    if start == goal:
        raise MarchError("both ends of the way lie in one place", where="way", fix="choose a goal farther off")
    cells, minutes = _trace(land, start, goal, watch)
    points = _straightened(land, ends, cells, minutes, watch)
    line = Route(name="Way", points=points)
    stations = lay_stations(line, ground.grid)
    return Proposal(points=points, minutes=float(minutes[-1]), distance_m=float(stations.distance_m[-1]))


def _cell(land: _Land, place: LonLat, which: str) -> Cell:
    east_m, north_m = (float(value) for value in land.grid.from_lonlat(*place))
    if not land.grid.contains(east_m, north_m):
        raise MarchError(
            f"the {which} of the way lies outside the ground that was read",
            where=f"longitude {place[0]:.5f}, latitude {place[1]:.5f}",
            fix="add a point of the route out there first, so that its ground is read, or choose a nearer place",
        )
    row, col = land.grid.cell_at(east_m, north_m)
    wall = int(land.going.wall[row, col])
    if wall != NO_WALL:
        raise MarchError(
            f"the {which} of the way lies on {WALL_WORDS[wall]}",
            where=land.grid.mgrs(east_m, north_m),
            fix="choose a place beside it",
        )
    return row, col


def _trace(land: _Land, start: Cell, goal: Cell, watch: Watch) -> tuple[list[Cell], list[float]]:
    """Cells of the quickest way and the minutes on the move at each."""
    going, grid = land.going, land.grid
    surface = Surface(
        pace_s_per_m=going.off_route_s_per_m,
        height_m=going.height_m,
        is_way=np.zeros(grid.shape, bool),
        slope_table=slope_table(land.pace),
        cell_m=grid.ground_cell_m,
    )
    seeds = Seeds(row=np.array([start[0]]), col=np.array([start[1]]), start_min=np.zeros(1))
    edges = Edges(surface, watch=watch, step=STEP)
    straight_m = float(np.hypot(goal[0] - start[0], goal[1] - start[1])) * surface.cell_m
    usual_min = straight_m * surface.usual_s_per_m() / 60.0
    # The tighter the limit, the less ground could lie on a way within it; whatever way is found within is the quickest.
    for limit_min in (*(times * usual_min for times in GUESSED_TIMES if times * usual_min < LIMIT_MIN), LIMIT_MIN):
        likely = _between(likely_tiles(surface, (seeds,), limit_min), start, goal, limit_min / usual_min)
        minutes = spread_beside(edges, (seeds,), likely, limit_min, [goal], aim=goal)[0].minutes
        if not np.isnan(minutes[goal]):
            break
    else:
        raise MarchError(
            "there is no way between the two places on the ground that was read: walls such as open water, steep or "
            "unknown ground lie between them",
            where=grid.mgrs(*grid.cell_centre_m(*goal)),
            fix="choose another goal, or draw the way by hand where you know a passage",
        )
    cells = [goal]
    while cells[-1] != start:
        cells.append(_before(cells[-1], minutes, edges))
    cells.reverse()
    return cells, [float(minutes[at]) for at in cells]


def _between(tiles: TileArray, start: Cell, goal: Cell, times: float) -> TileArray:
    """The tiles of ground by which the way is no longer than so many times the straight line."""
    middle = (tiles + 0.5) * (TILE_ROWS, TILE_COLS)
    by_there = sum(np.hypot(*(middle - end).T) for end in (start, goal))
    within = times * np.hypot(goal[0] - start[0], goal[1] - start[1]) + np.hypot(TILE_ROWS, TILE_COLS)
    kept: TileArray = tiles[by_there <= within]
    return kept


def _before(cell: Cell, minutes: FloatArray, edges: Edges) -> Cell:
    """The neighbour that the quickest way comes from: there the time and the move's add up to the least."""
    rows, cols = minutes.shape
    from_row, from_col = cell[0] - MOVES[:, 0], cell[1] - MOVES[:, 1]
    inside = np.flatnonzero((from_row >= 0) & (from_row < rows) & (from_col >= 0) & (from_col < cols))
    row, col = from_row[inside], from_col[inside]
    ticks = edges.ticks[row, col, inside].astype(float)
    # Who lies on the way was settled before, so that its edges are made; others were passed by.
    is_made = edges.made()[row // TILE_ROWS, col // TILE_COLS]
    is_open = is_made & (ticks < np.iinfo(edges.ticks.dtype).max) & (minutes[row, col] < minutes[cell])
    total = np.where(is_open, minutes[row, col] + ticks / edges.ticks_per_min, np.inf)
    best = int(np.argmin(total))
    return int(row[best]), int(col[best])


def _straightened(
    land: _Land, ends: tuple[LonLat, LonLat], cells: list[Cell], minutes: list[float], watch: Watch
) -> tuple[LonLat, ...]:
    """Few points of the way, so that the straight lines between them meet no wall and take hardly longer."""
    # An end may lie anywhere in its cell: from there to the cell's middle is always open.
    grid = land.grid
    lon, lat = grid.to_lonlat(*grid.cell_centre_m(*np.array(cells).T))
    middles = np.round(np.stack((lon, lat), axis=1), 6).tolist()
    points = [ends[0], *((lon, lat) for lon, lat in middles), ends[1]]
    # As they are told, so that the lines that are looked at are those that are handed on.
    east_m, north_m = (np.asarray(value, float) for value in grid.from_lonlat(*np.array(points).T))
    minutes = [minutes[0], *minutes, minutes[-1]]
    kept = [0]
    while kept[-1] < len(points) - 1:
        watch.tick("drawing the way", kept[-1], len(points))
        first = kept[-1]

        def will_do(last: int, first: int = first) -> bool:
            allowed_min = STRAIGHT_TIMES * (minutes[last] - minutes[first]) + STRAIGHT_SPARE_MIN
            return _straight_min(land, east_m[[first, last]], north_m[[first, last]]) <= allowed_min

        kept.append(_farthest(will_do, first + 1, len(points) - 1))
    return tuple(points[index] for index in kept)


def _farthest(will_do: Callable[[int], bool], least: int, most: int) -> int:
    """The farthest index that will do as far as doubling and halving find it; `least` is taken unasked."""
    good, step = least, 1
    while good < most and will_do(min(good + step, most)):
        good = min(good + step, most)
        step *= 2
    bad = min(good + step, most + 1)
    while bad - good > 1:
        middle = (good + bad) // 2
        if will_do(middle):
            good = middle
        else:
            bad = middle
    return good


def _straight_min(land: _Land, east_m: DoubleArray, north_m: DoubleArray) -> float:
    """Minutes on the move straight between two places; infinite where a wall lies on the line."""
    if east_m[0] == east_m[1] and north_m[0] == north_m[1]:
        return 0.0
    if _touches(land.is_wall, land.grid, east_m, north_m):
        return float("inf")
    progress = follow(stations_along(east_m, north_m, (None, None), land.grid), land.going, land.pace, land.grid)
    return float(progress.moving_min[-1]) if progress.wall == NO_WALL else float("inf")


def _touches(mask: MaskArray, grid: Grid, east_m: DoubleArray, north_m: DoubleArray) -> bool:
    """Whether a straight line crosses a cell of a mask by more than a sliver."""
    length_m = float(np.hypot(np.ptp(east_m), np.ptp(north_m)))
    shares = np.sort(np.concatenate(([0.0, 1.0], *(_line_crossings(at, grid.cell_m) for at in (
        (east_m - grid.west_m), (grid.north_m - north_m),
    )))))  # fmt: skip
    middle = (shares[:-1] + shares[1:])[np.diff(shares) * length_m > SLIVER_M] / 2.0
    row = np.floor((grid.north_m - north_m[0] - middle * (north_m[1] - north_m[0])) / grid.cell_m).astype(int)
    col = np.floor((east_m[0] + middle * (east_m[1] - east_m[0]) - grid.west_m) / grid.cell_m).astype(int)
    return bool(mask[np.clip(row, 0, grid.rows - 1), np.clip(col, 0, grid.cols - 1)].any())


def _line_crossings(ends_m: DoubleArray, cell_m: float) -> DoubleArray:
    """Shares of a line at which it passes from one row or column of cells to the next."""
    low, high = sorted((ends_m / cell_m).tolist())
    if high - low < 1e-9:
        return np.zeros(0)
    lines = np.arange(np.ceil(low), np.floor(high) + 1.0)
    return np.asarray((lines * cell_m - ends_m[0]) / (ends_m[1] - ends_m[0]), float)
