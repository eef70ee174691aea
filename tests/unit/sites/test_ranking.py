"""Ranks, alternates, marks and the user's own sites on made ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitepick.errors import SettingsError
from sitepick.plan.edits import (
    is_weights_only,
    with_own_site,
    with_site_mark,
    with_sites_shown,
    with_values,
    with_weight,
    with_weighting,
    with_weights,
)
from sitepick.plan.model import Area, CampSettings
from sitepick.plan.weighting import SiteMark, ring_crosses_itself
from sitepick.sites import find_sites, rank_again
from sitepick.sites.alternate import choose_alternate
from tests.helpers.made import OPEN, SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march
from tests.unit.sites.made_sites import cells_of, grove, only, spruce


def scene(cover=None, *, people=20, limit_min=1e6, plan_values=None, **terrain):
    cover = grove((5, 25, 5, 25), (30, 55, 30, 55)) if cover is None else cover
    ground = make_ground(np.full(cover.shape, 300.0), cover)
    plan = make_plan(ground, people=people, **(plan_values or {}))
    return plan, ground, make_terrain(ground, **terrain), make_march(plan, ground, limit_min=limit_min)


@pytest.fixture(scope="module")
def found():
    made = scene()
    return made, find_sites(*made)


def ring_of(ground, top, bottom, left, right):
    west, south = ground.grid.west_m, ground.grid.north_m
    cell = ground.grid.cell_m
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    lon, lat = ground.grid.to_lonlat([west + c * cell for c, _ in corners], [south - r * cell for _, r in corners])
    return tuple(zip(map(float, lon), map(float, lat), strict=True))


def mark_on(ground, site, **wish):
    lon, lat = ground.grid.to_lonlat(site.east_m, site.north_m)
    return SiteMark(place=(float(lon), float(lat)), **wish)


def test_how_firm_is_told_of_every_site(found):
    _, sites = found
    assert sites.is_drawn
    assert sum(site.firm_share for site in sites.sites) <= 1.0 + 1e-9
    for site in sites.sites:
        assert 0.0 <= site.firm_share <= site.top_three_share <= 1.0
        assert 0.0 <= site.out_of_limits_share <= 1.0


def test_ranking_again_is_the_same_as_searching_where_nothing_has_changed(found):
    (plan, ground, terrain, march), sites = found
    again = rank_again(plan, ground, terrain, march, sites)
    assert [(site.rank, site.name, site.score) for site in again.sites] == [
        (site.rank, site.name, site.score) for site in sites.sites
    ]
    assert not again.is_drawn
    assert again.sites[0].firm_share is None


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(
    weights=st.lists(st.floats(0.5, 60.0), min_size=5, max_size=5), mean=st.sampled_from(["arithmetic", "geometric"])
)
def test_ranking_again_scores_as_the_weights_say(found, weights, mean):
    (plan, ground, terrain, march), sites = found
    moved = with_weights(plan, dict(zip(("forest", "slope", "wind", "water", "room"), weights, strict=True)))
    moved = with_weighting(moved, mean=mean)
    again = rank_again(moved, ground, terrain, march, sites)
    scores = [site.score for site in again.sites]
    assert scores == sorted(scores, reverse=True)
    for site in again.sites:
        shares = np.array([measure.weight for measure in site.measures])
        parts = np.array([measure.score for measure in site.measures])
        assert shares.sum() == pytest.approx(1.0)
        if mean == "arithmetic":
            assert site.score == pytest.approx(100.0 * shares @ parts)
        else:
            assert site.score == pytest.approx(100.0 * np.prod(parts**shares), abs=1e-6)


def test_what_changes_the_ground_is_searched_anew(found):
    (plan, ground, terrain, march), sites = found
    steeper = with_values(plan, "preferences", slope=replace(plan.preferences.slope, limit_max=8.0))
    wider = with_values(plan, "camp", spacing_m=30.0)
    for other in (steeper, wider):
        assert not is_weights_only(plan, other)
        assert rank_again(other, ground, terrain, march, sites) is None
    assert is_weights_only(plan, with_weight(plan, "wind", 3.0))


def test_a_site_past_a_limit_is_never_listed():
    random = np.random.default_rng(8)
    slope = (random.random((60, 60)) * 8.0).astype(np.float32)
    limited = {
        "preferences": replace(make_plan().preferences, forest=replace(make_plan().preferences.forest, limit_min=0.3))
    }
    sites = find_sites(*scene(people=8, plan_values=limited, slope_30m_deg=slope))
    assert all(measure.within_limit for site in sites.sites for measure in site.measures)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("better", "worse"),
    [({"wind_share": 0.2}, {"wind_share": 0.5}), ({"slope_30m_deg": 1.0}, {"slope_30m_deg": 4.0}),
     ({"evergreen_frac": 0.8}, {"evergreen_frac": 0.4})],
)  # fmt: skip
@pytest.mark.parametrize("mean", ["arithmetic", "geometric"])
def test_better_ground_in_one_factor_never_lowers_a_site(better, worse, mean):
    made = scene(spruce(), **worse)
    plan = with_weighting(made[0], mean=mean)
    improved = scene(spruce(), **better)
    before, after = find_sites(plan, *made[1:]), find_sites(plan, *improved[1:])
    assert after.sites[0].score >= before.sites[0].score
    same = {site.outline_m.wkb: site.score for site in after.sites}
    for site in before.sites:
        assert same.get(site.outline_m.wkb, 100.0) >= site.score


@pytest.mark.slow
def test_more_shelters_never_find_more_places():
    counts = [len(find_sites(*scene(people=people)).kept.measured) for people in (1, 10, 40, 150)]
    assert counts == sorted(counts, reverse=True)
    assert counts[-1] < counts[0]


def test_a_name_stays_with_the_place_whatever_its_rank(found):
    (plan, ground, terrain, march), sites = found
    last = sites.sites[-1]
    named = with_site_mark(plan, mark_on(ground, last, name="Aunt's wood"))
    again = rank_again(named, ground, terrain, march, sites)
    assert again.sites[-1].name == "Aunt's wood"
    moved = rank_again(with_weights(named, {"forest": 0.0, "wind": 0.0, "water": 60.0}), ground, terrain, march, sites)
    (place,) = [site for site in moved.sites if site.outline_m == last.outline_m]
    assert place.name == "Aunt's wood"


def test_a_hidden_site_is_out_of_list_and_ranking_until_it_is_shown_again(found):
    (plan, ground, terrain, march), sites = found
    hidden = with_site_mark(plan, mark_on(ground, sites.sites[0], is_hidden=True))
    again = rank_again(hidden, ground, terrain, march, sites)
    assert again.hidden_count == 1
    assert again.sites[0].outline_m == sites.sites[1].outline_m
    assert again.sites[0].rank == 1
    shown = with_sites_shown(hidden)
    assert shown.site_marks == ()
    assert rank_again(shown, ground, terrain, march, sites).sites[0].outline_m == sites.sites[0].outline_m


def test_a_kept_site_is_listed_with_its_true_rank(found):
    (plan, ground, terrain, march), sites = found
    last = sites.sites[-1]
    assert last.rank > 2
    kept = with_site_mark(plan, mark_on(ground, last, is_pinned=True))
    short = with_values(kept, "preferences", site_count_max=1)
    again = rank_again(short, ground, terrain, march, sites)
    assert [site.rank for site in again.sites] == [1, last.rank]
    assert again.sites[1].is_pinned
    whole = find_sites(short, ground, terrain, march)
    assert whole.sites[-1].is_pinned
    assert whole.alternate is not None


def test_a_mark_can_not_both_keep_and_hide():
    with pytest.raises(SettingsError, match="both"):
        SiteMark(place=(21.0, 67.0), is_pinned=True, is_hidden=True)
    with pytest.raises(SettingsError, match="longitude"):
        SiteMark(place=(221.0, 67.0))


def test_the_users_own_site_is_measured_and_ranked_like_any_other(found):
    (plan, ground, terrain, march), sites = found
    own = with_own_site(plan, "Our grove", ring_of(ground, 6, 24, 6, 24))
    ranked = find_sites(own, ground, terrain, march)
    (ours,) = [site for site in ranked.sites if site.is_own]
    assert ours.name == "Our grove"
    assert {measure.name for measure in ours.measures} == {measure.name for measure in sites.sites[0].measures}
    assert ours.rank == 1 + sum(site.score > ours.score for site in ranked.sites)
    assert ours.measure("forest").value == pytest.approx(0.85, abs=0.01)
    for other in ranked.sites:
        assert other is ours or other.outline_m.intersection(ours.outline_m).area == 0.0


def test_an_own_site_past_a_limit_is_told_and_not_listed():
    made = scene(spruce(), slope_30m_deg=only((30, 58, 2, 58)))
    plan = with_own_site(made[0], "The steep one", ring_of(made[1], 5, 20, 5, 20))
    sites = find_sites(plan, *made[1:])
    assert not any(site.is_own for site in sites.sites)
    (failed,) = sites.own_failed
    assert "100 % of it is steeper than 5.7°" in failed.text
    assert "by up to 14.3°" in failed.text
    assert "None of 3 shelters fit" in failed.text
    assert failed.score is not None
    lighter = rank_again(with_weight(plan, "forest", 90.0), *made[1:], sites).own_failed[0]
    assert lighter.score > failed.score


def test_an_own_site_outside_the_ground_is_told():
    made = scene()
    plan = with_own_site(made[0], "Far", ((10.0, 60.0), (10.01, 60.0), (10.01, 60.01)))
    sites = find_sites(plan, *made[1:])
    assert any("Far lies outside the ground" in caution.text for caution in sites.cautions)
    assert not any(site.is_own for site in sites.sites)


def test_an_own_site_smaller_than_a_cell_or_on_unknown_ground_holds_nobody():
    made = scene(spruce())
    tiny = ring_of(made[1], 10.1, 10.3, 10.1, 10.3)
    sites = find_sites(with_own_site(made[0], "Dot", tiny), *made[1:])
    assert "of 3 shelters fit" in sites.own_failed[0].text
    unknown = spruce()
    unknown[:20, :20] = -1
    made = scene(unknown)
    sites = find_sites(with_own_site(made[0], "Gap", ring_of(made[1], 2, 12, 2, 12)), *made[1:])
    assert sites.own_failed[0].score is None
    assert "is not known" in sites.own_failed[0].text


def test_an_outline_that_crosses_itself_is_refused():
    bow = ((0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0))
    assert ring_crosses_itself(bow)
    assert not ring_crosses_itself(((0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0), (0.0, 0.0)))
    assert ring_crosses_itself(((0.0, 0.0), (2.0, 0.0), (1.0, 0.0), (1.0, 1.0)))
    with pytest.raises(SettingsError, match="crosses itself"):
        Area(name="Bow", role="site", ring=bow)


def test_the_alternate_is_the_second_unless_it_comes_too_late_or_falls_with_the_pick():
    second = choose_alternate([100.0, 120.0, 90.0], 150.0, None)
    assert (second.index, second.words) == (1, "")
    late = choose_alternate([100.0, 170.0, 90.0], 150.0, None)
    assert late.index == 2
    assert late.words == "It is the alternate because site 2 can't be reached at the late pace."
    is_out = np.array([[True, True, False], [False, False, False], [True, True, False], [False, False, True]])
    falls = choose_alternate([100.0, 120.0, 90.0], 150.0, is_out)
    assert falls.index == 2
    assert "site 2 would mostly fail together with the pick" in falls.words
    none_in_time = choose_alternate([100.0, 170.0], 150.0, None)
    assert none_in_time.index == 1
    assert "No other site can be reached at the late pace" in none_in_time.words
    assert choose_alternate([100.0], 150.0, None) is None


@pytest.mark.slow
@pytest.mark.parametrize("people", [1, 150])
@pytest.mark.parametrize(
    "cover", [np.full((50, 50), SPRUCE), np.full((50, 50), OPEN), np.full((50, 50), -1)], ids=["wood", "open", "gap"]
)
def test_any_ground_and_any_unit_gives_an_answer_or_its_reasons(cover, people):
    sites = find_sites(*scene(cover, people=people))
    assert sites.sites or sites.hindrances
    assert bool(sites.sites) == (cover[0, 0] >= 0)


def test_islands_of_one_cell_hold_nobody_and_room_is_told_first_where_spacing_prevents_it():
    slope = np.full((60, 60), 20.0, np.float32)
    slope[::6, ::6] = 1.0
    sites = find_sites(*scene(spruce(), slope_30m_deg=slope))
    assert not sites.sites
    grounds = only((10, 20, 10, 20), (40, 50, 40, 50))
    tight = {"camp": CampSettings(spacing_m=400.0)}
    sites = find_sites(*scene(spruce(), people=38, plan_values=tight, slope_30m_deg=grounds))
    assert sites.hindrances[0].name == "room"
    assert "set the spacing to" in sites.hindrances[0].fix


def test_what_a_wider_limit_would_bring_is_told():
    slope = only((0, 60, 0, 20))
    slope[:, 20:40] = 7.0
    sites = find_sites(*scene(spruce(), slope_30m_deg=slope))
    fix = next(reason.fix for reason in sites.hindrances if reason.name == "slope")
    # 60 x 40 cells of a hundredth of a hectare are out, half of them at 7 degrees.
    assert "without this limit 24 ha more" in fix
    assert "at 7.7° over 30 m 12 ha" in fix


def test_cells_of_a_pick_lie_on_ground_to_pitch(found):
    _, sites = found
    assert sites.can_pitch[cells_of(sites, 0)].all()
