"""The rules and cautions that belong to the camp."""

from __future__ import annotations

from sitepick.caution import Caution
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter

# Distances: common practice in field sanitation; local rules come first.
LATRINE_FROM_WATER_M = 61
LATRINE_FROM_SHELTERS_M = 30


def camp_cautions(plan: Plan, missing: tuple[Shelter, ...]) -> tuple[Caution, ...]:
    """What everyone in the camp must know, the gravest first."""
    told = []
    if missing:
        names = ", ".join(shelter.name for shelter in missing)
        verb = "finds" if len(missing) == 1 else "find"
        told.append(
            Caution(
                kind="room",
                text=f"{names} {verb} no place at {plan.camp.spacing_m:.0f} m: set a smaller spacing or take another "
                "site.",
            )
        )
    told += [
        Caution(
            kind="fire",
            text="Air every shelter while a stove or fire burns and keep someone awake: its fumes kill without a "
            "smell. No fire under snow-laden branches.",
        ),
        Caution(
            kind="timber",
            text="Move a shelter off its mark rather than pitch it under a dead, leaning or snow-loaded tree.",
        ),
    ]
    if plan.weather.snow_cm is None or plan.weather.snow_cm > 0.0:
        told.append(
            Caution(
                kind="snow",
                text="Probe the snow at every mark before treading it firm: stones, stumps, water and hollows lie "
                "under it.",
            )
        )
    told.append(
        Caution(
            kind="water",
            text=f"Latrine and waste at least {LATRINE_FROM_WATER_M} m from water and {LATRINE_FROM_SHELTERS_M} m from "
            "shelters, downwind; carry waste out where local rules ask for it.",
        )
    )
    return tuple(told)
