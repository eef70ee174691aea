"""The moon against published and twice-computed values, and against a second library."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import ephem
import pytest

from sitepick.moon import moon_night
from sitepick.sky import HORIZON_REFRACTION_DEG, moon_phase, moon_positions
from tests.helpers.second_sky import SecondSky


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


@pytest.mark.slow
@pytest.mark.parametrize("lat", [0.0, 30.0, 50.0, 60.0, 68.0, 75.0])
def test_height_and_lit_share_agree_with_a_second_library_through_a_year(lat):
    sky = SecondSky(lat, 15.0, ephem.Moon())
    for number in range(0, 365, 5):
        moment = datetime(2026, 1, 1, 12, 0, tzinfo=UTC) + timedelta(days=number, hours=7 * number)
        altitude_deg, _ = moon_positions(15.0, lat, [moment])
        assert altitude_deg[0] == pytest.approx(sky.height_deg(moment), abs=0.002)
        assert moon_phase(moment)[0] == pytest.approx(ephem.Moon(moment.replace(tzinfo=None)).phase / 100.0, abs=0.001)


@pytest.mark.slow
@pytest.mark.parametrize("lat", [0.0, 30.0, 50.0, 60.0, 68.0, 75.0])
def test_every_rise_and_set_agrees_with_a_second_library_within_a_minute_through_a_year(lat):
    """None missed and none too many, but where the moon's turn grazes the horizon by under 20 seconds of arc.

    The libraries' moons stand up to 5 seconds apart and are 1.5 seconds wider in one than in the other.
    """
    sky = SecondSky(lat, 15.0, ephem.Moon(), upper_rim=True, step_min=6)
    compared = grazed = 0
    for number in range(0, 365, 9):
        begin = datetime(2026, 1, 1, 12, 0, tzinfo=UTC) + timedelta(days=number)
        rises, sets, nearness_deg = sky.crossings(begin, begin + timedelta(days=1), -HORIZON_REFRACTION_DEG)
        if nearness_deg < 20.0 / 3600.0:
            grazed += 1
            continue
        night = moon_night(15.0, lat, begin, begin + timedelta(days=1))
        for got, wanted in ((night.rises, rises), (night.sets, sets)):
            assert len(got) == len(wanted), begin
            assert all(abs(a - b) < timedelta(seconds=60) for a, b in zip(got, wanted, strict=True)), begin
            compared += len(got)
    assert compared >= 30
    assert grazed <= 1


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
