"""What a leader must know about the pace that the plan reckons with."""

from __future__ import annotations

from datetime import timedelta

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import DoubleArray
from sitepick.march.clock import DayClock
from sitepick.march.pace import Pace, boot_sinking_cm
from sitepick.plan.model import MarchSettings, Plan
from sitepick.plan.pace import ModePace, PaceSettings, mode_key, slope_function
from sitepick.plan.setting import setting_of

LOAD_MOST_KG = 32.7  # from memory, FM 21-18: 72 lb, 45 % of the body's weight
WADING_CM = 45.0  # ours: over the knee


def pace_cautions(plan: Plan, pace: Pace, clock: DayClock, lead_min: DoubleArray | None) -> tuple[Caution, ...]:
    """What to check about the speed, the load, the snow and the party ahead."""
    told = (
        *_speed_cautions(plan.march, pace),
        *_snow_cautions(plan),
        *_load_cautions(plan.march),
        *_lead_cautions(clock, lead_min),
    )
    return tuple(Caution(kind=kind, text=text) for kind, text in told)


def measured_ice_words(march: MarchSettings) -> str:
    """The ice that the user measured, as the subject of "were measured"."""
    told = f"{march.ice_cm:g} cm of clear ice"
    if march.ice_cm is None or march.pace.white_ice_cm == 0.0:
        return told
    worth_cm = march.ice_cm + march.pace.white_ice_cm / 2.0
    return f"{told} and {march.pace.white_ice_cm:g} cm of white ice, which together count for {worth_cm:g} cm,"


def _speed_cautions(march: MarchSettings, pace: Pace) -> list[tuple[str, str]]:
    if march.level_kmh is not None:
        return []
    mode_pace: ModePace = getattr(march.pace, mode_key(march.mode, march.pace))
    if mode_pace.level_from == "table":
        told = "a planning rate from memory, not measured"
        return [("march", f"The speed on the level is {told}: check it against your own unit's.")]
    function = slope_function(pace.function)
    return [
        (
            "march",
            f"The speed on the level is that of {function.label}, made for other people than yours "
            f"({function.limits[0].lower()}{function.limits[1:].rstrip('.')}): check it against your own unit's.",
        )
    ]


def _snow_cautions(plan: Plan) -> list[tuple[str, str]]:
    if plan.march.mode != "foot":
        return []
    sinking_cm = boot_sinking_cm(plan.march.pace, plan.weather)
    if sinking_cm is None:
        return [("march", "The depth of the snow isn't known: the pace on foot holds for bare or firm ground.")]
    if sinking_cm < WADING_CM:
        return []
    return [
        (
            "march",
            f"A boot sinks in {sinking_cm:.0f} cm beside a broken trail: on foot the unit wades and tires; "
            "take snowshoes or skis, or keep to broken trails.",
        )
    ]


def _load_cautions(march: MarchSettings) -> list[tuple[str, str]]:
    if march.mode == "vehicle" or march.pace.told_load_kg <= LOAD_MOST_KG:
        return []
    load_kg = march.pace.told_load_kg
    or_more = " or more" if load_kg == setting_of(PaceSettings, "load_kg").high else ""  # heavier lists count as that
    return [
        (
            "march",
            f"{load_kg:.0f} kg{or_more} on each back is more than people march with and stay fit "
            f"({LOAD_MOST_KG:.0f} kg): move weight to the sleds or leave it.",
        )
    ]


def _lead_cautions(clock: DayClock, lead_min: DoubleArray | None) -> list[tuple[str, str]]:
    if lead_min is None or clock.sun.civil_dawn is None:
        return []
    if clock.depart - timedelta(minutes=float(np.nanmax(lead_min))) >= clock.sun.civil_dawn:
        return []
    return [
        (
            "dark",
            "The lead party would leave in the dark: send people who can find the way, or break the trail the evening "
            "before, when it also has the night to harden.",
        )
    ]
