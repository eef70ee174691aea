"""Shelters: the kinds there are, and the list a unit takes along."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sitepick.errors import SettingsError


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelterKind:
    """One kind of shelter.

    Attributes
    ----------
    key : str
        As the plan file names it.
    label : str
        As told to people.
    places : int
        People who can sleep in it.
    footprint_m : float
        Width across the ground it stands on.
    """

    key: str
    label: str
    places: int
    footprint_m: float


# Places and the ten-person tent's width: common practice (hexagonal plan about 5.3 m across).
SHELTER_KINDS: tuple[ShelterKind, ...] = (
    ShelterKind(key="ten_person_tent", label="ten-person tent", places=10, footprint_m=5.3),
    ShelterKind(key="five_person_tent", label="five-person tent", places=5, footprint_m=4.0),
    ShelterKind(key="lean_to", label="lean-to", places=4, footprint_m=4.0),
)


def shelter_kind(key: str) -> ShelterKind:
    """The kind with this key.

    Raises
    ------
    SettingsError
        There is none.
    """
    for kind in SHELTER_KINDS:
        if kind.key == key:
            return kind
    raise SettingsError(
        f"the shelter kind {key!r} is not known", fix=f"use one of {', '.join(kind.key for kind in SHELTER_KINDS)}"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Shelter:
    """One shelter of the unit.

    Attributes
    ----------
    name : str
        Unlike any other in the unit.
    section : str
        Who sleeps there.
    people : int
        How many of them.
    kind : ShelterKind
        What it is.
    is_leaders : bool
        The leader's own, laid out in the middle.
    """

    name: str
    section: str
    people: int
    kind: ShelterKind
    is_leaders: bool = False

    def __post_init__(self) -> None:
        if not 0 <= self.people <= self.kind.places:
            raise SettingsError(
                f"{self.name} is to hold {self.people} people and has {self.kind.places} places",
                fix="move people to another shelter",
            )


def shelters_for(people: int) -> tuple[Shelter, ...]:
    """The usual shelters of a unit: a ten-person tent for each ten, and a leader's over ten.

    Parameters
    ----------
    people : int
        Everyone, >= 1. Spread as evenly as the tents allow; the leader's tent is a ten-person
        tent that holds up to three, taken from the sections.
    """
    kind = shelter_kind("ten_person_tent")
    tent_count = math.ceil(people / kind.places)
    leader_count = min(3, people - tent_count) if people > kind.places else 0
    rest, spare = divmod(people - leader_count, tent_count)
    tents = [
        Shelter(
            name=f"Tent {number}", section=f"Section {number}", people=rest + (1 if number <= spare else 0), kind=kind
        )
        for number in range(1, tent_count + 1)
    ]
    if people > kind.places:
        tents.append(Shelter(name="Leader's tent", section="Leaders", people=leader_count, kind=kind, is_leaders=True))
    return tuple(tents)
