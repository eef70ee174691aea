"""Colours that can be read, and Qt itself as we need it."""

from __future__ import annotations

import sys

import pytest
from PySide6.QtGui import QFont, QFontMetricsF, QPainterPath, QPalette
from PySide6.QtWidgets import QApplication, QLabel
from pytestqt.qtbot import QtBot

from sitepick.desk.look import Look, look_named, qt_palette, style_sheet
from sitepick.sheet.palette import contrast

NAMES = ("day", "dark", "night")


@pytest.mark.parametrize("name", ["day", "dark"])  # night is deep red on purpose, and told by brightness alone
def test_text_reads_on_every_ground_it_stands_on(qapp: object, name: str):
    look = look_named(name)
    for text in (look.graphite, look.soft, look.faint, look.reach_deep):
        for ground in (look.paper, look.page):
            assert contrast(text.name(), ground.name()) >= 4.5
    assert contrast(look.graphite.name(), look.caution.name()) >= 4.5
    assert contrast(look.page.name(), look.graphite.name()) >= 4.5


@pytest.mark.parametrize("name", NAMES)
def test_the_palette_and_the_style_sheet_are_whole(qapp: object, name: str):
    look = look_named(name)
    palette = qt_palette(look)
    assert palette.color(QPalette.ColorRole.Window) == look.paper
    assert palette.color(QPalette.ColorRole.Text) == look.graphite
    sheet = style_sheet(look)
    assert sheet.count("{") == sheet.count("}")
    assert "{{" not in sheet


@pytest.mark.shape
def test_letters_have_shapes_of_their_own(look: Look, qapp: QApplication):
    metrics = QFontMetricsF(qapp.font())
    assert metrics.horizontalAdvance("i") != metrics.horizontalAdvance("W")
    assert qapp.font().family() == "Source Sans 3"


def test_figures_are_equally_wide(look: Look, qapp: QApplication):
    bold = QFont(qapp.font())
    bold.setWeight(QFont.Weight.DemiBold)
    for font in (qapp.font(), bold):
        metrics = QFontMetricsF(font)
        assert len({round(metrics.horizontalAdvance(figure), 3) for figure in "0123456789"}) == 1


@pytest.mark.shape
def test_qt_does_not_lose_references_to_none(qtbot: QtBot):
    # PySide6 6.12.0 on Python before 3.12 loses one reference to None a call, and aborts after some thousands.
    path, label = QPainterPath(), QLabel()
    qtbot.addWidget(label)
    before = sys.getrefcount(None)
    for step in range(500):
        path.lineTo(step, 1.0)
        label.setText("x")
    assert abs(sys.getrefcount(None) - before) < 100
