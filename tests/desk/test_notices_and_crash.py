"""Two roads that never mix: what a person can mend, and our own mistakes."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from sitepick.desk.crash import CrashHook
from sitepick.desk.notices import NoticeBar
from sitepick.errors import GroundError

WAIT_MS = 5000


@pytest.fixture
def bar(qtbot: QtBot) -> NoticeBar:
    bar = NoticeBar()
    qtbot.addWidget(bar)
    return bar


def test_a_notice_tells_what_and_what_to_do_and_the_place_on_request(qtbot: QtBot, bar: NoticeBar):
    bar.show_error(GroundError("the cover file has no projection", fix="give it one", where="/maps/cover.tif"))
    assert bar.text == "The cover file has no projection. Give it one."
    details = next(button for button in bar.findChildren(QToolButton) if button.text() == "Details")
    qtbot.mouseClick(details, Qt.MouseButton.LeftButton)
    assert bar.text.endswith("/maps/cover.tif")


def test_a_notice_goes_when_it_is_closed(qtbot: QtBot, bar: NoticeBar):
    bar.show_text("Handout written.")
    close = next(button for button in bar.findChildren(QToolButton) if button.text() == "Close")
    with qtbot.waitSignal(bar.closed, timeout=WAIT_MS):
        qtbot.mouseClick(close, Qt.MouseButton.LeftButton)
    assert bar.text == ""


@pytest.fixture
def hook(qapp: object, tmp_path: Path) -> Iterator[CrashHook]:
    before = sys.excepthook, threading.excepthook
    hook = CrashHook(tmp_path / "log")
    hook.install()
    yield hook
    hook.uninstall()
    assert (sys.excepthook, threading.excepthook) == before
    if hook.window is not None:
        hook.window.close()


def test_an_exception_that_nobody_took_opens_a_window_and_a_log(qtbot: QtBot, hook: CrashHook):
    with pytest.raises(ZeroDivisionError) as caught:
        _ = 1 / int("0")
    sys.excepthook(caught.type, caught.value, caught.tb)
    qtbot.waitUntil(lambda: hook.window is not None, timeout=WAIT_MS)
    assert hook.window is not None
    report = hook.window.report.toPlainText()
    assert "ZeroDivisionError: division by zero" in report
    assert "test_notices_and_crash" in report
    assert "sitepick" in report.splitlines()[0]
    assert "division by zero" in hook.log_path.read_text(encoding="utf-8")


def test_a_threads_exception_comes_to_the_same_window(qtbot: QtBot, hook: CrashHook):
    def fail() -> None:
        raise RuntimeError("in a thread")

    thread = threading.Thread(target=fail)
    thread.start()
    thread.join()
    qtbot.waitUntil(lambda: hook.window is not None, timeout=WAIT_MS)
    assert hook.window is not None
    assert "RuntimeError: in a thread" in hook.window.report.toPlainText()


def test_a_second_fault_is_added_to_the_open_report_which_can_be_copied(qtbot: QtBot, hook: CrashHook):
    hook.take_fault(ValueError("first"))
    hook.take_fault(ValueError("second"))
    qtbot.waitUntil(lambda: hook.window is not None and "second" in hook.window.report.toPlainText(), timeout=WAIT_MS)
    assert hook.window is not None
    copy = next(button for button in hook.window.findChildren(QPushButton) if "Copy" in button.text())
    qtbot.mouseClick(copy, Qt.MouseButton.LeftButton)
    copied = QGuiApplication.clipboard().text()
    assert "first" in copied
    assert "second" in copied
