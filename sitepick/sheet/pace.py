"""What the pace rests on, in words and as values: a leader signs for it."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from sitepick.march.model import March
from sitepick.march.pace import boot_sinking_cm, load_frac, sinking_frac, sled_level_frac
from sitepick.march.sled_load import march_with_loads
from sitepick.plan.pace import mode_key, slope_function
from sitepick.sheet.words import clock, kilometres
from sitepick.tonight import Tonight


def lead_party_departs(answer: Tonight) -> datetime | None:
    """When the lead party leaves, to have broken the route as far as the pick needs it; None: none does."""
    march = answer.march
    end_m = answer.sites.sites[0].leave_distance_m if answer.sites.sites else march.reach_along_route_m
    return march.lead_party_departs(end_m)


def pace_lines(answer: Tonight) -> tuple[str, ...]:
    """Speed, trail and what slows the unit, a sentence or two each; empty where the march tells no pace."""
    pace, march = answer.march.pace, answer.plan.march
    if pace is None:
        return ()
    origin = "" if march.level_kmh is None else ", by the unit's own speed"
    speed = (
        f"Pace by day on the level: {pace.unbroken_kmh:.1f} km/h on an unbroken trail, {pace.broken_kmh:.1f} on a "
        f"broken one{origin}; slopes by {slope_function(pace.function).label}."
    )
    slowed = _slowed(answer)
    return (speed, _trail_line(answer), *((f"Counted in: {'; '.join(slowed)}.",) if slowed else ()))


def pace_document(answer: Tonight) -> dict[str, Any] | None:
    """The same as plain values for ``tonight.json``; None where the march tells no pace."""
    pace, march = answer.march.pace, answer.plan.march
    if pace is None:
        return None
    function = slope_function(pace.function)
    departs = lead_party_departs(answer)
    return {
        "unbroken_kmh": round(pace.unbroken_kmh, 3),
        "broken_kmh": round(pace.broken_kmh, 3),
        "steepest_deg": round(pace.steepest_deg, 2),
        "slopes_by": function.key,
        "source": function.source,
        "limits": function.limits,
        "trail": "broken" if march.trail_broken else march.pace.breaking,
        "lead_party_departs": None if departs is None else departs.isoformat(timespec="seconds"),
        "night_frac": pace.night_frac,
        "sinking_cm": _rounded(boot_sinking_cm(march.pace, answer.plan.weather)),
        "burden_frac": round(pace.burden_frac, 3),
    }


def _trail_line(answer: Tonight) -> str:
    departs = lead_party_departs(answer)
    if departs is not None:
        end_m = answer.sites.sites[0].leave_distance_m if answer.sites.sites else answer.march.reach_along_route_m
        at = clock(departs, answer.march.depart.date())
        return (
            f"Trail: a lead party without sleds leaves at {at} and has broken {kilometres(end_m)} of it when "
            "the main body gets there."
        )
    if answer.plan.march.trail_broken:
        return "Trail: broken already; see that it is."
    return "Trail: the head of the column breaks it and changes at each halt and between."


def _slowed(answer: Tonight) -> list[str]:
    """Each thing that takes from the speed, with the share it leaves."""
    plan, settings = answer.plan, march_with_loads(answer.plan).pace
    if plan.march.level_kmh is not None:
        return []
    told = []
    on_feet = plan.march.mode != "vehicle"
    if on_feet and plan.march.has_sled:
        told.append(
            f"a sled of {settings.sled_kg:.0f} kg with {settings.sled_team_count} people at it leaves "
            f"{100 * sled_level_frac(settings):.0f} % of the speed, less uphill"
        )
    if on_feet and load_frac(settings) < 1.0:
        told.append(f"{settings.told_load_kg:.0f} kg on each back leave {100 * load_frac(settings):.0f} %")
    sinking_cm = boot_sinking_cm(settings, plan.weather)
    snow = sinking_frac(mode_key(plan.march.mode, settings), sinking_cm)
    if sinking_cm is not None and snow < 1.0:
        told.append(f"snow that a boot sinks {sinking_cm:.0f} cm into leaves {100 * snow:.0f} % on an unbroken trail")
    dark = _dark_words(answer.march)
    if dark:
        told.append(f"{dark} the dark leaves {100 * settings.night_frac:.0f} %")
    return told


def _dark_words(march: March) -> str:
    """When the march is in the dark, such as ``"before 07:05"``; empty where it isn't before the day's light."""
    if march.sun.kind == "polar night":
        return "all day"
    dawn = march.sun.civil_dawn
    return "" if dawn is None or dawn <= march.depart else f"before {clock(dawn, march.depart.date())}"


def _rounded(value: float | None) -> float | None:
    return None if value is None else round(value, 1)
