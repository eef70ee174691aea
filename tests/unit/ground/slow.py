"""Slow, obvious twins of the ground's compiled loops."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np


def source_at(node_row, node_col, row, col, step):
    i = min(max(math.floor(row / step), 0), len(node_row) - 2)
    j = min(max(math.floor(col / step), 0), len(node_row[0]) - 2)
    down, right = row / step - i, col / step - j

    def between(node):
        upper = node[i, j] * (1 - right) + node[i, j + 1] * right
        lower = node[i + 1, j] * (1 - right) + node[i + 1, j + 1] * right
        return upper * (1 - down) + lower * down

    return between(node_row), between(node_col)


def sample_heights(source, node_row, node_col, step, shape):
    value, weight = np.full(shape, np.nan), np.zeros(shape)
    for row, col in np.ndindex(shape):
        at_row, at_col = source_at(node_row, node_col, row, col, step)
        parts = []
        for i, j in np.ndindex(source.shape):
            share = max(0.0, 1 - abs(at_row - (i + 0.5))) * max(0.0, 1 - abs(at_col - (j + 0.5)))
            if share > 0 and not math.isnan(source[i, j]):
                parts.append((share, source[i, j]))
        weight[row, col] = sum(share for share, _ in parts)
        if parts:
            value[row, col] = sum(share * height for share, height in parts) / weight[row, col]
    return value, weight


def sample_codes(source, node_row, node_col, step, sub_count, shape):
    code = np.zeros(shape, dtype=int)
    for row, col in np.ndindex(shape):
        found = Counter()
        for i, j in np.ndindex(sub_count, sub_count):
            at_row, at_col = source_at(
                node_row, node_col, row + (i + 0.5) / sub_count - 0.5, col + (j + 0.5) / sub_count - 0.5, step
            )
            is_inside = 0 <= at_row < source.shape[0] and 0 <= at_col < source.shape[1]
            found[int(source[int(at_row), int(at_col)]) if is_inside else 0] += 1
        most = max(found.values())
        code[row, col] = min(code for code, count in found.items() if count == most)
    return code
