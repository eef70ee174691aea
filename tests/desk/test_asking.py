"""Answers while one drags: with a real thread, late ones are dropped and Stop stops."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from sitepick.desk.asking import Asker
from sitepick.desk.desk_work import DeskWork
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look
from sitepick.plan.edits import with_values
from sitepick.plan.model import Plan
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS, QuickWork


class SlowWork(QuickWork):
    """Waits at a gate, ticking, until it is opened."""

    def __init__(self, answer: Tonight) -> None:
        super().__init__(answer)
        self.entered = threading.Event()
        self.opened = threading.Event()

    def work_out_tonight(self, plan: Plan, previous: Tonight | None, watch: Watch) -> Tonight:
        self.entered.set()
        while not self.opened.wait(0.002):
            watch.tick("wind over the ground", 3, 10)
        return super().work_out_tonight(plan, previous, watch)


@pytest.fixture
def slow(answer: Tonight) -> SlowWork:
    return SlowWork(answer)


@pytest.fixture
def asker(qapp: object, look: Look, slow: SlowWork) -> Iterator[Asker]:
    runner = JobRunner()
    work: DeskWork = slow.desk_work()
    yield Asker(runner, work, look.palette)
    runner.shutdown()


def windy(plan: Plan, kmh: float) -> Plan:
    return with_values(plan, "weather", wind_kmh=kmh)


def test_only_the_newest_plan_is_answered(qtbot: QtBot, asker: Asker, slow: SlowWork, answer: Tonight):
    answers: list[Tonight] = []
    asker.answered.connect(answers.append)
    asker.show_plan(windy(answer.plan, 30.0))
    qtbot.waitUntil(slow.entered.is_set, timeout=WAIT_MS)
    asker.show_plan(windy(answer.plan, 50.0))
    with qtbot.waitSignal(asker.drawn, timeout=WAIT_MS):
        slow.opened.set()
        qtbot.waitUntil(lambda: asker.is_fresh, timeout=WAIT_MS)
    assert [one.plan.weather.wind_kmh for one in answers] == [50.0]


def test_stop_ends_the_work_and_says_so(qtbot: QtBot, asker: Asker, slow: SlowWork, answer: Tonight):
    asker.show_plan(answer.plan)
    qtbot.waitUntil(slow.entered.is_set, timeout=WAIT_MS)
    with qtbot.waitSignal(asker.stopped, timeout=WAIT_MS):
        asker.stop()
    assert slow.plans == []
    assert asker.answer is None


def test_progress_is_told_while_it_works(qtbot: QtBot, asker: Asker, slow: SlowWork, answer: Tonight):
    with qtbot.waitSignal(asker.progressed, timeout=WAIT_MS) as told:
        asker.show_plan(answer.plan)
    assert told.args == ["wind over the ground", 3, 10]
    asker.stop()


def test_a_plan_is_named_old_as_soon_as_it_changes(qtbot: QtBot, asker: Asker, slow: SlowWork, answer: Tonight):
    slow.opened.set()
    with qtbot.waitSignal(asker.drawn, timeout=WAIT_MS):
        asker.show_plan(answer.plan)
    assert asker.is_fresh
    with qtbot.waitSignal(asker.asked, timeout=WAIT_MS):
        asker.show_plan(replace(answer.plan, name="Another"))
    assert not asker.is_fresh
    asker.stop()
