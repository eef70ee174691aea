"""What of the camp the user has put in its place by hand."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

if TYPE_CHECKING:
    from sitepick.plan.model import Plan

LonLat = tuple[float, float]

PIN_KINDS = (
    "shelter", "post", "drinking_water", "cooking_water", "washing", "snow_for_water", "latrine", "waste", "cooking",
    "fire", "stores", "fuel", "racks", "sled_park", "medical", "pick_up",
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin:
    """One thing of the camp that stays where the user put it.

    Attributes
    ----------
    kind : str
        Out of `PIN_KINDS`.
    name : str
        Of the shelter, the post or the facility, as the camp names it.
    place : (lon_deg, lat_deg)
        WGS 84.
    """

    kind: str = setting(label="kind of a thing put by hand", choices=PIN_KINDS)
    name: str
    place: LonLat

    def __post_init__(self) -> None:
        check_settings(self)
        lon, lat = self.place
        if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
            raise SettingsError(
                f"{self.name} is put by hand at longitude {lon:g}, latitude {lat:g}",
                fix="give longitude and latitude in degrees, longitude first",
            )

    @property
    def key(self) -> tuple[str, str]:
        """Kind and name: what it is, wherever it lies."""
        return self.kind, self.name


def with_pin(plan: Plan, pin: Pin) -> Plan:
    """The plan with one thing of the camp put in its place, instead of where it was put before."""
    return _with_pins(plan, (*_others(plan, pin.key), pin))


def with_pin_dropped(plan: Plan, key: tuple[str, str]) -> Plan:
    """The plan with one thing of the camp let go of; as it was where that had no place by hand."""
    return _with_pins(plan, _others(plan, key))


def with_pins_dropped(plan: Plan) -> Plan:
    """The plan with everything in the camp let go of."""
    return _with_pins(plan, ())


def _others(plan: Plan, key: tuple[str, str]) -> tuple[Pin, ...]:
    return tuple(pin for pin in plan.camp.pins if pin.key != key)


def _with_pins(plan: Plan, pins: tuple[Pin, ...]) -> Plan:
    return replace(plan, camp=replace(plan.camp, pins=pins))
