"""Marks and exercises in the plan: what they may say, when they act, and that the file keeps them."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from sitepick.errors import PlanFileError, SettingsError
from sitepick.exercise.standard import fair_plan
from sitepick.ground.marked import closed_shapes, water_allowed
from sitepick.ground.vector import mask_of
from sitepick.plan.exercise import (
    AskedParts,
    Exercise,
    GivenParts,
    HandedIn,
    Overrule,
    PlacedThing,
    Rubric,
    acting_marks,
)
from sitepick.plan.exercise_edits import acting_plan
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.mark import MARK_KINDS, Mark
from sitepick.terrain.lookers import who_looks
from sitepick.terrain.model import LAKE as LAKE_KIND
from tests.helpers.made import make_grid, make_ground, make_plan, make_terrain

DEPART = make_plan().march.depart
RING = ((21.0, 67.4), (21.01, 67.4), (21.01, 67.41))


def test_the_file_keeps_every_part_of_an_exercise(tmp_path):
    marks = tuple(
        Mark(
            kind=kind.key, shape=shape, points=RING[: 1 + ("point", "line", "area").index(shape)],
            name=f"{kind.key} {shape}", note="With a note", seen_by=("trainer", "trainee", "both")[number % 3],
            holds_from=DEPART,
            holds_until=DEPART + timedelta(hours=number + 1),
        )
        for number, kind in enumerate(MARK_KINDS)
        for shape in kind.shapes
    )  # fmt: skip
    exercise = Exercise(
        title="Night", task="Find\na place", marks=marks, given=GivenParts(has_route=False),
        asked=AskedParts(has_layout=True), rubric=Rubric(ground=50.0), trainees=("Aino", "Bo"),
        overrules=(Overrule(trainee="Aino", item="ground", points=12.0, note="Seen on the ground."),),
        handed_in=HandedIn(
            trainee="Bo", pick=RING[0], arrive=DEPART,
            layout=(PlacedThing(what="Tent 1", place=RING[1], door_deg=75.0),),
        ),
    )  # fmt: skip
    plan = replace(make_plan(), exercise=exercise)
    write_plan(plan, tmp_path / "plan.geojson")
    assert read_plan(tmp_path / "plan.geojson").exercise == exercise


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"kind": "start", "shape": "area", "points": RING}, "drawn as an area"),
        ({"kind": "danger", "shape": "area", "points": RING[:2]}, "an area of 2 points"),
        ({"kind": "danger", "shape": "line", "points": RING[:1]}, "a line of 1 point"),
        ({"kind": "dragon", "points": RING[:1]}, "none of"),
        ({"kind": "start", "points": ((200.0, 10.0),)}, "longitude 200"),
        ({"points": RING[:1], "seen_by": "nobody"}, "none of"),
        ({"points": RING[:1], "holds_from": DEPART, "holds_until": DEPART}, "ends before it begins"),
        ({"points": RING[:1], "holds_from": DEPART.replace(tzinfo=None)}, "no time zone"),
        ({"points": RING[:1], "name": "x" * 200}, "letters"),
    ],
)
def test_a_mark_that_makes_no_sense_is_refused(values, words):
    with pytest.raises(SettingsError, match=words):
        Mark(**values)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"trainees": ("Kim", "kim")}, "same name"),
        ({"overrules": (Overrule(trainee="K", item="ground", points=41.0, note="x"),)}, "worth 40"),
        ({"overrules": (Overrule(trainee="K", item="ground", points=1.0, note="x"),) * 2}, "twice"),
        ({"task": "x" * 5000}, "letters"),
    ],
)
def test_an_exercise_that_makes_no_sense_is_refused(values, words):
    with pytest.raises(SettingsError, match=words):
        Exercise(**values)


def test_points_are_never_changed_without_a_note():
    with pytest.raises(SettingsError, match="without a note"):
        Overrule(trainee="Kim", item="ground", points=1.0, note=" ")


def test_every_fault_of_an_exercise_in_a_file_is_told_with_its_place(tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(replace(make_plan(), exercise=Exercise(marks=(Mark(kind="start", points=RING[:1]),))), path)
    text = path.read_text().replace('"seen_by": "both"', '"seen_by": "all"').replace('"title": ""', '"titel": ""')
    path.write_text(text)
    with pytest.raises(PlanFileError) as told:
        read_plan(path)
    assert "exercise.marks[0]" in str(told.value)
    assert "titel: not a setting (is title meant?)" in str(told.value)


GRID = make_grid(40, 40)


def square(top, left, bottom, right):
    corners = ((top, left), (top, right), (bottom, right), (bottom, left))
    return tuple(tuple(map(float, GRID.to_lonlat(*GRID.cell_centre_m(row, col)))) for row, col in corners)


def plan_with(*marks):
    return replace(make_plan(), exercise=Exercise(marks=marks))


def test_ground_out_of_bounds_and_dangerous_ground_is_closed():
    marks = (
        Mark(kind="out_of_bounds", shape="area", points=square(2, 2, 6, 6)),
        Mark(kind="danger", shape="line", points=square(10, 2, 10, 20)[:2]),
        Mark(kind="no_cutting", shape="area", points=square(20, 20, 30, 30)),
    )
    closed = mask_of(closed_shapes(plan_with(*marks), GRID), GRID)
    assert closed[4, 4]
    assert closed[10, 2:20].all()
    assert not closed[25, 25]
    assert not closed[12:].any()


def test_all_ground_outside_a_boundary_is_closed():
    closed = mask_of(
        closed_shapes(plan_with(Mark(kind="boundary", shape="area", points=square(5, 5, 30, 30))), GRID), GRID
    )
    assert not closed[7:29, 7:29].any()
    assert closed[:4].all()
    assert closed[:, 32:].all()


def test_a_mark_acts_only_where_it_holds_on_the_day():
    area = {"kind": "danger", "shape": "area", "points": square(2, 2, 6, 6)}
    past = Mark(**area, holds_until=DEPART - timedelta(minutes=1))
    coming = Mark(**area, holds_from=DEPART + timedelta(days=2))
    tonight = Mark(**area, holds_from=DEPART + timedelta(hours=5), holds_until=DEPART + timedelta(hours=6))
    assert acting_marks(Exercise(marks=(past, coming, tonight)), DEPART, "closes") == (tonight,)


def test_water_is_drawn_only_where_a_mark_allows_it():
    ground = make_ground(np.full((40, 40), 300.0))
    lake = np.zeros((40, 40), np.uint8)
    lake[30:, :] = LAKE_KIND
    terrain = make_terrain(ground, water_kind=lake, is_water=lake > 0)
    assert terrain.to_fetch.sum() == 400
    allowed = water_allowed(plan_with(Mark(kind="water_allowed", points=square(31, 5, 31, 5)[:1])), ground.grid)
    marked = make_terrain(ground, water_kind=lake, is_water=lake > 0, draw_here=allowed)
    assert np.argwhere(marked.to_fetch).tolist() == [[31, 5]]
    assert water_allowed(plan_with(), ground.grid) is None


def test_marked_observers_look_besides_those_on_tracks_and_the_route():
    ground = make_ground(np.full((40, 40), 300.0))
    plan = plan_with(Mark(kind="observer", shape="line", points=square(8, 9, 20, 30)[:2]))
    before = {tuple(cell) for cell in who_looks(plan_with(), ground, 1.7).cell.tolist()}
    looking = {tuple(cell) for cell in who_looks(acting_plan(plan), ground, 1.7).cell.tolist()}
    assert looking - before == {(8, 9), (8, 30)}
    gone = replace(plan.exercise.marks[0], holds_until=DEPART - timedelta(hours=1))
    assert acting_plan(plan_with(gone)) == plan_with(gone)


def test_answers_are_held_against_what_trainees_could_see():
    hidden = Mark(kind="danger", shape="area", points=square(2, 2, 6, 6), seen_by="trainer")
    shown = Mark(kind="danger", shape="area", points=square(12, 2, 16, 6))
    note = Mark(kind="other", points=square(1, 1, 1, 1)[:1], seen_by="trainer")
    assert fair_plan(plan_with(hidden, shown, note)).exercise.marks == (shown, note)
