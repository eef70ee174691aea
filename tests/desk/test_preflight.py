"""Told in a sentence before Qt can end the process."""

from __future__ import annotations

import importlib
import subprocess
import sys
from typing import Any

import pytest

from sitepick.paint import preflight
from sitepick.paint.preflight import drawing_fault, system_packages, window_fault


def test_asking_loads_no_qt() -> None:
    code = "import sys, sitepick.paint; print([name for name in sys.modules if name.startswith('PySide6')])"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_where_qt_loads_nothing_keeps_it_from_drawing() -> None:
    assert drawing_fault() is None


def test_a_missing_library_is_named_with_the_one_command_that_helps(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(name: str) -> Any:
        raise ImportError("libGL.so.1: cannot open shared object file")

    monkeypatch.setattr(importlib, "import_module", fail)
    fault = drawing_fault()
    assert fault is not None
    assert "libGL.so.1" in fault.what
    assert "apt-get install" in fault.fix
    assert "libgl1" in fault.fix


def test_no_display_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("QT_QPA_PLATFORM", "DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(sys, "platform", "linux")
    fault = window_fault()
    assert fault is not None
    assert str(fault) == "there is no display here; start with xvfb-run -a, or sit at a screen."


def test_a_library_that_a_window_needs_is_tried_before_qt_is(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(path: str) -> Any:
        raise OSError("libxcb-cursor.so.0: cannot open shared object file")

    for name in ("QT_QPA_PLATFORM", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("DISPLAY", ":0")
    monkeypatch.setattr(sys, "platform", "linux")
    assert preflight.xcb_plugin() is not None
    monkeypatch.setattr(preflight.ctypes, "CDLL", fail)
    fault = window_fault()
    assert fault is not None
    assert "libxcb-cursor" in fault.what


def test_a_platform_chosen_by_hand_is_left_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    monkeypatch.delenv("DISPLAY", raising=False)
    assert window_fault() is None


def test_the_packages_are_debians_names() -> None:
    packages = system_packages()
    assert len(packages) == len(set(packages)) == 10
    assert "libxkbcommon-x11-0" in packages
    assert all(package == package.lower() for package in packages)
