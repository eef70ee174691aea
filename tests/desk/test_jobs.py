"""Long work: exactly one end a job, newer stops older, nothing left behind."""

from __future__ import annotations

import threading
from collections import Counter
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from sitepick.desk.jobs import JobRunner
from sitepick.errors import GroundError
from sitepick.work import Watch

WAIT_MS = 5000


class Heard:
    """Everything a runner tells, in order."""

    def __init__(self, runner: JobRunner) -> None:
        self.told: list[tuple] = []
        self.threads: set[int] = set()
        for name in ("started", "progressed", "finished", "failed", "stopped"):
            getattr(runner, name).connect(lambda *args, name=name: self._hear(name, *args))

    def _hear(self, name: str, *args: object) -> None:
        self.threads.add(threading.get_ident())
        self.told.append((name, *args))

    def ends(self) -> list[tuple]:
        return [entry for entry in self.told if entry[0] in ("finished", "failed", "stopped")]

    def end_of(self, job_id: int) -> tuple:
        (end,) = [entry for entry in self.ends() if entry[1] == job_id]
        return end


@pytest.fixture
def runner(qapp: object) -> Iterator[JobRunner]:
    runner = JobRunner()
    yield runner
    runner.shutdown()


@pytest.fixture
def heard(runner: JobRunner) -> Heard:
    return Heard(runner)


class Gate:
    """Work that waits at a gate and ticks while it waits."""

    def __init__(self) -> None:
        self.entered = threading.Event()
        self.opened = threading.Event()

    def __call__(self, watch: Watch) -> str:
        self.entered.set()
        while not self.opened.wait(0.002):
            watch.tick("waiting")
        return "through"


def test_a_job_starts_progresses_and_finishes_in_the_windows_thread(qtbot: QtBot, runner: JobRunner, heard: Heard):
    def work(watch: Watch) -> str:
        watch.tick("slope", 1, 2)
        return threading.current_thread().name

    job_id = runner.submit("tonight", work)
    assert heard.told == []
    qtbot.waitUntil(lambda: len(heard.ends()) == 1, timeout=WAIT_MS)
    assert heard.told[:2] == [("started", job_id), ("progressed", job_id, "slope", 1, 2)]
    assert heard.told[2][2].startswith("sitepick-job")
    assert heard.threads == {threading.get_ident()}


def test_a_burst_of_three_hundred_requests_ends_each_once_and_answers_the_last(
    qtbot: QtBot, runner: JobRunner, heard: Heard
):
    def answer(number: int) -> object:
        def work(watch: Watch) -> int:
            for step in range(5):
                watch.tick("counting", step, 5)
            return number

        return work

    ids = [runner.submit("tonight", answer(number)) for number in range(300)]
    qtbot.waitUntil(lambda: len(heard.ends()) >= 300, timeout=WAIT_MS)
    assert Counter(entry[1] for entry in heard.ends()) == Counter(ids)
    assert heard.end_of(ids[-1]) == ("finished", ids[-1], 299)
    assert all(heard.end_of(job_id)[0] == "stopped" for job_id in ids[:-1])


def test_a_newer_request_stops_the_older_of_its_group_only(qtbot: QtBot, runner: JobRunner, heard: Heard):
    gate = Gate()
    older = runner.submit("tonight", gate)
    other = runner.submit("picture", lambda watch: "drawn")
    qtbot.waitUntil(gate.entered.is_set, timeout=WAIT_MS)
    newer = runner.submit("tonight", lambda watch: "newer")
    qtbot.waitUntil(lambda: len(heard.ends()) == 3, timeout=WAIT_MS)
    assert heard.end_of(older) == ("stopped", older)
    assert heard.end_of(other) == ("finished", other, "drawn")
    assert heard.end_of(newer) == ("finished", newer, "newer")


def test_an_answer_that_comes_after_stop_is_dropped(qtbot: QtBot, runner: JobRunner, heard: Heard):
    entered, opened = threading.Event(), threading.Event()

    def deaf(watch: Watch) -> str:
        entered.set()
        opened.wait(WAIT_MS / 1000)
        return "too late"

    job_id = runner.submit("tonight", deaf)
    qtbot.waitUntil(entered.is_set, timeout=WAIT_MS)
    runner.stop("tonight")
    opened.set()
    qtbot.waitUntil(lambda: len(heard.ends()) == 1, timeout=WAIT_MS)
    assert heard.end_of(job_id) == ("stopped", job_id)


@pytest.mark.parametrize("fault", [GroundError("no height", fix="add a file"), ZeroDivisionError("ours")])
def test_a_fault_ends_a_job_as_failed_and_the_next_still_runs(
    qtbot: QtBot, runner: JobRunner, heard: Heard, fault: Exception
):
    def work(watch: Watch) -> None:
        raise fault

    bad = runner.submit("tonight", work)
    good = runner.submit("picture", lambda watch: 1)
    qtbot.waitUntil(lambda: len(heard.ends()) == 2, timeout=WAIT_MS)
    assert heard.end_of(bad) == ("failed", bad, fault)
    assert heard.end_of(good) == ("finished", good, 1)


def test_shutdown_waits_ends_every_job_and_leaves_no_thread(qtbot: QtBot, qapp: object):
    runner = JobRunner()
    heard = Heard(runner)
    gate = Gate()
    ids = [runner.submit("tonight", gate), runner.submit("picture", lambda watch: 1)]
    qtbot.waitUntil(gate.entered.is_set, timeout=WAIT_MS)
    runner.shutdown()
    assert sorted(entry[1] for entry in heard.ends()) == ids
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("sitepick-job")]
    with pytest.raises(ValueError, match="shut down"):
        runner.submit("tonight", gate)


def test_run_now_still_answers_after_the_caller_has_the_id(qtbot: QtBot, qapp: object):
    runner = JobRunner(run_now=True)
    heard = Heard(runner)
    job_id = runner.submit("tonight", lambda watch: threading.get_ident())
    assert heard.ends() == []
    qtbot.waitUntil(lambda: len(heard.ends()) == 1, timeout=WAIT_MS)
    assert heard.end_of(job_id) == ("finished", job_id, threading.get_ident())
    runner.shutdown()
