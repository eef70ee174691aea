"""What a leader expects of the sites found."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.edits import with_values, with_weight
from sitepick.plan.model import CampSettings
from sitepick.sites import find_sites
from tests.helpers.made import BOG, LAKE, OPEN, SPRUCE, TREES_OF_UNKNOWN_LEAF, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march
from tests.unit.sites.made_sites import cells_of, grove, only, sites_on, spruce


@pytest.mark.slow
def test_sites_hold_the_unit_and_dont_overlap():
    sites = sites_on(spruce(100, 100))
    assert len(sites.sites) >= 3
    for site in sites.sites:
        assert site.capacity >= sites.need_count == 5
        assert site.outline_m.is_valid
        assert site.outline_m.is_simple
        assert site.outline_m.contains(site.outline_m.representative_point())
        assert site.score == pytest.approx(100 * sum(one.weight * one.score for one in site.measures))
        assert sum(one.weight for one in site.measures) == pytest.approx(1.0)
    for one, other in itertools.combinations(sites.sites, 2):
        assert one.outline_m.intersection(other.outline_m).area == 0.0
    assert len({site.name for site in sites.sites}) == len(sites.sites)
    scores = [site.score for site in sites.sites]
    assert scores == sorted(scores, reverse=True)


def test_the_grove_is_picked_over_open_ground():
    sites = sites_on(grove((20, 40, 20, 40)))
    rows, cols = cells_of(sites, 0)
    assert np.mean((rows >= 20) & (rows < 40) & (cols >= 20) & (cols < 40)) > 0.9


def test_a_site_lies_within_every_limit():
    random = np.random.default_rng(3)
    slope = random.random((60, 60)).astype(np.float32) * 9.0
    wind = random.random((60, 60)).astype(np.float32) * 1.2
    sites = sites_on(
        spruce(), plan=make_plan(people=8), slope_30m_deg=slope, slope_deg=slope * 1.2, wind_share_worst=wind
    )
    assert sites.sites
    for number, site in enumerate(sites.sites):
        cells = cells_of(sites, number)
        assert slope[cells].max() <= 5.7
        assert (slope[cells] * 1.2).max() <= 10.0
        assert wind[cells].max() <= 1.0
        assert all(one.within_limit for one in site.measures)
        assert sites.can_pitch[cells].all()


@pytest.mark.parametrize("name", ["is_avalanche_release", "is_avalanche_runout", "is_wet", "unsafe_unknown"])
def test_dangerous_ground_holds_no_site(name):
    is_bad = np.zeros((60, 60), bool)
    is_bad[:, :45] = True
    sites = sites_on(spruce(), people=8, **{name: is_bad})
    assert not sites.can_pitch[:, :45].any()
    assert sites.sites
    assert all(cells_of(sites, number)[1].min() >= 45 for number in range(len(sites.sites)))


def test_shelters_keep_off_water():
    cover = spruce()
    cover[:, 28:32] = LAKE
    sites = sites_on(cover)
    assert not sites.can_pitch[:, 25:35].any()
    assert sites.can_pitch[:, 24].all()
    assert sites.can_pitch[:, 35].all()


def test_unknown_ground_is_out_and_told():
    cover = spruce()
    cover[:30] = -1
    sites = sites_on(cover)
    assert not sites.can_pitch[:30].any()
    assert sites.unknown_share == pytest.approx(0.5, abs=0.01)
    assert any(caution.kind == "data" for caution in sites.cautions)


def test_nothing_known_finds_nothing_and_says_why():
    sites = sites_on(np.full((20, 20), -1))
    assert not sites.sites
    assert sites.hindrances[0].name == "unknown"
    assert sites.hindrances[0].excluded_frac == 1.0


def test_nothing_in_reach_finds_nothing_and_says_why():
    sites = sites_on(spruce(), limit_min=-1.0)
    assert not sites.sites
    assert sites.hindrances[0].name == "reach"
    assert sites.reach_area_m2 == 0.0


def test_reasons_stand_with_the_most_limiting_first():
    cover = spruce()
    cover[:10] = BOG
    sites = sites_on(cover, slope_30m_deg=np.where(np.arange(60)[None, :] < 45, 20.0, 20.0).repeat(60, axis=0))
    assert not sites.sites
    told = [(reason.name, reason.excluded_frac) for reason in sites.hindrances]
    assert told[0] == ("slope", 1.0)
    assert [share for _, share in told] == sorted((share for _, share in told), reverse=True)


def test_a_narrow_bench_is_found():
    sites = sites_on(spruce(), slope_30m_deg=only((30, 32, 4, 44)))
    assert len(sites.sites) == 1
    rows, _ = cells_of(sites, 0)
    assert set(rows) == {30, 31}


def test_a_crescent_is_found():
    rows, cols = np.indices((80, 80))
    away = np.hypot(rows - 40, cols - 40)
    is_crescent = (away > 17) & (away < 20) & (cols < 45)
    sites = sites_on(np.full((80, 80), SPRUCE), slope_30m_deg=np.where(is_crescent, 1.0, 20.0).astype(np.float32))
    assert sites.sites
    assert is_crescent[cells_of(sites, 0)].all()


def test_spacing_wider_than_any_grove_is_told_as_room():
    slope = only((10, 20, 10, 20), (40, 50, 40, 50))
    sites = sites_on(
        spruce(), plan=replace(make_plan(people=38), camp=CampSettings(spacing_m=90.0)), slope_30m_deg=slope
    )
    assert not sites.sites
    room = next(reason for reason in sites.hindrances if reason.name == "room")
    assert "of 5 shelters" in room.text
    assert "set the spacing to" in room.fix
    spacing_m = float(room.fix.split("set the spacing to ")[1].split(" m")[0])
    plan = replace(make_plan(people=38), camp=CampSettings(spacing_m=spacing_m))
    assert sites_on(spruce(), plan=plan, slope_30m_deg=slope).sites


@pytest.mark.slow
@pytest.mark.parametrize(("people", "need"), [(1, 1), (10, 1), (11, 3), (150, 16)])
def test_units_of_every_size_find_room(people, need):
    sites = sites_on(spruce(90, 90), people=people)
    assert sites.need_count == need
    assert all(site.capacity >= need for site in sites.sites)
    assert sites.sites


def test_twice_the_unit_needs_the_larger_grove():
    slope = only((5, 15, 5, 17), (30, 55, 30, 55))
    cover = np.full((60, 60), OPEN)
    cover[5:15, 5:17] = SPRUCE
    small = sites_on(cover, people=20, slope_30m_deg=slope)
    large = sites_on(cover, people=100, slope_30m_deg=slope)
    assert cells_of(small, 0)[0].max() < 15
    assert len(large.sites) == 1
    assert cells_of(large, 0)[0].min() >= 30


def test_half_the_reach_picks_nearer():
    cover = grove((20, 40, 5, 20), (20, 40, 40, 58))
    cover[20:40, 5:20] = OPEN
    far = sites_on(cover)
    near = sites_on(cover, limit_min=6.5)
    assert cells_of(far, 0)[1].min() >= 38
    assert cells_of(near, 0)[1].max() < 35
    assert near.reach_area_m2 < far.reach_area_m2


@pytest.mark.slow
def test_the_wind_turned_round_moves_the_pick_to_the_other_side():
    shelter = np.tile(np.linspace(0.1, 0.9, 60, dtype=np.float32), (60, 1))
    west = sites_on(spruce(), people=20, wind_share=shelter, wind_share_worst=shelter)
    east = sites_on(spruce(), people=20, wind_share=shelter[:, ::-1].copy(), wind_share_worst=shelter[:, ::-1].copy())
    assert west.sites[0].east_m < west.grid.centre_m[0] < east.sites[0].east_m


@pytest.mark.slow
def test_weights_times_two_change_nothing():
    cover = grove((5, 25, 5, 25), (30, 55, 30, 55))
    plan = make_plan(people=20)
    doubled = plan
    for name, factor in plan.preferences.factors():
        doubled = with_weight(doubled, name, 2.0 * factor.weight)
    one, other = sites_on(cover, plan=plan), sites_on(cover, plan=doubled)
    assert [site.name for site in one.sites] == [site.name for site in other.sites]
    assert [site.score for site in one.sites] == pytest.approx([site.score for site in other.sites])


@pytest.mark.slow
def test_a_weight_moved_moves_the_pick():
    cover = grove((5, 25, 5, 25))
    wind = np.full((60, 60), 0.6, np.float32)
    wind[30:, 30:] = 0.1
    plan = make_plan(people=20)
    for_forest = sites_on(cover, plan=with_weight(plan, "forest", 200.0), wind_share=wind, wind_share_worst=wind)
    for_wind = sites_on(cover, plan=with_weight(plan, "wind", 200.0), wind_share=wind, wind_share_worst=wind)
    assert cells_of(for_forest, 0)[0].mean() < 26
    assert cells_of(for_wind, 0)[0].mean() > 29


def test_unknown_leaf_is_told_as_a_range_and_ranked_at_its_lower_end():
    sites = sites_on(np.full((60, 60), TREES_OF_UNKNOWN_LEAF))
    forest = sites.sites[0].measure("forest")
    assert forest.value is None
    assert forest.score == 0.0
    assert forest.score_high > 0.5
    assert sites.sites[0].score < sites.sites[0].score_high
    assert any(caution.kind == "data" for caution in sites.sites[0].cautions)


def test_a_forest_limit_keeps_open_ground_out():
    plan = make_plan(people=8)
    limited = with_values(plan, "preferences", forest=replace(plan.preferences.forest, limit_min=0.6))
    sites = sites_on(grove((10, 30, 10, 30)), plan=limited)
    assert sites.sites
    assert all(site.measure("forest").value >= 0.6 for site in sites.sites)
    nothing = sites_on(grove(), plan=limited)
    assert not nothing.sites
    assert "forest" in next(reason.text for reason in nothing.hindrances if reason.name == "limits")


def test_water_far_off_is_told_and_scores_nothing():
    sites = sites_on(spruce(), people=8)
    water = sites.sites[0].measure("water")
    assert water.value is None
    assert water.score == water.score_high == 0.0
    assert "melt snow" in water.sentence


def test_water_near_by_is_measured_there_and_back():
    is_lake = np.zeros((60, 60), bool)
    is_lake[:, :3] = True
    cover = np.where(is_lake, LAKE, SPRUCE)
    sites = sites_on(cover, people=8)
    water = sites.sites[0].measure("water")
    assert water.value is not None
    assert 0.0 < water.value < 60.0
    assert "Lake" in water.sentence


def test_stopping_ends_the_search():
    from sitepick.work import JobStopped, Watch

    ground = make_ground(np.full((30, 30), 300.0), SPRUCE)
    plan = make_plan(ground)
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        find_sites(plan, ground, make_terrain(ground), make_march(plan, ground), watch=watch)
