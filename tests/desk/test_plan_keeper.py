"""Nothing is lost: copies of unsaved work, crashes, other windows, full disks, files that moved."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sitepick.desk import plan_files
from sitepick.desk.edit import PlanEdit
from sitepick.desk.ground_places import missing_files, with_file_moved
from sitepick.desk.main_window import MainWindow
from sitepick.desk.plan_keeper import COPY_AFTER_MS, Keepsakes
from sitepick.desk.side_copy import SideCopy, left_overs
from sitepick.plan.edits import with_values
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.model import Plan
from sitepick.tonight import Tonight
from tests.desk.conftest import QuickWork

ROOT = Path(__file__).resolve().parents[2]
OpenWindow = Callable[..., MainWindow]


def wind(kmh: float) -> PlanEdit:
    return PlanEdit(text="Change wind speed", change=partial(with_values, part="weather", wind_kmh=kmh))


@pytest.fixture
def plan_path(tmp_path: Path, answer: Tonight) -> Path:
    """A saved plan."""
    path = tmp_path / "plans" / "hill.geojson"
    path.parent.mkdir()
    write_plan(answer.plan, path)
    return path


def wait_for_copy(qtbot: QtBot, keepsakes: Keepsakes) -> None:
    qtbot.waitUntil(lambda: bool(list(keepsakes.copies.glob("*/plan.geojson"))), timeout=COPY_AFTER_MS * 10)


def test_unsaved_work_is_copied_and_the_copy_goes_when_it_is_saved(
    qtbot: QtBot, open_window: OpenWindow, keepsakes: Keepsakes, plan_path: Path
):
    window = open_window(plan_path, keepsakes)
    window.apply(wind(44.0))
    wait_for_copy(qtbot, keepsakes)
    copy = next(keepsakes.copies.glob("*/plan.geojson"))
    assert read_plan(copy) == window.history.plan
    assert window.save()
    assert not list(keepsakes.copies.iterdir())
    assert read_plan(plan_path) == window.history.plan


def test_a_copy_that_a_living_window_holds_is_no_left_over(keepsakes: Keepsakes, answer: Tonight):
    copy = SideCopy(keepsakes.copies)
    copy.write(answer.plan, None)
    assert left_overs(keepsakes.copies) == ()
    copy.drop()


_WINDOW_THAT_DIES = """
import sys
from functools import partial
from pathlib import Path
from sitepick.desk.application import make_application
from sitepick.desk.edit import PlanEdit
from sitepick.desk.jobs import JobRunner
from sitepick.desk.main_window import MainWindow
from sitepick.desk.memory import Memory
from sitepick.desk.plan_keeper import Keepsakes
from sitepick.plan.edits import with_values
from sitepick.plan.file import read_plan
path, root = Path(sys.argv[1]), Path(sys.argv[2])
app = make_application(["sitepick"])
keepsakes = Keepsakes(memory=Memory(root / "config" / "desk.ini"), copies=root / "data" / "unsaved")
window = MainWindow(read_plan(path), path, JobRunner(), keepsakes=keepsakes)
window.show()
window.apply(PlanEdit(text="Change wind speed", change=partial(with_values, part="weather", wind_kmh=77.0)))
app.exec()
"""


@pytest.mark.slow
def test_a_window_that_is_killed_gives_its_work_back_at_the_next_start(
    qtbot: QtBot, open_window: OpenWindow, keepsakes: Keepsakes, plan_path: Path, tmp_path: Path
):
    process = subprocess.Popen(
        [sys.executable, "-c", _WINDOW_THAT_DIES, str(plan_path), str(tmp_path)],
        cwd=ROOT, env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
    )  # fmt: skip
    try:
        qtbot.waitUntil(lambda: bool(list(keepsakes.copies.glob("*/plan.geojson"))), timeout=60_000)
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait()
    window = open_window(plan_path, keepsakes)
    window.greet()
    assert window.history.plan.weather.wind_kmh == 77.0
    assert window.isWindowModified()
    assert window.notices.text.startswith("Unsaved work of")
    assert len(list(keepsakes.copies.glob("*/plan.geojson"))) == 1  # this window's own, not the dead one's
    window.history.stack.undo()
    assert window.history.plan == read_plan(plan_path)


def test_work_on_a_plan_without_a_file_comes_back_unsaved(
    open_window: OpenWindow, keepsakes: Keepsakes, answer: Tonight
):
    lost = replace(answer.plan, note="never saved")
    SideCopy(keepsakes.copies).write(lost, None)  # its lock goes with it, as with a process that dies
    window = open_window(None, keepsakes)
    window.keeper.bring_back(window.keeper.left[0])
    assert window.history.plan == lost
    assert not window.history.is_saved


def test_work_left_behind_on_another_plan_is_told_and_this_one_stays(
    open_window: OpenWindow, keepsakes: Keepsakes, plan_path: Path, answer: Tonight
):
    SideCopy(keepsakes.copies).write(replace(answer.plan, name="The other valley"), plan_path.with_name("gone.geojson"))
    window = open_window(plan_path, keepsakes)
    window.greet()
    assert window.history.plan == read_plan(plan_path)
    assert "The other valley" in window.notices.text
    window.menus.show_files(window.keeper.recent, window.keeper.left)
    window.menus._left.actions()[0].trigger()
    assert window.history.plan.name == "The other valley"


def test_whoever_saves_second_is_asked_first(
    open_window: OpenWindow, plan_path: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
):
    first, second = open_window(plan_path), open_window(plan_path)
    first.apply(wind(31.0))
    second.apply(wind(52.0))
    assert first.save()
    asked: list[str] = []

    def keep_both(parent: object, name: str) -> str:
        asked.append(name)
        return "other"

    monkeypatch.setattr(plan_files, "ask_changed_elsewhere", keep_both)
    other = tmp_path / "other.geojson"
    monkeypatch.setattr(plan_files, "ask_save", lambda parent, suggested: other)
    assert second.save()
    assert asked == ["hill.geojson"]
    assert read_plan(plan_path).weather.wind_kmh == 31.0
    assert read_plan(other).weather.wind_kmh == 52.0


def test_saving_twice_over_ones_own_file_asks_nothing(
    open_window: OpenWindow, plan_path: Path, monkeypatch: pytest.MonkeyPatch
):
    def never(parent: object, name: str) -> str:
        raise AssertionError("asked")

    monkeypatch.setattr(plan_files, "ask_changed_elsewhere", never)
    window = open_window(plan_path)
    for kmh in (31.0, 32.0):
        window.apply(wind(kmh))
        assert window.save()


_SAVE_PAST_A_LIMIT = """
import resource, signal, sys
from pathlib import Path
from sitepick.errors import PlanFileError
from sitepick.plan.file import read_plan, write_plan
plan = read_plan(sys.argv[1])
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (200, 200))
try:
    write_plan(plan, Path(sys.argv[1]))
except PlanFileError as fault:
    print(fault)
"""


@pytest.mark.slow
def test_no_room_for_the_file_leaves_the_old_one_whole(plan_path: Path):
    before = plan_path.read_bytes()
    done = subprocess.run(
        [sys.executable, "-c", _SAVE_PAST_A_LIMIT, str(plan_path)], cwd=ROOT, capture_output=True, text=True, check=True
    )
    assert "could not write" in done.stdout
    assert "room on the disk" in done.stdout
    assert plan_path.read_bytes() == before
    assert [path.name for path in plan_path.parent.iterdir()] == [plan_path.name]


def test_a_fault_while_saving_is_told_and_the_plan_stays_unsaved(open_window: OpenWindow, plan_path: Path):
    window = open_window(plan_path)
    window.apply(wind(44.0))
    plan_path.unlink()
    plan_path.parent.rmdir()
    plan_path.parent.write_text("in the way")
    assert not window.keeper.save_to(plan_path)
    assert window.notices.text.startswith("There is a file of this name.")
    assert window.isWindowModified()


def test_a_plan_of_a_newer_version_is_told_and_this_one_stays(
    open_window: OpenWindow, plan_path: Path, answer: Tonight
):
    document = json.loads(plan_path.read_text(encoding="utf-8"))
    document["sitepick"]["version"] = 99
    newer = plan_path.with_name("newer.geojson")
    newer.write_text(json.dumps(document), encoding="utf-8")
    window = open_window(plan_path)
    window.open_plan(newer)
    assert "newer version" in window.notices.text
    assert window.keeper.path == plan_path


def test_plans_opened_and_saved_are_listed_the_last_one_first(
    open_window: OpenWindow, keepsakes: Keepsakes, plan_path: Path
):
    other = plan_path.with_name("vale.geojson")
    other.write_bytes(plan_path.read_bytes())
    window = open_window(plan_path, keepsakes)
    window.open_plan(other)
    assert window.keeper.recent == (other, plan_path)
    plan_path.unlink()
    assert window.keeper.recent == (other,)


def test_a_raster_that_moved_is_found_with_what_lies_beside_it(answer: Tonight, tmp_path: Path):
    old, new = tmp_path / "old", tmp_path / "new"
    new.mkdir()
    for name in ("dem.tif", "cover.tif"):
        (new / name).write_bytes(b"")
    ground = replace(answer.plan.ground, elevation=(old / "dem.tif",), cover=(old / "cover.tif",), legend="worldcover")
    assert missing_files(ground) == (old / "dem.tif", old / "cover.tif")
    moved = with_file_moved(ground, old / "dem.tif", new / "dem.tif")
    assert (moved.elevation, moved.cover) == ((new / "dem.tif",), (new / "cover.tif",))
    assert missing_files(moved) == ()


def test_the_desk_asks_for_the_place_of_a_raster_that_is_gone(
    qtbot: QtBot, window: MainWindow, work: QuickWork, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    from sitepick.errors import GroundError

    lost, found = tmp_path / "gone" / "dem.tif", tmp_path / "dem.tif"
    found.write_bytes(b"")
    work.fault = GroundError("there is no such file", fix="check the name", where=str(lost))

    def lose(plan: Plan) -> Plan:
        return replace(plan, ground=replace(plan.ground, elevation=(lost,), cover=(found,)))

    with qtbot.waitSignal(window.asker.refused):
        window.apply(PlanEdit(text="Lose the heights", change=lose))
    assert window.notices.text.startswith("The file dem.tif isn't where the plan says.")
    work.fault = None
    monkeypatch.setattr(plan_files, "ask_new_place", lambda parent, missing: found)
    with qtbot.waitSignal(window.asker.drawn):
        window.notices.wish_chosen.emit()
    assert window.history.plan.ground.elevation == (found,)
    assert window.history.stack.undoText() == "Find dem.tif"
