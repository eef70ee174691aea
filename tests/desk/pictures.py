"""Pictures of the window for people to look at: ``python -m tests.desk.pictures DIR [PLAN]``.

Without a plan, the sample plan is used. Every picture is of the real window with real answers: each page, each
factor looked through, the looks, a small screen, the states that nobody hopes for; then the main ones at 200 %.
"""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from functools import partial
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", f"offscreen:configfile={Path(__file__).parents[1].joinpath('offscreen.json')}")

from PySide6.QtCore import QEventLoop, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QCursor
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QScrollArea

from sitepick.desk.application import make_application
from sitepick.desk.desk_work import DeskWork
from sitepick.desk.display import Display
from sitepick.desk.edit import PlanEdit
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.fold import Fold
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look_through import FACTORS
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import MARK, MOVE
from sitepick.plan.edits import with_people, with_values
from sitepick.plan.file import read_plan
from sitepick.plan.mark_edits import with_area_added, with_observer_added
from sitepick.plan.model import Area, Plan
from sitepick.plan.observer import Observer
from sitepick.resource import sample_plan_path

ANSWER_WITHIN_MS = 240_000


def settle(ms: int = 60) -> None:
    """Let the window catch up."""
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


class Photographer:
    """Takes the pictures of one window.

    Parameters
    ----------
    plan : Plan
    path : Path or None
    folder : Path
    work : DeskWork, optional
        Quicker work, for a test of this program.
    """

    def __init__(self, plan: Plan, path: Path | None, folder: Path, work: DeskWork | None = None) -> None:
        self.plan = plan
        self.path = path
        self.folder = folder
        self.work = work
        self.window = MainWindow(plan, path, JobRunner(), work=work)
        self.window.resize(1440, 900)
        self.window.show()

    def wait(self, *told: str) -> None:
        """Wait for one of the asker's signals, or for the work to come to nothing."""
        loop = QEventLoop()
        for name in (*told, "refused", "broken"):
            getattr(self.window.asker, name).connect(loop.quit)
        QTimer.singleShot(ANSWER_WITHIN_MS, loop.quit)
        loop.exec()
        settle(300)

    def take(self, name: str) -> None:
        """Save the window as it looks now."""
        settle()
        self.window.grab().save(str(self.folder / f"{name}.png"))

    def point(self, x: int, y: int) -> None:
        """Point at a pixel of the map."""
        QTest.mouseMove(self.window.map, QPoint(x, y))
        settle()

    def apply(self, text: str, change: object) -> None:
        """Change the plan and wait for its answer."""
        self.window.apply(PlanEdit(text=text, change=change))  # type: ignore[arg-type]
        self.wait("drawn")

    def pages(self) -> None:
        """Every page, as wide as it usually is."""
        for index, name in enumerate(PAGE_NAMES):
            self.window.field_book.choose_page(index)
            settle(600)  # long lists are made a few rows at a time
            self.take(f"{index + 1}-page-{name.lower()}")

    def factors(self) -> None:
        """Every factor over the whole map, and one in the lens."""
        window = self.window
        window.field_book.choose_page(PAGE_NAMES.index("Sites"))
        for number, factor in enumerate(FACTORS, start=1):
            window.look_through(factor.key)
            self.wait("layered")
            self.take(f"through-{number:02}-{factor.key}")
        window.look_through("wind_share")
        self.wait("layered")
        window.map.show_lens(True)
        self.point(520, 330)
        self.take("through-lens")
        window.map.show_lens(False)
        window.look_through("")

    def marks(self) -> None:
        """Marks drawn, a point asked about, near the camp."""
        window, grid = self.window, self.window.asker.answer.ground.grid
        lon, lat = grid.to_lonlat(*grid.centre_m)
        ring = tuple((float(lon) + dx, float(lat) + dy) for dx, dy in ((0, 0), (0.03, 0.0), (0.025, 0.012), (0, 0.01)))
        change = partial(with_area_added, area=Area(name="Reindeer fence", ring=ring))
        self.apply("Mark Reindeer fence", change)
        seer = Observer(place=(float(lon) - 0.03, float(lat) + 0.02), name="Cabin")
        self.apply("Mark Cabin", partial(with_observer_added, observer=seer))
        window.map.choose_verb(MARK)
        for x, y in ((300, 500), (380, 480), (400, 560)):
            QTest.mouseClick(window.map, Qt.MouseButton.LeftButton, pos=QPoint(x, y))
        self.point(420, 600)
        self.take("marks")
        window.map.choose_verb(MOVE)
        east_m, north_m = window.map.frame.to_ground(430, 420)
        window.asker.ask_place(east_m, north_m)
        self.wait("explained")
        self.take("why-here")
        window.choose_site(1)
        for _ in range(9):
            window.map.zoom_in()
        settle(400)
        self.point(600, 300)
        self.take("near")
        window.map.show_all()

    def camp(self) -> None:
        """The camp near, with what no post sees, a shelter in hand, and the whole page."""
        window, camp_page = self.window, self.window.field_book.camp
        window.field_book.choose_page(PAGE_NAMES.index("Camp"))
        camp_page.fields.dead_ground_toggled.emit(True)
        key = ("shelter", window.asker.answer.camp.shelters[0].shelter.name)
        window.map.take_thing(key)
        camp_page.show_thing(key)
        settle(300)
        self.take("camp")
        for _ in range(3):
            QTest.keyClick(window.map, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier)
        window.map.zoom_in()
        self.take("camp-in-hand")
        window.map.choose_verb(MOVE)
        camp_page.fields.dead_ground_toggled.emit(False)
        for fold in camp_page.findChildren(Fold):
            fold.button.setChecked(True)
        scroll = camp_page.findChild(QScrollArea)
        for number in range(1, 4):
            settle()
            scroll.verticalScrollBar().setValue(number * 560)
            self.take(f"camp-page-{number}")
        scroll.verticalScrollBar().setValue(0)
        window.map.show_all()

    def looks(self) -> None:
        """Dark, night, other units, a small screen."""
        window = self.window
        for name in ("dark", "night"):
            window.show_look(name)
            self.wait("drawn")
            window.field_book.choose_page(PAGE_NAMES.index("Sites"))
            self.take(f"look-{name}")
        window.show_look("day")
        self.wait("drawn")
        window.show_display(Display(form="latlon", is_imperial=True))
        self.point(480, 360)
        window.field_book.choose_page(PAGE_NAMES.index("March"))
        self.take("imperial")
        window.show_display(Display())
        window.resize(1280, 720)
        settle(300)
        self.take("small-1280x720")
        window.resize(1000, 640)
        settle(300)
        self.take("small-1000x640")
        window.resize(1440, 900)

    def states(self) -> None:
        """The way through, the manual, progress, nothing found, files that are gone."""
        window = self.window
        window.guide.start()
        self.take("guide")
        window.guide.hide()
        window.show_help("Map")
        settle(200)
        window.findChild(type(window._help)).grab().save(str(self.folder / "manual.png"))
        window._help.close()
        depart = window.history.plan.march.depart
        window.apply(
            PlanEdit(text="Leave later", change=partial(with_values, part="march", depart=depart.replace(hour=9)))
        )
        settle(900)
        self.take("progress")
        self.wait("drawn")
        self.apply("Ask too much", _too_much)
        window.field_book.choose_page(PAGE_NAMES.index("Sites"))
        self.take("empty-no-site")
        window.field_book.choose_page(PAGE_NAMES.index("Camp"))
        self.take("empty-camp")
        gone = replace(self.plan.ground, elevation=(Path("/maps/that/are/gone.tif"),))
        self.apply("Lose the heights", lambda plan: replace(plan, ground=gone))
        window.field_book.choose_page(PAGE_NAMES.index("Ground"))
        self.take("error-file-gone")

    def close(self) -> None:
        """Close the window, whatever isn't saved."""
        self.window.history.mark_saved()
        self.window.close()


def picture_all(plan: Plan, path: Path | None, folder: Path, work: DeskWork | None = None) -> None:
    """Every picture at the scale in use."""
    one = Photographer(plan, path, folder, work)
    one.take("0-first")
    one.wait("drawn")
    one.pages()
    one.factors()
    one.marks()
    one.camp()
    one.looks()
    one.states()
    one.close()


def picture_large(plan: Plan, path: Path | None, folder: Path) -> None:
    """The pages only, for another scale."""
    one = Photographer(plan, path, folder)
    one.wait("drawn")
    one.pages()
    one.close()


def _too_much(plan: Plan) -> Plan:
    """More people, farther apart, than the ground can hold."""
    return with_values(with_people(plan, 400), "camp", spacing_m=300.0)


def main(arguments: list[str]) -> None:
    """Take the pictures."""
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    path = Path(arguments[1]) if len(arguments) > 1 else sample_plan_path()
    application = QApplication.instance() or make_application(["pictures"])
    QCursor.setPos(QPointF(0, 0).toPoint())
    if os.environ.get("QT_SCALE_FACTOR", "1") == "1":
        picture_all(read_plan(path), path, folder)
        again = [sys.executable, "-m", "tests.desk.pictures", str(folder / "at-200"), str(path)]
        subprocess.run(again, env={**os.environ, "QT_SCALE_FACTOR": "2"}, check=True)
    else:
        picture_large(read_plan(path), path, folder)
    del application


if __name__ == "__main__":
    main(sys.argv[1:])
