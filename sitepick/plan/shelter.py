"""Shelters: the kinds there are, and the list a unit takes along."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

OWN_KIND_COUNT_MAX = 20
SHELTER_COUNT_MAX = 400
NAME_LENGTH_MAX = 100


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelterKind:
    """One kind of shelter.

    Attributes
    ----------
    key : str
        As the plan file names it; the user's own kinds carry their label.
    label : str
        As told to people.
    places : int
        People who can sleep in it.
    footprint_m : float
        Width across the ground it stands on.
    pitching_min : float or None
        Until it is up; None: by the rule for its kind.
    needs_snow_cm : float
        Depth it needs; 0: none.
    needs_drift : bool
        Whether that is the depth of a drift rather than of the snow on open ground.
    needs_trees : bool
        Two trees to hang it between.
    """

    key: str
    label: str
    places: int = setting(label="places", low=1, high=60, help="People who can sleep in one.")
    footprint_m: float = setting(label="width", unit="m", low=0.5, high=20.0, help="Across the ground it stands on.")
    pitching_min: float | None = setting(
        None, label="time to put one up", unit="min", low=0.0, high=480.0, help="Leave empty for a tent's."
    )
    needs_snow_cm: float = setting(0.0, label="snow it needs", unit="cm", low=0.0, high=1000.0, help="0: none.")
    needs_drift: bool = False
    needs_trees: bool = False

    def __post_init__(self) -> None:
        for text in (self.key, self.label):
            check_name(text, "a kind of shelter")
        try:
            check_settings(self)
        except SettingsError as fault:
            raise SettingsError(f"{self.label}: {fault.what}", fix=fault.fix) from fault


def check_name(text: str, whose: str) -> None:
    """Check a name that people read on paper.

    Raises
    ------
    SettingsError
        It is empty or too long, holds signs that don't print, or begins or ends with a blank.
    """
    if not text.strip():
        raise SettingsError(f"{whose} has no name", fix="give it a name")
    if len(text) > NAME_LENGTH_MAX:
        raise SettingsError(f"the name {text[:20]!r}... is longer than {NAME_LENGTH_MAX} letters", fix="shorten it")
    if not text.isprintable() or text != text.strip():
        raise SettingsError(
            f"the name {text[:20]!r} holds signs that don't print, or begins or ends with a blank",
            fix="write it in plain letters",
        )


# Places and the ten-person tent's width: common practice (hexagonal plan about 5.3 m across). Depths that the snow
# shelters need: field manuals, from memory. The other figures are ours.
SHELTER_KINDS: tuple[ShelterKind, ...] = (
    ShelterKind(key="ten_person_tent", label="ten-person tent", places=10, footprint_m=5.3),
    ShelterKind(key="five_person_tent", label="five-person tent", places=5, footprint_m=4.0),
    ShelterKind(key="lean_to", label="lean-to", places=4, footprint_m=4.0, needs_trees=True),
    ShelterKind(key="snow_trench", label="snow trench", places=2, footprint_m=3.0, needs_snow_cm=100.0),
    ShelterKind(key="snow_cave", label="snow cave", places=4, footprint_m=4.0, needs_snow_cm=200.0, needs_drift=True),
    ShelterKind(key="vehicle", label="vehicle", places=2, footprint_m=6.0),
)


def shelter_kind(key: str, own: Sequence[ShelterKind] = ()) -> ShelterKind:
    """The kind with this key, the user's own kinds among them.

    Raises
    ------
    SettingsError
        There is none.
    """
    for kind in (*SHELTER_KINDS, *own):
        if kind.key == key:
            return kind
    known = ", ".join(kind.key for kind in (*SHELTER_KINDS, *own))
    raise SettingsError(f"the shelter kind {key!r} is not known", fix=f"use one of {known}")


def own_kind(label: str, **values: object) -> ShelterKind:
    """A kind of the user's own, as large as a small tent where nothing else is said."""
    usual: dict[str, object] = {"places": 4, "footprint_m": 4.0}
    return ShelterKind(key=label, label=label, **{**usual, **values})  # type: ignore[arg-type]


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
    joined_to : str
        Name of the shelter that it is pitched against, so that the two make one, as for an aid post or a command
        post; empty: it stands alone.
    """

    name: str
    section: str
    people: int = setting(label="people in a shelter", low=0, high=60)
    kind: ShelterKind
    is_leaders: bool = False
    joined_to: str = ""

    def __post_init__(self) -> None:
        check_settings(self)
        check_name(self.name, "a shelter")
        check_name(self.section, f"the section of {self.name}")
        if not 0 <= self.people <= self.kind.places:
            raise SettingsError(
                f"{self.name} is to hold {self.people} people and has {self.kind.places} "
                f"place{'s' * (self.kind.places != 1)}",
                fix="move people to another shelter",
            )


def check_shelters(shelters: Sequence[Shelter], people: int, own: Sequence[ShelterKind] = ()) -> None:
    """Check a unit's whole list.

    Parameters
    ----------
    shelters : sequence of Shelter
    people : int
        Everyone.
    own : sequence of ShelterKind
        The user's own kinds.

    Raises
    ------
    SettingsError
        Someone has no place, a name stands there twice, a kind isn't known, or two shelters can't be joined.
    """
    if not shelters:
        raise SettingsError("the unit has no shelters", fix="list at least one shelter")
    if len(shelters) > SHELTER_COUNT_MAX:
        raise SettingsError(f"the unit has {len(shelters)} shelters", fix=f"keep to {SHELTER_COUNT_MAX}")
    head_count = sum(shelter.people for shelter in shelters)
    if head_count != people:
        raise SettingsError(
            f"the shelters hold {head_count} people and the unit has {people}",
            fix="give every person a place in a shelter",
        )
    by_name = {shelter.name: shelter for shelter in shelters}
    if len(by_name) < len(shelters):
        raise SettingsError("two shelters carry the same name", fix="give each shelter a name of its own")
    _check_own_kinds(shelters, own)
    _check_joins(shelters, by_name)


def _check_own_kinds(shelters: Sequence[Shelter], own: Sequence[ShelterKind]) -> None:
    if len(own) > OWN_KIND_COUNT_MAX:
        raise SettingsError(
            f"the plan holds {len(own)} kinds of shelter of its own", fix=f"keep to {OWN_KIND_COUNT_MAX}"
        )
    seen = {word.casefold() for kind in SHELTER_KINDS for word in (kind.key, kind.label)}
    for kind in own:
        if kind.label.casefold() in seen or kind.key != kind.label:
            raise SettingsError(f"{kind.label} is the name of another kind of shelter", fix="give it a name of its own")
        seen.add(kind.label.casefold())
    for shelter in shelters:
        if shelter.kind != shelter_kind(shelter.kind.key, own):
            raise SettingsError(f"{shelter.name} is of a kind that the plan describes otherwise", fix="choose its kind")


def _check_joins(shelters: Sequence[Shelter], by_name: dict[str, Shelter]) -> None:
    taken: set[str] = set()
    for shelter in shelters:
        if not shelter.joined_to:
            continue
        other = by_name.get(shelter.joined_to)
        if other is None or other is shelter:
            raise SettingsError(
                f"{shelter.name} is joined to {shelter.joined_to!r}, which is no other shelter of the unit",
                fix="name one of the unit's shelters",
            )
        if other.joined_to or other.name in taken:
            raise SettingsError(
                f"{shelter.name} can't be joined to {other.name}, which is joined already", fix="join shelters by twos"
            )
        taken.add(other.name)


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
