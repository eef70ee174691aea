"""Compiled loops of the march stage, over plain arrays and numbers.

Each has a slow, obvious twin in ``tests/unit/march/slow.py``. Time is counted in whole ticks, so that a
ring of buckets does what a heap would do, and faster.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import njit

_ZERO, _HALF = np.float32(0.0), np.float32(0.5)
_INFINITE, _FAR = np.float32(np.inf), np.float32(1e30)

_compiled: Any = njit(nogil=True, cache=True, error_model="numpy")

WALL = 65535  # an edge that can't be passed, or takes longer than can be counted
BUCKET_SHIFT = 8  # 256 ticks a bucket: some less than the quickest move on the level
BUCKET_COUNT = 512  # a ring longer than the longest edge

TILE_ROW_SHIFT, TILE_COL_SHIFT = 5, 7  # edges are made by tiles of 32 rows by 128 columns

DONE, MORE, POOL_FULL, TILE_WANTED = 0, 1, 2, 3
# Places in the state that a spread keeps between two slices; the cell whose tile is wanted, and what was read ahead.
BUCKET, SEED, FREE, USED, ALIVE, SETTLED, WANTED, AHEAD, STATE_SIZE = 0, 1, 2, 3, 4, 5, 6, 7, 8


@_compiled
def open_rows(pace_s_per_m, height_m, steepest, open_s_per_m, far_s_per_m, first, last):  # type: ignore[no-untyped-def]
    """Pace with walls made infinite; ``far_s_per_m`` is infinite beside a cliff too.

    ``steepest``: most metres up or down to a cell beside and to one across a corner. A cell from which a step to
    one of its eight neighbours is steeper lies at a cliff; what passes over no such cell jumps no cliff.
    """
    rows, cols = pace_s_per_m.shape
    beside_m, corner_m = np.float32(steepest[0]), np.float32(steepest[1])
    for row in range(first, last):
        for col in range(cols):
            pace = pace_s_per_m[row, col]
            pace = pace if pace < _FAR else _INFINITE
            open_s_per_m[row, col], far_s_per_m[row, col] = pace, pace
        for down in range(-1, 2):
            if row + down < 0 or row + down >= rows:
                continue
            for right in range(-1, 2):
                start, stop = max(0, -right), min(cols, cols - right)
                most_m = corner_m if down * right != 0 else beside_m
                here, there = height_m[row, start:stop], height_m[row + down, start + right : stop + right]
                out = far_s_per_m[row, start:stop]
                for i in range(stop - start):
                    out[i] = _INFINITE if abs(there[i] - here[i]) > most_m else out[i]


@_compiled
def edge_tile(paces, height_m, is_way, moves, shares, slope_factor, metrics, edges, tile):  # type: ignore[no-untyped-def]
    """Ticks from each cell of one tile to its 32 neighbours.

    ``paces``: both results of `open_rows`, the second for moves longer than a diagonal. ``moves[k]`` holds the rows
    and columns to neighbour k, then to the four cells that the move passes over or touches; ``shares[k]`` how much
    of the way lies on each end, on each cell of the first pair and of the second; ``slope_factor`` is a table over
    the tangent from -1 to 1, infinite at both ends; ``metrics``: ground width of a cell in metres, ticks a second.
    A move is blocked by a wall on any of its cells; beside a diagonal, not where it follows a way.
    """
    rows, cols = height_m.shape
    first, begin = tile[0] << TILE_ROW_SHIFT, tile[1] << TILE_COL_SHIFT
    last, end = min(first + (1 << TILE_ROW_SHIFT), rows), min(begin + (1 << TILE_COL_SHIFT), cols)
    half = np.float32((slope_factor.size - 1) // 2)
    most_place, wall = np.float32(slope_factor.size - 1), np.float32(WALL)
    line = np.empty((moves.shape[0], end - begin), np.uint16)
    mean = np.empty(end - begin, np.float32)
    for row in range(first, last):
        line[:] = WALL
        for k in range(moves.shape[0]):
            down, right = moves[k, 0], moves[k, 1]
            start, stop = max(begin, -right), min(end, cols - right)
            if row + down < 0 or row + down >= rows or stop <= start:
                continue
            width = stop - start
            reach = max(abs(down), abs(right))
            pace = paces[1 if reach > 1 else 0]
            here, there = pace[row, start:stop], pace[row + down, start + right : stop + right]
            if abs(down) + abs(right) == 1:
                for i in range(width):
                    mean[i] = _HALF * (here[i] + there[i])
            else:
                a, b = start + moves[k, 3], start + moves[k, 5]
                side, other = pace[row + moves[k, 2], a : a + width], pace[row + moves[k, 4], b : b + width]
                if reach == 1:
                    way, way_there = is_way[row, start:stop], is_way[row + down, start + right : stop + right]
                    for i in range(width):
                        is_open = (side[i] + other[i] < _FAR) | (way[i] & way_there[i])
                        mean[i] = _HALF * (here[i] + there[i]) if is_open else _INFINITE
                else:
                    a, b = start + moves[k, 7], start + moves[k, 9]
                    third, fourth = pace[row + moves[k, 6], a : a + width], pace[row + moves[k, 8], b : b + width]
                    at_end, at_first, at_second = shares[k, 0], shares[k, 1], shares[k, 2]
                    for i in range(width):  # no way (0) over a wall (infinite) is no number, and so a wall
                        mean[i] = (
                            at_end * (here[i] + there[i])
                            + at_first * (side[i] + other[i])
                            + at_second * (third[i] + fourth[i])
                        )
            length_m = metrics[0] * math.sqrt(float(down * down + right * right))
            ticks_per_pace, per_m = np.float32(length_m * metrics[1]), np.float32(half / length_m)
            low, high, out = height_m[row, start:stop], height_m[row + down, start + right : stop + right], line[k]
            for i in range(width):
                place = (high[i] - low[i]) * per_m + half
                place = place if place > _ZERO else _ZERO
                place = place if place < most_place else most_place
                ticks = ticks_per_pace * mean[i] * slope_factor[np.int32(place + _HALF)] + _HALF
                out[start - begin + i] = np.uint16(np.int32(ticks if ticks < wall else wall))
        for col in range(end - begin):
            for k in range(moves.shape[0]):
                edges[row, begin + col, k] = line[k, col]


@_compiled
def spread_slice(edges, is_made, offsets, seeds, reached, rings, pool, state, limit_ticks, aim, most_count):  # type: ignore[no-untyped-def]
    """Carry a least-time spread on by at most so many cells, or to one whose tile has no edges yet.

    ``edges`` of `edge_tile`, for the tiles that ``is_made`` names; ``reached``: the least ticks of each cell and the
    label of the seed that they come from, flat, with three rows and three cells more at both ends, so that no move
    leaves it. ``seeds`` holds rows of cell, ticks and label by rising ticks, ``rings`` the first node of each
    bucket (-1: none) and ``pool`` rows of next node and cell. Cells are settled bucket by bucket; one
    whose time falls again within its bucket is settled again, so the answer is exact. A cell whose time falls
    within a bucket still to come stands in it already; one that has moved to an earlier bucket is passed by.
    ``aim``: row and column of the one cell that is asked for, and the least ticks that a cell of way can take; nothing
    goes on from where even the straight line there would pass the limit. With no ticks all ground is asked for.
    """
    rows, cols, move_count = edges.shape
    flat = edges.reshape(rows * cols, move_count)
    margin = 3 * cols + 3
    bucket, seed, free, used = state[BUCKET], state[SEED], state[FREE], state[USED]
    alive, settled, ahead = state[ALIVE], state[SETTLED], state[AHEAD]
    room, seed_count, done_count = pool.shape[0], seeds.shape[0], 0
    status = DONE
    while True:
        while seed < seed_count and (seeds[seed, 1] >> BUCKET_SHIFT) <= bucket and alive < room:
            cell, now = seeds[seed, 0], seeds[seed, 1]
            if now < reached[cell + margin, 0] and now <= limit_ticks:
                reached[cell + margin, 0] = now
                reached[cell + margin, 1] = seeds[seed, 2]
                node = free
                if node >= 0:
                    free = pool[node, 0]
                else:
                    node = used
                    used += 1
                ring = (now >> BUCKET_SHIFT) & (BUCKET_COUNT - 1)
                pool[node, 0], pool[node, 1] = rings[ring], cell
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
            cell = pool[node, 1]
            row = cell // cols
            if not is_made[row >> TILE_ROW_SHIFT, (cell - row * cols) >> TILE_COL_SHIFT]:
                status = TILE_WANTED
                state[WANTED] = cell
                break
            rings[ring] = pool[node, 0]
            pool[node, 0] = free
            free = node
            alive -= 1
            if rings[ring] >= 0:
                # The next cell's edges are far off in memory: asked for now, they are there when its turn comes.
                ahead ^= flat[pool[rings[ring], 1], 0]
            here = cell + margin
            now, label = reached[here, 0], reached[here, 1]
            if (now >> BUCKET_SHIFT) != bucket:
                continue
            done_count += 1
            if aim[2] > 0.0:
                down, right = row - aim[0], cell - row * cols - aim[1]
                if now + aim[2] * math.sqrt(down * down + right * right) > limit_ticks:
                    continue
            for k in range(move_count):
                edge = flat[cell, k]
                then = now + np.int32(edge)
                goal = here + offsets[k]
                before = reached[goal, 0]
                if then >= before or edge == WALL or then > limit_ticks:
                    continue
                reached[goal, 0] = then
                reached[goal, 1] = label
                later = then >> BUCKET_SHIFT
                if later == (before >> BUCKET_SHIFT) and later != bucket:
                    continue
                node = free
                if node >= 0:
                    free = pool[node, 0]
                else:
                    node = used
                    used += 1
                there = later & (BUCKET_COUNT - 1)
                pool[node, 0], pool[node, 1] = rings[there], goal - margin
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
    state[ALIVE], state[SETTLED], state[AHEAD] = alive, settled + done_count, ahead
    return status
