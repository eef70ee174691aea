"""The helper that fails a test for an unexpected log does so, and only then."""

from __future__ import annotations

import logging
from collections.abc import Iterator

import pytest

from tests.helpers.logfail import UnexpectedLogs


@pytest.fixture
def logger_and_handler() -> Iterator[tuple[logging.Logger, UnexpectedLogs]]:
    logger = logging.getLogger("made.for.this.test")
    logger.propagate = False
    handler = UnexpectedLogs()
    logger.addHandler(handler)
    yield logger, handler
    logger.removeHandler(handler)
    logger.propagate = True


def test_a_warning_is_unexpected_unless_it_was_announced(logger_and_handler: tuple[logging.Logger, UnexpectedLogs]):
    logger, handler = logger_and_handler
    logger.warning("the ice is thin")
    logger.error("the bridge is out")
    assert len(handler.unexpected()) == 2
    handler.expect("ice is thin")
    assert handler.unexpected() == ["ERROR made.for.this.test: the bridge is out"]


def test_what_is_only_told_is_no_warning(logger_and_handler: tuple[logging.Logger, UnexpectedLogs]):
    logger, handler = logger_and_handler
    logger.setLevel(logging.DEBUG)
    logger.info("two cautions")
    assert handler.unexpected() == []


def test_the_drivers_own_chatter_passes():
    handler = UnexpectedLogs()
    handler.handle(logging.LogRecord("rasterio._env", logging.ERROR, __file__, 1, "CPLE_OpenFailed", None, None))
    assert handler.unexpected() == []
