"""The compiled loops agree with their slow twins on random ground with gaps."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.sites import _kernels
from tests.unit.sites import slow

pytestmark = pytest.mark.kernel


def random_mask(seed: int, rows: int = 14, cols: int = 19, share: float = 0.75) -> np.ndarray:
    return np.random.default_rng(seed).random((rows, cols)) < share


@pytest.mark.parametrize("radius", [0.0, 0.265, 0.5, 1.3])
def test_a_footprint_fits_where_every_cell_it_touches_is_allowed(radius):
    random = np.random.default_rng(5)
    for seed in range(3):
        allowed = random_mask(seed, share=0.9)
        for row, col in random.random((25, 2)) * (16, 21) - 1.0:
            assert _kernels.footprint_fits(allowed, row, col, radius) == slow.footprint_fits(allowed, row, col, radius)


@pytest.mark.parametrize("between", [np.pi / 3, np.pi / 2])
@pytest.mark.parametrize("angle", [0.0, np.pi / 6, np.pi / 2, 0.4321])
def test_a_lattice_has_the_same_places(angle, between):
    allowed = random_mask(3)
    turn = np.array([angle, 0.31, 0.77, between])
    places = np.empty((500, 2))
    count = _kernels.lattice_places(allowed, 2.3, 0.3, turn, places)
    told = {(round(row, 6), round(col, 6)) for row, col in places[:count].tolist()}
    assert told == slow.lattice_places(allowed, 2.3, 0.3, turn)
    counts = np.zeros(1, np.int64)
    _kernels.count_lattices(allowed, 2.3, 0.3, turn[None], counts)
    assert counts[0] == count


@pytest.mark.parametrize("is_swapping", [False, True])
def test_the_same_trials_find_a_place(is_swapping):
    allowed = random_mask(8, share=0.9)
    trials = np.random.default_rng(2).random((400, 2)) * allowed.shape
    places = np.empty((400, 2))
    count = _kernels.try_places(allowed, 2.6, 0.2, trials, is_swapping, places, 0)
    expected = slow.try_places(allowed, 2.6, 0.2, trials, is_swapping, [])
    assert np.array_equal(places[:count], np.array(expected))


@pytest.mark.parametrize("most", [1, 30, 10_000])
def test_a_piece_grows_over_the_same_cells(most):
    allowed = random_mask(4, share=0.8)
    allowed[7, 9] = True
    reluctance = (1.0 + np.random.default_rng(1).random(allowed.shape)).astype(np.float32)
    cells = np.empty((min(most, allowed.size), 2), np.int64)
    count = _kernels.grow_piece(allowed, reluctance, 7, 9, np.zeros(allowed.shape, np.int32), 1, cells)
    assert np.array_equal(cells[:count], slow.grow_piece(allowed, reluctance, 7, 9, most))
