"""Answers as they come in, and what is said of those that won't do."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from sitepick.errors import PlanFileError
from sitepick.exercise.picks import collect
from sitepick.exercise.trainee import trainee_plan
from sitepick.plan.edits import with_values
from sitepick.plan.exercise import Exercise, HandedIn
from sitepick.plan.file import write_plan
from sitepick.plan.pins import Pin
from tests.helpers.made import make_grid, make_plan

GRID = make_grid(400, 400)
PLAN = make_plan()


def collected(path, text, plan=PLAN, name="answers.csv"):
    (path / name).write_bytes(text if isinstance(text, bytes) else text.encode())
    return collect([path / name], plan, GRID)


def refused(path, text, **more):
    with pytest.raises(PlanFileError) as told:
        collected(path, text, **more)
    return str(told.value)


def test_a_row_a_trainee(tmp_path):
    text = 'trainee,pick,alternate,arrive,ready,reasons\nAino,34W EV 0234 7812,"67.41, 21.05",14:30,16.05,near water\n'
    (one,) = collected(tmp_path, text).submissions
    assert one.trainee == "Aino"
    assert one.handed_in.alternate == pytest.approx((21.05, 67.41))
    depart = PLAN.march.depart
    assert one.handed_in.arrive - depart == timedelta(hours=6, minutes=30)
    assert one.handed_in.ready - depart == timedelta(hours=8, minutes=5)
    assert one.handed_in.reasons == "near water"
    assert one.precision_m == 10.0
    assert "row 2" in one.source


def test_a_layout_takes_several_rows(tmp_path):
    rows = ("Name;What;Grid reference;Door", "Bo;pick;34WEV0234578123;", "Bo;Tent 1;34WEV0234578123;75",
            "Bo;Latrine;EV 0240 7815;")  # fmt: skip
    text = "\n".join(rows)
    (one,) = collected(tmp_path, text).submissions
    assert one.handed_in.pick is not None
    assert [(thing.what, thing.door_deg) for thing in one.handed_in.layout] == [("Tent 1", 75.0), ("Latrine", None)]


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_a_table_as_spreadsheets_save_it(tmp_path, encoding):
    text = "trainee\tpick\nÅsa Öberg\t34WEV0234578123\n".encode(encoding)
    assert collected(tmp_path, text).submissions[0].trainee == "Åsa Öberg"


def test_an_hour_after_midnight_is_the_next_day(tmp_path):
    (one,) = collected(tmp_path, "trainee,arrive\nAino,00:30\n").submissions
    assert one.handed_in.arrive.date() == (PLAN.march.depart + timedelta(days=1)).date()


def test_every_fault_is_told_with_its_row_its_column_and_what_was_read(tmp_path):
    text = (
        "trainee,pick,arrive,door\n"
        "Aino,34WEV02,14:30,\n"
        "Bo,34WEV0234O7812,25:10,\n"
        ",34WEV0234578123,,\n"
        "Cai,67.41, 21.05,14:30,\n"
    )
    told = refused(tmp_path, text)
    assert "row 2, column pick: '34WEV02': it is too short" in told
    assert "row 3, column pick: '34WEV0234O7812': it has a letter O" in told
    assert "row 3, column arrive: '25:10' is no time of day" in told
    assert "row 4, column trainee: nothing stands there" in told
    assert "row 5 has 5 fields under 4 headings" in told
    assert "answers.csv" in told


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("trainee,picc\nA,1\n", "'picc' is no heading that is known (is pick meant?)"),
        ("pick\n34WEV0234578123\n", "no heading says which column holds the trainee"),
        ("trainee,pick,pick\nA,1,2\n", "stands there twice"),
        ("trainee,pick\nAino,34WEV0234578123\naino,34WEV0200078000\n", "has pick in row 2 already"),
        ("trainee,what,place,door\nA,Tent 1,34WEV0234578123,400\n", "'400' is no bearing"),
        ("trainee,what,place\nA,,34WEV0234578123\n", "column what: nothing stands there"),
        ("", "no heading"),
        ("trainee,pick\n", "nothing was handed in"),
        (b"\x00\x01\x02\x00", "no table of text"),
    ],
)
def test_a_table_that_will_not_do_says_why(tmp_path, text, words):
    assert words in refused(tmp_path, text)


def test_who_handed_in_nothing_is_told(tmp_path):
    plan = replace(PLAN, exercise=Exercise(trainees=("Aino", "Bo", "Cai")))
    found = collected(tmp_path, "trainee,pick\nAino,34WEV0234578123\nBo,\n", plan=plan)
    assert [one.trainee for one in found.submissions] == ["Aino"]
    assert found.absent == ("Bo", "Cai")


def test_a_name_that_is_not_on_the_list_is_told_with_what_may_be_meant(tmp_path):
    plan = replace(PLAN, exercise=Exercise(trainees=("Aino", "Bertil")))
    found = collected(tmp_path, "trainee,pick\nBertl,34WEV0234578123\n", plan=plan)
    assert any("Bertl is not on the list of trainees: is Bertil meant?" in note for note in found.notes)


def test_two_files_with_one_name_are_told_apart(tmp_path):
    for name in ("a.geojson", "b.geojson"):
        copy = trainee_plan(PLAN)
        copy = replace(copy, exercise=replace(copy.exercise, handed_in=HandedIn(trainee="Kim", pick=(21.05, 67.41))))
        write_plan(copy, tmp_path / name)
    found = collect([tmp_path], PLAN, GRID)
    assert [one.trainee for one in found.submissions] == ["Kim (1)", "Kim (2)"]
    assert "a.geojson, b.geojson" in found.notes[0]


def test_a_trainees_file_comes_back_whole(tmp_path):
    copy = trainee_plan(PLAN)
    answer = HandedIn(pick=(21.05, 67.41), arrive=PLAN.march.depart + timedelta(hours=6))
    write_plan(replace(copy, exercise=replace(copy.exercise, handed_in=answer)), tmp_path / "kim.geojson")
    (one,) = collect([tmp_path / "kim.geojson"], PLAN, GRID).submissions
    assert one.trainee == "kim"
    assert one.handed_in.pick == (21.05, 67.41)
    assert one.notes == ()


def test_a_camp_put_by_hand_on_the_desk_is_a_layout(tmp_path):
    copy = trainee_plan(PLAN)
    pins = (
        Pin(kind="shelter", name="Tent 1", place=(21.05, 67.41)),
        Pin(kind="latrine", name="Latrine", place=(21.06, 67.41)),
        Pin(kind="post", name="Post 1", place=(21.06, 67.42)),
    )  # fmt: skip
    write_plan(replace(copy, camp=replace(copy.camp, pins=pins)), tmp_path / "kim.geojson")
    (one,) = collect([tmp_path / "kim.geojson"], PLAN, GRID).submissions
    assert [thing.what for thing in one.handed_in.layout] == ["Tent 1", "Latrine"]
    assert one.notes == ()


def test_a_file_that_was_changed_by_hand_is_told(tmp_path):
    copy = with_values(trainee_plan(PLAN), "weather", wind_kmh=1.0)
    copy = replace(copy, exercise=replace(copy.exercise, handed_in=HandedIn(trainee="Kim", pick=(21.05, 67.41))))
    write_plan(copy, tmp_path / "kim.geojson")
    (one,) = collect([tmp_path / "kim.geojson"], PLAN, GRID).submissions
    assert "the weather changed" in one.notes[0]
    assert "held against what was given" in one.notes[0]


def test_a_file_that_is_broken_by_hand_is_told(tmp_path):
    told = refused(
        tmp_path, '{"type": "FeatureCollection", "features": [], "sitepick": {"version": 1}}', name="k.geojson"
    )
    assert "k.geojson" in told
    assert "ground: missing" in told


GPX = '<gpx xmlns="http://www.topografix.com/GPX/1/1">{}</gpx>'


def waypoint(name):
    return f'<wpt lat="67.41" lon="21.05"><name>{name}</name></wpt>'


def test_gpx_points_are_picks_by_name_or_one_trainees_answer(tmp_path):
    class_file = GPX.format(waypoint("Aino") + waypoint("Bo"))
    assert [one.trainee for one in collected(tmp_path, class_file, name="class.gpx").submissions] == ["Aino", "Bo"]
    own = GPX.format(waypoint("Pick") + waypoint("Alternate") + waypoint("Tent 1"))
    (one,) = collected(tmp_path, own, name="cai.gpx").submissions
    assert (one.trainee, one.handed_in.layout[0].what) == ("cai", "Tent 1")
    assert one.handed_in.alternate is not None


def nameless(count):
    return "".join(f'<wpt lat="67.4{number}" lon="21.05"/>' for number in range(count))


def test_gpx_points_without_a_name_are_numbered_in_order_and_told_in_one_sentence(tmp_path):
    lone = collected(tmp_path, GPX.format(nameless(1)), name="cai.gpx")
    assert [(one.trainee, one.handed_in.pick) for one in lone.submissions] == [("cai", (21.05, 67.40))]
    assert lone.notes == ("The one point in cai.gpx has no name: it is taken for cai's pick.",)
    found = collected(tmp_path, GPX.format(nameless(2) + waypoint("Aino") + nameless(1)), name="day.gpx")
    assert [(one.trainee, one.handed_in.pick[1]) for one in found.submissions] == [
        ("Aino", 67.41), ("day 1", 67.40), ("day 2", 67.41), ("day 3", 67.40),
    ]  # fmt: skip
    (note,) = found.notes
    assert "3 points in day.gpx have no name" in note
    assert "day 1 to day 3" in note


def test_a_point_without_a_name_beside_a_named_pick_is_left_out_and_told(tmp_path):
    found = collected(tmp_path, GPX.format(waypoint("pick") + nameless(1)), name="bo.gpx")
    assert found.submissions[0].handed_in.layout == ()
    assert "left out of the layout" in found.notes[0]


def test_gpx_that_will_not_do_says_what_to_do(tmp_path):
    assert "no point in it" in refused(tmp_path, GPX.format(""), name="x.gpx")
    assert "two points in it" in refused(tmp_path, GPX.format(waypoint("pick") * 2), name="x.gpx")
    assert "no latitude or longitude" in refused(tmp_path, GPX.format('<wpt lat="67"/>'), name="x.gpx")


def test_an_empty_folder_and_a_missing_file_are_told(tmp_path):
    with pytest.raises(PlanFileError, match="nothing was handed in"):
        collect([tmp_path], PLAN, GRID)
    with pytest.raises(PlanFileError, match="no such file"):
        collect([tmp_path / "no.csv"], PLAN, GRID)
