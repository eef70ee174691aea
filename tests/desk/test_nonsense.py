"""Nonsense typed into every field never harms the plan; files that are no ground are told; closing while it works."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PySide6.QtCore import QEvent, QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractSpinBox, QApplication, QLineEdit
from pytestqt.qtbot import QtBot

from sitepick.desk.jobs import JobRunner
from sitepick.desk.main_window import MainWindow
from sitepick.plan.file import read_plan, write_plan
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS, QuickWork

NONSENSE = st.text(st.characters(exclude_categories=("Cc", "Cs")) | st.sampled_from("0123456789.,-+eE°%:"), max_size=14)


def test_whatever_is_typed_into_any_field_the_plan_stays_one_that_can_be_saved(
    qtbot: QtBot, window: MainWindow, tmp_path: Path
):
    fields = [
        field
        for field in window.field_book.findChildren(QAbstractSpinBox) + window.field_book.findChildren(QLineEdit)
        if not isinstance(field.parent(), QAbstractSpinBox) and not field.isReadOnly()
    ]
    assert len(fields) > 40

    @settings(max_examples=25, suppress_health_check=list(HealthCheck))
    @given(st.sampled_from(range(len(fields))), NONSENSE)
    def type_it(number: int, text: str) -> None:
        field = fields[number]
        try:
            line = field if isinstance(field, QLineEdit) else field.lineEdit()
        except RuntimeError:  # a row that an earlier edit took away
            return
        line.selectAll()
        for letter in text:  # QTest types the keys of one keyboard only
            key = QKeyEvent(QEvent.Type.KeyPress, Qt.Key.Key_unknown, Qt.KeyboardModifier.NoModifier, letter)
            QApplication.sendEvent(line, key)
        QTest.keyClick(line, Qt.Key.Key_Return)
        path = tmp_path / "plan.geojson"
        write_plan(window.history.plan, path)
        assert read_plan(path) == window.history.plan

    type_it()


def drop(window: MainWindow, *paths: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path)) for path in paths])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    enter = QDragEnterEvent(QPoint(50, 50), Qt.DropAction.CopyAction, data, buttons, keys)
    window.dragEnterEvent(enter)
    assert enter.isAccepted()
    window.dropEvent(QDropEvent(QPointF(50, 50), Qt.DropAction.CopyAction, data, buttons, keys))


def test_files_that_are_no_ground_are_told_and_nothing_changes(qtbot: QtBot, window: MainWindow, tmp_path: Path):
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear Anna,")
    before = window.history.plan
    with qtbot.waitSignal(window.asker.declined, timeout=WAIT_MS):
        drop(window, letter)
    assert window.notices.text.startswith("Nothing here serves as ground, route or plan.")
    assert window.history.plan == before


def test_a_plan_let_fall_on_the_window_opens(qtbot: QtBot, window: MainWindow, work: QuickWork, tmp_path: Path):
    path = tmp_path / "other.geojson"
    write_plan(work.answer.plan, path)
    with qtbot.waitSignal(window.asker.dropped, timeout=WAIT_MS):
        drop(window, path)
    assert window.keeper.path == path


def test_rasters_let_fall_on_the_window_become_the_ground(qtbot: QtBot, window: MainWindow):
    from sitepick.resource import sample_path

    heights = next(sample_path().glob("*elevation*.tif"))
    with qtbot.waitSignal(window.asker.dropped, timeout=WAIT_MS):
        drop(window, heights)
    assert window.history.plan.ground.elevation == (heights,)
    assert window.history.stack.undoText() == "Take other ground"
    assert heights.name in window.notices.text


@pytest.mark.slow
def test_a_window_closed_while_it_works_stops_the_work_and_goes(qtbot: QtBot, look: object, work: QuickWork):
    class Endless(QuickWork):
        def work_out_tonight(self, plan: object, previous: object, watch: Watch) -> object:  # type: ignore[override]
            while True:
                watch.tick("walking in circles")

    desk_work: Callable[[], object] = Endless(work.answer).desk_work
    window = MainWindow(work.answer.plan, None, JobRunner(), work=desk_work())  # type: ignore[arg-type]
    qtbot.addWidget(window)
    window.show()
    qtbot.waitUntil(lambda: window.answer_line.is_working, timeout=WAIT_MS)
    assert window.close()
    assert not window.isVisible()
