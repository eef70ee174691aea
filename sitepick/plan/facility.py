"""Which facilities a camp gets, and the distances that field sanitation and fire safety ask for."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class FacilitySettings:
    """What a camp has besides its shelters. Distances are common practice; local rules come first.

    Attributes
    ----------
    has_common_cooking : bool
        One place where the unit cooks; otherwise every shelter cooks on its own stove.
    has_open_fire : bool
        A fire is wanted, where local rules allow it.
    has_pick_up : bool
        A clearing for a landing or a pick-up is wanted.
    people_per_seat : int
        On the latrines.
    latrine_from_water_m, latrine_from_cooking_m, latrine_from_shelters_m, latrine_walk_max_m : float
    waste_from_water_m : float
    fire_from_shelters_m : float
        An open fire or a common cooking place.
    fuel_from_fire_m : float
        Fuel also keeps this far from shelters.
    pick_up_clear_m : float
        Width of the clearing.
    """

    has_common_cooking: bool = False
    has_open_fire: bool = False
    has_pick_up: bool = False
    people_per_seat: int = setting(
        25, label="people to a latrine seat", low=5, high=60, help="One seat for 25 is usual."
    )
    latrine_from_water_m: float = setting(61.0, label="latrine from water", unit="m", low=30.0, high=300.0)
    latrine_from_cooking_m: float = setting(
        90.0, label="latrine from a common cooking place", unit="m", low=30.0, high=300.0
    )
    latrine_from_shelters_m: float = setting(30.0, label="latrine from shelters", unit="m", low=5.0, high=150.0)
    latrine_walk_max_m: float = setting(120.0, label="longest walk to a latrine", unit="m", low=30.0, high=500.0)
    waste_from_water_m: float = setting(30.0, label="waste from water", unit="m", low=10.0, high=300.0)
    fire_from_shelters_m: float = setting(
        15.0, label="fire from shelters", unit="m", low=5.0, high=100.0,
        help="An open fire or a common cooking place; sparks carry farther in wind.",
    )  # fmt: skip
    fuel_from_fire_m: float = setting(15.0, label="fuel from fire and shelters", unit="m", low=5.0, high=100.0)
    pick_up_clear_m: float = setting(
        50.0, label="width of the clearing", unit="m", low=20.0, high=200.0,
        help="Ask who comes to fetch you what they need.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        check_settings(self)
