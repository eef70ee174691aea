"""Parts of a mask: the compiled loops agree with their slow twin, whatever the blocks."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage

from sitepick.terrain.parts import label_parts, part_sizes
from sitepick.work import JobStopped, Watch
from tests.unit.terrain import slow


def masks():
    """Random ones of all densities, and shapes whose arms meet late."""
    rng = np.random.default_rng(4)
    yield from (rng.random((23, 31)) < share for share in (0.0, 0.05, 0.2, 0.35, 0.5, 0.7, 1.0))
    comb = np.zeros((12, 15), bool)
    comb[:, ::2] = comb[-1] = True
    yield from (comb, comb[::-1], comb.T.copy(), np.eye(9, dtype=bool), np.eye(9, dtype=bool)[::-1])
    yield from (np.ones((1, 7), bool), np.ones((7, 1), bool))


@pytest.mark.kernel
@pytest.mark.parametrize("block_rows", [1, 5, 128])
def test_parts_are_numbered_and_counted_as_by_hand(block_rows, monkeypatch):
    monkeypatch.setattr("sitepick.work.BLOCK_ROWS", block_rows)
    for is_there in masks():
        part, count = label_parts(is_there, watch=Watch(), step="parts")
        want = slow.parts(is_there)
        np.testing.assert_array_equal(part, want)
        assert count == want.max()
        sizes = part_sizes(part, count, watch=Watch(), step="parts")
        np.testing.assert_array_equal(sizes, np.bincount(want.reshape(-1), minlength=count + 1))


def test_parts_are_those_of_a_library():
    is_there = np.random.default_rng(8).random((300, 170)) < 0.4
    part, count = label_parts(is_there, watch=Watch(), step="parts")
    want, want_count = ndimage.label(is_there, np.ones((3, 3)))  # scipy
    assert count == want_count
    assert len(np.unique(part * np.int64(want_count + 1) + want)) == count + 1, "the same cells go together"


def test_numbering_ends_when_told():
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        label_parts(np.ones((3, 3), bool), watch=watch, step="parts")
