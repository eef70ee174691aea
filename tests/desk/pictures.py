"""Pictures of the window for people to look at: ``python -m tests.desk.pictures DIR [PLAN]``.

Without a plan, the sample plan is used where its files are there. Every picture is of the real window
with real answers; QT_SCALE_FACTOR=2 gives them at double scale.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", f"offscreen:configfile={Path(__file__).parents[1].joinpath('offscreen.json')}")

from PySide6.QtCore import QEventLoop, QTimer
from PySide6.QtWidgets import QApplication

from sitepick.desk.application import make_application
from sitepick.desk.desk_work import DeskWork
from sitepick.desk.field_book import PAGE_NAMES
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
