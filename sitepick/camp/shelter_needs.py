"""What a kind of shelter needs of the ground and the snow, and where that isn't so."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sitepick.camp.model import PlacedShelter
from sitepick.camp.places import from_water_m
from sitepick.caution import Caution
from sitepick.grid import DoubleArray, MaskArray
from sitepick.plan.model import Plan
from sitepick.terrain.model import Terrain

TREES_FROM_CANOPY_FRAC = 0.15  # ours: two crowns 3 m across in a cell of 10 m


def has_trees(terrain: Terrain, places_m: DoubleArray) -> MaskArray:
    """At which places two trees stand close enough to hang a shelter between, as far as the cover tells.

    Parameters
    ----------
    terrain : Terrain
    places_m : float64 array of shape (count, 2)
        Grid coordinates.
    """
    cells = [terrain.grid.cell_at(east_m, north_m) for east_m, north_m in places_m.tolist()]
    canopy = np.array([terrain.canopy_frac[cell] for cell in cells])
    return np.asarray(np.nan_to_num(canopy, nan=0.0) >= TREES_FROM_CANOPY_FRAC, bool)


def need_cautions(plan: Plan, terrain: Terrain, placed: Sequence[PlacedShelter]) -> tuple[Caution, ...]:
    """What the kinds of shelter need and don't find, or what isn't known of it.

    Parameters
    ----------
    plan : Plan
    terrain : Terrain
    placed : sequence of PlacedShelter
    """
    told = _of_joined(placed)
    told += _of_streams(plan, terrain, placed)
    told += _of_snow(plan, placed)
    told += _of_trees(plan, terrain, placed)
    if any(one.shelter.kind.key == "vehicle" for one in placed):
        text = "Nobody sleeps in a vehicle while its engine or a heater without a flue runs: the fumes kill unnoticed."
        told.append(Caution(kind="fire", text=text))
    return tuple(told)


def _of_joined(placed: Sequence[PlacedShelter]) -> list[Caution]:
    """Of those that were to be joined and stand apart."""
    at = {one.shelter.name: one for one in placed}
    told = []
    for one in placed:
        other = at.get(one.shelter.joined_to)
        if other is not None and not one.touches:
            by_hand = one.is_pinned and other.is_pinned
            why = "are to be joined, and were put apart by hand" if by_hand else "find room only apart from each other"
            told.append(Caution(kind="camp", text=f"{_named([other.shelter.name, one.shelter.name])} {why}."))
    return told


def _of_streams(plan: Plan, terrain: Terrain, placed: Sequence[PlacedShelter]) -> list[Caution]:
    clear_m = plan.preferences.water_clear_m
    near = []
    for one in placed:
        away_m = float(from_water_m((1, 1), terrain.grid.cell_at(one.east_m, one.north_m), plan, terrain)[0, 0])
        if away_m < clear_m:
            near.append(one.shelter.name)
    if not near:
        return []
    text = (
        f"{_named(near)} {_verb(near, 'stand')} less than {clear_m:.0f} m from a stream or brook: look where it runs, "
        "and move up from it where there is room."
    )
    return [Caution(kind="water", text=text)]


def _of_snow(plan: Plan, placed: Sequence[PlacedShelter]) -> list[Caution]:
    snow_cm = plan.weather.snow_cm
    groups: dict[tuple[float, bool], list[str]] = {}
    for one in placed:
        kind = one.shelter.kind
        if kind.needs_snow_cm > 0.0:
            groups.setdefault((kind.needs_snow_cm, kind.needs_drift), []).append(one.shelter.name)
    told = []
    for (need_cm, is_drift), names in groups.items():
        if snow_cm is not None and snow_cm >= need_cm:
            continue
        what = "a drift of" if is_drift else "packed snow of"
        known = "how deep it lies isn't known" if snow_cm is None else f"the plan tells {snow_cm:.0f} cm on open ground"
        where = "find and probe a drift in the lee" if is_drift else "probe for deeper snow near the mark"
        text = f"{_named(names)} {_verb(names, 'need')} {what} {need_cm:.0f} cm or more, and {known}: {where}, "
        told.append(Caution(kind="snow", text=text + "or take another kind of shelter along."))
    if groups:
        # From memory: field manuals on snow shelters.
        text = (
            "Shelters of snow: a roof of 30 cm or more, two vents kept open all night, a shovel inside, the roof "
            "marked so that nobody walks on it."
        )
        told.append(Caution(kind="snow", text=text))
    return told


def _of_trees(plan: Plan, terrain: Terrain, placed: Sequence[PlacedShelter]) -> list[Caution]:
    wanting = [one for one in placed if one.shelter.kind.needs_trees]
    if not wanting:
        return []
    places_m = np.array([(one.east_m, one.north_m) for one in wanting])
    lacking = [one.shelter.name for one, has in zip(wanting, has_trees(terrain, places_m), strict=True) if not has]
    told = []
    if lacking:
        text = (
            f"{_named(lacking)} {_verb(lacking, 'need')} two trees to hang between, and the map shows none at the "
            "mark: look for some near by, or bring poles."
        )
        told.append(Caution(kind="camp", text=text))
    roofed = [one.shelter.name for one in wanting if one.shelter.kind.key == "lean_to"]
    if roofed and not plan.camp.work.may_cut_boughs:
        text = f"No boughs may be cut by this plan: bring a tarpaulin for the roof of {_named(roofed)}."
        told.append(Caution(kind="camp", text=text))
    return told


def _named(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _verb(names: Sequence[str], verb: str) -> str:
    return f"{verb}s" if len(names) == 1 else verb
