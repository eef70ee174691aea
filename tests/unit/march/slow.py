"""Slow, obvious twins of the march stage's compiled loops."""

from __future__ import annotations

import heapq
import math
from fractions import Fraction
from itertools import pairwise

import numpy as np

from sitepick.march._kernels import WALL

MOVE_SHAPES = ((0, 1), (1, 1), (1, 2), (1, 3), (2, 3))


def edge_ticks(pace_s_per_m, height_m, is_way, slope_factor, *, cell_m, ticks_per_s):
    """``{(row, col): {(row, col): ticks}}`` between cells one of the 32 moves apart; no entry: no way."""
    rows, cols = pace_s_per_m.shape
    half = (len(slope_factor) - 1) // 2

    def factor_of(start, goal, length_m):
        tangent = (float(height_m[goal]) - float(height_m[start])) / length_m
        return math.inf if abs(tangent) >= 1 else float(slope_factor[math.floor(half * (1 + tangent) + 0.5)])

    def is_at_cliff(cell):
        """Whether a step to a neighbour, or back, is too steep."""
        for down in (-1, 0, 1):
            for right in (-1, 0, 1):
                goal = (cell[0] + down, cell[1] + right)
                if (down or right) and 0 <= goal[0] < rows and 0 <= goal[1] < cols:
                    if math.isnan(height_m[cell]) or math.isnan(height_m[goal]):
                        continue
                    length_m = cell_m * math.hypot(down, right)
                    if math.isinf(factor_of(cell, goal, length_m) + factor_of(goal, cell, length_m)):
                        return True
        return False

    cliff = {(row, col): is_at_cliff((row, col)) for row in range(rows) for col in range(cols)}
    edges = {}
    for row in range(rows):
        for col in range(cols):
            edges[row, col] = found = {}
            for down in range(-3, 4):
                for right in range(-3, 4):
                    goal = (row + down, col + right)
                    if tuple(sorted((abs(down), abs(right)))) not in MOVE_SHAPES:
                        continue
                    if not (0 <= goal[0] < rows and 0 <= goal[1] < cols):
                        continue
                    shares = {(row + a, col + b): share for (a, b), share in passed_over(down, right).items()}
                    is_long = max(abs(down), abs(right)) > 1
                    follows_way = not is_long and is_way[row, col] and is_way[goal]
                    held = [cell for cell in shares if cell in ((row, col), goal) or not follows_way]
                    if any(np.isnan(pace_s_per_m[cell]) or (is_long and cliff[cell]) for cell in held):
                        continue
                    length_m = cell_m * math.hypot(down, right)
                    factor = factor_of((row, col), goal, length_m)
                    pace = sum(share * float(pace_s_per_m[cell]) for cell, share in shares.items() if share > 0)
                    ticks = length_m * ticks_per_s * pace * factor
                    if ticks < WALL:
                        found[goal] = ticks
    return edges


def passed_over(down, right):
    """Share of the straight way on each cell that a move passes over, its ends too; 0 where it touches a corner."""
    turns = {Fraction(0), Fraction(1)}
    for across in (abs(down), abs(right)):
        turns |= {(number + Fraction(1, 2)) / across for number in range(across)}
    shares = {}
    for begin, end in pairwise(sorted(turns)):
        middle = (begin + end) / 2
        cell = (round(middle * down), round(middle * right))
        shares[cell] = shares.get(cell, 0.0) + float(end - begin)
    for turn in turns - {Fraction(0), Fraction(1)}:
        if (turn * down) % 1 == Fraction(1, 2) == (turn * right) % 1:
            for row in (math.floor(turn * down), math.ceil(turn * down)):
                for col in (math.floor(turn * right), math.ceil(turn * right)):
                    shares.setdefault((row, col), 0.0)
    return shares


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
