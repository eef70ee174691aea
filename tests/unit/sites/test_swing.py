"""From answers in pairs to weights."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitepick.errors import SettingsError
from sitepick.sites.swing import PairAnswer, swings, weights_from_answers
from tests.unit.sites.made_sites import grove, sites_on

RANGES = {"forest": 0.8, "wind": 0.4, "water": 0.1}
WEIGHTS = {"forest": 25.0, "wind": 20.0, "water": 10.0, "room": 10.0}


def swung(weights, name):
    return weights[name] * RANGES[name]


def test_weights_by_hand():
    # Wind's step from 0.4 matters as much as forest's from 0.8: wind weighs twice as much a point of score.
    # Forest and wind weighed 45 together: 15 and 30.
    told = weights_from_answers([PairAnswer(name="wind", other="forest", times=1.0)], RANGES, WEIGHTS)
    assert told == pytest.approx({"forest": 15.0, "wind": 30.0, "water": 10.0, "room": 10.0})


@given(wind=st.floats(0.05, 20.0), water=st.floats(0.05, 20.0))
def test_the_weights_say_what_was_answered(wind, water):
    answers = [
        PairAnswer(name="wind", other="forest", times=wind),
        PairAnswer(name="water", other="forest", times=water),
    ]
    told = weights_from_answers(answers, RANGES, WEIGHTS)
    assert swung(told, "wind") / swung(told, "forest") == pytest.approx(wind)
    assert swung(told, "water") / swung(told, "forest") == pytest.approx(water)
    assert sum(told.values()) == pytest.approx(sum(WEIGHTS.values()))
    assert told["room"] == WEIGHTS["room"]


def test_answers_that_go_round_in_a_circle_are_levelled():
    # Twice, twice, and twice back again: eight times too much, shared out evenly.
    answers = [PairAnswer(name="wind", other="forest", times=2.0), PairAnswer(name="water", other="wind", times=2.0),
               PairAnswer(name="forest", other="water", times=2.0)]  # fmt: skip
    told = weights_from_answers(answers, RANGES, WEIGHTS)
    assert swung(told, "wind") == pytest.approx(swung(told, "forest"))
    assert swung(told, "water") == pytest.approx(swung(told, "forest"))


def test_what_does_not_matter_weighs_nothing_and_something_must():
    told = weights_from_answers([PairAnswer(name="wind", other="forest", times=0.0)], RANGES, WEIGHTS)
    assert told == pytest.approx({"forest": 45.0, "wind": 0.0, "water": 10.0, "room": 10.0})
    with pytest.raises(SettingsError, match="matter"):
        weights_from_answers([PairAnswer(name="wind", other="wind", times=0.0)], RANGES, WEIGHTS)


def test_no_answer_changes_nothing():
    assert weights_from_answers([], RANGES, WEIGHTS) == WEIGHTS


@pytest.mark.slow
def test_only_factors_in_which_sites_differ_are_asked_about():
    sites = sites_on(grove((5, 25, 5, 25), (30, 55, 30, 55)), people=10)
    found = {swing.name: swing for swing in swings(sites.sites)}
    assert "forest" in found
    assert found["forest"].best.score > found["forest"].worst.score
    assert "slope" not in found
    assert swings(()) == ()
