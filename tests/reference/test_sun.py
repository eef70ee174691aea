"""Sun and twilight against published values and a second library."""

from __future__ import annotations

import math
from datetime import UTC, date, datetime, timedelta, timezone

import ephem
import pytest

from sitepick.sky import CIVIL_ALTITUDE_DEG, SUNRISE_ALTITUDE_DEG, sun_day, sun_positions
from tests.helpers.second_sky import SecondSky

# Computed twice: from the JPL ephemeris DE421 and from the low-precision equations of Meeus, which agree
# within 8 s on every row. No printed almanac was at hand.
ROWS = [
    # north, east, date, sunrise, sunset, civil dawn, civil dusk; UTC
    (59.9139, 10.7522, "2026-01-15", "08:04:00", "14:49:17", "07:11:27", "15:41:52"),
    (67.8558, 20.2253, "2026-02-15", "06:56:23", "14:51:19", "05:55:23", "15:52:28"),
    (67.8558, 20.2253, "2026-12-21", None, None, "07:56:01", "13:18:14"),
    (69.6492, 18.9553, "2026-12-21", None, None, "08:31:15", "12:53:10"),
    (62.4540, -114.3718, "2026-12-21", "17:07:01", "22:04:24", "15:58:49", "23:12:36"),
    (69.9078, 27.0289, "2026-06-21", None, None, None, None),
    (0.0, 0.0, "2026-03-20", "06:04:11", "18:10:41", "05:43:31", "18:31:21"),
]


@pytest.mark.parametrize(("lat", "lon", "day", "sunrise", "sunset", "dawn", "dusk"), ROWS)
def test_sun_times_agree_with_values_computed_in_two_ways(lat, lon, day, sunrise, sunset, dawn, dusk):
    told = sun_day(lon, lat, date.fromisoformat(day), UTC)
    for got, wanted in (
        (told.sunrise, sunrise),
        (told.sunset, sunset),
        (told.civil_dawn, dawn),
        (told.civil_dusk, dusk),
    ):
        if wanted is None:
            assert got is None
        else:
            assert abs(got - datetime.fromisoformat(f"{day}T{wanted}+00:00")) <= timedelta(seconds=8)


def test_polar_twilight_noon_stands_3_09_degrees_below_the_horizon():
    told = sun_day(18.9553, 69.6492, date(2026, 12, 21), UTC)
    assert told.noon_altitude_deg == pytest.approx(-3.09, abs=0.01)


def test_alaskan_sunset_of_the_local_day():
    """64.84° N 147.72° W, 1 March 2026: 03:08:31 UTC on the 2nd (computed in two ways)."""
    told = sun_day(-147.72, 64.84, date(2026, 3, 2), UTC)
    assert abs(told.sunset - datetime(2026, 3, 2, 3, 8, 31, tzinfo=UTC)) < timedelta(seconds=8)


def test_sun_position_meets_the_published_anchor():
    """Reda & Andreas 2004 (NREL/TP-560-34302), worked example: zenith 50.11162°, azimuth 194.34024°.

    Their zenith is refracted (820 hPa, 11 °C) by their own formula, which is taken off here.
    """
    azimuth, altitude = sun_positions(-105.1786, 39.742476, [datetime(2003, 10, 17, 19, 30, 30, tzinfo=UTC)])
    bent = 90.0 - 50.11162
    refraction = (
        820.0 / 1010.0 * 283.0 / (273.0 + 11.0) * 1.02 / (60.0 * math.tan(math.radians(bent + 10.3 / (bent + 5.11))))
    )
    assert azimuth[0] == pytest.approx(194.34024, abs=0.005)
    assert altitude[0] == pytest.approx(bent - refraction, abs=0.005)


@pytest.mark.slow
@pytest.mark.parametrize("lat", [0.0, 15.0, 30.0, 45.0, 55.0, 60.0, 65.0, 70.0, 75.0])
def test_a_second_library_agrees_within_a_minute_through_the_year(lat):
    sky, zone = SecondSky(lat, 15.0, ephem.Sun()), timezone(timedelta(hours=1))
    compared = 0
    for number in range(0, 365, 23):
        day = date(2026, 1, 4) + timedelta(days=number)
        told = sun_day(15.0, lat, day, zone)
        begin = datetime.combine(day, datetime.min.time(), tzinfo=zone)
        for level_deg, first, last in (
            (SUNRISE_ALTITUDE_DEG, told.sunrise, told.sunset),
            (CIVIL_ALTITUDE_DEG, told.civil_dawn, told.civil_dusk),
        ):
            rises, falls, nearness_deg = sky.crossings(begin, begin + timedelta(days=1), level_deg)
            assert nearness_deg > 1.0 / 3600.0  # no day of these grazes
            for got, wanted in ((first, rises[:1]), (last, falls[-1:])):
                assert (got is None) == (not wanted), day
                if got is not None:
                    assert abs(got - wanted[0]) < timedelta(seconds=60), day
                    compared += 1
    assert compared > 20
