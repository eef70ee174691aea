"""Pictures of the window for people to look at: ``python -m tests.desk.pictures DIR [PLAN]``.

Without a plan, the sample plan is used where its files are there. Every picture is of the real window
with real answers; QT_SCALE_FACTOR=2 gives them at double scale.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", f"offscreen:configfile={Path(__file__).parents[1].joinpath('offscreen.json')}")

from PySide6.QtCore import QEvent, QEventLoop, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QApplication, QScrollArea

from sitepick.desk.application import make_application
from sitepick.desk.desk_work import DeskWork
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.fold import Fold
from sitepick.desk.jobs import JobRunner
from sitepick.desk.main_window import MainWindow
from sitepick.plan.file import read_plan
from sitepick.plan.model import Plan
from sitepick.resource import sample_plan_path

ANSWER_WITHIN_MS = 120_000


def settle(ms: int = 60) -> None:
    """Let the window catch up."""
    loop = QEventLoop()
    QTimer.singleShot(ms, loop.quit)
    loop.exec()


def wait_for_drawing(window: MainWindow) -> None:
    """Wait until the answer is worked out and drawn."""
    loop = QEventLoop()
    window.asker.drawn.connect(lambda _: loop.quit())
    window.asker.refused.connect(lambda error: (print(error), loop.quit()))
    window.asker.broken.connect(lambda fault: (print(repr(fault)), loop.quit()))
    QTimer.singleShot(ANSWER_WITHIN_MS, loop.quit)
    loop.exec()
    settle(400)


def take(window: MainWindow, folder: Path, name: str) -> None:
    """Save the window as it looks now."""
    settle()
    window.grab().save(str(folder / f"{name}.png"))


def picture_all(plan: Plan, path: Path | None, folder: Path, work: DeskWork | None = None) -> None:
    """Every page, both looks, near and far."""
    window = MainWindow(plan, path, JobRunner(), work=work)
    window.show()
    take(window, folder, "0-first")
    wait_for_drawing(window)
    for index, name in enumerate(PAGE_NAMES):
        window.field_book.choose_page(index)
        take(window, folder, f"{index + 1}-{name.lower()}")
    window.choose_site(1)
    for _ in range(9):
        window.map.zoom_in()
    settle(300)
    take(window, folder, "6-near")
    picture_camp(window, folder)
    window.map.show_all()
    window.show_look("dark")
    wait_for_drawing(window)
    window.field_book.choose_page(PAGE_NAMES.index("Sites"))
    take(window, folder, "7-dark")
    window.resize(1000, 640)
    window.show_look("day")
    wait_for_drawing(window)
    take(window, folder, "8-small")
    window.history.mark_saved()
    window.close()


def picture_camp(window: MainWindow, folder: Path) -> None:
    """The camp near and nearer, with what no post sees, a shelter in hand, and in the other looks."""
    window.field_book.choose_page(PAGE_NAMES.index("Camp"))
    window.field_book.camp.fields.dead_ground_toggled.emit(True)
    answer = window.asker.answer
    if answer is None or answer.camp is None:
        return
    key = ("shelter", answer.camp.shelters[0].shelter.name)
    window.map.take_thing(key)
    window.field_book.camp.show_thing(key)
    settle(300)
    take(window, folder, "9-camp")
    for _ in range(3):
        window.map.keyPressEvent(QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_Right, Qt.KeyboardModifier.ShiftModifier))
    window.map.zoom_in()
    take(window, folder, "9-camp-in-hand")
    window.map.choose_verb("move")
    window.field_book.camp.fields.dead_ground_toggled.emit(False)
    for fold in window.field_book.camp.findChildren(Fold):
        fold.button.setChecked(True)
    scroll = window.field_book.camp.findChild(QScrollArea)
    for number in range(1, 4):
        settle()
        scroll.verticalScrollBar().setValue(number * 560)
        take(window, folder, f"9-camp-page-{number}")
    scroll.verticalScrollBar().setValue(0)
    for look in ("dark", "night"):
        window.show_look(look)
        wait_for_drawing(window)
        take(window, folder, f"9-camp-{look}")
    window.show_look("day")
    wait_for_drawing(window)


def main(arguments: list[str]) -> None:
    """Take the pictures."""
    folder = Path(arguments[0])
    folder.mkdir(parents=True, exist_ok=True)
    path = Path(arguments[1]) if len(arguments) > 1 else sample_plan_path()
    application = QApplication.instance() or make_application(["pictures"])
    picture_all(read_plan(path), path, folder)
    del application


if __name__ == "__main__":
    main(sys.argv[1:])
