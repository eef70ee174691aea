"""The further factors of a piece of ground: cold, concealment, sun, fuel, the way in, defence and the next morning."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray
from sitepick.sites.around import approach_rise_deg, view_frac
from sitepick.sites.reading import MOST_FRAC, PieceGround, Reader, Reading, known
from sitepick.sites.way_in import slowest_going, steepest_deg
from sitepick.terrain.slope_error import chance_within

HAZARD_FAR_M, DEPTH_FAR_M = 1000.0, 300.0  # farther off nobody asks


def _mean_of(name: str, sentence: Callable[[float], str], unknown: str) -> Reader:
    """A reader of the mean of a layer of shares; half of the ground must be known."""

    def read(on: PieceGround) -> Reading:
        values = on.of(on.layers[name])
        is_unknown = np.isnan(values)
        if np.mean(is_unknown) > MOST_FRAC:
            return Reading(value=None, low=0.0, high=1.0, worst=None, sentence=unknown)
        value = float(np.mean(values[~is_unknown]))
        return known(value, sentence(value))

    return read


def _cold_sentence(value: float) -> str:
    if value < 0.1:
        return "Cold air runs off."
    return f"Cold air gathers here on clear, calm nights: {100 * value:.0f} of 100 of the coldest hollow."


def _seen_sentence(who: str) -> Callable[[float], str]:
    def sentence(value: float) -> str:
        if value < 0.005:
            return f"Hidden from {who}, by the lie of the land and the trees on the map."
        return f"Seen from {100 * value:.0f} % of {who}."

    return sentence


def _depth(on: PieceGround) -> Reading:
    metres = on.of(on.layers["depth"])
    if np.mean(np.isnan(metres)) > MOST_FRAC:
        return Reading(
            value=None, low=0.0, high=DEPTH_FAR_M, worst=None, sentence="Whether it lies in forest is not known."
        )
    value = float(np.nanmedian(metres))
    return known(value, f"{value:.0f} m inside the forest's edge." if value > 0.0 else "It lies outside the forest.")


def _steepest(on: PieceGround) -> Reading:
    value = float(np.max(on.of(on.terrain.slope_deg)))
    return known(value, f"Its steepest cell falls {value:.1f}°.")


def _level_chance(on: PieceGround) -> Reading:
    limit_deg = on.plan.preferences.slope.limit_max
    if limit_deg is None:
        return known(1.0, "No limit of slope is set.")
    chances = chance_within(on.of(on.terrain.slope_30m_deg), on.of(on.terrain.slope_error_deg), limit_deg)
    if np.mean(np.isnan(chances)) > MOST_FRAC:
        return Reading(value=None, low=0.0, high=1.0, worst=None, sentence="How sure the slopes are is not known.")
    value = float(np.nanmean(chances))
    return known(
        value, f"With {100 * value:.0f} % chance the ground keeps {limit_deg:g}°, by the error of the heights."
    )


def _seen_air(on: PieceGround) -> Reading:
    green, crowns = on.of(on.terrain.evergreen_frac), on.of(on.terrain.canopy_frac)
    is_unknown = np.isnan(crowns)
    if np.mean(is_unknown) > MOST_FRAC:
        return Reading(value=None, low=0.0, high=1.0, worst=None, sentence="How dense the crowns are is not known.")
    crowns, green = crowns[~is_unknown], green[~is_unknown]
    low = float(np.mean(open_to_air_frac(np.where(np.isnan(green), crowns, green), crowns)))
    high = float(np.mean(open_to_air_frac(np.where(np.isnan(green), 0.0, green), crowns)))
    if high - low < 0.005:
        return known(high, f"{100 * high:.0f} % of the ground lies open to the air.")
    sentence = f"{100 * low:.0f} to {100 * high:.0f} % of the ground lies open to the air, by the kind of the trees."
    return Reading(value=None, low=low, high=high, worst=high, sentence=sentence)


def open_to_air_frac(evergreen_frac: npt.ArrayLike, canopy_frac: npt.ArrayLike) -> DoubleArray:
    """Share of the ground that a look from the air falls on; bare crowns hide half of what is below (ours)."""
    green, crowns = np.asarray(evergreen_frac), np.asarray(canopy_frac)
    return np.asarray(1.0 - np.clip(green + 0.5 * np.maximum(crowns - green, 0.0), 0.0, 1.0))


def _sun(on: PieceGround) -> Reading:
    hours = on.of(on.layers["sun"])
    if np.mean(np.isnan(hours)) > MOST_FRAC:
        return Reading(value=None, low=0.0, high=24.0, worst=None, sentence="How much sun there is is not known.")
    value = float(np.nanmean(hours))
    if value < 0.05:
        return known(value, "No direct sun that day.")
    return known(value, f"{value:.1f} h of direct sun over the relief that day, less under trees.")


def _way_slope(on: PieceGround) -> Reading:
    value = steepest_deg(on)
    if math.isnan(value):
        return Reading(value=None, low=90.0, high=0.0, worst=None, sentence="How steep the way in is is not known.")
    return known(value, f"The steepest bit of the way in from the route is {value:.1f}°.")


def _way_going(on: PieceGround) -> Reading:
    value = slowest_going(on)
    if math.isnan(value):
        slowest = on.plan.preferences.further.way_going.curve[-1][0]
        return Reading(value=None, low=1.0, high=slowest, worst=None, sentence="The going on the way in is not known.")
    return known(value, f"The slowest ground on the way in takes {value:.1f} times as long as open ground.")


def _seen_observers(on: PieceGround) -> Reading:
    if not on.plan.observers:
        return known(0.0, "No observer is marked.")
    return _seen_by_observers(on)


_seen_by_observers = _mean_of(
    "seen_observers",
    _seen_sentence("the marked observers"),
    "The marked observers stand outside the ground that was read.",
)


def _approaches(on: PieceGround) -> Reading:
    value = approach_rise_deg(on)
    if math.isnan(value):
        return Reading(
            value=None, low=-90.0, high=90.0, worst=None, sentence="How the ground lies around is not known."
        )
    if abs(value) < 0.5:
        return known(value, "The ground lies level with it all round, on the mean over 150 m.")
    side = "falls away from it" if value > 0.0 else "looks down on it"
    return known(value, f"All round, the ground {side} by {abs(value):.1f}° on the mean over 150 m.")


def _view(on: PieceGround) -> Reading:
    value = view_frac(on)
    if math.isnan(value):
        return Reading(value=None, low=0.0, high=1.0, worst=None, sentence="What is seen from its edge is not known.")
    return known(value, f"From its edge {100 * value:.0f} % of the ground within 300 m is in view.")


def _morning(on: PieceGround) -> Reading:
    factor, minutes = on.plan.preferences.further.morning, on.of(on.layers["morning"])
    limit_min = max(factor.curve[-1][0], factor.limit_max or 0.0)
    is_far = np.isnan(minutes)
    if np.mean(is_far) > MOST_FRAC:
        sentence = f"The way back to the route takes over {limit_min:.0f} min next morning."
        return Reading(value=None, low=limit_min, high=limit_min, worst=None, sentence=sentence)
    value = float(np.median(np.where(is_far, limit_min, minutes)))
    return known(value, f"Back on the route within {math.ceil(value)} min next morning.")


def _hazards(on: PieceGround) -> Reading:
    metres = on.of(on.layers["hazards"])
    if np.isnan(metres).all():
        return Reading(value=None, low=0.0, high=HAZARD_FAR_M, worst=None, sentence="Hazards near are not known.")
    value = float(np.nanmin(metres))
    if value >= HAZARD_FAR_M:
        return known(HAZARD_FAR_M, "No avalanche ground, dead forest or glacier is known within 1 km.")
    return known(value, f"Avalanche ground, dead forest or glacier lies {value:.0f} m away.")


FURTHER_READERS: dict[str, Reader] = {
    "cold": _mean_of("cold", _cold_sentence, "Whether cold air gathers here is not known."),
    "depth": _depth,
    "boughs": _mean_of(
        "boughs",
        lambda value: f"Evergreens cover {100 * value:.0f} % of the ground within 150 m.",
        "Whether there are boughs near is not known.",
    ),
    "fuel": _mean_of(
        "fuel",
        lambda value: f"Dead wood within 150 m: {100 * value:.0f} of 100 on the legend's scale.",
        "Whether there is fuel near is not known.",
    ),
    "steepest": _steepest,
    "level_chance": _level_chance,
    "seen_tracks": _mean_of(
        "seen_tracks",
        _seen_sentence("the places along mapped tracks and roads"),
        "No track or road is mapped: who passes is not known.",
    ),
    "seen_route": _mean_of(
        "seen_route", _seen_sentence("the places along the route"), "Whether the route sees it is not known."
    ),
    "seen_observers": _seen_observers,
    "seen_air": _seen_air,
    "sun": _sun,
    "way_slope": _way_slope,
    "way_going": _way_going,
    "approaches": _approaches,
    "view": _view,
    "morning": _morning,
    "hazards": _hazards,
}
