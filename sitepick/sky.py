"""Sun and twilight for a place and a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class SunDay:
    """The sun on one local day, flat horizon. Times carry the zone asked for; None: does not happen that day.

    Attributes
    ----------
    civil_dawn, sunrise, sunset, civil_dusk : datetime or None
    noon_altitude_deg : float
        Highest altitude of the day.
    kind : str
        ``"day and night"``, ``"midnight sun"`` (never sets), ``"white night"`` (sets, never
        darker than civil twilight), ``"polar twilight"`` (never rises, civil twilight at noon),
        ``"polar night"`` (no civil twilight at all).
    """

    civil_dawn: datetime | None
    sunrise: datetime | None
    sunset: datetime | None
    civil_dusk: datetime | None
    noon_altitude_deg: float
    kind: str
