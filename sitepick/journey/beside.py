"""Several routes worked on side by side, on two threads, for as long as there is room in memory."""

from __future__ import annotations

import ctypes
import queue
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import contextmanager
from typing import TypeVar

from sitepick.work import JobStopped, Watch, thread_count

Result = TypeVar("Result")

AT_ONCE_MAX = 2  # each holds ground of its own
CELLS_AT_ONCE = 4_000_000  # ours: ground, terrain and ways take some 200 bytes a cell
_LOOK_S = 0.02


class Room:
    """Cells of ground that may be held at once by those who work side by side.

    Parameters
    ----------
    cells_max : int
        One that asks for more gets it when nobody else holds any.
    """

    def __init__(self, cells_max: int = CELLS_AT_ONCE) -> None:
        self._cells_max, self._held = cells_max, 0
        self._changed = threading.Condition()

    @contextmanager
    def share(self, watch: Watch) -> Iterator[Callable[[int], None]]:
        """One job's part of the room: what it takes is given back when the block ends.

        Parameters
        ----------
        watch : Watch
            Asked while there is no room.

        Yields
        ------
        callable
            ``take(cell_count)`` waits until there is room; to be called once.

        Raises
        ------
        work.JobStopped
            The watch was stopped.
        """
        taken = 0

        def take(cell_count: int) -> None:
            nonlocal taken
            with self._changed:
                while self._held and self._held + cell_count > self._cells_max:
                    watch.tick("waiting for room in memory")
                    self._changed.wait(_LOOK_S)
                self._held += cell_count
                taken += cell_count

        try:
            yield take
        finally:
            if taken:
                _give_back()
            with self._changed:
                self._held -= taken
                self._changed.notify_all()


def _give_back() -> None:
    """Hand freed memory back: the C library keeps what a thread has freed, and other threads can't use it."""
    if sys.platform == "linux":
        trim = getattr(ctypes.CDLL(None), "malloc_trim", None)  # of the GNU library only
        if trim is not None:
            trim(0)


class RouteWatch(Watch):
    """One route's watch beside those of others: stopped with them, and telling how far all of them are.

    Parameters
    ----------
    team : Team
    number : int
        Which of the jobs.
    """

    def __init__(self, team: Team, number: int) -> None:
        super().__init__()
        self._team, self._number = team, number
        self._step = ""

    @property
    def is_stopped(self) -> bool:
        """Whether the whole work was stopped, or one of the others failed."""
        return self._team.is_stopped

    def heading(self, step: str, done_count: int, total_count: int) -> None:
        """What is told from now on until the next heading, and how many of this route's parts are done."""
        self._step = step
        self._team.done[self._number] = done_count, total_count
        self.tick(step)

    def tick(self, step: str, done_count: int = 0, total_count: int = 0) -> None:
        """As `Watch.tick`; single steps of two routes in turn would be a flicker, so the heading is told instead."""
        if self.is_stopped:
            raise JobStopped(step)
        self._team.tell(self._step or step)

    def call_outside(self, call: Callable[[], None]) -> None:
        """Have something done by the thread that the whole work was begun on, and wait for it."""
        self._team.call_outside(call)


class Team:
    """Jobs side by side.

    Parameters
    ----------
    count : int
        How many jobs.
    watch : Watch
        Of the whole work.

    Attributes
    ----------
    done : list of (int, int)
        Of each job, how many of its parts are done and how many there are.
    """

    def __init__(self, count: int, watch: Watch) -> None:
        self.done = [(0, 1)] * count
        self._watch, self._failed = watch, threading.Event()
        self._telling = threading.Lock()
        self._calls: queue.SimpleQueue[tuple[Callable[[], None], Future[None]]] = queue.SimpleQueue()

    @property
    def is_stopped(self) -> bool:
        """Whether nothing more is to be done."""
        return self._failed.is_set() or self._watch.is_stopped

    def tell(self, step: str) -> None:
        """Tell the whole work's watch how far it is."""
        with self._telling:
            self._watch.tick(step, sum(done for done, _ in self.done), sum(total for _, total in self.done))

    def call_outside(self, call: Callable[[], None]) -> None:
        """As `RouteWatch.call_outside`."""
        answer: Future[None] = Future()
        self._calls.put((call, answer))
        answer.result()

    def run(self, jobs: Sequence[Callable[[RouteWatch], Result]]) -> list[Result]:
        """Run every job; see `run_beside`."""
        watches = [RouteWatch(self, number) for number in range(len(jobs))]
        with ThreadPoolExecutor(min(AT_ONCE_MAX, thread_count()), thread_name_prefix="sitepick-routes") as pool:
            futures = [pool.submit(job, watch) for job, watch in zip(jobs, watches, strict=True)]
            try:
                while not all(future.done() for future in futures):
                    self._serve()
                    if any(future.done() and future.exception() for future in futures):
                        self._failed.set()
            finally:
                self._failed.set()
                self._refuse(futures)
        faults = [fault for future in futures if (fault := future.exception()) is not None]
        for fault in sorted(faults, key=lambda fault: isinstance(fault, JobStopped)):
            raise fault  # the first that failed by itself, before those that were stopped for its sake
        return [future.result() for future in futures]

    def _serve(self) -> None:
        try:
            call, answer = self._calls.get(timeout=_LOOK_S)
        except queue.Empty:
            return
        try:
            call()
        except BaseException as fault:
            answer.set_exception(fault)
        else:
            answer.set_result(None)

    def _refuse(self, futures: Sequence[Future[Result]]) -> None:
        """Let go of those who still wait for a call, until every job has ended."""
        for future in futures:
            future.cancel()
        while not all(future.done() for future in futures):
            try:
                _, answer = self._calls.get(timeout=_LOOK_S)
            except queue.Empty:
                continue
            answer.set_exception(JobStopped("stopped"))


def run_beside(jobs: Sequence[Callable[[RouteWatch], Result]], *, watch: Watch) -> list[Result]:
    """Run jobs side by side on a few threads.

    Parameters
    ----------
    jobs : sequence of callable
        Each is handed its own watch.
    watch : Watch
        Of the whole work.

    Returns
    -------
    list
        Their results, in the same order.

    Raises
    ------
    BaseException
        What the first of them raised; the others are stopped then.
    work.JobStopped
        The watch was stopped.
    """
    return Team(len(jobs), watch).run(jobs)
