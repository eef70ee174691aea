"""Somebody who looks: a place that the camp should not be seen from."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

LonLat = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Observer:
    """A marked place that somebody may look from.

    Attributes
    ----------
    place : (lon_deg, lat_deg)
        WGS 84.
    name : str
        As told to people.
    eye_m : float
        Height of the eyes over the ground, in metres.
    """

    place: LonLat
    name: str = "Observer"
    eye_m: float = setting(
        1.7, label="height of the eyes", unit="m", low=0.1, high=200.0,
        help="1.7 m standing; more for a tower, a vehicle's hatch or a cabin's upper floor.",
    )  # fmt: skip

    def __post_init__(self) -> None:
        check_settings(self)
        lon, lat = self.place
        if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
            raise SettingsError(
                f"the observer {self.name!r} stands at longitude {lon:g}, latitude {lat:g}",
                fix="give longitude and latitude in degrees, longitude first",
            )
