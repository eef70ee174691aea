"""Will Qt load, and can a window open? Asked before anything imports Qt, so that the answer is a sentence."""

from __future__ import annotations

import csv
import ctypes
import importlib
import importlib.util
import os
import sys
from dataclasses import dataclass
from pathlib import Path

from sitepick.resource import resource_path

_MODULES = ("PySide6.QtCore", "PySide6.QtGui", "PySide6.QtSvg")


@dataclass(frozen=True, slots=True, kw_only=True)
class QtFault:
    """What keeps Qt from working here.

    Attributes
    ----------
    what, fix : str
        One clause each, without a full stop, as in `errors.SitepickError`.
    """

    what: str
    fix: str

    def __str__(self) -> str:
        return f"{self.what}; {self.fix}."


def drawing_fault() -> QtFault | None:
    """What keeps Qt from drawing into files; None when nothing does."""
    if importlib.util.find_spec("PySide6") is None:
        return QtFault(what="Qt is not installed", fix="install the Python package PySide6-Essentials")
    for name in _MODULES:
        try:
            importlib.import_module(name)
        except ImportError as fault:
            return QtFault(what=f"Qt cannot be loaded: {fault}", fix=_libraries_fix())
    return None


def window_fault() -> QtFault | None:
    """What keeps a window from opening (X11 and Wayland; elsewhere Qt needs nothing more); None when nothing does."""
    fault = drawing_fault()
    if fault is None and sys.platform == "linux":
        return _display_fault()
    return fault


def system_packages() -> tuple[str, ...]:
    """Debian's names of the libraries that Qt needs."""
    with resource_path("qt_system_libraries.csv").open(encoding="utf-8", newline="") as table:
        return tuple(row["debian_package"] for row in csv.DictReader(table))


def _libraries_fix() -> str:
    packages = " ".join(system_packages())
    return f"on Debian or Ubuntu, run: sudo apt-get install --no-install-recommends {packages}"


def _display_fault() -> QtFault | None:
    """Qt ends the whole process when its X11 plugin can't load: the plugin's own libraries are tried first."""
    chosen = os.environ.get("QT_QPA_PLATFORM", "")
    if chosen and not chosen.startswith("xcb"):
        return None
    if not chosen and os.environ.get("WAYLAND_DISPLAY"):
        return None
    if not os.environ.get("DISPLAY"):
        return QtFault(what="there is no display here", fix="start with xvfb-run -a, or sit at a screen")
    plugin = xcb_plugin()
    if plugin is None:
        return None
    try:
        ctypes.CDLL(str(plugin))
    except OSError as fault:
        return QtFault(what=f"Qt cannot open a window: {fault}", fix=_libraries_fix())
    return None


def xcb_plugin() -> Path | None:
    """Where Qt's X11 plugin lies; None where it can't be told."""
    spec = importlib.util.find_spec("PySide6")
    if spec is None or spec.origin is None:
        return None
    plugin = Path(spec.origin).parent / "Qt" / "plugins" / "platforms" / "libqxcb.so"
    return plugin if plugin.exists() else None
