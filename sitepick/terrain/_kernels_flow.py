"""Compiled loops of the terrain stage, over plain arrays and numbers: water and avalanches.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _compiled, _inlined


@_compiled
def flood_some(level, cols, head, tail, following, parent, order, state, pop_count):
    """Take up to ``pop_count`` cells from the lowest buckets and flood their neighbours from them.

    ``level`` (flat, whole steps, -1 where not known) is raised to the spill level on the way.
    ``state``: bucket in hand, cells taken. Returns whether anything is left.
    """
    rows = len(level) // cols
    bucket, taken = state[0], state[1]
    stop = taken + pop_count
    while taken < stop:
        while bucket < len(head) and head[bucket] < 0:
            bucket += 1
        if bucket == len(head):
            break
        cell = head[bucket]
        head[bucket] = following[cell]
        order[taken] = cell
        taken += 1
        row, col = cell // cols, cell % cols
        for down in range(-1, 2):
            for right in range(-1, 2):
                if not (0 <= row + down < rows and 0 <= col + right < cols):
                    continue
                other = cell + down * cols + right
                if level[other] < 0 or parent[other] != -2:
                    continue
                parent[other] = cell
                raised = max(level[other], bucket)
                level[other] = raised
                following[other] = -1
                if head[raised] < 0:
                    head[raised] = other
                else:
                    following[tail[raised]] = other
                tail[raised] = other
    state[0], state[1] = bucket, taken
    return bucket < len(head)


@_compiled
def flow_rows(level, parent, receiver, first, last):
    """Steepest of eight ways down the filled ground; over a flat, the way that the flood came."""
    rows, cols = level.shape
    for row in range(first, last):
        for col in range(cols):
            steepest = 0.0
            goal = parent[row, col]
            for down in range(-1, 2):
                for right in range(-1, 2):
                    if not (0 <= row + down < rows and 0 <= col + right < cols):
                        continue
                    other = level[row + down, col + right]
                    if other < 0 or other >= level[row, col]:
                        continue
                    fall = (level[row, col] - other) * (1.0 if down == 0 or right == 0 else math.sqrt(0.5))
                    if fall > steepest:
                        steepest = fall
                        goal = (row + down) * cols + col + right
            receiver[row, col] = goal if level[row, col] >= 0 else -1


@_compiled
def accumulate(order, receiver, count):
    """Add every cell's count to the cell that it drains to, from the top down."""
    for k in range(len(order) - 1, -1, -1):
        cell = order[k]
        if receiver[cell] >= 0:
            count[receiver[cell]] += count[cell]


@_compiled
def drain_to(order, receiver, cols, z, is_drain, cell_m, base_m, path_m):
    """Height of the drain that each cell's water comes to, and the way there, from the bottom up."""
    for k in range(len(order)):
        cell = order[k]
        goal = receiver[cell]
        if is_drain[cell]:
            base_m[cell] = z[cell]
            path_m[cell] = 0.0
        elif goal >= 0:
            is_straight = abs(goal - cell) == 1 or abs(goal - cell) == cols
            base_m[cell] = base_m[goal]
            path_m[cell] = path_m[goal] + cell_m * (1.0 if is_straight else math.sqrt(2.0))


@_inlined
def _pull(z, energy_m, source, cell_m, fall, row, col, start):
    """Take over a neighbour's source where its energy line runs higher; returns whether it did."""
    if start < 0 or start == source[row, col]:
        return False
    start_row, start_col = start // z.shape[1], start % z.shape[1]
    run = math.sqrt(float((row - start_row) ** 2 + (col - start_col) ** 2)) * cell_m
    energy = np.float32(z[start_row, start_col] - fall * run)  # as stored, or two sources would swap for ever
    if energy <= z[row, col] or energy <= energy_m[row, col]:
        return False
    energy_m[row, col] = energy
    source[row, col] = start
    return True


@_compiled
def spread_pass(z, energy_m, source, cell_m, fall, changed_in, number):
    """One pass of energy lines over the ground, southward if ``number`` is even, else northward.

    ``changed_in[row]``: number of the pass that last changed a row. Returns how many cells changed.
    """
    rows, cols = z.shape
    is_northward = number % 2 == 1
    changed_count = 0
    for step in range(rows):
        row = rows - 1 - step if is_northward else step
        before = row if step == 0 else (row + 1 if is_northward else row - 1)
        # Nothing new here or in the row before since the last pass this way: nothing to take over.
        if max(changed_in[row], changed_in[before]) < number - 2:
            continue
        old_count = changed_count
        for col in range(cols):
            own = source[row, col]
            near, far = source[before, max(0, col - 1)], source[before, min(cols - 1, col + 1)]
            straight, beside = source[before, col], source[row, max(0, col - 1)]
            if near == own and far == own and straight == own and beside == own:
                continue
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, near)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, far)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, straight)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, beside)
        for col in range(cols - 2, -1, -1):
            if source[row, col + 1] != source[row, col]:
                changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, source[row, col + 1])
        if changed_count > old_count:
            changed_in[row] = number
    return changed_count
