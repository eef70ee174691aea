"""Every edit can be undone and redone; a drag is one step."""

from __future__ import annotations

from functools import partial

import pytest

from sitepick.desk.edit import PlanEdit, new_gesture
from sitepick.desk.history import PlanHistory
from sitepick.errors import SettingsError
from sitepick.plan import edits
from sitepick.plan.model import Plan, Route
from tests.helpers.made import make_plan

NORTH = (21.05, 67.42)


def made_plan() -> Plan:
    return make_plan(alternatives=(Route(name="By the lake", points=((21.0, 67.4), (21.1, 67.3))),))


EDITS = (
    PlanEdit(text="Move point 1", change=partial(edits.with_route_point_moved, index=0, point=NORTH)),
    PlanEdit(text="Add point 2", change=partial(edits.with_route_point_added, index=1, point=NORTH)),
    PlanEdit(text="March along By the lake", change=partial(edits.with_alternative_chosen, index=0)),
    PlanEdit(text="Change people", change=partial(edits.with_people, people=64)),
    PlanEdit(text="Change wind speed", change=partial(edits.with_values, part="weather", wind_kmh=40.0)),
    PlanEdit(text="Change what forest counts", change=partial(edits.with_weight, factor_name="forest", weight=5.0)),
)


def moved_to(lon: float, gesture: int) -> PlanEdit:
    change = partial(edits.with_route_point_moved, index=0, point=(lon, 67.4))
    return PlanEdit(text="Move point 1", change=change, gesture=gesture)


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: edit.text)
def test_undo_then_redo_gives_equal_plans(qapp: object, edit: PlanEdit):
    before = made_plan()
    history = PlanHistory(before)
    history.apply(edit)
    after = history.plan
    assert after != before
    assert history.stack.undoText() == edit.text
    history.stack.undo()
    assert history.plan == before
    history.stack.redo()
    assert history.plan == after


def test_all_edits_in_a_row_can_be_taken_back_one_by_one(qapp: object):
    history = PlanHistory(made_plan())
    plans = [history.plan]
    for edit in EDITS:
        history.apply(edit)
        plans.append(history.plan)
    for plan in reversed(plans[:-1]):
        history.stack.undo()
        assert history.plan == plan


def test_a_drag_is_one_step(qapp: object):
    before = made_plan()
    history = PlanHistory(before)
    gesture = new_gesture()
    for lon in (21.01, 21.02, 21.03):
        history.apply(moved_to(lon, gesture))
    assert history.stack.count() == 1
    assert history.plan.route.points[0] == (21.03, 67.4)
    history.stack.undo()
    assert history.plan == before


def test_two_drags_are_two_steps(qapp: object):
    history = PlanHistory(made_plan())
    history.apply(moved_to(21.01, new_gesture()))
    history.apply(moved_to(21.02, new_gesture()))
    assert history.stack.count() == 2


def test_a_drag_that_returns_home_leaves_no_step(qapp: object):
    before = made_plan()
    history = PlanHistory(before)
    gesture = new_gesture()
    history.apply(moved_to(21.01, gesture))
    history.apply(moved_to(before.route.points[0][0], gesture))
    assert history.plan == before
    assert history.stack.count() == 0
    assert history.is_saved


def test_an_edit_that_changes_nothing_leaves_no_step(qapp: object):
    plan = made_plan()
    history = PlanHistory(plan)
    change = partial(edits.with_values, part="weather", wind_kmh=plan.weather.wind_kmh)
    history.apply(PlanEdit(text="Change wind speed", change=change))
    assert history.stack.count() == 0


def test_an_edit_past_a_limit_is_refused_and_the_plan_stays(qapp: object):
    plan = made_plan()
    history = PlanHistory(plan)
    with pytest.raises(SettingsError):
        history.apply(PlanEdit(text="Change wind", change=partial(edits.with_values, part="weather", wind_kmh=-3.0)))
    assert history.plan == plan
    assert history.stack.count() == 0


def test_the_plan_is_unsaved_after_an_edit_and_saved_after_undoing_it(qapp: object):
    history = PlanHistory(made_plan())
    told: list[bool] = []
    history.clean_changed.connect(told.append)
    history.apply(EDITS[0])
    history.stack.undo()
    history.apply(EDITS[0])
    history.mark_saved()
    assert told == [False, True, False, True]


def test_every_change_is_told_with_the_plan(qapp: object):
    history = PlanHistory(made_plan())
    told: list[Plan] = []
    history.plan_changed.connect(told.append)
    history.apply(EDITS[0])
    history.stack.undo()
    other = make_plan(people=12)
    history.open(other)
    assert told[-1] == other
    assert len(told) == 3
    assert not history.stack.canUndo()
