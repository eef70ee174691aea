"""Everything in a camp that can be put in its place by hand, told alike."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.camp.model import Camp, Facility


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """A shelter, a post or a facility.

    Attributes
    ----------
    kind, name : str
        As a pin calls it.
    told : str
        As told to people, a latrine with its seats.
    east_m, north_m : float
        Grid coordinates.
    reason : str
        Why it lies there; empty where nothing is to be said.
    is_pinned : bool
        The user put it there.
    """

    kind: str
    name: str
    told: str
    east_m: float
    north_m: float
    reason: str = ""
    is_pinned: bool = False

    @property
    def key(self) -> tuple[str, str]:
        """What it is, wherever it lies."""
        return self.kind, self.name


def things_of(camp: Camp) -> tuple[Thing, ...]:
    """Shelters, then facilities, then posts."""
    things = [
        Thing(
            kind="shelter", name=one.shelter.name, told=one.shelter.name, east_m=one.east_m, north_m=one.north_m,
            reason=f"{one.shelter.section}: {one.shelter.kind.label}, ground under it {one.slope_deg:.1f}° at most.",
            is_pinned=one.is_pinned,
        )
        for one in camp.shelters
    ]  # fmt: skip
    things += [
        Thing(
            kind=one.kind, name=base_name(one), told=one.name, east_m=one.east_m, north_m=one.north_m,
            reason=one.reason, is_pinned=one.is_pinned,
        )
        for one in camp.facilities
    ]  # fmt: skip
    posts = camp.security.posts if camp.security is not None else ()
    things += [
        Thing(
            kind="post", name=one.name, told=one.name, east_m=one.east_m, north_m=one.north_m,
            reason=f"Watches from {one.left_bearing_deg:.0f}° to {one.right_bearing_deg:.0f}°, sees "
            f"{100 * one.seen_frac:.0f} % of it.",
            is_pinned=one.is_pinned,
        )
        for one in posts
    ]  # fmt: skip
    return tuple(things)


def base_name(place: Facility) -> str:
    """A facility's name without its seats: what a pin calls it."""
    return place.name.partition(",")[0]
