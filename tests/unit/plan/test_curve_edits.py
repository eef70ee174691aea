"""Curves edited point by point: they never turn back, and never slip past their limit."""

from __future__ import annotations

import pytest

from sitepick.errors import SettingsError
from sitepick.plan.curve_edits import (
    POINTS_MAX,
    is_past_limit,
    score_room,
    usual_curve,
    with_curve_point,
    with_curve_point_added,
    with_usual_curve,
    without_curve_point,
)
from sitepick.plan.edits import with_factor
from sitepick.plan.factor import Factor
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES
from sitepick.sites.factors import score_frac
from tests.helpers.made import make_plan

PLAN = make_plan()


def curve(plan, name="slope"):
    return plan.preferences.factor(name).curve


def test_a_point_is_moved_and_the_rest_stays():
    moved = with_curve_point(PLAN, "slope", 1, measure=2.5, score=0.9)
    assert curve(moved) == ((1.0, 1.0), (2.5, 0.9), (5.7, 0.2))
    assert with_usual_curve(moved, "slope") == PLAN


def test_a_point_added_changes_no_score_and_one_taken_out_leaves_two():
    more = with_curve_point_added(PLAN, "slope", 0)
    assert len(curve(more)) == 4
    for measure in (0.0, 1.4, 2.0, 2.9, 5.0, 9.0):
        before, after = PLAN.preferences.slope, more.preferences.slope
        assert score_frac(after, measure) == pytest.approx(score_frac(before, measure))
    few = without_curve_point(PLAN, "slope", 1)
    with pytest.raises(SettingsError, match="two points"):
        without_curve_point(few, "slope", 0)
    for _ in range(POINTS_MAX - 3):
        more = with_curve_point_added(more, "slope", 0) if len(curve(more)) < POINTS_MAX else more
    with pytest.raises(SettingsError, match="points at most"):
        with_curve_point_added(more, "slope", 0)


def test_a_curve_that_would_turn_back_is_refused():
    with pytest.raises(SettingsError, match="never turn back"):
        with_curve_point(PLAN, "slope", 1, score=0.1)
    with pytest.raises(SettingsError, match="rising measures"):
        with_curve_point(PLAN, "slope", 1, measure=0.5)


def test_a_curve_never_comes_to_lie_wholly_past_its_limit():
    tight = with_factor(PLAN, "slope", limit_max=2.0)
    with pytest.raises(SettingsError, match="wholly past its limit"):
        with_curve_point(tight, "slope", 0, measure=2.5)
    past = with_factor(PLAN, "slope", limit_max=0.5)  # a limit so tight is the person's own wish
    assert is_past_limit(past.preferences.slope)
    assert curve(with_curve_point(past, "slope", 0, measure=1.5))[0][0] == 1.5


@pytest.mark.parametrize("name", [*MAIN_NAMES, *FURTHER_NAMES])
def test_every_score_in_its_room_makes_a_curve_and_none_past_it_does(name):
    plan = with_usual_curve(PLAN, name)
    for index, (_, score) in enumerate(usual_curve(name)):
        low, high = score_room(usual_curve(name), index)
        assert low <= score <= high
        for allowed in (low, high):
            with_curve_point(plan, name, index, score=allowed)
        for past in (low - 0.01, high + 0.01):
            with pytest.raises(SettingsError):
                with_curve_point(plan, name, index, score=past)


def test_an_even_curve_may_rise_or_fall_at_its_ends():
    even = Factor(weight=1.0, curve=((0.0, 0.5), (1.0, 0.5), (2.0, 0.5))).curve
    assert score_room(even, 0) == score_room(even, 2) == (0.0, 1.0)
    assert score_room(even, 1) == (0.5, 0.5)
