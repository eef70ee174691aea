"""Long work: how it tells its progress, how it is stopped, how it shares the cores.

No Qt here. A `Watch` is handed down through the stages; each calls `tick` once a block of rows
(every 50 ms or less). The desk and the command line each hang their own listener on it.
"""

from __future__ import annotations

import os
import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager

BLOCK_ROWS = 128
BLOCK_CELLS = 256_000  # of wide rows fewer go together, so that a block ends within some hundredths of a second


class JobStopped(BaseException):
    """The person stopped the work. Not an error, and never caught by ``except Exception``."""


class Watch:
    """Progress and stopping for one piece of long work.

    Parameters
    ----------
    on_progress : callable, optional
        Called as ``on_progress(step, done_count, total_count)`` from whichever thread works.
    """

    def __init__(self, on_progress: Callable[[str, int, int], None] | None = None) -> None:
        self._on_progress = on_progress
        self._stopped = threading.Event()

    def stop(self) -> None:
        """Ask the work to end at its next tick. May be called from any thread."""
        self._stopped.set()

    @property
    def is_stopped(self) -> bool:
        """Whether `stop` was called."""
        return self._stopped.is_set()

    def tick(self, step: str, done_count: int = 0, total_count: int = 0) -> None:
        """Report progress, or end the work.

        Parameters
        ----------
        step : str
            What is being done, as a person reads it ("wind over the ground").
        done_count, total_count : int
            How much of it is done; 0 of 0 when not known.

        Raises
        ------
        JobStopped
            `stop` was called.
        """
        if self._stopped.is_set():
            raise JobStopped(step)
        if self._on_progress is not None:
            self._on_progress(step, done_count, total_count)


def thread_count() -> int:
    """How many threads of ours may run kernels side by side."""
    return max(1, min(8, len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1))


def run_row_blocks(
    kernel: Callable[[int, int], None],
    size: int | tuple[int, int],
    *,
    watch: Watch,
    step: str,
    block_rows: int | None = None,
) -> None:
    """Run a kernel over blocks of rows on a small pool of threads.

    The result must not depend on the order of the blocks: each writes its own rows only.

    Parameters
    ----------
    kernel : callable
        ``kernel(first_row, past_last_row)``; must release the GIL.
    size : int or tuple of int
        Rows in all, or rows and columns.
    watch : Watch
        Ticked once a block; stopping waits for the blocks in hand only.
    step : str
        What is being done, as a person reads it.
    block_rows : int, optional
        Rows at once; as many as `rows_at_once` tells if left out.

    Raises
    ------
    JobStopped
        The watch was stopped.
    """
    row_count, block_rows = _rows_of(size), block_rows or rows_at_once(size)
    starts = range(0, row_count, block_rows)
    done_count = 0
    watch.tick(step, 0, len(starts))
    if len(starts) == 1:  # starting threads would take longer than small work
        kernel(0, row_count)
        watch.tick(step, 1, 1)
        return
    with _pool() as pool:
        pending = []
        try:
            for first in starts:
                pending.append(pool.submit(kernel, first, min(first + block_rows, row_count)))
                if len(pending) > 2 * thread_count():
                    pending.pop(0).result()
                    done_count += 1
                    watch.tick(step, done_count, len(starts))
            for future in pending:
                future.result()
                done_count += 1
                watch.tick(step, done_count, len(starts))
        except BaseException:
            for future in pending:
                future.cancel()
            raise


def each_block(
    size: int | tuple[int, int], *, watch: Watch, step: str, block_rows: int | None = None
) -> Iterator[tuple[int, int]]:  # fmt: skip
    """Blocks of rows one after the other, where a block hangs on those before it.

    Parameters
    ----------
    size : int or tuple of int
        Rows in all, or rows and columns.
    watch : Watch
        Ticked before each block.
    step : str
        What is being done, as a person reads it.
    block_rows : int, optional
        Rows at once; as many as `rows_at_once` tells if left out.

    Yields
    ------
    first_row, past_last_row : int

    Raises
    ------
    JobStopped
        The watch was stopped.
    """
    row_count, block_rows = _rows_of(size), block_rows or rows_at_once(size)
    starts = range(0, row_count, block_rows)
    for done_count, first in enumerate(starts):
        watch.tick(step, done_count, len(starts))
        yield first, min(first + block_rows, row_count)


def rows_at_once(size: int | tuple[int, int]) -> int:
    """Rows of a block: `BLOCK_ROWS`, but no more than `BLOCK_CELLS` hold where the length of a row is told too."""
    return BLOCK_ROWS if isinstance(size, int) else max(1, min(BLOCK_ROWS, BLOCK_CELLS // max(1, size[1])))


def _rows_of(size: int | tuple[int, int]) -> int:
    return size if isinstance(size, int) else size[0]


@contextmanager
def _pool() -> Iterator[ThreadPoolExecutor]:
    with ThreadPoolExecutor(thread_count(), thread_name_prefix="sitepick-rows") as pool:
        yield pool
