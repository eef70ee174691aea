"""What stands apart from what: a shelter of its own, or two that are joined."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.plan.shelter import Shelter


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """One or two shelters that keep the spacing together.

    Attributes
    ----------
    shelters : tuple of Shelter
        Two: joined, the one that is named by the other first.
    """

    shelters: tuple[Shelter, ...]

    @property
    def is_leaders(self) -> bool:
        """Whether the leader sleeps there."""
        return any(shelter.is_leaders for shelter in self.shelters)

    @property
    def section(self) -> str:
        """Who sleeps there."""
        return self.shelters[0].section

    @property
    def radius_m(self) -> float:
        """Half of the width that it takes, whichever way it is turned."""
        return sum(shelter.kind.footprint_m for shelter in self.shelters) / 2.0

    @property
    def offsets_m(self) -> tuple[float, ...]:
        """How far from its middle each of its shelters stands, along one line."""
        if len(self.shelters) == 1:
            return (0.0,)
        one, other = (shelter.kind.footprint_m for shelter in self.shelters)
        return (-other / 2.0, one / 2.0)

    @property
    def reach_m(self) -> float:
        """How far from its middle its farthest shelter stands."""
        return max(abs(offset_m) for offset_m in self.offsets_m)


def stands_of(shelters: tuple[Shelter, ...], *, joined: bool = True) -> tuple[Stand, ...]:
    """The stands of a unit, the leaders' first, then in the unit's order.

    Parameters
    ----------
    shelters : tuple of Shelter
        One that is joined to another that isn't among them stands by itself.
    joined : bool
        Otherwise those that were to be joined stand by themselves.
    """
    names = {shelter.name for shelter in shelters}
    is_second = {shelter.name: joined and shelter.joined_to in names for shelter in shelters}
    partner = {shelter.joined_to: shelter for shelter in shelters if is_second[shelter.name]}
    stands = [
        Stand(shelters=(shelter, partner[shelter.name]) if shelter.name in partner else (shelter,))
        for shelter in shelters
        if not is_second[shelter.name]
    ]
    return tuple(sorted(stands, key=lambda stand: not stand.is_leaders))
