"""The whole job in the real window on the sample plan, by pointer and by keyboard alone, with real answers."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QAbstractSlider, QApplication, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from sitepick.desk import plan_files
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look
from sitepick.desk.main_window import MainWindow
from sitepick.desk.plan_keeper import Keepsakes
from sitepick.plan.file import read_plan
from sitepick.resource import sample_plan_path
from sitepick.tonight import Tonight

pytestmark = pytest.mark.slow

ANSWER_MS = 240_000
ENTERED = Qt.Key.Key_Return


@pytest.fixture
def desk(qtbot: QtBot, look: Look, keepsakes: Keepsakes) -> Iterator[MainWindow]:
    """A new user's desk: the sample plan, its answer drawn, the way through on show."""
    path = sample_plan_path()
    window = MainWindow(read_plan(path), path, JobRunner(), keepsakes=keepsakes)
    qtbot.addWidget(window, before_close_func=lambda window: window.history.mark_saved())
    window.show()
    window.greet()
    with qtbot.waitSignal(window.asker.drawn, timeout=ANSWER_MS):
        pass
    yield window
    window.history.mark_saved()
    window.close()


def answered(qtbot: QtBot, desk: MainWindow, act: Callable[[], object]) -> None:
    """Do something and wait until the answer to it is on the map."""
    act()
    qtbot.waitUntil(lambda: desk.asker.is_fresh and not desk.answer_line.is_working, timeout=ANSWER_MS)


def key(widget: QWidget, *pressed: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    from PySide6.QtTest import QTest

    for one in pressed:
        QTest.keyClick(widget, one, held)


def point_px(desk: MainWindow, index: int) -> QPoint:
    grid = desk.asker.answer.ground.grid
    east_m, north_m = grid.from_lonlat(*desk.history.plan.route.points[index])
    x, y = desk.map.frame.to_px(float(east_m), float(north_m))
    return QPoint(round(x), round(y))


def told(answer: Tonight) -> tuple[list[object], list[object]]:
    """What a person is told: the sites with their scores, and where everything of the camp stands."""
    assert answer.camp is not None
    sites = [(site.rank, site.name, round(site.score, 6)) for site in answer.sites.sites]
    return sites, [(each.shelter.name, each.east_m, each.north_m) for each in answer.camp.shelters]


def undo_all(desk: MainWindow) -> None:
    while desk.history.stack.canUndo():
        left = desk.history.stack.index()
        key(desk, Qt.Key.Key_Z, held=Qt.KeyboardModifier.ControlModifier)
        assert desk.history.stack.index() < left


def test_a_new_user_gets_from_the_sample_to_a_saved_plan(
    qtbot: QtBot, desk: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    sample, first = desk.history.plan, desk.asker.answer
    assert desk.guide.text.startswith("1 of 6.")

    # The route: take its fourth point and drag it.
    view = desk.map
    qtbot.mouseClick(view._verbs._buttons["route"], Qt.MouseButton.LeftButton)
    begin = point_px(desk, 3)

    def drag() -> None:
        qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=begin)
        for step in range(1, 7):
            qtbot.mouseMove(view, begin + QPoint(3 * step, -2 * step))
        qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=begin + QPoint(18, -12))

    answered(qtbot, desk, drag)
    assert desk.history.plan.route.points[3] != sample.route.points[3]
    assert desk.asker.answer is not first

    # The weights: the list follows.
    slider = next(one for one in desk.field_book.sites.findChildren(QAbstractSlider) if one.isVisible())
    answered(qtbot, desk, lambda: key(slider, Qt.Key.Key_PageUp, Qt.Key.Key_PageUp))
    assert desk.history.plan.preferences != sample.preferences

    # The pick and its camp.
    answer = desk.asker.answer
    assert answer.sites.sites
    desk.choose_site(1)
    desk.field_book.choose_page(4)
    assert desk.field_book.camp.table.rowCount() >= len(answer.camp.shelters)

    # A shelter dragged to another place, and the camp settles round it.
    shelter = answer.camp.shelters[0].shelter.name
    desk.map.take_thing(("shelter", shelter))
    held = desk.map._hand.tool.thing(("shelter", shelter))
    x, y = desk.map.frame.to_px(held.east_m, held.north_m)
    at = QPoint(round(x), round(y))

    def drag_shelter() -> None:
        qtbot.mousePress(view, Qt.MouseButton.LeftButton, pos=at)
        for step in range(1, 5):
            qtbot.mouseMove(view, at + QPoint(2 * step, step))
        qtbot.mouseRelease(view, Qt.MouseButton.LeftButton, pos=at + QPoint(8, 4))

    before = desk.history.stack.count()
    answered(qtbot, desk, drag_shelter)
    assert desk.history.stack.count() == before + 1

    # Save as a plan of one's own, open it again, and it is the same.
    mine = tmp_path / "mine.geojson"
    monkeypatch.setattr(plan_files, "ask_save", lambda parent, suggested: mine)
    assert desk.save()
    assert read_plan(mine) == desk.history.plan
    assert not desk.isWindowModified()

    again = MainWindow(read_plan(mine), mine, JobRunner())
    qtbot.addWidget(again, before_close_func=lambda window: window.history.mark_saved())
    again.show()
    with qtbot.waitSignal(again.asker.drawn, timeout=ANSWER_MS):
        pass
    assert again.history.plan == desk.history.plan
    assert not again.isWindowModified()
    one, other = desk.asker.answer, again.asker.answer
    assert told(other) == told(one)
    again.close()
    desk.activateWindow()
    qtbot.waitUntil(desk.isActiveWindow)  # shortcuts go to the window in front

    # Undo everything: the sample again, and marked as not saved.
    answered(qtbot, desk, lambda: undo_all(desk))
    assert desk.history.plan == sample
    assert desk.isWindowModified()
    assert [site.name for site in desk.asker.answer.sites.sites] == [site.name for site in first.sites.sites]


def test_the_keyboard_alone_does_the_job(
    qtbot: QtBot, desk: MainWindow, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    sample = desk.history.plan
    ctrl, shift = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
    desk.activateWindow()
    desk.map.setFocus(Qt.FocusReason.TabFocusReason)
    view = desk.map

    # Move a point of the route, mark a no-go area, ask about the middle.
    key(view, Qt.Key.Key_R, Qt.Key.Key_PageDown, Qt.Key.Key_PageDown, Qt.Key.Key_Left)
    assert desk.history.stack.undoText() == "Move point 2"
    key(view, Qt.Key.Key_Escape, Qt.Key.Key_K, ENTERED, Qt.Key.Key_Right, ENTERED, Qt.Key.Key_Down, ENTERED)
    key(view, Qt.Key.Key_End)
    assert len(desk.history.plan.areas) == len(sample.areas) + 1
    key(view, Qt.Key.Key_Escape, Qt.Key.Key_M, Qt.Key.Key_Home)
    qtbot.waitUntil(lambda: desk.asker.is_fresh, timeout=ANSWER_MS)
    with qtbot.waitSignal(desk.asker.explained, timeout=ANSWER_MS):
        key(view, ENTERED)
    assert view._why.isVisible()
    key(view, Qt.Key.Key_Escape)
    assert not view._why.isVisible()

    # The day line and a page of the field book.
    key(desk.day_line, Qt.Key.Key_Right)
    assert desk.history.stack.undoText() == "Move the departure"
    key(desk, Qt.Key.Key_3, held=ctrl)
    desk.field_book.choose_page(2)
    reached = tab_round(desk)
    assert {"departure", "mode", "wind speed", "temperature"} <= {name.lower() for name in reached}

    # Everything undone, saved under a name.
    undo_all(desk)
    assert desk.history.plan == sample
    key(desk, Qt.Key.Key_Z, held=ctrl | shift)
    mine = tmp_path / "mine.geojson"
    monkeypatch.setattr(plan_files, "ask_save", lambda parent, suggested: mine)
    key(desk, Qt.Key.Key_S, held=ctrl)
    qtbot.waitUntil(mine.exists)


def tab_round(desk: MainWindow) -> list[str]:
    """Names of everything that Tab reaches in the window, each once round."""
    names: list[str] = []
    desk.map.setFocus(Qt.FocusReason.TabFocusReason)
    first = QApplication.focusWidget()
    for _ in range(400):
        widget = QApplication.focusWidget()
        assert widget is not None
        names.append(widget.accessibleName() or getattr(widget, "text", str)())
        desk.focusNextChild()
        if QApplication.focusWidget() is first:
            break
    return names


def test_everything_that_takes_the_keyboard_has_a_name_to_be_spoken(window: MainWindow):
    for page in range(5):
        window.field_book.choose_page(page)
        for widget in window.findChildren(QWidget):
            if widget.isVisible() and widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
                words = widget.accessibleName() or (
                    widget.text() if isinstance(widget, QPushButton | QToolButton) else ""
                )
                is_inside = widget.objectName().startswith("qt_") or widget.parentWidget().objectName() == "qt_"
                assert words or is_inside or hasattr(widget, "text"), f"{widget} on page {page}"


def test_a_plan_whose_rasters_moved_is_mended_in_the_window(
    qtbot: QtBot, look: Look, keepsakes: Keepsakes, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    from sitepick.plan.file import write_plan

    folder = tmp_path / "maps"
    shutil.copytree(sample_plan_path().parent, folder, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    path = tmp_path / "plan.geojson"
    write_plan(read_plan(folder / sample_plan_path().name), path)
    folder.rename(tmp_path / "moved")
    window = MainWindow(read_plan(path), path, JobRunner(), keepsakes=keepsakes)
    qtbot.addWidget(window, before_close_func=lambda window: window.history.mark_saved())
    window.show()
    with qtbot.waitSignal(window.asker.refused, timeout=ANSWER_MS):
        pass
    lost = window._lost[0]
    monkeypatch.setattr(plan_files, "ask_new_place", lambda parent, missing: tmp_path / "moved" / missing.name)
    assert lost.name in window.notices.text
    with qtbot.waitSignal(window.asker.drawn, timeout=ANSWER_MS):
        window.notices.wish_chosen.emit()
    assert window.notices.text == ""
    window.history.mark_saved()
    window.close()
