"""The field book: values edited in their sentences, sites told in full."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time, timedelta

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QLabel, QPushButton, QToolButton, QWidget
from pytestqt.qtbot import QtBot

from sitepick.desk.camp_fields import CampFields
from sitepick.desk.edit import PlanEdit
from sitepick.desk.field_book import PAGE_NAMES, FieldBook
from sitepick.desk.fields import ChoiceField, MomentField, NumberField
from sitepick.desk.look import Look
from sitepick.desk.pace_fields import FinerPoints
from sitepick.desk.page_sites import relaxing
from sitepick.plan.camp_edits import with_camp_values
from sitepick.plan.edits import with_values
from sitepick.plan.model import Plan
from sitepick.sites.model import Hindrance
from sitepick.tonight import Tonight
from tests.helpers.made import make_plan
from tests.helpers.made_tonight import with_split


@pytest.fixture
def book(qtbot: QtBot, look: Look, answer: Tonight) -> FieldBook:
    book = FieldBook(look)
    qtbot.addWidget(book)
    book.resize(440, 700)
    book.show()
    book.show_plan(answer.plan)
    book.show_answer(answer)
    return book


def field(book: FieldBook, name: str) -> QWidget:
    found = [
        widget
        for kind in (NumberField, ChoiceField, MomentField)
        for widget in book.findChildren(kind)
        if widget.accessibleName() == name
    ]
    assert found, name
    return found[0]


def edits_of(book: FieldBook) -> list[PlanEdit]:
    edits: list[PlanEdit] = []
    book.edit_requested.connect(edits.append)
    return edits


def type_into(qtbot: QtBot, widget: QWidget, text: str) -> None:
    assert isinstance(widget, NumberField)
    widget.selectAll()
    qtbot.keyClicks(widget, text)
    qtbot.keyClick(widget, Qt.Key.Key_Return)


@pytest.mark.shape
@pytest.mark.parametrize(
    ("name", "typed", "read"),
    [
        ("people", "64", lambda plan: plan.unit.people == 64),
        ("wind speed", "40", lambda plan: plan.weather.wind_kmh == 40.0),
        ("wind from", "210", lambda plan: plan.weather.wind_from_deg == 210.0),
        ("temperature", "-31", lambda plan: plan.weather.temperature_c == -31.0),
        ("snow depth", "85", lambda plan: plan.weather.snow_cm == 85.0),
        ("spacing", "30", lambda plan: plan.camp.spacing_m == 30.0),
        ("pitching time", "120", lambda plan: plan.march.pitching_min == 120.0),
        ("speed on the level", "3.5", lambda plan: plan.march.level_kmh == 3.5),
        ("speed on a broken trail", "4.2", lambda plan: plan.march.pace.ski.broken_kmh == 4.2),
        ("speed in the dark", "0.8", lambda plan: plan.march.pace.night_frac == 0.8),
        ("long halt", "40", lambda plan: plan.march.long_halt_min == 40.0),
        ("density of the snow", "90", lambda plan: plan.weather.snow_density_kg_m3 == 90.0),
        ("a boot sinks", "12", lambda plan: plan.march.pace.sinking_cm == 12.0),
    ],
)
def test_a_number_typed_into_a_sentence_asks_for_the_edit(
    qtbot: QtBot, book: FieldBook, answer: Tonight, name: str, typed: str, read: Callable[[Plan], bool]
):
    edits = edits_of(book)
    type_into(qtbot, field(book, name), typed)
    assert [edit.text for edit in edits] == [f"Change {name}"]
    assert read(edits[0].change(answer.plan))


def test_a_value_the_person_left_alone_is_not_rounded(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    spacing = field(book, "spacing")
    assert isinstance(spacing, NumberField)
    assert spacing.text() == "54.9 m"
    spacing.setFocus()
    qtbot.keyClick(spacing, Qt.Key.Key_Return)
    field(book, "people").setFocus()
    assert edits == []
    assert answer.plan.camp.spacing_m == 54.864


def test_the_down_key_below_the_limit_means_not_known(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    wind = field(book, "wind speed")
    type_into(qtbot, wind, "0")
    qtbot.keyClick(wind, Qt.Key.Key_Down)
    assert wind.text() == "not known"
    assert edits[-1].change(answer.plan).weather.wind_kmh is None


def test_the_finer_points_of_the_pace_fold_away_until_asked_for(qtbot: QtBot, book: FieldBook, answer: Tonight):
    book.choose_page(PAGE_NAMES.index("March"))
    night = field(book, "speed in the dark")
    assert not night.isVisible()
    button = next(each for each in book.findChildren(QToolButton) if each.text() == "Finer points of the pace")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert night.isVisible()


def test_the_function_of_the_mode_is_chosen_with_its_source_told(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    book.show_plan(with_values(answer.plan, "march", mode="foot"))
    walking = field(book, "slopes by, on foot")
    assert isinstance(walking, ChoiceField)
    assert not walking.isHidden()
    assert field(book, "slopes by, on skis").isHidden()
    assert "Naismith 1892" in walking.itemData(1, Qt.ItemDataRole.ToolTipRole)
    assert any("Tobler 1993, NCGIA" in label.text() for label in book.findChildren(QLabel))
    qtbot.keyClick(walking, Qt.Key.Key_Down)
    assert edits[0].change(answer.plan).march.pace.foot.function == "naismith"


def test_who_breaks_the_trail_is_asked_only_while_it_is_unbroken(book: FieldBook, answer: Tonight):
    breaking = field(book, "who breaks the trail")
    assert not breaking.parentWidget().isHidden()
    book.show_plan(with_values(answer.plan, "march", trail_broken=True))
    assert breaking.parentWidget().isHidden()


def test_a_choice_is_one_of_a_few_phrases(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    mode = field(book, "mode")
    assert isinstance(mode, ChoiceField)
    assert mode.currentText() == "on skis"
    qtbot.keyClick(mode, Qt.Key.Key_Up)
    assert edits[0].change(answer.plan).march.mode == "snowshoe"


def test_the_hour_of_the_long_halt_and_the_state_of_the_tracks_are_chosen_in_their_sentences(
    qtbot: QtBot, book: FieldBook, answer: Tonight
):
    edits = edits_of(book)
    hour, tracks = field(book, "hour of the long halt"), field(book, "mapped tracks")
    assert isinstance(hour, ChoiceField)
    assert isinstance(tracks, ChoiceField)
    assert hour.currentText() == "no hour: it is left out"
    qtbot.keyClicks(hour, "12:15")
    assert edits[-1].change(answer.plan).march.long_halt_at == time(12, 15)
    qtbot.keyClick(tracks, Qt.Key.Key_Down)
    assert not edits[-1].change(answer.plan).march.tracks_packed


def test_the_departure_keeps_its_zone(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    depart = field(book, "departure")
    assert isinstance(depart, MomentField)
    assert depart.text().endswith("08:00")
    depart.setDateTime(depart.dateTime().addSecs(3600))
    moved = edits[0].change(answer.plan).march.depart
    assert moved == answer.plan.march.depart + timedelta(hours=1)
    assert moved.utcoffset() == answer.plan.march.depart.utcoffset()


def test_showing_a_plan_asks_for_nothing(book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    book.show_plan(answer.plan)
    assert edits == []


def test_a_slider_dragged_changes_one_weight_in_one_gesture(qtbot: QtBot, book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    slider = book.sites._weights.slider("water")
    slider.sliderPressed.emit()
    for weight in (20, 30, 40):
        slider.setValue(weight)
    assert {edit.gesture for edit in edits} == {edits[0].gesture}
    assert edits[-1].change(answer.plan).preferences.water.weight == 40.0


def test_every_field_names_itself_and_its_limits(book: FieldBook):
    for kind in (NumberField, ChoiceField, MomentField):
        for widget in book.findChildren(kind):
            spoken = QAccessible.queryAccessibleInterface(widget)
            assert widget.accessibleName() != ""
            told = spoken.text(QAccessible.Text.Name) + spoken.text(QAccessible.Text.Description)
            assert widget.accessibleName().lower() in told.lower()
    people = field(book, "people")
    assert "1 to 400" in people.accessibleDescription()


def test_the_list_tells_every_site_in_full(book: FieldBook, answer: Tonight):
    entries = book.sites.entries
    assert [entry.rank for entry in entries] == [1, 2, 3]
    for entry, site in zip(entries, answer.sites.sites, strict=True):
        spoken = QAccessible.queryAccessibleInterface(entry).text(QAccessible.Text.Name)
        assert site.name in spoken
        assert site.reason in spoken
        for measure in site.measures:
            assert measure.label in spoken
        for caution in site.cautions:
            assert caution.text in spoken
    assert "slope 3.1°, at most 5.7°" in entries[0].accessibleName()
    assert "evergreen forest not known" in entries[2].accessibleName()


def test_a_site_is_chosen_by_click_and_walked_by_keys(qtbot: QtBot, book: FieldBook):
    chosen: list[int] = []
    book.site_chosen.connect(chosen.append)
    entries = book.sites.entries
    qtbot.mouseClick(entries[1], Qt.MouseButton.LeftButton)
    entries[1].setFocus()
    qtbot.keyClick(entries[1], Qt.Key.Key_Down)
    qtbot.keyClick(entries[2], Qt.Key.Key_Return)
    assert chosen == [2, 3, 3]


def test_pages_are_chosen_by_their_words(qtbot: QtBot, book: FieldBook):
    for index, name in enumerate(PAGE_NAMES):
        qtbot.mouseClick(book._group.button(index), Qt.MouseButton.LeftButton)
        assert book.page_name == name


def test_the_camp_table_gives_reference_and_door_of_each_shelter(book: FieldBook, answer: Tonight):
    assert answer.camp is not None
    book.choose_page(PAGE_NAMES.index("Camp"))
    table = book.camp.table
    assert table.rowCount() == len(answer.camp.shelters) + len(answer.camp.facilities)
    placed = answer.camp.shelters[0]
    reference = answer.ground.grid.mgrs(placed.east_m, placed.north_m)
    assert table.item(0, 0).text() == placed.shelter.name
    assert table.item(0, 2).text().replace(" ", "") == reference
    assert table.item(0, 3).text().startswith(f"{placed.door_bearing_deg:.0f}°")


def test_no_site_gives_reasons_and_a_button_that_relaxes(qtbot: QtBot, book: FieldBook, nothing_found: Tonight):
    book.show_plan(nothing_found.plan)
    book.show_answer(nothing_found)
    edits = edits_of(book)
    assert book.sites.entries == ()
    (button,) = book.sites.findChildren(QPushButton)
    qtbot.waitUntil(button.isVisible)
    assert button.text() == "Set the spacing to 30 m"
    assert nothing_found.sites.hindrances[1].fix == "set the spacing to 30 m"
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert edits[0].change(nothing_found.plan).camp.spacing_m == 30.0


def test_two_sites_for_the_unit_stand_before_the_reasons(book: FieldBook, nothing_found: Tonight):
    book.show_plan(nothing_found.plan)
    book.show_answer(with_split(nothing_found))
    told = [label.text() for label in book.sites.findChildren(QLabel)]
    split = next(k for k, text in enumerate(told) if "two 300 m apart" in text)
    assert "Small Grove" in told[split]
    assert split < next(k for k, text in enumerate(told) if "What would help" in text)


@pytest.mark.parametrize("name", ["avalanche", "water", "unknown", "wet", "no_go"])
def test_no_button_relaxes_a_hazard(answer: Tonight, name: str):
    hindrance = Hindrance(name=name, text="Out.", fix="look elsewhere", excluded_frac=0.5)
    assert relaxing(answer.plan, hindrance) is None


@pytest.mark.shape
@pytest.mark.parametrize("index", range(len(PAGE_NAMES)))
def test_every_page_fits_a_narrow_book(book: FieldBook, index: int):
    book.resize(340, 600)
    book.choose_page(index)
    page = book._pages[index]
    for finer in page.findChildren(FinerPoints):
        finer.findChild(QToolButton).click()
    for kind in (NumberField, ChoiceField, MomentField):
        for widget in page.findChildren(kind):
            if not widget.isVisible():
                continue
            right = widget.mapTo(page, widget.rect().topRight()).x()
            assert right <= page.width(), widget.accessibleName()


@pytest.mark.shape
def test_the_words_of_the_pages_are_whole_in_a_narrow_book(book: FieldBook):
    book.resize(340, 600)
    words = [button for button in book.findChildren(QToolButton) if button.property("role") == "page_word"]
    assert [word.text() for word in words] == list(PAGE_NAMES)
    for index, word in enumerate(words):
        book.choose_page(index)
        word.ensurePolished()
        assert word.width() >= word.fontMetrics().horizontalAdvance(word.text()), word.text()


def test_the_paper_is_chosen_on_the_camp_page(book: FieldBook, answer: Tonight):
    edits = edits_of(book)
    paper = field(book, "paper")
    assert isinstance(paper, ChoiceField)
    assert paper.currentText() == "A4"
    paper.setCurrentIndex(1)
    paper.activated.emit(1)
    assert edits[-1].change(answer.plan).handout.paper == "A3"


def test_an_answer_comes_to_the_open_page_at_once_and_to_the_others_by_and_by(
    qtbot: QtBot, look: Look, answer: Tonight
):
    book = FieldBook(look)
    qtbot.addWidget(book)
    book.show_plan(answer.plan)
    book.choose_page(PAGE_NAMES.index("March"))
    book.show_answer(answer)
    assert book.camp.table.rowCount() == 0
    qtbot.waitUntil(lambda: book.camp.table.rowCount() > 0)
    book.show_answer(answer)
    book.choose_page(PAGE_NAMES.index("Ground"))  # whoever turns to a page finds the newest there
    assert not [page for page in book._due if page is book._stack.currentWidget()]


def test_a_count_keeps_its_noun_once_a_plan_is_shown(qtbot: QtBot):
    fields = CampFields()
    qtbot.addWidget(fields)
    fields.show_plan(with_camp_values(make_plan(), "security", post_count=3))
    texts = [field.text() for field in fields.findChildren(NumberField)]
    assert "3 posts" in texts
