"""Edits of what is marked on the ground: areas and observers. Pure functions from one plan to the next."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from sitepick.errors import SettingsError
from sitepick.plan.model import Area, LonLat, Plan
from sitepick.plan.observer import Observer


def open_ring(ring: tuple[LonLat, ...]) -> tuple[LonLat, ...]:
    """An area's corners, each once."""
    return ring[:-1] if len(ring) > 1 and ring[0] == ring[-1] else ring


def closed_ring(corners: Sequence[LonLat]) -> tuple[LonLat, ...]:
    """An area's ring as the plan's file has it: the first corner again at its end."""
    return (*corners, corners[0])


def with_area_added(plan: Plan, area: Area) -> Plan:
    """The plan with one more area."""
    return replace(plan, areas=(*plan.areas, area))


def without_area(plan: Plan, index: int) -> Plan:
    """The plan without one of its areas."""
    return replace(plan, areas=(*plan.areas[:index], *plan.areas[index + 1 :]))


def with_area_values(plan: Plan, index: int, **values: object) -> Plan:
    """The plan with one area's name, meaning or ring changed."""
    changed = replace(plan.areas[index], **values)  # type: ignore[arg-type]
    return replace(plan, areas=(*plan.areas[:index], changed, *plan.areas[index + 1 :]))


def with_corner_moved(plan: Plan, index: int, corner: int, place: LonLat) -> Plan:
    """The plan with one corner of an area moved."""
    ring = list(open_ring(plan.areas[index].ring))
    ring[corner] = place
    return with_area_values(plan, index, ring=closed_ring(ring))


def with_corner_added(plan: Plan, index: int, corner: int, place: LonLat) -> Plan:
    """The plan with a corner put into an area before another one."""
    ring = list(open_ring(plan.areas[index].ring))
    ring.insert(corner, place)
    return with_area_values(plan, index, ring=closed_ring(ring))


def without_corner(plan: Plan, index: int, corner: int) -> Plan:
    """The plan with a corner taken out of an area; three always stay."""
    ring = list(open_ring(plan.areas[index].ring))
    if len(ring) <= 3:
        raise SettingsError("an area needs three corners", fix="move the corner, or remove the area")
    del ring[corner]
    return with_area_values(plan, index, ring=closed_ring(ring))


def with_observer_added(plan: Plan, observer: Observer) -> Plan:
    """The plan with one more observer."""
    return replace(plan, observers=(*plan.observers, observer))


def with_observer_values(plan: Plan, index: int, **values: object) -> Plan:
    """The plan with one observer's place, name or eyes' height changed."""
    changed = replace(plan.observers[index], **values)  # type: ignore[arg-type]
    return replace(plan, observers=(*plan.observers[:index], changed, *plan.observers[index + 1 :]))


def without_observer(plan: Plan, index: int) -> Plan:
    """The plan without one of its observers."""
    return replace(plan, observers=(*plan.observers[:index], *plan.observers[index + 1 :]))


def free_name(plan: Plan, stem: str) -> str:
    """A name that no area or observer of the plan has yet: ``No-go area 2``."""
    taken = {one.name for one in plan.areas} | {one.name for one in plan.observers}
    return next(name for name in (f"{stem} {number}" for number in range(1, len(taken) + 2)) if name not in taken)
