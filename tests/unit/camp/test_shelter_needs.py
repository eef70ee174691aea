"""What a kind of shelter needs is told where it isn't met; what would make room is told where not all fit."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from pyproj import Geod

from sitepick.camp import lay_out_camp
from sitepick.plan.model import CampSettings, Unit
from sitepick.plan.shelter import SHELTER_KINDS, Shelter, own_kind, shelter_kind
from sitepick.plan.work_order import WorkSettings
from sitepick.sites import find_sites
from sitepick.terrain.model import DERIVED_STREAM
from sitepick.units import bearing_between_deg
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march


def told_of(kind, *, cover=SPRUCE, snow_cm=None, may_cut=False, canopy=None):
    """The camp of one shelter of a kind, and its cautions as one text."""
    kind = shelter_kind(kind) if isinstance(kind, str) else kind
    own = () if kind in SHELTER_KINDS else (kind,)
    ground = make_ground(np.full((40, 40), 300.0), cover)
    shelters = (Shelter(name="Home", section="One", people=2, kind=kind),)
    plan = make_plan(ground, unit=Unit(people=2, shelters=shelters, shelter_kinds=own))
    camp_settings = replace(plan.camp, work=WorkSettings(may_cut_boughs=may_cut))
    plan = replace(plan, weather=replace(plan.weather, snow_cm=snow_cm), camp=camp_settings)
    terrain = make_terrain(ground, **({} if canopy is None else {"canopy_frac": canopy}))
    march = make_march(plan, ground)
    camp = lay_out_camp(plan, ground, terrain, march, find_sites(plan, ground, terrain, march))
    return " ".join(caution.text for caution in camp.cautions)


@pytest.mark.parametrize(
    ("kind", "snow_cm", "told"),
    [
        ("snow_trench", 60.0, "Home needs packed snow of 100 cm or more, and the plan tells 60 cm"),
        ("snow_trench", None, "how deep it lies isn't known"),
        ("snow_cave", 120.0, "Home needs a drift of 200 cm or more, and the plan tells 120 cm on open ground"),
        ("snow_cave", 0.0, "the plan tells 0 cm"),
        (own_kind("igloo", needs_snow_cm=50.0), 20.0, "Home needs packed snow of 50 cm"),
    ],
)
def test_snow_that_is_too_shallow_or_not_known_is_told(kind, snow_cm, told):
    text = told_of(kind, snow_cm=snow_cm)
    assert told in text
    assert "two vents" in text


def test_snow_that_is_deep_enough_leaves_only_the_safety_of_the_roof():
    text = told_of("snow_trench", snow_cm=100.0)
    assert "needs packed snow" not in text
    assert "a roof of 30 cm or more" in text


def test_tents_need_nothing():
    text = told_of("ten_person_tent", cover=OPEN, snow_cm=None)
    assert "need" not in text.replace("needs no", "")


@pytest.mark.parametrize(("canopy", "is_told"), [(0.8, False), (0.05, True), (np.nan, True)])
def test_a_lean_to_without_trees_at_its_mark_is_told(canopy, is_told):
    assert ("Home needs two trees" in told_of("lean_to", canopy=canopy)) is is_told


@pytest.mark.parametrize(("may_cut", "is_told"), [(False, True), (True, False)])
def test_a_roof_of_boughs_only_where_they_may_be_cut(may_cut, is_told):
    assert ("bring a tarpaulin for the roof of Home" in told_of("lean_to", may_cut=may_cut)) is is_told


def test_nobody_sleeps_beside_a_running_engine():
    assert "engine" in told_of("vehicle")


def test_joined_shelters_look_the_same_way_and_count_once_for_the_spacing():
    ground = make_ground(np.full((60, 60), 300.0), SPRUCE)
    plan = make_plan(ground, people=38)
    shelters = list(plan.unit.shelters)
    shelters[1] = replace(shelters[1], joined_to="Tent 1")
    plan = replace(plan, unit=replace(plan.unit, shelters=tuple(shelters)))
    terrain, march = make_terrain(ground), make_march(plan, ground)
    camp = lay_out_camp(plan, ground, terrain, march, find_sites(plan, ground, terrain, march))
    one, other = camp.shelters[:2]
    assert other.touches == "Tent 1"
    assert one.door_bearing_deg == other.door_bearing_deg
    lon, lat = ground.grid.to_lonlat([one.east_m, other.east_m], [one.north_m, other.north_m])
    bearing, _, apart_m = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    assert apart_m == pytest.approx(5.3, abs=0.01)
    # Side by side: neither stands in the other's door.
    assert bearing_between_deg(bearing, one.door_bearing_deg) == pytest.approx(90.0, abs=0.1)
    assert camp.min_distance_m >= plan.camp.spacing_m


def crowded(people=100, *, spacing_m=54.864, **terrain):
    """A camp for more people than its site was looked for."""
    ground = make_ground(np.full((60, 60), 300.0), SPRUCE)
    few = make_plan(ground, people=20, camp=CampSettings(spacing_m=spacing_m))
    made, march = make_terrain(ground, **terrain), make_march(few, ground)
    sites = find_sites(few, ground, made, march)
    many = make_plan(ground, people=people, camp=few.camp)
    return lay_out_camp(many, ground, made, march, sites), many, (ground, made, march, sites)


def number_before(text, unit):
    return float(text.split(f" {unit}")[0].split()[-1])


def test_what_gives_is_told_with_how_many_fit():
    camp, plan, _ = crowded()
    assert camp.missing
    assert camp.cautions[0].kind == "room"
    fit = len(camp.shelters)
    assert camp.cautions[0].text.startswith(f"{fit} of {fit + len(camp.missing)} shelters fit at 55 m; ")
    assert camp.what_gives
    assert all(text in camp.cautions[0].text for text in camp.what_gives)
    assert plan.unit.people >= sum(one.people for one in camp.missing)


def test_the_spacing_that_is_told_makes_room_and_half_a_metre_more_does_not():
    camp, plan, (ground, made, march, sites) = crowded()
    closer = next(text for text in camp.what_gives if text.startswith("Set the spacing"))
    spacing_m = number_before(closer, "m")
    for change_m, is_enough in ((0.0, True), (0.5, False)):
        again = replace(plan, camp=replace(plan.camp, spacing_m=spacing_m + change_m))
        assert (not lay_out_camp(again, ground, made, march, sites).missing) is is_enough


def test_steeper_slopes_that_are_told_make_room():
    slope = np.full((60, 60), 8.0, np.float32)
    slope[24:36, 24:36] = 1.0
    camp, plan, (ground, made, march, _) = crowded(slope_deg=slope, slope_30m_deg=slope)
    steeper = next(text for text in camp.what_gives if text.startswith("Allow slopes"))
    assert "8.2° over 30 m" in steeper  # 5.7° and the fewest half degrees that let in 8°
    limit = replace(plan.preferences.slope, limit_max=8.2)
    wider = replace(plan, preferences=replace(plan.preferences, slope=limit, cell_slope_max_deg=12.5))
    camp = lay_out_camp(wider, ground, made, march, find_sites(wider, ground, made, march))
    assert not camp.missing


def test_another_site_that_is_told_is_the_nearest_that_takes_the_rest():
    camp, _, (_, _, _, sites) = crowded(people=80)
    told = next(text for text in camp.what_gives if text.startswith("Put"))
    first = sites.sites[0]
    missing = len(camp.missing)
    away = {
        site.rank: np.hypot(site.east_m - first.east_m, site.north_m - first.north_m)
        for site in sites.sites[1:]
        if site.capacity >= missing
    }
    nearest = min(away, key=away.get)
    assert f"on site {nearest}, " in told
    assert number_before(told, "m away") == pytest.approx(away[nearest], abs=6.0)


def test_where_everyone_fits_nothing_has_to_give():
    camp, _, _ = crowded(people=20)
    assert camp.what_gives == ()
    assert not camp.missing


@pytest.mark.parametrize("seed", range(2))
def test_what_gives_comes_cheapest_first(seed):
    slope = made_relief(60, 60, seed=seed, height_m=9.0)
    camp, plan, _ = crowded(slope_deg=slope, slope_30m_deg=slope, people=100)
    costs = []
    for text in camp.what_gives:
        if text.startswith("Set"):
            costs.append(1.0 - number_before(text, "m") / plan.camp.spacing_m)
        elif text.startswith("Allow"):
            costs.append(_more_deg(text) / 5.7)
        else:
            costs.append(number_before(text, "m away") / 1000.0)
    assert costs == sorted(costs)


def _more_deg(text):
    return float(text.split("° more")[0].split()[-1])


def test_a_brook_near_by_is_shunned_where_there_is_room_and_told_where_there_is_not():
    kinds = np.full((60, 60), 0, np.uint8)
    kinds[30, :] = DERIVED_STREAM
    for rows, is_told in ((60, False), (33, True)):
        slope = np.zeros((60, 60), np.float32)
        slope[:28], slope[rows:] = 40.0, 40.0  # ground to pitch on: from two rows above the brook
        ground = make_ground(np.full((60, 60), 300.0), SPRUCE)
        plan = make_plan(ground, people=10)
        terrain = replace(make_terrain(ground, slope_deg=slope, slope_30m_deg=slope), water_kind=kinds)
        march = make_march(plan, ground)
        camp = lay_out_camp(plan, ground, terrain, march, find_sites(plan, ground, terrain, march))
        text = " ".join(caution.text for caution in camp.cautions)
        assert ("Tent 1 stands less than 30 m from a stream or brook" in text) is is_told
