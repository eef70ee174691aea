"""The reach against a general-purpose graph library on the same graph."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from sitepick.march import _kernels
from sitepick.march.edges import MOVES, edge_ticks
from sitepick.work import Watch
from tests.helpers.made import made_relief
from tests.unit.march.surfaces import level_surface, spread_over


@pytest.mark.parametrize("seed", [11, 12])
def test_least_times_are_those_of_scipys_dijkstra(seed):
    rows, cols = 40, 50
    rng = np.random.default_rng(seed)
    pace = rng.uniform(0.5, 3.0, (rows, cols)).astype(np.float32)
    pace[rng.random((rows, cols)) < 0.15] = np.nan
    pace[20, 25] = 1.0
    surface = replace(
        level_surface(rows, cols), pace_s_per_m=pace, height_m=made_relief(rows, cols, seed=seed, height_m=90.0)
    )
    minutes = spread_over(surface, (20, 25)).minutes

    edges = edge_ticks(surface, watch=Watch(), step="edges")
    row, col, k = np.nonzero(edges != _kernels.WALL)
    goal = (row + MOVES[k, 0]) * cols + col + MOVES[k, 1]
    graph = csr_array((edges[row, col, k].astype(float), (row * cols + col, goal)), shape=(rows * cols,) * 2)
    ticks = dijkstra(graph, indices=20 * cols + 25)
    wanted = np.where(np.isfinite(ticks), ticks / 32.0 / 60.0, np.nan).reshape(rows, cols)
    assert np.isfinite(wanted).sum() > 1000
    np.testing.assert_allclose(minutes, wanted, rtol=1e-6)
