"""Wind chill and frostbite say what a person in the cold can act on."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitepick.terrain import frostbite, wind_chill_c
from sitepick.terrain.chill import BAND_NAMES, BAND_NOT_KNOWN, chill_layers

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


@pytest.mark.parametrize("temperature_c", [-42.0, -17.5, -3.0, 4.0, 15.0])
def test_layers_of_cold_tell_each_cell_what_one_place_is_told(temperature_c):
    wind_kmh = np.append(np.linspace(0.0, 90.0, 599), np.nan).astype(np.float32).reshape(300, 2)
    chill_c, band = chill_layers(temperature_c, wind_kmh)
    for wind, chill, number in zip(wind_kmh.flat[:-1], chill_c.flat, band.flat, strict=False):
        assert chill == pytest.approx(wind_chill_c(temperature_c, float(wind)), abs=1e-4)
        one = frostbite(temperature_c, float(wind))
        assert BAND_NAMES[number] == f"{one.band}: {one.text}"
    assert np.isnan(chill_c[-1, -1])
    assert band[-1, -1] == BAND_NOT_KNOWN
