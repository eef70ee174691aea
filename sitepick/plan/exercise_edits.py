"""Edits of an exercise: pure functions from one plan to the next."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from sitepick.plan.exercise import HandedIn, Overrule, PlacedThing, acting_marks
from sitepick.plan.mark import LonLat, Mark
from sitepick.plan.mark_edits import closed_ring, open_ring
from sitepick.plan.model import Plan
from sitepick.plan.observer import Observer


def acting_plan(plan: Plan) -> Plan:
    """The plan as the stages read it: observers among the marks that hold on the day look like the plan's own.

    Somebody who passes along a line looks from each of its points.
    """
    marked = tuple(
        Observer(place=point, name=mark.told)
        for mark in acting_marks(plan.exercise, plan.march.depart, "looks")
        for point in mark.points
    )
    return replace(plan, observers=(*plan.observers, *marked)) if marked else plan


def with_exercise(plan: Plan, **values: Any) -> Plan:
    """The plan with values of its exercise changed.

    Raises
    ------
    SettingsError
        They make no sense.
    """
    return replace(plan, exercise=replace(plan.exercise, **values))


def with_exercise_part(plan: Plan, part: str, **values: Any) -> Plan:
    """The plan with values changed in a part of its exercise: ``given``, ``asked``, ``rubric`` or ``handed_in``."""
    return with_exercise(plan, **{part: replace(getattr(plan.exercise, part), **values)})


def with_marks_added(plan: Plan, marks: tuple[Mark, ...]) -> Plan:
    """The plan with more marks, after those that it has."""
    return with_exercise(plan, marks=(*plan.exercise.marks, *marks))


def with_mark_changed(plan: Plan, index: int, **values: Any) -> Plan:
    """The plan with one of its marks changed."""
    marks = list(plan.exercise.marks)
    marks[index] = replace(marks[index], **values)
    return with_exercise(plan, marks=tuple(marks))


def with_mark_copied(plan: Plan, index: int) -> Plan:
    """The plan with a copy of one of its marks after it."""
    marks = plan.exercise.marks
    return with_exercise(plan, marks=(*marks[: index + 1], *marks[index:]))


def without_mark(plan: Plan, index: int) -> Plan:
    """The plan without one of its marks."""
    marks = plan.exercise.marks
    return with_exercise(plan, marks=(*marks[:index], *marks[index + 1 :]))


def with_mark_point_moved(plan: Plan, index: int, point: int, place: LonLat) -> Plan:
    """The plan with one point of a mark moved."""
    points = list(open_ring(plan.exercise.marks[index].points))
    points[point] = place
    return _with_mark_points(plan, index, points)


def with_mark_point_added(plan: Plan, index: int, point: int, place: LonLat) -> Plan:
    """The plan with a point put into a mark's line or outline before another one."""
    points = list(open_ring(plan.exercise.marks[index].points))
    points.insert(point, place)
    return _with_mark_points(plan, index, points)


def without_mark_point(plan: Plan, index: int, point: int) -> Plan:
    """The plan with a point taken out of a mark; the mark itself refuses to keep too few."""
    points = list(open_ring(plan.exercise.marks[index].points))
    del points[point]
    return _with_mark_points(plan, index, points)


def _with_mark_points(plan: Plan, index: int, points: list[LonLat]) -> Plan:
    """Other points for a mark; a ring that was closed stays closed."""
    held = plan.exercise.marks[index].points
    is_closed = len(open_ring(held)) < len(held)
    return with_mark_changed(plan, index, points=closed_ring(points) if is_closed else tuple(points))


def with_answer(plan: Plan, trainee: str, **values: Any) -> Plan:
    """The plan with values of a trainee's answer taken down by hand, beside those that stand there."""
    key = trainee.casefold()
    held = next((one for one in plan.exercise.answers if one.trainee.casefold() == key), HandedIn(trainee=trainee))
    others = tuple(one for one in plan.exercise.answers if one.trainee.casefold() != key)
    changed = replace(held, **values)
    return with_exercise(plan, answers=others if changed.is_blank else (*others, changed))


def with_thing_put(plan: Plan, thing: PlacedThing) -> Plan:
    """The plan with a thing of the camp in its place in a trainee's own answer, in the stead of an older place."""
    held = plan.exercise.handed_in or HandedIn()
    others = tuple(one for one in held.layout if one.what != thing.what)
    return with_exercise(plan, handed_in=replace(held, layout=(*others, thing)))


def with_overrule(plan: Plan, overrule: Overrule) -> Plan:
    """The plan with the trainer's own points for one part of one answer, in the stead of older ones."""
    return with_exercise(plan, overrules=(*_others(plan, overrule.trainee, overrule.item), overrule))


def without_overrule(plan: Plan, trainee: str, item: str) -> Plan:
    """The plan without the trainer's own points for one part of one answer."""
    return with_exercise(plan, overrules=_others(plan, trainee, item))


def _others(plan: Plan, trainee: str, item: str) -> tuple[Overrule, ...]:
    key = trainee.casefold(), item
    return tuple(one for one in plan.exercise.overrules if (one.trainee.casefold(), one.item) != key)
