"""Where water is to fetch, and where ground is too wet to sleep on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.terrain.drainage import CellArray, catchment_count, flow_over, height_above_drain_m
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
from sitepick.terrain.open_water import read_open_water
from sitepick.work import Watch

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
    watch.tick("open water")
    is_water: MaskArray = ground.share("water_frac") > _MOST_FRAC
    open_water = read_open_water(is_water, elevation_m, cell_m=cell_m)
    flow = flow_over(_with_streams_let_in(open_water.surface_m, ground.is_stream & ~is_water), watch=watch)
    catchment = catchment_count(flow, watch=watch)
    is_derived = catchment >= STREAM_CATCHMENT_M2 / cell_m**2
    kind = np.where(is_derived & ~_beside(ground.is_stream), DERIVED_STREAM, NO_WATER).astype(np.uint8)
    _tell_mapped_streams(kind, ground.is_stream, catchment, LARGE_CATCHMENT_M2 / cell_m**2)
    np.copyto(kind, open_water.kind, where=is_water)
    is_drain = (kind != NO_WATER) | is_derived
    drain_m = np.where(is_drain, open_water.surface_m, np.float32(np.nan))
    height_m, path_m = height_above_drain_m(flow, elevation_m, drain_m, cell_m=cell_m, watch=watch)
    height_m[is_water & np.isfinite(height_m)] = 0.0
    is_flood = (height_m < FLOOD_HEIGHT_M) & (path_m <= FLOOD_PATH_M)
    is_wet: MaskArray = ((ground.share("wet_frac") > _MOST_FRAC) | is_flood) & ~is_water
    return Water(
        kind=kind,
        is_water=is_water,
        is_wet=is_wet,
        height_above_drainage_m=height_m,
        filled_m=np.maximum(flow.filled_m, elevation_m, out=flow.filled_m),
        receiver=flow.receiver,
        catchment_count=catchment,
        cautions=_cautions(kind, temperature_c is None or temperature_c <= THAW_C),
    )


def _with_streams_let_in(surface_m: FloatArray, is_stream: MaskArray) -> FloatArray:
    if not is_stream.any():
        return surface_m
    depth_m = np.zeros(surface_m.shape, np.float32)
    reached = is_stream
    for deep_m in _LET_IN_M:
        depth_m[reached & (depth_m == 0.0)] = deep_m
        reached = with_neighbours(reached)
    return surface_m - depth_m


def _beside(is_stream: MaskArray) -> MaskArray:
    """Ground that a mapped stream draws its water from straight, so that no second one is told there."""
    reached = is_stream
    for _ in _LET_IN_M:
        reached = with_neighbours(reached)
    return reached


def _tell_mapped_streams(kind: WaterKindArray, is_stream: MaskArray, catchment: CellArray, large_count: float) -> None:
    """Streams and brooks, in place, by the most ground that drains to a cell or its neighbours."""
    rows, cols = np.nonzero(is_stream)
    most = np.zeros(rows.size, np.int32)
    for down in range(-1, 2):
        for right in range(-1, 2):
            beside = catchment[np.clip(rows + down, 0, kind.shape[0] - 1), np.clip(cols + right, 0, kind.shape[1] - 1)]
            np.maximum(most, beside, out=most)
    kind[rows, cols] = np.where(most >= large_count, MAPPED_STREAM, MAPPED_BROOK)


def _cautions(kind: WaterKindArray, may_freeze: bool) -> tuple[Caution, ...]:
    is_there = np.bincount(kind.reshape(-1), minlength=SEA + 1) > 0
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
