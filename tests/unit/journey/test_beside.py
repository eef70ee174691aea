"""Work on several routes side by side: room in memory, stopping, faults, and who is called where."""

from __future__ import annotations

import threading
from functools import partial

import pytest

from sitepick.errors import GroundError
from sitepick.journey.beside import Room, run_beside
from sitepick.work import JobStopped, Watch

SOON_S = 5.0


def test_results_come_in_the_order_of_the_jobs_and_not_in_that_of_their_ends():
    second_done = threading.Event()

    def first(watch):
        second_done.wait(SOON_S)
        return 1

    def second(watch):
        second_done.set()
        return 2

    assert run_beside([first, second], watch=Watch()) == [1, 2]


def test_nothing_to_do_is_done_at_once():
    assert run_beside([], watch=Watch()) == []


def test_a_fault_of_one_job_ends_the_others_and_is_what_is_told():
    others_stopped = threading.Event()

    def fails(watch):
        raise GroundError("no ground", fix="bring some")

    def waits(watch):
        try:
            while True:
                watch.tick("waiting")
        except JobStopped:
            others_stopped.set()
            raise

    with pytest.raises(GroundError, match="no ground"):
        run_beside([waits, fails], watch=Watch())
    assert others_stopped.is_set()


def test_stopping_the_whole_work_ends_every_job():
    whole = Watch()

    def stops(watch):
        whole.stop()
        watch.tick("on")

    with pytest.raises(JobStopped):
        run_beside([stops, stops], watch=whole)


def test_calls_are_made_on_the_thread_that_began_the_work_and_their_faults_end_the_job():
    called_on = []

    def asks(watch):
        watch.call_outside(lambda: called_on.append(threading.current_thread()))

    run_beside([asks, asks], watch=Watch())
    assert called_on == [threading.current_thread()] * 2

    def refused():
        raise OSError("the disk is full")

    with pytest.raises(OSError, match="the disk is full"):
        run_beside([lambda watch: watch.call_outside(refused), asks], watch=Watch())


def test_progress_counts_the_parts_of_all_routes():
    told = []
    whole = Watch(lambda *progress: told.append(progress))

    def job(name, watch):
        for part in range(3):
            watch.heading(f"{name}: part {part}", part, 3)
            watch.tick("a step that isn't told")
        watch.heading(name, 3, 3)

    run_beside([partial(job, "North"), partial(job, "South")], watch=whole)
    assert told[-1][1:] == (6, 6)
    assert {step.split(":")[0] for step, _, _ in told} == {"North", "South"}


def test_no_more_cells_are_held_at_once_than_there_is_room_for():
    room, held, most = Room(cells_max=10), [0], [0]
    changing = threading.Lock()

    def job(count, watch):
        with room.share(watch) as take:
            take(count)
            with changing:
                held[0] += count
                most[0] = max(most[0], held[0])
            for _ in range(50):
                watch.tick("busy")
            with changing:
                held[0] -= count

    run_beside([partial(job, count) for count in (6, 6, 4, 6, 4, 4)], watch=Watch())
    assert 6 <= most[0] <= 10


def test_what_is_larger_than_the_whole_room_is_let_in_alone():
    room = Room(cells_max=10)
    with room.share(Watch()) as take:
        take(25)
    with room.share(Watch()) as take:
        take(10)


def test_who_waits_for_room_can_be_stopped():
    room, stopped = Room(cells_max=10), Watch()
    stopped.stop()
    with room.share(Watch()) as take:
        take(8)
        with pytest.raises(JobStopped), room.share(stopped) as take_more:
            take_more(8)
