"""The trainee's copy gives nothing away: its file is searched byte by byte for everything that is the trainer's own."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import timedelta

import pytest

from sitepick.exercise.trainee import changed_parts, trainee_plan
from sitepick.plan.exercise import Exercise, GivenParts, HandedIn, Overrule
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.handout import HandoutSettings, OrderNotes
from sitepick.plan.mark import Mark
from sitepick.plan.model import Area, Factor, Preferences, Route
from sitepick.plan.observer import Observer
from sitepick.plan.pins import Pin
from sitepick.plan.weighting import SiteMark
from tests.helpers.made import make_plan

SECRET = "Zq7solution"
SECRET_PLACE = (21.0471234, 67.4012345)
RING = ((21.01, 67.41), (21.02, 67.41), (21.02, 67.42))
SECRET_RING = ((21.0611111, 67.4111111), (21.0622222, 67.4122222), (21.0633333, 67.4113333))


def trainers_plan():
    """A plan with a secret in every corner that a trainee must not see."""
    plan = make_plan()
    exercise = Exercise(
        title="Night on the fell",
        task="Find the place.",
        marks=(
            Mark(kind="danger", shape="area", points=RING, name="Thin ice"),
            Mark(kind="other", points=(SECRET_PLACE,), name=SECRET, note=SECRET, seen_by="trainer"),
            Mark(kind="observer", points=(SECRET_PLACE,), name=f"{SECRET} watches", seen_by="trainer"),
        ),
        trainees=(f"{SECRET} Kim",),
        overrules=(Overrule(trainee=f"{SECRET} Kim", item="ground", points=3.0, note=SECRET),),
        handed_in=HandedIn(trainee=SECRET, pick=SECRET_PLACE, reasons=SECRET),
    )
    return replace(
        plan,
        name=f"{SECRET} at the stream",
        note=f"The best place is {SECRET}.",
        alternatives=(Route(name=SECRET, points=(SECRET_PLACE, (21.1, 67.4))),),
        areas=(Area(name=SECRET, role="site", ring=SECRET_RING), Area(name="Firing range", role="no_go", ring=RING)),
        observers=(Observer(place=SECRET_PLACE, name=SECRET),),
        camp=replace(plan.camp, pins=(Pin(kind="latrine", name=SECRET, place=SECRET_PLACE),)),
        site_marks=(SiteMark(place=SECRET_PLACE, name=SECRET, is_pinned=True),),
        handout=HandoutSettings(notes=OrderNotes(task=SECRET)),
        preferences=replace(Preferences(), forest=Factor(weight=73.125, curve=((0.0, 0.0), (0.734375, 1.0)))),
        exercise=exercise,
    )


def written(plan, path):
    write_plan(trainee_plan(plan), path)
    return path.read_bytes()


def test_the_trainees_file_holds_nothing_of_the_trainers_own(tmp_path):
    data = written(trainers_plan(), tmp_path / "trainee.geojson")
    secrets = [SECRET, *(str(value) for value in SECRET_PLACE), "73.125", "0.734375"]
    secrets += [str(value) for point in SECRET_RING for value in point]
    found = [secret for secret in secrets if secret.encode() in data or secret.lower().encode() in data.lower()]
    assert found == []
    # The search itself finds them where they are.
    write_plan(trainers_plan(), tmp_path / "trainer.geojson")
    assert all(secret.encode() in (tmp_path / "trainer.geojson").read_bytes() for secret in secrets)


def test_no_score_site_or_rank_stands_in_the_file(tmp_path):
    document = json.loads(written(trainers_plan(), tmp_path / "trainee.geojson"))
    assert {feature["properties"]["role"] for feature in document["features"]} == {"route", "no_go"}
    keys = set()

    def gather(value):
        if isinstance(value, dict):
            keys.update(value)
            for inner in value.values():
                gather(inner)
        elif isinstance(value, list):
            for inner in value:
                gather(inner)

    gather(document)
    assert not {"score", "rank", "sites", "site", "best", "firm_share"} & keys
    assert document["sitepick"]["exercise"]["overrules"] == []
    assert document["sitepick"]["exercise"]["trainees"] == []


def test_what_is_given_comes_along(tmp_path):
    plan = trainers_plan()
    written(plan, tmp_path / "trainee.geojson")
    copy = read_plan(tmp_path / "trainee.geojson")
    assert copy.name == "Night on the fell"
    assert (copy.unit, copy.weather, copy.route, copy.ground) == (plan.unit, plan.weather, plan.route, plan.ground)
    assert copy.march.depart == plan.march.depart
    assert [mark.name for mark in copy.exercise.marks] == ["Thin ice"]
    assert copy.exercise.handed_in == HandedIn()


@pytest.mark.parametrize("part", ["unit", "weather", "route", "time"])
def test_what_is_not_given_stays_behind(part):
    plan = trainers_plan()
    given = replace(GivenParts(), **{f"has_{part}": False})
    copy = trainee_plan(replace(plan, exercise=replace(plan.exercise, given=given)))
    if part == "unit":
        assert copy.unit.people != plan.unit.people
        assert copy.march.mode == "ski"
        assert not copy.march.has_sled
    elif part == "weather":
        assert copy.weather.wind_from_deg is None
        assert copy.weather.temperature_c is None
    elif part == "route":
        assert copy.route.points == (plan.route.points[0], plan.route.points[-1])
        assert copy.route.name != plan.route.name
    else:
        assert copy.march.depart.date() == plan.march.depart.date()


def test_an_hour_that_is_not_given_is_not_told():
    plan = trainers_plan()
    late = replace(plan, march=replace(plan.march, depart=plan.march.depart + timedelta(hours=3, minutes=17)))
    late = replace(late, exercise=replace(late.exercise, given=GivenParts(has_time=False)))
    early = replace(plan, exercise=replace(plan.exercise, given=GivenParts(has_time=False)))
    assert trainee_plan(late) == trainee_plan(early)


def test_the_weights_are_given_where_the_trainer_says_so():
    plan = trainers_plan()
    given = replace(plan, exercise=replace(plan.exercise, given=GivenParts(has_what_counts=True)))
    assert trainee_plan(given).preferences.forest == plan.preferences.forest
    assert trainee_plan(plan).preferences == Preferences()


def test_a_copy_is_known_again_and_a_changed_one_is_not():
    plan = trainers_plan()
    copy = trainee_plan(plan)
    answered = replace(copy, exercise=replace(copy.exercise, handed_in=HandedIn(trainee="Kim", pick=(21.0, 67.4))))
    assert changed_parts(plan, answered) == ()
    assert changed_parts(plan, replace(answered, unit=replace(answered.unit, people=answered.unit.people))) == ()
    pinned = replace(answered.camp, pins=(Pin(kind="shelter", name="Tent 1", place=(21.0, 67.4)),))
    assert changed_parts(plan, replace(answered, camp=pinned, site_marks=plan.site_marks)) == ()
    moved = replace(answered, route=replace(answered.route, points=((21.0, 67.4), (21.2, 67.4))))
    assert changed_parts(plan, moved) == ("route",)
