"""What marching costs, held against published formulas and values worked from them."""

from __future__ import annotations

import pytest

from sitepick.march.energy import downhill_w, harness_w, kcal, march_w, sinkage_cm, snow_factor, walking_w


@pytest.mark.parametrize(
    ("body_kg", "load_kg", "speed_ms", "grade_pct", "factor", "watts"),
    [
        (70.0, 0.0, 0.0, 0.0, 1.0, 105.0),
        (70.0, 20.0, 1.34, 0.0, 1.0, 362.1),
        (70.0, 20.0, 1.34, 10.0, 1.0, 784.2),
        (80.0, 30.0, 1.0, 0.0, 1.6, 414.94),
        (75.0, 25.0, 1.1, 0.0, 1.8, 461.42),
    ],
)
def test_walking_with_a_load_costs_what_pandolf_givoni_and_goldman_published(
    body_kg, load_kg, speed_ms, grade_pct, factor, watts
):
    """Formula: J Appl Physiol 43:577 (1977); values worked from it by two codes."""
    told = walking_w(body_kg, load_kg, speed_ms, grade_pct, factor)
    assert float(told) == pytest.approx(watts, abs=0.05)
    assert float(march_w(body_kg, load_kg, speed_ms, grade_pct, factor)) == pytest.approx(watts, abs=0.05)


@pytest.mark.parametrize(("grade_pct", "watts"), [(-2.0, 343.96), (-6.0, 292.38), (-10.0, 281.94), (-20.0, 435.84)])
def test_walking_downhill_is_corrected_with_the_sign_of_the_grade(grade_pct, watts):
    """Santee et al. 2001, 2003; (70 kg, 20 kg, 1.34 m/s, blacktop), worked from the formula."""
    assert float(downhill_w(70.0, 20.0, 1.34, grade_pct, 1.0)) == pytest.approx(watts, abs=0.01)
    assert float(march_w(70.0, 20.0, 1.34, grade_pct, 1.0)) == pytest.approx(watts, abs=0.01)


def test_a_fall_saves_between_two_and_twelve_per_cent_and_nothing_above():
    level = float(march_w(70.0, 20.0, 1.34, 0.0, 1.0))
    assert float(march_w(70.0, 20.0, 1.34, -1.9, 1.0)) == level
    assert all(0.0 < float(march_w(70.0, 20.0, 1.34, grade, 1.0)) < level for grade in (-2.0, -5.0, -10.0, -12.0))
    steep = [float(march_w(70.0, 20.0, 1.34, grade, 1.0)) for grade in (-12.0, -16.0, -20.0, -30.0)]
    assert steep == sorted(steep)
    assert steep[-1] > level


@pytest.mark.parametrize("grade_pct", [-60.0, -30.0, -12.0, -6.0, -2.0, -1.0])
@pytest.mark.parametrize("speed_ms", [0.0, 0.1, 0.4, 1.3, 2.5])
@pytest.mark.parametrize("load_kg", [0.0, 25.0, 200.0])
def test_no_fall_costs_less_than_standing_or_more_than_the_same_climb(grade_pct, speed_ms, load_kg):
    told = float(march_w(80.0, load_kg, speed_ms, grade_pct, 4.17))
    assert told >= float(walking_w(80.0, load_kg, 0.0, 0.0, 1.0))
    assert told <= float(walking_w(80.0, load_kg, speed_ms, -grade_pct, 4.17)) + 1e-9


@pytest.mark.parametrize(("footprint_cm", "factor"), [(0, 1.30), (10, 2.12), (20, 2.94), (30, 3.76), (35, 4.17)])
def test_snow_costs_by_the_depth_of_the_footprint(footprint_cm, factor):
    """1.30 + 0.082 D, Pandolf et al. 1976, from memory."""
    assert float(snow_factor(footprint_cm)) == pytest.approx(factor, abs=1e-9)


def test_snow_deeper_than_was_measured_costs_no_more_than_the_deepest_that_was():
    assert float(snow_factor(80.0)) == float(snow_factor(35.0)) == pytest.approx(4.17)


@pytest.mark.parametrize(("snow_cm", "boot_cm"), [(10.0, 8.314), (20.0, 16.627), (30.0, 24.941)])
def test_a_boot_sinks_as_the_density_of_the_snow_lets_it(snow_cm, boot_cm):
    """z = h (1 - density / 1.186 g/cm³), ERDC review of load carriage; 0.2 g/cm³."""
    assert sinkage_cm(snow_cm, 200.0, "foot") == pytest.approx(boot_cm, abs=0.001)
    assert 0.0 < sinkage_cm(snow_cm, 200.0, "ski") < sinkage_cm(snow_cm, 200.0, "snowshoe") < boot_cm


def test_a_sled_costs_its_drag_over_what_a_body_turns_into_work():
    """60 kg at a drag of 0.10: 58.9 N, 41.2 W at the trace, 164.8 W of the bodies at 25 %; worked from physics."""
    assert float(harness_w(60.0, 0.10, 0.7, 0.0)) == pytest.approx(164.8, abs=0.05)
    assert float(harness_w(60.0, 0.10, 0.7, 10.0)) == pytest.approx(2 * 164.8, abs=0.1)
    assert float(harness_w(60.0, 0.10, 0.7, -15.0)) == 0.0


def test_watts_over_minutes_are_food_energy():
    """362.1 W are 311.3 kcal an hour."""
    assert kcal(362.1, 60.0) == pytest.approx(311.3, abs=0.05)
    assert kcal([100.0, 200.0], [30.0, 30.0]) == pytest.approx(kcal(150.0, 60.0))
