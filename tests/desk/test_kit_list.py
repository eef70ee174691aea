"""The kit list on the Unit page: ticked, changed, added to and taken over from another plan, all undoable."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QCheckBox, QComboBox, QDoubleSpinBox, QLabel, QLineEdit, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.kit_list import KitList
from sitepick.desk.main_window import MainWindow
from sitepick.march import read_needs
from sitepick.plan.kit import KitItem, usual_kit, write_kit
from sitepick.plan.kit_edits import with_kit
from sitepick.plan.model import Plan
from tests.desk.conftest import QuickWork


@pytest.fixture
def kit(qtbot: QtBot, window: MainWindow) -> KitList:
    window.field_book.choose_page(PAGE_NAMES.index("Unit"))
    found = window.findChild(KitList)
    qtbot.waitUntil(lambda: len(found.rows) == len(window.history.plan.load.kit))
    return found


def named(kit: KitList, kind: type, name: str) -> QWidget:
    return next(widget for widget in kit.findChildren(kind) if widget.accessibleName() == name)


def item(plan: Plan, name: str) -> KitItem:
    return next(one for one in plan.load.kit if one.name == name)


def test_the_list_is_not_made_before_it_is_seen(window: MainWindow):
    assert window.findChild(KitList).rows == ()


def test_a_tick_is_an_edit_that_can_be_taken_back(qtbot: QtBot, window: MainWindow, kit: KitList):
    box = named(kit, QCheckBox, "Axe ticked")
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Space)
    assert item(window.history.plan, "Axe").is_ticked
    assert window.history.stack.undoText() == "Tick Axe"
    assert any("1 of 19 things ticked" in label.text() for label in kit.findChildren(QLabel))
    window.history.stack.undo()
    assert not item(window.history.plan, "Axe").is_ticked
    assert not box.isChecked()


@pytest.mark.parametrize(
    ("name", "typed", "read"),
    [
        ("weight of Axe", "2.2", lambda one: one.weight_kg == 2.2),
        ("number of Axe", "3", lambda one: one.number == 3 and isinstance(one.number, int)),
        ("weight of Axe", "9999", lambda one: 0.0 <= one.weight_kg <= 200.0),
        ("weight of Axe", "nonsense", lambda one: one.weight_kg == 1.6),
    ],
)
def test_weight_and_number_are_typed_in_place(
    qtbot: QtBot, window: MainWindow, kit: KitList, name: str, typed: str, read: Callable[[KitItem], bool]
):
    field = named(kit, QDoubleSpinBox, name)
    field.selectAll()
    qtbot.keyClicks(field, typed)
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert read(item(window.history.plan, "Axe"))


def test_who_has_it_and_what_carries_it_are_chosen_from_the_keyboard(qtbot: QtBot, window: MainWindow, kit: KitList):
    qtbot.keyClick(named(kit, QComboBox, "who has Axe"), Qt.Key.Key_Up)
    qtbot.keyClick(named(kit, QComboBox, "what carries Axe"), Qt.Key.Key_Up)
    changed = item(window.history.plan, "Axe")
    assert (changed.whose, changed.carried) == ("person", "back")
    assert not named(kit, QComboBox, "where lies Axe").isVisible()


def test_a_thing_is_added_by_name_and_removed(qtbot: QtBot, window: MainWindow, kit: KitList):
    line = named(kit, QLineEdit, "name of a new thing")
    qtbot.keyClicks(line, "Ice auger & bit")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert window.history.plan.load.kit[-1] == KitItem(name="Ice auger & bit")
    assert line.text() == ""
    qtbot.waitUntil(lambda: len(kit.rows) == 20)
    named(kit, QToolButton, "remove Ice auger & bit").click()
    assert window.history.plan.load.kit == usual_kit()
    assert len(kit.rows) == 19
    window.history.stack.undo()
    assert window.history.plan.load.kit[-1].name == "Ice auger & bit"


@pytest.mark.parametrize(("name", "told"), [("", "has no name"), ("Axe", "twice"), ("axe", "twice")])
def test_a_name_that_will_not_do_is_told_and_changes_nothing(
    qtbot: QtBot, window: MainWindow, kit: KitList, name: str, told: str
):
    qtbot.keyClicks(named(kit, QLineEdit, "name of a new thing"), name)
    named(kit, QPushButton, "add to the kit list").click()
    assert window.history.plan.load.kit == usual_kit()
    assert any(told in label.text() for label in window.notices.findChildren(QLabel))


def test_an_empty_list_says_what_to_do(qtbot: QtBot, window: MainWindow, kit: KitList):
    window.history.open(with_kit(window.history.plan, ()))
    assert kit.rows == ()
    assert any("add what you take" in label.text() for label in kit.findChildren(QLabel))


def test_ticks_are_taken_off_together(window: MainWindow, kit: KitList):
    named(kit, QCheckBox, "Axe ticked").click()
    named(kit, QCheckBox, "Saw ticked").click()
    named(kit, QPushButton, "untick all").click()
    assert not any(one.is_ticked for one in window.history.plan.load.kit)


def test_everything_on_the_list_has_a_name_and_takes_the_focus(kit: KitList):
    names = []
    for kind in (QCheckBox, QDoubleSpinBox, QComboBox, QToolButton, QPushButton):
        for widget in kit.findChildren(kind):
            spoken = QAccessible.queryAccessibleInterface(widget)
            names.append(widget.accessibleName())
            told = spoken.text(QAccessible.Text.Name) + spoken.text(QAccessible.Text.Description)
            assert widget.accessibleName().lower() in told.lower()
            assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert len(set(names)) == len(names)


def test_a_list_goes_to_a_file_and_into_another_plan(window: MainWindow, kit: KitList, tmp_path: Path):
    named(kit, QCheckBox, "Axe ticked").click()
    window.kit_files.save(tmp_path / "kit.csv")
    write_kit([KitItem(name="Only this")], tmp_path / "other.csv")
    window.kit_files.take_over(tmp_path / "other.csv")
    assert [one.name for one in window.history.plan.load.kit] == ["Only this"]
    window.kit_files.take_over(tmp_path / "kit.csv")
    assert window.history.plan.load.kit == usual_kit()
    window.history.stack.undo()
    assert [one.name for one in window.history.plan.load.kit] == ["Only this"]


def test_a_file_that_is_no_kit_list_is_told(window: MainWindow, kit: KitList, tmp_path: Path):
    (tmp_path / "kit.csv").write_text("what is this")
    window.kit_files.take_over(tmp_path / "kit.csv")
    assert window.history.plan.load.kit == usual_kit()
    assert any("mend the kit list" in label.text().lower() for label in window.notices.findChildren(QLabel))
    window.kit_files.save(tmp_path / "kit.csv" / "below" / "kit.csv")
    assert any("could not write" in label.text().lower() for label in window.notices.findChildren(QLabel))


def test_the_pages_tell_what_the_day_takes(qtbot: QtBot, work: QuickWork, open_window: Callable[[], MainWindow]):
    made = work.answer
    needs = read_needs(made.plan, made.ground, made.terrain, made.march)
    work.answer = replace(made, needs=needs)
    window = open_window()
    with qtbot.waitSignal(window.asker.drawn, timeout=5000):
        pass
    window.field_book.choose_page(PAGE_NAMES.index("March"))
    window.field_book.choose_page(PAGE_NAMES.index("Unit"))
    words = " ".join(label.text() for label in window.field_book.findChildren(QLabel))
    for told in ("Food for the unit: 38 rations", "White gas", "Sled 1, Section 1", "The day takes about"):
        assert told in words


def test_numbers_of_sleds_stay_whole(qtbot: QtBot, window: MainWindow, kit: KitList):
    page = kit.parentWidget()
    sleds = next(field for field in page.findChildren(QDoubleSpinBox) if field.accessibleName() == "sleds")
    assert sleds.text() == "one a section"
    sleds.setValue(3)
    assert window.history.plan.load.sled_count == 3
    assert isinstance(window.history.plan.load.sled_count, int)
    sleds.setValue(sleds.minimum())
    assert window.history.plan.load.sled_count is None
