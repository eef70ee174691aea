"""Slow, obvious twins of the loops of water and avalanches."""

from __future__ import annotations

import heapq
import math
from collections import deque
from itertools import pairwise

import numpy as np
from scipy import ndimage

EIGHT = [(down, right) for down in (-1, 0, 1) for right in (-1, 0, 1) if down or right]


def levels(z, step_m):
    """Whole steps above the lowest; -1 in gaps that run out of the window, 0 in others."""
    told = np.where(np.isfinite(z), np.rint((z - np.nanmin(z)) / step_m), 0).astype(int)
    gaps, count = ndimage.label(np.isnan(z), structure=np.ones((3, 3)))
    for number in range(1, count + 1):
        rows, cols = np.nonzero(gaps == number)
        if min(rows.min(), cols.min()) == 0 or rows.max() == z.shape[0] - 1 or cols.max() == z.shape[1] - 1:
            told[gaps == number] = -1
    return told


def filled_levels(level):
    """Spill level of every cell, by flooding from the outlets with a sorted queue; -1 is a gap."""
    rows, cols = level.shape
    filled = np.full(level.shape, -1, level.dtype)
    queue = []
    for row in range(rows):
        for col in range(cols):
            ways = [(row + down, col + right) for down, right in EIGHT]
            is_edge = any(not (0 <= r < rows and 0 <= c < cols) or level[r, c] < 0 for r, c in ways)
            if level[row, col] >= 0 and is_edge:
                filled[row, col] = level[row, col]
                heapq.heappush(queue, (int(level[row, col]), row, col))
    while queue:
        height, row, col = heapq.heappop(queue)
        for down, right in EIGHT:
            r, c = row + down, col + right
            if 0 <= r < rows and 0 <= c < cols and level[r, c] >= 0 and filled[r, c] < 0:
                filled[r, c] = max(height, level[r, c])
                heapq.heappush(queue, (int(filled[r, c]), r, c))
    return filled


def steepest_falls(filled, row, col):
    """Greatest fall by distance from a cell to a neighbour, and the neighbours that have it."""
    falls = {}
    for down, right in EIGHT:
        r, c = row + down, col + right
        if 0 <= r < filled.shape[0] and 0 <= c < filled.shape[1] and filled[r, c] >= 0:
            falls[r * filled.shape[1] + c] = (filled[row, col] - filled[r, c]) / math.hypot(down, right)
    steepest = max(falls.values(), default=0.0)
    return steepest, {cell for cell, fall in falls.items() if fall >= steepest - 1e-9}


def way_down(receiver, start):
    """Cells from a start to where its water leaves."""
    way = [start]
    while receiver.flat[way[-1]] >= 0:
        way.append(int(receiver.flat[way[-1]]))
        assert len(way) <= receiver.size, "the water runs in a circle"
    return way


def reached_from(z, release, cell_m, alpha_deg):
    """Ground that any release cell reaches by a chain of cells under its own energy line."""
    rows, cols = z.shape
    fall = math.tan(math.radians(alpha_deg))
    reached = np.zeros(z.shape, bool)
    for start_row, start_col in zip(*np.nonzero(release), strict=True):
        seen = np.zeros(z.shape, bool)
        seen[start_row, start_col] = True
        stack = [(start_row, start_col)]
        while stack:
            row, col = stack.pop()
            for down, right in EIGHT:
                r, c = row + down, col + right
                if not (0 <= r < rows and 0 <= c < cols) or seen[r, c]:
                    continue
                line = float(z[start_row, start_col]) - fall * cell_m * math.hypot(r - start_row, c - start_col)
                if not line <= z[r, c]:
                    seen[r, c] = True
                    stack.append((r, c))
        reached |= seen
    return reached


def is_outlet(level):
    """Cells on the window's edge or beside a gap that runs out of it."""
    padded = np.pad(level, 1, constant_values=-1)
    return (level >= 0) & (ndimage.minimum_filter(padded, 3)[1:-1, 1:-1] < 0)


def steps_over_flats(filled):
    """Fewest steps over ground of its own level to where a cell's water goes down or out; -1 in gaps."""
    steps = np.full(filled.shape, -1)
    lets_out, queue = is_outlet(filled), deque()
    for row, col in np.argwhere(filled >= 0):
        if lets_out[row, col] or steepest_falls(filled, row, col)[0] > 0:
            steps[row, col] = 0
            queue.append((row, col))
    while queue:
        row, col = queue.popleft()
        for down, right in EIGHT:
            r, c = row + down, col + right
            if not (0 <= r < filled.shape[0] and 0 <= c < filled.shape[1]):
                continue
            if steps[r, c] < 0 and filled[r, c] == filled[row, col]:
                steps[r, c] = steps[row, col] + 1
                queue.append((r, c))
    return steps


def reached_along(z, release, receiver, cell_m, alpha_deg):
    """Ground that any release cell reaches along its water's way before the line along it comes to the ground."""
    cols, fall = z.shape[1], math.tan(math.radians(alpha_deg))
    reached = release.copy()
    for start in np.flatnonzero(release):
        length_m, way = 0.0, way_down(receiver, int(start))
        for cell, goal in pairwise(way):
            length_m += cell_m * math.hypot(*np.subtract(divmod(cell, cols), divmod(goal, cols)))
            if float(z.flat[start]) - fall * length_m <= z.flat[goal]:
                break
            reached.flat[goal] = True
    return reached
