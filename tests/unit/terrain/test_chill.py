"""Wind chill and frostbite say what a person in the cold can act on."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitepick.terrain import frostbite, wind_chill_c

COLD_C = st.floats(-60.0, 10.0)
WIND_KMH = st.floats(0.0, 120.0)


@given(COLD_C, WIND_KMH)
def test_wind_never_warms(temperature_c, wind_kmh):
    assert wind_chill_c(temperature_c, wind_kmh) <= temperature_c


@given(COLD_C, WIND_KMH, st.floats(0.1, 40.0))
def test_more_wind_is_never_warmer(temperature_c, wind_kmh, more_kmh):
    # The two forms of the index meet at 5 km/h with a step of a tenth of a degree.
    assert wind_chill_c(temperature_c, wind_kmh + more_kmh) <= wind_chill_c(temperature_c, wind_kmh) + 0.15


@given(COLD_C)
def test_still_air_feels_as_cold_as_it_is(temperature_c):
    assert wind_chill_c(temperature_c, 0.0) == temperature_c


def test_warm_air_has_no_chill():
    assert wind_chill_c(15.0, 60.0) == 15.0


def test_a_negative_wind_is_our_own_mistake():
    with pytest.raises(ValueError, match="wind"):
        wind_chill_c(-10.0, -1.0)


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh", "band"),
    [(5.0, 3.0, "none"), (-5.0, 3.0, "low"), (-10.0, 20.0, "moderate"), (-20.0, 30.0, "high"),
     (-30.0, 30.0, "very high"), (-35.0, 35.0, "severe"), (-40.0, 40.0, "extreme")],
)  # fmt: skip
def test_bands_rise_with_the_cold(temperature_c, wind_kmh, band):
    assert frostbite(temperature_c, wind_kmh).band == band


@pytest.mark.parametrize(
    ("temperature_c", "wind_kmh"), [(-30.0, 25.0), (-15.0, 40.0), (-30.0, 10.0), (-30.0, 81.0), (2.0, 50.0)]
)
def test_no_minutes_outside_the_range_of_the_formula(temperature_c, wind_kmh):
    assert frostbite(temperature_c, wind_kmh).minutes is None


@given(st.floats(-50.0, -15.1), st.floats(25.1, 60.0))
def test_colder_freezes_sooner(temperature_c, wind_kmh):
    assert 0.0 < frostbite(temperature_c - 1.0, wind_kmh).minutes < frostbite(temperature_c, wind_kmh).minutes
