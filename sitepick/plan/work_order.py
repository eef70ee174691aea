"""What is done on arrival and through the night, as far as the user decides it, and what was found on the spot."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time

from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class ArrivalTick:
    """One thing looked at on arrival.

    Attributes
    ----------
    what : str
        As the work order words it.
    is_done : bool
    found : str
        What was found.
    """

    what: str
    is_done: bool = False
    found: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkSettings:
    """Work on arrival and duties through the night. Times are common practice.

    Attributes
    ----------
    may_cut_boughs, may_gather_firewood : bool
        Local rules and the land owner allow it.
    latrine_person_min, water_person_min, wood_person_min, trail_person_min : float
        Person-minutes of each job; wood is for each cubic metre of boughs or firewood.
    sentry_turn_min : float
        Length of a turn on a post.
    sentry_hours_max : float
        What one person may be asked for in a night; fewer posts are manned where that doesn't suffice.
    wake_at : time
        Local time of the day of departure.
    ticks : tuple of ArrivalTick
        What was looked at on arrival.
    """

    may_cut_boughs: bool = False
    may_gather_firewood: bool = False
    latrine_person_min: float = setting(80.0, label="digging a latrine", unit="person-minutes", low=0.0, high=1000.0)
    water_person_min: float = setting(60.0, label="drawing water", unit="person-minutes", low=0.0, high=1000.0)
    wood_person_min: float = setting(
        90.0, label="a cubic metre of wood or boughs", unit="person-minutes", low=0.0, high=1000.0
    )
    trail_person_min: float = setting(
        40.0, label="the trail past the site", unit="person-minutes", low=0.0, high=1000.0
    )
    sentry_turn_min: float = setting(60.0, label="a turn on a post", unit="min", low=15.0, high=240.0)
    sentry_hours_max: float = setting(2.0, label="sentry hours each", unit="h", low=0.5, high=8.0)
    wake_at: time = time(6, 0)
    ticks: tuple[ArrivalTick, ...] = ()

    def __post_init__(self) -> None:
        check_settings(self)
