"""What a piece of ground is worth as a camp, factor by factor."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray
from sitepick.march.model import March
from sitepick.plan.factor import Factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import Plan
from sitepick.sites.further import FURTHER_READERS
from sitepick.sites.model import Measure
from sitepick.sites.outline import middle_of
from sitepick.sites.reading import MOST_FRAC, PieceGround, Reader, Reading, known, to_fetch_in
from sitepick.terrain.chill import wind_chill_c
from sitepick.terrain.melt import USUAL_SNOW_C, melting_for
from sitepick.terrain.model import water_name
from sitepick.terrain.slope_error import chance_within

_WIND_SHARE_MAX = 1.5  # the most that relief can make of the open wind


def _forest(on: PieceGround) -> Reading:
    evergreen, canopy = on.of(on.terrain.evergreen_frac), on.of(on.terrain.canopy_frac)
    is_unknown = np.isnan(evergreen)
    if np.mean(is_unknown) <= MOST_FRAC:
        value = float(np.mean(evergreen[~is_unknown]))
        return known(value, forest_sentence(value))
    most = np.where(is_unknown, np.where(np.isnan(canopy), 1.0, canopy), evergreen)
    high = float(np.mean(most))
    return Reading(
        value=None,
        low=float(np.mean(np.where(is_unknown, 0.0, evergreen))),
        high=high,
        worst=None,
        sentence=f"Trees cover up to {100 * high:.0f} % of the ground; whether they are evergreen is not known.",
    )


def forest_sentence(value: float) -> str:
    """A share of evergreen crowns in words."""
    if value < 0.005:
        return "No evergreens on it."
    return f"Evergreen crowns over {100 * value:.0f} % of the ground."


def _slope(on: PieceGround) -> Reading:
    slopes = on.of(on.terrain.slope_30m_deg)
    value, worst = float(np.mean(slopes)), float(np.max(slopes))
    sentence = f"The ground falls {value:.1f}° on the mean and {worst:.1f}° at its steepest"
    limit_deg = on.plan.preferences.slope.limit_max
    if limit_deg is not None:
        chance = np.mean(chance_within(slopes, on.of(on.terrain.slope_error_deg), limit_deg))
        if not np.isnan(chance):
            sentence += f"; {100 * chance:.0f} % of it keeps {limit_deg:g}° by the errors of the heights"
    return known(value, f"{sentence}.", worst=worst)


def _wind(on: PieceGround) -> Reading:
    share, worst = on.of(on.terrain.wind_share), on.of(on.terrain.wind_share_worst)
    is_unknown = np.isnan(share)
    if np.mean(is_unknown) > MOST_FRAC:
        return Reading(
            value=None, low=0.0, high=_WIND_SHARE_MAX, worst=None, sentence="How much wind gets in is not known."
        )
    value = float(np.mean(share[~is_unknown]))
    return known(value, wind_sentence(on.plan, value), worst=None if np.isnan(worst).all() else float(np.nanmax(worst)))


def wind_sentence(plan: Plan, share: float) -> str:
    """A share of the open wind in words, with its chill where the weather is known."""
    wind_kmh, temperature_c = plan.weather.mean_wind_kmh, plan.weather.temperature_c
    if wind_kmh is None:
        return f"{100 * share:.0f} % of the open wind reaches the shelters."
    text = f"{share * wind_kmh:.0f} of {wind_kmh:.0f} km/h reaches the shelters"
    if temperature_c is None:
        return f"{text}."
    chill_c = f"{wind_chill_c(temperature_c, share * wind_kmh):.0f}".replace("-", "−")
    return f"{text}; it feels like {chill_c} °C there."


def _water(on: PieceGround) -> Reading:
    minutes = on.of(on.water_min)
    is_far = np.isnan(minutes)
    if np.mean(is_far) > MOST_FRAC:
        limit_min = on.water_limit_min
        return Reading(
            value=None, low=limit_min, high=limit_min, worst=None,
            sentence=f"None within {_span_words(limit_min)} there and back{_instead_words(on.plan)}",
        )  # fmt: skip
    value = float(np.median(np.where(is_far, on.water_limit_min, minutes)))
    return known(value, f"{_nearest_water(on)}, {max(1.0, value):.0f} min there and back.")


def _instead_words(plan: Plan) -> str:
    """What to do where no water is in reach, as an ending for a sentence."""
    weather = plan.weather
    if weather.snow_cm == 0.0:
        return ", and no snow to melt: carry it from the last water on the way."
    melting = melting_for(plan.unit.people, weather.snow_density_kg_m3, weather.temperature_c)
    cold = f" (snow at {USUAL_SNOW_C:.0f} °C)".replace("-", "−") if weather.temperature_c is None else ""
    return (
        f": melt snow, {_litres(melting.snow_l)} for {_litres(melting.water_l)} of water a day, and carry the fuel, "
        f"{_litres(melting.melt_fuel_l)} of white gas to melt it or {_litres(melting.boil_fuel_l)} to boil it{cold}."
    )


def _litres(volume_l: float) -> str:
    return f"{volume_l:.0f} L" if volume_l >= 10.0 else f"{volume_l:.1f} L"


def _span_words(minutes: float) -> str:
    return "an hour" if minutes == 60.0 else f"{minutes:.0f} min"


def _nearest_water(on: PieceGround) -> str:
    """What kind of water lies nearest, as the map tells."""
    kind = on.terrain.water_kind
    row, col = (int(middle) for middle in np.rint(on.piece.cells.mean(axis=0)))
    reach = 8
    while True:
        top, left = max(0, row - reach), max(0, col - reach)
        window = to_fetch_in(on.terrain, (slice(top, row + reach + 1), slice(left, col + reach + 1)))
        rows, cols = np.nonzero(window)
        if rows.size or (window.shape == kind.shape):
            break
        reach *= 2
    if not rows.size:
        return "Water"
    away = np.hypot(rows + top - row, cols + left - col)
    nearest = int(np.argmin(away))
    name = water_name(int(kind[rows[nearest] + top, cols[nearest] + left]))
    return name[0].upper() + name[1:]


def _room(on: PieceGround) -> Reading:
    spare = on.piece.capacity - on.need_count
    if spare == 0:
        sentence = "Just room for the unit and no more."
    elif spare < 0:
        sentence = f"Room for {-spare} shelter{'s' * (spare != -1)} fewer than needed."
    else:
        sentence = f"Room for {spare} more shelter{'s' * (spare != 1)} than needed."
    return known(float(spare), sentence)


def progress_frac(march: March, station: npt.NDArray[np.int32]) -> FloatArray:
    """How much of the day's reach along the route lies behind at stations of it, 0-1; NaN where there is none (-1)."""
    along_m = (march.station_distance_m / max(march.reach_along_route_m, 1.0)).astype(np.float32)
    return np.where(station >= 0, np.minimum(along_m[station], np.float32(1.0)), np.float32(np.nan))


def _progress(on: PieceGround) -> Reading:
    value = float(np.nanmedian(progress_frac(on.march, on.march.leave_station[on.piece.index])))
    return known(value, f"It lies at {100 * value:.0f} % of the way that can be made today.")


def _detour(on: PieceGround) -> Reading:
    """At the middle of the site, where its arrival is told too."""
    value = float(on.march.detour_min[middle_of(on.piece.cells)])
    if math.isnan(value):
        value = float(np.nanmedian(on.of(on.march.detour_min)))
    if value < 1.0:
        return known(value, "It lies on the route.")
    return known(value, f"{value:.0f} min off the route, one way.")


READERS: dict[str, Reader] = {
    "forest": _forest,
    "slope": _slope,
    "wind": _wind,
    "water": _water,
    "room": _room,
    "progress": _progress,
    "detour": _detour,
    **FURTHER_READERS,
}


def score_frac(factor: Factor, value: float) -> float:
    """The score 0-1 of a measure on a factor's curve."""
    measures, scores = zip(*factor.curve, strict=True)
    return float(np.interp(value, measures, scores))


def score_bounds(factor: Factor, low: float, high: float) -> tuple[float, float]:
    """Lowest and highest score between two measures; curves never turn back, so both lie at the ends."""
    ends = (score_frac(factor, low), score_frac(factor, high))
    return min(ends), max(ends)


def is_within(factor: Factor, reading: Reading) -> bool:
    """Whether a reading keeps a factor's limits; what isn't known doesn't."""
    if factor.limit_min is not None and not (reading.value is not None and reading.value >= factor.limit_min):
        return False
    if factor.limit_max is None:
        return True
    return reading.worst is not None and reading.worst <= factor.limit_max


def measure_piece(on: PieceGround) -> tuple[Measure, ...]:
    """Every factor of a piece that the plan asks for, in the order they are told; weights sum to 1."""
    factors = on.plan.preferences.measured_factors()
    whole = sum(factor.weight for _, factor in factors)
    measures = []
    for name, factor in factors:
        words, reading = FACTOR_WORDS[name], READERS[name](on)
        score, score_high = score_bounds(factor, reading.low, reading.high)
        measures.append(
            Measure(
                name=name,
                label=words.label,
                value=reading.value,
                unit=words.unit,
                score=score,
                score_high=score_high,
                weight=factor.weight / whole,
                limit_min=factor.limit_min,
                limit_max=factor.limit_max,
                within_limit=is_within(factor, reading),
                sentence=reading.sentence,
            )
        )
    return tuple(measures)
