"""Hours of sun where the pointer rests: looking along the whole horizon takes too long for a pointer on its way."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal, Slot

from sitepick.desk.ground_reading import sun_row
from sitepick.desk.jobs import JobRunner
from sitepick.work import Watch

if TYPE_CHECKING:
    from sitepick.tonight import Tonight

RESTED_MS = 200


class SunReading(QObject):
    """Asks for the sun once the pointer has rested.

    Parameters
    ----------
    runner : JobRunner
    parent : QObject, optional

    Signals
    -------
    told(str, str)
        Label and value for the place asked about last.
    """

    told = Signal(str, str)

    def __init__(self, runner: JobRunner, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._runner = runner
        self._job_id: int | None = None
        self._asked: tuple[Tonight, float, float] | None = None
        self._timer = QTimer(self, singleShot=True, interval=RESTED_MS)
        self._timer.timeout.connect(self._on_rested)
        runner.finished.connect(self._on_finished)

    def ask(self, answer: Tonight, east_m: float, north_m: float) -> None:
        """Tell of this place soon, and no more of the one before."""
        self._asked, self._job_id = (answer, east_m, north_m), None
        self._timer.start()

    def drop(self) -> None:
        """Tell no more of any place."""
        self._job_id = None
        self._timer.stop()

    @Slot()
    def _on_rested(self) -> None:
        if self._asked is not None and not self._runner.is_shut:
            self._job_id = self._runner.submit("sun", partial(_sun, *self._asked))

    @Slot(int, object)
    def _on_finished(self, job_id: int, row: tuple[str, str] | None) -> None:
        if job_id == self._job_id and row is not None:
            self.told.emit(*row)


def _sun(answer: Tonight, east_m: float, north_m: float, watch: Watch) -> tuple[str, str] | None:
    return sun_row(answer, east_m, north_m)
