"""What is printed: the pack gives nothing away, debriefs are kind and whole, the class is told."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.exercise.assess import assess_class
from sitepick.exercise.class_sheet import class_sheet
from sitepick.exercise.debrief import debrief_sheet
from sitepick.exercise.document import assessment_document, class_csv
from sitepick.exercise.handout import _file_names, answers_csv, class_lines
from sitepick.exercise.model import Submission
from sitepick.exercise.pack import pack_sheet
from sitepick.exercise.picks import Collected
from sitepick.exercise.trainee import trainee_plan
from sitepick.plan.exercise import AskedParts, Exercise, GivenParts, HandedIn, Overrule
from sitepick.plan.mark import Mark
from sitepick.sheet.model import Text
from tests.unit.exercise.made_class import best_answer, lonlat, made_standard

pytestmark = pytest.mark.slow
BLAME = ("wrong", "fail", "bad", "poor", "mistake", "stupid", "never")


def words_of(sheet):
    return " ".join(stroke.text for page in sheet.pages for stroke in page.strokes if isinstance(stroke, Text))


def at(row, col):
    standard = made_standard()
    return lonlat(standard, *standard.answer.ground.grid.cell_centre_m(row, col))


def trainers_plan():
    standard = made_standard()
    marks = (
        Mark(kind="start", points=(at(60, 3),), name="Hut"),
        Mark(kind="danger", shape="area", points=(at(10, 10), at(10, 20), at(20, 20)), name="Thin ice"),
        Mark(kind="boundary", shape="area", points=(at(2, 2), at(2, 150), at(110, 150), at(110, 2))),
        Mark(kind="observer", points=(at(70, 70),), name="Hidden watcher", note="Told to nobody", seen_by="trainer"),
    )
    exercise = Exercise(
        title="Night in the spruce", task="Find a place.\nSay why.", marks=marks, asked=AskedParts(has_layout=True),
        trainees=("Aino", "Bo", "=Cai"),
        overrules=(Overrule(trainee="Aino", item="reasons", points=4.0, note="Well argued."),),
    )  # fmt: skip
    return replace(standard.answer.plan, exercise=exercise)


def made_pack(plan):
    answer = made_standard().answer
    worth = {item: plan.exercise.rubric.points(item) for item in ("limits", "ground", "alternate", "layout")}
    return pack_sheet(trainee_plan(plan), answer.ground, answer.terrain, worth, paper_name="A4")


def made_result(plan):
    standard = made_standard()
    pond = HandedIn(trainee="Bo", pick=at(102, 40), arrive=standard.answer.march.depart)
    found = tuple(
        Submission(handed_in=held, source="class.csv, row 2") for held in (best_answer(standard, "Aino"), pond)
    )
    return assess_class(standard, plan.exercise, Collected(submissions=found, absent=("=Cai",), notes=("A note.",)))


def test_the_pack_shows_the_problem_and_no_answer():
    plan = trainers_plan()
    told = words_of(made_pack(plan))
    for words in (
        "Night in the spruce",
        "Find a place.",
        "Thin ice",
        "danger area",
        "Your alternate (10 points)",
        "Tent 1",
    ):
        assert words in told
    answer = made_standard().answer
    secrets = ["Hidden watcher", "Told to nobody", "avalanche", "reach", "score", "Aino", plan.name]
    secrets += [site.name for site in answer.sites.sites]
    assert [secret for secret in secrets if secret in told] == []


def test_the_pack_holds_only_what_is_asked_and_given():
    plan = trainers_plan()
    bare = replace(
        plan.exercise, given=GivenParts(has_map=False, has_unit=False, has_weather=False),
        asked=AskedParts(has_alternate=False, has_timetable=False, has_reasons=False),
    )  # fmt: skip
    told = words_of(made_pack(replace(plan, exercise=bare)))
    assert "Your pick" in told
    for words in ("Your alternate", "Your timetable", "Your layout", "38 people", "km/h", "the map", "100 mm"):
        assert words not in told
    assert "At 34W" in told  # marks by their references, where there is no map


def test_a_debrief_tells_the_points_the_factors_and_the_trainers_note():
    plan = trainers_plan()
    result = made_result(plan)
    told = words_of(debrief_sheet(plan, made_standard(), result.assessments[0]))
    for words in (
        "debrief for Aino",
        "99 of 100 points",
        "Evergreen forest",
        "best place",
        "Well argued.",
        "rules kept",
    ):
        assert words in told
    assert "Bo" not in told.split()


@pytest.mark.parametrize("number", [0, 1])
def test_debriefs_are_kind(number):
    plan = trainers_plan()
    told = words_of(debrief_sheet(plan, made_standard(), made_result(plan).assessments[number])).lower()
    assert [word for word in BLAME if word in told.split()] == []


def test_everything_on_paper_lies_on_the_page():
    plan = trainers_plan()
    result = made_result(plan)
    sheets = [made_pack(plan), class_sheet(plan, made_standard(), result)]
    sheets += [debrief_sheet(plan, made_standard(), one) for one in result.assessments]
    for page in (page for sheet in sheets for page in sheet.pages):
        for stroke in page.strokes:
            if isinstance(stroke, Text):
                left, top, right, bottom = stroke.box_mm
                assert left > 2.0, stroke.text
                assert right < page.width_mm - 2.0, stroke.text
                assert 0.0 < top < bottom < page.height_mm, stroke.text


def test_the_class_is_told_with_its_spread_and_who_is_missing():
    plan = trainers_plan()
    result = made_result(plan)
    told = words_of(class_sheet(plan, made_standard(), result))
    for words in ("2 answers handed in, 1 missing", "Aino", "nothing handed in", "on water or too near it", "A note."):
        assert words in told
    assert result.spread.lowest < 20.0 < 95.0 < result.spread.highest
    assert dict(result.broken)["water"] == 1
    assert any("Bo" in line for line in class_lines(result))


def test_the_table_is_safe_in_a_spreadsheet():
    table = class_csv(made_result(trainers_plan()))
    assert "\n'=Cai" in table
    assert table.splitlines()[0].startswith("trainee,percent,points,worth,Room within the limits")


def test_the_document_holds_every_measure_beside_the_best():
    plan = trainers_plan()
    document = assessment_document(plan, made_standard(), made_result(plan))
    pick = document["trainees"][0]["pick"]
    assert set(pick["measures"]) == {measure.name for measure in made_standard().best_measures}
    assert pick["rank"] == 1
    assert all(one["best_place_score"] is not None for one in pick["measures"].values())
    assert document["class"]["absent"] == ["=Cai"]


def test_the_table_to_collect_answers_in_is_one_that_is_read_again():
    assert answers_csv(trainers_plan().exercise).splitlines()[0] == (
        "trainee,pick,alternate,arrive,ready,reasons,what,place,door"
    )


def test_file_names_are_plain_and_none_comes_twice():
    names = _file_names(["Åsa Öberg", "asa oberg", "李", "../x"], "debrief", ".pdf")
    assert names == ["debrief-asa-oberg.pdf", "debrief-asa-oberg~2.pdf", "debrief-3.pdf", "debrief-x.pdf"]
