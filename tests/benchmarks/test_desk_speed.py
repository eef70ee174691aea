"""How fast the desk answers: frames over a large map, a reading, a drag, the start. Prints figures, fails nobody.

``pytest -m benchmark tests/benchmarks/test_desk_speed.py -s``; for double scale with ``QT_SCALE_FACTOR=2`` before it.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import contourpy
import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QPixmap
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from scipy.ndimage import gaussian_filter, zoom

from sitepick.desk.application import dress
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import look_named
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import ROUTE
from sitepick.desk.map_picture import HeightLabels, LineSet, MapPicture, picture_levels
from sitepick.desk.map_view import MapView
from sitepick.desk.route_sign import ReachLines
from sitepick.grid import DoubleArray, Grid
from sitepick.plan.file import read_plan
from sitepick.resource import sample_plan_path
from tests.helpers.made_tonight import made_tonight

CELLS = 10_000
WIDTH_PX, HEIGHT_PX = 1440, 900
ROOT = Path(__file__).resolve().parents[2]


def told(what: str, seconds: list[float], limits: str) -> None:
    """Print a row of figures in milliseconds."""
    ordered = sorted(1000.0 * value for value in seconds)
    print(
        f"\n{what}: median {statistics.median(ordered):.1f} ms, worst {ordered[-1]:.1f} ms of {len(ordered)} ({limits})"
    )


def large_picture(answer_grid: Grid) -> tuple[MapPicture, ReachLines]:
    """A ground of 10 000 x 10 000 cells with its contours, streams, tracks and reach, around a made answer."""
    noise = np.random.default_rng(7)
    coarse = gaussian_filter(noise.normal(size=(1000, 1000)), 12) * 2500.0 + 400.0
    fine = zoom(coarse.astype(np.float32), CELLS / 1000, order=1)
    grey = np.clip(180 + 0.2 * (fine - 400.0), 90, 255).astype(np.uint8)
    east_m, north_m = answer_grid.centre_m
    grid = Grid(
        crs=answer_grid.crs, west_m=east_m - CELLS * 5.0, north_m=north_m + CELLS * 5.0, cell_m=10.0, rows=CELLS,
        cols=CELLS,
    )  # fmt: skip
    xs = grid.west_m + (np.arange(1000) + 0.5) * 100.0
    ys = grid.north_m - (np.arange(1000) + 0.5) * 100.0
    maker = contourpy.contour_generator(xs, ys, coarse, line_type=contourpy.LineType.Separate)
    levels = np.arange(float(coarse.min()), float(coarse.max()), 20.0)
    lines = [[dense(line) for line in maker.lines(float(level))] for level in levels]
    fifths = [(float(level), line) for level, group in zip(levels[::5], lines[::5], strict=True) for line in group]
    picture = MapPicture(
        grid=grid,
        levels=picture_levels(np.repeat(grey[..., None], 3, axis=2)),
        contours=LineSet((line for group in lines for line in group), grid),
        index_contours=LineSet((line for _, line in fifths), grid),
        streams=LineSet((line for _, line in fifths[::3]), grid),
        tracks=LineSet((line for _, line in fifths[1::7]), grid),
        interval_m=20.0,
        heights=HeightLabels(fifths),
    )
    longest = sorted((line for _, line in fifths), key=len)[-6:]
    return picture, ReachLines(early=tuple(longest[:2]), likely=tuple(longest[2:4]), late=tuple(longest[4:]))


def dense(line: DoubleArray) -> DoubleArray:
    """The line with a point each 25 m or so, as contours of the fine cells have."""
    at = np.arange(len(line))
    fine = np.linspace(0, len(line) - 1, 4 * len(line))
    return np.column_stack([np.interp(fine, at, line[:, axis]) for axis in (0, 1)])


@pytest.mark.benchmark
def test_frames_while_a_large_map_is_panned(qapp: QApplication, qtbot):
    dress(qapp)
    look = look_named("day")
    answer = made_tonight()
    view = MapView(look)
    qtbot.addWidget(view)
    view.resize(WIDTH_PX, HEIGHT_PX)
    view.show()
    view.show_plan(answer.plan)
    view.show_answer(answer)
    view.show_picture(*large_picture(answer.ground.grid))
    scale = view.devicePixelRatioF()
    canvas = QPixmap(round(WIDTH_PX * scale), round(HEIGHT_PX * scale))
    canvas.setDevicePixelRatio(scale)
    for m_per_px in (5.0, 20.0, 60.0):
        view.show_all()
        while view.frame.m_per_px < m_per_px:
            view.zoom_out()
        while view.frame.m_per_px > m_per_px * 1.2:
            view.zoom_in()
        whole, own = panned_frames(view, canvas)
        what = f"frame at {scale:g}x, {view.frame.m_per_px:.0f} m a pixel, while panning"
        told(what, whole, "at most 16 ms median, 50 ms worst")
        told(f"{what}, the window's thread at work", own, "without waiting for others on a busy machine")


def panned_frames(view: MapView, canvas: QPixmap, count: int = 60) -> tuple[list[float], list[float]]:
    """Seconds for each frame of a drag over the map and back, and how long the thread itself was at work for each.

    Tiles are drawn on the way, beside the window's thread.
    """
    whole, own = [], []
    place = QPointF(WIDTH_PX / 2, HEIGHT_PX / 2)
    QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=place.toPoint())
    for number in range(count):
        step = 24 if number < count // 2 else -24
        place += QPointF(step if number % 2 else 0, step if not number % 2 else 0)
        began, own_began = time.perf_counter(), time.thread_time()
        QTest.mouseMove(view, place.toPoint())
        view.render(canvas, QPoint(), view.rect())
        whole.append(time.perf_counter() - began)
        own.append(time.thread_time() - own_began)
    QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=place.toPoint())
    return whole, own


@pytest.fixture
def sample_window(qapp: QApplication, qtbot) -> MainWindow:
    """The sample plan with its answer drawn."""
    dress(qapp)
    path = sample_plan_path()
    window = MainWindow(read_plan(path), path, JobRunner())
    qtbot.addWidget(window, before_close_func=lambda window: window.history.mark_saved())
    window.show()
    with qtbot.waitSignal(window.asker.drawn, timeout=120_000):
        pass
    return window


@pytest.mark.benchmark
def test_a_reading_under_the_pointer(sample_window: MainWindow):
    readings = []
    view = sample_window.map
    for number in range(200):
        place = QPoint(200 + 3 * number, 150 + 2 * number)
        began = time.perf_counter()
        QTest.mouseMove(view, place)
        readings.append(time.perf_counter() - began)
    told("reading under the pointer", readings, "at most 10 ms")


@pytest.mark.benchmark
def test_a_point_dragged_gives_a_new_ranking(sample_window: MainWindow, qtbot):
    view, asker = sample_window.map, sample_window.asker
    view.choose_verb(ROUTE)
    grid = asker.answer.ground.grid
    waits, stalls = [], []
    for number in range(4):
        east_m, north_m = grid.from_lonlat(*sample_window.history.plan.route.points[3])
        x, y = view.frame.to_px(float(east_m), float(north_m))
        begin = QPoint(round(x), round(y))
        QTest.mousePress(view, Qt.MouseButton.LeftButton, pos=begin)
        with qtbot.waitSignal(asker.answered, timeout=60_000):
            for step in range(1, 6):
                QTest.mouseMove(view, begin + QPoint(step if number % 2 else -step, step))
            began = time.perf_counter()
            QTest.mouseRelease(view, Qt.MouseButton.LeftButton, pos=begin + QPoint(5, 5))
            stalls += longest_stalls(lambda: sample_window.asker.is_fresh)
        waits.append(time.perf_counter() - began)
    told("route point dragged, to the new reach and ranking", waits, "at most 1500 ms")
    told("stalls of the window meanwhile", stalls, "at most 100 ms")


def longest_stalls(is_done: Callable[[], bool], within_s: float = 60.0) -> list[float]:
    """How long each turn of the event loop takes until something is done."""
    turns = []
    end = time.perf_counter() + within_s
    while not is_done() and time.perf_counter() < end:
        began = time.perf_counter()
        QApplication.processEvents()
        turns.append(time.perf_counter() - began)
        time.sleep(0.001)  # lets the work beside go on: waiting in Qt would keep the interpreter to itself
    return turns


_START = """
import sys, time
began = time.monotonic()
from sitepick.desk import application
from sitepick.desk.jobs import JobRunner
from sitepick.desk.main_window import MainWindow
from sitepick.plan.file import read_plan
from sitepick.resource import sample_plan_path
app = application.make_application(["sitepick"])
path = sample_plan_path()
window = MainWindow(read_plan(path), path, JobRunner())
window.show()
while not window.map.isVisible():
    app.processEvents()
window.map.repaint()
seen = time.monotonic()
def drawn(_):
    print(f"{seen - float(sys.argv[1]):.2f} {time.monotonic() - seen:.2f}")
    window.history.mark_saved()
    window.close()
window.asker.drawn.connect(drawn)
app.exec()
"""


@pytest.mark.benchmark
def test_the_start():
    for number in range(3):
        begun = time.monotonic()
        done = subprocess.run(
            [sys.executable, "-c", _START, str(begun)], cwd=ROOT, capture_output=True, text=True, check=True
        )
        seen_s, answer_s = done.stdout.split()
        print(
            f"\nstart {number + 1}: window seen after {seen_s} s (at most 1.5 s), the sample's answer on the map "
            f"{answer_s} s later (at most 6 s)"
        )
