"""Where water is to fetch, and where ground is too wet to sleep on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.terrain.drainage import CellArray, catchment_count, flow_over, height_above_drain_m
from sitepick.terrain.model import DERIVED_STREAM, LAKE_OR_RIVER, MAPPED_STREAM, NO_WATER, WaterKindArray
from sitepick.work import Watch

STREAM_CATCHMENT_M2 = 500_000.0  # ours: half a square kilometre keeps a brook going in most northern ground
FLOOD_HEIGHT_M = 2.0  # common practice: nothing lower than this above a stream or lake
FLOOD_PATH_M = 200.0  # ours: how far from the bank that rule reaches, along the flow
_MOST_FRAC = 0.5


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
    catchment_count : int32
        Cells that drain through each cell, itself included; 0 where not known.
    cautions : tuple of Caution
    """

    kind: WaterKindArray
    is_water: MaskArray
    is_wet: MaskArray
    height_above_drainage_m: FloatArray
    filled_m: FloatArray
    catchment_count: CellArray
    cautions: tuple[Caution, ...]


def read_water(ground: Ground, *, watch: Watch) -> Water:
    """Lakes, rivers and streams, mapped or by the lie of the land, and the ground they make wet.

    Parameters
    ----------
    ground : Ground
    watch : Watch

    Returns
    -------
    Water
    """
    cell_m = ground.grid.ground_cell_m
    is_water: MaskArray = ground.share("water_frac") > _MOST_FRAC
    flow = flow_over(ground.elevation_m, watch=watch)
    catchment = catchment_count(flow, watch=watch)
    is_derived = catchment >= STREAM_CATCHMENT_M2 / cell_m**2
    kind = np.full(ground.grid.shape, NO_WATER, np.uint8)
    kind[is_derived] = DERIVED_STREAM
    kind[ground.is_stream] = MAPPED_STREAM
    kind[is_water] = LAKE_OR_RIVER
    height_m, path_m = height_above_drain_m(flow, ground.elevation_m, kind != NO_WATER, cell_m=cell_m, watch=watch)
    is_flood = (height_m < FLOOD_HEIGHT_M) & (path_m <= FLOOD_PATH_M)
    is_wet: MaskArray = ((ground.share("wet_frac") > _MOST_FRAC) | is_flood) & ~is_water
    return Water(
        kind=kind,
        is_water=is_water,
        is_wet=is_wet,
        height_above_drainage_m=height_m,
        filled_m=flow.filled_m,
        catchment_count=catchment,
        cautions=_cautions(kind),
    )


def _cautions(kind: WaterKindArray) -> tuple[Caution, ...]:
    if not np.any(kind == DERIVED_STREAM):
        return ()
    return (
        Caution(
            kind="water",
            text="Some streams are drawn from the lie of the land, not from a map: they may be dry, frozen to the "
            "bottom or elsewhere, so look before you count on them.",
        ),
    )
