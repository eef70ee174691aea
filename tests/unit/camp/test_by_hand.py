"""What a leader expects who puts a shelter, a latrine or a post where they want it."""

from __future__ import annotations

import itertools
import math
import time
from dataclasses import replace

import numpy as np
import pytest
from pyproj import Geod

from sitepick.camp import lay_out_camp
from sitepick.camp.by_hand import hand_of, why_not_there
from sitepick.camp.model import FACILITY_KINDS
from sitepick.camp.things import things_of
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.pins import PIN_KINDS, Pin, with_pin, with_pins_dropped
from sitepick.plan.security import SecuritySettings
from sitepick.sites import find_sites
from sitepick.sites._kernels import footprint_fits
from sitepick.sites.beside import pack_beside
from sitepick.sites.packing import QUICK, Room, pack
from sitepick.terrain.model import LAKE, NO_WATER
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

GLOBE = Geod(ellps="WGS84")
SIZE = 70
LATRINE = ("latrine", "Latrine")


class Night:
    """A camp on level wood with a lake in the north, to be laid out with pins."""

    def __init__(self, *, people=38, facilities=None, security=None, **terrain):
        self.ground = make_ground(np.full((SIZE, SIZE), 300.0), SPRUCE)
        self.plan = make_plan(self.ground, people=people)
        camp = replace(self.plan.camp, facilities=facilities or FacilitySettings(),
                       security=security or SecuritySettings())  # fmt: skip
        self.plan = replace(self.plan, camp=camp)
        made = make_terrain(self.ground, **terrain)
        water_kind = np.full((SIZE, SIZE), NO_WATER, np.uint8)
        water_kind[:6] = LAKE
        self.terrain = replace(made, water_kind=water_kind, is_water=water_kind == LAKE)
        self.march = make_march(self.plan, self.ground)
        self.sites = find_sites(self.plan, self.ground, self.terrain, self.march)

    @property
    def grid(self):
        return self.ground.grid

    def camp(self, plan=None):
        return lay_out_camp(plan or self.plan, self.ground, self.terrain, self.march, self.sites)

    def pinned(self, kind, name, east_m, north_m, plan=None):
        lon, lat = self.grid.to_lonlat(east_m, north_m)
        return with_pin(plan or self.plan, Pin(kind=kind, name=name, place=(float(lon), float(lat))))

    def hand(self, plan=None):
        plan = plan or self.plan
        return hand_of(plan, self.ground, self.terrain, self.sites, self.camp(plan))


@pytest.fixture(scope="module")
def night():
    return Night()


@pytest.fixture(scope="module")
def camp(night):
    return night.camp()


@pytest.fixture(scope="module")
def hand(night):
    return night.hand()


def shelter(camp, name):
    return next(one for one in camp.shelters if one.shelter.name == name)


def facility(camp, kind):
    return next(one for one in camp.facilities if one.kind == kind)


def apart_m(grid, one, other):
    lon, lat = grid.to_lonlat([one.east_m, other.east_m], [one.north_m, other.north_m])
    return GLOBE.inv(lon[0], lat[0], lon[1], lat[1])[2]


def texts(camp):
    return [caution.text for caution in camp.cautions]


def test_everything_a_camp_has_can_be_put_by_hand():
    assert set(PIN_KINDS) == {"shelter", "post"} | {kind for kind, _ in FACILITY_KINDS}


def test_a_shelter_stays_where_it_was_put_and_the_others_keep_the_spacing_from_it(night, camp):
    name = camp.shelters[1].shelter.name
    east_m, north_m = camp.shelters[0].east_m + 21.0, camp.shelters[0].north_m + 13.0
    plan = night.pinned("shelter", name, east_m, north_m)
    again = night.camp(plan)
    assert shelter(again, name).is_pinned
    assert math.hypot(shelter(again, name).east_m - east_m, shelter(again, name).north_m - north_m) < 0.02
    assert not again.missing
    for one, other in itertools.combinations(again.shelters, 2):
        assert apart_m(night.grid, one, other) >= plan.camp.spacing_m
    assert not any("by hand" in text for text in texts(again))


def test_letting_go_of_everything_brings_the_camp_back(night, camp):
    plan = night.pinned("shelter", camp.shelters[1].shelter.name, camp.shelters[0].east_m, camp.shelters[0].north_m)
    assert with_pins_dropped(plan) == night.plan
    again = night.camp(with_pins_dropped(plan))
    assert [(one.east_m, one.north_m) for one in again.shelters] == [(o.east_m, o.north_m) for o in camp.shelters]


def test_two_shelters_put_too_close_stay_and_are_told(night, camp):
    one, other = camp.shelters[1], camp.shelters[2]
    plan = night.pinned("shelter", one.shelter.name, one.east_m, one.north_m)
    plan = night.pinned("shelter", other.shelter.name, one.east_m + 20.0, one.north_m, plan)
    again = night.camp(plan)
    assert apart_m(night.grid, shelter(again, one.shelter.name), shelter(again, other.shelter.name)) < 21.0
    told = [text for text in texts(again) if "short of the spacing" in text]
    assert len(told) == 2
    assert f"20 m from {one.shelter.name}: 35 m short of the spacing" in told[1]
    thirds = [o for o in again.shelters if not o.is_pinned]
    assert all(apart_m(night.grid, third, o) >= plan.camp.spacing_m for third in thirds for o in again.shelters
               if o is not third)  # fmt: skip


def test_all_shelters_may_be_put_by_hand(night, camp):
    plan = night.plan
    for one in camp.shelters:
        plan = night.pinned("shelter", one.shelter.name, one.east_m, one.north_m, plan)
    again = night.camp(plan)
    assert not again.missing
    assert all(one.is_pinned for one in again.shelters)


def test_a_latrine_stays_and_serves_those_within_the_walk(night, camp):
    place = facility(camp, "latrine")
    plan = night.pinned("latrine", "Latrine", place.east_m - 8.0, place.north_m)
    latrines = [one for one in night.camp(plan).facilities if one.kind == "latrine"]
    assert len(latrines) == 1
    assert latrines[0].is_pinned
    assert latrines[0].name == place.name  # with its seats
    assert set(latrines[0].serves) == {one.shelter.name for one in camp.shelters}


def test_a_latrine_put_too_far_for_some_gets_a_second_one(night, camp):
    far = max(camp.shelters, key=lambda one: one.east_m)
    plan = night.pinned("latrine", "Latrine", far.east_m + 110.0, far.north_m)
    latrines = [one for one in night.camp(plan).facilities if one.kind == "latrine"]
    assert [one.name.partition(",")[0] for one in latrines] == ["Latrine", "Latrine 2"]
    served = [name for one in latrines for name in one.serves]
    assert sorted(served) == sorted(one.shelter.name for one in camp.shelters)


def test_a_latrine_by_the_water_stays_and_is_told(night, camp):
    south_of_lake_m = night.grid.north_m - 60.0 - 30.0
    plan = night.pinned("latrine", "Latrine", camp.shelters[0].east_m, south_of_lake_m)
    again = night.camp(plan)
    assert facility(again, "latrine").is_pinned
    assert any("Latrine, put there by hand: 30 m from water: latrines keep 61 m." in text for text in texts(again)), (
        texts(again)
    )


def test_a_post_keeps_its_place_and_name_and_the_others_are_chosen_round_it():
    night = Night(security=SecuritySettings(post_count=3))
    camp = night.camp()
    post = camp.security.posts[1]
    plan = night.pinned("post", post.name, post.east_m + 25.0, post.north_m + 5.0)
    posts = night.camp(plan).security.posts
    assert len(posts) == 3
    kept = [one for one in posts if one.is_pinned]
    assert [one.name for one in kept] == [post.name]
    assert math.hypot(kept[0].east_m - post.east_m - 25.0, kept[0].north_m - post.north_m - 5.0) < 0.02
    assert len({one.name for one in posts}) == 3


@pytest.mark.parametrize(
    ("kind", "name", "far_m", "words"),
    [
        ("shelter", "Tent 1", 400.0, "400 m from"),
        ("shelter", "Tent nobody has", 0.0, "no shelter of that name"),
        ("fire", "Fire", 0.0, "the plan asks for none"),
        ("shelter", "Tent 1", 90_000.0, "outside the ground that was read"),
    ],
)
def test_a_pin_that_means_another_camp_is_told_and_not_used(night, kind, name, far_m, words):
    box = night.sites.sites[0].outline_m.bounds
    plan = night.pinned(kind, name, (box[0] + box[2]) / 2.0, box[1] - far_m)
    camp = night.camp(plan)
    [told] = [text for text in texts(camp) if "not used" in text]
    assert words in told
    assert not any(one.is_pinned for one in things_of(camp))


def test_why_not_there_says_how_much_is_lacking(night, camp, hand):
    one, other = camp.shelters[0], camp.shelters[1]
    away_m = 41.3 * night.grid.point_scale(one.east_m, one.north_m)
    told = why_not_there(hand, ("shelter", one.shelter.name), other.east_m + away_m, other.north_m)
    assert any(text.startswith(f"41 m from {other.shelter.name}: 14 m short of the spacing") for text in told)


def test_a_thing_may_stay_where_the_camp_has_it(hand):
    for thing in hand.things:
        if thing.kind in ("shelter", "latrine", "post", "drinking_water", "fuel", "stores", "waste"):
            assert why_not_there(hand, thing.key, thing.east_m, thing.north_m) == (), thing


@pytest.mark.parametrize(
    ("layer", "words"),
    [
        ({"is_avalanche_runout": True}, "in avalanche ground"),
        ({"is_wet": True}, "on wet ground"),
        ({"unsafe_unknown": True}, "on ground that isn't known"),
        ({"slope_deg": 12.0}, "steeper than 10° here"),
    ],
)
def test_bad_ground_under_the_edge_of_a_shelter_is_enough(night, camp, layer, words):
    name, value = next(iter(layer.items()))
    one = camp.shelters[0]
    row, col = night.grid.cell_at(one.east_m, one.north_m)
    bad = np.array(getattr(night.terrain, name), copy=True)
    bad[row, col + 1] = value
    hand = hand_of(night.plan, night.ground, replace(night.terrain, **{name: bad}), night.sites, camp)
    east_m = night.grid.cell_centre_m(row, col)[0] + 3.0  # 5.3 m wide: its edge lies over the next cell
    assert words in why_not_there(hand, ("shelter", one.shelter.name), east_m, one.north_m)
    west_m = night.grid.cell_centre_m(row, col)[0]
    assert words not in why_not_there(
        hand, ("shelter", one.shelter.name), west_m, night.grid.cell_centre_m(row, col)[1]
    )


def test_off_the_site_and_off_the_map(night, hand):
    west, south, east, _ = night.sites.sites[0].outline_m.bounds
    key, middle_m = ("shelter", "Tent 1"), (west + east) / 2.0
    assert "off the site" in why_not_there(hand, key, middle_m, south - 20.0)
    assert any("400 m from the site: past 300 m it is not used" in text
               for text in why_not_there(hand, key, middle_m, south - 400.0))  # fmt: skip
    assert why_not_there(hand, key, middle_m, night.grid.south_m - 1.0) == ("outside the ground that was read",)


def test_water_is_drawn_only_where_there_is_some(night, hand, camp):
    at_bank = night.grid.north_m - 60.0
    assert why_not_there(hand, ("drinking_water", "Drinking water"), camp.shelters[0].east_m, at_bank - 2.0) == ()
    [told] = why_not_there(hand, ("drinking_water", "Drinking water"), camp.shelters[0].east_m, at_bank - 80.0)
    assert told == "no water here: the nearest lies 80 m away"


def test_a_check_takes_no_longer_than_a_frame(hand, camp):
    # 16 ms is one frame of the map; the check is asked at every step of a drag.
    keys = [thing.key for thing in hand.things]
    begin = time.perf_counter()
    for number in range(200):
        why_not_there(hand, keys[number % len(keys)], camp.shelters[0].east_m + number, camp.shelters[0].north_m)
    assert (time.perf_counter() - begin) / 200 < 0.016


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(4))
def test_places_beside_others_keep_the_spacing_and_stand_on_allowed_ground(seed):
    random = np.random.default_rng(seed)
    allowed = random.random((40, 40)) < 0.93
    room = Room(spacing=5.4864, radius=0.2)
    held = random.random((3, 2)) * 40.0
    places = pack_beside(allowed, room, held, QUICK)
    everything = np.vstack((places, held))
    for k in range(len(places)):
        away = np.hypot(*(everything - places[k]).T)
        away[k] = np.inf
        assert away.min() >= room.spacing - 1e-9
        assert footprint_fits(allowed, *places[k], room.radius)
    assert len(places) >= len(pack(allowed, room, QUICK)) - 4 * len(held)
