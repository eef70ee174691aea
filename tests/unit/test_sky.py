"""The sun of a day: what holds on any day and in any zone."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, date, datetime, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest

from sitepick.errors import SettingsError
from sitepick.sky import sun_day, sun_positions

ALASKA = timezone(timedelta(hours=-9))
NORWAY = timezone(timedelta(hours=1))


def test_a_winter_day_has_dawn_sunrise_sunset_and_dusk_in_that_order():
    day = sun_day(10.7522, 59.9139, date(2026, 1, 15), NORWAY)
    assert day.civil_dawn < day.sunrise < day.sunset < day.civil_dusk
    assert day.kind == "day and night"


def test_times_carry_the_zone_asked_for():
    day = sun_day(10.7522, 59.9139, date(2026, 1, 15), NORWAY)
    assert day.sunset.utcoffset() == timedelta(hours=1)
    assert day.sunset.date() == date(2026, 1, 15)


def test_west_of_greenwich_the_sunset_of_the_local_day_is_told_though_its_utc_date_is_the_next():
    day = sun_day(-147.72, 64.84, date(2026, 3, 1), ALASKA)
    assert day.sunset.date() == date(2026, 3, 1)
    assert day.sunset.astimezone(UTC).date() == date(2026, 3, 2)


@pytest.mark.parametrize(
    ("lat", "day", "kind"),
    [
        (67.0, date(2026, 2, 15), "day and night"),
        (69.9, date(2026, 6, 21), "midnight sun"),
        (62.0, date(2026, 6, 21), "white night"),
        (69.6, date(2026, 12, 21), "polar twilight"),
        (78.2, date(2026, 12, 21), "polar night"),
    ],
)
def test_each_kind_of_day_is_told_apart(lat, day, kind):
    assert sun_day(20.0, lat, day, NORWAY).kind == kind


def test_in_polar_night_nothing_happens_and_nothing_fails():
    day = sun_day(15.6, 78.2, date(2026, 12, 21), NORWAY)
    assert (day.civil_dawn, day.sunrise, day.sunset, day.civil_dusk) == (None, None, None, None)
    assert day.noon_altitude_deg < -6.0


def test_under_the_midnight_sun_there_is_no_sunset_and_no_dusk():
    day = sun_day(27.0, 69.9, date(2026, 6, 21), NORWAY)
    assert day.sunset is None
    assert day.civil_dusk is None


def test_in_a_white_night_the_sun_sets_and_useful_light_never_ends():
    day = sun_day(20.0, 62.0, date(2026, 6, 21), NORWAY)
    assert day.sunset is not None
    assert day.civil_dusk is None


def test_in_polar_twilight_there_is_useful_light_without_a_sunrise():
    day = sun_day(18.9553, 69.6492, date(2026, 12, 21), NORWAY)
    assert day.sunrise is None
    assert day.civil_dusk - day.civil_dawn > timedelta(hours=4)


def test_noon_altitude_follows_latitude_at_an_equinox():
    day = sun_day(0.0, 65.0, date(2026, 3, 20), UTC)
    assert day.noon_altitude_deg == pytest.approx(25.0, abs=0.3)


def test_a_day_on_which_the_clocks_change_is_read_whole():
    day = sun_day(18.0, 59.3, date(2026, 3, 29), ZoneInfo("Europe/Stockholm"))
    before = sun_day(18.0, 59.3, date(2026, 3, 28), ZoneInfo("Europe/Stockholm"))
    assert day.sunset.astimezone(UTC) - before.sunset.astimezone(UTC) < timedelta(days=1, minutes=5)
    assert day.sunset.hour - before.sunset.hour == 1


def test_the_sun_stands_in_the_south_at_its_highest():
    noon = datetime(2026, 2, 15, 11, 14, tzinfo=UTC)  # near noon by the sun at 15° E
    azimuth, altitude = sun_positions(15.0, 67.0, [noon])
    assert azimuth[0] == pytest.approx(180.0, abs=1.0)
    assert altitude[0] == pytest.approx(sun_day(15.0, 67.0, date(2026, 2, 15), UTC).noon_altitude_deg, abs=0.02)


def test_a_year_that_the_ephemeris_lacks_is_told_with_what_to_do():
    with pytest.raises(SettingsError, match=r"1850.*give a year from"):
        sun_day(20.0, 67.0, date(1850, 1, 1), UTC)


@pytest.mark.slow
def test_importing_the_sky_loads_no_ephemeris():
    code = (
        "import sys, sitepick.sky; sys.exit(any(name.split('.')[0] in ('skyfield', 'scipy') for name in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
