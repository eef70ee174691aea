"""The window as a whole: an edit is answered, undone, saved; nothing late or wrong slips through."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from sitepick.desk import plan_files
from sitepick.desk.edit import PlanEdit
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import ROUTE
from sitepick.errors import GroundError
from sitepick.plan.edits import with_people, with_values
from sitepick.plan.file import read_plan
from sitepick.tonight import Tonight
from tests.desk.conftest import WAIT_MS, QuickWork


def wind(kmh: float, gesture: int | None = None) -> PlanEdit:
    change = partial(with_values, part="weather", wind_kmh=kmh)
    return PlanEdit(text="Change wind speed", change=change, gesture=gesture)


def answer_text(window: MainWindow) -> str:
    return " ".join(label.text() for label in window.answer_line.findChildren(QLabel))


def next_answer(qtbot: QtBot, window: MainWindow, act: Callable[[], object]) -> None:
    with qtbot.waitSignal(window.asker.drawn, timeout=WAIT_MS):
        act()


@pytest.mark.shape
def test_the_answer_stands_on_top_as_a_sentence(window: MainWindow, answer: Tonight):
    told = window.answer_line.accessibleName()
    assert told.startswith(f"Tonight: site 1, {answer.sites.sites[0].name}.")
    assert "arrive 09:04" in told
    assert "Alternate" in told


def test_an_edit_is_answered_with_the_previous_answer_at_hand(qtbot: QtBot, window: MainWindow, work: QuickWork):
    first = window.asker.answer
    next_answer(qtbot, window, partial(window.apply, wind(40.0)))
    assert work.plans[-1].weather.wind_kmh == 40.0
    assert work.previous[-1] is first
    assert window.asker.is_fresh


def test_a_drag_of_many_edits_is_asked_about_once(qtbot: QtBot, window: MainWindow, work: QuickWork):
    asked = len(work.plans)

    def drag() -> None:
        for kmh in range(30, 60):
            window.apply(wind(float(kmh), gesture=7_000_000))

    next_answer(qtbot, window, drag)
    assert len(work.plans) == asked + 1
    assert work.plans[-1].weather.wind_kmh == 59.0
    assert window.history.stack.count() == 1


def test_undo_asks_again_and_the_fields_follow(qtbot: QtBot, window: MainWindow, answer: Tonight):
    next_answer(qtbot, window, partial(window.apply, wind(40.0)))
    undo = next(a for m in window.menuBar().actions() for a in m.menu().actions() if a.text().startswith("Undo"))
    assert undo.text() == "Undo Change wind speed"
    next_answer(qtbot, window, undo.trigger)
    assert window.history.plan == answer.plan
    assert window.asker.is_fresh


def test_a_point_dragged_on_the_map_changes_the_plan(qtbot: QtBot, window: MainWindow, answer: Tonight):
    window.map.choose_verb(ROUTE)
    grid = answer.ground.grid
    east_m, north_m = grid.from_lonlat(*answer.plan.route.points[1])
    x_px, y_px = window.map.frame.to_px(float(east_m), float(north_m))
    begin = QPoint(round(x_px), round(y_px))
    qtbot.mousePress(window.map, Qt.MouseButton.LeftButton, pos=begin)
    qtbot.mouseMove(window.map, begin + QPoint(-20, 30))
    qtbot.mouseMove(window.map, begin + QPoint(-40, 60))
    qtbot.mouseRelease(window.map, Qt.MouseButton.LeftButton, pos=begin + QPoint(-40, 60))
    assert window.history.plan.route.points[1] != answer.plan.route.points[1]
    assert window.history.stack.undoText() == "Move point 2"
    assert window.history.stack.count() == 1


def test_an_edit_past_a_limit_is_told_and_the_old_value_stays(window: MainWindow, answer: Tonight):
    window.apply(PlanEdit(text="Change wind speed", change=partial(with_values, part="weather", wind_kmh=900.0)))
    assert window.notices.text.startswith("Wind speed is 900 km/h, outside 0 to 250 km/h.")
    assert window.history.plan == answer.plan


def test_a_fault_in_the_files_is_told_with_what_to_do(qtbot: QtBot, window: MainWindow, work: QuickWork):
    work.fault = GroundError("the elevation file is cut off", fix="copy it again", where="/maps/hill.tif")
    with qtbot.waitSignal(window.asker.refused, timeout=WAIT_MS):
        window.apply(wind(41.0))
    assert window.notices.text == "The elevation file is cut off. Copy it again."
    work.fault = None
    next_answer(qtbot, window, partial(window.apply, wind(42.0)))
    assert window.notices.text == ""


def test_our_own_mistake_in_a_job_goes_to_the_crash_road(qtbot: QtBot, window: MainWindow, work: QuickWork):
    work.fault = ZeroDivisionError("ours")
    with qtbot.waitSignal(window.broken, timeout=WAIT_MS) as caught:
        window.apply(wind(41.0))
    assert caught.args == [work.fault]
    assert window.notices.text == ""


def test_stop_before_the_work_begins_leaves_the_old_answer(qtbot: QtBot, window: MainWindow, work: QuickWork):
    asked = len(work.plans)
    with qtbot.waitSignal(window.asker.stopped, timeout=WAIT_MS):
        window.apply(wind(50.0))
        window.asker.stop()
    assert len(work.plans) == asked
    assert not window.asker.is_fresh


def test_an_answer_that_the_plan_has_left_behind_says_so(qtbot: QtBot, window: MainWindow):
    with qtbot.waitSignal(window.asker.stopped, timeout=WAIT_MS):
        window.apply(wind(50.0))
        window.asker.stop()
    assert window.answer_line.says_old
    assert window.map._is_stale
    with qtbot.waitSignal(window.asker.answered, timeout=WAIT_MS):
        window.history.stack.undo()
    assert not window.answer_line.says_old
    assert not window.map._is_stale


def test_a_plan_that_returns_to_its_answer_needs_no_work(qtbot: QtBot, window: MainWindow, work: QuickWork):
    asked = len(work.plans)
    window.apply(wind(50.0))
    with qtbot.waitSignal(window.asker.answered, timeout=WAIT_MS):
        window.history.stack.undo()
    assert len(work.plans) == asked


def test_march_along_another_route_and_back(qtbot: QtBot, window: MainWindow, answer: Tonight):
    march_along = window.menus.routes.actions()[1]
    assert march_along.text() == "March along By the lake"
    next_answer(qtbot, window, march_along.trigger)
    assert window.history.plan.route.name == "By the lake"
    assert window.menus.routes.actions()[1].text() == f"March along {answer.plan.route.name}"


def test_choosing_a_site_in_the_list_centres_the_map(qtbot: QtBot, window: MainWindow, answer: Tonight):
    qtbot.mouseClick(window.field_book.sites.entries[1], Qt.MouseButton.LeftButton)
    site = answer.sites.sites[1]
    assert (window.map.frame.east_m, window.map.frame.north_m) == (site.east_m, site.north_m)


def test_day_line_and_map_point_at_each_other(window: MainWindow, answer: Tonight):
    window.day_line.moment_pointed.emit(answer.march.depart)
    assert window.map._route_mark_m is not None
    window.map.moment_pointed.emit(answer.march.depart)
    assert window.day_line._pointed == answer.march.depart


def test_asking_about_a_place_shows_its_answer(qtbot: QtBot, window: MainWindow):
    with qtbot.waitSignal(window.asker.explained, timeout=WAIT_MS):
        qtbot.keyClick(window.map, Qt.Key.Key_Return)
    assert "Too steep" in window.map._why.accessibleName()


def test_pages_are_opened_by_their_keys(qtbot: QtBot, window: MainWindow):
    for action in window.menuBar().findChildren(QAction):
        if action.shortcut().toString() == "Ctrl+3":
            action.trigger()
    assert window.field_book.page_name == "March"


def test_saving_writes_the_plan_and_clears_the_mark(window: MainWindow, tmp_path: Path):
    window.apply(PlanEdit(text="Change people", change=partial(with_people, people=52)))
    assert window.isWindowModified()
    path = tmp_path / "mine.geojson"
    assert window.save_to(path)
    assert not window.isWindowModified()
    assert "mine" in window.windowTitle()
    assert read_plan(path) == window.history.plan


def test_a_save_that_fails_is_told_and_the_plan_stays_unsaved(window: MainWindow, tmp_path: Path):
    window.apply(wind(44.0))
    (tmp_path / "file").write_text("")
    assert not window.save_to(tmp_path / "file" / "plan.geojson")
    assert window.notices.text
    assert window.isWindowModified()


def test_opening_another_plan_leaves_nothing_to_undo(window: MainWindow, answer: Tonight, tmp_path: Path):
    path = tmp_path / "other.geojson"
    other = with_people(answer.plan, 12)
    from sitepick.plan.file import write_plan

    write_plan(other, path)
    window.apply(wind(44.0))
    window.open_plan(path)
    assert window.history.plan == other
    assert not window.history.stack.canUndo()
    assert not window.isWindowModified()


def test_opening_a_broken_plan_keeps_the_one_that_is_open(window: MainWindow, answer: Tonight, tmp_path: Path):
    path = tmp_path / "broken.geojson"
    path.write_text("{")
    window.open_plan(path)
    assert window.history.plan == answer.plan
    assert window.notices.text


@pytest.mark.parametrize(("wish", "closes"), [("stay", False), ("discard", True)])
def test_closing_asks_about_unsaved_changes(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, wish: str, closes: bool
):
    asked: list[str] = []
    monkeypatch.setattr(plan_files, "ask_unsaved", lambda parent, name: asked.append(name) or wish)
    window.apply(wind(44.0))
    assert window.close() is closes
    assert asked == [window.history.plan.name]


def test_the_sample_plan_is_never_written_over(window: MainWindow, monkeypatch: pytest.MonkeyPatch, tmp_path: Path):
    from sitepick.resource import sample_plan_path

    before = sample_plan_path().read_bytes()
    goal = tmp_path / "copy.geojson"
    monkeypatch.setattr(plan_files, "ask_save", lambda parent, suggested: goal)
    window._path = sample_plan_path()
    assert window.save()
    assert goal.exists()
    assert sample_plan_path().read_bytes() == before


def test_the_handout_goes_to_the_folder_chosen(
    qtbot: QtBot, window: MainWindow, work: QuickWork, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
):
    monkeypatch.setattr(plan_files, "ask_folder", lambda parent, folder: tmp_path)
    with qtbot.waitSignal(window.asker.handed_out, timeout=WAIT_MS):
        window.menus.handout_requested.emit()
    assert work.folders == [tmp_path]
    assert str(tmp_path) in window.notices.text


def test_no_site_found_says_so_on_top(
    qtbot: QtBot, open_window: Callable[[], MainWindow], work: QuickWork, nothing_found: Tonight
):
    work.answer = nothing_found
    window = open_window()
    with qtbot.waitSignal(window.asker.drawn, timeout=WAIT_MS):
        pass
    assert "no site found" in window.answer_line.accessibleName()


def test_a_window_without_an_answer_shows_the_route_and_says_that_it_works(open_window: Callable[[], MainWindow]):
    window = open_window()
    assert "Working out" in answer_text(window)
    assert window.map._route is not None
    assert window.asker.answer is None


@pytest.mark.shape
@pytest.mark.parametrize("name", ["day", "dark"])
def test_both_looks_dress_every_piece(qtbot: QtBot, window: MainWindow, name: str):
    next_answer(qtbot, window, partial(window.show_look, name))
    image = window.grab().toImage()
    dpr = image.devicePixelRatio()
    book = window.field_book.mapTo(window, QPoint(6, window.field_book.height() - 6))
    page = image.pixelColor(round(book.x() * dpr), round(book.y() * dpr))
    assert (page.lightness() > 128) == (name == "day")


@pytest.mark.shape
def test_a_small_window_still_holds_every_piece(window: MainWindow):
    window.resize(960, 600)
    assert window.width() <= 1000
    for piece in (window.map, window.field_book, window.day_line, window.answer_line):
        assert piece.isVisible()
        assert piece.width() > 0
        assert piece.height() > 0
