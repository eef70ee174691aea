"""What the terrain stage hands on: what the ground means to a person who sleeps on it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.caution import Caution
from sitepick.grid import FloatArray, Grid, MaskArray

WaterKindArray = npt.NDArray[np.uint8]

# Values of Terrain.water_kind.
NO_WATER, LAKE, RIVER, MAPPED_STREAM, MAPPED_BROOK, DERIVED_STREAM, SEA = range(7)
WATER_KIND_NAMES = ("no water", "lake", "river", "stream", "brook", "stream by the lie of the land", "sea")


def is_to_fetch(water_kind: WaterKindArray) -> MaskArray:
    """Where there is water to drink or to cook with: any but the sea."""
    fresh: MaskArray = (water_kind != NO_WATER) & (water_kind != SEA)
    return fresh


def water_name(water_kind: int) -> str:
    """What kind of water lies where some is drawn; a mark may name a place where the map has none."""
    return WATER_KIND_NAMES[water_kind] if water_kind != NO_WATER else "marked water"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Terrain:
    """Layers in the user's own terms. Read-only float32 or bool arrays of the grid's shape, NaN where not known.

    Attributes
    ----------
    grid : Grid
    slope_deg : float32
        Steepest fall of each cell (Horn), 0-90.
    slope_30m_deg : float32
        Slope of the mean ground over 30 m: what a tent's surroundings look like.
    slope_error_deg : float32
        Error of the 30 m slope, one standard deviation; `slope_error.chance_within` reads it.
    wind_share : float32
        Share of open-field wind that reaches a shelter, mean of the rays around the forecast
        wind; the mean over all quarters where the wind is not known.
    wind_share_worst : float32
        The same for the worst ray (worst quarter where the wind is not known).
    evergreen_frac : float32
        Share of the ground under evergreen crowns; NaN where the legend doesn't know.
    canopy_frac : float32
        Share of the ground under any crowns.
    height_above_drainage_m : float32
        Height above the nearest stream or lake, along the flow.
    cold_pool_frac : float32
        How far cold air gathers here on clear, calm nights, 0-1. NaN on open water too.
    water_kind : uint8
        `NO_WATER`, `LAKE`, `RIVER`, `MAPPED_STREAM`, `MAPPED_BROOK` (a small one), `DERIVED_STREAM`
        (by the lie of the land alone) or `SEA`.
    is_water : bool
        Lakes, rivers and sea: nobody camps there.
    is_wet : bool
        Bog, marsh and ground that floods.
    is_avalanche_release, is_avalanche_runout : bool
        Slopes that can release, and the ground below that they can reach.
    avalanche_angle_deg : float32
        Steepness of the line up to the release that a place lies below; on a release with none above
        it its own slope. NaN off avalanche ground.
    avalanche_area_m2 : float32
        Area of that release. NaN off avalanche ground.
    unsafe_unknown : bool
        Ground whose slope, water or avalanche hazard is not known: out.
    cautions : tuple of Caution
    bare_elevation_m : float32 or None
        Heights of the ground without its trees, that the rest was read from; None: as the ground has them.
    draw_here : bool or None
        Where marks allow water to be drawn, and nowhere else; None: no mark says anything.
    """

    grid: Grid
    slope_deg: FloatArray
    slope_30m_deg: FloatArray
    slope_error_deg: FloatArray
    wind_share: FloatArray
    wind_share_worst: FloatArray
    evergreen_frac: FloatArray
    canopy_frac: FloatArray
    height_above_drainage_m: FloatArray
    cold_pool_frac: FloatArray
    water_kind: WaterKindArray
    is_water: MaskArray
    is_wet: MaskArray
    is_avalanche_release: MaskArray
    is_avalanche_runout: MaskArray
    avalanche_angle_deg: FloatArray
    avalanche_area_m2: FloatArray
    unsafe_unknown: MaskArray
    cautions: tuple[Caution, ...] = ()
    bare_elevation_m: FloatArray | None = None
    draw_here: MaskArray | None = None

    @property
    def to_fetch(self) -> MaskArray:
        """Where there is water to drink or to cook with that may be drawn."""
        return is_to_fetch(self.water_kind) if self.draw_here is None else self.draw_here

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, np.ndarray):
                if value.shape != self.grid.shape:
                    raise ValueError(f"{name} of shape {value.shape} doesn't fit a grid of shape {self.grid.shape}")
                value.flags.writeable = False
