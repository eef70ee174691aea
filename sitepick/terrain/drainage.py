"""Where the water runs, and how high above it a place lies."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, MaskArray
from sitepick.terrain import _kernels_flow
from sitepick.terrain.parts import label_parts
from sitepick.work import Watch, each_block, rows_at_once, run_row_blocks

CellArray = npt.NDArray[np.int32]
LabelArray = npt.NDArray[np.int16]

LEVEL_STEP_M = 0.01  # heights are told apart to this when hollows are filled
TILE_CELLS = 256  # what a tile's flood touches stays close to the core
_LEVEL_COUNT_MAX = 4_000_000
_BAND_BLOCKS = 4  # blocks of rows whose streams are followed side by side, then joined at their borders
_STEP_COUNT = 150_000  # cells of flats drained, or passes taken, between two looks at the watch


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flow:
    """The way of the water over the ground, hollows filled.

    Attributes
    ----------
    receiver : int32, of the grid's shape
        Flat index of the cell that a cell drains to; -1 out of the window, into a gap that runs out
        of the window, or lost there.
    filled_m : float32, of the grid's shape
        Height with hollows filled to their spill, to the nearest `LEVEL_STEP_M`; NaN where not known.
    """

    receiver: CellArray
    filled_m: FloatArray


def flow_over(elevation_m: FloatArray, *, watch: Watch, tile_cells: int = TILE_CELLS) -> Flow:
    """The way of the water over the ground.

    Parameters
    ----------
    elevation_m : ndarray of shape (rows, cols), float32
        Metres, NaN where not known.
    watch : Watch
    tile_cells : int, optional
        Side of the tiles that are flooded one by one; the answer doesn't hang on it.

    Returns
    -------
    Flow

    Notes
    -----
    Hollows are filled to their spill tile by tile, and the tiles joined by the lowest passes between
    them (Barnes 2016, Computers & Geosciences 96:56); then steepest of eight ways (O'Callaghan & Mark
    1984), the first of equals from the north-west on, and over a flat the fewest steps to where
    it drains. The window's edge lets water out, and so do gaps that run out of the window. Through a
    gap inside the window the water passes, as through a lake: it leaves over the lowest of the
    ground around, and no stream ends there. Cost: O(cells).
    """
    rows, cols = elevation_m.shape
    lowest_m, highest_m = _height_range_m(elevation_m, watch)
    if lowest_m > highest_m:
        return Flow(receiver=np.full((rows, cols), -1, np.int32), filled_m=elevation_m.copy())
    step_m = max(LEVEL_STEP_M, (highest_m - lowest_m) / _LEVEL_COUNT_MAX)
    level, receiver = np.empty((rows, cols), np.int32), np.empty((rows, cols), np.int32)
    filled_m = np.empty((rows, cols), np.float32)
    is_lost = _runs_out(elevation_m, watch)

    def to_levels(first: int, last: int) -> None:
        _kernels_flow.level_rows(elevation_m, is_lost, lowest_m, step_m, level, first, last)

    run_row_blocks(to_levels, level.shape, watch=watch, step="hollows of the ground")
    label, offset, spill = _flood(level, tile_cells, watch)

    def raise_up(first: int, last: int) -> None:
        _kernels_flow.raise_rows(
            level, label, offset, tile_cells, spill, elevation_m, lowest_m, step_m, filled_m, first, last
        )

    run_row_blocks(raise_up, level.shape, watch=watch, step="hollows of the ground")
    _direct(level, receiver, watch)
    return Flow(receiver=receiver, filled_m=filled_m)


def _height_range_m(elevation_m: FloatArray, watch: Watch) -> tuple[float, float]:
    """Lowest and highest ground; the lowest above the highest where nothing is known."""
    lowest_m, highest_m = [np.inf], [-np.inf]

    def look(first: int, last: int) -> None:
        lowest_m.append(float(np.fmin.reduce(elevation_m[first:last], axis=None, initial=np.inf)))
        highest_m.append(float(np.fmax.reduce(elevation_m[first:last], axis=None, initial=-np.inf)))

    run_row_blocks(look, elevation_m.shape, watch=watch, step="hollows of the ground")
    return min(lowest_m), max(highest_m)


def _runs_out(elevation_m: FloatArray, watch: Watch) -> MaskArray:
    """Gaps that touch the window's edge."""
    is_gap: MaskArray = np.zeros(elevation_m.shape, dtype=bool)
    if not any(np.isnan(edge).any() for edge in _edges(elevation_m)):
        return is_gap

    def find(first: int, last: int) -> None:
        np.isnan(elevation_m[first:last], out=is_gap[first:last])

    run_row_blocks(find, is_gap.shape, watch=watch, step="hollows of the ground")
    label, count = label_parts(is_gap, watch=watch, step="hollows of the ground")
    is_open = np.zeros(count + 1, dtype=bool)
    is_open[np.concatenate(_edges(label))] = True
    is_open[0] = False

    def keep(first: int, last: int) -> None:
        is_gap[first:last] = is_open[label[first:last]]

    run_row_blocks(keep, is_gap.shape, watch=watch, step="hollows of the ground")
    return is_gap


def _edges(layer: npt.NDArray[Any]) -> tuple[npt.NDArray[Any], ...]:
    return layer[0], layer[-1], layer[:, 0], layer[:, -1]


def _flood(level: CellArray, tile_cells: int, watch: Watch) -> tuple[LabelArray, CellArray, CellArray]:
    """Raise hollows within each tile, in place; what is still to raise, by label.

    Returns
    -------
    label : int16, of the grid's shape
        Within its tile; 0 spills out of the window.
    offset : int32, one a tile
        What to add to a tile's labels from 1 on.
    spill : int32
        Level at which a label's water gets out.
    """
    rows, cols = level.shape
    label = np.empty((rows, cols), np.int16)
    down, across = -(-rows // tile_cells), -(-cols // tile_cells)
    counts = np.zeros(down * across, np.int32)
    within: list[CellArray] = [np.empty((0, 3), np.int32)] * (down * across)
    label_max = 2 * tile_cells + 2  # no two border cells side by side begin a label each

    def tiles(first: int, last: int) -> None:
        for tile in range(first, last):
            top, left = tile // across * tile_cells, tile % across * tile_cells
            bottom, right = min(top + tile_cells, rows), min(left + tile_cells, cols)
            counts[tile], within[tile] = _kernels_flow.flood_tile(level, label, top, bottom, left, right, label_max)

    run_row_blocks(tiles, down * across, watch=watch, step="hollows of the ground", block_rows=2)
    offset = (np.cumsum(counts - 1) - (counts - 1)).astype(np.int32)
    for tile, edges in enumerate(within):
        edges[:, :2] += np.where(edges[:, :2] > 0, offset[tile], 0)
    offset = offset.reshape(down, across)
    edges = np.concatenate([*within, *_seams(level, label, offset, tile_cells, watch)])
    return label, offset, _spill_levels(edges, 1 + int(np.sum(counts - 1)), watch)


def _spill_levels(edges: CellArray, label_count: int, watch: Watch) -> CellArray:
    """Level at which each label's water gets out, by the lowest passes between labels; label 0 is out."""
    watch.tick("hollows of the ground")
    order = np.argsort(edges[:, 2])
    spill, group, ring = np.zeros(label_count, np.int32), np.arange(label_count), np.arange(label_count)
    for first, last in each_block(len(order), watch=watch, step="hollows of the ground", block_rows=_STEP_COUNT):
        _kernels_flow.spill_levels(edges, order[first:last], group, ring, spill)
    return spill


def _seams(
    level: CellArray, label: LabelArray, offset: CellArray, tile_cells: int, watch: Watch
) -> list[CellArray]:  # fmt: skip
    """Passes between labels over the seams of the tiles, of each stretch the lowest: the two labels and the level."""
    found = []
    for levels, labels, offsets in ((level, label, offset), (level.T, label.T, offset.T)):
        line_count, length = levels.shape
        tile_of = np.arange(length) // tile_cells
        for seam in range(tile_cells, line_count, tile_cells):
            watch.tick("hollows of the ground")
            near, far = (_known_labels(labels[k], offsets[k // tile_cells][tile_of]) for k in (seam - 1, seam))
            for shift in (-1, 0, 1):
                one = slice(max(0, -shift), length - max(0, shift))
                other = slice(max(0, shift), length - max(0, -shift))
                highest = np.maximum(levels[seam - 1, one], levels[seam, other])
                pair = near[one], far[other]
                is_new = np.append(True, (np.diff(pair[0]) != 0) | (np.diff(pair[1]) != 0))
                starts = np.flatnonzero(is_new)
                lowest = np.minimum.reduceat(highest, starts)
                edges = np.stack([pair[0][starts], pair[1][starts], lowest], axis=1)
                found.append(edges[(edges[:, 0] >= 0) & (edges[:, 1] >= 0)])
    return found


def _known_labels(labels: LabelArray, offsets: CellArray) -> CellArray:
    """Labels along a line, no two tiles' alike; -1 in gaps."""
    told: CellArray = np.where(labels > 0, labels + offsets, labels).astype(np.int32)
    return told


def _direct(level: CellArray, receiver: CellArray, watch: Watch) -> None:
    """Send every cell's water to a neighbour, in place."""
    flat_counts = []

    def block(first: int, last: int) -> None:
        flat_counts.append(_kernels_flow.flow_rows(level, receiver, first, last))

    run_row_blocks(block, level.shape, watch=watch, step="way of the water")
    queue = np.empty(sum(flat_counts), np.int32)
    queued = 0
    for first, last in each_block(level.shape, watch=watch, step="way of the water"):
        queued = _kernels_flow.find_flat_exits(level, receiver, queue, queued, first, last)
    state = np.array([0, queued], np.int64)
    is_left = True
    while is_left:
        watch.tick("way of the water")
        is_left = _kernels_flow.drain_flats(level, receiver, queue, state, _STEP_COUNT)


def catchment_count(flow: Flow, *, watch: Watch) -> CellArray:
    """How many cells drain through each cell, itself included; 0 where not known.

    The cells of a gap that water passes through count for those below it.
    """
    receiver, shape, step = flow.receiver, flow.receiver.shape, "streams by the lie of the land"
    count = np.empty(shape, np.int32)
    gives = np.zeros(receiver.size, np.uint8)
    for first, last in each_block(shape, watch=watch, step=step):
        count[first:last] = 1
        _kernels_flow.count_rows(receiver, gives, first, last)

    def accumulate(first: int, last: int) -> None:
        _kernels_flow.accumulate_rows(receiver, gives, count.reshape(-1), first, last)

    band_rows = _BAND_BLOCKS * rows_at_once(shape)
    run_row_blocks(accumulate, shape, watch=watch, step=step, block_rows=band_rows)
    for row in _border_rows(shape[0], band_rows):
        watch.tick(step)
        _kernels_flow.pass_on_row(receiver, gives, count.reshape(-1), row)

    def leave_gaps(first: int, last: int) -> None:
        count[first:last][np.isnan(flow.filled_m[first:last])] = 0

    run_row_blocks(leave_gaps, shape, watch=watch, step=step)
    return count


def _border_rows(row_count: int, band_rows: int) -> list[int]:
    """The last row of each band and the first of the next."""
    return [row for border in range(band_rows, row_count, band_rows) for row in (border - 1, border)]


def height_above_drain_m(
    flow: Flow, elevation_m: FloatArray, drain_m: FloatArray, *, cell_m: float, watch: Watch
) -> tuple[FloatArray, FloatArray]:
    """Height above the first stream or lake that a cell's water comes to, and the way there.

    Parameters
    ----------
    flow : Flow
    elevation_m : ndarray, float32
        Metres, NaN where not known.
    drain_m : ndarray, float32
        Height of streams, rivers and lakes; NaN off them.
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    height_m, path_m : ndarray, float32
        NaN where the water leaves the window first. A hollow below its drain stands at 0.

    Notes
    -----
    Rennó et al. 2008 (Remote Sensing of Environment 112:3469), Nobre et al. 2011 (J. Hydrology 404:13).
    """
    shape, step = elevation_m.shape, "height above the water"
    height_m, path_m = np.empty(elevation_m.shape, np.float32), np.empty(elevation_m.shape, np.float32)
    drains = flow.receiver, drain_m.reshape(-1), np.float32(cell_m), height_m.reshape(-1), path_m.reshape(-1)
    way = np.empty(elevation_m.size, np.int32)  # untouched but for the longest way, so it takes up little
    band_rows = _BAND_BLOCKS * rows_at_once(shape)

    def begin(first: int, last: int) -> None:
        path_m[first:last] = -1.0

    def end(first: int, last: int) -> None:
        above_m = height_m[first:last]
        np.subtract(elevation_m[first:last], above_m, out=above_m)
        np.maximum(above_m, np.float32(0.0), out=above_m)
        path_m[first:last][np.isnan(elevation_m[first:last])] = np.nan

    run_row_blocks(begin, shape, watch=watch, step=step)
    # Once the rows at the borders of the bands are told, no way leads out of a band to what isn't.
    for row in _border_rows(shape[0], band_rows):
        watch.tick(step)
        _kernels_flow.drain_rows(*drains, way, row, row + 1)

    def follow(first: int, last: int) -> None:
        own_way = np.empty((last - first) * shape[1], np.int32)
        _kernels_flow.drain_rows(*drains, own_way, first, last)

    run_row_blocks(follow, shape, watch=watch, step=step, block_rows=band_rows)
    run_row_blocks(end, shape, watch=watch, step=step)
    return height_m, path_m
