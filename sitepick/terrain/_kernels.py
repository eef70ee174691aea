"""Compiled loops of the terrain stage, over plain arrays and numbers.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``. Loops named ``..._rows`` and
``..._lines`` write only what lies between ``first`` and ``last`` and may run side by side.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import njit

_compiled: Any = njit(nogil=True, cache=True, error_model="numpy")
_inlined: Any = njit(nogil=True, cache=True, error_model="numpy", inline="always")

_NAN = np.float32(np.nan)
_ZERO, _ONE, _TWO, _HALF = np.float32(0.0), np.float32(1.0), np.float32(2.0), np.float32(0.5)
_DEG = np.float32(180.0 / math.pi)
_RIGHT, _STRAIGHT, _FULL = np.float32(90.0), np.float32(180.0), np.float32(360.0)

# Arc tangent on 0-1 by a polynomial, off by 2e-8 rad at most: the compiler can run it on many cells
# at once, which it can't do with the library's. Abramowitz & Stegun 1964, 4.4.49.
_A1, _A2, _A3, _A4 = (np.float32(a) for a in (-0.3333314528, 0.1999355085, -0.1420889944, 0.1065626393))
_A5, _A6, _A7, _A8 = (np.float32(a) for a in (-0.0752896400, 0.0429096138, -0.0161657367, 0.0028662257))


@_inlined
def _arc_deg(x):  # type: ignore[no-untyped-def]
    s = x * x
    series = _A5 + s * (_A6 + s * (_A7 + s * _A8))
    return _DEG * x * (_ONE + s * (_A1 + s * (_A2 + s * (_A3 + s * (_A4 + s * series)))))


@_inlined
def _atan_deg(x):  # type: ignore[no-untyped-def]
    size = abs(x)
    arc = _arc_deg(size if size <= _ONE else _ONE / size)
    arc = arc if size <= _ONE else _RIGHT - arc
    return arc if x >= _ZERO else -arc


@_compiled
def horn_rows(z, cell_m, turn_deg, slope_deg, aspect_deg, first, last):  # type: ignore[no-untyped-def]
    """Slope and aspect by Horn; ``turn_deg`` is added to the aspect. NaN along the window's edge."""
    rows, cols = z.shape
    scale = np.float32(1.0 / (8.0 * cell_m))
    turn = np.float32(turn_deg)
    for row in range(first, last):
        if row == 0 or row == rows - 1 or cols < 3:
            slope_deg[row, :] = _NAN
            aspect_deg[row, :] = _NAN
            continue
        slope_deg[row, 0] = slope_deg[row, cols - 1] = _NAN
        aspect_deg[row, 0] = aspect_deg[row, cols - 1] = _NAN
        above, here, below = z[row - 1], z[row], z[row + 1]
        for col in range(1, cols - 1):
            west, east = col - 1, col + 1
            falling_diagonal = below[east] - above[west]
            rising_diagonal = above[east] - below[west]
            to_east = scale * (falling_diagonal + rising_diagonal + _TWO * (here[east] - here[west]))
            to_south = scale * (falling_diagonal - rising_diagonal + _TWO * (below[col] - above[col]))
            steepness = np.sqrt(to_east * to_east + to_south * to_south) + _ZERO * here[col]
            slope_deg[row, col] = _atan_deg(steepness)
            wide, tall = abs(to_east), abs(to_south)
            arc = _arc_deg(min(wide, tall) / max(wide, tall))  # level: 0 / 0, not a number
            arc = arc if wide <= tall else _RIGHT - arc
            arc = arc if to_south >= _ZERO else _STRAIGHT - arc
            arc = turn + (arc if to_east <= _ZERO else _FULL - arc) + _ZERO * here[col]
            arc = arc if arc >= _ZERO else arc + _FULL
            aspect_deg[row, col] = arc if arc < _FULL else arc - _FULL


@_compiled
def plane_slope_rows(z, cell_m, half_count, slope_deg, first, last):  # type: ignore[no-untyped-def]
    """Slope of the plane that fits best over a square of ``2 half_count + 1`` cells a side."""
    rows, cols = z.shape
    side = 2 * half_count + 1
    scale = np.float32(3.0 / (side * half_count * (half_count + 1) * side * cell_m))
    to_east = np.empty(cols, np.float32)
    to_south = np.empty(cols, np.float32)
    for row in range(first, last):
        slope_deg[row, :] = _NAN
        if row < half_count or row >= rows - half_count or cols < side:
            continue
        inside = cols - 2 * half_count
        to_east[:] = _ZERO
        to_south[:] = _ZERO
        for down in range(-half_count, half_count + 1):
            for right in range(-half_count, half_count + 1):
                line = z[row + down, half_count + right : half_count + right + inside]
                east_weight, south_weight = np.float32(right), np.float32(down)
                for col in range(inside):
                    to_east[col] += east_weight * line[col]
                    to_south[col] += south_weight * line[col]
        out = slope_deg[row, half_count : half_count + inside]
        for col in range(inside):
            out[col] = _atan_deg(scale * np.sqrt(to_east[col] * to_east[col] + to_south[col] * to_south[col]))


@_compiled
def upwind_slope_rows(z, shift, weight, distance_m, mean_deg, least_deg, first, last):  # type: ignore[no-untyped-def]
    """Mean and least over some rays of the steepest rise along each.

    ``shift[ray, k]`` holds the rows and columns (each twice: the cells on both sides) and
    ``weight[ray, k]`` the four weights of sample k. What isn't known shelters nobody: it is skipped.
    """
    rows, cols = z.shape
    ray_count, sample_count = distance_m.shape
    best = np.empty(cols, np.float32)
    for row in range(first, last):
        here, mean, least = z[row], mean_deg[row], least_deg[row]
        mean[:] = _ZERO
        least[:] = np.float32(90.0)
        for ray in range(ray_count):
            best[:] = np.float32(-np.inf)
            for k in range(sample_count):
                up, down = row + shift[ray, k, 0], row + shift[ray, k, 1]
                left, right = shift[ray, k, 2], shift[ray, k, 3]
                start, stop = max(0, -left), min(cols, cols - right)
                if up < 0 or down >= rows or stop <= start:
                    continue
                scale = np.float32(1.0) / distance_m[ray, k]
                w0, w1, w2, w3 = weight[ray, k, 0], weight[ray, k, 1], weight[ray, k, 2], weight[ray, k, 3]
                a, b = z[up, start + left : stop + left], z[up, start + right : stop + right]
                c, d = z[down, start + left : stop + left], z[down, start + right : stop + right]
                own, top = here[start:stop], best[start:stop]
                for col in range(stop - start):
                    rise = scale * (w0 * a[col] + w1 * b[col] + w2 * c[col] + w3 * d[col] - own[col])
                    top[col] = rise if rise > top[col] else top[col]
            for col in range(cols):
                arc = _atan_deg(best[col]) if best[col] > np.float32(-np.inf) else _ZERO
                mean[col] += arc
                least[col] = min(least[col], arc)
        for col in range(cols):
            mean[col] = mean[col] / np.float32(ray_count) + _ZERO * here[col]
            least[col] += _ZERO * here[col]


@_compiled
def relief_rows(z, slope_deg, aspect_deg, mean_deg, least_deg, wind, mean, worst, first, last):  # type: ignore[no-untyped-def]
    """Share of the open wind by relief, for the mean and for the least sheltered ray.

    ``wind``: bearing it comes from, cells and metres to the ends of a curvature pair, slope of full
    effect, weight of slope, weight of curvature, most that shelter takes, slope of full shelter, least
    and greatest share.
    """
    rows, cols = z.shape
    reach = int(wind[1])
    for row in range(first, last):
        for col in range(cols):
            slope, here = slope_deg[row, col], z[row, col]
            if np.isnan(slope):
                mean[row, col] = worst[row, col] = _NAN
                continue
            bend, count = 0.0, 0
            for pair in range(4):
                down = reach if pair != 1 else 0
                right = 0 if pair == 0 else (-reach if pair == 3 else reach)
                if min(row - down, col - right, col + right) < 0 or max(col - right, col + right) >= cols:
                    continue
                if row + down >= rows:
                    continue
                rise = here - 0.5 * (z[row - down, col - right] + z[row + down, col + right])
                if not np.isnan(rise):
                    bend += rise / (2.0 * wind[2] * (1.0 if pair < 2 else math.sqrt(2.0)))
                    count += 1
            curved = bend / count / math.tan(math.radians(wind[3])) if count > 0 else 0.0
            facing = 0.0
            if slope > 0.0:
                facing = 0.5 * slope / wind[3] * math.cos(math.radians(wind[0] - aspect_deg[row, col]))
            speed = 1.0 + wind[4] * min(max(facing, -0.5), 0.5) + wind[5] * min(max(curved, -0.5), 0.5)
            for kind in range(2):
                rise_deg = mean_deg[row, col] if kind == 0 else least_deg[row, col]
                share = speed * (1.0 - wind[6] * min(max(rise_deg, 0.0), wind[7]) / wind[7])
                share = min(max(share, wind[8]), wind[9])
                if kind == 0:
                    mean[row, col] = share
                else:
                    worst[row, col] = share


@_inlined
def _between(x, knots, values):  # type: ignore[no-untyped-def]
    """Straight-line reading of a table, level outside."""
    if x <= knots[0]:
        return values[0]
    for k in range(1, len(knots)):
        if x < knots[k]:
            return values[k - 1] + (values[k] - values[k - 1]) * (x - knots[k - 1]) / (knots[k] - knots[k - 1])
    return values[len(knots) - 1]


@_inlined
def _lee_share(distance_h, density, lee_h, lee_density, lee_share):  # type: ignore[no-untyped-def]
    """Share of the wind behind a stand, by distance in tree heights and by its density."""
    if distance_h > lee_h[-1]:
        return 1.0
    last = len(lee_density) - 1
    for k in range(1, last + 1):
        if density < lee_density[k] or k == last:
            low = _between(distance_h, lee_h, lee_share[k - 1])
            high = _between(distance_h, lee_h, lee_share[k])
            part = min((density - lee_density[k - 1]) / (lee_density[k] - lee_density[k - 1]), 1.0)
            return low + (high - low) * part
    return 1.0


@_compiled
def forest_lines(
    height_m, density, deep, lee_h, lee_density, lee_share, line, offset, step_m, total, worst, first, last
):  # type: ignore[no-untyped-def]
    """Follow the wind along digital lines over flat arrays, carrying the share that the trees leave of it.

    ``line``: position of the line's first cell, stride along the line, stride across, cells across, first
    line. ``offset[k]``: cells across at the k-th cell along. Adds to ``total``, raises ``worst``.
    """
    for number in range(first, last):
        share, stand_h, stand_density, away_m, was_inside = 1.0, 0.0, 0.0, 0.0, False
        for k in range(len(offset)):
            across = line[4] + number + offset[k]
            if across < 0 or across >= line[3]:
                continue
            cell = line[0] + k * line[1] + across * line[2]
            tall = height_m[cell]
            if np.isnan(tall):
                share, stand_h, was_inside = 1.0, 0.0, False
                total[cell] = worst[cell] = _NAN
                continue
            if tall > 0.0:
                entered_m = step_m if was_inside else 0.5 * step_m
                floor = deep[cell]
                share = floor + (share - floor) * math.exp(-entered_m / (2.0 * tall))
                away_m += step_m
                was_inside = True
                inside_h, inside_density = float(tall), float(density[cell])
            else:
                away_m += step_m
                if was_inside:
                    # A thin stand behind a thick one doesn't open the wind again.
                    old = (
                        _lee_share(away_m / stand_h, stand_density, lee_h, lee_density, lee_share)
                        if stand_h > 0
                        else 1.0
                    )
                    new = _lee_share(0.5 * step_m / inside_h, inside_density, lee_h, lee_density, lee_share)
                    if new <= old:
                        stand_h, stand_density, away_m = inside_h, inside_density, 0.5 * step_m
                    was_inside = False
                share = 1.0
                if stand_h > 0.0:
                    share = _lee_share(away_m / stand_h, stand_density, lee_h, lee_density, lee_share)
            total[cell] += share
            if share > worst[cell]:
                worst[cell] = share


@_compiled
def flood_some(level, cols, head, tail, following, parent, order, state, pop_count):  # type: ignore[no-untyped-def]
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
def flow_rows(level, parent, receiver, first, last):  # type: ignore[no-untyped-def]
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
def accumulate(order, receiver, count):  # type: ignore[no-untyped-def]
    """Add every cell's count to the cell that it drains to, from the top down."""
    for k in range(len(order) - 1, -1, -1):
        cell = order[k]
        if receiver[cell] >= 0:
            count[receiver[cell]] += count[cell]


@_compiled
def drain_to(order, receiver, cols, z, is_drain, cell_m, base_m, path_m):  # type: ignore[no-untyped-def]
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
def _pull(z, energy_m, source, cell_m, fall, row, col, near_row, near_col):  # type: ignore[no-untyped-def]
    """Take over a neighbour's source where its energy line runs higher; returns whether it did."""
    start = source[near_row, near_col]
    if start < 0 or start == source[row, col]:
        return False
    start_row, start_col = start // z.shape[1], start % z.shape[1]
    run = math.sqrt(float((row - start_row) ** 2 + (col - start_col) ** 2)) * cell_m
    energy = z[start_row, start_col] - fall * run
    if energy <= z[row, col] or energy <= energy_m[row, col]:
        return False
    energy_m[row, col] = energy
    source[row, col] = start
    return True


@_compiled
def spread_pass(z, energy_m, source, cell_m, fall, is_northward):  # type: ignore[no-untyped-def]
    """One pass of energy lines over the ground, row by row; returns how many cells changed."""
    rows, cols = z.shape
    changed = 0
    for step in range(rows):
        row = rows - 1 - step if is_northward else step
        before = row + 1 if is_northward else row - 1
        for col in range(cols):
            if step > 0:
                for near in range(max(0, col - 1), min(cols, col + 2)):
                    changed += _pull(z, energy_m, source, cell_m, fall, row, col, before, near)
            if col > 0:
                changed += _pull(z, energy_m, source, cell_m, fall, row, col, row, col - 1)
        for back in range(1, cols):
            col = cols - 1 - back
            changed += _pull(z, energy_m, source, cell_m, fall, row, col, row, col + 1)
    return changed
