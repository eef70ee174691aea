"""Fails a test that logs a warning nobody expected."""

from __future__ import annotations

import logging

# GDAL's own chatter: every fault in it is raised as well, and tested there.
FOREIGN_LOGGERS = ("rasterio", "pyogrio")


class UnexpectedLogs(logging.Handler):
    """Gathers what is logged at WARNING and above, but for what a test says it expects."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self._records: list[logging.LogRecord] = []
        self._expected: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        if record.name.split(".")[0] not in FOREIGN_LOGGERS:
            self._records.append(record)

    def expect(self, text: str) -> None:
        """Let messages that contain a text pass."""
        self._expected.append(text)

    def unexpected(self) -> list[str]:
        """The messages that no one expected."""
        messages = [f"{record.levelname} {record.name}: {record.getMessage()}" for record in self._records]
        return [message for message in messages if not any(text in message for text in self._expected)]
