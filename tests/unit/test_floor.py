"""The floor: bearings, long work that can be stopped, files written whole or not at all."""

from __future__ import annotations

import doctest
import threading
from itertools import pairwise

import numpy as np
import pytest
from scipy import ndimage

from sitepick import grid as grid_module
from sitepick import units
from sitepick.errors import SheetError
from sitepick.grid import with_neighbours
from sitepick.output import whole_files
from sitepick.units import bearing_between_deg, bearing_deg, compass_word
from sitepick.work import BLOCK_CELLS, BLOCK_ROWS, JobStopped, Watch, each_block, rows_at_once, run_row_blocks


@pytest.mark.parametrize("module", [units, grid_module], ids=lambda module: module.__name__)
def test_the_examples_in_the_docstrings_hold(module):
    result = doctest.testmod(module)
    assert result.attempted > 0
    assert result.failed == 0


def test_bearings_fold_into_one_turn():
    assert bearing_deg(360.0) == 0.0
    assert bearing_deg(-90.0) == 270.0
    assert bearing_deg(-1e-20) == 0.0
    assert bearing_between_deg(350.0, 20.0) == 30.0
    assert [compass_word(value, point_count=4) for value in (44.0, 46.0, 359.0)] == ["north", "east", "north"]


def test_row_blocks_cover_every_row_once_whatever_the_block():
    for block_rows in (1, 7, 100):
        seen = np.zeros(50, dtype=int)
        run_row_blocks(
            lambda first, past, seen=seen: seen.__setitem__(slice(first, past), seen[first:past] + 1),
            50, watch=Watch(), step="test", block_rows=block_rows,
        )  # fmt: skip
        assert (seen == 1).all()


def test_work_stops_when_told_and_leaves_no_thread():
    watch = Watch()
    done = []

    def kernel(first, past):
        done.append(first)
        watch.stop()

    with pytest.raises(JobStopped):
        run_row_blocks(kernel, 10_000, watch=watch, step="test", block_rows=1)
    assert len(done) < 100
    assert not [thread for thread in threading.enumerate() if thread.name.startswith("sitepick-rows")]


def test_stopping_is_no_error_that_a_broad_handler_could_swallow():
    assert not issubclass(JobStopped, Exception)


def test_a_fault_in_a_kernel_reaches_the_caller():
    def kernel(first, past):
        raise ValueError(first)

    with pytest.raises(ValueError, match="0"):
        run_row_blocks(kernel, 10, watch=Watch(), step="test")


def test_files_appear_together_or_not_at_all(tmp_path):
    goal = tmp_path / "new" / "deeper"
    with pytest.raises(ZeroDivisionError), whole_files(goal, error=SheetError) as staging:
        (staging / "a.txt").write_text(str(1 / 0))
    assert list(tmp_path.iterdir()) == []
    with whole_files(goal, error=SheetError) as staging:
        (staging / "a.txt").write_text("whole")
        (staging / "b.txt").write_text("whole")
    assert sorted(path.name for path in goal.iterdir()) == ["a.txt", "b.txt"]


def test_a_file_where_the_folder_should_be_is_told(tmp_path):
    (tmp_path / "taken").write_text("")
    with pytest.raises(SheetError, match="could not write"), whole_files(tmp_path / "taken" / "in", error=SheetError):
        pass
    with (
        pytest.raises(SheetError, match="there is a file of this name"),
        whole_files(tmp_path / "taken", error=SheetError),
    ):
        pass


def test_neighbours_are_the_cells_around_a_mask_as_a_general_dilation_has_them():
    mask = np.random.default_rng(5).random((30, 40)) < 0.03
    assert (with_neighbours(mask) == ndimage.binary_dilation(mask, np.ones((3, 3), bool))).all()
    assert with_neighbours(np.ones((1, 1), bool)).all()


@pytest.mark.parametrize("cols", [1, 300, 10_000, 10 * BLOCK_CELLS])
def test_of_wide_rows_fewer_go_together(cols):
    rows = rows_at_once((5000, cols))
    assert 1 <= rows <= BLOCK_ROWS
    assert rows == 1 or rows * cols <= BLOCK_CELLS
    assert rows_at_once(5000) == BLOCK_ROWS
    blocks = list(each_block((700, cols), watch=Watch(), step="test"))
    assert blocks[0][0] == 0
    assert blocks[-1][1] == 700
    assert all(last == first for (_, last), (first, _) in pairwise(blocks))
    assert {last - first for first, last in blocks[:-1]} <= {rows}
    written = np.zeros(700, int)

    def kernel(first, last):
        written[first:last] += last - first <= rows

    run_row_blocks(kernel, (700, cols), watch=Watch(), step="test")
    assert (written == 1).all()
