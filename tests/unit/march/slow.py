"""Slow, obvious twins of the march stage's compiled loops."""

from __future__ import annotations

import heapq
import math

import numpy as np

from sitepick.march._kernels import WALL


def edge_ticks(pace_s_per_m, height_m, is_way, slope_factor, *, cell_m, ticks_per_s):
    """``{(row, col): {(row, col): ticks}}`` between cells a king's or a knight's move apart; no entry: no way."""
    rows, cols = pace_s_per_m.shape
    half = (len(slope_factor) - 1) // 2
    edges = {}
    for row in range(rows):
        for col in range(cols):
            edges[row, col] = found = {}
            for down in range(-2, 3):
                for right in range(-2, 3):
                    reach = (abs(down), abs(right))
                    goal = (row + down, col + right)
                    if reach not in ((0, 1), (1, 0), (1, 1), (1, 2), (2, 1)):
                        continue
                    if not (0 <= goal[0] < rows and 0 <= goal[1] < cols):
                        continue
                    ends = [pace_s_per_m[row, col], pace_s_per_m[goal]]
                    passed = [pace_s_per_m[row + a, col + b] for a, b in passed_over(down, right)]
                    if reach == (1, 1):
                        follows_way = is_way[row, col] and is_way[goal]
                        is_blocked = np.isnan(ends).any() or (np.isnan(passed).any() and not follows_way)
                        pace = sum(ends) / 2
                    else:
                        is_blocked = np.isnan(ends + passed).any()
                        pace = sum(ends + passed) / len(ends + passed)
                    length_m = cell_m * math.hypot(down, right)
                    tangent = (float(height_m[goal]) - float(height_m[row, col])) / length_m
                    if is_blocked or abs(tangent) >= 1:
                        continue
                    factor = slope_factor[math.floor(half * (1 + tangent) + 0.5)]
                    ticks = length_m * ticks_per_s * float(pace) * float(factor)
                    if ticks < WALL:
                        found[goal] = ticks
    return edges


def passed_over(down, right):
    """Cells that a move passes over, besides its ends; for a diagonal, those beside it."""
    down_way, right_way = (down > 0) - (down < 0), (right > 0) - (right < 0)
    if abs(down) == 1 and abs(right) == 1:
        return [(down, 0), (0, right)]
    if abs(right) == 2:
        return [(0, right_way), (down, right_way)]
    if abs(down) == 2:
        return [(down_way, 0), (down_way, right)]
    return []


def least_ticks(edges, offsets, seeds, *, limit):
    """Least ticks to each cell by a heap; ``edges`` as the compiled loop takes them, ``seeds`` of (cell, ticks)."""
    ticks = {}
    heap = [(start, cell) for cell, start in seeds if start <= limit]
    heapq.heapify(heap)
    while heap:
        now, cell = heapq.heappop(heap)
        if cell in ticks:
            continue
        ticks[cell] = now
        for edge, offset in zip(edges[cell].tolist(), offsets, strict=True):
            if edge != WALL and now + edge <= limit:
                heapq.heappush(heap, (now + edge, cell + offset))
    return ticks
