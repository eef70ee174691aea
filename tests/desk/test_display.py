"""Places and quantities as the person reads them; the plan stays metric."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from sitepick.desk.display import Display, show_by
from sitepick.desk.fields import NumberField, limits_text, setting_help
from sitepick.desk.main_window import MainWindow
from sitepick.grid import Grid
from sitepick.plan.model import CampSettings, Weather
from sitepick.plan.setting import Setting, setting_of

IMPERIAL = Display(is_imperial=True)


@pytest.fixture(autouse=True)
def metric_again() -> Iterator[None]:
    yield
    show_by(Display())


@pytest.mark.parametrize(
    ("metric", "imperial"),
    [
        ("7.1 km on skis and 13 min off the route", "4.4 mi on skis and 13 min off the route"),
        ("at least 54.9 m apart", "at least 180 ft apart"),
        ("12 of 28 km/h", "7 of 17 mph"),
        ("it feels like −32 °C there", "it feels like -26 °F there"),
        ("snow 70 cm deep", "snow 28 in deep"),
        ("cells of 10.0 x 10.0 m", "cells of 33 x 33 ft"),
        ("1.3 ha · arrive 14:41", "3.2 acres · arrive 14:41"),
        ("34W DV 82548 19820", "34W DV 82548 19820"),
        ("300 kg/m³", "300 kg/m³"),
        ("10-15 m where dispersal counts", "33-49 ft where dispersal counts"),
        ("5.7° over 30 m", "5.7° over 98 ft"),
    ],
)
def test_a_sentence_is_read_in_miles_and_feet(metric: str, imperial: str):
    assert IMPERIAL.said(metric) == imperial
    assert Display().said(metric) == metric


def test_one_place_in_three_forms():
    # Easting, northing and reference of one point, by pyproj and the mgrs library; the zone's own central line.
    grid = Grid(crs="EPSG:32634", west_m=480_000.0, north_m=7_430_000.0, cell_m=10.0, rows=10, cols=10)
    assert Display().place(grid, 482_548.0, 7_419_820.0) == "34W DV 82548 19820"
    assert Display(form="utm").place(grid, 482_548.0, 7_419_820.0) == "34 north 482548 7419820"
    assert Display(form="latlon").place(grid, 500_000.0, 0.0) == "0.00000° N 21.00000° E"


def test_a_field_shows_feet_and_keeps_metres(qtbot: QtBot):
    show_by(IMPERIAL)
    field = NumberField(setting_of(CampSettings, "spacing_m"), decimals=1, step=5.0)
    qtbot.addWidget(field)
    field.show_value(54.9)
    assert field.text() == "180.1 ft"
    with qtbot.waitSignal(field.value_chosen) as chosen:
        field.setValue(200.0)
    assert chosen.args == [pytest.approx(60.96)]


def test_degrees_fahrenheit_reach_the_plan_as_celsius(qtbot: QtBot):
    show_by(IMPERIAL)
    field = NumberField(setting_of(Weather, "temperature_c"), empty_text="not known")
    qtbot.addWidget(field)
    field.show_value(-21.0)
    assert field.text() == "-6 °F"
    with qtbot.waitSignal(field.value_chosen) as chosen:
        field.setValue(32.0)
    assert chosen.args == [0.0]
    with qtbot.waitSignal(field.value_chosen) as chosen:
        field.setValue(field.minimum())
    assert chosen.args == [None]


@pytest.mark.parametrize(
    ("low", "high", "metric", "imperial"),
    [
        (0.0, 300.0, "0 to 300 cm", "0 to 118 in"),  # 300 / 2.54 = 118.1
        (None, 2.0, "at most 2 cm", "at most 0.787 in"),
        (12_000.0, None, "at least 12000 cm", "at least 4720 in"),
    ],
)
def test_limits_are_told_in_the_chosen_units(low: float | None, high: float | None, metric: str, imperial: str):
    setting = Setting(label="snow", unit="cm", low=low, high=high)
    assert limits_text(setting) == metric
    show_by(IMPERIAL)
    assert limits_text(setting) == imperial


def test_a_field_s_help_follows_the_units_that_are_chosen_later(qtbot: QtBot):
    setting = setting_of(CampSettings, "spacing_m")
    field = NumberField(setting)
    qtbot.addWidget(field)
    field.show_value(54.9)
    metric = field.toolTip()
    assert setting_help(setting) == metric
    assert "ft" not in metric
    show_by(IMPERIAL)
    field.show_value(54.9)
    assert field.toolTip().endswith(" ft.")
    assert field.accessibleDescription() == field.toolTip()
    show_by(Display())
    field.show_value(54.9)
    assert field.toolTip() == metric


def test_the_whole_window_changes_its_units_and_the_plan_does_not(window: MainWindow):
    before = window.history.plan
    window.show_display(IMPERIAL)
    assert " mi " in window.answer_line.accessibleName()
    assert window.history.plan == before
    window.show_display(Display())
    assert " km " in window.answer_line.accessibleName()
