"""Compiled loops of the march stage, over plain arrays and numbers.

Each has a slow, obvious twin in ``tests/unit/march/slow.py``. Time is counted in whole ticks, so that a
ring of buckets does what a heap would do, and faster.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import njit

_compiled: Any = njit(nogil=True, cache=True, error_model="numpy")

WALL = 65535  # an edge that can't be passed
LONGEST_EDGE = 65534
BUCKET_SHIFT = 7  # 128 ticks a bucket
BUCKET_COUNT = 1024  # a ring longer than the longest edge

DONE, MORE, POOL_FULL = 0, 1, 2
# Places in the state that a spread keeps between two slices.
BUCKET, SEED, FREE, USED, ALIVE, SETTLED, STATE_SIZE = 0, 1, 2, 3, 4, 5, 6


@_compiled
def edge_rows(pace_s_per_m, height_m, is_way, moves, slope_factor, metrics, edges, first, last):  # type: ignore[no-untyped-def]
    """Ticks from each cell to its sixteen neighbours.

    ``pace_s_per_m`` is NaN on a wall; ``moves[k]`` holds the rows and columns to neighbour k, then to the
    two cells that the move passes over; ``slope_factor`` is a table over the tangent from -1 to 1;
    ``metrics``: ground width of a cell in metres, ticks a second. A move is blocked by a wall on any cell
    it passes over; beside a diagonal, not where it follows a way.
    """
    rows, cols = pace_s_per_m.shape
    half = (slope_factor.size - 1) // 2
    cell_m, ticks_per_s = metrics[0], metrics[1]
    for row in range(first, last):
        edges[row] = WALL
        for k in range(moves.shape[0]):
            down, right = moves[k, 0], moves[k, 1]
            if row + down < 0 or row + down >= rows:
                continue
            length_m = cell_m * math.sqrt(float(down * down + right * right))
            is_diagonal = abs(down) == 1 and abs(right) == 1
            ticks_per_pace = np.float32(length_m * ticks_per_s)
            per_m = np.float32(half / length_m)
            for col in range(max(0, -right), min(cols, cols - right)):
                pace, there = pace_s_per_m[row, col], pace_s_per_m[row + down, col + right]
                side = pace_s_per_m[row + moves[k, 2], col + moves[k, 3]]
                other = pace_s_per_m[row + moves[k, 4], col + moves[k, 5]]
                if is_diagonal and (is_way[row, col] and is_way[row + down, col + right]):
                    side, other = pace, there
                mean = np.float32(0.25) * (pace + there + side + other)
                if not mean > np.float32(0.0):
                    continue
                if is_diagonal:
                    mean = np.float32(0.5) * (pace + there)
                place = (height_m[row + down, col + right] - height_m[row, col]) * per_m + np.float32(half)
                if not (place > np.float32(-0.5) and place < np.float32(2 * half) + np.float32(0.5)):
                    continue
                ticks = ticks_per_pace * mean * slope_factor[int(place + np.float32(0.5))]
                if ticks < np.float32(1e9):
                    edges[row, col, k] = max(1, min(LONGEST_EDGE, int(ticks + np.float32(0.5))))


@_compiled
def spread_slice(edges, offsets, seeds, ticks, label, rings, pool, state, limit_ticks, most_count):  # type: ignore[no-untyped-def]
    """Carry a least-time spread on by at most so many cells.

    ``edges`` is flat over cells, ``seeds`` holds rows of cell, ticks and label by rising ticks, ``rings`` the
    first node of each bucket (-1: none) and ``pool`` rows of next node, cell and ticks. Cells are settled
    bucket by bucket; one whose time falls again within its bucket is settled again, so the answer is exact.
    """
    move_count = offsets.size
    bucket, seed, free, used = state[BUCKET], state[SEED], state[FREE], state[USED]
    alive, settled = state[ALIVE], state[SETTLED]
    room, seed_count, done_count = pool.shape[0], seeds.shape[0], 0
    status = DONE
    while True:
        while seed < seed_count and (seeds[seed, 1] >> BUCKET_SHIFT) <= bucket and alive < room:
            cell, now = seeds[seed, 0], seeds[seed, 1]
            if now < ticks[cell] and now <= limit_ticks:
                ticks[cell] = now
                label[cell] = seeds[seed, 2]
                node = free
                if node >= 0:
                    free = pool[node, 0]
                else:
                    node = used
                    used += 1
                ring = (now >> BUCKET_SHIFT) & (BUCKET_COUNT - 1)
                pool[node, 0], pool[node, 1], pool[node, 2] = rings[ring], cell, now
                rings[ring] = node
                alive += 1
            seed += 1
        ring = bucket & (BUCKET_COUNT - 1)
        while rings[ring] >= 0:
            if done_count >= most_count:
                status = MORE
                break
            if alive + move_count > room:
                status = POOL_FULL
                break
            node = rings[ring]
            rings[ring] = pool[node, 0]
            pool[node, 0] = free
            free = node
            alive -= 1
            cell, now = pool[node, 1], pool[node, 2]
            if now != ticks[cell]:
                continue
            done_count += 1
            for k in range(move_count):
                edge = edges[cell, k]
                if edge == WALL:
                    continue
                then = now + np.int32(edge)
                goal = cell + offsets[k]
                if then >= ticks[goal] or then > limit_ticks:
                    continue
                ticks[goal] = then
                label[goal] = label[cell]
                node = free
                if node >= 0:
                    free = pool[node, 0]
                else:
                    node = used
                    used += 1
                there = (then >> BUCKET_SHIFT) & (BUCKET_COUNT - 1)
                pool[node, 0], pool[node, 1], pool[node, 2] = rings[there], goal, then
                rings[there] = node
                alive += 1
        if status != DONE or (seed < seed_count and alive >= room):
            status = status if status != DONE else POOL_FULL
            break
        if alive > 0:
            bucket += 1
        elif seed < seed_count:
            bucket = max(bucket + 1, seeds[seed, 1] >> BUCKET_SHIFT)
        else:
            break
    state[BUCKET], state[SEED], state[FREE], state[USED] = bucket, seed, free, used
    state[ALIVE], state[SETTLED] = alive, settled + done_count
    return status
