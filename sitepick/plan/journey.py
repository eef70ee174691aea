"""Several days on the way: how many, under which limits, and by which rule nights are chosen."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from sitepick.errors import SettingsError
from sitepick.plan.setting import check_settings, setting

RULES = ("weakest", "mean", "fewest", "effort")
STOP, PASS, SUPPLY = POINT_KINDS = ("stop", "pass", "supply")
ROUTE_COUNT_MAX = 6

LonLat = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class JourneyPoint:
    """A place that the journey must take in.

    Attributes
    ----------
    name : str
        As told to people.
    kind : str
        ``"stop"``: a night falls near it; ``"pass"``: the route leads past it; ``"supply"``: supplies are taken up.
    place : (lon_deg, lat_deg)
    within_m : float
        How near counts.
    """

    name: str
    kind: str = setting("stop", label="what happens there", choices=POINT_KINDS)
    place: LonLat
    within_m: float = setting(1500.0, label="how near counts", unit="m", low=50.0, high=20_000.0)

    def __post_init__(self) -> None:
        check_settings(self)
        _check_place(self.place, self.name)


@dataclass(frozen=True, slots=True, kw_only=True)
class PinnedNight:
    """A night that the user holds at a place, whatever else changes.

    Attributes
    ----------
    route : str
        Name of the route.
    day : int
        On which day it falls; the first is 1.
    place : (lon_deg, lat_deg)
        On the site.
    """

    route: str
    day: int = setting(1, label="day", low=1, high=60)
    place: LonLat

    def __post_init__(self) -> None:
        check_settings(self)
        _check_place(self.place, f"night {self.day} on {self.route}")


@dataclass(frozen=True, slots=True, kw_only=True)
class DayForecast:
    """What is forecast for one day, where it differs from the plan's weather; None: as there.

    Attributes
    ----------
    day : int
        The first is 1.
    wind_from_deg, wind_kmh, temperature_c, snow_cm : float or None
    """

    day: int = setting(1, label="day", low=1, high=60)
    wind_from_deg: float | None = setting(None, label="wind from", unit="°", low=0.0, high=360.0)
    wind_kmh: float | None = setting(None, label="wind speed", unit="km/h", low=0.0, high=250.0)
    temperature_c: float | None = setting(None, label="temperature", unit="°C", low=-80.0, high=50.0)
    snow_cm: float | None = setting(None, label="snow depth", unit="cm", low=0.0, high=1000.0)

    def __post_init__(self) -> None:
        check_settings(self)


@dataclass(frozen=True, slots=True, kw_only=True)
class JourneySettings:
    """How a route is cut into days.

    Attributes
    ----------
    days_max : int
        Days on the way at most, rest days among them.
    hours_max : float or None
        From the departure to the arrival in camp, halts counted; None: as long as the light lasts.
    rule : str
        ``"weakest"``: the weakest night is as good as can be; ``"mean"``: the mean of the nights is; ``"fewest"``:
        as few days as can be; ``"effort"``: as little time on the move as can be.
    rest_days : tuple of int
        Days on which nobody marches; the first day is 1.
    supply_every_days : int or None
        Supplies last for so many days; without a place of that kind they come to the camp. None: taken for all days.
    supplies_kg : float
        Food and fuel of one person for a day, carried for the days to come.
    tired_frac, tired_most_frac : float
        What each day since the last rest takes off the speed, and the most that tiredness takes.
    off_route_m : float
        Nights are looked for so far off the route.
    zone : str or None
        Name of the zone that the clocks follow ("Europe/Stockholm"); None: they stay as at the first departure.
    points : tuple of JourneyPoint
    pinned : tuple of PinnedNight
    forecasts : tuple of DayForecast
    """

    days_max: int = setting(5, label="days at most", low=1, high=30, help="Rest days counted.")
    hours_max: float | None = setting(
        None, label="hours a day", unit="h", low=1.0, high=23.0,
        help="From the departure to the arrival in camp; leave empty to march as long as the light lasts.",
    )  # fmt: skip
    rule: str = setting("weakest", label="nights chosen by", choices=RULES)
    rest_days: tuple[int, ...] = ()
    supply_every_days: int | None = setting(
        None, label="supplies last", unit="days", low=1, high=30, help="Leave empty if they are taken for all days."
    )
    supplies_kg: float = setting(
        1.6, label="food and fuel for a day", unit="kg", low=0.0, high=20.0,
        help="Of one person: from memory, 1.2 kg of food and some 0.4 kg of fuel where snow is melted.",
    )  # fmt: skip
    tired_frac: float = setting(
        0.03,
        label="slower each day",
        low=0.0,
        high=0.2,
        help="Ours: what a day since the last rest takes off the speed.",
    )
    tired_most_frac: float = setting(0.15, label="slower at most", low=0.0, high=0.5)
    off_route_m: float = setting(
        2000.0, label="looked for off the route", unit="m", low=300.0, high=5000.0,
        help="Ground farther off isn't read, so that long routes stay quick.",
    )  # fmt: skip
    zone: str | None = None
    points: tuple[JourneyPoint, ...] = ()
    pinned: tuple[PinnedNight, ...] = ()
    forecasts: tuple[DayForecast, ...] = ()

    def __post_init__(self) -> None:
        check_settings(self)
        for day in self.rest_days:
            if not 2 <= day < self.days_max:
                raise SettingsError(
                    f"day {day} is a rest day, and the journey has {self.days_max} days",
                    fix="rest on a day after the first and before the last",
                )
        _check_once((day for day in self.rest_days), "a rest day")
        _check_once((forecast.day for forecast in self.forecasts), "a forecast")
        _check_once(((night.route, night.day) for night in self.pinned), "a pinned night")
        if self.zone is not None:
            named_zone(self.zone)

    def forecast(self, day: int) -> DayForecast | None:
        """What is forecast for a day; None where nothing differs from the plan's weather."""
        return next((one for one in self.forecasts if one.day == day), None)

    def departure(self, first: datetime, day: int) -> datetime:
        """When the unit leaves on a day: at the same hour of the clock as on the first."""
        zone = first.tzinfo if self.zone is None else named_zone(self.zone)
        here = first if self.zone is None else first.astimezone(zone)
        later = datetime.combine(here.date() + timedelta(days=day - 1), here.time(), tzinfo=zone)
        # An hour that the clocks leave out is the hour after it.
        return later if self.zone is None else later.astimezone(ZoneInfo("UTC")).astimezone(zone)


def named_zone(name: str) -> ZoneInfo:
    """The zone of a name.

    Raises
    ------
    SettingsError
        There is none.
    """
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError) as fault:
        raise SettingsError(
            f"no zone is called {name[:40]!r}", fix='write it like "Europe/Stockholm", or leave it empty'
        ) from fault


def _check_place(place: LonLat, name: str) -> None:
    lon, lat = place
    if not (-180.0 <= lon <= 180.0 and -90.0 <= lat <= 90.0):
        raise SettingsError(
            f"{name!r} lies at longitude {lon:g}, latitude {lat:g}", fix="give degrees, longitude first"
        )


def _check_once(keys: object, what: str) -> None:
    twice = [key for key, count in Counter(keys).items() if count > 1]  # type: ignore[call-overload]
    if twice:
        raise SettingsError(f"{what} stands there twice: {twice[0]}", fix="leave one of them out")
