"""Everything a camp needs besides shelters, each placed after those it must keep away from."""

from __future__ import annotations

from collections.abc import Callable

from sitepick.camp.latrine import latrines, waste_point
from sitepick.camp.model import FACILITY_KINDS, Facility
from sitepick.camp.stores import (
    Found,
    cooking_place,
    fire_place,
    fuel_point,
    medical_point,
    racks,
    sled_park,
    stores_point,
)
from sitepick.camp.surroundings import Surroundings
from sitepick.camp.water_points import water_points
from sitepick.caution import Caution

Placer = Callable[[Surroundings, tuple[Facility, ...]], Found]


def place_facilities(
    around: Surroundings, pinned: tuple[Facility, ...] = ()
) -> tuple[tuple[Facility, ...], tuple[Caution, ...]]:
    """Place water points, latrines and the rest round the shelters.

    Parameters
    ----------
    around : Surroundings
    pinned : tuple of Facility
        Put there by the user: they stay, and the rest keeps its distances from them.

    Returns
    -------
    tuple of Facility, tuple of Caution
        In the order of `FACILITY_KINDS`; a caution for each distance that no ground keeps.
    """
    rules = around.plan.camp.facilities
    by_hand = {place.kind for place in pinned}
    places = pinned
    told: list[str] = []
    drawn = next((place for place in pinned if place.kind == "drinking_water"), None)
    places += tuple(place for place in water_points(around, drawn) if place.kind not in by_hand)
    if rules.has_common_cooking:
        places = _added("cooking", cooking_place, around, places, told)
    others = tuple(place for place in places if place.kind != "latrine")
    found, sentences = latrines(around, others, tuple(place for place in pinned if place.kind == "latrine"))
    places, told = others + found, told + list(sentences)
    placers: list[tuple[str, Placer]] = [("waste", waste_point)]
    if rules.has_open_fire:
        placers.append(("fire", fire_place))
    placers += [
        ("sled_park", sled_park), ("fuel", fuel_point), ("stores", stores_point), ("racks", racks),
        ("medical", medical_point),
    ]  # fmt: skip
    for kind, placer in placers:
        places = _added(kind, placer, around, places, told)
    order = [kind for kind, _ in FACILITY_KINDS]
    ranked = tuple(sorted(places, key=lambda place: order.index(place.kind)))
    return ranked, tuple(Caution(kind="camp", text=text) for text in dict.fromkeys(told))


def _added(
    kind: str, placer: Placer, around: Surroundings, places: tuple[Facility, ...], told: list[str]
) -> tuple[Facility, ...]:
    if any(place.kind == kind for place in places):
        return places
    place, sentences = placer(around, places)
    told += sentences
    return places if place is None else (*places, place)
