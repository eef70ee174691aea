"""Our own mistakes: a window with a report to copy, and a log beside it. Nothing else shows them."""

from __future__ import annotations

import faulthandler
import platform
import sys
import threading
import traceback
from datetime import datetime
from pathlib import Path
from types import TracebackType
from typing import TextIO

import PySide6
from PySide6.QtCore import QObject, Qt, Signal, Slot
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QLabel, QPlainTextEdit, QPushButton, QVBoxLayout

from sitepick import __version__
from sitepick.desk.translation import tr

LOG_NAME = "crash.log"


def report_text(kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> str:
    """What happened, with the versions that a person who mends it needs."""
    lines = "".join(traceback.format_exception(kind, fault, trace))
    return (
        f"sitepick {__version__}, Python {platform.python_version()}, Qt {PySide6.__version__}, "
        f"{platform.platform()}\n{datetime.now().astimezone().isoformat(timespec='seconds')}\n\n{lines}"
    )


class CrashWindow(QDialog):
    """Tells that something of ours went wrong, with the report.

    Parameters
    ----------
    report : str
    """

    def __init__(self, report: str) -> None:
        super().__init__()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(tr("Something in sitepick went wrong"))
        said = QLabel(
            tr(
                "This is a mistake in sitepick, not yours. Your plan is still open: save it under another name, then "
                "start again. The report below tells what happened; nothing is sent anywhere."
            ),
            self,
        )
        said.setWordWrap(True)
        self.report = QPlainTextEdit(report, self)
        self.report.setReadOnly(True)
        self.report.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.report.setAccessibleName(tr("Report"))
        copy = QPushButton(tr("&Copy the report"), self)
        copy.clicked.connect(self._on_copy)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close, self)
        buttons.addButton(copy, QDialogButtonBox.ButtonRole.ActionRole)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(said)
        column.addWidget(self.report, 1)
        column.addWidget(buttons)
        self.resize(720, 420)

    @Slot()
    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report.toPlainText())


class CrashHook(QObject):
    """Takes every exception that nothing else took, from slots and threads alike.

    Parameters
    ----------
    folder : Path
        Where the log lies; made when missing.
    """

    _caught = Signal(str)

    def __init__(self, folder: Path) -> None:
        super().__init__()
        folder.mkdir(parents=True, exist_ok=True)
        self.log_path = folder / LOG_NAME
        self.window: CrashWindow | None = None
        self._fault_log: TextIO | None = None
        self._old_hooks = (sys.excepthook, threading.excepthook)
        # queued: the fault may come from a thread, the window may not
        self._caught.connect(self._on_caught, Qt.ConnectionType.QueuedConnection)

    def install(self) -> None:
        """Take over from now on; a hard crash of a library leaves its stack in the log."""
        self._fault_log = self.log_path.open("a", encoding="utf-8")
        faulthandler.enable(self._fault_log)
        sys.excepthook = self.take
        threading.excepthook = self._take_from_thread

    def uninstall(self) -> None:
        """Put back what was there before."""
        sys.excepthook, threading.excepthook = self._old_hooks
        if self._fault_log is not None:
            faulthandler.disable()
            self._fault_log.close()
            self._fault_log = None

    def take(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        """Log a fault and show it."""
        if issubclass(kind, KeyboardInterrupt):
            QGuiApplication.quit()
            return
        report = report_text(kind, fault, trace)
        with self.log_path.open("a", encoding="utf-8") as log:
            log.write(f"{report}\n")
        self._caught.emit(report)

    @Slot(object)
    def take_fault(self, fault: BaseException) -> None:
        """Log and show a fault that a job ended with."""
        self.take(type(fault), fault, fault.__traceback__)

    def _take_from_thread(self, args: threading.ExceptHookArgs) -> None:
        if args.exc_value is not None:
            self.take(args.exc_type, args.exc_value, args.exc_traceback)

    @Slot(str)
    def _on_caught(self, report: str) -> None:
        if self.window is not None:
            self.window.report.appendPlainText(f"\n{report}")
            return
        self.window = CrashWindow(report)
        self.window.destroyed.connect(self._on_window_gone)
        self.window.show()

    @Slot()
    def _on_window_gone(self) -> None:
        self.window = None
