"""What a person must go and look at before a site is slept on."""

from __future__ import annotations

import math
from datetime import datetime

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece
from sitepick.sites.limits import is_near_dead_timber
from sitepick.sites.model import Measure
from sitepick.terrain.chill import frostbite
from sitepick.terrain.model import LAKE, WATER_KIND_NAMES, Terrain, is_to_fetch
from sitepick.terrain.slope_error import chance_within
from sitepick.terrain.water import THAW_C

AVALANCHE_NEAR_M = 300.0
WET_NEAR_M = 60.0
WATER_NEAR_M = 300.0  # running water nearer than this is what the camp will fetch from
TIMBER_NEAR_M = 90.0
LATE_MIN = 30.0  # common practice: arriving with less to spare leaves no room for a slip
SURE_FRAC = 0.8  # ours: with less of the site likely within the slope's limit, the heights' error is told
COLD_POOL_FRAC = 0.6  # ours: mean over the site past which the cold of the night is told
_WOODED_FRAC = 0.2
_THIN_FRAC = 0.9  # of a limit
_TELLING_BANDS = ("high", "very high", "severe", "extreme")


def site_cautions(
    piece: Piece, measures: tuple[Measure, ...], arrive: datetime, *, plan: Plan, ground: Ground, terrain: Terrain,
    march: March,
) -> tuple[Caution, ...]:  # fmt: skip
    """Hazards and gaps that belong to one site, the gravest first.

    Parameters
    ----------
    piece : Piece
    measures : tuple of Measure
    arrive : datetime
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    """
    return (
        *_avalanche(piece, plan, terrain),
        *_running_water(piece, plan, terrain),
        *_late(arrive, march),
        *_timber(piece, ground, terrain),
        *_wet(piece, plan, terrain),
        *_cold(plan, measures),
        *_cold_hollow(piece, terrain),
        *_thin_margins(measures),
        *_unsure_slope(piece, plan, terrain),
        *_unknown_leaf(measures),
    )


def _avalanche(piece: Piece, plan: Plan, terrain: Terrain) -> tuple[Caution, ...]:
    is_avalanche = terrain.is_avalanche_release | terrain.is_avalanche_runout
    nearest = nearest_of(piece, is_avalanche, terrain, most_m=AVALANCHE_NEAR_M)
    if nearest is None:
        return ()
    away_m, cell = nearest
    angle_deg = float(terrain.avalanche_angle_deg[cell])
    release = (
        ""
        if math.isnan(angle_deg)
        else f", below {area_words(float(terrain.avalanche_area_m2[cell]))} that can release, {angle_deg:.0f}° up"
    )
    return (
        Caution(
            kind="avalanche",
            text=f"Avalanche ground lies {_round_m(away_m)} m from here{release}. {plan.avalanche.day_words()} Read "
            "the slope and the bulletin, and move on if in doubt.",
        ),
    )


def area_words(area_m2: float) -> str:
    """An area of ground as a leader says it."""
    return f"{area_m2 / 10_000.0:.1f} ha" if area_m2 >= 5_000.0 else f"{round(area_m2, -2):.0f} m²"


def _running_water(piece: Piece, plan: Plan, terrain: Terrain) -> tuple[Caution, ...]:
    temperature_c = plan.weather.temperature_c
    if temperature_c is not None and temperature_c > THAW_C:
        return ()
    nearest = nearest_of(piece, is_to_fetch(terrain.water_kind), terrain, most_m=WATER_NEAR_M)
    if nearest is None or terrain.water_kind[nearest[1]] == LAKE:
        return ()
    name = WATER_KIND_NAMES[int(terrain.water_kind[nearest[1]])]
    return (
        Caution(
            kind="ice",
            text=f"The nearest water runs ({name}): its ice is thin and hollow in places, so keep off it and fetch "
            "from a firm bank.",
        ),
    )


def _late(arrive: datetime, march: March) -> tuple[Caution, ...]:
    spare_min = (march.camp_by - arrive).total_seconds() / 60.0
    if spare_min >= LATE_MIN:
        return ()
    return (
        Caution(
            kind="march",
            text=f"Arrival is only {max(0.0, math.floor(spare_min)):.0f} min before camp-by: a slower march ends in "
            "the dark, so name a nearer place to fall back on.",
        ),
    )


def _timber(piece: Piece, ground: Ground, terrain: Terrain) -> tuple[Caution, ...]:
    is_dead = is_near_dead_timber(ground, 0.0)
    away_m = distance_to_m(piece, is_dead, terrain, most_m=TIMBER_NEAR_M)
    if away_m is not None:
        return (
            Caution(
                kind="timber",
                text=f"Burnt or dead forest stands {_round_m(away_m)} m from here: keep two tree heights from every "
                "dead tree.",
            ),
        )
    if float(np.mean(np.nan_to_num(terrain.canopy_frac[piece.index]))) < _WOODED_FRAC:
        return ()
    return (
        Caution(
            kind="timber",
            text="Look up before pitching: no shelter under dead, leaning or snow-loaded trees and branches.",
        ),
    )


def _wet(piece: Piece, plan: Plan, terrain: Terrain) -> tuple[Caution, ...]:
    if distance_to_m(piece, terrain.is_wet, terrain, most_m=WET_NEAR_M) is None:
        return ()
    firm = "try the ground with a pole" if plan.weather.snow_cm == 0.0 else "probe under the snow"
    return (
        Caution(kind="water", text=f"Bog or ground that floods is close by: {firm}, and expect colder air low down."),
    )


def _cold(plan: Plan, measures: tuple[Measure, ...]) -> tuple[Caution, ...]:
    wind_kmh, temperature_c = plan.weather.mean_wind_kmh, plan.weather.temperature_c
    share = next(measure.value for measure in measures if measure.name == "wind")
    if wind_kmh is None or temperature_c is None or share is None:
        return ()
    frost = frostbite(temperature_c, share * wind_kmh)
    if frost.band not in _TELLING_BANDS:
        return ()
    return (
        Caution(kind="cold", text=f"Risk from cold at the shelters is {frost.band}: {frost.text}; watch each other."),
    )


def _cold_hollow(piece: Piece, terrain: Terrain) -> tuple[Caution, ...]:
    pooled = terrain.cold_pool_frac[piece.index]
    is_known = np.isfinite(pooled)
    if not is_known.any() or float(np.mean(pooled[is_known])) <= COLD_POOL_FRAC:
        return ()
    return (
        Caution(
            kind="cold",
            text="Cold air gathers here on clear, calm nights: expect it colder than the forecast.",
        ),
    )


def _thin_margins(measures: tuple[Measure, ...]) -> tuple[Caution, ...]:
    thin = []
    for measure in measures:
        if measure.value is None or measure.name == "room":
            continue
        high, low = measure.limit_max, measure.limit_min
        is_high = high is not None and 0.0 < high * _THIN_FRAC < measure.value
        if is_high or (low is not None and low > 0.0 and measure.value < low / _THIN_FRAC):
            thin.append(measure.label)
    if not thin:
        return ()
    return (Caution(kind="limit", text=f"Close to the limit by {' and '.join(thin)}: check it on the ground first."),)


def _unsure_slope(piece: Piece, plan: Plan, terrain: Terrain) -> tuple[Caution, ...]:
    limit_deg = plan.preferences.slope.limit_max
    if limit_deg is None:
        return ()
    error_deg = terrain.slope_error_deg[piece.index]
    chance = float(np.mean(chance_within(terrain.slope_30m_deg[piece.index], error_deg, limit_deg)))
    if not chance < SURE_FRAC:
        return ()
    return (
        Caution(
            kind="data",
            text=f"The heights tell slopes here to within {float(np.median(error_deg)):.1f}° or so: only "
            f"{100 * chance:.0f} % of the site is likely to be within {limit_deg:g}°, so look at the ground first.",
        ),
    )


def _unknown_leaf(measures: tuple[Measure, ...]) -> tuple[Caution, ...]:
    forest = next(measure for measure in measures if measure.name == "forest")
    if forest.value is not None:
        return ()
    return (
        Caution(
            kind="data",
            text="Whether the trees here keep their needles is not known: bare trees give little shelter and no roof.",
        ),
    )


def distance_to_m(piece: Piece, is_there: MaskArray, terrain: Terrain, *, most_m: float) -> float | None:
    """Ground distance from a piece to the nearest cell of a mask; None beyond so many metres."""
    nearest = nearest_of(piece, is_there, terrain, most_m=most_m)
    return None if nearest is None else nearest[0]


def nearest_of(
    piece: Piece, is_there: MaskArray, terrain: Terrain, *, most_m: float
) -> tuple[float, tuple[int, int]] | None:
    """Ground distance from a piece to the nearest cell of a mask, and that cell; None beyond so many metres."""
    cell_m = terrain.grid.ground_cell_m
    reach = math.ceil(most_m / cell_m) + 1
    top, left = np.maximum(piece.cells.min(axis=0) - reach, 0)
    bottom, right = piece.cells.max(axis=0) + reach + 1
    rows, cols = np.nonzero(is_there[top:bottom, left:right])
    if not rows.size:
        return None
    mask, piece_top, piece_left = piece.mask()
    edge_rows, edge_cols = np.nonzero(mask)
    best, cell = math.inf, (0, 0)
    for row, col in zip(edge_rows + piece_top - top, edge_cols + piece_left - left, strict=True):
        away = (rows - row) ** 2 + (cols - col) ** 2
        k = int(np.argmin(away))
        if away[k] < best:
            best, cell = float(away[k]), (int(rows[k] + top), int(cols[k] + left))
    away_m = math.sqrt(best) * cell_m
    return (away_m, cell) if away_m <= most_m else None


def _round_m(distance_m: float) -> str:
    return f"{max(10.0, round(distance_m, -1)):.0f}"
