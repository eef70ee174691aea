"""The route on the desk: its menu, names of points, quick ways, routes out of files."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from sitepick.desk import plan_files
from sitepick.desk.edit import PlanEdit
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import ROUTE
from sitepick.desk.route_menu import NameWish, WayWish, place_entries, point_entries
from sitepick.desk.route_sign import LABELLED_POINTS_MAX, route_sign
from sitepick.errors import MarchError
from sitepick.march.propose import Proposal
from sitepick.plan.edits import with_route, with_route_point_named
from sitepick.plan.model import Plan, Route
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS, QuickWork

BENT = Route(name="Bent", points=((21.0, 67.4), (21.02, 67.41), (21.04, 67.4)), point_names=(None, "Ford", None))


@pytest.fixture(autouse=True)
def menus_that_open_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    """The screen of the tests can't hold the keyboard for a menu, and says so."""
    monkeypatch.setattr(QMenu, "popup", lambda *_: None)


def texts(entries) -> list[str]:
    return [text for text, _ in entries]


def chosen(entries, start: str):
    return next(wish for text, wish in entries if text.startswith(start))


def apply_now(window: MainWindow, text: str, change: Callable[[Plan], Plan]) -> None:
    window.apply(PlanEdit(text=text, change=change))


def point_px(window: MainWindow, answer: Tonight, index: int) -> QPoint:
    east_m, north_m = answer.ground.grid.from_lonlat(*window.history.plan.route.points[index])
    x_px, y_px = window.map.frame.to_px(float(east_m), float(north_m))
    return QPoint(round(x_px), round(y_px))


def menu_at(window: MainWindow, place: QPoint, reason=QContextMenuEvent.Reason.Mouse) -> QMenu:
    event = QContextMenuEvent(reason, place, window.map.mapToGlobal(place))
    QApplication.sendEvent(window.map, event)
    return window.map.findChildren(QMenu)[-1]


def pick(menu: QMenu, start: str) -> None:
    next(action for action in menu.actions() if action.text().startswith(start)).trigger()
    menu.close()


def test_a_point_offers_what_can_be_done_with_it(answer: Tonight):
    plan = with_route(answer.plan, BENT)
    first, middle, last = (texts(point_entries(BENT, index)) for index in range(3))
    assert middle[0] == "Rename Ford …"
    assert first[0] == last[0] == "Name this point …"
    assert "End the route here, keep the rest as another" in middle
    assert not any(text.startswith("End the route") for text in first + last)
    assert "Find a quick way to the next point" not in last
    cut = chosen(point_entries(BENT, 1), "End").change(plan)
    assert cut.route.points == BENT.points[:2]
    assert chosen(point_entries(BENT, 0), "Name") == NameWish(index=0)
    assert chosen(point_entries(BENT, 1), "Find") == WayWish(index=1)


def test_a_route_of_two_points_offers_no_removal(answer: Tonight):
    assert "Remove this point" not in texts(point_entries(answer.plan.route, 0))


def test_a_place_offers_to_lead_the_route_there(answer: Tonight):
    plan, place = with_route(answer.plan, BENT), (21.06, 67.42)
    entries = place_entries(BENT, None, place)
    assert chosen(entries, "Find") == WayWish(index=2, goal=place)
    assert chosen(entries, "Lead").change(plan).route.points[-1] == place
    start = chosen(entries, "Start").change(plan).route
    assert start.points[0] == place
    assert start.point_names == (None, None, "Ford", None)
    assert chosen(place_entries(BENT, 2, place), "Add").change(plan).route.points[2] == place


def test_a_right_click_on_a_point_names_it(window: MainWindow, answer: Tonight, monkeypatch: pytest.MonkeyPatch):
    asked: list[tuple[int, str]] = []
    monkeypatch.setattr(plan_files, "ask_point_name", lambda _, number, name: asked.append((number, name)) or "Hut")
    pick(menu_at(window, point_px(window, answer, 1)), "Name this point")
    assert asked == [(2, "")]
    assert window.history.plan.route.point_names == (None, "Hut")
    assert window.history.stack.undoText() == "Name point 2"
    window.history.stack.undo()
    assert window.history.plan == answer.plan


def test_a_name_that_is_not_given_changes_nothing(window: MainWindow, answer: Tonight, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(plan_files, "ask_point_name", lambda *_: None)
    pick(menu_at(window, point_px(window, answer, 0)), "Name this point")
    assert window.history.stack.count() == 0


def test_the_keyboard_names_the_point_in_hand(qtbot: QtBot, window: MainWindow, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(plan_files, "ask_point_name", lambda *_: "Base")
    for key in (Qt.Key.Key_R, Qt.Key.Key_PageDown, Qt.Key.Key_N):
        qtbot.keyClick(window.map, key)
    assert window.history.plan.route.point_names == ("Base", None)


def test_the_menu_key_is_about_the_point_in_hand(qtbot: QtBot, window: MainWindow):
    window.map.choose_verb(ROUTE)
    qtbot.keyClick(window.map, Qt.Key.Key_PageDown)
    menu = menu_at(window, QPoint(5, 5), QContextMenuEvent.Reason.Keyboard)
    assert menu.actions()[0].text() == "Name this point …"
    menu.close()


def test_the_route_can_be_turned_round_from_the_menu(window: MainWindow, answer: Tonight):
    next(action for action in window.menus.routes.actions() if action.text() == "Turn the route round").trigger()
    assert window.history.plan.route.points == answer.plan.route.points[::-1]


def test_another_route_can_be_dropped_and_comes_back_by_undo(window: MainWindow, answer: Tonight):
    next(action for action in window.menus.routes.actions() if action.text() == "Drop By the lake").trigger()
    assert window.history.plan.alternatives == ()
    assert window.history.stack.undoText() == "Drop By the lake"
    window.history.stack.undo()
    assert window.history.plan == answer.plan


def way_to(goal: tuple[float, float], start: tuple[float, float]) -> Proposal:
    return Proposal(points=(start, (21.03, 67.41), (21.04, 67.412), goal), minutes=75.0, distance_m=2400.0)


def test_a_way_found_leads_the_route_on_in_one_step(qtbot: QtBot, window: MainWindow, work: QuickWork, answer: Tonight):
    end = answer.plan.route.points[-1]
    asked = []

    def find(answer: Tonight, plan: Plan, ends, watch: Watch) -> Proposal:
        asked.append(ends)
        return way_to(ends[1], ends[0])

    work.find_way = find
    with qtbot.waitSignal(window.asker.way_found, timeout=WAIT_MS):
        pick(menu_at(window, QPoint(300, 120)), "Find a quick way from the route's end")
    assert asked[0][0] == end
    points = window.history.plan.route.points
    assert points == (*answer.plan.route.points, (21.03, 67.41), (21.04, 67.412), asked[0][1])
    assert window.history.stack.count() == 1
    with qtbot.waitSignal(window.asker.answered, timeout=WAIT_MS):
        pass
    assert window.notices.text.startswith("A way of 2.4 km, about 1 h 15 min on the move")
    assert "cautions" in window.notices.text
    window.history.stack.undo()
    assert window.history.plan == answer.plan


def test_a_way_to_the_next_point_goes_between_the_two(
    qtbot: QtBot, window: MainWindow, work: QuickWork, answer: Tonight
):
    work.find_way = lambda answer, plan, ends, watch: way_to(ends[1], ends[0])
    with qtbot.waitSignal(window.asker.way_found, timeout=WAIT_MS):
        pick(menu_at(window, point_px(window, answer, 0)), "Find a quick way to the next point")
    first, last = answer.plan.route.points
    assert window.history.plan.route.points == (first, (21.03, 67.41), (21.04, 67.412), last)


def test_a_way_that_the_route_has_left_behind_is_not_put_in(
    qtbot: QtBot, window: MainWindow, work: QuickWork, answer: Tonight
):
    work.find_way = lambda answer, plan, ends, watch: way_to(ends[1], ends[0])
    with qtbot.waitSignal(window.asker.way_found, timeout=WAIT_MS):
        window.asker.find_way(window.history.plan, 0, None)
        apply_now(window, "Name", partial(with_route_point_named, index=0, name="Base"))
    assert len(window.history.plan.route.points) == 2
    assert window.notices.text == "The route has changed while a way was looked for; ask for it again."


def test_no_way_is_told_and_the_answer_stands(qtbot: QtBot, window: MainWindow, work: QuickWork, answer: Tonight):
    def find(answer: Tonight, plan: Plan, ends, watch: Watch) -> Proposal:
        raise MarchError("there is no way between the two places", fix="choose another goal")

    work.find_way = find
    with qtbot.waitSignal(window.asker.declined, timeout=WAIT_MS):
        window.asker.find_way(window.history.plan, 0, None)
    assert window.notices.text == "There is no way between the two places. Choose another goal."
    assert window.history.plan == answer.plan
    assert window.asker.is_fresh
    assert not window.answer_line.is_working


def test_without_an_answer_it_says_what_is_missing(
    qtbot: QtBot, open_window: Callable[[], MainWindow], work: QuickWork
):
    window = open_window()
    window.asker.stop()
    window.asker.find_way(window.history.plan, 0, None)
    assert "The ground isn't read yet" in window.notices.text
    assert "Wait for the first answer" in window.notices.text


def test_routes_from_a_file_are_taken_in_one_step(
    qtbot: QtBot, window: MainWindow, answer: Tonight, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    lines = [[[21.0, 67.4], [21.01, 67.41], [21.03, 67.41]], [[21.0, 67.4], [21.02, 67.39]]]
    features = [
        {"type": "Feature", "properties": {"name": name}, "geometry": {"type": "LineString", "coordinates": line}}
        for name, line in zip(("North", "South"), lines, strict=True)
    ]
    path = tmp_path / "ways.geojson"
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    monkeypatch.setattr(plan_files, "ask_route_file", lambda *_: path)
    with qtbot.waitSignal(window.asker.routes_read, timeout=WAIT_MS):
        window.menus.route_file_requested.emit()
    plan = window.history.plan
    assert plan.route.name == "North"
    assert [route.name for route in plan.alternatives] == ["By the lake", answer.plan.route.name, "South"]
    assert window.history.stack.undoText() == "Take the route North"
    assert window.notices.text.startswith("The file holds 2 lines; North is taken, South kept as another route.")
    window.history.stack.undo()
    assert window.history.plan == answer.plan


def test_a_file_without_a_route_is_told_and_nothing_changes(
    qtbot: QtBot, window: MainWindow, answer: Tonight, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    path = tmp_path / "nothing.gpx"
    path.write_text("<gpx></gpx>")
    monkeypatch.setattr(plan_files, "ask_route_file", lambda *_: path)
    with qtbot.waitSignal(window.asker.declined, timeout=WAIT_MS):
        window.menus.route_file_requested.emit()
    assert window.notices.text == "There is no line in it. Name a file with a route or a track."
    assert window.history.plan == answer.plan


def test_names_stand_beside_the_points_with_the_times(answer: Tonight):
    plan = with_route_point_named(answer.plan, 0, "Base")
    assert route_sign(plan, answer.ground.grid, answer.march, None).labels[0] == "Base 08:00"
    assert route_sign(plan, answer.ground.grid, None, None).labels == ("Base", "")


def test_a_recorded_route_is_labelled_at_its_names_and_ends_only(answer: Tonight):
    first, last = np.array(answer.plan.route.points)
    points = [tuple(first + share * (last - first)) for share in np.linspace(0.0, 1.0, LABELLED_POINTS_MAX + 10)]
    names = tuple("Ford" if index == 3 else None for index in range(len(points)))
    plan = with_route(answer.plan, Route(name="Recorded", points=tuple(points), point_names=names))
    labels = route_sign(plan, answer.ground.grid, answer.march, None).labels
    assert labels[0] == "08:00"
    assert labels[3].startswith("Ford 08:")
    assert not any(labels[4:-1])


def test_on_the_way_back_a_point_tells_the_later_time(answer: Tonight):
    march = answer.march
    half = len(march.route_m) // 3
    line = np.vstack([march.route_m[:half], march.route_m[half - 2 :: -1]])
    count = len(line)
    march = replace(
        march, route_m=line, station_distance_m=march.station_distance_m[:count],
        station_moving_min=march.station_moving_min[:count],
    )  # fmt: skip
    grid = answer.ground.grid
    there, turn = (tuple(map(float, grid.to_lonlat(*line[index]))) for index in (0, half - 1))
    plan = with_route(answer.plan, Route(name="There and back", points=(there, turn, there)))
    labels = route_sign(plan, grid, march, None).labels
    assert labels[0] == "08:00"
    assert labels[0] < labels[1] < labels[2]
