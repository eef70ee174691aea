"""The moon against published and twice-computed values, and against a second library."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import pytest

from sitepick.moon import moon_night
from sitepick.sky import moon_phase, moon_positions

ephem = pytest.importorskip("ephem")


@pytest.mark.parametrize(
    ("moment", "lit_frac"),
    [
        (datetime(1992, 4, 12, 0, 0, tzinfo=UTC), 0.6786),  # Meeus 1998, example 48.a, from memory
        (datetime(2026, 1, 3, 12, 0, tzinfo=UTC), 0.9986),  # the rest computed in two ways: DE421 and PyEphem
        (datetime(2026, 1, 18, 12, 0, tzinfo=UTC), 0.0021),
        (datetime(2026, 1, 25, 18, 0, tzinfo=UTC), 0.4506),
    ],
)
def test_lit_share(moment, lit_frac):
    assert moon_phase(moment)[0] == pytest.approx(lit_frac, abs=0.0005)


def test_the_moon_grows_from_new_to_full_and_shrinks_after():
    """New on 18 January 2026 19:52 UTC, full on 3 January 10:03 UTC (computed in two ways)."""
    assert moon_phase(datetime(2026, 1, 3, 9, 50, tzinfo=UTC))[1]
    assert not moon_phase(datetime(2026, 1, 3, 10, 20, tzinfo=UTC))[1]
    assert not moon_phase(datetime(2026, 1, 18, 19, 40, tzinfo=UTC))[1]
    assert moon_phase(datetime(2026, 1, 18, 20, 5, tzinfo=UTC))[1]


def place(lat, lon, moment):
    """A place as PyEphem has it, with the horizon lowered as here."""
    there = ephem.Observer()
    there.lat, there.lon, there.elevation, there.pressure, there.horizon = str(lat), str(lon), 0, 0, "-0:34"
    there.date = moment
    return there


@pytest.mark.slow
@pytest.mark.parametrize("lat", [0.0, 30.0, 50.0, 60.0, 68.0, 75.0])
def test_height_lit_share_rise_and_set_agree_with_a_second_library_through_a_year(lat):
    compared = 0
    for number in range(0, 365, 19):
        begin = datetime(2026, 1, 1, 12, 0, tzinfo=UTC) + timedelta(days=number)
        there = place(lat, 15.0, begin)
        moon = ephem.Moon(there)
        altitude_deg, _ = moon_positions(15.0, lat, [begin])
        assert altitude_deg[0] == pytest.approx(math.degrees(moon.alt), abs=0.02)
        assert moon_phase(begin)[0] == pytest.approx(moon.phase / 100.0, abs=0.001)
        night = moon_night(15.0, lat, begin, begin + timedelta(days=1))
        for got, next_event in ((night.rises, there.next_rising), (night.sets, there.next_setting)):
            there.date = begin
            try:
                wanted = next_event(ephem.Moon()).datetime().replace(tzinfo=UTC)
            except (ephem.NeverUpError, ephem.AlwaysUpError):
                continue
            if wanted < begin + timedelta(days=1):
                # The moon crosses the horizon of 75 N so flatly that a hundredth of a degree is a minute.
                slack = timedelta(seconds=60 if lat < 66 else 180)
                assert got, (lat, begin)
                assert min(abs(moment - wanted) for moment in got) < slack, (lat, begin)
                compared += 1
    assert compared >= 15


def test_up_all_night_and_down_all_night_far_north():
    """At 75 N the winter's full moon does not set and its new moon does not rise (common practice)."""
    full = moon_night(20.0, 75.0, datetime(2026, 1, 3, 12, tzinfo=UTC), datetime(2026, 1, 4, 12, tzinfo=UTC))
    assert full.up == ((full.begin, full.end),)
    assert full.rises == full.sets == ()
    new = moon_night(20.0, 75.0, datetime(2026, 1, 17, 12, tzinfo=UTC), datetime(2026, 1, 18, 12, tzinfo=UTC))
    assert new.up == ()
    assert new.highest_deg < 0.0


def test_moonlight_counts_dark_minutes_with_enough_of_the_moon_up():
    begin = datetime(2026, 1, 25, 8, tzinfo=UTC)  # 45 % lit
    night = moon_night(20.2, 67.8, begin, begin + timedelta(days=1))
    sets = night.sets[0]
    dark = ((sets - timedelta(minutes=40), sets + timedelta(minutes=20)),)
    assert night.moonlit_min(dark) == pytest.approx(40.0)
    thin = moon_night(20.2, 67.8, begin - timedelta(days=5), begin - timedelta(days=4))  # 4 % lit
    assert thin.moonlit_min(((thin.begin, thin.end),)) == 0.0
    assert thin.up_min(((thin.begin, thin.end),)) > 0.0
