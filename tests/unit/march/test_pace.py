"""Pace by mode, trail, load and slope."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.march.pace import pace_of, slope_factor, slope_table, unladen_pace
from sitepick.plan.model import MODES, Weather
from tests.helpers.made import make_plan

SOME_SNOW, DEEP_SNOW = Weather(snow_cm=10.0), Weather(snow_cm=60.0)
MARCH = replace(make_plan().march, has_sled=False)


def pace(weather=DEEP_SNOW, **march):
    return pace_of(replace(MARCH, **march), weather)


@pytest.mark.parametrize(
    ("mode", "unbroken_kmh", "broken_kmh"), [("snowshoe", 2.4, 3.2), ("ski", 3.2, 4.8), ("foot", 0.8, 3.2)]
)
def test_level_rates_in_deep_snow(mode, unbroken_kmh, broken_kmh):
    """Middle of a cold-region planning table, from memory."""
    got = pace(mode=mode)
    assert (got.unbroken_kmh, got.broken_kmh) == pytest.approx((unbroken_kmh, broken_kmh), rel=0.01)


@pytest.mark.parametrize(
    ("snow_cm", "low_kmh", "high_kmh"), [(0.0, 3.2, 3.2), (15.0, 1.6, 3.2), (30.0, 1.6, 3.2), (60.0, 0.4, 1.2)]
)
def test_settled_snow_holds_up_people_on_foot_as_the_planning_table_says(snow_cm, low_kmh, high_kmh):
    """1.6-3.2 km/h up to 30 cm of snow, 0.4-1.2 in deeper: a cold-region planning table, from memory."""
    assert low_kmh <= pace(Weather(snow_cm=snow_cm), mode="foot").unbroken_kmh <= high_kmh


def test_a_loaded_sled_leaves_seven_tenths_of_the_speed():
    assert pace(mode="ski", has_sled=True).unbroken_kmh == pytest.approx(0.7 * 3.2)


def test_a_sled_behind_a_vehicle_doesn_t_slow_it():
    assert pace(mode="vehicle", has_sled=True) == pace(mode="vehicle")


def test_the_users_own_speed_holds_on_the_routes_trail_load_included():
    assert pace(mode="ski", level_kmh=2.0, has_sled=True).unbroken_kmh == pytest.approx(2.0)
    broken = pace(mode="ski", level_kmh=3.0, trail_broken=True)
    assert broken.broken_kmh == pytest.approx(3.0)
    assert broken.unbroken_kmh == pytest.approx(2.0)  # off the route, in the mode's proportion 3.2 to 4.8


def test_people_who_fetch_water_leave_the_sled_behind():
    with_sled = replace(MARCH, mode="ski", has_sled=True)
    assert unladen_pace(with_sled, DEEP_SNOW).unbroken_kmh == pytest.approx(3.2)
    assert unladen_pace(replace(MARCH, mode="vehicle"), SOME_SNOW).mode == "foot"
    assert unladen_pace(replace(MARCH, mode="ski"), DEEP_SNOW) == pace(mode="ski")


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("has_sled", [False, True])
def test_the_level_is_where_the_slope_factor_is_one(mode, has_sled):
    assert float(slope_factor(pace(mode=mode, has_sled=has_sled), 0.0)) == pytest.approx(1.0)


@pytest.mark.parametrize("mode", MODES)
def test_uphill_never_gets_quicker_as_it_gets_steeper(mode):
    factor = slope_factor(pace(mode=mode), np.linspace(0.0, 1.0, 500))
    assert (np.diff(factor[np.isfinite(factor)]) >= 0.0).all()


@pytest.mark.parametrize("mode", MODES)
def test_downhill_gains_at_most_a_fifth(mode):
    assert slope_factor(pace(mode=mode), np.linspace(-1.0, 0.0, 500)).min() >= 1.0 / 1.2


@pytest.mark.parametrize("mode", ["foot", "snowshoe", "ski"])
def test_a_sled_is_slower_on_every_slope_and_most_of_all_uphill(mode):
    tangent = np.linspace(-0.36, 0.36, 73)
    with_sled, without = pace(mode=mode, has_sled=True), pace(mode=mode)
    ratio = slope_factor(with_sled, tangent) / slope_factor(without, tangent)
    assert (ratio >= 1.0).all()
    # Half the speed of that without a sled, on more than 8 % uphill: common practice.
    speed_share = with_sled.unbroken_kmh / without.unbroken_kmh / ratio
    np.testing.assert_allclose(speed_share[tangent > 0.08], 0.5)


@pytest.mark.parametrize(
    ("mode", "has_sled", "steepest_deg"),
    [
        ("foot", False, 30.0),
        ("snowshoe", False, 30.0),
        ("ski", False, 25.0),
        ("ski", True, 20.0),
        ("vehicle", False, 15.0),
    ],
)
def test_too_steep_is_a_wall_both_up_and_down(mode, has_sled, steepest_deg):
    """Common practice."""
    got = pace(mode=mode, has_sled=has_sled)
    for degrees in (steepest_deg + 0.1, -steepest_deg - 0.1):
        assert np.isinf(slope_factor(got, np.tan(np.radians(degrees))))
    assert np.isfinite(slope_factor(got, np.tan(np.radians(steepest_deg - 0.1))))


def test_the_table_reads_the_factor_from_full_fall_to_full_rise():
    walker = pace(mode="foot")
    table = slope_table(walker)
    assert table[1024] == 1.0
    assert table[1024 + 102] == pytest.approx(float(slope_factor(walker, 102 / 1024)))
    assert np.isinf(table[[0, -1]]).all()


def test_there_and_back_costs_the_same_up_first_or_down_first():
    table = slope_table(pace(mode="ski"), there_and_back=True)
    np.testing.assert_array_equal(table, table[::-1])
    assert table[1024] == 2.0
