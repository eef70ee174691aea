"""Which ground can be reached, and in how many minutes, along and off the route.

Least-time spread over 32 neighbours, direction counted: up and down differ. It starts at every
station of the route at the minute on the move when the unit is there. On level ground 32 directions
lengthen no way by more than 1.4 %. Moves longer than a diagonal are made only where each cell that they pass
over is open and no step between neighbours there is too steep.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, MaskArray
from sitepick.march import _kernels
from sitepick.work import Watch, run_row_blocks

TICKS_PER_CELL_S = 320.0  # 1/32 s on cells of 10 m
SLICE_COUNT = 40_000  # cells settled between two looks at the watch, some 10 ms
EDGE_BLOCK_ROWS = 32  # 32 moves a cell: small blocks, so that work stops soon when told

TickArray = npt.NDArray[np.int32]


def _moves() -> tuple[npt.NDArray[np.int64], FloatArray]:
    """The 32 moves: to where, over which cells, and how much of the way lies on each.

    Written for one eighth of the circle as rows and columns to the neighbour and to the four cells that the straight
    line passes over or touches, then shares of the way on each end and on each cell of the first and second pair.
    """
    eighth = (
        ((0, 1), (0, 0), (0, 1), (0, 0), (0, 1), (0.5, 0.0, 0.0)),
        ((1, 1), (1, 0), (0, 1), (1, 0), (0, 1), (0.5, 0.0, 0.0)),
        ((1, 2), (0, 1), (1, 1), (0, 1), (1, 1), (1 / 4, 1 / 8, 1 / 8)),
        ((1, 3), (0, 1), (1, 2), (1, 1), (0, 2), (1 / 6, 1 / 3, 0.0)),  # the line meets the corner of the last two
        ((2, 3), (1, 1), (1, 2), (0, 1), (2, 2), (1 / 6, 1 / 4, 1 / 12)),
    )
    moves: list[list[int]] = []
    shares: list[tuple[float, float, float]] = []
    for *cells, share in eighth:
        seen = set()
        for is_swapped in (False, True):
            for down_way in (-1, 1):
                for right_way in (-1, 1):
                    move = [
                        value
                        for d, r in cells
                        for value in ((down_way * r, right_way * d) if is_swapped else (down_way * d, right_way * r))
                    ]
                    if tuple(move[:2]) not in seen:
                        seen.add(tuple(move[:2]))
                        moves.append(move)
                        shares.append(share)
    return np.array(moves, np.int64), np.array(shares, np.float32)


MOVES, SHARES = _moves()


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surface:
    """What a spread runs over; arrays of one shape.

    Attributes
    ----------
    pace_s_per_m : float32
        Time over a level metre; NaN on a wall.
    height_m : float32
    is_way : bool
        Tracks, which may be followed between walls.
    slope_table : float32
        The slope's factor over the tangent from -1 to 1.
    cell_m : float
        Ground width of a cell.
    """

    pace_s_per_m: FloatArray
    height_m: FloatArray
    is_way: MaskArray
    slope_table: FloatArray
    cell_m: float

    def within(self, rows: slice, cols: slice) -> Surface:
        """A window of it, copied: the compiled loops take whole arrays that are theirs."""
        return Surface(
            pace_s_per_m=np.array(self.pace_s_per_m[rows, cols], np.float32, order="C"),
            height_m=np.array(self.height_m[rows, cols], np.float32, order="C"),
            is_way=np.array(self.is_way[rows, cols], bool, order="C"),
            slope_table=self.slope_table,
            cell_m=self.cell_m,
        )


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


def spread_from(surface: Surface, seeds: Seeds, *, limit_min: float, watch: Watch, step: str) -> Spread:
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

    Returns
    -------
    Spread
    """
    return spread_each(surface, (seeds,), limit_min=limit_min, watch=watch, step=step)[0]


def spread_each(
    surface: Surface, starts: Sequence[Seeds], *, limit_min: float, watch: Watch, step: str
) -> tuple[Spread, ...]:
    """One spread for each set of seeds over the same surface, as `spread_from`."""
    held = tuple(_held(surface, seeds, limit_min) for seeds in starts)
    rows, cols = surface.pace_s_per_m.shape
    window = (slice(0, 0), slice(0, 0))
    if any(seeds.row.size for seeds in held):
        window = _reachable(surface, held, limit_min)
    part = surface.within(*window)
    edges = edge_ticks(part, watch=watch, step=step)
    spreads = [
        Spread(minutes=np.full((rows, cols), np.nan, np.float32), seed=np.full((rows, cols), -1, np.int32))
        for _ in held
    ]

    def run(first: int, last: int) -> None:
        for seeds, spread in zip(held[first:last], spreads[first:last], strict=True):
            if seeds.row.size:
                moved = replace(seeds, row=seeds.row - window[0].start, col=seeds.col - window[1].start)
                spread.minutes[window], spread.seed[window] = _spread_over(
                    edges,
                    moved,
                    limit_min=limit_min,
                    ticks_per_min=60.0 * _ticks_per_s(surface),
                    watch=watch,
                    step=step,
                )

    run_row_blocks(run, len(held), watch=watch, step=step, block_rows=1)  # side by side
    return tuple(spreads)


def _ticks_per_s(surface: Surface) -> float:
    return TICKS_PER_CELL_S / surface.cell_m


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
    quickest_s_per_m = float(np.nanmin(surface.pace_s_per_m)) * float(surface.slope_table.min())
    start_min = np.concatenate([seeds.start_min for seeds in starts])
    radius = 60.0 * (limit_min - start_min) / (quickest_s_per_m * surface.cell_m) + 3.0
    rows, cols = surface.pace_s_per_m.shape
    row = np.concatenate([seeds.row for seeds in starts])
    col = np.concatenate([seeds.col for seeds in starts])
    return (
        slice(max(0, int((row - radius).min())), min(rows, int((row + radius).max()) + 1)),
        slice(max(0, int((col - radius).min())), min(cols, int((col + radius).max()) + 1)),
    )


def _spread_over(
    edges: npt.NDArray[np.uint16], seeds: Seeds, *, limit_min: float, ticks_per_min: float, watch: Watch, step: str
) -> tuple[FloatArray, TickArray]:
    """Minutes to each cell and the number of its seed; the seeds are known to lead somewhere."""
    rows, cols = edges.shape[:2]
    cell_edges = edges.reshape(rows * cols, len(MOVES))
    start = np.rint(seeds.start_min * ticks_per_min).astype(np.int64)
    table = np.stack((seeds.row * cols + seeds.col, start, seeds.numbers()), axis=1)[np.argsort(start, kind="stable")]
    table = table.astype(np.int32)
    offsets = (MOVES[:, 0] * cols + MOVES[:, 1]).astype(np.int32)
    reached = np.empty((rows * cols, 2), np.int32)  # side by side: one look at the memory for both
    reached[:] = np.iinfo(np.int32).max, -1
    rings = np.full(_kernels.BUCKET_COUNT, -1, np.int32)
    pool = np.empty((4096 + 24 * (rows + cols), 2), np.int32)
    state = np.zeros(_kernels.STATE_SIZE, np.int64)
    state[_kernels.FREE] = -1
    limit_ticks = int(limit_min * ticks_per_min)
    status = _kernels.MORE
    while status != _kernels.DONE:
        watch.tick(step, int(state[_kernels.SETTLED]), rows * cols)
        status = _kernels.spread_slice(
            cell_edges, offsets, table, reached, rings, pool, state, limit_ticks, SLICE_COUNT
        )  # fmt: skip
        if status == _kernels.POOL_FULL:
            pool = np.concatenate((pool, np.empty_like(pool)))
    minutes = np.minimum(reached[:, 0] / np.float32(ticks_per_min), np.float32(limit_min)).astype(np.float32)
    minutes[reached[:, 1] < 0] = np.nan
    return minutes.reshape(rows, cols), reached[:, 1].reshape(rows, cols)


def edge_ticks(surface: Surface, *, watch: Watch, step: str) -> npt.NDArray[np.uint16]:
    """Time from each cell to its 32 neighbours, in ticks; ``_kernels.WALL`` where there is no way."""
    rows, cols = surface.pace_s_per_m.shape
    edges = np.empty((rows, cols, len(MOVES)), np.uint16)
    paces = np.empty((2, rows, cols), np.float32)
    steepest = surface.cell_m * _steepest_tangent(surface.slope_table) * np.array([1.0, math.sqrt(2.0)])
    metrics = np.array([surface.cell_m, _ticks_per_s(surface)])

    def open_block(first: int, last: int) -> None:
        _kernels.open_rows(surface.pace_s_per_m, surface.height_m, steepest, paces[0], paces[1], first, last)

    def block(first: int, last: int) -> None:
        _kernels.edge_rows(
            paces, surface.height_m, surface.is_way,
            MOVES, SHARES, surface.slope_table, metrics, edges, first, last,
        )  # fmt: skip

    run_row_blocks(open_block, rows, watch=watch, step=step)
    run_row_blocks(block, rows, watch=watch, step=step, block_rows=EDGE_BLOCK_ROWS)
    return edges


def _steepest_tangent(slope_table: FloatArray) -> float:
    """The steepest that a single step can be, up and down, as the table is read."""
    half = (slope_table.size - 1) // 2
    passable = np.flatnonzero(np.isfinite(slope_table)) - half
    if passable.size == 0:
        return 0.0
    return (min(-int(passable[0]), int(passable[-1])) + 0.5) / half
