"""Every factor of the pace does what a leader expects, and none the contrary."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.errors import SettingsError
from sitepick.march.pace import (
    SINKING_FRAC,
    boot_sinking_cm,
    minutes_per_km,
    pace_of,
    sinking_frac,
    slope_factor,
    trail_is_broken,
    unladen_pace,
)
from sitepick.plan.model import Weather
from sitepick.plan.pace import (
    FUNCTION_KEYS,
    HAS_OWN_LEVEL,
    MODE_PACES,
    SLOPE_FUNCTIONS,
    ModePace,
    PaceSettings,
    functions_for,
)
from tests.helpers.made import make_plan

MARCH = replace(make_plan().march, has_sled=False)
SNOW = Weather(snow_cm=60.0)


def pace(weather=SNOW, *, settings=None, **march):
    return pace_of(replace(MARCH, pace=PaceSettings(**(settings or {})), **march), weather)


def with_function(key, mode, **values):
    return {mode: replace(MODE_PACES[mode], function=key, **values)}


@pytest.mark.parametrize("function", SLOPE_FUNCTIONS, ids=lambda function: function.key)
def test_each_function_tells_its_source_and_what_it_holds_for(function):
    for text in (function.source, function.limits):
        assert len(text) > 20
        assert text.endswith(".")
    assert function.modes


@pytest.mark.parametrize("mode", MODE_PACES)
def test_each_mode_has_one_default_among_the_functions_that_serve_it(mode):
    assert MODE_PACES[mode].function in functions_for(mode)


def usable():
    return [(key, mode) for mode in MODE_PACES for key in functions_for(mode)]


@pytest.mark.parametrize(("key", "mode"), usable())
def test_steeper_up_never_gets_quicker_and_downhill_gains_at_most_a_fifth(key, mode):
    settings = with_function(key, mode)
    got = pace(
        settings=settings | ({"is_towed": True} if mode == "tow" else {}), mode="vehicle" if mode == "tow" else mode
    )
    up = slope_factor(got, np.linspace(0.0, 0.9, 300))
    assert (np.diff(up[np.isfinite(up)]) >= 0.0).all()
    assert slope_factor(got, np.linspace(-0.9, 0.0, 300)).min() >= 1.0 / 1.2 - 1e-12


@pytest.mark.parametrize("key", [key for key in functions_for("foot") if key in HAS_OWN_LEVEL])
def test_the_level_speed_may_be_the_functions_own(key):
    own = pace(Weather(), mode="foot", settings=with_function(key, "foot", level_from="function"))
    expected = {"tobler": (3.02, 5.04), "naismith": (5.0, 5.0), "rees": (4.8, 4.8), "winter_card": (3.0, 3.0)}
    unbroken_kmh, broken_kmh = expected.get(key, (2.80, 3.95))
    assert (own.unbroken_kmh, own.broken_kmh) == pytest.approx((unbroken_kmh, broken_kmh), abs=0.005)


def test_edited_level_speeds_and_walls_are_used():
    got = pace(
        mode="ski", settings={"ski": replace(MODE_PACES["ski"], unbroken_kmh=2.0, broken_kmh=5.0, steepest_deg=18.0)}
    )
    assert (got.unbroken_kmh, got.broken_kmh, got.steepest_deg) == (2.0, 5.0, 18.0)
    assert np.isinf(slope_factor(got, np.tan(np.radians(18.5))))


@pytest.mark.parametrize("mode", ["foot", "snowshoe", "ski", "vehicle"])
def test_deeper_snow_is_never_quicker_and_leaves_a_broken_trail_alone(mode):
    depths = [0.0, 5.0, 20.0, 40.0, 80.0, 120.0, 300.0, 1000.0]
    got = [pace(Weather(snow_cm=depth), mode=mode) for depth in depths]
    assert (np.diff([each.unbroken_kmh for each in got]) <= 0.0).all()
    assert len({each.broken_kmh for each in got}) == 1
    assert got[-1].unbroken_kmh < got[0].unbroken_kmh
    assert got[-1].unbroken_kmh > 0.3  # wading, but moving


@pytest.mark.parametrize("key", SINKING_FRAC)
def test_sinking_leaves_a_share_that_falls_from_one(key):
    depths, shares = SINKING_FRAC[key]
    assert shares[0] == 1.0
    assert (np.diff(depths) > 0.0).all()
    assert (np.diff(shares) < 0.0).all()
    assert sinking_frac(key, None) == 1.0


def test_a_measured_sinking_goes_before_the_reckoned_one():
    assert boot_sinking_cm(PaceSettings(sinking_cm=8.0), SNOW) == 8.0
    assert pace(mode="foot", settings={"sinking_cm": 5.0}).unbroken_kmh == pytest.approx(3.2)


def test_firmer_snow_sinks_less():
    soft, firm = Weather(snow_cm=50.0, snow_density_kg_m3=100.0), Weather(snow_cm=50.0, snow_density_kg_m3=400.0)
    assert pace(firm, mode="foot").unbroken_kmh > pace(soft, mode="foot").unbroken_kmh


def test_a_lighter_load_is_never_slower_and_none_is_free_of_loss():
    speeds = [pace(settings={"load_kg": load}).broken_kmh for load in (0.0, 10.0, 18.0, 25.0, 40.0, 80.0)]
    assert (np.diff(speeds) <= 0.0).all()
    assert speeds[0] == speeds[2] == 4.8
    assert speeds[-1] == pytest.approx(0.3 * 4.8)


def test_a_lighter_sled_or_more_people_at_it_is_never_slower():
    def kmh(**settings):
        return pace(has_sled=True, settings=settings).broken_kmh

    weights = [kmh(sled_kg=weight) for weight in (0.0, 30.0, 60.0, 90.0, 150.0, 300.0)]
    assert (np.diff(weights) < 0.0).all()
    assert weights[0] == 4.8
    assert weights[3] == pytest.approx(0.7 * 4.8)
    assert (np.diff([kmh(sled_team_count=count) for count in (1, 2, 3, 5, 12)]) > 0.0).all()


def test_uphill_costs_a_heavy_sled_more():
    light, heavy = (pace(has_sled=True, settings={"sled_kg": weight}) for weight in (30.0, 150.0))
    assert float(slope_factor(heavy, 0.1)) > float(slope_factor(light, 0.1))
    assert float(slope_factor(light, -0.1)) == float(slope_factor(heavy, -0.1))


def test_a_vehicle_minds_neither_load_nor_sled():
    assert pace(mode="vehicle", settings={"load_kg": 60.0}) == pace(mode="vehicle")


def test_people_towed_behind_a_vehicle_are_slower_and_stay_off_steep_ground():
    riding, towed = pace(mode="vehicle"), pace(mode="vehicle", settings={"is_towed": True})
    assert towed.broken_kmh < riding.broken_kmh
    assert towed.steepest_deg < riding.steepest_deg


def test_people_who_fetch_water_leave_their_load_behind():
    loaded = replace(MARCH, pace=PaceSettings(load_kg=40.0))
    assert unladen_pace(loaded, SNOW).broken_kmh == pytest.approx(4.8)


def test_the_pace_in_one_formula():
    got = pace(has_sled=True)
    level = 60.0 / (0.7 * 3.2)
    assert float(minutes_per_km(got, tangent=0.0)) == pytest.approx(level)
    assert float(minutes_per_km(got, tangent=0.0, going=1.2)) == pytest.approx(1.2 * level)
    assert float(minutes_per_km(got, tangent=0.0, is_dark=True)) == pytest.approx(level / 0.65)
    assert float(minutes_per_km(got, tangent=0.0, is_broken=True)) == pytest.approx(60.0 / (0.7 * 4.8))
    assert float(minutes_per_km(got, tangent=0.08)) == pytest.approx(
        level * 2.7 * 0.7 / 0.5
    )  # 27 against 10 min up 8 %
    assert np.isinf(minutes_per_km(got, tangent=0.5))


def test_a_lead_party_makes_the_routes_trail_a_broken_one():
    assert trail_is_broken(replace(MARCH, pace=PaceSettings(breaking="lead_party")))
    assert trail_is_broken(replace(MARCH, trail_broken=True))
    assert not trail_is_broken(MARCH)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"load_kg": 200.0}, "load on each back is 200 kg, outside 0 to 80 kg"),
        ({"load_kg": -1.0}, "load on each back is -1 kg"),
        ({"load_kg": float("nan")}, "load on each back is not a number"),
        ({"load_free_kg": 200.0}, "load that costs no speed is 200 kg"),
        ({"load_loss_frac": 2.0}, "speed lost for each 4.5 kg more is 2"),
        ({"sled_kg": 1000.0}, "a loaded sled weighs is 1000 kg"),
        ({"sled_team_count": 0}, "people at each sled is 0"),
        ({"sled_frac": 0.0}, "speed with 30 kg of sled a head is 0"),
        ({"sled_frac": 0.4}, "no quicker uphill"),
        ({"sled_uphill_frac": 0.0}, "the same uphill is 0"),
        ({"sled_uphill_percent": 0.0}, "uphill for a sled from is 0 %"),
        ({"sled_steepest_deg": 90.0}, "steepest ground for a sled is 90 °"),
        ({"night_frac": 0.0}, "speed in the dark is 0"),
        ({"sinking_cm": 300.0}, "a boot sinks is 300 cm"),
        ({"white_ice_cm": -5.0}, "white ice is -5 cm"),
        ({"vehicle_kg": 0.0}, "the loaded vehicle weighs is 0 kg"),
        ({"lead_margin_min": -5.0}, "head start of the lead party is -5 min"),
        ({"breaking": "magic"}, "who breaks the trail is 'magic'"),
        ({"ski": MODE_PACES["foot"]}, "slopes by Tobler 1993 don't serve the mode ski"),
    ],
)
def test_nonsense_is_refused_in_one_sentence(values, words):
    with pytest.raises(SettingsError) as told:
        PaceSettings(**values)
    assert words in str(told.value)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"function": "guess"}, "slopes by is 'guess'"),
        ({"unbroken_kmh": 0.0}, "speed on an unbroken trail is 0 km/h"),
        ({"broken_kmh": 900.0}, "speed on a broken trail is 900 km/h"),
        ({"steepest_deg": 80.0}, "steepest ground is 80 °"),
        ({"level_from": "nowhere"}, "level speed from is 'nowhere'"),
        ({"function": "vehicle_grade", "level_from": "function"}, "gives no speed on the level"),
    ],
)
def test_a_mode_that_makes_no_sense_is_refused_in_one_sentence(values, words):
    usual = {"function": "tobler", "unbroken_kmh": 3.0, "broken_kmh": 4.0, "steepest_deg": 25.0}
    with pytest.raises(SettingsError) as told:
        ModePace(**{**usual, **values})
    assert words in str(told.value)


def test_every_function_is_worked_out_somewhere():
    from sitepick.march.functions import MINUTES_PER_KM

    assert tuple(MINUTES_PER_KM) == FUNCTION_KEYS
