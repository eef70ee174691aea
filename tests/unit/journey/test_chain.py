"""The chain of nights: as good as the best of all chains, never led astray by a good first night."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.journey.chain import best_chain, greedy_chain
from sitepick.plan.journey import RULES
from tests.unit.journey.made import make_question
from tests.unit.journey.slow import best_by, every_chain

KM = st.integers(min_value=1, max_value=29).map(float)
SITES = st.dictionaries(KM, st.integers(min_value=1, max_value=99).map(float), min_size=1, max_size=7)


@st.composite
def questions(draw):
    return draw(SITES), {
        "length_km": 30.0,
        "days_max": draw(st.integers(min_value=3, max_value=5)),
        "day_min": draw(st.sampled_from([80.0, 110.0, 150.0])),
        "rest_days": draw(st.sampled_from([(), (2,), (2, 4)])),
        "slower": draw(st.sampled_from([0.0, 0.1])),
        "supplies_km": draw(st.sampled_from([None, 12.0, 20.0])),
        "supply_days_max": draw(st.integers(min_value=2, max_value=5)),
        "comes_to_camp": draw(st.booleans()),
    }


def worth(chain, rule):
    if chain is None or chain.bare_count:
        return None
    return {
        "weakest": chain.weakest, "mean": chain.mean, "fewest": -len(chain.places), "effort": -chain.effort_min,
    }[rule]  # fmt: skip


@pytest.mark.slow
@settings(max_examples=150, deadline=None)
@given(told=questions(), rule=st.sampled_from(RULES))
def test_the_chain_is_as_good_as_the_best_of_all_chains(told, rule):
    sites, limits = told
    question = make_question(sites, **limits)
    assert worth(best_chain(question, rule), rule) == pytest.approx(best_by(question, rule))


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(told=questions())
def test_where_some_night_needs_a_bare_place_no_chain_has_fewer_of_them(told):
    sites, limits = told
    question = make_question(sites, **limits, bare_km=(5.5, 10.5, 15.5, 20.5, 25.5))
    chain = best_chain(question, "weakest")
    every = list(every_chain(question))
    assert (chain is None) == (not every)
    if chain is not None:
        assert chain.bare_count == min(one.bare_count for one in every)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(told=questions(), rule=st.sampled_from(RULES), km=KM, score=st.integers(min_value=1, max_value=99).map(float))
def test_one_more_site_never_makes_a_worse_chain(told, rule, km, score):
    sites, limits = told
    before = worth(best_chain(make_question(sites, **limits), rule), rule)
    after = worth(best_chain(make_question({**{km: score}, **sites}, **limits), rule), rule)
    assert before is None or (after is not None and after >= before - 1e-9)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(
    told=questions(), rule=st.sampled_from(RULES), looser=st.sampled_from(["day_min", "days_max", "supply_days_max"])
)
def test_a_looser_limit_never_makes_a_worse_chain(told, rule, looser):
    sites, limits = told
    limits = {**limits, "comes_to_camp": False}
    before = worth(best_chain(make_question(sites, **limits), rule), rule)
    more = {**limits, looser: limits[looser] + (25.0 if looser == "day_min" else 1)}
    after = worth(best_chain(make_question(sites, **more), rule), rule)
    assert before is None or (after is not None and after >= before - 1e-9)


@pytest.mark.slow
@settings(max_examples=80, deadline=None)
@given(told=questions(), rule=st.sampled_from(RULES), day=st.integers(min_value=1, max_value=3), data=st.data())
def test_a_pinned_night_stays_where_it_is(told, rule, day, data):
    sites, limits = told
    km = data.draw(st.sampled_from(sorted(sites)))
    question = make_question(sites, **limits, pinned={day: km})
    chain = best_chain(question, rule)
    assert worth(chain, rule) == pytest.approx(best_by(question, rule))
    if chain is not None and len(chain.places) >= day:
        assert chain.places[day - 1] == 1 + list(sites).index(km)


def test_taking_the_best_site_each_evening_loses():
    """At km 5 lies the best site of the first day; from there no site is in reach on the second."""
    sites = {5.0: 95.0, 9.0: 60.0, 17.0: 70.0}
    question = make_question(sites, length_km=25.0, days_max=3)
    assert greedy_chain(question) is None
    chain = best_chain(question, "weakest")
    assert chain.places == (2, 3, 4)
    assert chain.weakest == 60.0


def test_taking_the_best_site_each_evening_takes_a_day_longer():
    sites = {8.0: 95.0, 9.0: 80.0, 17.0: 20.0, 19.0: 85.0}
    question = make_question(sites, length_km=29.0, days_max=4)
    greedy, chain = greedy_chain(question), best_chain(question, "fewest")
    assert (len(greedy.places), len(chain.places)) == (4, 3)
    assert chain.weakest == 80.0


def test_a_rest_day_ends_where_it_began():
    chain = best_chain(make_question({8.0: 80.0}, length_km=16.0, rest_days=(2,)), "weakest")
    assert chain.places == (1, 1, 2)
    assert chain.leg_min == (80.0, 0.0, 80.0)


def test_supplies_must_be_reached_before_they_run_out():
    sites = {9.0: 80.0, 18.0: 80.0}
    assert best_chain(make_question(sites, length_km=27.0, supply_days_max=3), "weakest") is not None
    assert best_chain(make_question(sites, length_km=27.0, supply_days_max=2), "weakest") is None
    near = make_question(sites, length_km=27.0, supply_days_max=2, comes_to_camp=True)
    assert best_chain(near, "weakest") is not None


def test_days_since_supplies_are_told_at_each_departure():
    sites = {9.0: 80.0, 18.0: 80.0}
    chain = best_chain(make_question(sites, length_km=27.0, supplies_km=12.0, supply_days_max=2), "weakest")
    assert chain.since == (0, 1, 0)


def test_a_gap_longer_than_a_day_leaves_one_night_without_a_site():
    question = make_question({8.0: 80.0, 22.0: 80.0}, length_km=30.0, bare_km=(10.0, 13.0, 15.0, 17.0), days_max=4)
    chain = best_chain(question, "weakest")
    assert chain.bare_count == 1
    assert chain.weakest == 0.0


def test_a_way_that_takes_more_days_than_there_are_has_no_chain():
    assert best_chain(make_question({8.0: 80.0}, length_km=60.0, days_max=3), "weakest") is None


def test_a_way_of_one_day_has_no_night():
    chain = best_chain(make_question({5.0: 50.0}, length_km=9.0), "fewest")
    assert chain.scores == ()
    assert chain.weakest == chain.mean == 100.0
