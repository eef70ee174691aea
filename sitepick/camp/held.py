"""Shelters that stay where they were put by hand, each with what is joined to it."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from math import cos, hypot, radians, sin

from sitepick.camp.door import Doors
from sitepick.grid import Grid, MaskArray
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter
from sitepick.sites.beside import stands_on
from sitepick.sites.packing import room_of

Place = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What stands already.

    Attributes
    ----------
    places_m : dict from name to (east_m, north_m)
        Of shelters put by hand, and of those that stand beside one because they are joined to it.
    doors_deg : dict from name to float
        True bearing of the doors of two that are joined, which the place beside the other one hangs on.
    """

    places_m: dict[str, Place] = field(default_factory=dict)
    doors_deg: dict[str, float] = field(default_factory=dict)


def held_by_hand(
    plan: Plan, by_hand_m: dict[str, Place], mask: MaskArray, corner: tuple[int, int], doors: Doors
) -> Held:  # fmt: skip
    """What stands already on a site.

    Parameters
    ----------
    plan : Plan
    by_hand_m : dict from name to (east_m, north_m)
        Shelters put by hand.
    mask : bool array
        Cells that a footprint may cover.
    corner : (row, col)
        Where the mask lies on the grid.
    doors : Doors

    Notes
    -----
    Of two that are joined, the one that wasn't put by hand comes along and touches the other side by side. Where
    neither side has room for it, it is left to find a place of its own.
    """
    held = Held(places_m=dict(by_hand_m))
    by_name = {shelter.name: shelter for shelter in plan.unit.shelters}
    for shelter in plan.unit.shelters:
        if not shelter.joined_to:
            continue
        pair = (shelter, by_name[shelter.joined_to])
        if sum(one.name in by_hand_m for one in pair) == 1:
            stays, comes = sorted(pair, key=lambda one: one.name not in by_hand_m)
            held = _beside(plan, held, (stays, comes), (mask, corner), doors)
    return held


def _beside(
    plan: Plan, held: Held, pair: tuple[Shelter, Shelter], ground: tuple[MaskArray, tuple[int, int]], doors: Doors
) -> Held:  # fmt: skip
    """With the second of a pair beside the first where there is room."""
    stays, comes = pair
    grid, (mask, corner) = doors.grid, ground
    at = held.places_m[stays.name]
    door_deg = doors.bearing_deg(*at)
    apart_m = (stays.kind.footprint_m + comes.kind.footprint_m) / 2.0 * grid.point_scale(*at)
    along = radians(door_deg + 90.0 - grid.convergence_deg(*at))
    others = [place for name, place in held.places_m.items() if name != stays.name]
    for side in (1.0, -1.0):
        there = at[0] + side * apart_m * sin(along), at[1] + side * apart_m * cos(along)
        is_clear = all(
            hypot(there[0] - east_m, there[1] - north_m) >= plan.camp.spacing_m * grid.point_scale(*at)
            for east_m, north_m in others
        )
        if is_clear and _is_on_ground(grid, mask, corner, there, comes.kind.footprint_m):
            return replace(
                held,
                places_m={**held.places_m, comes.name: there},
                doors_deg={**held.doors_deg, stays.name: door_deg, comes.name: door_deg},
            )
    return held


def _is_on_ground(grid: Grid, mask: MaskArray, corner: tuple[int, int], at: Place, footprint_m: float) -> bool:
    room = room_of(grid, grid.bounds_m, spacing_m=footprint_m, footprint_m=footprint_m)
    return stands_on(
        mask, room, (grid.north_m - at[1]) / grid.cell_m - corner[0], (at[0] - grid.west_m) / grid.cell_m - corner[1]
    )
