"""Will Qt load, and can a window open? Asked before anything imports Qt, so that the answer is a sentence."""

from __future__ import annotations

import csv
import ctypes
import importlib
import importlib.util
import os
import sys
from pathlib import Path

from sitepick.resource import resource_path

_MODULES = ("PySide6.QtCore", "PySide6.QtGui", "PySide6.QtSvg")


def qt_trouble(*, window: bool = False) -> str | None:
    """What keeps Qt from drawing, as one or two sentences; None when nothing does.

    Parameters
    ----------
    window : bool
        Also ask whether a window can open here (X11 and Wayland; elsewhere Qt needs nothing more).
    """
    if importlib.util.find_spec("PySide6") is None:
        return "Qt is not installed. Install the Python package PySide6-Essentials."
    for name in _MODULES:
        try:
            importlib.import_module(name)
        except ImportError as fault:
            return f"Qt cannot be loaded: {fault}. {system_library_words()}"
    if window and sys.platform == "linux":
        return _window_trouble()
    return None


def system_library_words() -> str:
    """What to install on Debian and Ubuntu so that Qt loads and opens windows."""
    return f"On Debian or Ubuntu: sudo apt-get install --no-install-recommends {' '.join(system_packages())}"


def system_packages() -> tuple[str, ...]:
    """Debian's names of the libraries that Qt needs."""
    with resource_path("qt_system_libraries.csv").open(encoding="utf-8", newline="") as table:
        return tuple(row["debian_package"] for row in csv.DictReader(table))


def _window_trouble() -> str | None:
    """Qt ends the whole process when its X11 plugin can't load: try the plugin's own libraries first."""
    chosen = os.environ.get("QT_QPA_PLATFORM", "")
    if chosen and not chosen.startswith("xcb"):
        return None
    if not chosen and os.environ.get("WAYLAND_DISPLAY"):
        return None
    if not os.environ.get("DISPLAY"):
        return "There is no display here: use the commands that need no window, or start with xvfb-run -a."
    plugin = _xcb_plugin()
    if plugin is None:
        return None
    try:
        ctypes.CDLL(str(plugin))
    except OSError as fault:
        return f"Qt cannot open a window: {fault}. {system_library_words()}"
    return None


def _xcb_plugin() -> Path | None:
    """Where Qt's X11 plugin lies; None where it can't be told."""
    spec = importlib.util.find_spec("PySide6")
    if spec is None or spec.origin is None:
        return None
    plugin = Path(spec.origin).parent / "Qt" / "plugins" / "platforms" / "libqxcb.so"
    return plugin if plugin.exists() else None
