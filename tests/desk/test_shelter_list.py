"""The unit's shelters on the Unit page: added, removed and changed in place, undoable, by keyboard and by name."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QCheckBox, QComboBox, QDoubleSpinBox, QLabel, QLineEdit, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.main_window import MainWindow
from sitepick.desk.own_kinds import OwnKinds
from sitepick.desk.shelter_list import ShelterList
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter


@pytest.fixture
def shelters(qtbot: QtBot, window: MainWindow) -> ShelterList:
    window.field_book.choose_page(PAGE_NAMES.index("Unit"))
    found = window.findChild(ShelterList)
    qtbot.waitUntil(lambda: len(found.rows) == len(window.history.plan.unit.shelters))
    return found


def named(inside: QWidget, kind: type, name: str) -> QWidget:
    return next(widget for widget in inside.findChildren(kind) if widget.accessibleName() == name)


def shelter(plan: Plan, name: str) -> Shelter:
    return next(one for one in plan.unit.shelters if one.name == name)


def words(inside: QWidget) -> str:
    return " ".join(label.text() for label in inside.findChildren(QLabel))


def choose(box: QComboBox, phrase: str) -> None:
    """As from the open list, which the offscreen screen can't show."""
    box.setCurrentIndex(box.findText(phrase))


def test_rows_are_not_made_before_they_are_seen(window: MainWindow):
    assert window.findChild(ShelterList).rows == ()


def test_the_people_and_places_are_told_in_one_sentence(shelters: ShelterList):
    assert "38 people sleep in 5 shelters; 12 of 50 places are free." in words(shelters)


def test_people_typed_in_a_row_count_for_the_unit(qtbot: QtBot, window: MainWindow, shelters: ShelterList):
    name = window.history.plan.unit.shelters[0].name
    field = named(shelters, QDoubleSpinBox, f"people in {name}")
    field.selectAll()
    qtbot.keyClicks(field, "6")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert shelter(window.history.plan, name).people == 6
    assert window.history.plan.unit.people == sum(one.people for one in window.history.plan.unit.shelters)
    assert window.history.stack.undoText() == f"Change people in {name}"
    window.history.stack.undo()
    assert window.history.plan.unit.people == 38


def test_more_people_than_places_are_refused_and_the_row_shows_what_holds(
    qtbot: QtBot, window: MainWindow, shelters: ShelterList
):
    before = window.history.plan
    name = before.unit.shelters[0].name
    field = named(shelters, QDoubleSpinBox, f"people in {name}")
    field.selectAll()
    qtbot.keyClicks(field, "11")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.history.plan == before
    assert f"{name} is to hold 11 people and has 10 places. Move people to another shelter." in window.notices.text
    assert field.value() == before.unit.shelters[0].people


def test_a_shelter_is_added_and_taken_away_again(qtbot: QtBot, window: MainWindow, shelters: ShelterList):
    before = window.history.plan
    choose(named(shelters, QComboBox, "kind of a new shelter"), "a snow cave")
    qtbot.keyClick(named(shelters, QPushButton, "add a shelter"), Qt.Key.Key_Space)
    added = window.history.plan.unit.shelters[-1]
    assert (added.name, added.kind.key, added.people) == ("Snow cave 1", "snow_cave", 0)
    qtbot.waitUntil(lambda: len(shelters.rows) == 6)
    assert "1 shelter stands empty." in words(shelters)
    named(shelters, QToolButton, "remove Snow cave 1").click()
    assert window.history.plan == before
    assert len(shelters.rows) == 5


def test_those_whose_shelter_goes_find_a_place_in_the_others(window: MainWindow, shelters: ShelterList):
    first = window.history.plan.unit.shelters[0]
    named(shelters, QToolButton, f"remove {first.name}").click()
    unit = window.history.plan.unit
    assert (len(unit.shelters), unit.people) == (4, 38)
    named(shelters, QToolButton, f"remove {unit.shelters[0].name}").click()
    assert len(window.history.plan.unit.shelters) == 4
    assert "places free. Add another shelter before you remove it." in window.notices.text


def test_kind_section_leader_and_name_are_edited_in_place(qtbot: QtBot, window: MainWindow, shelters: ShelterList):
    old = window.history.plan.unit.shelters[-1].name
    qtbot.keyClick(named(shelters, QComboBox, f"kind of {old}"), Qt.Key.Key_Down)
    assert shelter(window.history.plan, old).kind.key == "five_person_tent"
    section = named(shelters, QLineEdit, f"section of {old}")
    section.selectAll()
    qtbot.keyClicks(section, "Staff & signals")
    qtbot.keyClick(section, Qt.Key.Key_Return)
    assert shelter(window.history.plan, old).section == "Staff & signals"
    box = named(shelters, QCheckBox, f"{old} is the leader's")
    was = box.isChecked()
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Space)
    assert shelter(window.history.plan, old).is_leaders is not was
    line = named(shelters, QLineEdit, f"name of {old}")
    line.selectAll()
    qtbot.keyClicks(line, "Command post")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert window.history.plan.unit.shelters[-1].name == "Command post"
    assert named(shelters, QToolButton, "remove Command post")
    for _ in range(4):
        window.history.stack.undo()
    assert window.history.plan.unit.shelters[-1].name == old


@pytest.mark.parametrize(("typed", "told"), [("", "no name"), ("   ", "no name")])
def test_a_name_that_will_not_do_is_told(
    qtbot: QtBot, window: MainWindow, shelters: ShelterList, typed: str, told: str
):
    before = window.history.plan
    name = before.unit.shelters[0].name
    line = named(shelters, QLineEdit, f"name of {name}")
    line.selectAll()
    qtbot.keyClicks(line, typed) if typed else line.clear()
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert window.history.plan == before
    assert told in window.notices.text
    assert line.text() == name


def test_two_shelters_are_joined_and_parted(window: MainWindow, shelters: ShelterList):
    one, other = (shelter.name for shelter in window.history.plan.unit.shelters[:2])
    choose(named(shelters, QComboBox, f"what {one} is joined to"), f"joined to {other}")
    assert shelter(window.history.plan, one).joined_to == other
    # Whom another is joined to can be joined to nobody else.
    assert named(shelters, QComboBox, f"what {other} is joined to").count() == 1
    choose(named(shelters, QComboBox, f"what {one} is joined to"), "by itself")
    assert shelter(window.history.plan, one).joined_to == ""


def test_a_kind_of_ones_own_is_made_used_changed_and_kept_while_used(
    qtbot: QtBot, window: MainWindow, shelters: ShelterList
):
    kinds = window.findChild(OwnKinds)
    line = named(kinds, QLineEdit, "name of a new kind of shelter")
    qtbot.keyClicks(line, "tarp")
    qtbot.keyClick(line, Qt.Key.Key_Return)
    assert [kind.label for kind in window.history.plan.unit.shelter_kinds] == ["tarp"]
    assert line.text() == ""
    places = named(kinds, QDoubleSpinBox, "places of the tarp")
    places.setValue(3)
    last = window.history.plan.unit.shelters[-1]
    choose(named(shelters, QComboBox, f"kind of {last.name}"), "tarp")
    assert shelter(window.history.plan, last.name).kind.places == 3
    named(kinds, QDoubleSpinBox, "width of the tarp").setValue(2.5)
    assert shelter(window.history.plan, last.name).kind.footprint_m == 2.5
    named(kinds, QToolButton, "remove the kind tarp").click()
    assert window.history.plan.unit.shelter_kinds
    assert "make it another kind of shelter first" in window.notices.text.lower()
    choose(named(shelters, QComboBox, f"kind of {last.name}"), "ten-person tent")
    named(kinds, QToolButton, "remove the kind tarp").click()
    assert window.history.plan.unit.shelter_kinds == ()


@pytest.mark.parametrize("name", ["", "Snow cave"])
def test_a_kind_needs_a_name_of_its_own(qtbot: QtBot, window: MainWindow, shelters: ShelterList, name: str):
    kinds = window.findChild(OwnKinds)
    qtbot.keyClicks(named(kinds, QLineEdit, "name of a new kind of shelter"), name)
    named(kinds, QPushButton, "add a kind of shelter").click()
    assert window.history.plan.unit.shelter_kinds == ()
    assert "name" in window.notices.text


def test_every_part_of_the_list_has_a_name_of_its_own_and_takes_the_focus(shelters: ShelterList):
    names = []
    for kind in (QCheckBox, QDoubleSpinBox, QComboBox, QToolButton, QPushButton):
        for widget in shelters.findChildren(kind):
            spoken = QAccessible.queryAccessibleInterface(widget)
            names.append(widget.accessibleName())
            told = spoken.text(QAccessible.Text.Name) + spoken.text(QAccessible.Text.Description)
            assert widget.accessibleName().lower() in told.lower()
            assert widget.focusPolicy() & Qt.FocusPolicy.TabFocus
    assert len(set(names)) == len(names)


def test_another_number_of_people_gets_the_usual_tents(
    qtbot: QtBot, window: MainWindow, shelters: ShelterList, open_window: Callable[[], MainWindow]
):
    field = next(one for one in window.findChildren(QDoubleSpinBox) if one.accessibleName() == "people")
    field.setValue(12)
    assert [one.name for one in window.history.plan.unit.shelters] == ["Tent 1", "Tent 2", "Leader's tent"]
    qtbot.waitUntil(lambda: len(shelters.rows) == 3)
