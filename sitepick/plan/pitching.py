"""How long the unit takes from its last arrival to everyone under shelter."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from sitepick.plan.setting import check_settings, setting

if TYPE_CHECKING:
    from sitepick.plan.model import Plan
    from sitepick.plan.shelter import ShelterKind

# Figure of the rule and name in the plural, by the key of the kind; the user's own kinds without a time are as tents.
_RULES = {
    "lean_to": ("log_shelter_min", "log shelters"),
    "snow_trench": ("trench_min", "snow trenches"),
    "snow_cave": ("cave_min", "snow caves"),
    "vehicle": ("vehicle_min", "vehicles"),
}
_AS_TENTS = ("tent_min", "tents")
MOST_ROUNDS = 2  # ours: fewer hands than a shelter wants take up to twice as long, not more: small tents are small


@dataclass(frozen=True, slots=True, kw_only=True)
class PitchingRule:
    """The rule that the pitching time follows while the user gives no number.

    Tents and log shelters: common practice, drilled crews. The other figures are ours: digging to the ground takes
    a tent's 75 min to the 120 that are usual with digging, and marking out a camp takes longer for more people.

    Attributes
    ----------
    tent_min, log_shelter_min, trench_min, cave_min, vehicle_min : float
        The slowest kind in the unit counts: shelters go up side by side. Snow trenches and caves: from memory.
    digging_from_cm, digging_min_per_10_cm, digging_most_min : float
        Snow deeper than this is dug out, at so many minutes for each 10 cm more, up to so many.
    hands_per_shelter : float
        With fewer people to a shelter they go up in two rounds.
    size_min_per_10_people : float
        For each ten people past the first ten.
    """

    tent_min: float = setting(75.0, label="time for tents", unit="min", low=5.0, high=300.0)
    log_shelter_min: float = setting(120.0, label="time for log shelters", unit="min", low=5.0, high=480.0)
    trench_min: float = setting(90.0, label="time for snow trenches", unit="min", low=5.0, high=480.0)
    cave_min: float = setting(180.0, label="time for snow caves", unit="min", low=5.0, high=480.0)
    vehicle_min: float = setting(15.0, label="time for vehicles", unit="min", low=0.0, high=300.0)
    digging_from_cm: float = setting(40.0, label="snow left undug", unit="cm", low=0.0, high=300.0)
    digging_min_per_10_cm: float = setting(5.0, label="digging for each 10 cm more", unit="min", low=0.0, high=60.0)
    digging_most_min: float = setting(45.0, label="digging at most", unit="min", low=0.0, high=240.0)
    hands_per_shelter: float = setting(3.0, label="people who pitch a shelter", low=1.0, high=20.0)
    size_min_per_10_people: float = setting(1.0, label="more for each ten people", unit="min", low=0.0, high=30.0)

    def __post_init__(self) -> None:
        check_settings(self)


def pitching_parts(plan: Plan) -> tuple[tuple[float, str], ...]:
    """The minutes of the pitching time and what each part is for.

    The user's own number, where there is one, is the only part. Snow of unknown depth counts as none.
    """
    if plan.march.pitching_min is not None:
        return ((plan.march.pitching_min, "as the plan says"),)
    rule, unit = plan.march.pitching, plan.unit
    base_min, name = max((_kind_part(shelter.kind, rule) for shelter in unit.shelters), key=lambda part: part[0])
    is_dug_out = any(_is_dug_out(shelter.kind) for shelter in unit.shelters)
    rounds = min(MOST_ROUNDS, math.ceil(len(unit.shelters) * rule.hands_per_shelter / unit.people))
    snow_cm = plan.weather.snow_cm or 0.0
    deeper_cm = max(0.0, snow_cm - rule.digging_from_cm) if is_dug_out else 0.0
    digging_min = min(rule.digging_most_min, rule.digging_min_per_10_cm * deeper_cm / 10.0)
    size_min = rule.size_min_per_10_people * max(0.0, unit.people - 10) / 10.0
    parts = (
        (base_min, f"for {name}"),
        (base_min * (rounds - 1), "for few hands"),
        (digging_min, f"to dig out {snow_cm:.0f} cm of snow"),
        (size_min, f"for {unit.people} people"),
    )
    return tuple(part for part in parts if part[0] > 0.0)


def _kind_part(kind: ShelterKind, rule: PitchingRule) -> tuple[float, str]:
    """The minutes that a kind takes, and what it is called."""
    if kind.pitching_min is not None:
        return kind.pitching_min, kind.label
    name, words = _RULES.get(kind.key, _AS_TENTS)
    return getattr(rule, name), words


def _is_dug_out(kind: ShelterKind) -> bool:
    """Whether the snow is taken away under it: not where it is made of snow, nor under a vehicle."""
    return kind.needs_snow_cm == 0.0 and kind.key != "vehicle"


def pitching_time_min(plan: Plan) -> float:
    """Minutes from the last arrival to everyone under shelter, whole ones, rounded up."""
    total = sum(minutes for minutes, _ in pitching_parts(plan))
    return total if plan.march.pitching_min is not None else float(math.ceil(total - 1e-9))


def pitching_words(plan: Plan) -> str:
    """The pitching time with what it is made of, as a clause."""
    parts = pitching_parts(plan)
    total = f"{pitching_time_min(plan):.0f} min"
    if len(parts) == 1:
        return f"{total} {parts[0][1]}"
    return f"{total}: " + ", ".join(f"{minutes:.0f} {what}" for minutes, what in parts)
