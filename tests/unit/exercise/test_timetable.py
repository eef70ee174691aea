"""An honest timetable is one that the pace, the pitching time and the light allow."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from sitepick.exercise.pick_ground import read_pick
from sitepick.exercise.timetable import check_timetable
from tests.unit.exercise.made_class import best_answer, made_standard


def checks_of(**shift_min):
    """The rules of the best answer's timetable with its times shifted by minutes."""
    standard = made_standard()
    held = best_answer(standard)
    times = {name: getattr(held, name) + timedelta(minutes=minutes) for name, minutes in shift_min.items()}
    held = replace(held, **times)
    pick = read_pick(standard, held.pick, tolerance_m=50.0)
    checks = check_timetable(held, pick, standard.answer.plan, standard.answer.march)
    return {one.name: one for one in checks}


def test_the_pace_own_time_is_honest():
    assert all(one.is_kept for one in checks_of().values())


def test_an_arrival_before_the_unit_can_be_there_is_told():
    early = checks_of(arrive=-40.0)["arrival"]
    assert not early.is_kept
    assert "earlier than the unit can be there" in early.sentence


def test_the_farther_from_an_honest_time_the_less_it_is_worth():
    shares = [checks_of(arrive=minutes)["arrival"].kept_frac for minutes in (-90.0, -45.0, -30.0, -20.0, 0.0)]
    assert shares == sorted(shares)
    assert shares[-1] == 1.0


def test_too_little_time_to_pitch_is_told():
    short = checks_of(ready=-40.0)["pitching"]
    assert short.kept_frac == pytest.approx(40.0 / 75.0)
    assert "75 are needed" in short.sentence


def test_an_arrival_after_camp_by_is_told():
    late = checks_of(arrive=600.0, ready=600.0)["camp_by"]
    assert late.kept_frac == 0.0
    assert "too late to pitch before dark" in late.sentence


def test_times_that_were_not_told_count_for_nothing():
    standard = made_standard()
    held = replace(best_answer(standard), arrive=None)
    checks = check_timetable(held, None, standard.answer.plan, standard.answer.march)
    assert [one.kept_frac for one in checks] == [0.0, 0.0, 0.0]
