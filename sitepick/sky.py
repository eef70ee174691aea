"""The sky over a place: sun, twilight and moon, flat horizon.

Positions come from skyfield with the JPL ephemeris DE421, which ships as a package: nothing is
fetched. The altitude is sampled through the day and its crossings are read off a cubic spline, which
at ten-minute steps is good to a hundredth of a second and misses no short day. The libraries are loaded
at the first question, not at start-up.
"""

from __future__ import annotations

import atexit
import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta, timezone, tzinfo
from functools import lru_cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from sitepick.errors import SettingsError

SUNRISE_ALTITUDE_DEG = -50.0 / 60.0  # upper rim on the horizon, 34' of refraction and 16' of radius; common practice
CIVIL_ALTITUDE_DEG = -6.0  # centre of the sun; common practice
YEAR_FIRST, YEAR_LAST = 1900, 2052  # what DE421 covers in whole years

SUN_RADIUS_DEG = 16.0 / 60.0  # common practice, as in the sunrise altitude
HORIZON_REFRACTION_DEG = 34.0 / 60.0  # common practice
MOON_RADIUS_KM = 1737.4  # IAU mean radius, from memory
_STEP_MIN = 10
_ONE_MIN = timedelta(minutes=1)


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


def sun_day(lon_deg: float, lat_deg: float, day: date, zone: tzinfo) -> SunDay:
    """Sunrise, sunset and civil twilight of one local day.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84.
    day : date
        The local date. It runs from midnight to midnight of `zone`, and only what falls into it counts.
    zone : tzinfo
        Zone of the day and of the times told.

    Returns
    -------
    SunDay

    Raises
    ------
    SettingsError
        The year lies outside what the ephemeris covers.

    Notes
    -----
    The first dawn and sunrise and the last sunset and dusk of the day are told. Heights and
    mountains are left out: at sea level, over a flat horizon, with standard refraction. Good to a
    second in the sky; the air alone may move a sunset by a minute, and by more on grazing days.
    """
    from scipy.interpolate import CubicSpline

    path = sun_path(lon_deg, lat_deg, day, zone)
    start, altitude_deg = path.start, path.altitude_deg
    curve = CubicSpline(path.minutes, altitude_deg)
    turns = curve.derivative().roots(extrapolate=False)
    extremes_deg = np.concatenate((altitude_deg, curve(turns)))

    def crossing(altitude_deg: float, *, rising: bool) -> datetime | None:
        found = [float(root) for root in curve.solve(altitude_deg, extrapolate=False) if (curve(root, 1) > 0) == rising]
        if not found:
            return None
        moment = start + (min(found) if rising else max(found)) * _ONE_MIN
        return moment.astimezone(zone)

    highest_deg, lowest_deg = float(extremes_deg.max()), float(extremes_deg.min())
    return SunDay(
        civil_dawn=crossing(CIVIL_ALTITUDE_DEG, rising=True),
        sunrise=crossing(SUNRISE_ALTITUDE_DEG, rising=True),
        sunset=crossing(SUNRISE_ALTITUDE_DEG, rising=False),
        civil_dusk=crossing(CIVIL_ALTITUDE_DEG, rising=False),
        noon_altitude_deg=highest_deg,
        kind=_kind(highest_deg, lowest_deg),
    )


def _kind(highest_deg: float, lowest_deg: float) -> str:
    if highest_deg < CIVIL_ALTITUDE_DEG:
        return "polar night"
    if highest_deg < SUNRISE_ALTITUDE_DEG:
        return "polar twilight"
    if lowest_deg > SUNRISE_ALTITUDE_DEG:
        return "midnight sun"
    if lowest_deg > CIVIL_ALTITUDE_DEG:
        return "white night"
    return "day and night"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SunPath:
    """Where the sun's centre stands through one local day, both midnights included, without refraction.

    Attributes
    ----------
    start : datetime
        The first midnight, UTC.
    minutes : float64 array of shape (n,)
        Since then, in even steps of about ten minutes.
    azimuth_deg, altitude_deg : float64 arrays of shape (n,)
        Azimuth clockwise from true north.
    """

    start: datetime
    minutes: npt.NDArray[np.float64]
    azimuth_deg: npt.NDArray[np.float64]
    altitude_deg: npt.NDArray[np.float64]


def sun_path(lon_deg: float, lat_deg: float, day: date, zone: tzinfo) -> SunPath:
    """The sun's way over the sky on one local day.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84, at sea level.
    day : date
        The local date, from midnight to midnight of `zone`.
    zone : tzinfo

    Returns
    -------
    SunPath

    Raises
    ------
    SettingsError
        The year lies outside what the ephemeris covers.
    """
    if not YEAR_FIRST <= day.year <= YEAR_LAST:
        raise SettingsError(
            f"the sun is not known for the year {day.year}", fix=f"give a year from {YEAR_FIRST} to {YEAR_LAST}"
        )
    start = datetime.combine(day, time(), tzinfo=zone).astimezone(UTC)
    end = datetime.combine(day + timedelta(days=1), time(), tzinfo=zone).astimezone(UTC)
    length_min = (end - start) / _ONE_MIN
    minutes = np.linspace(0.0, length_min, round(length_min / _STEP_MIN) + 1)
    azimuth_deg, altitude_deg = sun_positions(
        lon_deg, lat_deg, [start + value * _ONE_MIN for value in minutes.tolist()]
    )
    return SunPath(start=start, minutes=minutes, azimuth_deg=azimuth_deg, altitude_deg=altitude_deg)


def arrival_day(lon_deg: float, lat_deg: float, depart: datetime) -> tuple[date, timezone]:
    """The day on which a unit arrives, and the solar zone in which it runs from midnight to midnight.

    The day is the one whose noon, by the sun, falls on the date of the departure, so that dusk after
    midnight (summer time, or a zone from elsewhere) belongs to the evening before.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84.
    depart : datetime
        With its zone.

    Returns
    -------
    day : date
    solar : timezone
        By the sun at this longitude.
    """
    solar = timezone(timedelta(hours=lon_deg / 15.0))
    midnight = datetime.combine(depart.date(), time(), tzinfo=depart.tzinfo)
    day = midnight.astimezone(solar).date()
    if datetime.combine(day, time(12), tzinfo=solar) < midnight:
        day += timedelta(days=1)
    if depart.astimezone(solar).date() < day:
        dusk_before = sun_day(lon_deg, lat_deg, day - timedelta(days=1), solar).civil_dusk
        if dusk_before is not None and dusk_before > depart:
            day -= timedelta(days=1)
    return day, solar


def upper_rim_deg(altitude_deg: npt.ArrayLike) -> npt.NDArray[np.float64]:
    """Where the sun's upper rim is seen, air and all, by the true altitude of its centre.

    0 at the altitude of sunrise, and meant for a sun at about the horizon or above it.

    Notes
    -----
    Refraction by height after Saemundsson 1986 (Sky & Telescope 72:70), from memory, scaled to the 34'
    on the horizon that sunrise is reckoned with. Cold air bends more: by a tenth at -20 °C.
    """
    rim_deg = np.asarray(altitude_deg, dtype=float) + SUN_RADIUS_DEG
    scale = HORIZON_REFRACTION_DEG / _bending(np.array(-HORIZON_REFRACTION_DEG))
    return np.asarray(rim_deg + scale * _bending(np.maximum(rim_deg, -1.0)))


def _bending(height_deg: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
    return np.asarray(1.0 / np.tan(np.radians(height_deg + 10.3 / (height_deg + 5.11))))


def sun_positions(
    lon_deg: float, lat_deg: float, moments: Sequence[datetime]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Where the sun's centre stands, without refraction.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84, at sea level.
    moments : sequence of datetime
        With their zone.

    Returns
    -------
    azimuth_deg, altitude_deg : float64 arrays of shape (len(moments),)
        Azimuth clockwise from true north.
    """
    altitude, azimuth, _ = _seen_from(lon_deg, lat_deg, moments, _sky().sun)
    return np.asarray(azimuth.degrees), np.asarray(altitude.degrees)


def moon_positions(
    lon_deg: float, lat_deg: float, moments: Sequence[datetime]
) -> tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]:
    """Where the moon stands, without refraction, and how wide it looks.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84, at sea level.
    moments : sequence of datetime
        With their zone, in the years that the ephemeris covers.

    Returns
    -------
    altitude_deg, radius_deg : float64 arrays of shape (len(moments),)
        Of its centre as seen from the place; half its width.
    """
    altitude, _, distance = _seen_from(lon_deg, lat_deg, moments, _sky().moon)
    return np.asarray(altitude.degrees), np.degrees(np.arcsin(MOON_RADIUS_KM / distance.km))


def _seen_from(lon_deg: float, lat_deg: float, moments: Sequence[datetime], body: Any) -> tuple[Any, Any, Any]:
    """Altitude, azimuth and distance of a body from a place at sea level, without refraction."""
    from skyfield.api import wgs84

    sky = _sky()
    instants = sky.timescale.from_datetimes([moment.astimezone(UTC) for moment in moments])
    place = sky.earth + wgs84.latlon(lat_deg, lon_deg)
    altitude, azimuth, distance = place.at(instants).observe(body).apparent().altaz()
    return altitude, azimuth, distance


def moon_phase(moment: datetime) -> tuple[float, bool]:
    """Share of the moon's disc that the sun lights, seen from the Earth's middle, and whether it grows.

    Notes
    -----
    (1 + cos i) / 2 with the phase angle i (Meeus 1998, Astronomical Algorithms, chapter 48).
    """
    sky = _sky()
    from_middle = sky.earth.at(sky.timescale.from_datetime(moment.astimezone(UTC)))
    moon, sun = from_middle.observe(sky.moon), from_middle.observe(sky.sun)
    _, moon_lon, _ = moon.apparent().ecliptic_latlon("date")
    _, sun_lon, _ = sun.apparent().ecliptic_latlon("date")
    is_waxing = (moon_lon.degrees - sun_lon.degrees) % 360.0 < 180.0
    return float(moon.fraction_illuminated(sky.sun)), bool(is_waxing)


def dark_spans(lon_deg: float, lat_deg: float, begin: datetime, end: datetime) -> tuple[tuple[datetime, datetime], ...]:
    """The stretches of a time in which the sun stands lower than civil twilight.

    Parameters
    ----------
    lon_deg, lat_deg : float
        WGS 84, at sea level; flat horizon.
    begin, end : datetime
        With their zone; the answer carries the first one's.
    """
    minutes, moments = even_moments(begin, end)
    _, altitude_deg = sun_positions(lon_deg, lat_deg, moments)
    return spans_above(begin, minutes, CIVIL_ALTITUDE_DEG - altitude_deg)


def even_moments(begin: datetime, end: datetime) -> tuple[npt.NDArray[np.float64], list[datetime]]:
    """Moments from one time to another in steps of about ten minutes, with their minutes since the first."""
    length_min = max(0.0, (end - begin) / _ONE_MIN)
    minutes = np.linspace(0.0, length_min, max(4, math.ceil(length_min / _STEP_MIN) + 1))
    return minutes, [begin + value * _ONE_MIN for value in minutes.tolist()]


def spans_above(
    begin: datetime, minutes: npt.NDArray[np.float64], height: npt.NDArray[np.float64]
) -> tuple[tuple[datetime, datetime], ...]:
    """The stretches in which something sampled evenly is above 0, by a cubic spline."""
    from scipy.interpolate import CubicSpline

    if minutes[-1] <= 0.0:
        return ()
    curve = CubicSpline(minutes, height)
    inner = curve.roots(extrapolate=False)
    edges = np.unique(np.concatenate(([0.0], inner[np.isfinite(inner)], [minutes[-1]])))
    spans: list[tuple[float, float]] = []
    for first, last in pairwise(edges.tolist()):
        if curve((first + last) / 2.0) <= 0.0:
            continue
        if spans and spans[-1][1] == first:
            spans[-1] = (spans[-1][0], last)
        else:
            spans.append((first, last))
    return tuple((begin + first * _ONE_MIN, begin + last * _ONE_MIN) for first, last in spans)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sky:
    earth: Any
    sun: Any
    moon: Any
    timescale: Any


@lru_cache(maxsize=1)
def _sky() -> _Sky:
    import skyfield_data
    from skyfield.api import load, load_file

    # Asked for by its place: the package's own function warns of an old Earth-orientation table that isn't read here.
    ephemeris = load_file(str(Path(skyfield_data.__file__).parent / "data" / "de421.bsp"))
    atexit.register(ephemeris.close)
    return _Sky(
        earth=ephemeris["earth"], sun=ephemeris["sun"], moon=ephemeris["moon"], timescale=load.timescale(builtin=True)
    )
