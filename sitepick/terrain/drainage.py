"""Where the water runs, and how high above it a place lies."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, MaskArray
from sitepick.terrain import _kernels_flow
from sitepick.work import Watch, run_row_blocks

CellArray = npt.NDArray[np.int32]

LEVEL_STEP_M = 0.01  # heights are told apart to this when hollows are filled
_LEVEL_COUNT_MAX = 4_000_000
_POP_COUNT = 250_000  # cells flooded between two looks at the watch
_NOT_FLOODED, _OUTLET = -2, -1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Flow:
    """The way of the water over the ground, hollows filled.

    Attributes
    ----------
    receiver : int32, of the grid's shape
        Flat index of the cell that a cell drains to; -1 out of the window, into a gap, or not known.
    order : int32, one a known cell
        Flat indices, no cell before the one that it drains to.
    filled_m : float32, of the grid's shape
        Height with hollows filled to their spill, to the nearest `LEVEL_STEP_M`; NaN where not known.
    """

    receiver: CellArray
    order: CellArray
    filled_m: FloatArray


def flow_over(elevation_m: FloatArray, *, watch: Watch) -> Flow:
    """The way of the water over the ground.

    Parameters
    ----------
    elevation_m : ndarray of shape (rows, cols), float32
        Metres, NaN where not known.
    watch : Watch

    Returns
    -------
    Flow

    Notes
    -----
    Hollows are filled by flooding inwards from the lowest outlet (Barnes, Lehman & Mulla 2014, Computers
    & Geosciences 62:117); then steepest of eight ways (O'Callaghan & Mark 1984), over a flat the way that
    the flood came in. The window's edge and the edges of gaps are outlets: water that comes to a
    gap is lost to sight there. Cost: O(cells).
    """
    rows, cols = elevation_m.shape
    is_known = np.isfinite(elevation_m)
    if not is_known.any():
        nowhere = np.full((rows, cols), _OUTLET, np.int32)
        return Flow(receiver=nowhere, order=np.empty(0, np.int32), filled_m=elevation_m.copy())
    lowest_m = float(np.min(elevation_m, where=is_known, initial=np.inf))
    highest_m = float(np.max(elevation_m, where=is_known, initial=-np.inf))
    step_m = max(LEVEL_STEP_M, (highest_m - lowest_m) / _LEVEL_COUNT_MAX)
    level = np.full((rows, cols), -1, np.int32)
    level[is_known] = np.rint((elevation_m[is_known] - np.float64(lowest_m)) / step_m)
    parent = np.full((rows, cols), _NOT_FLOODED, np.int32)
    order = _flood(level, parent, int(np.count_nonzero(is_known)), watch)
    receiver = np.empty((rows, cols), np.int32)

    def block(first: int, last: int) -> None:
        _kernels_flow.flow_rows(level, parent, receiver, first, last)

    run_row_blocks(block, rows, watch=watch, step="way of the water")
    filled_m = np.where(is_known, np.maximum(level * np.float64(step_m) + lowest_m, elevation_m), np.nan)
    return Flow(receiver=receiver, order=order, filled_m=filled_m.astype(np.float32))


def _flood(level: CellArray, parent: CellArray, known_count: int, watch: Watch) -> CellArray:
    """Raise hollows to their spill, in place; the cells in the order that the flood came to them."""
    cols = level.shape[1]
    outlets = np.flatnonzero(_is_outlet(level >= 0)).astype(np.int32)
    flat_level, flat_parent = level.reshape(-1), parent.reshape(-1)
    flat_parent[outlets] = _OUTLET
    # Buckets are chains of cells: outlets of one level are chained to each other to begin with.
    outlets = outlets[np.argsort(flat_level[outlets], kind="stable")]
    levels = flat_level[outlets]
    is_first = np.append(True, levels[1:] != levels[:-1])
    is_last = np.append(is_first[1:], True)
    head = np.full(int(level.max()) + 1, -1, np.int32)
    tail = np.full(head.shape, -1, np.int32)
    following = np.full(level.size, -1, np.int32)
    head[levels[is_first]] = outlets[is_first]
    tail[levels[is_last]] = outlets[is_last]
    following[outlets[:-1]] = np.where(is_last[:-1], -1, outlets[1:])
    order = np.empty(known_count, np.int32)
    state = np.zeros(2, np.int64)
    is_left = True
    while is_left:
        watch.tick("hollows of the ground", int(state[1]), known_count)
        is_left = _kernels_flow.flood_some(
            flat_level, cols, head, tail, following, flat_parent, order, state, _POP_COUNT
        )
    return order


def _is_outlet(is_known: MaskArray) -> MaskArray:
    """Known cells on the window's edge or beside a gap."""
    padded = np.pad(is_known, 1)
    rows, cols = is_known.shape
    is_inner = np.ones(is_known.shape, dtype=bool)
    for down in range(3):
        for right in range(3):
            is_inner &= padded[down : down + rows, right : right + cols]
    outlet: MaskArray = is_known & ~is_inner
    return outlet


def catchment_count(flow: Flow, *, watch: Watch) -> CellArray:
    """How many cells drain through each cell, itself included; 0 where not known."""
    watch.tick("streams by the lie of the land")
    count = np.zeros(flow.receiver.shape, np.int32)
    count.reshape(-1)[flow.order] = 1
    _kernels_flow.accumulate(flow.order, flow.receiver.reshape(-1), count.reshape(-1))
    return count


def height_above_drain_m(
    flow: Flow, elevation_m: FloatArray, is_drain: MaskArray, *, cell_m: float, watch: Watch
) -> tuple[FloatArray, FloatArray]:
    """Height above the first stream or lake that a cell's water comes to, and the way there.

    Parameters
    ----------
    flow : Flow
    elevation_m : ndarray, float32
        Metres, NaN where not known.
    is_drain : ndarray, bool
        Streams, rivers, lakes.
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    height_m, path_m : ndarray, float32
        NaN where the water leaves the window or comes to a gap first. A hollow below its
        drain stands at 0.

    Notes
    -----
    Rennó et al. 2008 (Remote Sensing of Environment 112:3469), Nobre et al. 2011 (J. Hydrology 404:13).
    """
    watch.tick("height above the water")
    base_m = np.full(elevation_m.size, np.nan, np.float32)
    path_m = np.full(elevation_m.size, np.nan, np.float32)
    _kernels_flow.drain_to(
        flow.order, flow.receiver.reshape(-1), elevation_m.shape[1], elevation_m.reshape(-1),
        is_drain.reshape(-1), cell_m, base_m, path_m,
    )  # fmt: skip
    height_m = np.maximum(elevation_m - base_m.reshape(elevation_m.shape), np.float32(0.0))
    return height_m, path_m.reshape(elevation_m.shape)
