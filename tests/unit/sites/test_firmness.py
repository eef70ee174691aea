"""How firm a ranking is, and what would topple the pick."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.edits import with_factor, with_weighting
from sitepick.plan.model import FACTOR_NAMES, Preferences
from sitepick.sites.firmness import Draws, firmness, outcome_of, random_draws, still_draws
from sitepick.sites.spread import SLOPE_SHIFTS, Spread
from sitepick.sites.topple import smallest_topple
from tests.helpers.made import make_plan
from tests.unit.sites import slow_firmness

USUAL = {
    "forest": 0.7, "slope": 2.0, "wind": 0.25, "water": 12.0, "room": 4.0, "progress": 0.8, "detour": 10.0, "cold": 0.2,
    "steepest": 5.0, "level_chance": 0.9, "sun": 3.0, "morning": 15.0,
}  # fmt: skip
NAMES = tuple(name for name in FACTOR_NAMES if name in USUAL)


def make_spread(*sites, wind_from=((300.0, 1.0),), **known):
    """Sites by what they have besides the usual; wind the same from every side unless given as 24 shares."""
    values = np.array([[site.get(name, USUAL[name]) for name in NAMES] for site in sites], float)
    factors = dict(Preferences().factors())
    curves = [zip(*factors[name].curve, strict=True) for name in NAMES]
    scores = np.array([np.interp(values[:, k], *curve) for k, curve in enumerate(curves)]).T
    count = len(sites)
    winds = np.array([site.get("winds", np.full(24, site.get("wind", USUAL["wind"]))) for site in sites], float)
    made = {
        "names": NAMES, "scores": scores, "values": values, "wind_worst": winds.max(axis=1),
        "wind_mean_from": winds, "wind_worst_from": winds * 1.1, "wind_from": wind_from,
        "slope_error_deg": np.full(count, 0.3), "slope_kept_frac": np.ones((count, SLOPE_SHIFTS.size)),
        "way_min": np.array([site.get("way_min", 200.0) for site in sites], float),
        "leave_m": np.array([site.get("leave_m", 8000.0) for site in sites], float),
        "capacity": np.full(count, 9), "need_count": 5, "moving_min_limit": 300.0, "reach_m": 10_000.0,
        "station_min": np.linspace(0.0, 600.0, 61), "station_m": np.linspace(0.0, 20_000.0, 61),
    }  # fmt: skip
    return Spread(**{**made, **known})


def usual_plan(**weighting):
    return with_weighting(make_plan(preferences=Preferences()), **weighting)


def random_spread(seed, count=6, **known):
    random = np.random.default_rng(seed)
    sites = [
        {
            "forest": random.random(), "slope": 5.0 * random.random(), "wind": random.random(),
            "water": 60.0 * random.random(), "room": float(random.integers(0, 5)), "progress": random.random(),
            "detour": 60.0 * random.random(), "winds": random.random(24), "way_min": 400.0 * random.random(),
            "leave_m": 10_000.0 * random.random(), "cold": random.random(), "steepest": 10.0 * random.random(),
            "level_chance": random.random(), "sun": 6.0 * random.random(), "morning": 60.0 * random.random(),
        }
        for _ in range(count)
    ]  # fmt: skip
    kept = np.sort(random.random((count, SLOPE_SHIFTS.size)), axis=1)[:, ::-1]
    return make_spread(*sites, slope_kept_frac=kept, **known)


@pytest.mark.kernel
@pytest.mark.parametrize("mean", ["arithmetic", "geometric"])
@pytest.mark.parametrize("wind_from", [(), ((300.0, 1.0),), ((20.0, 0.7), (200.0, 0.3))])
def test_the_draws_are_those_of_plain_loops(mean, wind_from):
    plan = usual_plan(mean=mean, draw_count=100)
    for name, limits in (("cold", {}), ("sun", {}), ("steepest", {"limit_max": 9.0}), ("morning", {"limit_max": 60.0}),
                         ("level_chance", {"limit_min": 0.05})):  # fmt: skip
        plan = with_factor(plan, name, weight=6.0, **limits)
    spread = random_spread(5, wind_from=wind_from)
    spread = replace(spread, values=np.where(np.arange(len(NAMES)) == 3, [[np.nan]] + [[1.0]] * 5, 1.0) * spread.values)
    draws = random_draws(spread, plan)
    few = Draws(**{name: getattr(draws, name)[:40] for name in Draws.__slots__})
    few.turn_deg[0] = np.nan
    fast = outcome_of(spread, plan.preferences, few)
    scores, is_out = slow_firmness.outcome(spread, plan.preferences, few)
    np.testing.assert_allclose(fast.scores, scores, atol=1e-9)
    np.testing.assert_array_equal(fast.is_out, is_out)
    assert 0 < is_out.mean() < 1


def test_a_still_draw_is_the_score_as_measured():
    plan = usual_plan()
    spread = make_spread({}, {"forest": 0.3}, {"wind": 0.6})
    outcome = outcome_of(spread, plan.preferences, still_draws(spread, 1))
    weights = np.array([factor.weight for name, factor in plan.preferences.factors() if name in NAMES])
    assert outcome.scores[0] == pytest.approx(spread.scores @ weights / weights.sum())
    assert not outcome.is_out.any()


def test_a_far_better_site_is_always_first_and_the_same_draws_come_each_time():
    spread = make_spread({"forest": 0.8}, {"forest": 0.1}, {"forest": 0.05})
    one, other = firmness(spread, usual_plan()), firmness(spread, usual_plan())
    assert one.first_share.tolist() == [1.0, 0.0, 0.0]
    assert one.top_three_share.tolist() == [1.0, 1.0, 1.0]
    np.testing.assert_array_equal(one.is_out, other.is_out)


def test_a_site_near_camp_by_is_out_as_often_as_the_pace_is_too_slow():
    # At 270 of 300 min the pace may be 10 % slower; of +-20 % drawn evenly a quarter is.
    firm = firmness(make_spread({"way_min": 270.0}, {"forest": 0.5}), usual_plan())
    assert firm.out_share[0] == pytest.approx(0.25, abs=0.03)
    assert firm.first_share[0] == pytest.approx(0.75, abs=0.03)
    assert firm.first_share.sum() == pytest.approx(1.0)


def test_no_error_at_all_leaves_the_ranking_as_it_is():
    plan = usual_plan(weight_error_frac=0.0, wind_error_deg=0.0, wind_speed_error_frac=0.0)
    plan = replace(plan, march=replace(plan.march, pace_error_frac=0.0))
    spread = make_spread({"forest": 0.70}, {"forest": 0.69}, slope_error_deg=np.zeros(2))
    assert firmness(spread, plan).first_share.tolist() == [1.0, 0.0]
    assert smallest_topple(spread, plan) is None


def test_wider_errors_never_make_the_pick_firmer():
    spread = make_spread({"forest": 0.8, "water": 20.0}, {"forest": 0.6, "water": 8.0})
    firm = [firmness(spread, usual_plan(weight_error_frac=frac)).first_share[0] for frac in (0.0, 0.2, 0.6)]
    assert firm == sorted(firm, reverse=True)


def test_ground_lost_to_a_steeper_slope_costs_room_before_it_costs_the_site():
    kept = np.clip(1.0 - SLOPE_SHIFTS / 2.0, 0.0, 1.0)[None, :]
    spread = make_spread({}, slope_kept_frac=kept)
    draws = still_draws(spread, 3)
    steeper = replace(draws, slope_errors=np.array([[0.0], [0.8], [1.2]]))
    # Of 9 places 9, 5 (60 %) and 3 (40 %) are left for 5 shelters.
    assert outcome_of(spread, Preferences(), steeper).is_out[:, 0].tolist() == [False, False, True]


def test_the_slower_pace_that_topples_is_told():
    spread = make_spread({"way_min": 264.0, "forest": 0.9}, {"forest": 0.2})
    topple = smallest_topple(spread, usual_plan())
    assert topple.name == "pace"
    assert topple.text == "a pace 12 % slower"  # 264 / 300 = 0.88
    assert topple.error_units == pytest.approx(0.6, abs=0.01)
    assert topple.then_first == 1


def test_the_wind_that_topples_is_told():
    winds = np.full(24, 0.1)
    winds[10:18] = 0.8  # open from 150 to 255 degrees
    spread = make_spread({"winds": winds, "wind": 0.1}, {"wind": 0.3, "forest": 0.69})
    topple = smallest_topple(spread, usual_plan())
    assert topple.name == "wind direction"
    assert "backing to west" in topple.text
    assert 1.0 < topple.error_units < 3.0


def test_the_weight_that_topples_is_told_and_does_topple():
    spread = make_spread({"forest": 0.8, "water": 38.0}, {"forest": 0.45, "water": 6.0})
    plan = usual_plan()
    topple = smallest_topple(spread, plan)
    assert topple.name in NAMES
    amount = topple.error_units * plan.preferences.weighting.weight_error_frac
    changed = still_draws(spread, 2)
    k = NAMES.index(topple.name)
    sign = -1.0 if "less" in topple.text else 1.0
    changed.weights[:, k] = [1.0 + sign * amount, 1.0 + sign * (amount - 0.01)]
    assert outcome_of(spread, plan.preferences, changed).first().tolist() == [1, 0]


def test_nothing_that_is_tried_topples_a_lone_near_site():
    spread = make_spread({"way_min": 10.0, "progress": 1.0, "leave_m": 20_000.0})
    assert smallest_topple(spread, usual_plan()) is None
