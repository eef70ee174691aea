"""No-go areas, own sites and observers, drawn and edited by pointer and by keyboard; route points on tracks."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sitepick.desk import plan_files
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import MARK
from sitepick.desk.mark_tool import EXERCISE, OBSERVER, MarkInHand, mark_entries, movable_marks, renamed
from sitepick.desk.snap import TrackSnap
from sitepick.plan.exercise import HandedIn
from sitepick.plan.exercise_edits import with_exercise, with_marks_added
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.mark import Mark
from sitepick.plan.mark_edits import open_ring
from sitepick.tonight import Tonight

CORNERS = (QPoint(200, 400), QPoint(280, 400), QPoint(280, 470), QPoint(200, 470))


def click(qtbot: QtBot, window: MainWindow, place: QPoint) -> None:
    qtbot.mouseClick(window.map, Qt.MouseButton.LeftButton, pos=place)


def draw_area(qtbot: QtBot, window: MainWindow) -> None:
    window.map.choose_verb(MARK)
    for corner in (*CORNERS, CORNERS[0]):
        click(qtbot, window, corner)


def choose_kind(window: MainWindow, kind: str) -> None:
    bar = window.map._mark_bar
    next(button for button in bar._group.buttons() if button.property("kind") == kind).click()


@pytest.mark.shape
def test_corners_clicked_and_the_first_one_again_make_a_no_go_area(qtbot: QtBot, window: MainWindow, answer: Tonight):
    draw_area(qtbot, window)
    area = window.history.plan.areas[-1]
    assert (area.role, area.name) == ("no_go", "No-go area 1")
    assert window.history.stack.undoText() == "Mark No-go area 1"
    grid = answer.ground.grid
    for corner, point in zip(CORNERS, open_ring(area.ring), strict=True):
        east_m, north_m = grid.from_lonlat(*point)
        x, y = window.map.frame.to_px(float(east_m), float(north_m))
        assert (x, y) == pytest.approx((corner.x(), corner.y()), abs=1.0)
    window.history.stack.undo()
    assert window.history.plan == answer.plan


def test_a_double_click_closes_the_area_too(qtbot: QtBot, window: MainWindow):
    window.map.choose_verb(MARK)
    for corner in CORNERS[:3]:
        click(qtbot, window, corner)
    qtbot.mouseDClick(window.map, Qt.MouseButton.LeftButton, pos=CORNERS[2])
    assert len(open_ring(window.history.plan.areas[-1].ring)) == 3


def test_a_corner_is_dragged_in_one_step_and_a_side_gives_a_new_corner(qtbot: QtBot, window: MainWindow):
    draw_area(qtbot, window)
    steps = window.history.stack.count()
    ring = open_ring(window.history.plan.areas[-1].ring)
    qtbot.mousePress(window.map, Qt.MouseButton.LeftButton, pos=CORNERS[2])
    for by in (10, 20, 30):
        qtbot.mouseMove(window.map, CORNERS[2] + QPoint(by, by))
    qtbot.mouseRelease(window.map, Qt.MouseButton.LeftButton, pos=CORNERS[2] + QPoint(30, 30))
    moved = open_ring(window.history.plan.areas[-1].ring)
    assert [one == other for one, other in zip(ring, moved, strict=True)] == [True, True, False, True]
    assert window.history.stack.count() == steps + 1
    click(qtbot, window, (CORNERS[0] + CORNERS[1]) / 2)
    assert len(open_ring(window.history.plan.areas[-1].ring)) == 5


def test_an_own_site_and_an_observer_are_marked_by_their_kind(qtbot: QtBot, window: MainWindow):
    window.map.choose_verb(MARK)
    choose_kind(window, "site")
    for corner in (*CORNERS, CORNERS[0]):
        click(qtbot, window, corner)
    assert window.history.plan.areas[-1].role == "site"
    choose_kind(window, OBSERVER)
    click(qtbot, window, QPoint(360, 320))
    assert window.history.plan.observers[-1].name == "Observer 1"


def test_an_own_site_that_crosses_itself_is_told_and_not_made(qtbot: QtBot, window: MainWindow):
    window.map.choose_verb(MARK)
    choose_kind(window, "site")
    for corner in (CORNERS[0], CORNERS[2], CORNERS[1], CORNERS[3], CORNERS[0]):
        click(qtbot, window, corner)
    assert window.history.plan.areas == ()
    assert "crosses itself" in window.notices.text


def test_marks_are_drawn_moved_named_and_removed_by_keyboard_alone(
    qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch
):
    view, keys = window.map, Qt.Key
    view.setFocus()

    def press(*pressed: Qt.Key) -> None:
        for key in pressed:
            qtbot.keyClick(view, key)

    press(keys.Key_K, keys.Key_Return, keys.Key_Right, keys.Key_Return, keys.Key_Down, keys.Key_Return, keys.Key_End)
    area = window.history.plan.areas[-1]
    assert len(open_ring(area.ring)) == 3
    press(keys.Key_PageDown, keys.Key_Left)
    assert window.history.plan.areas[-1] != area
    monkeypatch.setattr(plan_files, "ask_mark_name", lambda parent, name: "Fence")
    press(keys.Key_N)
    assert window.history.plan.areas[-1].name == "Fence"
    press(keys.Key_Delete)
    assert window.history.plan.areas == ()


def test_a_mark_s_menu_renames_turns_and_removes(qtbot: QtBot, window: MainWindow):
    draw_area(qtbot, window)
    mark = MarkInHand(kind="area", index=0)
    entries = dict(mark_entries(window.history.plan, mark))
    assert list(entries) == ["Rename No-go area 1 …", "Make No-go area 1 a site of our own", "Remove No-go area 1"]
    window.apply(entries["Make No-go area 1 a site of our own"])  # type: ignore[arg-type]
    assert window.history.plan.areas[0].role == "site"
    window.apply(renamed(window.history.plan, mark, "  "))
    assert window.history.plan.areas[0].name == "No-go area 1"


def test_marks_survive_saving(qtbot: QtBot, window: MainWindow, tmp_path):
    draw_area(qtbot, window)
    choose_kind(window, OBSERVER)
    click(qtbot, window, QPoint(360, 320))
    write_plan(window.history.plan, tmp_path / "plan.geojson")
    again = read_plan(tmp_path / "plan.geojson")
    assert (again.areas, again.observers) == (window.history.plan.areas, window.history.plan.observers)


def test_a_point_near_a_track_lies_on_it_and_one_far_off_stays():
    snap = TrackSnap([np.array([[0.0, 0.0], [100.0, 0.0], [100.0, 100.0]])])
    assert snap.nearest(40.0, 7.0, within_m=12.0) == (40.0, 0.0)
    assert snap.nearest(110.0, -9.0, within_m=20.0) == (100.0, 0.0)
    assert snap.nearest(40.0, 13.0, within_m=12.0) is None
    assert TrackSnap([]).nearest(0.0, 0.0, within_m=1e9) is None


def test_marks_of_an_exercise_are_dragged_nudged_and_undone_and_stand_still_on_a_trainees_copy(
    qtbot: QtBot, window: MainWindow
):
    view = window.map

    def lonlat(place: QPoint) -> tuple[float, float]:
        return view._lonlat_at(place.toPointF())

    ring = tuple(lonlat(corner) for corner in CORNERS)
    marks = (
        Mark(kind="start", shape="point", points=(lonlat(QPoint(360, 320)),)),
        Mark(kind="danger", shape="area", points=(*ring, ring[0])),
    )
    window.history.open(with_marks_added(window.history.plan, marks))
    qtbot.waitUntil(lambda: window.asker.is_fresh)
    view.choose_verb(MARK)
    view.setFocus()
    qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=QPoint(361, 321))
    for by in (10, 20):
        qtbot.mouseMove(view, QPoint(360 + by, 320))
    qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=QPoint(380, 320))
    assert window.history.plan.exercise.marks[0].points == (lonlat(QPoint(380, 320)),)
    assert (window.history.stack.count(), window.history.stack.undoText()) == (1, "Move start")
    qtbot.keyClick(view, Qt.Key.Key_PageDown)  # past the point, the first corner of the area
    qtbot.keyClick(view, Qt.Key.Key_Left)
    moved = window.history.plan.exercise.marks[1].points
    assert moved[0] == moved[-1] == lonlat(CORNERS[0] - QPoint(8, 0))
    assert moved[1:4] == ring[1:]
    assert window.history.stack.undoText() == "Move a point of danger area"
    for _ in range(2):
        window.history.stack.undo()
    assert window.history.plan.exercise.marks == marks
    click(qtbot, window, (CORNERS[0] + CORNERS[1]) / 2)
    assert len(open_ring(window.history.plan.exercise.marks[1].points)) == 5
    qtbot.keyClick(view, Qt.Key.Key_Delete)
    assert len(open_ring(window.history.plan.exercise.marks[1].points)) == 4
    copy = window.history.plan
    assert movable_marks(copy) == copy.exercise.marks
    assert movable_marks(with_exercise(copy, handed_in=HandedIn())) == ()


def test_a_mark_of_an_exercise_is_renamed_and_removed_by_its_menu(answer: Tonight):
    plan = with_marks_added(answer.plan, (Mark(kind="start", shape="point", points=(answer.plan.route.points[0],)),))
    mark = MarkInHand(kind=EXERCISE, index=0)
    entries = dict(mark_entries(plan, mark))
    assert list(entries) == ["Rename start …", "Remove start"]
    named = renamed(plan, mark, "Gate").change(plan)
    assert named.exercise.marks[0].told == "Gate"
    assert entries["Remove start"].change(named).exercise.marks == ()  # type: ignore[union-attr]
