"""What holds for every test: the Qt platform, no network, no unexpected log, no thread left alive."""

from __future__ import annotations

import logging
import os
import socket
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings

from tests.helpers.logfail import UnexpectedLogs

# The same examples on every machine, and no stopwatch: timing never fails a test.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.load_profile("steady")

# Before anything imports Qt. A screen large enough for the window at double scale; a platform chosen by hand stays.
os.environ.setdefault("QT_QPA_PLATFORM", f"offscreen:configfile={Path(__file__).with_name('offscreen.json')}")


@pytest.fixture(autouse=True)
def no_network(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """No test reaches out, but for those marked `network`."""
    if request.node.get_closest_marker("network") is not None:
        return

    def refuse(self: socket.socket, address: Any) -> None:
        raise AssertionError(f"a test tried to reach {address}")

    monkeypatch.setattr(socket.socket, "connect", refuse)
    monkeypatch.setattr(socket.socket, "connect_ex", refuse)


@pytest.fixture(autouse=True)
def unexpected_logs() -> Iterator[UnexpectedLogs]:
    """Fail a test that logs a warning; ``unexpected_logs.expect(text)`` lets one pass."""
    handler = UnexpectedLogs()
    logging.getLogger().addHandler(handler)
    yield handler
    logging.getLogger().removeHandler(handler)
    messages = handler.unexpected()
    if messages:
        pytest.fail("logged, and not expected:\n" + "\n".join(messages))


@pytest.fixture(autouse=True)
def no_thread_left() -> Iterator[None]:
    """Fail a test that leaves a thread running."""
    before = set(threading.enumerate())
    yield
    left = [thread for thread in threading.enumerate() if thread not in before and thread.is_alive()]
    if left:
        pytest.fail(f"left running: {', '.join(thread.name for thread in left)}")
