"""Latrines and waste: away from water, downwind, within a walk of those who use them."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from sitepick.camp.choice import Choice, Rule, choose
from sitepick.camp.model import Facility
from sitepick.camp.surroundings import Surroundings
from sitepick.camp.water_points import upstream_of
from sitepick.grid import DoubleArray, MaskArray

# What lying to the windward, or above the camp, costs in metres walked. Downwind counts more. Ours.
_WINDWARD_COST_M = 60.0
_ABOVE_COST_M = 4.0
_ENTRY_CLEAR_M = 30.0
_LATRINE_COUNT_MAX = 8
_WASTE_FROM_LATRINE_M = 12.0


def latrines(
    around: Surroundings, points: tuple[Facility, ...], pinned: tuple[Facility, ...] = ()
) -> tuple[tuple[Facility, ...], tuple[str, ...]]:
    """As many latrines as bring every shelter within the walk, each with its seats.

    Parameters
    ----------
    around : Surroundings
    points : tuple of Facility
        Water points and the common cooking place, where there are any.
    pinned : tuple of Facility
        Latrines that the user put somewhere: whoever is within a walk of one uses it.

    Returns
    -------
    tuple of Facility, tuple of str
        And a sentence for each rule that no ground keeps.
    """
    rules = around.plan.camp.facilities
    walks_m = np.stack([around.from_m(east_m, north_m) for east_m, north_m in around.shelters_m.tolist()])
    left = list(range(len(around.shelters)))
    found: list[Facility] = []
    told: list[str] = []
    for place in pinned:
        walk_m = np.hypot(*(around.shelters_m - (place.east_m, place.north_m)).T) / around.scale
        served = [k for k in left if walk_m[k] <= rules.latrine_walk_max_m]
        found.append(_with_seats(around, place, served))
        left = [k for k in left if k not in served]
    while left and len(found) < _LATRINE_COUNT_MAX:
        within = (walks_m[left] <= rules.latrine_walk_max_m).sum(axis=0)
        choice = _place(around, points, walks_m[left], within, taken=found)
        if choice is None:
            told.append("No ground round the camp serves for a latrine: all waste is carried out.")
            break
        served = [k for k in left if walks_m[k, choice.row, choice.col] <= rules.latrine_walk_max_m] or left
        name = _free_name(found) if found or len(served) < len(left) else "Latrine"
        reason = _reason(around, choice, walks_m[served, choice.row, choice.col])
        bare = Facility(kind="latrine", name=name, east_m=choice.east_m, north_m=choice.north_m, reason=reason)
        found.append(_with_seats(around, bare, served))
        told += [f"The latrine can't keep its distance {broken}: no ground serves better." for broken in choice.broken]
        left = [k for k in left if k not in served]
    return tuple(found), tuple(dict.fromkeys(told))


def waste_point(around: Surroundings, places: tuple[Facility, ...]) -> tuple[Facility | None, tuple[str, ...]]:
    """Where waste is gathered to be carried out: near the latrine, downwind, away from water and cooking."""
    rules = around.plan.camp.facilities
    latrine = next((place for place in places if place.kind == "latrine"), None)
    near_m = around.from_m(latrine.east_m, latrine.north_m) if latrine else around.from_m(*around.centre_m)
    allowed = around.can_stand & (near_m >= _WASTE_FROM_LATRINE_M)
    distances = (
        Rule(text="from water", distance_m=around.from_water_m, least_m=rules.waste_from_water_m),
        *_from_cooking(around, places, rules.waste_from_water_m),
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=rules.latrine_from_shelters_m / 2.0),
    )
    choice = choose(around, allowed, distances, near_m + _WINDWARD_COST_M / 2.0 * around.against_wind())
    if choice is None:
        return None, ()
    told = tuple(f"Waste can't keep its distance {broken}: no ground serves better." for broken in choice.broken)
    reason = "Near the latrine and away from water; everything gathered here leaves with the unit."
    place = Facility(kind="waste", name="Waste", east_m=choice.east_m, north_m=choice.north_m, reason=reason)
    return place, told


def _with_seats(around: Surroundings, place: Facility, served: list[int]) -> Facility:
    """A latrine with those who use it and its seats in its name."""
    shelters = [around.shelters[k].shelter for k in served]
    people = sum(shelter.people for shelter in shelters)
    seats = max(1, math.ceil(people / around.plan.camp.facilities.people_per_seat))
    name = f"{place.name}, {seats} seat{'s' * (seats != 1)}"
    return replace(place, name=name, serves=tuple(shelter.name for shelter in shelters))


def _free_name(taken: list[Facility]) -> str:
    """The first number that no other latrine carries."""
    names = {place.name.partition(",")[0] for place in taken}
    number = next(k for k in range(1, len(taken) + 2) if f"Latrine {k}" not in names)
    if "Latrine" in names and number == 1:
        number = 2
    return f"Latrine {number}"


def _place(
    around: Surroundings, points: tuple[Facility, ...], walks_m: DoubleArray, within: DoubleArray,
    *, taken: list[Facility],
) -> Choice | None:  # fmt: skip
    rules = around.plan.camp.facilities
    allowed = around.can_stand & ~_above_what_is_drunk(around, points)
    for other in taken:
        allowed = allowed & (around.from_m(other.east_m, other.north_m) >= rules.latrine_from_shelters_m)
    distances = (
        Rule(text="from water", distance_m=around.from_water_m, least_m=rules.latrine_from_water_m),
        *_from_cooking(around, points, rules.latrine_from_cooking_m),
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=rules.latrine_from_shelters_m),
        Rule(
            text="to the nearest of those who use it", distance_m=walks_m.min(axis=0), most_m=rules.latrine_walk_max_m
        ),
        Rule(text="from the way in", distance_m=around.from_m(*around.entry_m), least_m=_ENTRY_CLEAR_M),
    )
    cost = (
        walks_m.mean(axis=0)
        + _WINDWARD_COST_M * around.against_wind()
        + _ABOVE_COST_M * np.nan_to_num(np.clip(around.above_centre_m(), -10.0, 10.0))
        - 1e4 * within  # serving one more shelter comes before every comfort
    )
    return choose(around, allowed, distances, cost)


def _above_what_is_drunk(around: Surroundings, points: tuple[Facility, ...]) -> MaskArray:
    """Cells whose water runs past where water is drawn for drinking or cooking."""
    is_point = np.zeros(around.grid.shape, bool)
    for place in points:
        if place.kind in ("drinking_water", "cooking_water"):
            is_point |= around.from_m(place.east_m, place.north_m) <= 1.5 * around.grid.ground_cell_m
    return upstream_of(around, is_point) if is_point.any() else is_point


def _from_cooking(around: Surroundings, places: tuple[Facility, ...], least_m: float) -> tuple[Rule, ...]:
    return tuple(
        Rule(text="from cooking", distance_m=around.from_m(place.east_m, place.north_m), least_m=least_m)
        for place in places
        if place.kind == "cooking"
    )


def _reason(around: Surroundings, choice: Choice, walks_m: DoubleArray) -> str:
    against = float(around.against_wind()[choice.row, choice.col])
    side = "downwind of the camp, " if against < -0.5 else "across the wind from the camp, " if against < 0.5 else ""
    water_m = float(around.from_water_m[choice.row, choice.col])
    water = f"{water_m:.0f} m from water" if math.isfinite(water_m) else "no water near"
    text = f"{side}{water}, at most {float(walks_m.max()):.0f} m to walk."
    return text[0].upper() + text[1:]
