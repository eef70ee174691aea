"""Compiled loops that carry a source raster over to the grid.

Where a cell falls in the source is given at every `node_step`-th cell (and interpolated between
those nodes), in source cells counted from the source array's outer corner.
"""

from __future__ import annotations

import numpy as np
from numba import njit

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import CodeArray


@njit(nogil=True, cache=True)
def source_at(
    node_row: DoubleArray, node_col: DoubleArray, row: float, col: float, node_step: int
) -> tuple[float, float]:
    """Source row and column of a place on the grid, given in cells from the middle of cell (0, 0)."""
    i = min(max(int(np.floor(row / node_step)), 0), node_row.shape[0] - 2)
    j = min(max(int(np.floor(col / node_step)), 0), node_row.shape[1] - 2)
    down = row / node_step - i
    right = col / node_step - j
    upper = (1.0 - down) * (1.0 - right)
    upper_right = (1.0 - down) * right
    lower = down * (1.0 - right)
    lower_right = down * right
    return (
        upper * node_row[i, j] + upper_right * node_row[i, j + 1]
        + lower * node_row[i + 1, j] + lower_right * node_row[i + 1, j + 1],
        upper * node_col[i, j] + upper_right * node_col[i, j + 1]
        + lower * node_col[i + 1, j] + lower_right * node_col[i + 1, j + 1],
    )  # fmt: skip


@njit(nogil=True, cache=True)
def sample_heights(
    source: FloatArray,
    node_row: DoubleArray,
    node_col: DoubleArray,
    node_step: int,
    first_row: int,
    past_last_row: int,
    value: FloatArray,
    weight: FloatArray,
) -> None:
    """Bilinear value at each cell, and how much of its weight lay on known source cells (0-1)."""
    rows, cols = source.shape
    for row in range(first_row, past_last_row):
        for col in range(value.shape[1]):
            source_row, source_col = source_at(node_row, node_col, row, col, node_step)
            total = 0.0
            known = 0.0
            if -1.0 < source_row < rows + 1.0 and -1.0 < source_col < cols + 1.0:
                top = int(np.floor(source_row - 0.5))
                left = int(np.floor(source_col - 0.5))
                down = source_row - 0.5 - top
                right = source_col - 0.5 - left
                if 0 <= top < rows - 1 and 0 <= left < cols - 1:  # nearly always; the rest is for edges and gaps
                    upper = (1.0 - right) * source[top, left] + right * source[top, left + 1]
                    lower = (1.0 - right) * source[top + 1, left] + right * source[top + 1, left + 1]
                    height = (1.0 - down) * upper + down * lower
                    if not np.isnan(height):
                        value[row, col] = height
                        weight[row, col] = 1.0
                        continue
                for i in range(2):
                    for j in range(2):
                        if 0 <= top + i < rows and 0 <= left + j < cols:
                            share = (down if i == 1 else 1.0 - down) * (right if j == 1 else 1.0 - right)
                            known_height = source[top + i, left + j]
                            if share > 0.0 and not np.isnan(known_height):
                                total += share * known_height
                                known += share
            weight[row, col] = known
            value[row, col] = total / known if known > 0.0 else np.nan


@njit(nogil=True, cache=True)
def sample_codes(
    source: CodeArray,
    node_row: DoubleArray,
    node_col: DoubleArray,
    node_step: int,
    sub_count: int,
    first_row: int,
    past_last_row: int,
    code: CodeArray,
) -> None:
    """Most frequent code in each cell, out of `sub_count` by `sub_count` places; the lower one in a tie.

    Outside the source counts as code 0.
    """
    rows, cols = source.shape
    found = np.zeros(sub_count * sub_count, dtype=np.int32)
    for row in range(first_row, past_last_row):
        for col in range(code.shape[1]):
            for i in range(sub_count):
                for j in range(sub_count):
                    source_row, source_col = source_at(
                        node_row,
                        node_col,
                        row + (i + 0.5) / sub_count - 0.5,
                        col + (j + 0.5) / sub_count - 0.5,
                        node_step,
                    )
                    here = 0
                    if 0.0 <= source_row < rows and 0.0 <= source_col < cols:
                        here = source[int(source_row), int(source_col)]
                    found[i * sub_count + j] = here
            best = 0
            best_count = 0
            for i in range(found.size):
                count = 0
                for j in range(found.size):
                    if found[j] == found[i]:
                        count += 1
                if count > best_count or (count == best_count and found[i] < best):
                    best = found[i]
                    best_count = count
            code[row, col] = best
