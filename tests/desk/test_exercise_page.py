"""The Exercise page: marks, what trainees get, their own answer, and what is asked of files."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from sitepick.desk.desk_work import explain_place, work_out_tonight
from sitepick.desk.exercise_marks import MarkRow
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.fields import ChoiceField
from sitepick.desk.main_window import MainWindow
from sitepick.exercise.withheld import PLACE_WORDS, withheld
from sitepick.plan.exercise import AskedParts, Exercise, HandedIn
from sitepick.plan.mark import Mark
from sitepick.sheet.summary import answer_facts, answer_name
from sitepick.tonight import Tonight
from sitepick.work import Watch

pytestmark = pytest.mark.shape


@pytest.fixture(autouse=True)
def page_open(window: MainWindow) -> None:
    window.field_book.choose_page(PAGE_NAMES.index("Exercise"))


def line(window: MainWindow, name: str) -> QLineEdit:
    return next(one for one in window.field_book.exercise.findChildren(QLineEdit) if one.accessibleName() == name)


def choice(window: MainWindow, name: str) -> ChoiceField:
    return next(one for one in window.field_book.exercise.findChildren(ChoiceField) if one.accessibleName() == name)


def press(window: MainWindow, name: str) -> None:
    next(one for one in window.field_book.exercise.findChildren(QPushButton) if one.accessibleName() == name).click()


def choose(field: ChoiceField, value: object) -> None:
    field.setCurrentIndex(field._values.index(value))


def click_map(window: MainWindow, row: int, col: int) -> None:
    grid = window.asker.answer.ground.grid
    window.map.ask_requested.emit(*grid.cell_centre_m(row, col))


def put_here(window: MainWindow, row: int, col: int) -> None:
    click_map(window, row, col)
    press(window, "put the mark where the map was clicked")


def test_a_mark_is_put_where_the_map_was_clicked_grows_to_an_area_and_is_undone(window: MainWindow) -> None:
    put_here(window, 20, 20)
    for row, col in ((20, 40), (40, 40)):
        click_map(window, row, col)
        press(window, "add the point clicked to mark 1")
    (mark,) = window.history.plan.exercise.marks
    assert (mark.kind, mark.shape, len(mark.points)) == ("danger", "area", 3)
    window.history.stack.undo()
    assert window.history.plan.exercise.marks[0].shape == "line"
    window.history.stack.undo()
    window.history.stack.undo()
    assert window.history.plan.exercise.marks == ()


def test_a_mark_is_put_by_its_grid_reference_from_the_keyboard(window: MainWindow) -> None:
    grid = window.asker.answer.ground.grid
    line(window, "places of a new mark").setText(grid.mgrs(*grid.cell_centre_m(30, 30)))
    press(window, "put the mark")
    (mark,) = window.history.plan.exercise.marks
    assert grid.cell_at(*(float(value) for value in grid.from_lonlat(*mark.points[0]))) == (30, 30)


def test_a_reference_that_names_no_place_is_told_and_nothing_changes(window: MainWindow) -> None:
    line(window, "places of a new mark").setText("34W XX")
    press(window, "put the mark")
    assert window.history.plan.exercise.marks == ()
    assert "34W XX" in window.notices.text


def test_marks_are_named_hidden_copied_and_removed(window: MainWindow) -> None:
    put_here(window, 20, 20)
    name = line(window, "name of mark 1")
    name.setText("Thin ice")
    name.editingFinished.emit()
    choose(choice(window, "who sees mark 1"), "trainer")
    press(window, "copy mark 1")
    marks = window.history.plan.exercise.marks
    assert [(mark.name, mark.seen_by) for mark in marks] == [("Thin ice", "trainer")] * 2
    press(window, "remove mark 2")
    assert len(window.field_book.exercise.findChildren(MarkRow)) >= 1
    assert len(window.history.plan.exercise.marks) == 1


def test_marks_go_to_a_file_and_come_back(window: MainWindow, tmp_path: Path) -> None:
    put_here(window, 20, 20)
    held = window.history.plan.exercise.marks
    window.exercise.save_marks(tmp_path / "marks.geojson")
    window.exercise.take_over_marks(tmp_path / "marks.geojson")
    assert window.history.plan.exercise.marks == held * 2
    window.exercise.take_over_marks(tmp_path / "none.geojson")
    assert "can't be read" in window.notices.text


def test_what_is_given_asked_and_worth_is_edited_in_its_sentences(window: MainWindow) -> None:
    choose(choice(window, "the route is given"), False)
    choose(choice(window, "a layout is asked"), True)
    exercise = window.history.plan.exercise
    assert not exercise.given.has_route
    assert exercise.asked.has_layout


def test_a_pick_is_taken_down_by_hand_on_the_map(window: MainWindow) -> None:
    click_map(window, 60, 60)
    line(window, "trainee whose pick it is").setText("Aino")
    press(window, "take the pick down")
    (one,) = window.history.plan.exercise.answers
    assert one.trainee == "Aino"
    assert one.pick is not None


def test_points_are_overruled_only_with_a_note(window: MainWindow) -> None:
    line(window, "trainee whose points change").setText("Aino")
    press(window, "give these points")
    assert window.history.plan.exercise.overrules == ()
    assert "without a note" in window.notices.text
    line(window, "why the points change").setText("Well argued.")
    press(window, "give these points")
    assert window.history.plan.exercise.overrules[0].note == "Well argued."


def test_a_trainees_copy_shows_the_task_and_takes_the_answer(window: MainWindow, qtbot: QtBot) -> None:
    copy = replace(
        window.history.plan,
        exercise=Exercise(task="Find the place.", asked=AskedParts(has_layout=True), handed_in=HandedIn()),
    )
    window.history.open(copy)
    qtbot.waitUntil(lambda: window.asker.is_fresh)
    page = window.field_book.exercise
    assert page.own_answer.isVisible()
    assert not page.marks.isVisible()
    name = line(window, "your name")
    name.setText("Kim")
    name.editingFinished.emit()
    click_map(window, 70, 70)
    press(window, "The place clicked is my pick")
    click_map(window, 72, 74)
    press(window, "put it there")
    held = window.history.plan.exercise.handed_in
    assert held.trainee == "Kim"
    assert [thing.what for thing in held.layout] == ["Latrine"]
    assert held.pick is not None


def test_a_trainees_copy_is_told_no_site_and_no_reason(answer: Tonight, monkeypatch: pytest.MonkeyPatch) -> None:
    plan = replace(answer.plan, exercise=Exercise(handed_in=HandedIn()))
    monkeypatch.setattr("sitepick.tonight.tonight", lambda plan, **_: replace(answer, plan=plan))
    told = work_out_tonight(plan, None, Watch())
    assert told.sites.sites == ()
    assert told.camp is None
    assert told.sites.kept is None
    assert "yours to find out" in told.sites.hindrances[0].text
    assert explain_place(told, 0.0, 0.0, Watch()) == PLACE_WORDS
    assert work_out_tonight(answer.plan, None, Watch()).sites.sites == answer.sites.sites


def test_a_trainees_copy_is_not_said_to_have_no_site(answer: Tonight) -> None:
    told = withheld(replace(answer, plan=replace(answer.plan, exercise=Exercise(handed_in=HandedIn()))))
    words = " ".join((answer_name(told), answer_facts(told)))
    assert "yours to find" in words
    assert "no site found" not in words
    assert "none of it serves" not in words


def test_what_is_withheld_holds_no_name_of_a_site(answer: Tonight) -> None:
    told = repr(withheld(answer).sites.sites) + repr(withheld(answer).sites.hindrances)
    assert not any(site.name in told for site in answer.sites.sites)


def test_marks_and_picks_are_drawn_on_the_map(window: MainWindow) -> None:
    before = window.map.grab().toImage()
    grid = window.asker.answer.ground.grid
    lon, lat = (float(value) for value in grid.to_lonlat(*grid.centre_m))
    exercise = Exercise(
        marks=(Mark(kind="danger", shape="area", points=((lon, lat), (lon + 0.01, lat), (lon, lat + 0.004))),),
        answers=(HandedIn(trainee="Aino", pick=(lon - 0.01, lat)),),
    )
    window.history.open(replace(window.history.plan, exercise=exercise))
    assert window.map.grab().toImage() != before
