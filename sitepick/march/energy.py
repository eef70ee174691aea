"""What moving costs: watts a person spends walking with a load, on a slope, over snow, in a sled's harness.

Pure functions of numbers or arrays. The formulas were measured on people who walk; skis and snowshoes
enter only by how deep they sink. They are planning figures, good to a tenth or two.
"""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray

KCAL_PER_WH = 0.8598
GRAVITY = 9.81
STANDING_W_PER_KG = 1.5  # first term of the walking formula: standing without a load

# Terrain coefficients: Soule & Goldman 1972, as collected.
TRACK_FACTOR = 1.1  # dirt road, grass
OPEN_FACTOR = 1.2  # light brush
STAND_FACTOR = 1.5  # heavy brush
BOG_FACTOR = 1.8
PACKED_SNOW_FACTOR = 1.6

FOOTPRINT_MAX_CM = 35.0  # deepest that the snow coefficient was measured at (Pandolf et al. 1976), from memory
ICE_DENSITY_KG_M3 = 1186.0  # what the sinkage rule presses snow towards (ERDC review, as published)
# Share of a boot's sinkage. Ours, from how much more ground they cover: snowshoes and skis float.
SINKAGE_SHARE = {"foot": 1.0, "snowshoe": 0.4, "ski": 0.25, "vehicle": 0.0}

LEVEL_DOWN_TO_PCT = -2.0  # ours: less steep than this a fall saves nothing
HARNESS_EFFICIENCY = 0.25  # share of what a body burns that pulls; common in physiology

_Numbers = npt.ArrayLike


def walking_w(
    body_kg: float, load_kg: _Numbers, speed_ms: _Numbers, grade_pct: _Numbers, terrain_factor: _Numbers
) -> DoubleArray:
    """Watts that a person spends walking with a load, level or uphill.

    Parameters
    ----------
    body_kg : float
        Without clothing, > 0.
    load_kg : array_like
        Clothing and all that is carried, >= 0.
    speed_ms : array_like
        Metres a second, >= 0.
    grade_pct : array_like
        Rise over run, %; below 0 the formula isn't valid, see `march_w`.
    terrain_factor : array_like
        1 on a blacktop road.

    Notes
    -----
    Pandolf, Givoni & Goldman 1977, J Appl Physiol 43:577.
    """
    load, speed, grade = (np.asarray(value, float) for value in (load_kg, speed_ms, grade_pct))
    total = body_kg + load
    standing = STANDING_W_PER_KG * body_kg + 2.0 * total * (load / body_kg) ** 2
    return np.asarray(standing + np.asarray(terrain_factor) * total * (1.5 * speed**2 + 0.35 * speed * grade))


def downhill_w(
    body_kg: float, load_kg: _Numbers, speed_ms: _Numbers, grade_pct: _Numbers, terrain_factor: _Numbers
) -> DoubleArray:
    """Watts on a fall by the correction as published; `grade_pct` below 0, with its sign.

    Notes
    -----
    Santee et al. 2001, 2003. The grade keeps its sign in both places: with its amount instead, walking
    down would cost twice what walking on the level does.
    """
    load, speed, grade = (np.asarray(value, float) for value in (load_kg, speed_ms, grade_pct))
    total = body_kg + load
    factor = np.asarray(terrain_factor)
    saved = factor * (grade * total * speed / 3.5 - total * (grade + 6.0) ** 2 / body_kg + (25.0 - speed**2))
    return np.asarray(walking_w(body_kg, load, speed, grade, factor) - saved)


def march_w(
    body_kg: float, load_kg: _Numbers, speed_ms: _Numbers, grade_pct: _Numbers, terrain_factor: _Numbers
) -> DoubleArray:
    """Watts that a person spends on the march, uphill, level or down; parameters as `walking_w`.

    Notes
    -----
    Ours, on top of both formulas: between 0 and -2 % as on the level; steeper the corrected formula, which
    saves most at about -10 % and rises again beyond -12 %; never below standing with the load, and never
    above walking *up* the same slope, where the correction runs away at a slow pace.
    """
    grade = np.asarray(grade_pct, float)
    up = walking_w(body_kg, load_kg, speed_ms, np.maximum(grade, 0.0), terrain_factor)
    climb = walking_w(body_kg, load_kg, speed_ms, np.abs(grade), terrain_factor)
    down = np.minimum(downhill_w(body_kg, load_kg, speed_ms, grade, terrain_factor), climb)
    standing = walking_w(body_kg, load_kg, 0.0, 0.0, 1.0)
    return np.maximum(np.where(grade <= LEVEL_DOWN_TO_PCT, down, up), standing)


def sinkage_cm(snow_cm: float, density_kg_m3: float, mode: str) -> float:
    """How deep a step sinks into unbroken snow.

    Parameters
    ----------
    snow_cm : float
        Depth of the snow.
    density_kg_m3 : float
        Of the snow.
    mode : str
        Out of `plan.model.MODES`.

    Notes
    -----
    A boot: depth times (1 - density / 1.186 g/cm³), ERDC review of load carriage. Snowshoes and skis take a
    share of it (ours).
    """
    return SINKAGE_SHARE[mode] * snow_cm * max(0.0, 1.0 - density_kg_m3 / ICE_DENSITY_KG_M3)


def snow_factor(footprint_cm: _Numbers) -> DoubleArray:
    """Terrain coefficient of unbroken snow by the depth of the footprint.

    Notes
    -----
    1.30 + 0.082 D, Pandolf et al. 1976, from memory; measured to about 35 cm and held there. A later cubic in
    the sinkage runs away beyond 15 cm and isn't used.
    """
    return np.asarray(1.30 + 0.082 * np.clip(np.asarray(footprint_cm, float), 0.0, FOOTPRINT_MAX_CM))


def harness_w(sled_kg: float, drag_frac: float, speed_ms: _Numbers, grade_pct: _Numbers) -> DoubleArray:
    """Watts that the bodies of a sled's team spend on pulling it, all of them together.

    Parameters
    ----------
    sled_kg : float
        With what lies on it.
    drag_frac : float
        Pull on the level against weight.
    speed_ms, grade_pct : array_like

    Notes
    -----
    Force = weight times (drag + rise), never below 0: downhill it is held, which the walking term covers. A
    quarter of what a body burns becomes work at the trace.
    """
    force_n = sled_kg * GRAVITY * np.maximum(0.0, drag_frac + np.asarray(grade_pct, float) / 100.0)
    return np.asarray(force_n * np.asarray(speed_ms, float) / HARNESS_EFFICIENCY)


def kcal(watts: _Numbers, minutes: _Numbers) -> float:
    """Food energy of some watts over some minutes, summed."""
    return float(np.sum(np.asarray(watts, float) * np.asarray(minutes, float)) / 60.0 * KCAL_PER_WH)
