"""Long work off the window's thread. The one class here starts threads, and nothing else in the desk may."""

from __future__ import annotations

import math
import time
from collections.abc import Callable
from concurrent.futures import Executor, Future, ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial
from typing import Any

from PySide6.QtCore import QCoreApplication, QObject, Qt, Signal, Slot

from sitepick.work import JobStopped, Watch

Work = Callable[[Watch], object]
TOLD_EVERY_S = 0.05  # a bar is painted at each step that is told: all of them in a row would hold up the window


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Job:
    """A request in hand."""

    job_id: int
    group: str
    watch: Watch


class _RunNow(Executor):
    """Runs each request at once, in the thread that asks; for tests."""

    def submit(self, fn: Callable[..., Any], /, *args: Any, **named: Any) -> Future[Any]:
        future: Future[Any] = Future()
        try:
            future.set_result(fn(*args, **named))
        except BaseException as fault:  # handed on just as a pool does
            future.set_exception(fault)
        return future


class JobRunner(QObject):
    """Runs one job at a time beside the window.

    A newer request in a group stops the older one, whose answer is dropped. What is told arrives in
    the runner's own thread, and never before the caller has the job's id. Exactly one of `finished`,
    `failed` and `stopped` ends every job.

    Parameters
    ----------
    run_now : bool
        Work in the caller's thread, for tests. What is told still arrives through the event loop.
    parent : QObject, optional

    Signals
    -------
    started(int)
        The job's work has begun.
    progressed(int, str, int, int)
        Step, how much is done, how much there is (0 of 0: not known); no more than twenty times a second.
    finished(int, object)
        With the result.
    failed(int, object)
        With the exception.
    stopped(int)
        By a person, by a newer request, or because the window closes.
    """

    started = Signal(int)
    progressed = Signal(int, str, int, int)
    finished = Signal(int, object)
    failed = Signal(int, object)
    stopped = Signal(int)

    _began = Signal(int)
    _ticked = Signal(int, str, int, int)
    _ended = Signal(int, object)

    def __init__(self, *, run_now: bool = False, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool: Executor = _RunNow() if run_now else ThreadPoolExecutor(1, thread_name_prefix="sitepick-job")
        self._jobs: dict[int, _Job] = {}
        self._last_id = 0
        self._is_shut = False
        self._told_at = -math.inf
        queued = Qt.ConnectionType.QueuedConnection
        self._began.connect(self._on_began, queued)
        self._ticked.connect(self._on_ticked, queued)
        self._ended.connect(self._on_ended, queued)

    def submit(self, group: str, work: Work) -> int:
        """Ask for work; whatever is in hand in the same group is stopped.

        Parameters
        ----------
        group : str
            Requests that replace each other.
        work : callable
            ``work(watch) -> result``. Frozen and complete: it must not read the plan, a widget or a
            setting that may change while it runs.

        Returns
        -------
        int
            The job's id, as every signal carries it.
        """
        if self._is_shut:
            raise ValueError("a runner that is shut down takes no more work")
        self.stop(group)
        self._last_id += 1
        job_id = self._last_id
        job = _Job(job_id=job_id, group=group, watch=Watch(partial(self._ticked.emit, job_id)))
        self._jobs[job_id] = job
        future = self._pool.submit(self._run, job, work)
        future.add_done_callback(partial(self._ended.emit, job_id))
        return job_id

    def stop(self, group: str) -> None:
        """Stop whatever is in hand in a group; `stopped` tells when it has ended."""
        for job in self._jobs.values():
            if job.group == group:
                job.watch.stop()

    @property
    def is_shut(self) -> bool:
        """Whether it takes no more work."""
        return self._is_shut

    def shutdown(self) -> None:
        """Stop everything, wait for it, and deliver every end that is still owed."""
        self._is_shut = True
        for job in self._jobs.values():
            job.watch.stop()
        self._pool.shutdown(wait=True)
        QCoreApplication.sendPostedEvents(self, 0)

    def _run(self, job: _Job, work: Work) -> object:
        if job.watch.is_stopped:
            raise JobStopped(job.group)
        self._began.emit(job.job_id)
        return work(job.watch)

    @Slot(int)
    def _on_began(self, job_id: int) -> None:
        self._told_at = -math.inf
        if not self._jobs[job_id].watch.is_stopped:
            self.started.emit(job_id)

    @Slot(int, str, int, int)
    def _on_ticked(self, job_id: int, step: str, done_count: int, total_count: int) -> None:
        job = self._jobs.get(job_id)
        now = time.monotonic()
        if job is not None and not job.watch.is_stopped and now - self._told_at >= TOLD_EVERY_S:
            self._told_at = now
            self.progressed.emit(job_id, step, done_count, total_count)

    @Slot(int, object)
    def _on_ended(self, job_id: int, future: Future[object]) -> None:
        job = self._jobs.pop(job_id)
        fault = future.exception()
        if job.watch.is_stopped or isinstance(fault, JobStopped):
            self.stopped.emit(job_id)
        elif fault is not None:
            self.failed.emit(job_id, fault)
        else:
            self.finished.emit(job_id, future.result())
