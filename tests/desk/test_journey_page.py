"""The Journey page and the strip of days: routes side by side, a night pinned, a day chosen for the day line."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QPushButton
from pytestqt.qtbot import QtBot

from sitepick.desk.day_strip import journey_strip
from sitepick.desk.day_way import day_way
from sitepick.desk.edit import PlanEdit
from sitepick.desk.fields import ChoiceField, NumberField
from sitepick.desk.journey_strip import JourneyStrip
from sitepick.desk.look import Look
from sitepick.desk.main_window import MainWindow
from sitepick.desk.page_journey import JourneyPage
from sitepick.errors import SettingsError
from sitepick.journey import Journey
from sitepick.journey import journey as planner
from sitepick.journey.journey import plan_journey
from sitepick.plan.model import Plan
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS
from tests.helpers.made_tonight import made_tonight
from tests.unit.journey.made_survey import journey_plan, make_survey

EVENLY = {float(km): 50.0 + km for km in range(4, 40, 4)}


@pytest.fixture(scope="module")
def journey() -> Journey:
    """Two made routes, the second with a gap that leaves a night without a site."""
    plan = journey_plan(days_max=4)
    plan = replace(plan, alternatives=(replace(plan.route, name="Past the gap"),))
    sites = {"Made route": EVENLY, "Past the gap": {8.0: 70.0, 34.0: 80.0}}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            planner,
            "survey_route",
            lambda plan, route, *, watch, room: make_survey(replace(plan, route=route), sites[route.name]),
        )
        return plan_journey(plan)


@pytest.fixture
def page(qtbot: QtBot, look: Look, journey: Journey) -> JourneyPage:
    page = JourneyPage(look)
    qtbot.addWidget(page)
    page.resize(440, 800)
    page.show_plan(journey.plan)
    page.show_journey(journey)
    page.keeps_to.button.click()
    page.show()
    return page


def test_the_page_holds_the_routes_side_by_side_in_their_order(page: JourneyPage, journey: Journey) -> None:
    heads = [page.table.horizontalHeaderItem(col).text() for col in range(page.table.columnCount())]
    assert heads == ["", "Made route", "Past the gap"]
    rows = {page.table.item(row, 0).text(): row for row in range(page.table.rowCount())}
    assert page.table.item(rows["nights without a site"], 2).text() == "1"


def test_pinning_a_night_is_an_edit_of_the_plan(page: JourneyPage, journey: Journey, qtbot: QtBot) -> None:
    edits: list = []
    page.edit_requested.connect(edits.append)
    button = next(one for one in page.findChildren(QPushButton) if one.accessibleName() == "Pin night 2")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    (night,) = edits[0].change(journey.plan).journey.pinned
    assert (night.route, night.day) == ("Made route", 2)
    assert night.place == journey.routes[0].days[1].night.place


def test_a_night_without_a_site_says_what_would_mend_it(page: JourneyPage) -> None:
    page._route.setCurrentIndex(1)
    told = [label.text() for label in page.findChildren(type(page._state)) if label.property("role") == "caution"]
    assert any(text.startswith("No site holds the unit between 8.0 km and 34.0 km") for text in told)


def test_the_strip_has_a_cell_a_day_and_goes_by_the_keys(qtbot: QtBot, look: Look, journey: Journey) -> None:
    strip = JourneyStrip(look)
    qtbot.addWidget(strip)
    strip.resize(900, 46)
    strip.show_route(journey, 0)
    strip.show()
    chosen: list[int] = []
    strip.day_chosen.connect(chosen.append)
    qtbot.mouseClick(strip, Qt.MouseButton.LeftButton, pos=strip.rect().center())
    qtbot.keyClick(strip, Qt.Key.Key_Right)
    assert chosen[1] == chosen[0] + 1
    assert strip.day_at(1.0) == 0
    assert f"{len(journey.routes[0].days)} days" in strip.accessibleDescription()


def test_the_day_line_gets_the_chosen_days_hours(journey: Journey) -> None:
    day = journey.routes[0].days[1]
    strip = journey_strip(day)
    moments = {moment.text.split()[0]: moment.at for moment in strip.moments}
    assert moments["depart"] == day.depart
    assert moments["arrive"] == day.arrive
    assert strip.begin <= day.depart
    assert strip.acts[-1].kind == "pitching"


def typed(qtbot: QtBot, page: JourneyPage, name: str, text: str) -> None:
    field = next(one for one in page.findChildren(QLineEdit) if one.accessibleName() == name)
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, text)
    qtbot.keyClick(field, Qt.Key.Key_Return)


@pytest.fixture
def plans(page: JourneyPage, journey: Journey) -> list[Plan]:
    """The plan as the page's edits change it, the newest last; the page is shown each."""
    plans = [journey.plan]

    def apply(edit: PlanEdit) -> None:
        plans.append(edit.change(plans[-1]))
        page.show_plan(plans[-1])

    page.edit_requested.connect(apply)
    return plans


def test_rest_days_and_the_zone_are_typed(qtbot: QtBot, page: JourneyPage, plans: list[Plan]) -> None:
    typed(qtbot, page, "rest days", "3, 2")
    assert plans[-1].journey.rest_days == (2, 3)
    typed(qtbot, page, "zone of the clocks", "Europe/Stockholm")
    assert plans[-1].journey.zone == "Europe/Stockholm"


def test_what_is_no_list_of_days_is_told(page: JourneyPage, journey: Journey) -> None:
    edits: list[PlanEdit] = []
    page.edit_requested.connect(edits.append)
    page.rows._rest.setText("the third")
    page.rows._rest.editingFinished.emit()
    with pytest.raises(SettingsError, match="no list of days"):
        edits[0].change(journey.plan)


def test_a_place_is_added_by_its_reference_changed_and_removed(
    qtbot: QtBot, page: JourneyPage, plans: list[Plan]
) -> None:
    page.rows.show_grid(made_tonight().ground.grid)
    typed(qtbot, page, "grid reference of a new place", "34W EA 00500 79500")
    (point,) = plans[-1].journey.points
    assert (point.kind, point.name) == ("stop", "Place 1")
    typed(qtbot, page, "name of the place", "Old hut")
    assert plans[-1].journey.points[0].name == "Old hut"
    kind = next(one for one in page.findChildren(ChoiceField) if one.accessibleName() == "what happens there")
    kind.setCurrentIndex(2)
    assert plans[-1].journey.points[0].kind == "supply"
    button = next(one for one in page.findChildren(QPushButton) if one.accessibleName() == "remove Old hut")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    assert plans[-1].journey.points == ()


def test_a_day_gets_a_forecast_of_its_own(qtbot: QtBot, page: JourneyPage, plans: list[Plan]) -> None:
    button = next(one for one in page.findChildren(QPushButton) if one.accessibleName() == "add a day's forecast")
    qtbot.mouseClick(button, Qt.MouseButton.LeftButton)
    wind = next(one for one in page.rows.findChildren(NumberField) if one.accessibleName() == "wind speed")
    wind.setFocus()
    wind.selectAll()
    qtbot.keyClicks(wind, "40")
    qtbot.keyClick(wind, Qt.Key.Key_Return)
    (forecast,) = plans[-1].journey.forecasts
    assert (forecast.day, forecast.wind_kmh, forecast.temperature_c) == (1, 40.0, None)


def test_a_day_is_shown_on_the_map_from_night_to_night(journey: Journey) -> None:
    one = journey.routes[0]
    way = day_way(one, 2)
    assert tuple(way.lonlat[0]) == one.days[0].night.place
    assert tuple(way.lonlat[-1]) == one.days[1].night.place
    assert way.text.startswith(f"Day 2: {one.days[1].night.name}")


def test_the_window_shows_a_day_and_writes_the_journey(
    qtbot: QtBot, window: MainWindow, journey: Journey, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []

    def write(plan: Plan, folder: Path, watch: Watch) -> tuple[Path, ...]:
        asked.append(folder)
        return (folder / "comparison.pdf", folder / "journey.json")

    asker = window.journey_asker
    asker._work = replace(asker._work, write_journey=write)
    asker._journey = journey
    asker.answered.emit(journey)
    window.journey_strip.choose(2)
    assert window.map._day_way.text == day_way(journey.routes[0], 2).text
    window.map.grab()
    monkeypatch.setattr("sitepick.desk.plan_files.ask_folder", lambda parent, folder: tmp_path)
    button = next(
        one for one in window.findChildren(QPushButton) if one.accessibleName() == "write the journey to a folder"
    )
    assert button.isEnabled()
    with qtbot.waitSignal(asker.written, timeout=WAIT_MS):
        button.click()
    assert asked == [tmp_path]
    assert "comparison.pdf" in window.notices.text
