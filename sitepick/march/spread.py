"""Which ground can be reached, and in how many minutes, along and off the route.

Least-time spread over 32 neighbours, direction counted: up and down differ. It starts at every
station of the route at the minute on the move when the unit is there. On level ground 32 directions
lengthen no way by more than 1.4 %.
"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray
from sitepick.march import _kernels
from sitepick.march.edges import MOVES, TILE_COLS, TILE_ROWS, Edges, Surface, TileArray
from sitepick.work import Watch, run_row_blocks, thread_count

SLICE_COUNT = 40_000  # cells settled between two looks at the watch, some 10 ms
LIKELY_TIMES = 0.7  # ours: tiles within such a share of the usual pace's way are made beforehand, side by side


Cell = tuple[int, int]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Seeds:
    """Where a spread starts; arrays of one length.

    Attributes
    ----------
    row, col : int64
    start_min : float64
        Minute at which it starts there.
    number : int64, optional
        What each is called in the answer; its place in the arrays where not told.
    """

    row: npt.NDArray[np.int64]
    col: npt.NDArray[np.int64]
    start_min: npt.NDArray[np.float64]
    number: npt.NDArray[np.int64] | None = None

    def numbers(self) -> npt.NDArray[np.int64]:
        """What each is called."""
        return np.arange(self.row.size) if self.number is None else self.number


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Spread:
    """What was reached; arrays of the surface's shape.

    Attributes
    ----------
    minutes : float32
        NaN where not reached within the limit.
    seed : int32
        Number of the seed that the way comes from, -1 where not reached.
    """

    minutes: FloatArray
    seed: npt.NDArray[np.int32]


def spread_from(
    surface: Surface, seeds: Seeds, *, limit_min: float, watch: Watch, step: str, goals: Sequence[Cell] = ()
) -> Spread:
    """Least minutes to each cell from the nearest of the seeds, in time.

    Parameters
    ----------
    surface : Surface
    seeds : Seeds
        May be empty; those on a wall or past the limit lead nowhere.
    limit_min : float
        Where the spread ends.
    watch : Watch
        Ticked at least every 50 ms.
    step : str
        What is being done, as a person reads it.
    goals : sequence of (row, col), optional
        The spread ends once these are reached; nothing is told of farther cells.

    Returns
    -------
    Spread
    """
    return spread_each(surface, (seeds,), limit_min=limit_min, watch=watch, step=step, goals=goals)[0]


def spread_each(
    surface: Surface,
    starts: Sequence[Seeds],
    *,
    limit_min: float,
    watch: Watch,
    step: str,
    goals: Sequence[Cell] = (),
) -> tuple[Spread, ...]:
    """One spread for each set of seeds over the same surface, as `spread_from`."""
    held = tuple(_held(surface, seeds, limit_min) for seeds in starts)
    rows, cols = surface.pace_s_per_m.shape
    window = (slice(0, 0), slice(0, 0))
    if any(seeds.row.size for seeds in held):
        window = _reachable(surface, held, limit_min)
    part = surface.within(*window)
    edges = Edges(part, watch=watch, step=step)
    held = tuple(replace(seeds, row=seeds.row - window[0].start, col=seeds.col - window[1].start) for seeds in held)
    goals = [(row - window[0].start, col - window[1].start) for row, col in goals]
    if not part.pace_s_per_m.size:
        return (_nowhere(rows, cols),) * len(held)
    found = spread_beside(edges, held, likely_tiles(part, held, limit_min), limit_min, goals)
    return tuple(over if over.minutes.shape == (rows, cols) else _widened(over, window, rows, cols) for over in found)


def spread_beside(
    edges: Edges,
    starts: Sequence[Seeds],
    likely: TileArray,
    limit_min: float,
    goals: Sequence[Cell] = (),
    *,
    aim: Cell | None = None,
) -> list[Spread]:
    """`spread_over` from several sets of seeds side by side, with likely tiles made before or beside them."""
    ended = threading.Event()
    spreads: dict[int, Spread] = {}
    has_hand_free = len(starts) < thread_count()
    if not has_hand_free and not goals:
        edges.make(likely)

    def run(first: int, last: int) -> None:
        for number in range(first, last):
            if number == len(starts):
                edges.make_ahead(likely, until=ended)
                continue
            try:
                spreads[number] = spread_over(edges, starts[number], limit_min=limit_min, goals=goals, aim=aim)
            finally:
                ended.set()

    run_row_blocks(run, len(starts) + has_hand_free, watch=edges.watch, step=edges.step, block_rows=1)
    return [spreads[number] for number in range(len(starts))]


def _nowhere(rows: int, cols: int) -> Spread:
    return Spread(minutes=np.full((rows, cols), np.nan, np.float32), seed=np.full((rows, cols), -1, np.int32))


def _widened(part: Spread, window: tuple[slice, slice], rows: int, cols: int) -> Spread:
    """A window's spread on the whole ground."""
    whole = _nowhere(rows, cols)
    whole.minutes[window], whole.seed[window] = part.minutes, part.seed
    return whole


def _held(surface: Surface, seeds: Seeds, limit_min: float) -> Seeds:
    """The seeds that lead somewhere; a start that isn't known is NaN and drops out too."""
    is_held = (seeds.start_min <= limit_min) & ~np.isnan(surface.pace_s_per_m[seeds.row, seeds.col])
    return Seeds(
        row=seeds.row[is_held],
        col=seeds.col[is_held],
        start_min=seeds.start_min[is_held],
        number=seeds.numbers()[is_held],
    )


def _reachable(surface: Surface, starts: Sequence[Seeds], limit_min: float) -> tuple[slice, slice]:
    """The window that no way within the limit can leave: nobody is quicker than on the best cell's best slope."""
    start_min = np.concatenate([seeds.start_min for seeds in starts])
    radius = 60.0 * (limit_min - start_min) / (surface.quickest_s_per_m() * surface.cell_m) + 3.0
    rows, cols = surface.pace_s_per_m.shape
    row = np.concatenate([seeds.row for seeds in starts])
    col = np.concatenate([seeds.col for seeds in starts])
    return (
        slice(max(0, int((row - radius).min())), min(rows, int((row + radius).max()) + 1)),
        slice(max(0, int((col - radius).min())), min(cols, int((col + radius).max()) + 1)),
    )


def likely_tiles(surface: Surface, starts: Sequence[Seeds], limit_min: float) -> TileArray:
    """Tiles that the spread gets to at the usual pace, first ones first: what else it gets to is made on the way."""
    shape = surface.pace_s_per_m.shape
    tiles = -(-shape[0] // TILE_ROWS), -(-shape[1] // TILE_COLS)
    usual_s_per_m = surface.usual_s_per_m()
    start_min = np.full(tiles, np.inf)
    for seeds in starts:
        np.minimum.at(start_min, (seeds.row // TILE_ROWS, seeds.col // TILE_COLS), seeds.start_min)
    from_row, from_col = np.nonzero(np.isfinite(start_min))
    row_m = TILE_ROWS * surface.cell_m * np.arange(tiles[0])
    col_m = TILE_COLS * surface.cell_m * np.arange(tiles[1])
    is_likely, there_min = np.zeros(tiles, bool), np.full(tiles, np.inf)
    for row, col in zip(from_row, from_col, strict=True):
        way_m = np.hypot((row_m - row_m[row])[:, None], (col_m - col_m[col])[None, :])
        way_min = way_m * usual_s_per_m / 60.0
        is_likely |= way_min <= LIKELY_TIMES * (limit_min - start_min[row, col])
        np.minimum(there_min, start_min[row, col] + way_min, out=there_min)
    found = np.argwhere(is_likely)
    return found[np.argsort(there_min[is_likely], kind="stable")]


def spread_over(
    edges: Edges, seeds: Seeds, *, limit_min: float, goals: Sequence[Cell] = (), aim: Cell | None = None
) -> Spread:
    """`spread_from` over given edges, from seeds that lie on open ground.

    With an aim, only the way there is asked for: what could not lie on a way to it within the limit is passed by, and
    the minutes of cells off that way may be too many.
    """
    rows, cols = edges.ticks.shape[:2]
    start = np.rint(seeds.start_min * edges.ticks_per_min).astype(np.int64)
    table = np.stack((seeds.row * cols + seeds.col, start, seeds.numbers()), axis=1)[np.argsort(start, kind="stable")]
    table = table.astype(np.int32)
    offsets = (MOVES[:, 0] * cols + MOVES[:, 1]).astype(np.int32)
    margin = 3 * cols + 3
    reached = np.empty((rows * cols + 2 * margin, 2), np.int32)  # side by side: one look at the memory for both
    reached.view(np.int64)[:] = np.array([np.iinfo(np.int32).max, -1], np.int32).view(np.int64)  # both at once
    rings = np.full(_kernels.BUCKET_COUNT, -1, np.int32)
    pool = np.empty((4096 + 24 * (rows + cols), 2), np.int32)
    state = np.zeros(_kernels.STATE_SIZE, np.int64)
    state[_kernels.FREE] = -1
    inside = [row * cols + col for row, col in goals if 0 <= row < rows and 0 <= col < cols]
    goal_places = margin + np.array(inside, np.int64)
    limit_ticks = int(limit_min * edges.ticks_per_min)
    aimed = np.zeros(3) if aim is None else np.array([*aim, edges.least_ticks_per_cell()])
    status, is_made = _kernels.MORE, edges.made()
    while status != _kernels.DONE:
        edges.watch.tick(edges.step, int(state[_kernels.SETTLED]), rows * cols)
        status = _kernels.spread_slice(
            edges.ticks, is_made, offsets, table, reached, rings, pool, state, limit_ticks, aimed, SLICE_COUNT
        )  # fmt: skip
        if status == _kernels.POOL_FULL:
            pool = np.concatenate((pool, np.empty_like(pool)))
        elif status == _kernels.TILE_WANTED:
            is_made = edges.make_at(int(state[_kernels.WANTED]))
        if inside and (reached[goal_places, 0] >> _kernels.BUCKET_SHIFT).max() < state[_kernels.BUCKET]:
            break
    ticks, seed = (reached[margin : margin + rows * cols, which].reshape(rows, cols) for which in range(2))
    seed = seed.copy()
    if inside:  # how far past the last of them the loop got hangs on its slices
        seed[ticks > reached[goal_places, 0].max()] = -1
    minutes = np.divide(ticks, np.float32(edges.ticks_per_min), dtype=np.float32)
    np.minimum(minutes, np.float32(limit_min), out=minutes)
    minutes[seed < 0] = np.nan
    return Spread(minutes=minutes, seed=seed)
