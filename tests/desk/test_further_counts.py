"""What else can count, and the limits: folded away, edited in place."""

from __future__ import annotations

import pytest
from pytestqt.qtbot import QtBot

from sitepick.desk.further_counts import FurtherCounts
from sitepick.plan.curve_edits import with_usual_curve
from sitepick.plan.edits import with_factor
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import MAIN_NAMES, Plan
from tests.helpers.made import make_plan


@pytest.fixture
def plan() -> Plan:
    return make_plan()


@pytest.fixture
def counts(qtbot: QtBot, plan: Plan) -> FurtherCounts:
    counts = FurtherCounts()
    qtbot.addWidget(counts)
    counts.show_plan(plan)
    counts.show()
    return counts


def changed(counts: FurtherCounts, plan: Plan, act) -> Plan:
    """The plan after all edits that an act asks for."""
    edits: list = []
    counts.edit_requested.connect(edits.append)
    act()
    for edit in edits:
        plan = edit.change(plan)
    assert edits
    return plan


def test_all_of_it_is_folded_away_under_a_sentence_until_asked_for(counts, plan):
    assert counts.further.line.text() == "More can count: none of it does now"
    assert not counts.slider("sun").isVisible()
    assert not counts.limit_field("slope").field.isVisible()
    counts.further.line.click()
    assert counts.slider("sun").isVisible()
    assert not counts.limit_field("slope").field.isVisible()
    counts.limits.line.click()
    assert counts.limit_field("slope").field.isVisible()
    counts.further.line.click()
    assert not counts.slider("sun").isVisible()


def test_the_sentences_tell_what_counts(counts, plan):
    counts.show_plan(with_factor(plan, "sun", weight=5.0))
    assert counts.further.line.text() == "More can count: direct sun does now"
    counts.show_plan(with_factor(with_factor(plan, "sun", weight=5.0), "cold", limit_max=0.5))
    assert counts.further.line.text() == "More can count: 2 things do now"
    assert counts.limits.line.text() == "Limits: 3 of 7 main measures have one"


@pytest.mark.parametrize("name", FURTHER_NAMES)
def test_every_further_factor_has_a_weight_a_limit_and_the_source_of_its_curve(counts, plan, name):
    weighed = changed(counts, plan, lambda: counts.slider(name).setValue(12))
    assert weighed.preferences.factor(name).weight == 12.0
    limited = changed(counts, plan, lambda: counts.limit_field(name).field.setValue(2.0))
    factor = limited.preferences.factor(name)
    held = factor.limit_min if FACTOR_WORDS[name].limit == "min" else factor.limit_max
    assert held is not None
    assert counts.slider(name).accessibleName() == f"weight of {FACTOR_WORDS[name].label}"
    assert FACTOR_WORDS[name].source


@pytest.mark.parametrize("name", MAIN_NAMES)
def test_limits_of_the_main_factors_are_set_and_taken_away(counts, plan, name):
    field = counts.limit_field(name).field
    side = f"limit_{FACTOR_WORDS[name].limit}"
    limited = changed(counts, plan, lambda: field.setValue(1.0 if field.value() != 1.0 else 0.5))
    assert getattr(limited.preferences.factor(name), side) is not None
    counts.show_plan(limited)
    free = changed(counts, limited, lambda: field.setValue(field.minimum()))
    assert getattr(free.preferences.factor(name), side) is None
    assert field.text() == "any"


def test_a_limit_from_the_plan_is_shown_without_being_told_as_chosen(counts, plan):
    edits: list = []
    counts.edit_requested.connect(edits.append)
    counts.show_plan(with_factor(plan, "hazards", limit_min=250.0))
    assert counts.limit_field("hazards").field.text() == "250 m"
    assert not edits


def test_a_curve_is_edited_point_by_point_and_goes_back_to_the_usual(counts, plan):
    rows = counts.curve_rows
    for name in MAIN_NAMES:  # the made plan has some curves of its own
        plan = with_usual_curve(plan, name)
    counts.show_plan(plan)
    assert counts.curves.line.text() == "Curves from measure to score: all are the usual ones"
    rows.factor.setCurrentIndex(MAIN_NAMES.index("slope"))
    measure, score = rows.point(1)
    assert (measure.text(), score.value()) == ("3.0°", 80.0)
    own = changed(counts, plan, lambda: measure.setValue(99.0))  # held before the next point
    assert own.preferences.slope.curve == ((1.0, 1.0), (5.6, 0.8), (5.7, 0.2))
    counts.show_plan(own)
    assert rows.point(1)[0] is measure  # the caret stays
    lower = changed(counts, own, lambda: score.setValue(0.0))
    assert lower.preferences.slope.curve[1][1] == pytest.approx(0.2)
    counts.show_plan(lower)
    assert counts.curves.line.text() == "Curves from measure to score: 1 of 24 are your own"
    more = changed(counts, lower, lambda: rows.buttons(0)[0].click())
    counts.show_plan(more)
    assert len(more.preferences.slope.curve) == 4
    fewer = changed(counts, more, lambda: rows.buttons(1)[1].click())
    assert fewer.preferences.slope.curve == lower.preferences.slope.curve
    assert changed(counts, more, rows.usual.click) == plan


def test_a_curve_past_its_limit_is_told(counts, plan):
    rows = counts.curve_rows
    rows.factor.setCurrentIndex(MAIN_NAMES.index("slope"))
    assert rows.told.text().startswith("The usual curve (common practice")
    counts.show_plan(with_factor(plan, "slope", limit_max=0.5))
    assert "all ground within it scores alike" in rows.told.text()
