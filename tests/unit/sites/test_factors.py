"""Measures, scores, reasons and cautions of one piece of ground."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.plan.edits import with_values
from sitepick.plan.factor import Factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import FACTOR_NAMES, MAIN_NAMES
from sitepick.sites.candidates import Piece
from sitepick.sites.danger import site_cautions
from sitepick.sites.factors import READERS, measure_piece, score_bounds, score_frac
from sitepick.sites.reading import PieceGround
from sitepick.sites.reason import reason_for
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

SIZE = 12


def piece(capacity: int = 7) -> Piece:
    return Piece(cells=np.argwhere(np.ones((SIZE, SIZE), bool)), capacity=capacity)


def measures_of(plan=None, *, water_min=10.0, capacity=7, need_count=5, **terrain):
    ground = make_ground(np.full((SIZE, SIZE), 300.0), SPRUCE)
    on = PieceGround(
        plan=plan or make_plan(),
        ground=ground,
        terrain=make_terrain(ground, **terrain),
        march=make_march(make_plan(), ground),
        water_min=np.full((SIZE, SIZE), water_min, np.float32),
        water_limit_min=60.0,
        piece=piece(capacity),
        need_count=need_count,
    )
    return {measure.name: measure for measure in measure_piece(on)}


def total(measures):
    return sum(measure.weight * measure.score for measure in measures.values())


def test_factors_are_told_in_the_order_of_the_plan():
    assert tuple(READERS) == tuple(FACTOR_WORDS) == FACTOR_NAMES
    assert tuple(measures_of()) == MAIN_NAMES


# Common practice, as the plan's default curves say it.
@pytest.mark.parametrize(
    ("name", "value", "score"),
    [("forest", 0.6, 0.8), ("slope", 3.0, 0.8), ("wind", 0.2, 0.9), ("water", 15.0, 0.7), ("room", 3.0, 0.8)],
)
def test_a_score_lies_on_the_curve(name, value, score):
    assert score_frac(getattr(make_plan().preferences, name), value) == pytest.approx(score)


@pytest.mark.slow
@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    evergreen=st.floats(0, 1), slope=st.floats(0, 5), wind=st.floats(0.05, 0.9), water=st.floats(0, 59),
    room=st.integers(0, 9), better=st.floats(0, 1),
)  # fmt: skip
def test_better_ground_never_lowers_a_site(evergreen, slope, wind, water, room, better):
    worse = measures_of(
        evergreen_frac=evergreen, slope_30m_deg=slope, wind_share=wind, water_min=water, capacity=5 + room
    )
    good = measures_of(
        evergreen_frac=evergreen + (1 - evergreen) * better, slope_30m_deg=slope * (1 - better),
        wind_share=wind * (1 - better), water_min=water * (1 - better), capacity=5 + room + round(3 * better),
    )  # fmt: skip
    assert total(good) >= total(worse) - 1e-6


def test_bounds_hold_for_curves_that_rise_and_curves_that_fall():
    rising = Factor(weight=1.0, curve=((0.0, 0.0), (1.0, 1.0)))
    falling = Factor(weight=1.0, curve=((0.0, 1.0), (1.0, 0.0)))
    assert score_bounds(rising, 0.2, 0.7) == pytest.approx((0.2, 0.7))
    assert score_bounds(falling, 0.2, 0.7) == pytest.approx((0.3, 0.8))


def test_one_windy_cell_is_past_the_limit_though_the_mean_is_not():
    worst = np.full((SIZE, SIZE), 0.5, np.float32)
    worst[3, 3] = 1.2
    assert not measures_of(wind_share_worst=worst)["wind"].within_limit
    assert measures_of(wind_share_worst=0.9)["wind"].within_limit


def test_leaf_type_known_on_half_the_ground_is_enough():
    evergreen = np.full((SIZE, SIZE), 0.8, np.float32)
    evergreen[:6] = np.nan
    assert measures_of(evergreen_frac=evergreen)["forest"].value == pytest.approx(0.8)
    mostly = evergreen.copy()
    mostly[6] = np.nan
    forest = measures_of(evergreen_frac=mostly)["forest"]
    assert forest.value is None
    assert forest.score < forest.score_high


def test_the_wind_is_told_in_kmh_with_its_chill():
    told = measures_of(wind_share=0.28)["wind"].sentence
    assert told.startswith("7 of 25 km/h reaches the shelters")
    assert "°C" in told
    blind = with_values(make_plan(), "weather", wind_kmh=None)
    assert measures_of(blind, wind_share=0.28)["wind"].sentence == "28 % of the open wind reaches the shelters."


def test_the_unit_that_just_fits_is_within_the_limit_and_one_too_many_is_not():
    assert measures_of(capacity=5)["room"].within_limit
    assert not measures_of(capacity=4)["room"].within_limit


def test_a_reason_names_the_largest_advantage_and_the_weakest_point():
    good = tuple(measures_of(evergreen_frac=0.8, water_min=50.0).values())
    poor = tuple(measures_of(evergreen_frac=0.3, water_min=50.0).values())
    told = reason_for(good, poor, rank=1, is_last=False)
    assert told.startswith("Ahead of site 2: denser evergreens (80 % against 30 %)")
    assert reason_for(poor, good, rank=2, is_last=True).startswith("Behind site 1: fewer evergreens")
    assert "weak point" in reason_for(tuple(measures_of(evergreen_frac=0.0).values()), None, rank=1, is_last=True)
    assert "Hardly different" in reason_for(good, good, rank=1, is_last=False)


def cautions_of(*, early_min=120.0, plan=None, **terrain):
    ground = make_ground(np.full((40, 40), 300.0), SPRUCE)
    plan = plan or make_plan(ground)
    march = make_march(plan, ground)
    made = make_terrain(ground, **terrain)
    cells = np.argwhere(np.ones((8, 8), bool)) + 16
    measures = tuple(measures_of(plan).values())
    arrive = march.camp_by - timedelta(minutes=early_min)
    told = site_cautions(
        Piece(cells=cells, capacity=7), measures, arrive, plan=plan, ground=ground, terrain=made, march=march
    )
    return {caution.kind: caution.text for caution in told}


def test_a_site_far_from_harm_warns_of_little():
    assert set(cautions_of()) == {"timber"}


def test_avalanche_ground_near_by_is_told_with_its_distance():
    is_release = np.zeros((40, 40), bool)
    is_release[6, 20] = True
    assert "100 m from here" in cautions_of(is_avalanche_release=is_release)["avalanche"]


def test_avalanche_ground_far_off_is_not_told():
    ground = make_ground(np.full((80, 40), 300.0), SPRUCE)
    is_release = np.zeros((80, 40), bool)
    is_release[60] = True
    plan = make_plan(ground)
    march = make_march(plan, ground)
    told = site_cautions(
        Piece(cells=np.argwhere(np.ones((8, 8), bool)), capacity=7), tuple(measures_of(plan).values()),
        march.camp_by - timedelta(hours=2), plan=plan, ground=ground,
        terrain=make_terrain(ground, is_avalanche_release=is_release), march=march,
    )  # fmt: skip
    assert "avalanche" not in {caution.kind for caution in told}


def test_wet_ground_and_late_arrival_are_told():
    is_wet = np.zeros((40, 40), bool)
    is_wet[12] = True
    told = cautions_of(is_wet=is_wet, early_min=12.5)
    assert "Bog" in told["water"]
    assert "12 min before camp-by" in told["march"]


def test_cold_is_told_where_skin_freezes():
    told = cautions_of(plan=with_values(make_plan(), "weather", temperature_c=-38.0))
    assert "freezes" in told["cold"]
    assert "cold" not in cautions_of(plan=with_values(make_plan(), "weather", temperature_c=-5.0))


def test_without_water_the_snow_and_the_fuel_to_melt_it_are_told():
    sentence = measures_of(water_min=np.nan)["water"].sentence
    assert "melt snow, 1045 L for 209 L of water a day" in sentence  # 38 people at 5.5 L, snow of 200 kg/m3
    assert "5.5 L of white gas to melt it or 12 L to boil it" in sentence
    packed = with_values(make_plan(), "weather", snow_density_kg_m3=400.0, temperature_c=None)
    assert "522 L for 209 L of water" in measures_of(packed, water_min=np.nan)["water"].sentence
    assert "snow at −20 °C" in measures_of(packed, water_min=np.nan)["water"].sentence


def test_without_water_or_snow_it_has_to_be_carried():
    bare = with_values(make_plan(), "weather", snow_cm=0.0)
    sentence = measures_of(bare, water_min=np.nan)["water"].sentence
    assert "no snow to melt: carry it" in sentence


def test_a_wind_rose_is_told_by_its_mean_speed():
    rose = with_values(
        make_plan(), "weather", wind_from_deg=None, wind_kmh=None, wind_rose=((0.0, 0.75, 20.0), (90.0, 0.25, 40.0))
    )
    assert measures_of(rose, wind_share=0.4)["wind"].sentence.startswith("10 of 25 km/h reaches the shelters")


def test_a_cold_hollow_is_told_where_it_holds_for_most_of_the_site():
    assert "Cold air gathers" in cautions_of(cold_pool_frac=0.8)["cold"]
    assert "cold" not in cautions_of(cold_pool_frac=0.59)
    half = np.full((40, 40), 0.1, np.float32)
    half[:20] = 0.9
    assert "cold" not in cautions_of(cold_pool_frac=half)
    half = np.where(half == np.float32(0.9), half, np.float32(np.nan))
    assert "Cold air gathers" in cautions_of(cold_pool_frac=half)["cold"]
    assert "cold" not in cautions_of(cold_pool_frac=np.nan)


def test_slopes_that_the_heights_hardly_tell_are_told():
    assert "data" not in cautions_of(slope_30m_deg=2.0, slope_error_deg=0.7)
    told = cautions_of(slope_30m_deg=4.0, slope_error_deg=2.5)["data"]
    assert "to within 2.5°" in told
    assert "likely to be within 5.7°" in told
    plan = make_plan()
    free = with_values(plan, "preferences", slope=replace(plan.preferences.slope, limit_max=None))
    assert "data" not in cautions_of(plan=free, slope_30m_deg=4.0, slope_error_deg=2.5)


def test_a_measure_close_to_its_limit_is_told():
    plan = make_plan()
    tight = with_values(plan, "preferences", wind=replace(plan.preferences.wind, limit_max=0.52))
    assert "limit" in cautions_of(plan=tight)


def test_an_arrival_that_differs_is_told_with_the_reason():
    same = tuple(measures_of().values())
    told = reason_for(same, same, rank=1, is_last=False, later_min=14.0)
    assert told.startswith("Hardly different from site 2 by any measure; reached 14 min sooner.")
    later = reason_for(same, same, rank=3, is_last=True, later_min=-22.0)
    assert "reached 22 min later" in later
    assert "let the ground itself decide" in reason_for(same, same, rank=1, is_last=False, later_min=3.0)


def test_a_difference_weighs_more_where_one_bad_thing_spoils_it():
    good, bad = tuple(measures_of().values()), tuple(measures_of(evergreen_frac=0.01).values())
    told = reason_for(good, bad, rank=1, is_last=False, mean="geometric")
    assert told.startswith("Ahead of site 2: denser evergreens")
