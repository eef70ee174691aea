"""Delays that the user foresees on the way, each with its reason."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import time

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting


@dataclass(frozen=True, slots=True, kw_only=True)
class Delay:
    """A stop that the clock must hold room for.

    Attributes
    ----------
    minutes : float
        How long the unit stands.
    reason : str
        As told to people ("ford"); may be empty.
    at_km : float or None
        Where along the route, on the ground.
    at : time or None
        Or at what time of day, in the departure's zone; one of both is given.
    """

    minutes: float = setting(label="delay", unit="min", low=0.0, high=600.0)
    reason: str = ""
    at_km: float | None = setting(
        None, label="place of the delay", unit="km", low=0.0, high=1000.0, help="Along the route from its start."
    )
    at: time | None = None

    def __post_init__(self) -> None:
        check_settings(self)
        if (self.at_km is None) == (self.at is None):
            raise SettingsError(
                f"the delay of {self.minutes:g} min has {'no place and no time' if self.at is None else 'both'}",
                fix="give either at_km, its place along the route, or at, its time of day",
            )

    @property
    def told(self) -> str:
        """What the unit stands for, in a word or two."""
        return " ".join(self.reason.split()) or "delay"
