"""Made plans, ground, terrain and marches for tests: small, seeded, with everything known."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import numpy as np

from sitepick.grid import Grid
from sitepick.ground.model import NOT_KNOWN, CoverClass, Ground, Legend
from sitepick.plan.factor import Factor
from sitepick.plan.further import FurtherFactors
from sitepick.plan.model import (
    GroundSource,
    MarchSettings,
    Plan,
    Preferences,
    Route,
    Unit,
    Weather,
)
from sitepick.plan.pace import USUAL_LOAD_KG, USUAL_SLED_KG, USUAL_TEAM_COUNT, PaceSettings
from sitepick.plan.shelter import shelters_for
from sitepick.terrain.model import NO_WATER, Terrain

OPEN, SPRUCE, BIRCH, BOG, LAKE, TREES_OF_UNKNOWN_LEAF = range(6)


def cover_class(code: int, name: str, **known: Any) -> CoverClass:
    """A class of open ground, changed by what is given."""
    values: dict[str, Any] = {
        "evergreen_frac": 0.0, "deciduous_frac": 0.0, "open_frac": 1.0, "wet_frac": 0.0, "water_frac": 0.0,
        "ice_frac": 0.0, "built_frac": 0.0, "canopy_frac": 0.0, "tree_height_m": 0.0, "going_factor": 1.0,
        "firewood_frac": 0.0,
    }  # fmt: skip
    return CoverClass(code=code, name=name, **{**values, **known})


LEGEND = Legend(
    name="made",
    title="Made cover",
    classes=(
        cover_class(OPEN, "open ground"),
        cover_class(SPRUCE, "dense spruce", evergreen_frac=0.85, open_frac=0.15, canopy_frac=0.85,
                    tree_height_m=15.0, going_factor=1.2, firewood_frac=0.8),
        cover_class(BIRCH, "birch", deciduous_frac=0.6, open_frac=0.4, canopy_frac=0.6,
                    tree_height_m=6.0, going_factor=1.1, firewood_frac=0.4),
        cover_class(BOG, "bog", open_frac=0.1, wet_frac=0.9, going_factor=1.2),
        cover_class(LAKE, "lake", open_frac=0.0, water_frac=1.0),
        cover_class(TREES_OF_UNKNOWN_LEAF, "trees", evergreen_frac=None, deciduous_frac=None, open_frac=0.3,
                    canopy_frac=0.7, tree_height_m=12.0, going_factor=1.2, firewood_frac=0.5),
    ),
)  # fmt: skip

CRS = "EPSG:32634"
WEST_M, NORTH_M = 500_000.0, 7_480_000.0  # on the zone's middle line, about 67.4° N


def make_grid(rows: int, cols: int, *, cell_m: float = 10.0) -> Grid:
    """A grid near 67° N whose west edge is the zone's middle line."""
    return Grid(crs=CRS, west_m=WEST_M, north_m=NORTH_M, cell_m=cell_m, rows=rows, cols=cols)


def make_ground(elevation_m: Any, cover: Any = OPEN, *, cell_m: float = 10.0, **known: Any) -> Ground:
    """Ground from an array of heights and an array (or one value) of cover codes; NaN and -1 are gaps."""
    heights = np.array(elevation_m, dtype=np.float32)
    rows, cols = heights.shape
    codes = np.broadcast_to(np.asarray(cover, dtype=np.int16), heights.shape)
    nothing = np.zeros(heights.shape, dtype=bool)
    values: dict[str, Any] = {
        "grid": make_grid(rows, cols, cell_m=cell_m),
        "elevation_m": heights,
        "cover_index": np.where(codes >= 0, codes, NOT_KNOWN).astype(np.int16),
        "legend": LEGEND,
        "canopy_height_m": None,
        "is_stream": nothing.copy(),
        "is_track": nothing.copy(),
        "is_no_go": nothing.copy(),
        "elevation_kind": "terrain",
        "source_cell_m": cell_m,
    }
    return Ground(**{**values, **known})


def made_relief(rows: int, cols: int, *, seed: int = 7, height_m: float = 120.0, roughness: float = 2.0) -> np.ndarray:
    """Seeded 1/f^roughness relief, float32, from 0 to `height_m`."""
    rng = np.random.default_rng(seed)
    spectrum = np.fft.rfft2(rng.standard_normal((rows, cols)))
    rate = np.hypot(np.fft.fftfreq(rows)[:, None], np.fft.rfftfreq(cols)[None, :])
    rate[0, 0] = 1.0
    relief = np.fft.irfft2(spectrum / rate**roughness, s=(rows, cols))
    relief -= relief.min()
    return (relief * (height_m / max(float(relief.max()), 1e-9))).astype(np.float32)


def make_terrain(ground: Ground, **known: Any) -> Terrain:
    """Level, calm, dry terrain over a ground, changed by what is given (arrays or one value each)."""
    shape = ground.grid.shape

    def layer(value: float) -> np.ndarray:
        return np.full(shape, value, dtype=np.float32)

    is_water = ground.share("water_frac") > 0.5
    values: dict[str, Any] = {
        "slope_deg": layer(0.0),
        "slope_30m_deg": layer(0.0),
        "slope_error_deg": layer(0.5),
        "wind_share": layer(0.5),
        "wind_share_worst": layer(0.6),
        "evergreen_frac": ground.share("evergreen_frac"),
        "canopy_frac": ground.share("canopy_frac"),
        "height_above_drainage_m": layer(20.0),
        "cold_pool_frac": layer(0.0),
        "water_kind": is_water.astype(np.uint8),
        "is_water": is_water,
        "is_wet": ground.share("wet_frac") > 0.5,
        "is_avalanche_release": np.zeros(shape, dtype=bool),
        "is_avalanche_runout": np.zeros(shape, dtype=bool),
        "avalanche_angle_deg": layer(np.nan),
        "avalanche_area_m2": layer(np.nan),
        "unsafe_unknown": ~ground.is_known(),
    }
    for name, value in known.items():
        if np.isscalar(value):
            kind = values[name].dtype if name in values else np.float32
            known[name] = np.full(shape, value, dtype=kind)
    values["water_kind"] = np.where(values["is_water"], values["water_kind"], NO_WATER).astype(np.uint8)
    return Terrain(grid=ground.grid, **{**values, **known})


def no_matter_where() -> Preferences:
    """Preferences of someone who looks at the main factors alone: neither the day's way, the detour nor cold counts."""
    nothing = Factor(weight=0.0, curve=((0.0, 0.0), (1.0, 1.0)))
    return Preferences(
        progress=nothing, detour=nothing, further=FurtherFactors(cold=replace(FurtherFactors().cold, weight=0.0))
    )


def make_plan(ground: Ground | None = None, *, people: int = 38, **known: Any) -> Plan:
    """A winter plan; with a ground, its route crosses the ground from west to east."""
    if ground is None:
        points: tuple[tuple[float, float], ...] = ((21.0, 67.4), (21.1, 67.4))
    else:
        west, south, east, north = ground.grid.bounds_m
        inset = 2.5 * ground.grid.cell_m
        lon, lat = ground.grid.to_lonlat([west + inset, east - inset], [(south + north) / 2] * 2)
        points = tuple(zip(map(float, lon), map(float, lat), strict=True))
    depart = datetime(2027, 2, 11, 8, 0, tzinfo=timezone(timedelta(hours=1)))
    values: dict[str, Any] = {
        "name": "Made plan",
        "ground": GroundSource(
            elevation=(Path("/nowhere/elevation.tif"),), cover=(Path("/nowhere/cover.tif"),), legend="worldcover"
        ),
        "unit": Unit(people=people, shelters=shelters_for(people)),
        "weather": Weather(wind_from_deg=300.0, wind_kmh=25.0, temperature_c=-18.0, snow_cm=60.0),
        "march": MarchSettings(
            depart=depart,
            mode="ski",
            has_sled=True,
            pitching_min=75.0,
            pace=PaceSettings(load_kg=USUAL_LOAD_KG, sled_kg=USUAL_SLED_KG, sled_team_count=USUAL_TEAM_COUNT),
        ),
        "route": Route(name="Made route", points=points),
        "preferences": no_matter_where(),
    }
    return Plan(**{**values, **known})
