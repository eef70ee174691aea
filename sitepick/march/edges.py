"""Times between neighbouring cells, made by tiles where somebody comes.

Direction counts: up and down differ. Moves longer than a diagonal are made only where each cell that they pass
over is open and no step between neighbours there is too steep.
"""

from __future__ import annotations

import math
import threading
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, MaskArray
from sitepick.march import _kernels
from sitepick.work import Watch, run_row_blocks

_FLOAT_ERROR_FRAC = 1e-5
TICKS_PER_CELL_S = 320.0  # 1/32 s on cells of 10 m
TileArray = npt.NDArray[np.int64]

_UNMADE, _IN_WORK, _MADE = range(3)
TILE_ROWS, TILE_COLS = 1 << _kernels.TILE_ROW_SHIFT, 1 << _kernels.TILE_COL_SHIFT


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

    def quickest_s_per_m(self) -> float:
        """Nobody is quicker than on the best cell's best slope."""
        return float(np.nanmin(self.pace_s_per_m)) * float(self.slope_table.min())

    def usual_s_per_m(self) -> float:
        """The level's pace on ground of the middling kind."""
        some = self.pace_s_per_m[::8, ::8]
        some = some[np.isfinite(some)]
        return float(np.median(some)) if some.size else float(np.nanmin(self.pace_s_per_m))

    def within(self, rows: slice, cols: slice) -> Surface:
        """A window of it, copied: the compiled loops take whole arrays that are theirs."""
        return Surface(
            pace_s_per_m=np.array(self.pace_s_per_m[rows, cols], np.float32, order="C"),
            height_m=np.array(self.height_m[rows, cols], np.float32, order="C"),
            is_way=np.array(self.is_way[rows, cols], bool, order="C"),
            slope_table=self.slope_table,
            cell_m=self.cell_m,
        )


class Edges:
    """The time from each cell of a surface to its 32 neighbours, in ticks.

    Most of what a limit leaves in reach by the best ground lies out of reach on the real one: tiles are made when a
    spread gets there, once for all spreads over the surface.

    Parameters
    ----------
    surface : Surface
    watch : Watch
    step : str
        What is being done, as a person reads it.

    Attributes
    ----------
    ticks : uint16 array of shape (rows, cols, 32)
        `_kernels.WALL` where there is no way; without meaning in a tile that isn't made.
    ticks_per_min : float
    watch, step
        As given.
    """

    def __init__(self, surface: Surface, *, watch: Watch, step: str) -> None:
        rows, cols = surface.pace_s_per_m.shape
        ticks_per_s = TICKS_PER_CELL_S / surface.cell_m
        self.ticks = np.empty((rows, cols, len(MOVES)), np.uint16)
        self.ticks_per_min = 60.0 * ticks_per_s
        self._surface, self.watch, self.step = surface, watch, step
        self._metrics = np.array([surface.cell_m, ticks_per_s])
        self._state = np.full((-(-rows // TILE_ROWS), -(-cols // TILE_COLS)), _UNMADE, np.uint8)
        self._changed = threading.Condition()
        self._paces = np.empty((2, rows, cols), np.float32)
        steepest = surface.cell_m * _steepest_tangent(surface.slope_table) * np.array([1.0, math.sqrt(2.0)])

        def open_block(first: int, last: int) -> None:
            _kernels.open_rows(
                surface.pace_s_per_m, surface.height_m, steepest, self._paces[0], self._paces[1], first, last
            )

        run_row_blocks(open_block, rows, watch=watch, step=step)

    def made(self) -> MaskArray:
        """Which tiles are made; a copy, so that what it names was whole before."""
        with self._changed:
            return np.equal(self._state, _MADE)

    def least_ticks_per_cell(self) -> float:
        """No way of so many cells takes fewer ticks a cell, each of its moves rounded down at worst."""
        surface = self._surface
        ticks = surface.quickest_s_per_m() * surface.cell_m * self.ticks_per_min / 60.0
        return max(0.0, ticks * (1.0 - _FLOAT_ERROR_FRAC) - 0.5)

    def make(self, tiles: TileArray) -> None:
        """Make tiles, given as rows of tile row and column, side by side."""

        def make_each(first: int, last: int) -> None:
            for tile in tiles[first:last]:
                self._make_once(tile)

        run_row_blocks(make_each, len(tiles), watch=self.watch, step=self.step, block_rows=1)

    def make_ahead(self, tiles: TileArray, *, until: threading.Event) -> None:
        """Make tiles one after the other beside a spread over them, until it has ended."""
        for tile in tiles:
            if until.is_set() or self.watch.is_stopped:
                return
            self._make_once(tile)

    def make_at(self, cell: int) -> MaskArray:
        """Make the tile of a cell, by its place in the flat grid, and tell which are made."""
        row, col = divmod(cell, self.ticks.shape[1])
        self._make_once(np.array([row // TILE_ROWS, col // TILE_COLS]))
        return self.made()

    def _make_once(self, tile: TileArray) -> None:
        """Make a tile that isn't made; wait for it where another thread is at it."""
        place = int(tile[0]), int(tile[1])
        with self._changed:
            while self._state[place] == _IN_WORK:
                self._changed.wait()
            if self._state[place] == _MADE:
                return
            self._state[place] = _IN_WORK
        state = _UNMADE
        try:
            self._make(tile)
            state = _MADE
        finally:
            with self._changed:
                self._state[place] = state
                self._changed.notify_all()

    def _make(self, tile: TileArray) -> None:
        surface = self._surface
        _kernels.edge_tile(
            self._paces, surface.height_m, surface.is_way, MOVES, SHARES, surface.slope_table, self._metrics,
            self.ticks, tile,
        )  # fmt: skip


def edge_ticks(surface: Surface, *, watch: Watch, step: str) -> npt.NDArray[np.uint16]:
    """Time from each cell to its 32 neighbours, in ticks, everywhere; ``_kernels.WALL`` where there is no way."""
    edges = Edges(surface, watch=watch, step=step)
    edges.make(np.argwhere(~edges.made()))
    return edges.ticks


def _steepest_tangent(slope_table: FloatArray) -> float:
    """The steepest that a single step can be, up and down, as the table is read."""
    half = (slope_table.size - 1) // 2
    passable = np.flatnonzero(np.isfinite(slope_table)) - half
    if passable.size == 0:
        return 0.0
    return (min(-int(passable[0]), int(passable[-1])) + 0.5) / half
