"""The sheet looked at page by page, printed and saved from the desk; the leader's lines in the order."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pypdf
import pytest
from PySide6.QtCore import QMarginsF, Qt
from PySide6.QtGui import QImage, QPageLayout, QPageSize
from PySide6.QtPrintSupport import QPrinter
from pytestqt.qtbot import QtBot

from sitepick.desk import handout_files, plan_files, printing
from sitepick.desk.handing_out import HandingOut
from sitepick.desk.handout_work import HandoutWork, Preview, make_preview, save_picture
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look
from sitepick.desk.main_window import MainWindow
from sitepick.desk.page_view import as_seen
from sitepick.errors import SheetError
from sitepick.sheet.layout import lay_out_sheet
from sitepick.tonight import Tonight
from sitepick.work import JobStopped, Watch
from tests.desk.conftest import WAIT_MS
from tests.desk.test_paper import horizontal_lengths_mm

MM_PER_POINT = 25.4 / 72.0


@pytest.fixture(scope="module")
def preview(qapp: Any, answer: Tonight) -> Preview:
    return make_preview(answer, Watch())


@pytest.fixture
def dialog(qtbot: QtBot, look: Look, answer: Tonight, preview: Preview) -> HandingOut:
    """The window with the made answer's pages in view."""
    work = HandoutWork(make_preview=lambda answer, watch: preview)
    window = HandingOut(JobRunner(run_now=True), work)
    qtbot.addWidget(window)
    window.show_plan(answer.plan)
    window.show_answer(answer)
    window.show()
    qtbot.waitUntil(lambda: window.print_button.isEnabled(), timeout=WAIT_MS)
    return window


@pytest.mark.slow
def test_pages_are_leafed_through_one_by_one(qtbot: QtBot, dialog: HandingOut, preview: Preview) -> None:
    count = len(preview.images)
    assert count >= 2
    assert dialog.place.text() == f"Page 1 of {count}."
    assert not dialog.back.isEnabled()
    for number in range(2, count + 1):
        dialog.on.click()
        assert dialog.place.text() == f"Page {number} of {count}."
    assert not dialog.on.isEnabled()
    qtbot.keyClick(dialog.pages, Qt.Key.Key_PageUp)
    assert dialog.pages.index == count - 2


@pytest.mark.slow
def test_an_old_sheet_is_not_handed_out(dialog: HandingOut, answer: Tonight) -> None:
    buttons = (dialog.print_button, dialog.pdf_button, dialog.folder_button, dialog.map_choice.button)
    dialog.show_stale(True)
    assert not any(button.isEnabled() for button in buttons)
    assert "plan has changed" in dialog.place.text()
    dialog.show_answer(answer)
    assert all(button.isEnabled() for button in buttons)


@pytest.mark.slow
def test_a_sheet_is_laid_out_only_once_somebody_looks(qtbot: QtBot, look: Look, answer: Tonight) -> None:
    asked: list[Tonight] = []

    def remember(answer: Tonight, watch: Watch) -> Preview:
        asked.append(answer)
        raise SheetError("there is no ink", fix="buy some")

    window = HandingOut(JobRunner(run_now=True), HandoutWork(make_preview=remember))
    qtbot.addWidget(window)
    window.show_answer(answer)
    assert not asked
    window.show()
    qtbot.waitUntil(lambda: "buy some" in window.told.text(), timeout=WAIT_MS)
    assert asked == [answer]
    assert not window.print_button.isEnabled()


@pytest.mark.slow
def test_the_sheet_is_saved_as_pdf(
    qtbot: QtBot, dialog: HandingOut, preview: Preview, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(handout_files, "ask_pdf", lambda parent, folder: tmp_path / "s.pdf")
    dialog.pdf_button.click()
    qtbot.waitUntil(lambda: "saved as" in dialog.told.text(), timeout=WAIT_MS)
    assert len(pypdf.PdfReader(tmp_path / "s.pdf").pages) == len(preview.sheet.pages)


@pytest.mark.slow
def test_a_folder_that_will_not_do_is_told_and_the_window_goes_on(
    qtbot: QtBot, dialog: HandingOut, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setattr(handout_files, "ask_pdf", lambda parent, folder: tmp_path / "file" / "s.pdf")
    dialog.pdf_button.click()
    qtbot.waitUntil(lambda: "folder" in dialog.told.text(), timeout=WAIT_MS)
    assert dialog.pdf_button.isEnabled()


@pytest.mark.slow
def test_everything_is_written_to_a_folder(
    qtbot: QtBot, dialog: HandingOut, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(plan_files, "ask_folder", lambda parent, folder: tmp_path / "out")
    dialog.folder_button.click()
    qtbot.waitUntil(lambda: "Handout written" in dialog.told.text(), timeout=4 * WAIT_MS)
    assert {"sheet.pdf", "order.txt", "tonight.gpkg"} <= {path.name for path in (tmp_path / "out").iterdir()}


@pytest.mark.slow
@pytest.mark.parametrize("is_ticked", [True, False])
def test_layers_are_written_for_those_who_tick_them(
    qtbot: QtBot, look: Look, answer: Tonight, preview: Preview, monkeypatch: pytest.MonkeyPatch, tmp_path: Path,
    is_ticked: bool,
) -> None:  # fmt: skip
    asked: list[tuple[Path, bool]] = []

    def write(answer: Tonight, folder: Path, has_layers: bool, watch: Watch) -> str:
        asked.append((folder, has_layers))
        return "Written."

    monkeypatch.setattr(plan_files, "ask_folder", lambda parent, folder: tmp_path)
    work = HandoutWork(make_preview=lambda answer, watch: preview, write_all=write)
    dialog = HandingOut(JobRunner(run_now=True), work)
    qtbot.addWidget(dialog)
    dialog.show_answer(answer)
    dialog.show()
    qtbot.waitUntil(lambda: dialog.folder_button.isEnabled(), timeout=WAIT_MS)
    dialog.layers.setChecked(is_ticked)
    dialog.folder_button.click()
    qtbot.waitUntil(lambda: dialog.told.text() == "Written.", timeout=WAIT_MS)
    assert asked == [(tmp_path, is_ticked)]


@pytest.mark.slow
def test_a_printed_page_is_true_to_scale(qapp: Any, preview: Preview, tmp_path: Path) -> None:
    """Into a file in place of a printer; the check bar of 100 mm is measured in it."""
    printer = printer_into(tmp_path / "printed.pdf", preview)
    assert printing.print_sheet(preview.sheet, printer, Watch()) == len(preview.sheet.pages)
    reader = pypdf.PdfReader(tmp_path / "printed.pdf")
    assert len(reader.pages) == len(preview.sheet.pages)
    assert float(reader.pages[0].mediabox.width) * MM_PER_POINT == pytest.approx(210.0, abs=0.3)
    assert any(length == pytest.approx(100.0, abs=0.1) for length in horizontal_lengths_mm(reader))


@pytest.mark.slow
def test_only_the_pages_asked_for_are_printed(qapp: Any, preview: Preview, tmp_path: Path) -> None:
    printer = printer_into(tmp_path / "printed.pdf", preview)
    printer.setFromTo(2, 2)
    assert printing.print_sheet(preview.sheet, printer, Watch()) == 1
    told = pypdf.PdfReader(tmp_path / "printed.pdf").pages[0].extract_text()
    assert "page 2 of" in told.replace("\t", " ")


@pytest.mark.slow
def test_paper_of_another_size_is_refused_rather_than_scaled(qapp: Any, preview: Preview, tmp_path: Path) -> None:
    printer = printer_into(tmp_path / "printed.pdf", preview)
    printer.setPageLayout(
        QPageLayout(QPageSize(QPageSize.PageSizeId.A5), QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0))
    )
    with pytest.raises(SheetError, match="148 x 210 mm"):
        printing.print_sheet(preview.sheet, printer, Watch())
    assert not (tmp_path / "printed.pdf").exists()


@pytest.mark.slow
@pytest.mark.qt_log_ignore("QPainter::begin")
def test_a_printer_that_will_not_start_is_told(qapp: Any, preview: Preview, tmp_path: Path) -> None:
    printer = printer_into(tmp_path / "missing" / "printed.pdf", preview)
    with pytest.raises(SheetError, match="could not be started"):
        printing.print_sheet(preview.sheet, printer, Watch())


@pytest.mark.slow
def test_printing_can_be_stopped_between_pages(qapp: Any, preview: Preview, tmp_path: Path) -> None:
    ticks: list[int] = []

    def stop_at_the_second(step: str, done_count: int, total_count: int) -> None:
        ticks.append(done_count)
        if len(ticks) == 2:
            watch.stop()

    watch = Watch(stop_at_the_second)
    with pytest.raises(JobStopped):
        printing.print_sheet(preview.sheet, printer_into(tmp_path / "printed.pdf", preview), watch)


def printer_into(path: Path, preview: Preview) -> QPrinter:
    printer = printing.printer_for(preview.sheet)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    return printer


@pytest.mark.slow
@pytest.mark.parametrize(("name", "scale"), [("way", 10_000), ("camp", 1000)])
def test_a_map_becomes_a_picture_of_its_own_size(
    qapp: Any, answer: Tonight, tmp_path: Path, name: Any, scale: int
) -> None:
    """The check bar of 100 mm, found in the dots of the file."""
    save_picture(answer, name, scale, 254.0, tmp_path / "map.png", Watch())
    image = QImage(str(tmp_path / "map.png"))
    assert image.dotsPerMeterX() == 10_000
    pixels = np.frombuffer(image.convertToFormat(QImage.Format.Format_Grayscale8).constBits(), np.uint8)
    dark = pixels.reshape(image.height(), -1)[:, : image.width()] < 128
    assert any(run == pytest.approx(1000, abs=3) for row in dark for run in runs(row))


def runs(is_dark: npt.NDArray[np.bool_]) -> list[int]:
    """Lengths of the dark pieces of a row."""
    ends = np.flatnonzero(np.diff(np.concatenate([[0], is_dark.view(np.int8), [0]])))
    return [int(length) for length in ends[1::2] - ends[::2]]


def test_a_map_larger_than_a_wall_is_refused(answer: Tonight, qapp: Any, tmp_path: Path) -> None:
    with pytest.raises(SheetError) as told:
        save_picture(answer, "way", 500, 300.0, tmp_path / "map.png", Watch())
    assert "smaller scale" in told.value.fix
    assert not list(tmp_path.iterdir())


def test_without_a_camp_there_is_no_map_of_it(nothing_found: Tonight, qapp: Any, tmp_path: Path) -> None:
    with pytest.raises(SheetError, match="no site was found"):
        save_picture(nothing_found, "camp", 1000, 100.0, tmp_path / "map.png", Watch())


def test_by_red_light_red_shows_as_paper_and_blue_as_black(qapp: Any) -> None:
    image = QImage(3, 1, QImage.Format.Format_RGB32)
    for x, colour in enumerate((0xFFFF0000, 0xFF0000FF, 0xFFFFFFFF)):
        image.setPixel(x, 0, colour)
    red, blue, paper = (as_seen(image, "red").pixelColor(x, 0).red() for x in range(3))
    assert (red, blue, paper) == (255, 0, 255)
    assert as_seen(image, "grey").pixelColor(1, 0).red() < 80


@pytest.mark.slow
def test_lines_of_ones_own_go_into_the_plan_and_stay(
    qtbot: QtBot, window: MainWindow, answer: Tonight, monkeypatch: pytest.MonkeyPatch
) -> None:
    notes = window.handing_out.order
    notes.lines.setPlainText("Channel 4, on the hour.")
    qtbot.waitUntil(lambda: window.history.plan.handout.notes.signals != "", timeout=WAIT_MS)
    assert window.history.stack.undoText() == "Write in the order: Command and signals"
    notes.section.setCurrentIndex(0)
    assert notes.lines.toPlainText() == ""
    notes.lines.setPlainText("Two parties of skiers.")
    notes.section.setCurrentIndex(12)  # what was typed isn't lost by looking elsewhere
    assert window.history.plan.handout.notes.situation == "Two parties of skiers."
    assert notes.lines.toPlainText() == "Channel 4, on the hour."
    window.history.stack.undo()
    assert window.history.plan.handout.notes.situation == ""


@pytest.mark.slow
@pytest.mark.qt_log_ignore("This plugin does not support")
def test_the_menu_opens_the_preview_and_closing_the_desk_closes_it(qtbot: QtBot, window: MainWindow) -> None:
    window.menus.preview_requested.emit()
    assert window.handing_out.isVisible()
    qtbot.waitUntil(lambda: window.handing_out.print_button.isEnabled(), timeout=4 * WAIT_MS)
    window.close()
    assert not window.handing_out.isVisible()


@pytest.mark.slow
def test_a_plan_that_changed_writes_no_handout(
    window: MainWindow, monkeypatch: pytest.MonkeyPatch, answer: Tonight
) -> None:
    asked: list[str] = []
    monkeypatch.setattr(plan_files, "ask_folder", lambda parent, folder: asked.append("folder"))
    window.handing_out.paper.edit_requested.emit(paper_edit("A3"))
    assert not window.asker.is_fresh
    window.menus.handout_requested.emit()
    assert not asked
    assert "wait for the new one" in window.notices.text


def paper_edit(name: str) -> Any:
    from sitepick.desk.edit import PlanEdit
    from sitepick.plan.edits import with_values

    return PlanEdit(text="Change paper", change=partial(with_values, part="handout", paper=name))


def test_printing_goes_through_the_systems_own_dialog(
    qapp: Any, preview: Preview, monkeypatch: pytest.MonkeyPatch
) -> None:
    shown: list[tuple[int, int]] = []

    def accept(dialog: printing.QPrintDialog) -> int:
        shown.append((dialog.minPage(), dialog.maxPage()))
        return 1

    monkeypatch.setattr(printing.QPrintDialog, "exec", accept)
    printer = printing.ask_printer(None, preview.sheet)  # type: ignore[arg-type]
    assert printer is not None
    assert printer.docName() == preview.sheet.title
    assert shown == [(1, len(preview.sheet.pages))]


@pytest.mark.slow
def test_letter_paper_is_set_on_the_printer(qapp: Any, answer: Tonight) -> None:
    sheet = lay_out_sheet(replace(answer), paper_name="Letter")
    told = printing.printer_for(sheet).pageLayout().fullRect(QPageLayout.Unit.Millimeter)
    assert (told.width(), told.height()) == pytest.approx((215.9, 279.4), abs=0.3)
