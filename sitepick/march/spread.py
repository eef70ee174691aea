"""Which ground can be reached, and in how many minutes, along and off the route.

Least-time spread over sixteen neighbours, direction counted: up and down differ. It starts at every
station of the route at the minute on the move when the unit is there. On level ground sixteen directions
lengthen no way by more than 2.8 %.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, MaskArray
from sitepick.march import _kernels
from sitepick.work import Watch, run_row_blocks

TICKS_PER_CELL_S = 320.0  # 1/32 s on cells of 10 m
SLICE_COUNT = 50_000  # cells settled between two looks at the watch, some 10 ms

TickArray = npt.NDArray[np.int32]

# Rows and columns to each neighbour, then to the two cells passed over: for a diagonal those beside it,
# for a straight move its own ends.
MOVES = np.array(
    [(d, r, 0, 0, d, r) for d, r in ((0, 1), (1, 0), (0, -1), (-1, 0))]
    + [(d, r, d, 0, 0, r) for d in (-1, 1) for r in (-1, 1)]
    + [(d, 2 * r, 0, r, d, r) for d in (-1, 1) for r in (-1, 1)]
    + [(2 * d, r, d, 0, d, r) for d in (-1, 1) for r in (-1, 1)],
    dtype=np.int64,
)


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
            pace_s_per_m=np.array(self.pace_s_per_m[rows, cols], np.float32),
            height_m=np.array(self.height_m[rows, cols], np.float32),
            is_way=np.array(self.is_way[rows, cols], bool),
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
    """

    row: npt.NDArray[np.int64]
    col: npt.NDArray[np.int64]
    start_min: npt.NDArray[np.float64]


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
    shape = surface.pace_s_per_m.shape
    minutes = np.full(shape, np.nan, np.float32)
    seed = np.full(shape, -1, np.int32)
    held = np.flatnonzero(
        (seeds.start_min <= limit_min) & ~np.isnan(surface.pace_s_per_m[seeds.row, seeds.col])
    )  # a start that isn't known is NaN and drops out too
    if held.size:
        window = _reachable(surface, seeds, held, limit_min)
        part = surface.within(*window)
        ticks, label = _spread_ticks(part, seeds, held, window, limit_min=limit_min, watch=watch, step=step)
        reached = ticks < np.iinfo(np.int32).max
        per_min = np.float32(60.0 * _ticks_per_s(surface))
        minutes[window][reached] = np.minimum(ticks[reached] / per_min, np.float32(limit_min))
        seed[window] = label
    return Spread(minutes=minutes, seed=seed)


def _ticks_per_s(surface: Surface) -> float:
    return TICKS_PER_CELL_S / surface.cell_m


def _reachable(surface: Surface, seeds: Seeds, held: npt.NDArray[np.int64], limit_min: float) -> tuple[slice, slice]:
    """The window that no way within the limit can leave: nobody is quicker than on the best cell's best slope."""
    quickest_s_per_m = float(np.nanmin(surface.pace_s_per_m)) * float(surface.slope_table.min())
    radius = 60.0 * (limit_min - seeds.start_min[held]) / (quickest_s_per_m * surface.cell_m) + 3.0
    rows, cols = surface.pace_s_per_m.shape
    row, col = seeds.row[held], seeds.col[held]
    return (
        slice(max(0, int((row - radius).min())), min(rows, int((row + radius).max()) + 1)),
        slice(max(0, int((col - radius).min())), min(cols, int((col + radius).max()) + 1)),
    )


def _spread_ticks(
    part: Surface,
    seeds: Seeds,
    held: npt.NDArray[np.int64],
    window: tuple[slice, slice],
    *,
    limit_min: float,
    watch: Watch,
    step: str,
) -> tuple[TickArray, TickArray]:
    shape = part.pace_s_per_m.shape
    edges = edge_ticks(part, watch=watch, step=step).reshape(shape[0] * shape[1], len(MOVES))
    cell = (seeds.row[held] - window[0].start) * shape[1] + seeds.col[held] - window[1].start
    start = np.rint(seeds.start_min[held] * 60.0 * _ticks_per_s(part)).astype(np.int64)
    order = np.argsort(start, kind="stable")
    rows = np.stack((cell, start, held), axis=1)[order].astype(np.int32)
    offsets = (MOVES[:, 0] * shape[1] + MOVES[:, 1]).astype(np.int32)
    ticks = np.full(edges.shape[0], np.iinfo(np.int32).max, np.int32)
    label = np.full(edges.shape[0], -1, np.int32)
    rings = np.full(_kernels.BUCKET_COUNT, -1, np.int32)
    pool = np.empty((4096 + 16 * (shape[0] + shape[1]), 3), np.int32)
    state = np.zeros(_kernels.STATE_SIZE, np.int64)
    state[_kernels.FREE] = -1
    limit_ticks = int(limit_min * 60.0 * _ticks_per_s(part))
    status = _kernels.MORE
    while status != _kernels.DONE:
        watch.tick(step, int(state[_kernels.SETTLED]), edges.shape[0])
        status = _kernels.spread_slice(
            edges, offsets, rows, ticks, label, rings, pool, state, limit_ticks, SLICE_COUNT
        )  # fmt: skip
        if status == _kernels.POOL_FULL:
            pool = np.concatenate((pool, np.empty_like(pool)))
    return ticks.reshape(shape), label.reshape(shape)


def edge_ticks(surface: Surface, *, watch: Watch, step: str) -> npt.NDArray[np.uint16]:
    """Time from each cell to its sixteen neighbours, in ticks; ``_kernels.WALL`` where there is no way."""
    rows, cols = surface.pace_s_per_m.shape
    edges = np.empty((rows, cols, len(MOVES)), np.uint16)
    pace_s_per_m = np.where(np.isnan(surface.pace_s_per_m), np.float32(np.inf), surface.pace_s_per_m)
    metrics = np.array([surface.cell_m, _ticks_per_s(surface)])

    def block(first: int, last: int) -> None:
        _kernels.edge_rows(
            pace_s_per_m, surface.height_m, surface.is_way,
            MOVES, surface.slope_table, metrics, edges, first, last,
        )  # fmt: skip

    run_row_blocks(block, rows, watch=watch, step=step)
    return edges
