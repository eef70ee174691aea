"""The program as a process of its own on an X server of its own, driven from outside with xdotool.

``pytest -m screen tests/desk/test_real_process.py``; needs Xvfb and xdotool.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sitepick.plan.file import read_plan
from sitepick.resource import sample_plan_path

pytestmark = pytest.mark.screen

ROOT = Path(__file__).resolve().parents[2]
WINDOW_MS, STEP_MS = 120_000, 30_000


@pytest.fixture
def screen(qtbot: QtBot) -> Iterator[str]:
    """The name of an X server of this test alone."""
    reader, writer = os.pipe()
    server = subprocess.Popen(
        ["Xvfb", "-displayfd", str(writer), "-screen", "0", "1600x1000x24", "-nolisten", "tcp"],
        pass_fds=(writer,), stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(writer)
    with os.fdopen(reader) as told:
        number = told.readline().strip()
    yield f":{number}"
    server.terminate()
    server.wait()


class Program:
    """sitepick as a person starts it, with a home of its own.

    Parameters
    ----------
    screen : str
    home : Path
    wait : callable
        Waits until something holds.
    """

    def __init__(self, screen: str, home: Path, wait: Callable[..., None]) -> None:
        self.copies = home / "data" / "sitepick" / "unsaved"
        self._wait = wait
        self._env = {
            **os.environ, "DISPLAY": screen, "QT_QPA_PLATFORM": "xcb", "HOME": str(home),
            "XDG_DATA_HOME": str(home / "data"), "XDG_CONFIG_HOME": str(home / "config"),
            "XDG_STATE_HOME": str(home / "state"), "XDG_CACHE_HOME": str(home / "cache"),
        }  # fmt: skip
        self.process: subprocess.Popen[bytes] | None = None

    def start(self, *words: str) -> None:
        """Start it, and give its window the keyboard."""
        self.process = subprocess.Popen([sys.executable, "-m", "sitepick", *words], cwd=ROOT, env=self._env)
        self._wait(lambda: bool(self.titled("sitepick")), timeout=WINDOW_MS)
        self._tool("windowfocus", "--sync", self.titled("sitepick")[0])

    def titled(self, name: str) -> list[str]:
        """Windows that bear a name."""
        return self._tool("search", "--onlyvisible", "--name", name).split()

    def title(self) -> str:
        """The main window's title."""
        return self._tool("getwindowname", self.titled("sitepick$")[0]).strip()

    def keys(self, *names: str) -> None:
        """Press keys, one after the other."""
        self._tool("key", "--delay", "120", *names)

    def type(self, text: str) -> None:
        """Type a text."""
        self._tool("type", "--delay", "20", text)

    def focus(self, name: str) -> None:
        """Give a window that is about to open the keyboard."""
        self._wait(lambda: bool(self.titled(name)), timeout=STEP_MS)
        self._tool("windowfocus", "--sync", self.titled(name)[0])

    def copy(self) -> Path | None:
        """The copy of unsaved work, where there is one."""
        return next(iter(self.copies.glob("*/plan.geojson")), None)

    def kill(self) -> None:
        """End it as a dead battery would."""
        assert self.process is not None
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()

    def _tool(self, *words: str) -> str:
        done = subprocess.run(["xdotool", *words], env=self._env, capture_output=True, text=True, check=False)
        return done.stdout


@pytest.fixture
def program(screen: str, tmp_path: Path, qtbot: QtBot) -> Iterator[Program]:
    """A program that no test leaves running."""
    one = Program(screen, tmp_path / "home", qtbot.waitUntil)
    yield one
    if one.process is not None and one.process.poll() is None:
        one.kill()


def test_a_route_is_moved_saved_killed_brought_back_and_saved_again(program: Program, tmp_path: Path, qtbot: QtBot):
    sample = read_plan(sample_plan_path())
    mine = tmp_path / "mine.geojson"

    # Start on the sample, move a point of the route, save under a name.
    program.start()
    program.keys("r", "Next", "Next", "Left", "Left", "Escape")
    qtbot.waitUntil(lambda: program.copy() is not None, timeout=STEP_MS)
    program.keys("ctrl+shift+s")
    program.focus("Save plan as")
    program.keys("ctrl+a")
    program.type(str(mine))
    program.keys("Return")
    qtbot.waitUntil(mine.exists, timeout=STEP_MS)
    saved = read_plan(mine)
    assert saved.route.points[1] != sample.route.points[1]
    assert saved.route.points[2:] == sample.route.points[2:]
    qtbot.waitUntil(lambda: program.copy() is None, timeout=STEP_MS)

    # Move another point, and die before that is saved.
    program.focus("sitepick")
    program.keys("r", "Next", "Next", "Next", "Right", "Escape")
    qtbot.waitUntil(lambda: program.copy() is not None, timeout=STEP_MS)
    unsaved = read_plan(program.copy())
    program.kill()
    assert read_plan(mine) == saved

    # The next start has it, unsaved; quitting asks, Enter saves.
    program.start(str(mine))
    qtbot.waitUntil(lambda: "*" in program.title(), timeout=STEP_MS)
    program.keys("ctrl+q")
    program.focus("Unsaved changes")
    program.keys("Return")
    assert program.process is not None
    qtbot.waitUntil(lambda: program.process.poll() is not None, timeout=STEP_MS)
    assert program.process.returncode == 0
    assert read_plan(mine) == unsaved
    assert program.copy() is None
