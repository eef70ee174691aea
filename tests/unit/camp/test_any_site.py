"""A whole camp on sites and in weathers of every kind: no rule is broken in silence, what is pinned stays."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from sitepick.camp import lay_out_camp
from sitepick.plan.model import CampSettings, Unit
from sitepick.plan.pins import Pin, with_pin
from sitepick.plan.shelter import Shelter, shelter_kind
from sitepick.sites import find_sites
from sitepick.terrain.model import LAKE, MAPPED_STREAM, NO_WATER
from sitepick.units import bearing_between_deg
from tests.helpers.made import SPRUCE, made_relief, make_ground, make_plan, make_terrain, no_matter_where
from tests.helpers.made_march import make_march

GLOBE = Geod(ellps="WGS84")
SIZE = 60


class Night:
    """Level wood, or as told, and what comes of it; steep wherever `is_site` isn't."""

    def __init__(self, is_site, *, people=10, spacing_m=25.0, heights=None, water=None, weather=None, unit=None):
        heights = np.full((SIZE, SIZE), 300.0) if heights is None else heights
        self.ground = make_ground(heights, SPRUCE)
        plan = make_plan(self.ground, people=people, camp=CampSettings(spacing_m=spacing_m))
        plan = plan if unit is None else replace(plan, unit=unit)
        self.plan = replace(
            plan, preferences=no_matter_where(), weather=replace(plan.weather, **(weather or {}))
        )  # fmt: skip
        slope = np.where(is_site, 1.0, 40.0).astype(np.float32)
        made = make_terrain(self.ground, slope_deg=slope, slope_30m_deg=slope)
        kinds = np.full((SIZE, SIZE), NO_WATER, np.uint8) if water is None else water
        self.terrain = replace(made, water_kind=kinds, is_water=kinds == LAKE)
        self.march = make_march(self.plan, self.ground)
        self.sites = find_sites(self.plan, self.ground, self.terrain, self.march)

    def camp(self, plan=None):
        return lay_out_camp(plan or self.plan, self.ground, self.terrain, self.march, self.sites)


def apart_m(grid, one, other):
    lon, lat = grid.to_lonlat([one.east_m, other.east_m], [one.north_m, other.north_m])
    return GLOBE.inv(lon[0], lat[0], lon[1], lat[1])[2]


def broken(night, camp):
    """Every rule that a camp breaks without a word, but for what was put by hand."""
    grid, told = night.ground.grid, []
    words = " ".join(caution.text for caution in camp.cautions)
    for one, other in itertools.combinations(camp.shelters, 2):
        is_pair = other.shelter.name == one.touches or one.shelter.name == other.touches
        by_hand = one.is_pinned and other.is_pinned
        if not is_pair and not by_hand and apart_m(grid, one, other) < night.plan.camp.spacing_m:
            told.append(f"{one.shelter.name} and {other.shelter.name} too near")
    for one in camp.shelters:
        if one.is_pinned:
            continue
        radius = one.shelter.kind.footprint_m / 2.0 * 0.998
        for turn in np.linspace(0.0, 2.0 * math.pi, 32):
            cell = grid.cell_at(one.east_m + radius * math.sin(turn), one.north_m + radius * math.cos(turn))
            if not night.sites.can_pitch[cell]:
                told.append(f"{one.shelter.name} off allowed ground")
        from_deg = night.plan.weather.main_wind_from_deg
        if from_deg is not None and (night.plan.weather.mean_wind_kmh or 0.0) >= 2.0:
            off_deg = bearing_between_deg(one.door_bearing_deg, from_deg)
            if abs(off_deg - night.plan.camp.door_off_wind_deg) > 0.1:
                told.append(f"{one.shelter.name}'s door {off_deg} off the wind")
    for one in camp.facilities:
        away_m = min(apart_m(grid, one, shelter) for shelter in camp.shelters)
        if one.kind == "latrine" and away_m < 29.9 and "from shelters" not in words:
            told.append(f"latrine {away_m} m from shelters")
    return told


def drawn(*lines):
    mask = np.zeros((SIZE, SIZE), bool)
    mask[25 : 25 + len(lines), 25 : 25 + len(lines[0])] = [[sign == "#" for sign in line] for line in lines]
    return mask


TWO_TENTS = Unit(
    people=18,
    shelters=tuple(
        Shelter(name=f"Tent {k}", section=f"Section {k}", people=9, kind=shelter_kind("ten_person_tent"))
        for k in (1, 2)
    ),
)
ALL = np.ones((SIZE, SIZE), bool)
RING = drawn("########", "########", "##....##", "##....##", "##....##", "########", "########")
# Two footprints of 5.3 m in opposite corners of 60 x 20 m: the root of 54.7² + 14.7² is 56.6 m.
JUST_FITS = drawn("######", "######")
ISLANDS = drawn("####....####", "####....####", "####....####")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("is_site", "values"),
    [
        (drawn("#"), {}),
        (RING, {"people": 38}),
        (ISLANDS, {}),
        (JUST_FITS, {"unit": TWO_TENTS, "spacing_m": 56.0}),
        (ALL, {"weather": {"wind_kmh": 0.0}}),
        (ALL, {"weather": {"wind_from_deg": None}}),
        (ALL, {"people": 1}),
        (ALL, {"people": 150, "spacing_m": 15.0}),
    ],
    ids=["one cell", "ring", "two islands", "just fits", "calm", "wind unknown", "one person", "150 people"],
)
def test_a_site_of_any_shape_in_any_weather_gets_a_camp_by_the_rules(is_site, values):
    night = Night(is_site, **values)
    camp = night.camp()
    assert not camp.missing
    assert sum(one.shelter.people for one in camp.shelters) == night.plan.unit.people
    assert broken(night, camp) == []
    assert camp.work is not None
    assert camp.security is not None


def test_two_islands_that_hold_the_unit_only_together_are_no_site_and_the_split_is_told():
    night = Night(ISLANDS, people=38, spacing_m=35.0)
    assert not night.sites.sites
    assert night.sites.hindrances


def test_a_little_more_than_what_just_fits_is_no_site_and_the_spacing_that_fits_is_told():
    night = Night(JUST_FITS, unit=TWO_TENTS, spacing_m=57.0)
    assert not night.sites.sites
    assert any("and all 2 fit there" in hindrance.fix for hindrance in night.sites.hindrances)


@pytest.mark.slow
def test_where_all_ground_drains_to_the_stream_the_latrine_lies_below_where_water_is_drawn():
    # The valley falls to the south along column 30, both sides fall to it: whatever is spilt ends in the stream.
    rows, cols = np.mgrid[:SIZE, :SIZE]
    heights = 300.0 + 0.3 * np.abs(cols - 30.0) - 0.4 * rows
    water = np.full((SIZE, SIZE), NO_WATER, np.uint8)
    water[:, 30] = MAPPED_STREAM
    night = Night(ALL, heights=heights, water=water)
    camp = night.camp()
    assert broken(night, camp) == []
    at = {one.kind: one for one in camp.facilities}
    words = " ".join(caution.text for caution in camp.cautions) + at["latrine"].reason
    assert at["latrine"].north_m < at["drinking_water"].north_m or "water is drawn" in words
    assert at["drinking_water"].north_m > at["washing"].north_m


@pytest.mark.slow
def test_with_water_on_all_sides_everyone_sleeps_clear_of_it():
    rows, cols = np.mgrid[:SIZE, :SIZE]
    is_land = np.hypot(rows - 30, cols - 30) < 13
    night = Night(is_land, water=np.where(is_land, NO_WATER, LAKE).astype(np.uint8), people=20)
    camp = night.camp()
    assert broken(night, camp) == []
    lake = np.argwhere(~is_land)
    for one in camp.shelters:
        row, col = night.ground.grid.cell_at(one.east_m, one.north_m)
        assert np.hypot(*(lake - (row, col)).T).min() * 10.0 >= 30.0
    assert any("from water" in caution.text for caution in camp.cautions)


@pytest.mark.slow
@settings(max_examples=6, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10_000), people=st.integers(4, 60), spacing_m=st.floats(6.0, 40.0), pin_count=st.integers(0, 3),
    joined=st.booleans(),
)  # fmt: skip
def test_whatever_the_ground_and_the_pins_no_rule_is_broken_and_what_is_pinned_stays(
    seed, people, spacing_m, pin_count, joined
):
    random = np.random.default_rng(seed)
    is_site = made_relief(SIZE, SIZE, seed=seed, height_m=1.0) < 0.6
    night = Night(is_site, people=people, spacing_m=spacing_m)
    if not night.sites.sites:
        assert night.sites.hindrances
        return
    plan = night.plan
    shelters = list(plan.unit.shelters)
    if joined and len(shelters) > 1:
        shelters[1] = replace(shelters[1], joined_to=shelters[0].name)
        plan = replace(plan, unit=replace(plan.unit, shelters=tuple(shelters)))
    pick = night.sites.sites[0]
    pinned = {}
    for name in [one.name for one in shelters[:pin_count]]:
        at_m = pick.east_m + random.uniform(-150.0, 150.0), pick.north_m + random.uniform(-150.0, 150.0)
        lon, lat = night.ground.grid.to_lonlat(*at_m)
        plan = with_pin(plan, Pin(kind="shelter", name=name, place=(float(lon), float(lat))))
        pinned[name] = at_m
    camp = night.camp(plan)
    at = {one.shelter.name: one for one in camp.shelters}
    words = " ".join(caution.text for caution in camp.cautions)
    for name, at_m in pinned.items():
        if not at[name].is_pinned:
            assert f"{name} was put in place by hand" in words
            assert "its place is not used" in words
            continue
        assert math.hypot(at[name].east_m - at_m[0], at[name].north_m - at_m[1]) < 0.02
    night.plan = plan
    assert broken(night, camp) == []
    assert not camp.missing or camp.cautions[0].kind == "room"


@pytest.mark.parametrize("which", [0, 1])
def test_a_shelter_put_by_hand_takes_along_what_is_joined_to_it(which):
    night = Night(ALL, people=38)
    shelters = list(night.plan.unit.shelters)
    shelters[1] = replace(shelters[1], joined_to=shelters[0].name, kind=shelter_kind("five_person_tent"), people=5)
    plan = replace(
        night.plan, unit=replace(night.plan.unit, shelters=tuple(shelters), people=sum(s.people for s in shelters))
    )
    before = {one.shelter.name: one for one in night.camp(plan).shelters}
    name = shelters[which].name
    pick = night.sites.sites[0]
    inwards = math.copysign(12.0, pick.east_m - before[name].east_m)
    lon, lat = night.ground.grid.to_lonlat(before[name].east_m + inwards, before[name].north_m)
    plan = with_pin(plan, Pin(kind="shelter", name=name, place=(float(lon), float(lat))))
    camp = night.camp(plan)
    one, other = camp.shelters[:2]
    assert other.touches == one.shelter.name
    assert apart_m(night.ground.grid, one, other) == pytest.approx((5.3 + other.shelter.kind.footprint_m) / 2, abs=0.02)
    assert one.door_bearing_deg == other.door_bearing_deg
    assert [one.is_pinned, other.is_pinned] == [which == 0, which == 1]
    assert not any("apart" in caution.text for caution in camp.cautions)
