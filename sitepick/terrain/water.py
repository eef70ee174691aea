"""Where water is to fetch, and where ground is too wet to sleep on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.terrain.drainage import CellArray, catchment_count, flow_over, height_above_drain_m
from sitepick.terrain.margin import with_margin
from sitepick.terrain.model import (
    DERIVED_STREAM,
    LAKE,
    MAPPED_BROOK,
    MAPPED_STREAM,
    NO_WATER,
    RIVER,
    SEA,
    WaterKindArray,
)
from sitepick.terrain.open_water import OpenWater, read_open_water
from sitepick.terrain.stand import by_class
from sitepick.work import Watch, each_block, run_row_blocks

STREAM_CATCHMENT_M2 = 500_000.0  # ours: half a square kilometre keeps a brook going in most northern ground
LARGE_CATCHMENT_M2 = 5_000_000.0  # ours: from here on a brook is called a stream
FLOOD_HEIGHT_M = 2.0  # common practice: nothing lower than this above a stream or lake
FLOOD_PATH_M = 200.0  # ours: how far from the bank that rule reaches, along the flow
THAW_C = 5.0  # ours: on milder nights nobody thinks of walking on ice
_MOST_FRAC = 0.5
# A mapped stream rarely lies in the very furrow of the heights: it is let into them so deep, and less beside
# it, for the flow alone, so that the water comes to the mapped line. Ours.
_LET_IN_M = (5.0, 3.3, 1.7)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Water:
    """Water to fetch and water to keep out of; arrays of the grid's shape.

    Attributes
    ----------
    kind : uint8
        As in `Terrain.water_kind`.
    is_water, is_wet : bool
    height_above_drainage_m : float32
    filled_m : float32
        Height with hollows filled to their spill.
    receiver : int32
        As in `drainage.Flow`.
    catchment_count : int32
        Cells that drain through each cell, itself included; 0 where not known.
    cautions : tuple of Caution
    """

    kind: WaterKindArray
    is_water: MaskArray
    is_wet: MaskArray
    height_above_drainage_m: FloatArray
    filled_m: FloatArray
    receiver: CellArray
    catchment_count: CellArray
    cautions: tuple[Caution, ...]


def read_water(ground: Ground, *, temperature_c: float | None = None, watch: Watch) -> Water:
    """Lakes, rivers and streams, mapped or by the lie of the land, and the ground they make wet.

    Parameters
    ----------
    ground : Ground
    temperature_c : float or None
        Of the night; None: not known.
    watch : Watch

    Returns
    -------
    Water

    Notes
    -----
    What is mapped wins: lakes are level at the mean of their heights, mapped streams are let into the
    heights, and streams by the lie of the land are told only away from them. How much ground drains to
    a stream is counted within the window, so a stream that comes from outside may be called a brook.
    """
    cell_m, elevation_m = ground.grid.ground_cell_m, ground.elevation_m
    is_water = np.empty(ground.grid.shape, bool)

    def find(first: int, last: int) -> None:
        is_water[first:last] = by_class(ground, "water_frac", slice(first, last)) > _MOST_FRAC

    run_row_blocks(find, ground.grid.shape, watch=watch, step="open water")
    open_water = read_open_water(is_water, elevation_m, cell_m=cell_m, watch=watch)
    flow = flow_over(_with_streams_let_in(open_water.surface_m, ground.is_stream, is_water, watch), watch=watch)
    catchment = catchment_count(flow, watch=watch)
    kind, drain_m = _kinds_and_drains(ground, is_water, open_water, catchment, watch)
    del open_water
    height_m, path_m = height_above_drain_m(flow, elevation_m, drain_m, cell_m=cell_m, watch=watch)
    is_wet = np.empty(ground.grid.shape, bool)

    def tell(first: int, last: int) -> None:
        rows = slice(first, last)
        height_m[rows][is_water[rows] & np.isfinite(height_m[rows])] = 0.0
        is_flood = (height_m[rows] < FLOOD_HEIGHT_M) & (path_m[rows] <= FLOOD_PATH_M)
        is_wet[rows] = ((by_class(ground, "wet_frac", rows) > _MOST_FRAC) | is_flood) & ~is_water[rows]
        np.maximum(flow.filled_m[rows], elevation_m[rows], out=flow.filled_m[rows])

    run_row_blocks(tell, ground.grid.shape, watch=watch, step="height above the water")
    return Water(
        kind=kind,
        is_water=is_water,
        is_wet=is_wet,
        height_above_drainage_m=height_m,
        filled_m=flow.filled_m,
        receiver=flow.receiver,
        catchment_count=catchment,
        cautions=_cautions(_kinds_there(kind, watch), temperature_c is None or temperature_c <= THAW_C),
    )


def _with_streams_let_in(
    surface_m: FloatArray, is_stream: MaskArray, is_water: MaskArray, watch: Watch
) -> FloatArray:  # fmt: skip
    """Heights for the flow: mapped streams are furrows, but for where they run through open water."""
    if not is_stream.any():
        return surface_m
    let_in_m, margin = np.empty(surface_m.shape, np.float32), len(_LET_IN_M)

    def block(first: int, last: int) -> None:
        reached = with_margin(is_stream, first, last, margin, nothing=False)
        reached &= ~with_margin(is_water, first, last, margin, nothing=False)
        depth_m = np.zeros(reached.shape, np.float32)
        for deep_m in _LET_IN_M:
            depth_m[reached & (depth_m == 0.0)] = deep_m
            reached = with_neighbours(reached)
        np.subtract(surface_m[first:last], depth_m[margin:-margin, margin:-margin], out=let_in_m[first:last])

    run_row_blocks(block, surface_m.shape, watch=watch, step="open water")
    return let_in_m


def _kinds_and_drains(
    ground: Ground, is_water: MaskArray, open_water: OpenWater, catchment: CellArray, watch: Watch
) -> tuple[WaterKindArray, FloatArray]:
    """What water is where, and the heights of all that water runs to; NaN elsewhere."""
    kind, drain_m = np.empty(is_water.shape, np.uint8), np.empty(is_water.shape, np.float32)
    cell_m2 = ground.grid.ground_cell_m**2

    def block(first: int, last: int) -> None:
        rows = slice(first, last)
        is_derived = catchment[rows] >= STREAM_CATCHMENT_M2 / cell_m2
        told = np.where(is_derived & ~_beside(ground.is_stream, first, last), DERIVED_STREAM, NO_WATER)
        told = told.astype(np.uint8)
        _tell_mapped_streams(told, ground.is_stream, catchment, LARGE_CATCHMENT_M2 / cell_m2, first)
        np.copyto(told, open_water.kind[rows], where=is_water[rows])
        kind[rows] = told
        drain_m[rows] = np.where((told != NO_WATER) | is_derived, open_water.surface_m[rows], np.float32(np.nan))

    run_row_blocks(block, ground.grid.shape, watch=watch, step="streams by the lie of the land")
    return kind, drain_m


def _beside(is_stream: MaskArray, first: int, last: int) -> MaskArray:
    """Ground that a mapped stream draws its water from straight, so that no second one is told there."""
    margin = len(_LET_IN_M)
    reached = with_margin(is_stream, first, last, margin, nothing=False)
    for _ in _LET_IN_M:
        reached = with_neighbours(reached)
    return reached[margin:-margin, margin:-margin]


def _tell_mapped_streams(
    told: WaterKindArray, is_stream: MaskArray, catchment: CellArray, large_count: float, first: int
) -> None:  # fmt: skip
    """Streams and brooks, in place, by the most ground that drains to a cell or its neighbours; rows from ``first``."""
    rows, cols = np.nonzero(is_stream[first : first + len(told)])
    most = np.zeros(rows.size, np.int32)
    for down in range(-1, 2):
        beside_rows = np.clip(first + rows + down, 0, catchment.shape[0] - 1)
        for right in range(-1, 2):
            beside = catchment[beside_rows, np.clip(cols + right, 0, catchment.shape[1] - 1)]
            np.maximum(most, beside, out=most)
    told[rows, cols] = np.where(most >= large_count, MAPPED_STREAM, MAPPED_BROOK)


def _kinds_there(kind: WaterKindArray, watch: Watch) -> MaskArray:
    """Whether the window has any, by kind."""
    is_there = np.zeros(SEA + 1, bool)
    for first, last in each_block(kind.shape, watch=watch, step="height above the water"):
        is_there |= np.bincount(kind[first:last].reshape(-1), minlength=SEA + 1) > 0
    return is_there


def _cautions(is_there: MaskArray, may_freeze: bool) -> tuple[Caution, ...]:
    cautions = []
    if is_there[DERIVED_STREAM]:
        cautions.append(
            Caution(
                kind="water",
                text="Some streams are drawn from the lie of the land, not from a map: they may be dry, frozen to the "
                "bottom or elsewhere, so look before you count on them.",
            )
        )
    if is_there[SEA]:
        cautions.append(
            Caution(
                kind="water",
                text="Water that lies at sea level and runs off the map is taken for the sea: salt, and no water to "
                "fetch.",
            )
        )
    if may_freeze and is_there[[RIVER, MAPPED_STREAM, MAPPED_BROOK]].any():
        lakes = ", whatever was measured on a lake" if is_there[LAKE] else ""
        cautions.append(
            Caution(
                kind="ice",
                text=f"Running water freezes late, unevenly and hollow{lakes}: keep off the ice of rivers and streams, "
                "and fetch water from a firm bank, with a second person by.",
            )
        )
    return tuple(cautions)
