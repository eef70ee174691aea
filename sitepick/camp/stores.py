"""Cooking, fire, stores, fuel, racks, sleds, the medical point: where each is handy and does no harm."""

from __future__ import annotations

import numpy as np

from sitepick.camp.choice import Rule, choose
from sitepick.camp.model import FACILITY_KINDS, Facility
from sitepick.camp.surroundings import Surroundings
from sitepick.grid import DoubleArray

CLEAR_M = 8.0  # ours: of a shelter's middle and of each other, so that doors and paths stay open
SLED_SLOPE_MAX_DEG = 6.0  # ours: a loaded sled stays where it is put
SLED_FROM_ENTRY_M = 60.0
RACKS_FROM_SHELTERS_M = 40.0
_UNDER_CROWNS_COST_M = 40.0
_IN_THE_OPEN_COST_M = 15.0
_SIDE_FRAC = 0.5  # ours: a metre nearer to what a place is also to be near, against one nearer to what it serves
_NAMES = dict(FACILITY_KINDS)

Found = tuple[Facility | None, tuple[str, ...]]


def cooking_place(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """One place where the unit cooks: in the middle, on the lee side of the shelters."""
    rules = around.plan.camp.facilities
    distances = (
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=rules.fire_from_shelters_m),
        Rule(text="from water", distance_m=around.from_water_m, least_m=rules.waste_from_water_m),
        *_from_kinds(around, places, ("latrine",), rules.latrine_from_cooking_m),
    )
    cost = around.from_m(*around.centre_m) + 10.0 * around.against_wind()
    return _placed(around, "cooking", places, distances, cost, "In the middle, its smoke away from the shelters.")


def fire_place(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """An open fire: clear of shelters and, where there is a gap, of crowns."""
    rules = around.plan.camp.facilities
    distances = (
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=rules.fire_from_shelters_m),
        *_from_kinds(around, places, ("fuel",), rules.fuel_from_fire_m),
    )
    crowns = np.nan_to_num(around.canopy_frac.astype(float), nan=1.0)
    cost = around.from_m(*around.centre_m) + 20.0 * around.against_wind() + _UNDER_CROWNS_COST_M * crowns
    reason = "Clear of shelters, on their lee side; lit only where local rules allow it, never under loaded branches."
    return _placed(around, "fire", places, distances, cost, reason)


def sled_park(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """Sleds and vehicles by the way in, on level ground under cover."""
    from_entry_m = around.from_m(*around.entry_m)
    distances = (
        Rule(text="from the way in", distance_m=from_entry_m, most_m=SLED_FROM_ENTRY_M),
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=CLEAR_M),
    )
    bare = 1.0 - np.nan_to_num(around.canopy_frac.astype(float))
    steep = np.maximum(around.slope_deg - SLED_SLOPE_MAX_DEG, 0.0)
    cost = from_entry_m + _IN_THE_OPEN_COST_M * bare + 20.0 * np.nan_to_num(steep.astype(float), nan=90.0)
    reason = "By the way in, on level ground, noses towards the way out."
    return _placed(around, "sled_park", places, distances, cost, reason)


def fuel_point(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """Fuel by itself: away from fire and shelters, yet not far to carry, on the side of the sleds."""
    rules = around.plan.camp.facilities
    distances = (
        *_from_kinds(around, places, ("fire", "cooking"), rules.fuel_from_fire_m),
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=rules.fuel_from_fire_m),
        Rule(text="from water", distance_m=around.from_water_m, least_m=rules.waste_from_water_m),
    )
    to_sleds_m = _from_kind(around, places, "sled_park")
    cost = around.from_shelters_m() + _SIDE_FRAC * to_sleds_m + 10.0 * around.against_wind()
    reason = "By itself, on the side of the sleds; no flame comes near."
    return _placed(around, "fuel", places, distances, cost, reason)


def stores_point(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """Stores apart from fire, between the sleds and the middle."""
    rules = around.plan.camp.facilities
    distances = (
        *_from_kinds(around, places, ("fire", "fuel"), rules.fuel_from_fire_m),
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=CLEAR_M),
    )
    cost = around.from_m(*around.centre_m) + _SIDE_FRAC * _from_kind(around, places, "sled_park")
    return _placed(around, "stores", places, distances, cost, "Near the middle, apart from fire and fuel.")


def racks(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """Skis and weapons at hand from the shelters, on the way out."""
    distances = (
        Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=CLEAR_M),
        Rule(text="from the nearest shelter", distance_m=around.from_shelters_m(), most_m=RACKS_FROM_SHELTERS_M),
    )
    cost = around.from_m(*around.entry_m) + _SIDE_FRAC * around.from_m(*around.centre_m)
    reason = "On the way out, upright so that snow doesn't bury them; each shelter keeps its own weapons as ordered."
    return _placed(around, "racks", places, distances, cost, reason)


def medical_point(around: Surroundings, places: tuple[Facility, ...]) -> Found:
    """Near the leader and the way in, so that a casualty is seen to and brought out."""
    shelters = [placed.shelter for placed in around.shelters]
    leaders = [k for k, shelter in enumerate(shelters) if shelter.is_leaders]
    at = tuple(around.shelters_m[leaders[0]]) if leaders else around.centre_m
    distances = (Rule(text="from shelters", distance_m=around.from_shelters_m(), least_m=CLEAR_M),)
    cost = around.from_m(float(at[0]), float(at[1])) + 0.3 * around.from_m(*around.entry_m)
    reason = "Beside the leader and towards the way in; a casualty lies warm in the nearest shelter."
    return _placed(around, "medical", places, distances, cost, reason)


def _placed(
    around: Surroundings, kind: str, places: tuple[Facility, ...], rules: tuple[Rule, ...], cost: DoubleArray,
    reason: str,
) -> Found:  # fmt: skip
    allowed = around.can_stand.copy()
    for place in places:
        allowed &= around.from_m(place.east_m, place.north_m) >= CLEAR_M
    choice = choose(around, allowed, rules, cost)
    name = _NAMES[kind]
    if choice is None:
        return None, (f"{name}: no ground round the camp serves.",)
    told = tuple(f"{name} can't keep the distance {broken}: no ground serves better." for broken in choice.broken)
    return Facility(kind=kind, name=name, east_m=choice.east_m, north_m=choice.north_m, reason=reason), told


def _from_kinds(
    around: Surroundings, places: tuple[Facility, ...], kinds: tuple[str, ...], least_m: float
) -> tuple[Rule, ...]:
    return tuple(
        Rule(text=f"from {place.name.lower()}", distance_m=around.from_m(place.east_m, place.north_m), least_m=least_m)
        for place in places
        if place.kind in kinds
    )


def _from_kind(around: Surroundings, places: tuple[Facility, ...], kind: str) -> DoubleArray:
    """Distance from the first place of a kind; from the way in where there is none."""
    place = next((place for place in places if place.kind == kind), None)
    at = around.entry_m if place is None else (place.east_m, place.north_m)
    return around.from_m(*at)
