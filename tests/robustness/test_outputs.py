"""What is handed out is written whole or not at all, whatever the disk does."""

from __future__ import annotations

import json
import resource
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import pyogrio
import pytest

from sitepick.errors import SheetError
from sitepick.paint import write_pdf, write_png
from sitepick.sheet import lay_out_sheet, write_handout, write_layers
from sitepick.sheet.model import Sheet
from sitepick.tonight import Tonight
from sitepick.work import JobStopped, Watch
from tests.helpers.made_tonight import made_tonight

NAMES = [
    "order.md", "order.txt", "score.tif", "sheet.pdf",
    "tonight.geojson", "tonight.gpkg", "tonight.gpx", "tonight.json", "tonight.kml",
]  # fmt: skip


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight()


def draw(sheet: Sheet, path: Path) -> None:
    path.write_text(sheet.title, encoding="utf-8")


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir()}


@contextmanager
def disk_with_room_for(size_bytes: int) -> Iterator[None]:
    """No file may grow beyond a size: what a full disk looks like to a program, even to root."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size_bytes, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.slow
def test_nine_files_are_written_and_nothing_else(tmp_path: Path, answer: Tonight) -> None:
    written = write_handout(answer, tmp_path / "out", draw_pdf=draw)
    assert [path.name for path in written] == NAMES
    assert sorted(contents(tmp_path / "out")) == NAMES
    assert (tmp_path / "out" / "sheet.pdf").read_text(encoding="utf-8").startswith("Made plan")


@pytest.mark.slow
def test_without_qt_there_is_no_sheet_and_the_answer_says_so(tmp_path: Path, answer: Tonight) -> None:
    because = "Qt cannot be loaded."
    written = write_handout(answer, tmp_path, draw_pdf=None, no_sheet_because=because)
    assert [path.name for path in written] == [name for name in NAMES if name != "sheet.pdf"]
    told = json.loads((tmp_path / "tonight.json").read_text(encoding="utf-8"))["data"]["cautions"]
    assert {"kind": "data", "text": f"No sheet: {because}"} in told


@pytest.mark.slow
def test_an_older_sheet_beside_a_new_answer_is_pointed_out(tmp_path: Path, answer: Tonight) -> None:
    (tmp_path / "sheet.pdf").write_text("of yesterday")
    write_handout(answer, tmp_path, draw_pdf=None)
    told = json.loads((tmp_path / "tonight.json").read_text(encoding="utf-8"))["data"]["cautions"]
    assert any("sheet.pdf in this folder is an older one" in caution["text"] for caution in told)


@pytest.mark.slow
@pytest.mark.parametrize("size_bytes", [0, 4096, 60_000, 110_000])
def test_a_full_disk_leaves_the_old_files_as_they_were(tmp_path: Path, answer: Tonight, size_bytes: int) -> None:
    write_handout(answer, tmp_path, draw_pdf=draw)
    before = contents(tmp_path)
    with disk_with_room_for(size_bytes), pytest.raises(SheetError) as told:
        write_handout(answer, tmp_path, draw_pdf=draw)
    assert "room on the disk" in told.value.fix
    assert contents(tmp_path) == before


@pytest.mark.slow
@pytest.mark.parametrize("size_bytes", [0, 4096, 30_000])
def test_a_full_disk_keeps_the_sheet_and_the_picture_of_yesterday(
    qapp: Any, tmp_path: Path, answer: Tonight, size_bytes: int
) -> None:
    sheet = lay_out_sheet(answer)
    for name in ("sheet.pdf", "map.png"):
        (tmp_path / name).write_text("of yesterday")
    with disk_with_room_for(size_bytes):
        with pytest.raises(SheetError):
            write_pdf(sheet, tmp_path / "sheet.pdf")
        with pytest.raises(SheetError):
            write_png(sheet, 0, tmp_path / "map.png", 100.0)
    assert contents(tmp_path) == {"sheet.pdf": b"of yesterday", "map.png": b"of yesterday"}


@pytest.mark.slow
def test_a_folder_that_takes_no_files_is_told_with_what_to_do(qapp: Any, answer: Tonight) -> None:
    """Below /proc not even root can make a file."""
    for write in (
        lambda: write_handout(answer, Path("/proc/self"), draw_pdf=draw),
        lambda: write_layers(answer.plan, answer.ground, answer.terrain, Path("/proc/self/layers")),
        lambda: write_pdf(lay_out_sheet(answer), Path("/proc/self/sheet.pdf")),
        lambda: write_png(lay_out_sheet(answer), 0, Path("/proc/self/map.png"), 50.0),
    ):
        with pytest.raises(SheetError) as told:
            write()
        assert "folder you may write to" in told.value.fix


@pytest.mark.slow
def test_a_full_disk_leaves_no_half_written_layers(tmp_path: Path, answer: Tonight) -> None:
    write_layers(answer.plan, answer.ground, answer.terrain, tmp_path / "before")  # compiled loops are kept on disk too
    with disk_with_room_for(4096), pytest.raises(SheetError):
        write_layers(answer.plan, answer.ground, answer.terrain, tmp_path / "layers")
    assert not (tmp_path / "layers").exists()


@pytest.mark.slow
def test_a_sheet_that_cannot_be_drawn_leaves_nothing_behind(tmp_path: Path, answer: Tonight) -> None:
    def fail(sheet: Sheet, path: Path) -> None:
        path.write_text("half a sheet")
        raise SheetError("the sheet could not be drawn", fix="try again")

    with pytest.raises(SheetError, match="could not be drawn"):
        write_handout(answer, tmp_path / "new" / "out", draw_pdf=fail)
    assert not (tmp_path / "new").exists()


@pytest.mark.slow
@pytest.mark.parametrize("tick_count", range(1, 6))
def test_stopping_at_any_moment_leaves_the_old_files_as_they_were(
    tmp_path: Path, answer: Tonight, tick_count: int
) -> None:
    (tmp_path / "order.md").write_text("of yesterday")
    ticks: list[str] = []

    def count(step: str, done_count: int, total_count: int) -> None:
        ticks.append(step)
        if len(ticks) == tick_count - 1:
            watch.stop()

    watch = Watch(count)
    if tick_count == 1:
        watch.stop()
    with pytest.raises(JobStopped):
        write_handout(answer, tmp_path, draw_pdf=draw, watch=watch)
    assert contents(tmp_path) == {"order.md": b"of yesterday"}


def test_a_file_where_the_folder_should_be_is_told_as_such(tmp_path: Path, answer: Tonight) -> None:
    (tmp_path / "out").write_text("in the way")
    with pytest.raises(SheetError) as told:
        write_handout(answer, tmp_path / "out", draw_pdf=draw)
    assert told.value.where is not None
    assert (tmp_path / "out").read_text() == "in the way"


@pytest.mark.slow
@pytest.mark.parametrize("name", ["", "a|b <i> \"c\" 'd' ; DROP", "Αθήνα Якутск 雪山 خيمة", "line\nbreak\ttab"])
def test_any_name_survives_into_every_file(tmp_path: Path, name: str) -> None:
    answer = made_tonight(name=name)
    write_handout(answer, tmp_path, draw_pdf=draw)
    pick = answer.sites.sites[0].name
    told = json.loads((tmp_path / "tonight.json").read_text(encoding="utf-8"))
    assert told["sites"][0]["name"] == pick
    assert pyogrio.read_dataframe(tmp_path / "tonight.gpkg", layer="sites")["name"][0] == pick
    assert "Bench north of the river" in (tmp_path / "order.md").read_text(encoding="utf-8")
