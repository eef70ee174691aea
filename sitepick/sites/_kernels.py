"""Compiled loops of the sites stage, over plain arrays and numbers.

Places are ``(row, col)`` in cells, with fractions: cell (2, 3) covers rows 2 to 3 and columns 3 to 4.
Each loop has a slow, obvious twin in ``tests/unit/sites/slow.py``.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import heapq
import math
from typing import Any

import numpy as np
from numba import njit

_compiled: Any = njit(nogil=True, cache=True)

TINY = 1e-9  # a direction closer to an axis than this lies on it
BUCKET_FRAC = 0.7071  # bucket width over the spacing, just under 1/sqrt(2): never two places in one


@_compiled
def footprint_fits(allowed, row, col, radius):
    """Whether every cell that a disc touches is allowed."""
    rows, cols = allowed.shape
    home_row, home_col = math.floor(row), math.floor(col)
    if home_row < 0 or home_row >= rows or home_col < 0 or home_col >= cols or not allowed[home_row, home_col]:
        return False
    for r in range(math.floor(row - radius), math.floor(row + radius) + 1):
        down = max(r - row, 0.0, row - (r + 1))
        for c in range(math.floor(col - radius), math.floor(col + radius) + 1):
            right = max(c - col, 0.0, col - (c + 1))
            if down * down + right * right >= radius * radius:
                continue
            if r < 0 or r >= rows or c < 0 or c >= cols or not allowed[r, c]:
                return False
    return True


@_compiled
def _span(start, step, size, low, high):
    """The whole numbers i for which ``start + i * step`` lies within 0 to ``size``, cut to low to high."""
    if abs(step) < TINY:
        return (low, high) if 0.0 <= start <= size else (1, 0)
    one, other = -start / step, (size - start) / step
    first, last = math.ceil(min(one, other)), math.floor(max(one, other))
    return max(low, first), min(high, last)


@_compiled
def lattice_places(allowed, spacing, radius, turn, places):
    """Places of a lattice whose footprints fit; returns how many.

    ``turn`` holds the lattice's angle in radians, its shift along its two axes as shares of a step, and the
    angle between them: a sixth of a turn for hexagons, a quarter for squares. ``places`` takes the places
    as far as it has room; with no room they are only counted.
    """
    rows, cols = allowed.shape
    along_row, along_col = spacing * math.sin(turn[0]), spacing * math.cos(turn[0])
    next_row, next_col = spacing * math.sin(turn[0] + turn[3]), spacing * math.cos(turn[0] + turn[3])
    start_row = turn[1] * along_row + turn[2] * next_row
    start_col = turn[1] * along_col + turn[2] * next_col
    line_count = int((rows + cols) / (spacing * 0.866)) + 2
    far = 2 * line_count + 2
    count = 0
    for line in range(-line_count, line_count + 1):
        row_0, col_0 = start_row + line * next_row, start_col + line * next_col
        first, last = _span(row_0, along_row, rows, -far, far)
        first, last = _span(col_0, along_col, cols, first, last)
        for i in range(first, last + 1):
            row, col = row_0 + i * along_row, col_0 + i * along_col
            if footprint_fits(allowed, row, col, radius):
                if count < places.shape[0]:
                    places[count, 0], places[count, 1] = row, col
                count += 1
    return count


@_compiled
def count_lattices(allowed, spacing, radius, turns, counts):
    """How many places each of many lattices has."""
    nowhere = np.empty((0, 2))
    for k in range(turns.shape[0]):
        counts[k] = lattice_places(allowed, spacing, radius, turns[k], nowhere)


@_compiled
def try_places(allowed, spacing, radius, trials, is_swapping, places, count):
    """Put each trial place in if it fits with those held; returns how many are held then.

    With ``is_swapping`` a trial that is too close to one place only takes that place's stead.
    ``places`` must have room for one place a bucket of `BUCKET_FRAC` of the spacing.
    """
    rows, cols = allowed.shape
    side = spacing * BUCKET_FRAC
    buckets = np.full((int(rows / side) + 5, int(cols / side) + 5), -1, np.int32)
    for k in range(count):
        buckets[int(places[k, 0] / side) + 2, int(places[k, 1] / side) + 2] = k
    for t in range(trials.shape[0]):
        row, col = trials[t, 0], trials[t, 1]
        bucket_row, bucket_col = int(row / side) + 2, int(col / side) + 2
        close, close_count = -1, 0
        for b in range(bucket_row - 2, bucket_row + 3):
            for c in range(bucket_col - 2, bucket_col + 3):
                k = buckets[b, c]
                if k >= 0:
                    down, right = places[k, 0] - row, places[k, 1] - col
                    if down * down + right * right < spacing * spacing:
                        close = k
                        close_count += 1
            if close_count > 1:
                break
        if close_count > 1 or (close_count == 1 and not is_swapping):
            continue
        if not footprint_fits(allowed, row, col, radius):
            continue
        if close_count == 1:
            buckets[int(places[close, 0] / side) + 2, int(places[close, 1] / side) + 2] = -1
        else:
            close = count
            count += 1
        places[close, 0], places[close, 1] = row, col
        buckets[bucket_row, bucket_col] = close
    return count


@_compiled
def grow_piece(is_free, reluctance, row, col, stamps, stamp, cells):
    """Cells joined to a start by their sides, nearest and most willing first; returns how many.

    A cell's turn comes by its distance from the start times its ``reluctance``. ``stamps`` remembers by
    ``stamp`` which cells were seen, so that it need not be cleared between two calls. Growing ends when
    ``cells`` is full or nothing is left; every first part of ``cells`` hangs together.
    """
    rows, cols = is_free.shape
    count = 0
    heap = [(0.0, row, col)]
    stamps[row, col] = stamp
    while len(heap) > 0 and count < cells.shape[0]:
        _, r, c = heapq.heappop(heap)
        cells[count, 0], cells[count, 1] = r, c
        count += 1
        for k in range(4):
            there_row = r + (1 if k == 0 else -1 if k == 1 else 0)
            there_col = c + (1 if k == 2 else -1 if k == 3 else 0)
            if there_row < 0 or there_row >= rows or there_col < 0 or there_col >= cols:
                continue
            if stamps[there_row, there_col] == stamp or not is_free[there_row, there_col]:
                continue
            stamps[there_row, there_col] = stamp
            away = math.sqrt(float((there_row - row) ** 2 + (there_col - col) ** 2))
            heapq.heappush(heap, (away * reluctance[there_row, there_col], there_row, there_col))
    return count


@_compiled
def _stands_apart(places, k, row, col, spacing, reach):
    """Whether a place for one stand keeps its distance from all the others."""
    for i in range(places.shape[0]):
        if i != k:
            down, right, apart = places[i, 0] - row, places[i, 1] - col, spacing + reach[i] + reach[k]
            if down * down + right * right < apart * apart:
                return False
    return True


@_compiled
def camp_toll(cost, spacing, is_held, places):
    """What a camp costs: the ways of all to the first, in spacings, and the cost of every place that isn't held."""
    toll = 0.0
    for i in range(places.shape[0]):
        toll += math.hypot(places[i, 0] - places[0, 0], places[i, 1] - places[0, 1]) / spacing
        if not is_held[i]:
            toll += cost[math.floor(places[i, 0]), math.floor(places[i, 1])]
    return toll


@_compiled
def settle(allowed, cost, spacing, radius, reach, is_held, draws, places):
    """Better places for stands that keep their distances already; returns what the best ones cost.

    Every draw holds five shares: which stand, what is tried, two for where to, one for taking what costs more.
    Tried are a step, a jump to somewhere round the first stand, the first stand's place for another's, and a step
    of all together. What costs more is taken more and more rarely. What is held stays, wherever it is.
    """
    count, total = places.shape[0], draws.shape[0]
    held, trial = places.copy(), places.copy()
    now = camp_toll(cost, spacing, is_held, held)
    best = now
    wide = spacing * (1.0 + math.sqrt(count))
    for t in range(total):
        left = 1.0 - t / total
        k, kind = int(draws[t, 0] * count), draws[t, 1]
        turn, share = 2.0 * math.pi * draws[t, 2], draws[t, 3]
        first, last = k, k + 1
        if kind < 0.85 and is_held[k]:
            continue
        if kind < 0.5:
            far = spacing * share * (0.01 + 0.5 * left * left)
            trial[k, 0], trial[k, 1] = held[k, 0] + far * math.sin(turn), held[k, 1] + far * math.cos(turn)
        elif kind < 0.75:
            far = wide * math.sqrt(share)
            trial[k, 0], trial[k, 1] = held[0, 0] + far * math.sin(turn), held[0, 1] + far * math.cos(turn)
        elif kind < 0.85:
            if k == 0 or is_held[0] or radius[k] != radius[0] or reach[k] != reach[0]:
                continue
            trial[0], trial[k] = held[k], held[0]
            first, last = 0, 0  # the same places: they fit
        else:
            far = spacing * share * (0.01 + 1.5 * left * left)
            first, last = 0, count
            for i in range(count):
                if not is_held[i]:
                    trial[i, 0], trial[i, 1] = held[i, 0] + far * math.sin(turn), held[i, 1] + far * math.cos(turn)
        fits = True
        for i in range(first, last):
            if is_held[i]:
                continue
            # All together keep the distances that they kept, but for those from what is held.
            fits = footprint_fits(allowed, trial[i, 0], trial[i, 1], radius[i]) and (
                (last > first + 1 and not is_held.any())
                or _stands_apart(trial, i, trial[i, 0], trial[i, 1], spacing, reach)
            )
            if not fits:
                break
        then = camp_toll(cost, spacing, is_held, trial) if fits else np.inf
        # Lower at the end, so that the camp comes to rest.
        if then < now or (fits and draws[t, 4] < math.exp((now - then) / (0.002 + 0.3 * left * left))):
            held[:] = trial
            now = then
            if now < best - TINY:
                best = now
                places[:] = held
        else:
            trial[:] = held
    return best


@_compiled
def _crowding(places, k, row, col, spacing, fixed):
    """How much a place for one shelter lacks of its distances: the sum of the squared lacks, in spacings."""
    lack = 0.0
    for i in range(places.shape[0]):
        if i != k:
            down, right = places[i, 0] - row, places[i, 1] - col
            square = down * down + right * right
            if square < spacing * spacing:
                part = 1.0 - math.sqrt(square) / spacing
                lack += part * part
    for i in range(fixed.shape[0]):
        down, right = fixed[i, 0] - row, fixed[i, 1] - col
        square = down * down + right * right
        if square < spacing * spacing:
            part = 1.0 - math.sqrt(square) / spacing
            lack += part * part
    return lack


@_compiled
def _all_apart(places, spacing, fixed):
    """Whether every place keeps the spacing from the others and from what is fixed."""
    lack = 0.0
    for k in range(places.shape[0]):
        lack += _crowding(places, k, places[k, 0], places[k, 1], spacing, fixed)
    return lack == 0.0


@_compiled
def press_apart(allowed, spacing, radius, cells, fixed, draws, places):
    """Shift places that stand too close until none do; returns whether that came about.

    Every draw holds five shares: which shelter, what is tried, two for where to, one for taking what is worse. Tried
    are steps of all lengths, along a row or a column as often as any way, and jumps to any of the cells. A shelter
    with nothing too close moves seldom. ``places`` lie on allowed ground before and after; ``fixed`` stay.
    """
    count, total = places.shape[0], draws.shape[0]
    for t in range(total):
        if t % 64 == 0 and _all_apart(places, spacing, fixed):
            return True
        left = 1.0 - t / total
        k, kind = int(draws[t, 0] * count), draws[t, 1]
        now = _crowding(places, k, places[k, 0], places[k, 1], spacing, fixed)
        if now == 0.0 and draws[t, 4] > 0.3:
            continue
        if kind < 0.9:
            far = spacing * 0.6 * 10.0 ** (-4.0 * draws[t, 3])
            turn = 2.0 * math.pi * draws[t, 2]
            if kind < 0.45:
                turn = math.floor(4.0 * draws[t, 2]) * math.pi / 2.0
            row, col = places[k, 0] + far * math.sin(turn), places[k, 1] + far * math.cos(turn)
        else:
            cell = int(draws[t, 2] * cells.shape[0])
            row, col = cells[cell, 0] + 0.5, cells[cell, 1] + draws[t, 3]
        then = _crowding(places, k, row, col, spacing, fixed)
        worse = then - now
        if worse > 0.0 and draws[t, 4] >= math.exp(-worse / (1e-9 + 0.02 * left * left)):
            continue
        if footprint_fits(allowed, row, col, radius):
            places[k, 0], places[k, 1] = row, col
    return _all_apart(places, spacing, fixed)


@_compiled
def count_near(part_of, spacing, places, cells, reach, enough, counts):
    """How many places of the same part of the ground lie within reach of each cell's middle, counted to ``enough``.

    ``places`` keep the spacing, so that a bucket of `BUCKET_FRAC` of it holds one at most.
    """
    side = spacing * BUCKET_FRAC
    high, wide = int(part_of.shape[0] / side) + 1, int(part_of.shape[1] / side) + 1
    buckets = np.full((high, wide), -1, np.int32)
    for k in range(places.shape[0]):
        buckets[int(places[k, 0] / side), int(places[k, 1] / side)] = k
    for i in range(cells.shape[0]):
        row, col = cells[i, 0] + 0.5, cells[i, 1] + 0.5
        part = part_of[cells[i, 0], cells[i, 1]]
        count = 0
        for b in range(max(0, int((row - reach) / side)), min(high - 1, int((row + reach) / side)) + 1):
            for c in range(max(0, int((col - reach) / side)), min(wide - 1, int((col + reach) / side)) + 1):
                k = buckets[b, c]
                if k < 0:
                    continue
                down, right = places[k, 0] - row, places[k, 1] - col
                is_same = part_of[int(places[k, 0]), int(places[k, 1])] == part
                if is_same and down * down + right * right <= reach * reach:
                    count += 1
            if count >= enough:
                break
        counts[i] = min(count, enough)
