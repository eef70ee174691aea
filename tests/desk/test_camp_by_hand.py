"""The camp put by hand on the desk: dragging, the keyboard, letting go, the arrival's ticks."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QContextMenuEvent
from PySide6.QtWidgets import QApplication, QCheckBox, QComboBox, QDoubleSpinBox, QLabel, QMenu, QPushButton
from pytestqt.qtbot import QtBot

from sitepick.camp import lay_out_camp
from sitepick.camp.things import things_of
from sitepick.desk.camp_tool import FREE, CampTool
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import CAMP, MOVE, ReasonCard
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.model import Plan
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS, QuickWork

pytestmark = pytest.mark.slow


class CampWork(QuickWork):
    """Work that lays the camp out in earnest on the made ground."""

    def work_out_tonight(self, plan: Plan, previous: Tonight | None, watch: Watch) -> Tonight:
        self.plans.append(plan)
        made = self.answer
        camp = lay_out_camp(plan, made.ground, made.terrain, made.march, made.sites)
        return replace(made, plan=plan, camp=camp)


@pytest.fixture
def work(answer: Tonight) -> QuickWork:
    lay_out_camp(answer.plan, answer.ground, answer.terrain, answer.march, answer.sites)  # compiles before anyone waits
    return CampWork(answer)


@pytest.fixture(autouse=True)
def menus_that_open_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(QMenu, "popup", lambda *_: None)


@pytest.fixture
def near(window: MainWindow) -> MainWindow:
    """The window on the Camp page, with the camp large on the map and the pointer for the camp."""
    window.field_book.choose_page(PAGE_NAMES.index("Camp"))
    window.map.show_thing(("shelter", "Tent 1"))
    window.map.choose_verb(CAMP)
    return window


def camp_of(window: MainWindow):
    return window.asker.answer.camp


def thing(window: MainWindow, kind: str, name: str = ""):
    return next(one for one in things_of(camp_of(window)) if one.kind == kind and name in one.name)


def px_of(window: MainWindow, one) -> QPoint:
    return QPointF(*window.map.frame.to_px(one.east_m, one.north_m)).toPoint()


def reason_of(window: MainWindow) -> str:
    card = window.map.findChild(ReasonCard)
    return card.text() if card.isVisible() else ""


def drag(qtbot: QtBot, window: MainWindow, one, by_m: tuple[float, float]) -> QPoint:
    """Press on a thing and move it by metres on the grid; the button stays down."""
    start = px_of(window, one)
    scale = window.map.frame.m_per_px
    end = start + QPoint(round(by_m[0] / scale), round(-by_m[1] / scale))
    qtbot.mousePress(window.map, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(window.map, (start + end) / 2)
    qtbot.mouseMove(window.map, end)
    return end


def drop(qtbot: QtBot, window: MainWindow, end: QPoint) -> None:
    with qtbot.waitSignal(window.asker.answered, timeout=WAIT_MS):
        qtbot.mouseRelease(window.map, Qt.MouseButton.LeftButton, pos=end)


def places(window: MainWindow) -> dict[str, tuple[float, float]]:
    return {one.shelter.name: (one.east_m, one.north_m) for one in camp_of(window).shelters}


def test_a_dragged_shelter_says_why_not_and_the_others_make_room(qtbot: QtBot, near: MainWindow):
    before, tent, other = places(near), thing(near, "shelter", "Tent 1"), thing(near, "shelter", "Tent 2")
    to_other = (other.east_m - tent.east_m) * 0.5, (other.north_m - tent.north_m) * 0.5
    end = drag(qtbot, near, tent, to_other)
    assert "m from Tent 2:" in reason_of(near)
    assert "short of the spacing, so Tent 2 moves." in reason_of(near)
    assert near.history.stack.count() == 0  # nothing is changed while it is dragged
    drop(qtbot, near, end)
    assert reason_of(near) == ""
    assert near.history.stack.undoText() == "Put Tent 1 by hand"
    after = places(near)
    assert abs(after["Tent 1"][0] - tent.east_m - to_other[0]) < 2.0 * near.map.frame.m_per_px
    assert after["Tent 2"] != before["Tent 2"]
    assert camp_of(near).min_distance_m >= near.history.plan.camp.spacing_m
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        near.history.stack.undo()
    assert places(near) == before
    assert near.history.plan.camp.pins == ()


def test_a_place_that_nothing_speaks_against_says_so(qtbot: QtBot, near: MainWindow):
    stores = thing(near, "stores")
    drag(qtbot, near, stores, (0.0, 0.0))
    qtbot.mouseMove(near.map, px_of(near, stores) + QPoint(1, 0))
    assert reason_of(near) == FREE
    qtbot.keyClick(near.map, Qt.Key.Key_Escape)
    assert reason_of(near) == ""
    qtbot.mouseRelease(near.map, Qt.MouseButton.LeftButton, pos=px_of(near, stores))
    assert near.history.stack.count() == 0


def test_a_latrine_by_the_water_is_told_at_the_pointer_and_on_the_page(qtbot: QtBot, near: MainWindow):
    latrine = thing(near, "latrine")
    near.map.show_thing(latrine.key)
    shelter = thing(near, "shelter", "Tent 2")
    end = drag(qtbot, near, latrine, (shelter.east_m - latrine.east_m + 12.0, shelter.north_m - latrine.north_m))
    assert "12 m from Tent 2: latrines keep 30 m." in reason_of(near) or "11 m from Tent 2" in reason_of(near)
    drop(qtbot, near, end)
    assert any("put there by hand" in caution.text for caution in camp_of(near).cautions)
    near.field_book.camp.show_thing(latrine.key)
    told = [label.text() for label in near.field_book.camp.list.findChildren(QLabel)]
    assert any("Latrine, put there by hand:" in text for text in told)


def test_the_pointer_that_moves_the_map_chooses_but_moves_nothing(qtbot: QtBot, near: MainWindow):
    near.map.choose_verb(MOVE)
    tent = thing(near, "shelter", "Tent 2")
    qtbot.mouseClick(near.map, Qt.MouseButton.LeftButton, pos=px_of(near, tent))
    assert near.field_book.camp.list.chosen == ("shelter", "Tent 2")
    end = drag(qtbot, near, tent, (30.0, 0.0))
    qtbot.mouseRelease(near.map, Qt.MouseButton.LeftButton, pos=end)
    assert near.history.stack.count() == 0


def test_the_keyboard_alone_puts_a_shelter_and_lets_go_of_it(qtbot: QtBot, near: MainWindow):
    table = near.field_book.camp.table
    near.map.choose_verb(MOVE)
    table.setFocus()
    qtbot.keyClick(table, Qt.Key.Key_Home)
    qtbot.keyClick(table, Qt.Key.Key_Down)
    name = near.field_book.camp.list.chosen[1]
    before = places(near)[name]
    qtbot.keyClick(table, Qt.Key.Key_Return)
    assert near.map.hasFocus()
    qtbot.keyClick(near.map, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClick(near.map, Qt.Key.Key_Right)
    qtbot.keyClick(near.map, Qt.Key.Key_Up)
    assert reason_of(near) != ""
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        qtbot.keyClick(near.map, Qt.Key.Key_Return)
    assert table.hasFocus()
    assert near.history.stack.count() == 1
    scale = near.asker.answer.ground.grid.point_scale(*before)
    after = places(near)[name]
    assert after[0] - before[0] == pytest.approx(11.0 * scale, abs=0.03)
    assert after[1] - before[1] == pytest.approx(1.0 * scale, abs=0.03)
    assert near.field_book.camp.list.chosen == ("shelter", name)
    assert table.item(table.currentRow(), 0).text() == f"{name}, by hand"
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        qtbot.keyClick(table, Qt.Key.Key_Delete)
    assert near.history.stack.undoText() == f"Let go of {name}"
    assert places(near)[name] == before


def test_escape_puts_a_thing_back(qtbot: QtBot, near: MainWindow):
    for key in (Qt.Key.Key_PageDown, Qt.Key.Key_Left, Qt.Key.Key_Escape):
        qtbot.keyClick(near.map, key)
    assert reason_of(near) == ""
    assert near.history.stack.count() == 0


def test_everything_is_let_go_of_in_one_step(qtbot: QtBot, near: MainWindow):
    for name in ("Tent 1", "Tent 3"):
        near.map.take_thing(("shelter", name))
        with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
            qtbot.keyClick(near.map, Qt.Key.Key_Return)
    assert len(near.history.plan.camp.pins) == 2
    buttons = {button.text(): button for button in near.field_book.camp.list.findChildren(QPushButton)}
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        qtbot.mouseClick(buttons["Let go of all"], Qt.MouseButton.LeftButton)
    assert near.history.plan.camp.pins == ()
    assert not buttons["Let go of all"].isEnabled()
    near.history.stack.undo()
    assert len(near.history.plan.camp.pins) == 2


def test_a_right_click_lets_go(qtbot: QtBot, near: MainWindow):
    near.map.take_thing(("shelter", "Tent 1"))
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        qtbot.keyClick(near.map, Qt.Key.Key_Return)
    place = px_of(near, thing(near, "shelter", "Tent 1"))
    event = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, place, near.map.mapToGlobal(place))
    QApplication.sendEvent(near.map, event)
    menu = near.map.findChildren(QMenu)[-1]
    assert [action.text() for action in menu.actions()] == ["Let go of Tent 1"]
    menu.actions()[0].trigger()
    menu.close()
    assert near.history.plan.camp.pins == ()


def test_pins_survive_saving_and_opening(qtbot: QtBot, near: MainWindow, tmp_path: Path):
    near.map.take_thing(("shelter", "Tent 1"))
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        qtbot.keyClick(near.map, Qt.Key.Key_Return)
    pins = near.history.plan.camp.pins
    path = tmp_path / "camp.geojson"
    assert near.save_to(path)
    assert read_plan(path).camp.pins == pins
    near.history.stack.undo()
    with qtbot.waitSignal(near.asker.answered, timeout=WAIT_MS):
        near.open_plan(path)
    assert near.history.plan.camp.pins == pins
    assert thing(near, "shelter", "Tent 1").is_pinned


def test_an_answer_or_a_look_under_a_drag_breaks_nothing(qtbot: QtBot, near: MainWindow):
    tent = thing(near, "shelter", "Tent 1")
    end = drag(qtbot, near, tent, (20.0, 0.0))
    near.show_look("night")
    near.map.show_answer(replace(near.asker.answer, camp=replace(camp_of(near))))
    qtbot.mouseRelease(near.map, Qt.MouseButton.LeftButton, pos=end)
    assert near.history.stack.count() == 0  # the thing is no longer where it was gripped
    near.show_look("day")


def test_without_a_camp_there_is_nothing_to_take(
    qtbot: QtBot, open_window: Callable[[], MainWindow], work: QuickWork, nothing_found: Tonight
):
    window = open_window()
    window.map.show_answer(nothing_found)
    window.field_book.camp.show_answer(nothing_found)
    window.map.choose_verb(CAMP)
    for key in (Qt.Key.Key_PageDown, Qt.Key.Key_Left, Qt.Key.Key_Return, Qt.Key.Key_Delete):
        qtbot.keyClick(window.map, key)
    assert window.history.stack.count() == 0
    assert CampTool().pin() is None


def test_a_rule_of_the_camp_is_changed_in_its_sentence_and_nonsense_is_refused(qtbot: QtBot, near: MainWindow):
    fields = near.field_book.camp.fields
    spin = next(one for one in fields.findChildren(QDoubleSpinBox) if one.accessibleName() == "latrine from water")
    spin.selectAll()
    qtbot.keyClicks(spin, "abc")
    qtbot.keyClick(spin, Qt.Key.Key_Return)
    assert near.history.plan.camp.facilities.latrine_from_water_m == 61.0
    spin.selectAll()
    qtbot.keyClicks(spin, "99999")
    qtbot.keyClick(spin, Qt.Key.Key_Return)
    assert near.history.plan.camp.facilities.latrine_from_water_m <= 300.0
    count = next(one for one in fields.findChildren(QDoubleSpinBox) if one.accessibleName() == "posts")
    count.setValue(3.0)
    assert near.history.plan.camp.security.post_count == 3
    assert isinstance(near.history.plan.camp.security.post_count, int)
    fire = next(one for one in fields.findChildren(QComboBox) if one.accessibleName() == "open fire")
    fire.setCurrentIndex(1)
    assert near.history.plan.camp.facilities.has_open_fire
    assert near.history.stack.undoText() == "Change open fire"


def test_what_is_found_on_arrival_is_ticked_noted_and_undone(qtbot: QtBot, near: MainWindow, tmp_path: Path):
    work = near.field_book.camp.work
    row = work.rows[1]
    row.box.toggle()
    assert near.history.plan.camp.work.ticks[0].what == row.what
    assert near.history.plan.camp.work.ticks[0].is_done
    assert near.history.stack.undoText().startswith("Tick ")
    assert work.ticks.button.text() == f"To look at on arrival: 1 of {len(work.rows)} done"
    row.found.setText("  stones   under the snow ")
    row.found.editingFinished.emit()
    assert near.history.plan.camp.work.ticks[0].found == "stones under the snow"
    assert row.found.text() == "stones under the snow"
    path = tmp_path / "ticked.geojson"
    write_plan(near.history.plan, path)
    assert read_plan(path).camp.work == near.history.plan.camp.work
    near.history.stack.undo()
    near.history.stack.undo()
    assert near.history.plan.camp.work.ticks == ()
    assert not row.box.isChecked()
    assert row.found.text() == ""


def test_dead_ground_is_hatched_on_demand(qtbot: QtBot, near: MainWindow):
    plain = near.map.grab().toImage()
    near.field_book.camp.fields.findChild(QCheckBox).setChecked(True)
    assert near.map.grab().toImage() != plain


def test_names_are_told_to_screen_readers(near: MainWindow):
    page = near.field_book.camp
    assert page.table.accessibleName() == "Shelters, facilities and posts"
    assert all(row.box.accessibleName() and row.found.accessibleName() for row in page.work.rows)
    for field in (*page.fields.findChildren(QDoubleSpinBox), *page.fields.findChildren(QComboBox)):
        assert field.accessibleName()
