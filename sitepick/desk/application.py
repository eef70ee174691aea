"""Opens the desk: the application, its type and colours, what happens when something breaks."""

from __future__ import annotations

import os
import sys
from pathlib import Path

from platformdirs import user_config_path, user_data_path, user_log_path
from PySide6.QtCore import Qt
from PySide6.QtGui import QFont, QGuiApplication
from PySide6.QtWidgets import QApplication

from sitepick import __version__
from sitepick.desk.crash import CrashHook
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import LABEL_PX
from sitepick.desk.main_window import MainWindow
from sitepick.desk.memory import Memory
from sitepick.desk.plan_keeper import Keepsakes
from sitepick.desk.translation import install_translation
from sitepick.errors import SitepickError
from sitepick.paint.fonts import register_fonts
from sitepick.plan.file import read_plan
from sitepick.resource import sample_plan_path


def open_desk(plan_path: Path | None) -> int:
    """Open the desk and stay until it is closed.

    Parameters
    ----------
    plan_path : Path or None
        The plan to open; None: the sample plan.

    Returns
    -------
    int
        What the process should end with.

    Raises
    ------
    SitepickError
        The plan can't be read, or there is no display to open a window on.
    """
    path = plan_path if plan_path is not None else sample_plan_path()
    plan = read_plan(path)
    application = make_application(sys.argv[:1])
    install_translation(application, own_folder=user_data_path("sitepick", appauthor=False) / "translations")
    hook = CrashHook(user_log_path("sitepick", appauthor=False))
    hook.install()
    keepsakes = Keepsakes(
        memory=Memory(user_config_path("sitepick", appauthor=False) / "desk.ini"),
        copies=user_data_path("sitepick", appauthor=False) / "unsaved",
    )
    window = MainWindow(plan, path, JobRunner(), keepsakes=keepsakes)
    window.broken.connect(hook.take_fault)
    window.show()
    window.greet()
    code = application.exec()
    hook.uninstall()
    return code


def make_application(arguments: list[str]) -> QApplication:
    """The application, with the shipped type; refuses where no window can be seen.

    Raises
    ------
    SitepickError
        There is no display.
    """
    is_chosen = "QT_QPA_PLATFORM" in os.environ
    if sys.platform.startswith("linux") and not is_chosen:
        # with a last resort named, Qt falls back to it where it would abort the process
        first = "wayland;xcb" if os.environ.get("WAYLAND_DISPLAY") else "xcb"
        os.environ["QT_QPA_PLATFORM"] = f"{first};offscreen"
    QGuiApplication.setHighDpiScaleFactorRoundingPolicy(Qt.HighDpiScaleFactorRoundingPolicy.PassThrough)
    application = QApplication(arguments)
    if not is_chosen and QGuiApplication.platformName() == "offscreen":
        raise SitepickError(
            "the display could not be opened",
            fix="start sitepick from a desktop session, or use: sitepick tonight PLAN --out DIR",
        )
    dress(application)
    return application


def dress(application: QApplication) -> None:
    """Name, style and type of the application."""
    application.setApplicationName("sitepick")
    application.setApplicationVersion(__version__)
    application.setDesktopFileName("sitepick")
    application.setStyle("Fusion")
    font = QFont([register_fonts(), "Noto Sans", "sans-serif"])
    font.setPixelSize(LABEL_PX)
    # tabular figures: numbers under each other line up
    font.setFeature(QFont.Tag("tnum"), 1)
    application.setFont(font)
