"""What is doubtful about a plan though every value lies within its limits."""

from __future__ import annotations

from collections.abc import Iterator

from sitepick.caution import Caution
from sitepick.plan.model import Plan

FEWEST_PEOPLE, MOST_PEOPLE = 10, 150  # what the rates and the layout are made for
SNOW_MELTS_C = 5.0


def plan_cautions(plan: Plan) -> tuple[Caution, ...]:
    """Values that are allowed and still look like a slip, a sentence each.

    Parameters
    ----------
    plan : Plan
    """
    return tuple(Caution(kind="plan", text=text) for text in _doubts(plan))


def _doubts(plan: Plan) -> Iterator[str]:
    weather, people = plan.weather, plan.unit.people
    temperature_c, snow_cm = weather.temperature_c, weather.snow_cm
    if not FEWEST_PEOPLE <= people <= MOST_PEOPLE:
        yield (
            f"Pace, halts and layout are meant for {FEWEST_PEOPLE} to {MOST_PEOPLE} people, and the plan says "
            f"{people}: see that its times and spacing hold for so many."
        )
    if temperature_c is not None and temperature_c > SNOW_MELTS_C and snow_cm is not None and snow_cm > 0.0:
        yield (
            f"The plan says {temperature_c:g} °C and {snow_cm:g} cm of snow: check both; if they are right, snow is "
            "wet, streams run high and ice can't be trusted."
        )
    if plan.march.mode in ("ski", "snowshoe") and snow_cm == 0.0:
        yield "The unit goes on skis or snowshoes and the plan says there is no snow: check both."
