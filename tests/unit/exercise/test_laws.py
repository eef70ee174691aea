"""Laws of assessment: what a trainer can rely on whatever the ground."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.exercise.assess import alternate_frac, assess, ground_frac, limits_frac, rules_frac
from sitepick.exercise.model import PickGround, RuleCheck, Submission
from sitepick.exercise.pick_ground import read_pick
from sitepick.exercise.standard import LEAST_SPAN
from sitepick.plan.exercise import AskedParts, Exercise, Overrule, Rubric
from tests.unit.exercise.made_class import COLS, ROWS, best_answer, lonlat, made_standard

EXERCISE = Exercise(asked=AskedParts(has_layout=True))
CELLS = st.tuples(st.integers(0, ROWS - 1), st.integers(0, COLS - 1))


_EMPTY = PickGround(
    east_m=0.0, north_m=0.0, piece=None, measures=(), score=0.0, room_frac=0.0, broken=(), moved_m=0.0,
    better_frac=None, rank=None, place_count=0, moving_min=0.0,
)  # fmt: skip


def assessed(handed_in, exercise=EXERCISE):
    return assess(made_standard(), exercise, Submission(handed_in=handed_in, source="made"))


def points(assessment):
    return {item.item: item.points for item in assessment.items}


def pick_at(cell):
    standard = made_standard()
    place = lonlat(standard, *standard.answer.ground.grid.cell_centre_m(*cell))
    return read_pick(standard, place, tolerance_m=50.0)


@pytest.mark.slow
def test_the_best_answer_gets_full_marks():
    best = assessed(best_answer(made_standard()))
    worth = {item.item: item.worth for item in best.items if item.item != "reasons"}
    assert {item: value for item, value in points(best).items() if item != "reasons"} == pytest.approx(worth)
    assert best.percent == pytest.approx(100.0)
    assert best.pick.rank == 1
    assert best.pick.better_frac == 0.0
    assert [check.name for check in (*best.layout, *best.timetable) if not check.is_kept] == []


@pytest.mark.slow
def test_every_cell_of_the_best_site_gets_full_marks_for_its_ground():
    standard = made_standard()
    for row, col in standard.measured[0].piece.cells[::29].tolist():
        assert ground_frac(pick_at((row, col)), standard.best_score) == pytest.approx(1.0)


@pytest.mark.slow
@settings(max_examples=60, deadline=None)
@given(CELLS, CELLS)
def test_moving_a_pick_to_better_ground_never_loses_points(one, other):
    standard = made_standard()
    worse, better = sorted((pick_at(one), pick_at(other)), key=lambda pick: (pick.room_frac, pick.score))
    is_better = worse.room_frac <= better.room_frac and worse.score <= better.score
    if is_better:
        assert limits_frac(worse) <= limits_frac(better)
        assert ground_frac(worse, standard.best_score) <= ground_frac(better, standard.best_score)
    assert 0.0 <= ground_frac(worse, standard.best_score) <= 1.0


SHARES, SCORES = st.floats(0.0, 1.0), st.floats(0.0, 100.0)


@settings(max_examples=200, deadline=None)
@given(SCORES, SCORES, SHARES, SHARES, st.floats(1.0, 100.0), SCORES)
def test_partial_credit_rises_with_the_measure(score, more_score, room, more_room, best, poor):
    pick = replace(_EMPTY, score=score, room_frac=room)
    better = replace(_EMPTY, score=max(score, more_score), room_frac=max(room, more_room))
    assert ground_frac(pick, best, poor) <= ground_frac(better, best, poor) <= 1.0
    assert ground_frac(replace(_EMPTY, score=best, room_frac=1.0), best, poor) == pytest.approx(1.0)
    assert limits_frac(pick) <= limits_frac(better)


@pytest.mark.slow
def test_points_for_the_ground_part_what_was_to_be_had_there():
    """The poorest ground to camp on earns nothing, a score half way to the best half of the points."""
    standard = made_standard()
    poor, best = standard.poor_score(5.0), standard.best_score
    held = replace(_EMPTY, room_frac=1.0)
    assert ground_frac(replace(held, score=poor), best, poor) == 0.0
    assert ground_frac(replace(held, score=(poor + best) / 2), best, poor) == pytest.approx(0.5)
    assert standard.poor_score(0.0) <= poor <= standard.poor_score(50.0) <= best - LEAST_SPAN
    share = (100.0 * standard.quality[standard.quality >= 0.0] < poor).mean()
    assert share <= 0.06  # a whole per cent's step


def test_on_even_ground_a_few_hundredths_of_the_score_cost_few_points():
    standard = replace(made_standard(), quality_steps=np.full(101, made_standard().best_score - 1.0))
    poor = standard.poor_score(5.0)
    assert ground_frac(replace(_EMPTY, room_frac=1.0, score=standard.best_score - 1.0), standard.best_score, poor) == (
        pytest.approx(0.9)
    )


@pytest.mark.slow
def test_points_hang_on_the_ground_and_not_on_the_way_to_the_best_place():
    """Of two picks with the same measures, the farther one gets the same."""
    standard = made_standard()
    one, other = pick_at((30, 80)), pick_at((45, 90))
    assert ground_frac(replace(one, east_m=other.east_m, north_m=other.north_m), standard.best_score) == ground_frac(
        one, standard.best_score
    )


def test_an_alternate_that_shares_the_picks_ground_is_none():
    standard = made_standard()
    site = standard.answer.sites.sites[0]
    row, col = standard.answer.ground.grid.cell_at(site.east_m, site.north_m)
    assert alternate_frac(pick_at((row, col)), pick_at((row + 2, col)), standard) == 0.0


def test_a_pick_in_the_lake_gets_nothing_and_is_told_why():
    pick = pick_at((102, 40))
    assert limits_frac(pick) == 0.0
    assert ground_frac(pick, 90.0) == 0.0
    assert "water" in {one.name for one in pick.broken}


def test_a_pick_just_off_good_ground_counts_as_a_map_can_be_read():
    standard = made_standard()
    is_out = ~standard.limits.can_pitch
    near = [
        (row + down, col)
        for one in standard.measured
        for row, col in one.piece.cells.tolist()
        for down in (-3, 3)
        if 0 <= row + down < ROWS and is_out[row + down, col]
    ]
    pick = pick_at(near[0])
    assert 0.0 < pick.moved_m <= 50.0
    assert not pick.broken
    place = lonlat(standard, *standard.answer.ground.grid.cell_centre_m(*near[0]))
    assert read_pick(standard, place, tolerance_m=0.0).broken


def test_a_pick_off_the_ground_is_told_and_gets_nothing():
    pick = read_pick(made_standard(), (10.0, 60.0), tolerance_m=50.0)
    assert "outside the ground that was read" in pick.broken[0].sentence
    assert "zone" in pick.broken[0].sentence
    assert limits_frac(pick) == 0.0


@given(st.lists(st.floats(0.0, 1.0), min_size=1, max_size=12), st.integers(0, 11), st.floats(0.0, 1.0))
def test_keeping_a_rule_better_never_loses_points(shares, index, better):
    checks = [RuleCheck(name=str(k), kept_frac=share, sentence="") for k, share in enumerate(shares)]
    index %= len(shares)
    mended = [*checks]
    mended[index] = replace(checks[index], kept_frac=max(shares[index], better))
    assert rules_frac(checks) <= rules_frac(mended) + 1e-12


def test_the_rubric_is_the_trainers():
    rubric = Rubric(limits=0.0, ground=10.0, alternate=0.0, timetable=0.0, reasons=0.0)
    handed_in = best_answer(made_standard())
    only_ground = assessed(handed_in, Exercise(rubric=rubric))
    assert points(only_ground) == pytest.approx({"ground": 10.0})


def test_the_trainer_overrules_with_a_note():
    handed_in = best_answer(made_standard())
    overrules = (
        Overrule(trainee="best", item="ground", points=12.5, note="Seen on the ground: windfalls."),
        Overrule(trainee="Best", item="reasons", points=4.0, note="Well argued."),
    )
    one = assessed(handed_in, replace(EXERCISE, overrules=overrules))
    held = {item.item: item for item in one.items}
    assert (held["ground"].points, held["ground"].note) == (12.5, "Seen on the ground: windfalls.")
    assert held["ground"].reckoned == pytest.approx(40.0)
    assert held["reasons"].points == 4.0
    assert one.worth == 100.0


def test_unmarked_reasons_count_neither_for_nor_against():
    one = assessed(best_answer(made_standard()))
    assert points(one)["reasons"] is None
    assert one.worth == 95.0
    blank = assessed(replace(best_answer(made_standard()), reasons=""))
    assert points(blank)["reasons"] == 0.0
    assert blank.worth == 100.0
