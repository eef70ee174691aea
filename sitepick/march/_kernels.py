"""Compiled loops of the march stage, over plain arrays and numbers.

Each has a slow, obvious twin in ``tests/unit/march/slow.py``. Time is counted in whole ticks, so that a
ring of buckets does what a heap would do, and faster.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import njit

_ZERO, _QUARTER, _HALF = np.float32(0.0), np.float32(0.25), np.float32(0.5)
_INFINITE, _FAR = np.float32(np.inf), np.float32(1e30)

_compiled: Any = njit(nogil=True, cache=True, error_model="numpy")

WALL = 65535  # an edge that can't be passed, or takes longer than can be counted
BUCKET_SHIFT = 7  # 128 ticks a bucket
BUCKET_COUNT = 1024  # a ring longer than the longest edge

DONE, MORE, POOL_FULL = 0, 1, 2
# Places in the state that a spread keeps between two slices.
BUCKET, SEED, FREE, USED, ALIVE, SETTLED, STATE_SIZE = 0, 1, 2, 3, 4, 5, 6


@_compiled
def edge_rows(pace_s_per_m, height_m, is_way, moves, slope_factor, metrics, edges, first, last):  # type: ignore[no-untyped-def]
    """Ticks from each cell to its sixteen neighbours.

    ``pace_s_per_m`` is infinite on a wall; ``moves[k]`` holds the rows and columns to neighbour k, then to the
    two cells that the move passes over; ``slope_factor`` is a table over the tangent from -1 to 1, infinite at
    both ends; ``metrics``: ground width of a cell in metres, ticks a second. A move is blocked by a wall on any
    cell it passes over; beside a diagonal, not where it follows a way.
    """
    rows, cols = pace_s_per_m.shape
    half = np.float32((slope_factor.size - 1) // 2)
    most_place, wall = np.float32(slope_factor.size - 1), np.float32(WALL)
    line = np.empty((moves.shape[0], cols), np.uint16)
    mean = np.empty(cols, np.float32)
    for row in range(first, last):
        line[:] = WALL
        for k in range(moves.shape[0]):
            down, right = moves[k, 0], moves[k, 1]
            start, stop = max(0, -right), min(cols, cols - right)
            if row + down < 0 or row + down >= rows or stop <= start:
                continue
            width = stop - start
            length_m = metrics[0] * math.sqrt(float(down * down + right * right))
            here, there = pace_s_per_m[row, start:stop], pace_s_per_m[row + down, start + right : stop + right]
            beside, beyond = start + moves[k, 3], start + moves[k, 5]
            side = pace_s_per_m[row + moves[k, 2], beside : beside + width]
            other = pace_s_per_m[row + moves[k, 4], beyond : beyond + width]
            if abs(down) == 1 and abs(right) == 1:
                way, way_there = is_way[row, start:stop], is_way[row + down, start + right : stop + right]
                for i in range(width):
                    is_open = (side[i] + other[i] < _FAR) | (way[i] & way_there[i])
                    mean[i] = _HALF * (here[i] + there[i]) if is_open else _INFINITE
            else:
                for i in range(width):
                    mean[i] = _QUARTER * (here[i] + there[i] + side[i] + other[i])
            ticks_per_pace, per_m = np.float32(length_m * metrics[1]), np.float32(half / length_m)
            low, high, out = height_m[row, start:stop], height_m[row + down, start + right : stop + right], line[k]
            for i in range(width):
                place = (high[i] - low[i]) * per_m + half
                place = place if place > _ZERO else _ZERO
                place = place if place < most_place else most_place
                ticks = ticks_per_pace * mean[i] * slope_factor[np.int32(place + _HALF)] + _HALF
                out[start + i] = np.uint16(np.int32(ticks if ticks < wall else wall))
        for col in range(cols):
            for k in range(moves.shape[0]):
                edges[row, col, k] = line[k, col]


@_compiled
def spread_slice(edges, offsets, seeds, reached, rings, pool, state, limit_ticks, most_count):  # type: ignore[no-untyped-def]
    """Carry a least-time spread on by at most so many cells.

    ``edges`` is flat over cells, as is ``reached``: the least ticks of each and the label of the seed that they
    come from. ``seeds`` holds rows of cell, ticks and label by rising ticks, ``rings`` the first node of each
    bucket (-1: none) and ``pool`` rows of next node, cell and ticks. Cells are settled bucket by bucket; one
    whose time falls again within its bucket is settled again, so the answer is exact.
    """
    move_count = offsets.size
    bucket, seed, free, used = state[BUCKET], state[SEED], state[FREE], state[USED]
    alive, settled = state[ALIVE], state[SETTLED]
    room, seed_count, done_count = pool.shape[0], seeds.shape[0], 0
    status = DONE
    while True:
        while seed < seed_count and (seeds[seed, 1] >> BUCKET_SHIFT) <= bucket and alive < room:
            cell, now = seeds[seed, 0], seeds[seed, 1]
            if now < reached[cell, 0] and now <= limit_ticks:
                reached[cell, 0] = now
                reached[cell, 1] = seeds[seed, 2]
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
            if now != reached[cell, 0]:
                continue
            done_count += 1
            for k in range(move_count):
                edge = edges[cell, k]
                if edge == WALL:
                    continue
                then = now + np.int32(edge)
                goal = cell + offsets[k]
                if then >= reached[goal, 0] or then > limit_ticks:
                    continue
                reached[goal, 0] = then
                reached[goal, 1] = reached[cell, 1]
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
