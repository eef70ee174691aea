"""The rules and cautions that belong to the camp."""

from __future__ import annotations

from sitepick.caution import Caution
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter

# Distances: common practice in field sanitation; local rules come first.
LATRINE_FROM_WATER_M = 61
LATRINE_FROM_SHELTERS_M = 30


def camp_cautions(
    plan: Plan, missing: tuple[Shelter, ...], what_gives: tuple[str, ...] = ()
) -> tuple[Caution, ...]:  # fmt: skip
    """What everyone in the camp must know, the gravest first."""
    told = []
    if missing:
        told.append(Caution(kind="room", text=_missing_words(plan, missing, what_gives)))
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


def _missing_words(plan: Plan, missing: tuple[Shelter, ...], what_gives: tuple[str, ...]) -> str:
    names, people = ", ".join(shelter.name for shelter in missing), sum(shelter.people for shelter in missing)
    total = len(plan.unit.shelters)
    finds, them = ("finds", "it") if len(missing) == 1 else ("find", "them")
    told = f"{total - len(missing)} of {total} shelters fit at {plan.camp.spacing_m:.0f} m; {names} {finds} no place"
    told += f", {people} {'person' if people == 1 else 'people'} with {them}."
    return " ".join((told, *(what_gives or ("Take another site, or fewer shelters.",))))
