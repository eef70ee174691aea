"""A made answer, a window that answers at once, and hands that work it as a person would."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sitepick.desk.application import dress
from sitepick.desk.desk_work import DeskWork, Drawing, find_way
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look, look_named, qt_palette
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_picture import HeightLabels, LineSet, MapPicture, picture_levels
from sitepick.desk.memory import Memory
from sitepick.desk.plan_keeper import Keepsakes
from sitepick.desk.route_sign import ReachLines
from sitepick.ground import RouteFile, read_routes
from sitepick.march import Proposal
from sitepick.plan.file import read_plan
from sitepick.plan.model import LonLat, Plan, Route
from sitepick.sheet.palette import Palette
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.helpers.made_tonight import made_tonight

WAIT_MS = 30_000  # a busy machine is no fault


@pytest.fixture(scope="session")
def answer() -> Tonight:
    """An answer with three sites and an alternative route."""
    return made_tonight(alternatives=(Route(name="By the lake", points=((21.0, 67.42), (21.06, 67.43))),))


@pytest.fixture(scope="session")
def nothing_found() -> Tonight:
    """An answer without a site."""
    return made_tonight(site_count=0)


@pytest.fixture(scope="session")
def look(qapp: QApplication) -> Look:
    """The day look; a window wears its sheet by itself."""
    dress(qapp)
    look = look_named("day")
    qapp.setPalette(qt_palette(look))
    return look


def read_routes_anywhere(path: Path, plan: Plan, watch: Watch) -> RouteFile:
    """The routes of a file, wherever they lie: the made plan's ground is no file."""
    return read_routes(path)


class QuickWork:
    """Work that answers with a made answer and remembers what it was asked."""

    def __init__(self, answer: Tonight) -> None:
        self.answer = answer
        self.plans: list[Plan] = []
        self.previous: list[Tonight | None] = []
        self.folders: list[Path] = []
        self.fault: BaseException | None = None
        self.find_way = find_way
        self.take_route_file = read_routes_anywhere

    def work_out_tonight(self, plan: Plan, previous: Tonight | None, watch: Watch) -> Tonight:
        watch.tick("slope", 1, 2)
        self.plans.append(plan)
        self.previous.append(previous)
        if self.fault is not None:
            raise self.fault
        return replace(self.answer, plan=plan)

    def draw_answer(self, answer: Tonight, palette: Palette, previous: Drawing | None, watch: Watch) -> Drawing:
        grid = answer.ground.grid
        grey = np.full((*grid.shape, 3), 200, dtype=np.uint8)
        lines = LineSet((), grid)
        picture = MapPicture(
            grid=grid, levels=picture_levels(grey), contours=lines, index_contours=lines, streams=lines,
            tracks=lines, interval_m=10.0, heights=HeightLabels(()),
        )  # fmt: skip
        return Drawing(answer=answer, palette=palette, picture=picture, reach=ReachLines())

    def explain_place(self, answer: Tonight, east_m: float, north_m: float, watch: Watch) -> str:
        return "Too steep: 12° where 10° is the limit."

    def hand_out(self, answer: Tonight, folder: Path, watch: Watch) -> tuple[Path, ...]:
        self.folders.append(folder)
        return (folder / "sheet.pdf", folder / "order.md")

    def _find_way(self, answer: Tonight, plan: Plan, ends: tuple[LonLat, LonLat], watch: Watch) -> Proposal:
        return self.find_way(answer, plan, ends, watch)

    def desk_work(self) -> DeskWork:
        return DeskWork(
            work_out_tonight=self.work_out_tonight,
            draw_answer=self.draw_answer,
            explain_place=self.explain_place,
            hand_out=self.hand_out,
            find_way=self._find_way,
            take_route_file=self.take_route_file,
        )


@pytest.fixture
def work(answer: Tonight) -> QuickWork:
    """Work that answers at once with the made answer."""
    return QuickWork(answer)


@pytest.fixture
def open_window(qtbot: QtBot, look: Look, work: QuickWork) -> Iterator[Callable[[], MainWindow]]:
    """Opens windows that answer at once, and closes them."""
    windows: list[MainWindow] = []

    def open_one(path: Path | None = None, keepsakes: Keepsakes | None = None) -> MainWindow:
        plan = work.answer.plan if path is None else read_plan(path)
        window = MainWindow(plan, path, JobRunner(run_now=True), work=work.desk_work(), keepsakes=keepsakes)
        qtbot.addWidget(window, before_close_func=lambda window: window.history.mark_saved())
        windows.append(window)
        window.show()
        qtbot.waitExposed(window)
        return window

    yield open_one
    for window in windows:
        window.history.mark_saved()
        window.close()


@pytest.fixture
def keepsakes(tmp_path: Path) -> Keepsakes:
    """A memory and a folder for copies, of this test alone."""
    return Keepsakes(memory=Memory(tmp_path / "config" / "desk.ini"), copies=tmp_path / "data" / "unsaved")


@pytest.fixture
def window(qtbot: QtBot, open_window: Callable[[], MainWindow]) -> MainWindow:
    """A window that shows an answer."""
    window = open_window()
    with qtbot.waitSignal(window.asker.drawn, timeout=WAIT_MS):
        pass
    return window
