"""Layers of the whole ground that the further factors are read from; only those that the plan asks for are made."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.grid import DoubleArray, FloatArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march import minutes_back_to_route
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.further import DEPTH_FAR_M, HAZARD_FAR_M, open_to_air_frac
from sitepick.sites.limits import dead_timber
from sitepick.sites.reading import MOST_FRAC
from sitepick.terrain.lookers import observers_on_route, observers_on_tracks
from sitepick.terrain.model import Terrain
from sitepick.terrain.sight import SightRule, read_sight
from sitepick.terrain.sunshine import read_sun_hours
from sitepick.work import Watch

GATHER_M = 150.0  # ours: as far as people go for boughs and wood more than once
FOREST_FRAC = 0.3  # common practice: crowns over three tenths of the ground make a forest

Window = tuple[slice, slice]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LayerGround:
    """What the layers are made from.

    Attributes
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March or None
        None where only the ground is asked about: no layer of the way back then.
    window : tuple of slice
        Rows and columns that hold all that is asked about; elsewhere a layer may be NaN.
    watch : Watch
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    march: March | None
    window: Window
    watch: Watch


def asked_layers(on: LayerGround, earlier: Mapping[str, FloatArray] | None = None) -> dict[str, FloatArray]:
    """The layers of the further factors that have a weight or a limit.

    Parameters
    ----------
    on : LayerGround
    earlier : mapping of factor to float32, optional
        Made before over the same ground, terrain, march, observers, window and, for the morning, settings; used again.

    Returns
    -------
    dict of factor to float32 array of the grid's shape
        In the factor's unit, NaN where not known.
    """
    asked = [name for name, _ in on.plan.preferences.measured_factors() if name in LAYER_MAKERS]
    held = earlier or {}
    layers = {}
    for number, name in enumerate(asked):
        on.watch.tick("what else counts", number, len(asked))
        layers[name] = held[name] if name in held else LAYER_MAKERS[name](on)
    return layers


def _distance_m(is_there: MaskArray, on: LayerGround, far_m: float) -> FloatArray:
    """Ground distance from each cell of the window to the side of the nearest of a mask's cells, up to a distance."""
    cell_m = on.ground.grid.ground_cell_m
    reach = math.ceil(far_m / cell_m) + 1
    around = tuple(slice(max(0, span.start - reach), span.stop + reach) for span in on.window)
    metres = np.full(is_there.shape, np.nan, np.float32)
    metres[on.window] = far_m
    near = is_there[around]
    if near.any():
        on.watch.tick("what else counts")
        away = ndimage.distance_transform_edt(~near)[
            on.window[0].start - around[0].start : on.window[0].stop - around[0].start,
            on.window[1].start - around[1].start : on.window[1].stop - around[1].start,
        ]
        metres[on.window] = np.clip((away - 0.5) * cell_m, 0.0, far_m)
        metres[is_there] = 0.0
    return metres


def _depth(on: LayerGround) -> FloatArray:
    """Metres inside the forest's edge; unknown crowns end a forest, so that it is never told deeper than it is."""
    crowns = on.terrain.canopy_frac
    metres = _distance_m(~(crowns >= FOREST_FRAC), on, DEPTH_FAR_M)
    metres[np.isnan(crowns)] = np.nan
    return metres


def _near_mean(values: FloatArray, on: LayerGround) -> FloatArray:
    """Mean of what is known within `GATHER_M` to each side; NaN where most of it isn't."""
    width = 2 * round(GATHER_M / on.ground.grid.ground_cell_m) + 1
    is_known = np.isfinite(values)
    share = ndimage.uniform_filter(is_known.astype(np.float32), width, mode="nearest")
    total = ndimage.uniform_filter(np.where(is_known, values, np.float32(0.0)), width, mode="nearest")
    mean = np.clip(total / np.maximum(share, np.float32(1e-6)), 0.0, 1.0)
    return np.where(share > 1.0 - MOST_FRAC, mean, np.float32(np.nan)).astype(np.float32)


def _seen_from(on: LayerGround, places_m: DoubleArray, eye_m: float | None = None) -> FloatArray:
    rule = SightRule() if eye_m is None else SightRule(eye_m=eye_m)
    return read_sight(on.plan, on.ground, places_m, rule=rule, watch=on.watch)


def _seen_observers(on: LayerGround) -> FloatArray:
    """Share of the marked observers, each with eyes of its own height; nobody sees where nobody is marked."""
    grid = on.ground.grid
    by_eye: dict[float, list[tuple[float, float]]] = {}
    for observer in on.plan.observers:
        east_m, north_m = grid.from_lonlat(*observer.place)
        if grid.contains(float(east_m), float(north_m)):
            by_eye.setdefault(observer.eye_m, []).append((float(east_m), float(north_m)))
    if not on.plan.observers:
        return np.zeros(grid.shape, np.float32)
    if not by_eye:
        return np.full(grid.shape, np.nan, np.float32)
    seen, whole = np.zeros(grid.shape, np.float32), sum(map(len, by_eye.values()))
    for eye_m, places_m in by_eye.items():
        seen += np.float32(len(places_m) / whole) * _seen_from(on, np.array(places_m), eye_m)
    return seen


def _morning(on: LayerGround) -> FloatArray:
    if on.march is None:
        return np.full(on.ground.grid.shape, np.nan, np.float32)
    factor = on.plan.preferences.further.morning
    limit_min = max(factor.curve[-1][0], factor.limit_max or 0.0)
    back = minutes_back_to_route(
        on.plan, on.ground, on.terrain, on.march, (), limit_min=limit_min, watch=on.watch
    )  # fmt: skip
    return back.minutes


def _hazards(on: LayerGround) -> FloatArray:
    terrain = on.terrain
    is_hazard = terrain.is_avalanche_release | terrain.is_avalanche_runout | dead_timber(on.ground)
    return _distance_m(is_hazard | (on.ground.share("ice_frac") > MOST_FRAC), on, HAZARD_FAR_M)


def _seen_air(on: LayerGround) -> FloatArray:
    green = np.nan_to_num(on.terrain.evergreen_frac)
    return np.asarray(open_to_air_frac(green, on.terrain.canopy_frac), np.float32)


LAYER_MAKERS: dict[str, Callable[[LayerGround], FloatArray]] = {
    "cold": lambda on: on.terrain.cold_pool_frac,
    "depth": _depth,
    "boughs": lambda on: _near_mean(on.terrain.evergreen_frac, on),
    "fuel": lambda on: _near_mean(on.ground.share("firewood_frac"), on),
    "steepest": lambda on: on.terrain.slope_deg,
    "seen_tracks": lambda on: _seen_from(on, observers_on_tracks(on.ground)),
    "seen_route": lambda on: _seen_from(on, observers_on_route(on.plan, on.ground)),
    "seen_observers": _seen_observers,
    "seen_air": _seen_air,
    "sun": lambda on: read_sun_hours(on.plan, on.ground, watch=on.watch),
    "morning": _morning,
    "hazards": _hazards,
}
