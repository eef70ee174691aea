"""One factor at a time over the map, with its legend; a lens; contour heights; what lies under the pointer."""

from __future__ import annotations

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF
from PySide6.QtGui import QImage, QPainter, QPen
from pytestqt.qtbot import QtBot

from sitepick.desk.legend_card import mark_texts
from sitepick.desk.look import Look
from sitepick.desk.look_through import FACTORS, draw_layer
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_frame import MapFrame
from sitepick.desk.map_paint import LENS_PX, paint_layer
from sitepick.desk.map_picture import LABEL_EVERY_M, HeightLabels
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS

QUICK = [factor for factor in FACTORS if factor.key not in ("sun_hours", "seen_share")]


@pytest.mark.parametrize("factor", QUICK, ids=lambda factor: factor.key)
def test_every_factor_has_a_picture_and_says_what_its_colours_mean(answer: Tonight, look: Look, factor):
    layer = draw_layer(answer, factor.key, look.palette, Watch())
    assert (layer.levels[0].width(), layer.levels[0].height()) == (answer.ground.grid.cols, answer.ground.grid.rows)
    assert layer.ramp is not None or layer.swatches
    if layer.ramp is not None:
        assert len(mark_texts(layer)) == len(layer.ramp.marks)


def test_the_map_is_looked_through_until_the_ground_itself_is_wanted(qtbot: QtBot, window: MainWindow):
    with qtbot.waitSignal(window.asker.layered, timeout=WAIT_MS):
        window.look_through("slope_30m_deg")
    legend = window.map._legend
    assert legend.isVisible()
    assert legend.accessibleName().startswith("Legend: Slope over 30 m.")
    window.look_through("")
    assert not legend.isVisible()


def test_a_factor_that_is_no_longer_wanted_is_not_shown(qtbot: QtBot, window: MainWindow):
    with qtbot.waitSignal(window.asker.layered, timeout=WAIT_MS):
        window.look_through("slope_30m_deg")
        window.look_through("wind_share")
    assert window.map._layer.factor.key == "wind_share"


def test_a_lens_shows_the_factor_round_the_pointer_only(answer: Tonight, look: Look):
    layer = draw_layer(answer, "elevation_m", look.palette, Watch())
    east_m, north_m = answer.ground.grid.centre_m
    frame = MapFrame(east_m=east_m, north_m=north_m, m_per_px=2.0, width_px=600, height_px=400)
    canvas = QImage(600, 400, QImage.Format.Format_RGB32)
    canvas.fill(0)
    painter = QPainter(canvas)
    paint_layer(painter, frame, layer, QPointF(300, 200), QPen(look.graphite))
    painter.end()
    assert canvas.pixel(QPoint(300, 200)) & 0xFFFFFF != 0
    assert canvas.pixel(QPoint(round(300 + LENS_PX + 6), 200)) & 0xFFFFFF == 0


def test_heights_stand_at_even_distances_along_a_contour():
    line = np.column_stack((np.arange(0.0, 5 * LABEL_EVERY_M, 10.0), np.zeros(round(5 * LABEL_EVERY_M / 10.0))))
    labels = HeightLabels([(450.0, line)])
    rows = labels.in_box((-1.0, -1.0, 1e6, 1.0), finest=1)
    assert set(rows[:, 1]) == {450.0}
    assert np.diff(np.sort(rows[:, 2])) == pytest.approx(LABEL_EVERY_M, abs=11.0)
    assert len(labels.in_box((-1.0, -1.0, 1e6, 1.0), finest=0)) < len(rows)


def test_the_reading_tells_water_and_what_to_look_out_for(window: MainWindow, answer: Tonight):
    from sitepick.desk.ground_reading import reading_at

    site = answer.sites.sites[0]
    rows = dict(reading_at(answer, answer.ground.grid, site.east_m, site.north_m))
    assert {"Height", "Slope", "Cover", "Wind at shelter", "Water and back", "Look out for", "Reached"} <= set(rows)
