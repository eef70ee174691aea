"""The compiled loops against their slow twins, on random ground with gaps."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.ground import _kernels
from tests.unit.ground import slow

pytestmark = pytest.mark.kernel

STEP = 8


def random_nodes(rng, shape, source_shape):
    """A source grid that lies turned, shifted and a little bent under ours, partly outside."""
    node_shape = (shape[0] // STEP + 2, shape[1] // STEP + 2)
    row, col = np.mgrid[0 : node_shape[0], 0 : node_shape[1]] * STEP * 0.6
    bend = rng.uniform(-0.4, 0.4, (2, *node_shape))
    return row + 0.2 * col - 2.0 + bend[0], col - 0.15 * row - 1.0 + bend[1]


@pytest.mark.parametrize("seed", range(3))
def test_heights_agree_with_the_slow_twin(seed):
    rng = np.random.default_rng(seed)
    source = rng.uniform(0, 100, (14, 17)).astype(np.float32)
    source[rng.random(source.shape) < 0.15] = np.nan
    shape = (21, 26)
    node_row, node_col = random_nodes(rng, shape, source.shape)
    value, weight = np.empty(shape, np.float32), np.empty(shape, np.float32)
    for first in (0, 10):
        _kernels.sample_heights(
            source, node_row, node_col, STEP, first, min(first + 10, 21) + first // 10, value, weight
        )
    want_value, want_weight = slow.sample_heights(source, node_row, node_col, STEP, shape)
    np.testing.assert_allclose(weight, want_weight, atol=1e-5)
    np.testing.assert_allclose(value, want_value, rtol=1e-4)
    assert np.isnan(value).any()


@pytest.mark.parametrize("sub_count", [1, 2, 3, 4])
def test_codes_agree_with_the_slow_twin(sub_count):
    rng = np.random.default_rng(sub_count)
    source = rng.integers(0, 4, (30, 33)).astype(np.int32)
    shape = (18, 20)
    node_row, node_col = (node * 2.5 for node in random_nodes(rng, shape, source.shape))
    code = np.empty(shape, np.int32)
    _kernels.sample_codes(source, node_row, node_col, STEP, sub_count, 0, shape[0], code)
    np.testing.assert_array_equal(code, slow.sample_codes(source, node_row, node_col, STEP, sub_count, shape))
    assert len(np.unique(code)) == 4
