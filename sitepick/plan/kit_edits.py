"""Edits of the kit list: pure functions from one plan to the next."""

from __future__ import annotations

from dataclasses import replace

from sitepick.plan.edits import with_values
from sitepick.plan.kit import KitItem
from sitepick.plan.model import Plan


def with_kit(plan: Plan, kit: tuple[KitItem, ...]) -> Plan:
    """The plan with another kit list.

    Raises
    ------
    SettingsError
        A name stands there twice, or the list is too long.
    """
    return with_values(plan, "load", kit=kit)


def with_kit_item_changed(plan: Plan, name: str, **values: object) -> Plan:
    """The plan with values of one thing on its kit list changed.

    Raises
    ------
    SettingsError
        A value lies outside its limits.
    """
    changed = tuple(replace(item, **values) if item.name == name else item for item in plan.load.kit)  # type: ignore[arg-type]
    return with_kit(plan, changed)


def with_kit_item_added(plan: Plan, item: KitItem) -> Plan:
    """The plan with a thing put at the end of its kit list."""
    return with_kit(plan, (*plan.load.kit, item))


def with_kit_item_removed(plan: Plan, name: str) -> Plan:
    """The plan with a thing taken off its kit list."""
    return with_kit(plan, tuple(item for item in plan.load.kit if item.name != name))


def with_kit_unticked(plan: Plan) -> Plan:
    """The plan with every tick taken off its kit list, for the next departure."""
    return with_kit(plan, tuple(replace(item, is_ticked=False) for item in plan.load.kit))
