"""How scores become one, and the laws that every way of doing so keeps."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitepick.errors import SettingsError
from sitepick.plan.edits import with_weighting, with_weights
from sitepick.plan.emphasis import emphases, emphasis_of
from sitepick.plan.model import FACTOR_NAMES, Preferences
from sitepick.plan.weighting import MEANS
from sitepick.sites.factors import score_frac
from sitepick.sites.score import whole_score
from tests.helpers.made import make_plan

SHARES = st.floats(0.0, 1.0)
WEIGHTS = st.floats(0.01, 100.0)
ROWS = st.lists(st.tuples(SHARES, WEIGHTS), min_size=1, max_size=15)


def test_the_score_of_a_site_by_hand():
    # Forest 0.9 at weight 2, water 0.5 at weight 1, room 0.4 at weight 1:
    # mean (2 x 0.9 + 0.5 + 0.4) / 4 = 0.675; geometric (0.9^2 x 0.5 x 0.4)^(1/4) = 0.162^(1/4) = 0.6344.
    scores, weights = [0.9, 0.5, 0.4], [2.0, 1.0, 1.0]
    assert whole_score(scores, weights, mean="arithmetic") == pytest.approx(0.675)
    assert whole_score(scores, weights, mean="geometric") == pytest.approx(0.6344, abs=1e-4)


def test_one_score_of_0_spoils_the_geometric_mean_unless_it_weighs_nothing():
    assert whole_score([1.0, 0.0], [9.0, 1.0], mean="geometric") == 0.0
    assert whole_score([0.7, 0.0], [9.0, 0.0], mean="geometric") == pytest.approx(0.7)
    assert whole_score([1.0, 0.0], [9.0, 1.0], mean="arithmetic") == pytest.approx(0.9)


@pytest.mark.parametrize("mean", MEANS)
@given(rows=ROWS, gain=SHARES, which=st.integers(0, 14))
def test_better_in_one_factor_never_lowers_a_score(mean, rows, gain, which):
    scores, weights = (np.array(part) for part in zip(*rows, strict=True))
    better = scores.copy()
    at = which % len(better)
    better[at] += (1.0 - better[at]) * gain
    assert whole_score(better, weights, mean=mean) >= whole_score(scores, weights, mean=mean) - 1e-12


@pytest.mark.parametrize("mean", MEANS)
@given(rows=ROWS)
def test_weights_times_two_change_nothing_and_the_score_lies_between_its_parts(mean, rows):
    scores, weights = (np.array(part) for part in zip(*rows, strict=True))
    score = whole_score(scores, weights, mean=mean)
    assert whole_score(scores, 2.0 * weights, mean=mean) == pytest.approx(score)
    assert scores.min() - 1e-9 <= score <= scores.max() + 1e-9


@given(rows=ROWS)
def test_the_geometric_mean_is_never_above_the_other(rows):
    scores, weights = zip(*rows, strict=True)
    assert whole_score(scores, weights, mean="geometric") <= whole_score(scores, weights, mean="arithmetic") + 1e-9


def test_a_measure_past_the_end_of_its_curve_scores_as_at_its_end():
    slope = replace(Preferences().slope, limit_max=25.0)
    assert score_frac(slope, 20.0) == pytest.approx(slope.curve[-1][1])


def test_all_weights_0_are_refused():
    plan = make_plan()
    with pytest.raises(SettingsError, match="every weight is 0"):
        with_weights(plan, dict.fromkeys(FACTOR_NAMES, 0.0))


def test_every_emphasis_names_factors_that_there_are_and_says_why():
    assert len({one.key for one in emphases()}) == len(emphases()) >= 5
    for emphasis in emphases():
        assert set(emphasis.weights) <= set(FACTOR_NAMES)
        assert len(emphasis.why) > 40
        plan = with_weights(make_plan(preferences=Preferences()), emphasis.weights)
        assert emphasis_of(plan.preferences) == emphasis


def test_the_usual_emphasis_is_what_a_new_plan_weighs():
    usual = emphases()[0]
    assert {name: factor.weight for name, factor in Preferences().factors() if name in usual.weights} == usual.weights
    moved = with_weights(make_plan(preferences=Preferences()), {"forest": 26.0})
    assert emphasis_of(moved.preferences) is None


@pytest.mark.parametrize(
    ("name", "value"),
    [("mean", "median"), ("weight_error_frac", 1.2), ("wind_error_deg", -1.0), ("wind_speed_error_frac", float("nan")),
     ("draw_count", 5)],
)  # fmt: skip
def test_errors_outside_their_limits_are_refused(name, value):
    with pytest.raises(SettingsError):
        with_weighting(make_plan(), **{name: value})
