"""The Journey page and the strip of days: routes side by side, a night pinned, a day chosen for the day line."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from sitepick.desk.day_strip import journey_strip
from sitepick.desk.journey_strip import JourneyStrip
from sitepick.desk.look import Look
from sitepick.desk.page_journey import JourneyPage
from sitepick.journey import Journey
from sitepick.journey import journey as planner
from sitepick.journey.journey import plan_journey
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
