"""How fast the unit moves, by mode, trail, snow, load, sled and slope.

Speed is the level rate, less what snow, load and sled cost, divided by the slope's factor and by the cover's going
factor; in the dark it is a share of that. Level rates are a cold-region table recalled from memory, slopes go by a
published function; the user chooses and edits all of it (`plan.pace`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.march.functions import MINUTES_PER_KM, off_path_frac, own_level_kmh
from sitepick.plan.model import MarchSettings, Weather
from sitepick.plan.pace import MODE_PACES, ModePace, PaceSettings, mode_key

DOWNHILL_GAIN_MAX = 1.2  # ours: a column with loads goes down a hill no quicker than this against the level
LOAD_FRAC_MIN = 0.3  # ours: under any load that the plan takes
SLED_HEAD_KG = 30.0  # a full sled of 90 kg with three people at it
SINKING_MAX_CM = 100.0  # ours: whoever sinks to the hip wades, however deep the snow
PACKED_DENSITY_KG_M3 = 1186.0  # ERDC/CRREL review: snow trodden so far bears a boot

# Speed against the mode's rate on an unbroken trail, by how deep a boot sinks in. On foot: 3 km/h on snow, 2 over
# the ankle, 0.5 to the waist (winter timing card, 2018), and the middle of the planning table, 0.8, over the knee.
# Others: their rate holds for common subarctic snow and falls to the low end of the table's, to the hip (ours).
SINKING_FRAC: dict[str, tuple[tuple[float, ...], tuple[float, ...]]] = {
    "foot": ((5.0, 15.0, 25.0, 50.0, 80.0, 100.0), (1.0, 0.667, 0.5, 0.25, 0.16, 0.12)),
    "snowshoe": ((60.0, 100.0), (1.0, 0.667)),
    "ski": ((60.0, 100.0), (1.0, 0.5)),
    "vehicle": ((60.0, 100.0), (1.0, 0.5)),
    "tow": ((60.0, 100.0), (1.0, 0.5)),
}

_TABLE_HALF = 1024


@dataclass(frozen=True, slots=True, kw_only=True)
class Pace:
    """How a unit moves.

    Attributes
    ----------
    mode : str
        Out of `plan.model.MODES`.
    has_sled : bool
    unbroken_kmh, broken_kmh : float
        On level open ground by day, snow, load and sled counted.
    steepest_deg : float
        Steeper ground is a wall.
    function : str
        How slopes count, out of `plan.pace.FUNCTION_KEYS`.
    burden_frac : float
        What load and sled leave of the speed on the level; counted in already.
    sled_toil, sled_toil_tangent : float
        How much longer a sled takes uphill besides, in full from that slope on.
    night_frac : float
        Speed in the dark against that by day.
    """

    mode: str
    has_sled: bool
    unbroken_kmh: float
    broken_kmh: float
    steepest_deg: float
    function: str = "tobler"
    burden_frac: float = 1.0
    sled_toil: float = 1.0
    sled_toil_tangent: float = 0.08
    night_frac: float = 1.0


def pace_of(march: MarchSettings, weather: Weather) -> Pace:
    """How the unit moves, by the plan.

    Parameters
    ----------
    march : MarchSettings
    weather : Weather
        Its snow.

    Returns
    -------
    Pace

    Notes
    -----
    The user's own speed stands for the route's trail as the unit meets it, snow, load and sled included; other
    trails keep the mode's proportion to it. Load and sled count for people on their feet: a vehicle pulls both.
    """
    settings = march.pace
    key = mode_key(march.mode, settings)
    mode_pace: ModePace = getattr(settings, key)
    unbroken_kmh, broken_kmh = _level_kmh(mode_pace)
    unbroken_kmh *= sinking_frac(key, boot_sinking_cm(settings, weather))
    has_sled = march.has_sled and march.mode != "vehicle"
    burden = 1.0
    if march.mode != "vehicle":
        burden = load_frac(settings) * (sled_level_frac(settings) if has_sled else 1.0)
    if march.level_kmh is not None:
        share = march.level_kmh / (broken_kmh if trail_is_broken(march) else unbroken_kmh)
    else:
        share = burden
    share *= settings.fresh_frac
    return Pace(
        mode=march.mode,
        has_sled=has_sled,
        unbroken_kmh=unbroken_kmh * share,
        broken_kmh=broken_kmh * share,
        steepest_deg=min(mode_pace.steepest_deg, settings.sled_steepest_deg) if has_sled else mode_pace.steepest_deg,
        function=mode_pace.function,
        burden_frac=burden,
        sled_toil=_sled_toil(settings) if has_sled else 1.0,
        sled_toil_tangent=settings.sled_uphill_percent / 100.0,
        night_frac=settings.night_frac,
    )


def unladen_pace(march: MarchSettings, weather: Weather) -> Pace:
    """How people of the unit move without load, sled or vehicle, such as to fetch water."""
    if march.mode == "vehicle":
        on_foot = MarchSettings(depart=march.depart, mode="foot", pace=replace(march.pace, load_kg=0.0))
        return pace_of(on_foot, weather)
    pace = pace_of(march, weather)
    if not pace.has_sled and pace.burden_frac == 1.0:
        return pace
    mode_pace: ModePace = getattr(march.pace, march.mode)
    return replace(
        pace,
        has_sled=False,
        unbroken_kmh=pace.unbroken_kmh / pace.burden_frac,
        broken_kmh=pace.broken_kmh / pace.burden_frac,
        steepest_deg=mode_pace.steepest_deg,
        burden_frac=1.0,
        sled_toil=1.0,
    )


def breaking_pace(march: MarchSettings, weather: Weather) -> Pace:
    """How a party moves that breaks the trail ahead: with its loads, without sleds; by vehicle as the rest do."""
    if march.mode == "vehicle":
        return pace_of(march, weather)
    unladen, carried = unladen_pace(march, weather), load_frac(march.pace)
    return replace(
        unladen,
        unbroken_kmh=unladen.unbroken_kmh * carried,
        broken_kmh=unladen.broken_kmh * carried,
        burden_frac=carried,
    )


def usual_pace(mode: str) -> Pace:
    """How people move in a mode by its default rates, without sled."""
    mode_pace = MODE_PACES[mode]
    return Pace(
        mode=mode,
        has_sled=False,
        unbroken_kmh=mode_pace.unbroken_kmh,
        broken_kmh=mode_pace.broken_kmh,
        steepest_deg=mode_pace.steepest_deg,
        function=mode_pace.function,
    )


def trail_is_broken(march: MarchSettings) -> bool:
    """Whether the main body finds the route's trail broken: it was, or a lead party breaks it."""
    return march.trail_broken or march.pace.breaking == "lead_party"


def boot_sinking_cm(settings: PaceSettings, weather: Weather) -> float | None:
    """How deep a boot sinks in beside the trail; None where neither it nor the snow is known.

    Notes
    -----
    As measured, or h (1 - density / 1186 kg/m³) (ERDC/CRREL review of load carriage), at most 1 m.
    """
    if settings.sinking_cm is not None:
        return min(settings.sinking_cm, SINKING_MAX_CM)
    if weather.snow_cm is None:
        return None
    return min(weather.snow_cm * (1.0 - weather.snow_density_kg_m3 / PACKED_DENSITY_KG_M3), SINKING_MAX_CM)


def sinking_frac(key: str, sinking_cm: float | None) -> float:
    """What sinking in leaves of a mode's speed on an unbroken trail; 1 where it isn't known."""
    if sinking_cm is None:
        return 1.0
    return float(np.interp(sinking_cm, *SINKING_FRAC[key]))


def load_frac(settings: PaceSettings) -> float:
    """What the load on each back leaves of the speed.

    Notes
    -----
    From memory, FM 21-18: each 4.5 kg over 18 kg costs 2 km of the 24 that are marched in six hours.
    """
    over_kg = max(0.0, settings.told_load_kg - settings.load_free_kg)
    return max(LOAD_FRAC_MIN, 1.0 - settings.load_loss_frac * over_kg / 4.5)


def sled_level_frac(settings: PaceSettings) -> float:
    """What a sled leaves of the speed on the level, by what each of its team pulls.

    Notes
    -----
    Time grows with the weight a head; 0.7 of the speed at 30 kg, which is common practice for a full sled. From 18 to
    46 kg a head it stays within the 0.6 to 0.8 of common practice.
    """
    return 1.0 / (1.0 + (1.0 / settings.sled_frac - 1.0) * settings.sled_head_kg / SLED_HEAD_KG)


def _sled_toil(settings: PaceSettings) -> float:
    extra = settings.sled_frac / settings.sled_uphill_frac - 1.0
    return 1.0 + extra * settings.sled_head_kg / SLED_HEAD_KG


def _level_kmh(mode_pace: ModePace) -> tuple[float, float]:
    """Speed on an unbroken and on a broken trail, without snow, load and sled."""
    if mode_pace.level_from == "table":
        return mode_pace.unbroken_kmh, mode_pace.broken_kmh
    broken_kmh = own_level_kmh(mode_pace.function)
    share = off_path_frac(mode_pace.function)
    return broken_kmh * (mode_pace.unbroken_kmh / mode_pace.broken_kmh if share is None else share), broken_kmh


def slope_factor(pace: Pace, tangent: npt.ArrayLike) -> DoubleArray:
    """Time on a slope against the level; infinite where it is too steep.

    Parameters
    ----------
    pace : Pace
    tangent : array_like
        Rise over run along the way, up positive.

    Notes
    -----
    The shape is the chosen function's, but downhill gains at most a fifth (ours: a column with loads doesn't run).
    With a sled uphill, speed falls further, to half of that without a sled from 8 % on (common practice).
    """
    slope = np.asarray(tangent, float)
    shape = MINUTES_PER_KM[pace.function]
    factor = np.maximum(shape(slope) / shape(0.0), 1.0 / DOWNHILL_GAIN_MAX)
    factor = factor * np.interp(slope, [0.0, pace.sled_toil_tangent], [1.0, pace.sled_toil])
    steepest = math.tan(math.radians(pace.steepest_deg))
    return np.asarray(np.where(np.abs(slope) > steepest, np.inf, factor))


def minutes_per_km(
    pace: Pace, *, tangent: npt.ArrayLike, going: npt.ArrayLike = 1.0, is_broken: bool = False, is_dark: bool = False
) -> DoubleArray:
    """Minutes for one horizontal kilometre: the whole of the pace in one formula.

    Parameters
    ----------
    pace : Pace
    tangent : array_like
        Rise over run along the way, up positive.
    going : array_like
        The cover's going factor, 1 on open ground.
    is_broken, is_dark : bool
        On a broken trail or packed track; in the dark.
    """
    level_kmh = pace.broken_kmh if is_broken else pace.unbroken_kmh
    by_day = 60.0 / level_kmh * np.asarray(going, float) * slope_factor(pace, tangent)
    return np.asarray(by_day / (pace.night_frac if is_dark else 1.0))


def slope_table(pace: Pace, *, there_and_back: bool = False) -> FloatArray:
    """The slope's factor as a table over the tangent from -1 to 1, both included.

    With `there_and_back`, each move costs the way there and the same way back.
    """
    tangent = np.arange(-_TABLE_HALF, _TABLE_HALF + 1) / _TABLE_HALF
    factor = slope_factor(pace, tangent)
    return (factor + factor[::-1] if there_and_back else factor).astype(np.float32)
