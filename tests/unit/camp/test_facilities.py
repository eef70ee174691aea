"""What a section leader and a medic expect of everything in a camp besides its shelters."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.camp.choice import Rule, choose
from sitepick.camp.facilities import place_facilities
from sitepick.camp.model import Facility, PlacedShelter
from sitepick.camp.pick_up import pick_up_clearing
from sitepick.camp.surroundings import surroundings_of
from sitepick.camp.water_points import upstream_of
from sitepick.plan.edits import with_values
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.shelter import shelters_for
from sitepick.terrain.model import LAKE, MAPPED_STREAM, NO_WATER
from sitepick.work import Watch
from tests.helpers.made import OPEN, SPRUCE, make_ground, make_plan, make_terrain

ROWS = COLS = 100
MIDDLE = 50


def tilted(fall=0.05):
    """Ground that falls to the south."""
    return np.repeat(500.0 - fall * 10.0 * np.arange(ROWS)[:, None], COLS, axis=1)


def around_camp(*, people=38, wind=300.0, spacing_cells=6, rules=None, heights=None, water=None, kind=MAPPED_STREAM,
                cover=SPRUCE, **terrain):  # fmt: skip
    """Shelters in a block in the middle of a wood; `water`: cells of it."""
    ground = make_ground(tilted() if heights is None else heights, cover)
    plan = make_plan(ground, people=people)
    plan = replace(plan, weather=replace(plan.weather, wind_from_deg=wind))
    plan = replace(plan, camp=replace(plan.camp, facilities=rules or FacilitySettings()))
    made = make_terrain(ground, **terrain)
    water_kind = np.full(ground.grid.shape, NO_WATER, np.uint8)
    if water is not None:
        water_kind[water] = kind
    made = replace(made, water_kind=water_kind, is_water=water_kind == LAKE)
    side = math.ceil(math.sqrt(len(plan.unit.shelters)))
    placed = tuple(
        PlacedShelter(
            shelter=shelter, east_m=ground.grid.west_m + 10.0 * (MIDDLE + spacing_cells * (k % side)) + 5.0,
            north_m=ground.grid.north_m - 10.0 * (MIDDLE + spacing_cells * (k // side)) - 5.0,
            door_bearing_deg=75.0, slope_deg=1.0,
        )
        for k, shelter in enumerate(plan.unit.shelters)
    )  # fmt: skip
    entry_m = (placed[0].east_m - 40.0, placed[0].north_m)
    return surroundings_of(plan, ground, made, placed, entry_m, watch=Watch())


def of_kind(places, kind):
    return [place for place in places if place.kind == kind]


def apart_m(around, one, east_m, north_m):
    return math.hypot(one.east_m - east_m, one.north_m - north_m) / around.scale


def from_shelters_m(around, place):
    return min(apart_m(around, place, placed.east_m, placed.north_m) for placed in around.shelters)


def from_water_m(around, place):
    """Distance to the nearest edge of a cell of water, reckoned cell by cell."""
    rows, cols = np.nonzero(around.water_kind != NO_WATER)
    best = math.inf
    for row, col in zip(rows, cols, strict=True):
        east, north = abs(around.east_m[row, col] - place.east_m), abs(around.north_m[row, col] - place.north_m)
        best = min(best, math.hypot(max(0.0, east - 5.0), max(0.0, north - 5.0)))
    return best


STREAM = (slice(None), slice(30, 31))


def test_a_latrine_keeps_its_distances_and_lies_downwind():
    around = around_camp(water=STREAM)
    places, told = place_facilities(around)
    [latrine] = of_kind(places, "latrine")
    assert from_water_m(around, latrine) >= 61.0  # common practice: 200 ft
    assert from_shelters_m(around, latrine) >= 30.0
    assert all(apart_m(around, latrine, one.east_m, one.north_m) <= 120.0 for one in around.shelters)
    centre_east, centre_north = around.centre_m
    assert latrine.east_m > centre_east  # the wind comes from 300°
    assert latrine.north_m < centre_north
    assert not told


@pytest.mark.parametrize(("people", "seats"), [(10, 1), (38, 2), (150, 6)])
def test_seats_follow_the_table(people, seats):
    # One for 25 men: FM 21-10, 150 men need 6.
    around = around_camp(people=people, spacing_cells=2)
    latrines = of_kind(place_facilities(around)[0], "latrine")
    served = [name for latrine in latrines for name in latrine.serves]
    assert sorted(served) == sorted(placed.shelter.name for placed in around.shelters)
    assert sum(int(latrine.name.split(", ")[1].split()[0]) for latrine in latrines) >= seats


def test_a_camp_too_wide_for_one_walk_gets_more_latrines():
    around = around_camp(people=150, spacing_cells=10, heights=np.full((ROWS, COLS), 300.0))
    latrines = of_kind(place_facilities(around)[0], "latrine")
    assert len(latrines) > 1
    for latrine in latrines:
        users = [one for one in around.shelters if one.shelter.name in latrine.serves]
        assert all(apart_m(around, latrine, one.east_m, one.north_m) <= 120.0 for one in users)


def test_a_common_kitchen_keeps_the_latrine_ninety_metres_away():
    around = around_camp(rules=FacilitySettings(has_common_cooking=True, latrine_walk_max_m=200.0))
    places, _ = place_facilities(around)
    [latrine], [cooking] = of_kind(places, "latrine"), of_kind(places, "cooking")
    assert apart_m(around, latrine, cooking.east_m, cooking.north_m) >= 90.0  # FM 21-10: 100 yd
    assert from_shelters_m(around, cooking) >= 15.0


def test_water_is_drunk_above_cooking_and_cooking_above_washing():
    around = around_camp(water=STREAM)
    places, _ = place_facilities(around)
    norths = [of_kind(places, kind)[0].north_m for kind in ("drinking_water", "cooking_water", "washing")]
    assert norths == sorted(norths, reverse=True)  # the stream runs south
    assert len(set(norths)) == 3


def test_nothing_dirty_drains_past_where_water_is_drawn():
    heights = tilted()
    heights -= 0.03 * np.abs(np.arange(COLS) - 30.0)[None, :] * -1.0  # a valley along the stream
    around = around_camp(water=STREAM, heights=heights)
    places, _ = place_facilities(around)
    [water], [latrine] = of_kind(places, "drinking_water"), of_kind(places, "latrine")
    near = around.from_m(water.east_m, water.north_m) <= 15.0
    cell = around.grid.cell_at(latrine.east_m, latrine.north_m)
    index, steps = cell[0] * around.grid.cols + cell[1], 0
    while index >= 0 and steps < around.receiver.size:
        assert not near.flat[index]
        index, steps = int(around.receiver.flat[index]), steps + 1


def test_upstream_is_what_a_walk_down_the_water_passes():
    random = np.random.default_rng(3)
    around = around_camp(heights=tilted() + random.random((ROWS, COLS)))
    point = np.zeros(around.grid.shape, bool)
    point[around.grid.rows // 2, around.grid.cols // 2 : around.grid.cols // 2 + 3] = True
    found = upstream_of(around, point)
    for start in random.integers(0, point.size, 200):
        cell, passes = int(start), False
        while cell >= 0 and not passes:
            passes = bool(point.flat[cell])
            cell = int(around.receiver.flat[cell])
        assert found.flat[start] == passes


def test_a_lake_gives_three_points_along_its_shore():
    around = around_camp(water=(slice(40, 60), slice(10, 30)), kind=LAKE)
    places, _ = place_facilities(around)
    drink, cook, wash = (of_kind(places, kind)[0] for kind in ("drinking_water", "cooking_water", "washing"))
    assert apart_m(around, drink, cook.east_m, cook.north_m) >= 10.0
    assert apart_m(around, drink, wash.east_m, wash.north_m) > apart_m(around, drink, cook.east_m, cook.north_m)


def test_without_water_clean_snow_is_marked_off_to_the_windward():
    around = around_camp()
    [snow] = of_kind(place_facilities(around)[0], "snow_for_water")
    assert snow.east_m < around.centre_m[0]
    assert from_shelters_m(around, snow) >= 25.0
    bare = replace(around, plan=replace(around.plan, weather=replace(around.plan.weather, snow_cm=0.0)))
    assert not of_kind(place_facilities(bare)[0], "snow_for_water")


def test_fuel_and_stores_stand_apart_from_fire():
    around = around_camp(rules=FacilitySettings(has_open_fire=True))
    places, _ = place_facilities(around)
    [fire], [fuel], [stores] = (of_kind(places, kind) for kind in ("fire", "fuel", "stores"))
    assert from_shelters_m(around, fire) >= 15.0
    assert from_shelters_m(around, fuel) >= 15.0
    assert apart_m(around, fuel, fire.east_m, fire.north_m) >= 15.0
    assert apart_m(around, stores, fire.east_m, fire.north_m) >= 15.0


def test_water_on_all_sides_is_told_with_the_distance_that_is_kept():
    water = np.ones((ROWS, COLS), bool)
    water[40:75, 40:75] = False
    around = around_camp(water=water, kind=LAKE, rules=FacilitySettings(latrine_from_water_m=300.0))
    places, told = place_facilities(around)
    [latrine] = of_kind(places, "latrine")
    text = next(caution.text for caution in told if "from water" in caution.text)
    kept = int(text.split("(")[1].split(" m ")[0])
    assert "instead of 300 m" in text
    assert from_water_m(around, latrine) == pytest.approx(kept, abs=6.0)


def test_where_nothing_can_stand_waste_is_carried_out_and_nothing_is_placed():
    around = around_camp(unsafe_unknown=np.ones((ROWS, COLS), bool))
    places, told = place_facilities(around)
    assert not of_kind(places, "latrine")
    assert any("carried out" in caution.text for caution in told)


def test_what_the_user_put_somewhere_stays_and_the_rest_keeps_clear_of_it():
    around = around_camp(rules=FacilitySettings(has_common_cooking=True, latrine_walk_max_m=200.0))
    mine = Facility(kind="cooking", name="Cooking", east_m=around.centre_m[0] + 15.0, north_m=around.centre_m[1],
                    is_pinned=True)  # fmt: skip
    places, _ = place_facilities(around, (mine,))
    assert mine in places
    assert len(of_kind(places, "cooking")) == 1
    [latrine] = of_kind(places, "latrine")
    assert apart_m(around, latrine, mine.east_m, mine.north_m) >= 90.0


def test_a_rule_that_no_ground_keeps_is_kept_as_nearly_as_can_be():
    around = around_camp()
    distance = around.from_m(*around.centre_m)
    rule = Rule(text="from the middle", distance_m=distance, least_m=1e6)
    choice = choose(around, around.can_stand, (rule,), np.zeros(distance.shape))
    assert distance[choice.row, choice.col] >= distance.max() - 10.0
    assert choice.broken == (f"from the middle ({distance[choice.row, choice.col]:.0f} m instead of 1000000 m)",)


def test_a_clearing_is_wide_enough_and_the_nearest():
    cover = np.full((ROWS, COLS), SPRUCE)
    cover[10:18, 10:18] = OPEN  # 80 m wide
    cover[70:73, 70:73] = OPEN  # 30 m wide
    ground = make_ground(np.full((ROWS, COLS), 200.0), cover)
    plan = with_values(make_plan(ground), "camp", facilities=FacilitySettings(has_pick_up=True, pick_up_clear_m=60.0))
    terrain = make_terrain(ground)
    clearing, told = pick_up_clearing(plan, ground, terrain, ground.grid.cell_centre_m(71, 71))
    row, col = ground.grid.cell_at(clearing.east_m, clearing.north_m)
    assert 12 <= row <= 15
    assert 12 <= col <= 15
    assert not told
    wider = with_values(plan, "camp", facilities=FacilitySettings(has_pick_up=True, pick_up_clear_m=120.0))
    nothing, told = pick_up_clearing(wider, ground, terrain, ground.grid.cell_centre_m(71, 71))
    assert nothing is None
    assert "120 m wide" in told[0]


@pytest.mark.slow
@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10_000), people=st.integers(1, 150), wind=st.one_of(st.none(), st.floats(0.0, 360.0)),
    wet=st.floats(0.0, 0.4),
)  # fmt: skip
def test_whatever_the_ground_nothing_stands_where_nobody_can_and_no_distance_is_broken_in_silence(
    seed, people, wind, wet
):
    random = np.random.default_rng(seed)
    water = random.random((ROWS, COLS)) < 0.002
    around = around_camp(
        people=people, wind=wind, water=water, is_wet=random.random((ROWS, COLS)) < wet,
        is_avalanche_runout=random.random((ROWS, COLS)) < 0.02, rules=FacilitySettings(has_open_fire=True),
    )  # fmt: skip
    places, told = place_facilities(around)
    words = " ".join(caution.text for caution in told)
    for place in places:
        if place.kind in ("drinking_water", "cooking_water", "washing"):
            continue
        assert around.can_stand[around.grid.cell_at(place.east_m, place.north_m)]
    for latrine in of_kind(places, "latrine"):
        assert from_water_m(around, latrine) >= 61.0 or "from water" in words
        assert from_shelters_m(around, latrine) >= 30.0 or "from shelters" in words
    for one in of_kind(places, "fuel"):
        assert from_shelters_m(around, one) >= 15.0 or "from shelters" in words
    assert len(shelters_for(people)) == len(around.shelters)
