"""What the day takes: effort leg by leg, food, water, fuel, and the cautions that come of them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from sitepick.ground.model import Ground
from sitepick.march.day import plan_march
from sitepick.march.effort import march_chill, read_spans
from sitepick.march.energy import walking_w
from sitepick.march.model import HaltRule, Leg, March
from sitepick.march.needs import CARRY, SNOW, WATER, Needs, Stop, read_needs
from sitepick.plan.kit import KitItem
from sitepick.plan.load import LoadSettings
from sitepick.plan.model import Plan, Weather
from sitepick.terrain.chill import wind_chill_c
from tests.helpers.made import BIRCH, OPEN, SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

ROWS, COLS = 21, 401  # 4 km
COLD = Weather(wind_from_deg=300.0, wind_kmh=30.0, temperature_c=-30.0, snow_cm=50.0)


def way(plan: Plan, ground: Ground, **known: object) -> March:
    """A made march with its one leg from west to east."""
    march = make_march(plan, ground, **known)
    end_m = march.route_length_m
    leg = Leg(
        start_name="Start", end_name="Route's end", depart=march.depart,
        arrive=march.depart + timedelta(minutes=float(march.station_moving_min[-1])),
        distance_m=end_m, climb_m=0.0, descent_m=0.0,
    )  # fmt: skip
    return replace(march, legs=(leg,))


def needs_of(plan: Plan | None = None, cover: object = OPEN, heights: object = None, **stop: object) -> Needs:
    ground = make_ground(np.zeros((ROWS, COLS)) if heights is None else heights, cover)
    plan = plan or make_plan(ground)
    end = Stop(**stop) if stop else None
    return read_needs(plan, ground, make_terrain(ground), way(plan, ground), stop=end)


def stop(**known: object) -> dict[str, object]:
    values: dict[str, object] = {
        "row": 10, "col": 200, "leave_m": 2000.0, "detour_min": 0.0, "moving_min": 40.0, "water_min": None,
        "water_words": "",
    }  # fmt: skip
    return {**values, **known}


def loads(**known: object) -> LoadSettings:
    return LoadSettings(**{"kit": (KitItem(name="Pack", weight_kg=20.0, whose="person", carried="back"),), **known})


def kinds(needs: Needs) -> list[str]:
    return [caution.kind for caution in needs.cautions]


def test_an_even_walk_on_packed_snow_costs_what_the_formula_says():
    plan = make_plan(load=loads(body_kg=75.0))
    plan = replace(plan, march=replace(plan.march, has_sled=False, trail_broken=True))
    (leg,) = needs_of(plan).legs
    speed_ms = 100.0 / (2.0 * 60.0)
    assert leg.walk_w == pytest.approx(float(walking_w(75.0, 20.0, speed_ms, 0.0, 1.6)), rel=1e-3)
    assert leg.pull_w is None


def test_a_climb_costs_more_than_the_level_and_a_gentle_fall_less():
    rise = np.tile(np.linspace(0.0, 240.0, COLS), (ROWS, 1))  # 6 %
    up, level, down = (needs_of(heights=heights).legs[0].walk_w for heights in (rise, rise * 0.0, rise[:, ::-1]))
    assert up > level > down


def test_deep_snow_costs_more_than_shallow_and_a_broken_trail_less_than_deep():
    plan = make_plan()
    foot = replace(plan.march, mode="foot", has_sled=False)
    shallow, deep = (
        needs_of(replace(plan, march=foot, weather=Weather(snow_cm=depth))).legs[0].walk_w for depth in (5.0, 40.0)
    )
    broken = needs_of(replace(plan, march=replace(foot, trail_broken=True), weather=Weather(snow_cm=40.0)))
    assert deep > shallow
    assert broken.legs[0].walk_w < deep


def test_depth_not_known_makes_the_effort_a_lower_bound():
    plan = replace(make_plan(), weather=Weather())
    told = needs_of(plan)
    assert told.is_at_least
    assert told.legs[0].walk_w <= needs_of(replace(plan, weather=Weather(snow_cm=20.0))).legs[0].walk_w


def test_those_in_harness_work_harder_by_the_weight_of_the_sled():
    light, heavy = (
        needs_of(
            make_plan(load=LoadSettings(kit=(KitItem(name="Tent", weight_kg=weight),)))
        ) for weight in (10.0, 80.0)
    )  # fmt: skip
    assert light.legs[0].walk_w < light.legs[0].pull_w < heavy.legs[0].pull_w
    assert heavy.pull.total_kcal > heavy.walk.total_kcal


def test_a_vehicle_asks_for_no_more_than_sitting_in_it():
    plan = make_plan()
    told = needs_of(replace(plan, march=replace(plan.march, mode="vehicle")))
    assert told.legs[0].walk_w == pytest.approx(1.5 * 80.0)
    assert told.pull is None
    assert told.sleds == ()


def test_the_day_ends_at_the_stop_and_has_twenty_four_hours():
    whole, half = needs_of(), needs_of(**stop())
    assert half.walk.march_kcal == pytest.approx(whole.walk.march_kcal / 2, rel=0.05)
    ground = make_ground(np.zeros((ROWS, COLS)))
    lying = make_plan(ground, load=loads(body_kg=100.0))
    still = read_needs(lying, ground, make_terrain(ground), replace(way(lying, ground), legs=()))
    rest_h, pitch_h = 24.0 - 8.0 - 1.25, 1.25
    watt_h = 100.0 * 8.0 + 150.0 * rest_h + 400.0 * pitch_h
    assert still.walk.total_kcal == pytest.approx(0.8598 * watt_h, rel=1e-6)
    assert still.legs == ()


def test_the_way_off_the_route_counts():
    near, far = needs_of(**stop()), needs_of(**stop(detour_min=30.0, moving_min=70.0))
    assert far.walk.march_kcal > near.walk.march_kcal
    assert far.walk.rest_kcal < near.walk.rest_kcal


def test_halts_count_once_they_are_made():
    ground = make_ground(np.zeros((ROWS, COLS)))
    plan = make_plan(ground)
    march = replace(way(plan, ground), halt_rule=HaltRule(halts=((10.0, 60.0),)))
    told = read_needs(plan, ground, make_terrain(ground), march)
    assert told.walk.halts_kcal == pytest.approx(0.8598 * 1.5 * 80.0)


def test_water_comes_from_where_it_is_near_else_from_snow_else_it_is_carried():
    near = needs_of(**stop(water_min=9.0, water_words="Mapped stream, 9 min there and back."))
    assert near.water_source == WATER
    assert near.water_words == "Water: mapped stream, 9 min there and back."
    melted = needs_of(**stop())
    assert melted.water_source == SNOW
    bare = needs_of(replace(make_plan(), weather=Weather(snow_cm=0.0)), **stop())
    assert bare.water_source == CARRY
    assert "if there is any" in needs_of(replace(make_plan(), weather=Weather()), **stop()).water_words
    assert melted.fuel_l == pytest.approx(melted.melting.boil_fuel_l)
    assert near.fuel_l < melted.fuel_l


def test_water_is_five_and_a_half_litres_a_person_and_fuel_follows_from_physics():
    """From snow at -20 °C to the boil: 794.4 kJ a litre, white gas at 45 %: 57 ml (worked from physics)."""
    plan = make_plan(people=10, weather=Weather(snow_cm=50.0, temperature_c=-20.0))
    told = needs_of(plan, **stop())
    assert told.water_l == pytest.approx(55.0)
    assert told.fuel_l == pytest.approx(55.0 * 0.0565, rel=0.01)
    assert told.fuel_kg == pytest.approx(0.71 * told.fuel_l)


def test_a_ration_too_small_is_told_with_what_is_missing():
    short = needs_of(make_plan(load=loads(ration_kcal=1000.0)))
    assert short.short_kcal == pytest.approx(short.hardest.total_kcal - 1000.0)
    assert "food" in kinds(short)
    assert "food" not in kinds(needs_of(make_plan(load=loads(ration_kcal=12_000.0))))


def test_only_open_ground_counts_as_open_to_the_wind():
    cover = np.full((ROWS, COLS), SPRUCE)
    cover[:, :200] = OPEN
    (leg,) = needs_of(cover=cover).legs
    assert leg.open_m == pytest.approx(2000.0, abs=60.0)
    assert needs_of(cover=BIRCH).legs[0].open_m == 0.0
    assert needs_of(cover=BIRCH).legs[0].chill is None
    assert needs_of(cover=OPEN).legs[0].open_m == pytest.approx(4000.0, abs=5.0)


def test_trees_that_are_not_known_give_no_shelter():
    ground = make_ground(np.zeros((ROWS, COLS)), OPEN)
    plan = make_plan(ground)
    spans = read_spans(plan, ground, make_terrain(ground, canopy_frac=np.nan), way(plan, ground))
    assert spans.is_open.all()


def test_freezing_cold_in_the_open_is_a_caution_with_minutes_only_where_they_hold():
    told = needs_of(replace(make_plan(), weather=COLD))
    (cold,) = [caution for caution in told.cautions if caution.kind == "cold"]
    assert "after about 7 min" in cold.text  # (-30 °C, 30 km/h) -> 6.91 min, from memory
    calm = needs_of(replace(make_plan(), weather=replace(COLD, wind_kmh=20.0)))
    (cold,) = [caution for caution in calm.cautions if caution.kind == "cold"]
    assert "after about" not in cold.text
    assert "cold" not in kinds(needs_of(replace(make_plan(), weather=replace(COLD, temperature_c=-5.0))))
    assert "cold" not in kinds(needs_of(replace(make_plan(), weather=COLD), cover=SPRUCE))
    assert "cold" not in kinds(needs_of(replace(make_plan(), weather=Weather(snow_cm=50.0))))


def test_walking_pace_is_in_the_index_already_and_only_more_is_added():
    plan = replace(make_plan(), weather=COLD)
    assert march_chill(plan, 4.0).felt_c == wind_chill_c(-30.0, 30.0)
    assert march_chill(plan, 20.0).felt_c < wind_chill_c(-30.0, 30.0)


def sunny(march: March, noon_deg: float) -> March:
    return replace(march, sun=replace(march.sun, sunrise=march.depart, noon_altitude_deg=noon_deg))


def test_an_hour_of_sun_on_open_snow_is_a_caution():
    """Common practice: one hour of bright sun on snow can bring snow blindness."""
    ground = make_ground(np.zeros((ROWS, COLS)))
    plan = make_plan(ground)
    march = way(plan, ground)  # 80 min on the move

    def told(noon_deg: float, cover: Ground = ground, **weather: object) -> bool:
        on = replace(plan, weather=replace(plan.weather, **weather))
        needs = read_needs(on, cover, make_terrain(cover), sunny(march, noon_deg))
        return "sun" in kinds(needs)

    assert told(25.0)
    assert not told(3.0)
    assert not told(25.0, snow_cm=0.0)
    assert not told(25.0, cover=make_ground(np.zeros((ROWS, COLS)), SPRUCE))


def test_loads_past_what_a_march_bears_are_told():
    heavy = needs_of(make_plan(load=loads(carried_kg=200.0)))
    (load,) = [caution for caution in heavy.cautions if "body weight" in caution.text]
    assert "200 kg, 250 % of body weight" in load.text
    assert not any(
        "body weight" in caution.text for caution in needs_of(make_plan(load=loads(carried_kg=0.0))).cautions
    )


def test_a_sled_over_its_limit_an_empty_list_and_sleds_without_pullers_are_told():
    tent = KitItem(name="Tent", weight_kg=100.0)
    over = needs_of(make_plan(people=5, load=LoadSettings(kit=(tent,))))
    assert any("9.3 kg over its limit of 90.7 kg" in caution.text for caution in over.cautions)
    assert any(
        "kit list is empty" in caution.text for caution in needs_of(make_plan(load=LoadSettings(kit=()))).cautions
    )
    many = needs_of(make_plan(people=5, load=loads(sled_count=9)))
    assert any("4 of 9 sleds have nobody" in caution.text for caution in many.cautions)
    assert any("usual kit list" in caution.text for caution in needs_of().cautions)


def test_more_toil_than_lasts_is_told():
    steep = np.tile(np.linspace(0.0, 900.0, COLS), (ROWS, 1))
    assert any("more than most keep up" in caution.text for caution in needs_of(heights=steep).cautions)
    assert not any("more than most keep up" in caution.text for caution in needs_of(make_plan(load=loads())).cautions)


@pytest.mark.slow
def test_legs_of_a_real_march_carry_their_own_effort():
    ground = make_ground(np.tile(np.linspace(0.0, 60.0, COLS), (ROWS, 1)))
    plan = make_plan(ground)
    terrain = make_terrain(ground)
    march = plan_march(plan, ground, terrain)
    needs = read_needs(plan, ground, terrain, march)
    assert [leg.start_name for leg in needs.legs] == [leg.start_name for leg in march.legs]
    assert sum(leg.walk_kcal for leg in needs.legs) == pytest.approx(needs.walk.march_kcal, rel=1e-6)
