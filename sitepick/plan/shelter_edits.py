"""Edits of the unit's shelters: pure functions from one plan to the next. Nobody is lost on the way."""

from __future__ import annotations

from dataclasses import replace

from sitepick.errors import SettingsError
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter, ShelterKind, own_kind, shelter_kind


def with_shelters(plan: Plan, shelters: tuple[Shelter, ...]) -> Plan:
    """The plan with other shelters; the unit has the people that they hold.

    Raises
    ------
    SettingsError
        The list doesn't add up.
    """
    people = sum(shelter.people for shelter in shelters)
    if shelters and people < 1:
        raise SettingsError("the shelters hold nobody", fix="give at least one person a place")
    return replace(plan, unit=replace(plan.unit, people=people if shelters else plan.unit.people, shelters=shelters))


def with_shelter_changed(plan: Plan, whose: str, /, **values: object) -> Plan:
    """The plan with values of one shelter changed; a new name is taken over by what is joined to it.

    Raises
    ------
    SettingsError
        It holds more people than it has places, or carries another's name.
    """
    changed = []
    for shelter in plan.unit.shelters:
        if shelter.name == whose:
            shelter = replace(shelter, **values)  # type: ignore[arg-type]
        elif "name" in values and shelter.joined_to == whose:
            shelter = replace(shelter, joined_to=str(values["name"]))
        changed.append(shelter)
    return with_shelters(plan, tuple(changed))


def with_shelter_added(plan: Plan, kind_key: str) -> Plan:
    """The plan with an empty shelter of a kind at the end of its list, in a section of its own."""
    kind = shelter_kind(kind_key, plan.unit.shelter_kinds)
    shelters = plan.unit.shelters
    names = {shelter.name.casefold() for shelter in shelters}
    sections = {shelter.section for shelter in shelters}
    label = "Tent" if kind.key.endswith("_tent") else f"{kind.label[0].upper()}{kind.label[1:]}"
    name = next(f"{label} {k}" for k in range(1, len(names) + 2) if f"{label} {k}".casefold() not in names)
    section = next(f"Section {k}" for k in range(1, len(sections) + 2) if f"Section {k}" not in sections)
    return with_shelters(plan, (*shelters, Shelter(name=name, section=section, people=0, kind=kind)))


def with_shelter_removed(plan: Plan, name: str) -> Plan:
    """The plan without one shelter; its people move to where places are free, their own section's shelters first.

    Raises
    ------
    SettingsError
        The others have too few places free.
    """
    gone = next(shelter for shelter in plan.unit.shelters if shelter.name == name)
    left = [shelter for shelter in plan.unit.shelters if shelter.name != name]
    free = sum(shelter.kind.places - shelter.people for shelter in left)
    if gone.people > free:
        raise SettingsError(
            f"{name} holds {_counted(gone.people, 'person', 'people')} and the others have "
            f"{_counted(free, 'place', 'places')} free",
            fix="add another shelter before you remove it",
        )
    homeless, moved = gone.people, {}
    for shelter in sorted(left, key=lambda one: (one.section != gone.section, one.is_leaders)):
        taken = min(homeless, shelter.kind.places - shelter.people)
        moved[shelter.name] = shelter.people + taken
        homeless -= taken
    shelters = tuple(
        replace(one, people=moved[one.name], joined_to="" if one.joined_to == name else one.joined_to) for one in left
    )
    return with_shelters(plan, shelters)


def with_own_kind_added(plan: Plan, label: str) -> Plan:
    """The plan with another kind of shelter of the user's own."""
    kinds = (*plan.unit.shelter_kinds, own_kind(label))
    return replace(plan, unit=replace(plan.unit, shelter_kinds=kinds))


def with_own_kind_changed(plan: Plan, key: str, /, **values: object) -> Plan:
    """The plan with values of one of the user's own kinds changed, and of every shelter of that kind.

    Raises
    ------
    SettingsError
        A value lies outside its limits, or someone would lose their place.
    """

    def changed(kind: ShelterKind) -> ShelterKind:
        return replace(kind, **values) if kind.key == key else kind  # type: ignore[arg-type]

    kinds = tuple(changed(kind) for kind in plan.unit.shelter_kinds)
    shelters = tuple(replace(one, kind=changed(one.kind)) if one.kind.key == key else one for one in plan.unit.shelters)
    return replace(plan, unit=replace(plan.unit, shelters=shelters, shelter_kinds=kinds))


def with_own_kind_removed(plan: Plan, label: str) -> Plan:
    """The plan without one of the user's own kinds.

    Raises
    ------
    SettingsError
        A shelter of the unit is of that kind.
    """
    users = [shelter.name for shelter in plan.unit.shelters if shelter.kind.key == label]
    if users:
        raise SettingsError(f"{users[0]} is a {label}", fix="make it another kind of shelter first")
    kinds = tuple(kind for kind in plan.unit.shelter_kinds if kind.key != label)
    return replace(plan, unit=replace(plan.unit, shelter_kinds=kinds))


def _counted(number: int, one: str, many: str) -> str:
    return f"{number or 'no'} {one if number == 1 else many}"
