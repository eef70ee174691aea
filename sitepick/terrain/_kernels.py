"""Compiled loops of the terrain stage, over plain arrays and numbers: slope, position, wind, forest.

``_kernels_flow`` holds those of water and avalanches, ``_kernels_sun`` those of horizon and sun, ``_kernels_sight``
those of sight.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``. Loops named ``..._rows`` and
``..._lines`` write only what lies between ``first`` and ``last`` and may run side by side.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math
from typing import Any

import numpy as np
from numba import njit

_compiled: Any = njit(nogil=True, cache=True, error_model="numpy")
_inlined: Any = _compiled  # the compiler sets these into their callers

_NAN = np.float32(np.nan)
_LOWEST = np.float32(-np.inf)
_ZERO, _ONE, _TWO, _HALF = np.float32(0.0), np.float32(1.0), np.float32(2.0), np.float32(0.5)
_DEG = np.float32(180.0 / math.pi)
_RIGHT, _STRAIGHT, _FULL = np.float32(90.0), np.float32(180.0), np.float32(360.0)

# Arc tangent on 0-1 by a polynomial, off by 2e-8 rad at most: the compiler can run it on many cells
# at once, which it can't do with the library's. Abramowitz & Stegun 1964, 4.4.49.
_A1, _A2, _A3, _A4 = (np.float32(a) for a in (-0.3333314528, 0.1999355085, -0.1420889944, 0.1065626393))
_A5, _A6, _A7, _A8 = (np.float32(a) for a in (-0.0752896400, 0.0429096138, -0.0161657367, 0.0028662257))


@_inlined
def _arc_deg(x):
    s = x * x
    series = _A5 + s * (_A6 + s * (_A7 + s * _A8))
    return _DEG * x * (_ONE + s * (_A1 + s * (_A2 + s * (_A3 + s * (_A4 + s * series)))))


@_inlined
def _atan_deg(x):
    size = abs(x)
    arc = _arc_deg(size if size <= _ONE else _ONE / size)
    arc = arc if size <= _ONE else _RIGHT - arc
    return arc if x >= _ZERO else -arc


@_inlined
def _gradient(above, here, below, col):
    """Eight cells' widths of rise to the east and to the south, weights 1-2-1."""
    falling_diagonal = below[col + 1] - above[col - 1]
    rising_diagonal = above[col + 1] - below[col - 1]
    to_east = falling_diagonal + rising_diagonal + _TWO * (here[col + 1] - here[col - 1])
    to_south = falling_diagonal - rising_diagonal + _TWO * (below[col] - above[col])
    return to_east, to_south


@_compiled
def horn_rows(z, cell_m, turn_deg, slope_deg, aspect_deg, first, last):
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
            to_east, to_south = _gradient(above, here, below, col)
            steepness = scale * np.sqrt(to_east * to_east + to_south * to_south) + _ZERO * here[col]
            slope_deg[row, col] = _atan_deg(steepness)
            wide, tall = abs(to_east), abs(to_south)
            arc = _arc_deg(min(wide, tall) / max(wide, tall))  # level: 0 / 0, not a number
            arc = arc if wide <= tall else _RIGHT - arc
            arc = arc if to_south >= _ZERO else _STRAIGHT - arc
            arc = turn + (arc if to_east <= _ZERO else _FULL - arc) + _ZERO * steepness  # a gap either way is a gap
            arc = arc if arc >= _ZERO else arc + _FULL
            aspect_deg[row, col] = arc if arc < _FULL else arc - _FULL


@_compiled
def plane_slope_rows(z, cell_m, half_count, slope_deg, first, last):
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


@_inlined
def _box_sums(total, side, square):
    """Sums of ``side`` neighbours along a line: ``square[k]`` of those after the k-th of ``total``.

    Four stretches side by side, since each sum waits for the one before it. ``total`` is long enough for them all.
    """
    quarter = len(square) // 4
    s, t, u, v = 0.0, 0.0, 0.0, 0.0
    for k in range(side):
        s += total[k]
        t += total[k + quarter]
        u += total[k + 2 * quarter]
        v += total[k + 3 * quarter]
    for k in range(quarter):
        s += total[k + side] - total[k]
        t += total[k + side + quarter] - total[k + quarter]
        u += total[k + side + 2 * quarter] - total[k + 2 * quarter]
        v += total[k + side + 3 * quarter] - total[k + 3 * quarter]
        square[k] = s
        square[k + quarter] = t
        square[k + 2 * quarter] = u
        square[k + 3 * quarter] = v
    return s + t + u + v


@_compiled
def position_rows(z, reach, above, first, last):
    """Height above the mean of the other known cells in a square, cut off at the window's edge.

    ``above`` holds those rows only. Where the rows have no gaps, nothing need be counted.
    """
    rows, cols = z.shape
    side, width = 2 * reach + 1, 4 * ((cols + 3) // 4)
    total = np.zeros(width + side + 1)  # of the square's rows, column by column, from the one before the first square
    own = total[reach + 1 : reach + 1 + cols]
    square, others, share = np.empty(width), np.empty(cols), np.empty(cols)
    for row in range(max(0, first - reach), min(rows, first + reach)):
        for col in range(cols):
            own[col] += z[row, col]
    height = 0
    for row in range(first, last):
        is_new, is_old = row + reach < rows, row > first and row > reach
        if is_new and is_old:
            below, past = z[row + reach], z[row - reach - 1]
            for col in range(cols):
                own[col] += np.float64(below[col]) - np.float64(past[col])
        elif is_new:
            for col in range(cols):
                own[col] += z[row + reach, col]
        elif is_old:
            for col in range(cols):
                own[col] -= z[row - reach - 1, col]
        if math.isnan(_box_sums(total, side, square)):  # a gap stays in the sums
            _position_among_gaps(z, reach, above, first, last)
            return
        if min(row + reach, rows - 1) - max(row - reach, 0) + 1 != height:
            height = min(row + reach, rows - 1) - max(row - reach, 0) + 1
            for col in range(cols):
                others[col] = height * (min(col + reach, cols - 1) - max(col - reach, 0) + 1) - 1
                share[col] = 1.0 / others[col]
        for col in range(cols):
            here = z[row, col]
            above[row - first, col] = (others[col] * here - (square[col] - here)) * share[col]


@_inlined
def _count_in(line, sign, total, count):
    for col in range(len(line)):
        total[col] += _ZERO if np.isnan(line[col]) else sign * line[col]
        count[col] += 0 if np.isnan(line[col]) else sign


@_inlined
def _position_among_gaps(z, reach, above, first, last):
    """`position_rows` where some heights aren't known."""
    rows, cols = z.shape
    side, width = 2 * reach + 1, 4 * ((cols + 3) // 4)
    total, count = np.zeros(width + side + 1), np.zeros(width + side + 1)
    own, own_count = total[reach + 1 : reach + 1 + cols], count[reach + 1 : reach + 1 + cols]
    square, held = np.empty(width), np.empty(width)
    for row in range(max(0, first - reach), min(rows, first + reach)):
        _count_in(z[row], 1, own, own_count)
    for row in range(first, last):
        if row + reach < rows:
            _count_in(z[row + reach], 1, own, own_count)
        if row > first and row > reach:
            _count_in(z[row - reach - 1], -1, own, own_count)
        _box_sums(total, side, square)
        _box_sums(count, side, held)
        for col in range(cols):
            here = z[row, col]
            mean_of = (held[col] * here - square[col]) / (held[col] - 1.0)
            above[row - first, col] = mean_of if held[col] > 1.5 else _NAN


@_inlined
def _on_curve(x, curve):
    """Read a curve of (measures, shares), level past both its ends."""
    measures, shares = curve
    if not x > measures[0]:
        return shares[0]
    for k in range(1, len(measures)):
        if x <= measures[k]:
            part = (x - measures[k - 1]) / (measures[k] - measures[k - 1])
            return shares[k - 1] + (shares[k] - shares[k - 1]) * part
    return shares[-1]


@_compiled
def cold_rows(above_near_m, above_far_m, above_floor_m, fall_deg, gathered, pool_m, curves, pooled):
    """The colder of a closed hollow below its spill and of low flat ground that the air drains to.

    ``curves``: by height above the near and the far ground, above the floor, by fall, by the logarithm of the
    cells gathered, by the depth of the pool.
    """
    for row in range(pooled.shape[0]):
        for col in range(pooled.shape[1]):
            near_m, far_m, floor_m = above_near_m[row, col], above_far_m[row, col], above_floor_m[row, col]
            fall, deep_m = fall_deg[row, col], pool_m[row, col]
            drained = max(_on_curve(near_m, curves[0]), _on_curve(far_m, curves[1]))
            if drained > 0.0:
                drained *= _on_curve(fall, curves[3])
            if drained > 0.0:
                drained *= _on_curve(floor_m, curves[2])
            if drained > 0.0:
                drained *= _on_curve(math.log(max(gathered[row, col], 1)), curves[4])
            cold = max(drained, _on_curve(deep_m, curves[5]))
            pooled[row, col] = cold + _ZERO * (near_m + far_m + floor_m + fall + deep_m)  # a gap in any is one


@_compiled
def upwind_slope_rows(padded, step, rate, mean_deg, least_deg, first, last):
    """Mean and least over some rays of the steepest rise along each.

    ``padded``: heights with as many gaps around them as a ray is long. A sample lies between two cells:
    ``step[ray, k]`` leads to them over the flat array, ``rate[ray, k]`` is the share of each in the height,
    by metre of distance; samples are even in number. What isn't known shelters nobody: it is skipped.
    """
    cols = mean_deg.shape[1]
    width = padded.shape[1]
    margin = (width - cols) // 2
    flat = padded.reshape(-1)
    best = np.empty(cols, np.float32)
    for row in range(first, last):
        here, mean, least = padded[row + margin, margin : margin + cols], mean_deg[row], least_deg[row]
        mean[:] = _ZERO
        least[:] = _RIGHT
        start = (row + margin) * width + margin
        own = np.uint64(start)  # indices without sign spare a test for each: the loop runs on many cells at once
        for ray in range(step.shape[0]):
            best[:] = _LOWEST
            for k in range(0, step.shape[1], 2):  # two samples a pass: `best` is read and written half as often
                a, b = np.uint64(start + step[ray, k, 0]), np.uint64(start + step[ray, k, 1])
                c, d = np.uint64(start + step[ray, k + 1, 0]), np.uint64(start + step[ray, k + 1, 1])
                a_rate, b_rate = rate[ray, k, 0], rate[ray, k, 1]
                c_rate, d_rate = rate[ray, k + 1, 0], rate[ray, k + 1, 1]
                for col in range(np.uint64(cols)):
                    ground = flat[own + col]
                    rise = a_rate * (flat[a + col] - ground) + b_rate * (flat[b + col] - ground)
                    next_rise = c_rate * (flat[c + col] - ground) + d_rate * (flat[d + col] - ground)
                    top = best[col]
                    top = rise if rise > top else top
                    best[col] = next_rise if next_rise > top else top
            for col in range(cols):
                arc = _atan_deg(best[col])
                arc = arc if best[col] > _LOWEST else _ZERO
                mean[col] += arc
                least[col] = min(least[col], arc)
        for col in range(cols):
            mean[col] = mean[col] / np.float32(step.shape[0]) + _ZERO * here[col]
            least[col] += _ZERO * here[col]


@_compiled
def slope_rows(z, cell_m, slope_deg, first, last):
    """Slope by Horn alone, as `horn_rows` finds it."""
    rows, cols = z.shape
    scale = np.float32(1.0 / (8.0 * cell_m))
    for row in range(first, last):
        if row == 0 or row == rows - 1 or cols < 3:
            slope_deg[row, :] = _NAN
            continue
        slope_deg[row, 0] = slope_deg[row, cols - 1] = _NAN
        above, here, below, out = z[row - 1], z[row], z[row + 1], slope_deg[row]
        for col in range(1, cols - 1):
            to_east, to_south = _gradient(above, here, below, col)
            out[col] = _atan_deg(scale * np.sqrt(to_east * to_east + to_south * to_south)) + _ZERO * here[col]


@_compiled
def exposure_rows(z, slope_deg, reach, reach_m, full_deg, turn_deg, to_north, to_east, curved, first, last):
    """What wind from any side needs of the ground: fall to true north and east, and curvature.

    Both in halves of their full effect: 0.5 is a slope of ``full_deg``, or a ridge with two such flanks.
    ``turn_deg``: from grid to true bearings.
    """
    rows, cols = z.shape
    half = np.float32(0.5 / full_deg)
    cosine, sine = np.float32(math.cos(math.radians(turn_deg))), np.float32(math.sin(math.radians(turn_deg)))
    per_m = 1.0 / (2.0 * reach_m * math.tan(math.radians(full_deg)))
    bend, count = np.empty(cols, np.float32), np.empty(cols, np.float32)
    for row in range(first, last):
        slope, north, east = slope_deg[row], to_north[row], to_east[row]
        north[:] = _NAN
        east[:] = _NAN
        if 0 < row < rows - 1:
            above, here, below = z[row - 1], z[row], z[row + 1]
            for col in range(1, cols - 1):
                rise_east, rise_south = _gradient(above, here, below, col)
                rise = np.sqrt(rise_east * rise_east + rise_south * rise_south)
                part = half * slope[col] / (rise if rise != _ZERO else _ONE)  # level ground falls nowhere
                north[col] = part * (rise_south * cosine + rise_east * sine)
                east[col] = part * (rise_south * sine - rise_east * cosine)
        bend[:] = _ZERO
        count[:] = _ZERO
        for pair in range(4):
            down = reach if pair != 1 else 0
            right = 0 if pair == 0 else (-reach if pair == 3 else reach)
            side = abs(right)
            if row - down < 0 or row + down >= rows:
                continue
            weight = np.float32(per_m if pair < 2 else per_m / math.sqrt(2.0))
            here, before, behind = z[row], z[row - down], z[row + down]
            for col in range(side, cols - side):
                rise = here[col] - _HALF * (before[col - right] + behind[col + right])
                bend[col] += _ZERO if np.isnan(rise) else weight * rise
                count[col] += _ZERO if np.isnan(rise) else _ONE
        for col in range(cols):
            bent = bend[col] / max(count[col], _ONE)
            curved[row, col] = min(max(bent, -_HALF), _HALF)


@_compiled
def relief_rows(to_north, to_east, curved, upwind_deg, setting, share):
    """Multiply by the share of the open wind that the relief leaves.

    ``setting``: cosine and sine of the bearing that the wind comes from, weight of slope, weight of
    curvature, most that shelter takes, slope of full shelter, least and greatest share.
    """
    north, east, slope_weight, curved_weight = setting[0], setting[1], setting[2], setting[3]
    taken, full_deg, least, most = setting[4] / setting[5], setting[5], setting[6], setting[7]
    for row in range(share.shape[0]):
        for col in range(share.shape[1]):
            facing = min(max(north * to_north[row, col] + east * to_east[row, col], -_HALF), _HALF)
            speed = _ONE + slope_weight * facing + curved_weight * curved[row, col]
            open_share = speed * (_ONE - taken * min(max(upwind_deg[row, col], _ZERO), full_deg))
            # The last term carries what isn't known over.
            share[row, col] *= min(max(open_share, least), most) + _ZERO * to_north[row, col]


@_inlined
def _lee_share(away_h, lee_h, behind):
    """Read one row of the windbreak table: level nearer than its first distance, open past its last."""
    if away_h <= lee_h[0]:
        return behind[0]
    for k in range(1, len(lee_h)):
        if away_h <= lee_h[k]:
            return behind[k - 1] + (behind[k] - behind[k - 1]) * (away_h - lee_h[k - 1]) / (lee_h[k] - lee_h[k - 1])
    return 1.0


@_inlined
def _belt_share(near, density, lee_density, lee_table):
    """One distance of the windbreak table, between its rows."""
    high = 1
    while high < len(lee_density) - 1 and density > lee_density[high]:
        high += 1
    part = min((density - lee_density[high - 1]) / (lee_density[high] - lee_density[high - 1]), 1.0)
    return lee_table[high - 1, near] + (lee_table[high, near] - lee_table[high - 1, near]) * part


@_compiled
def forest_lines(layers, lee, line, offset, step_m, total, worst, first, last):
    """Follow the wind along digital lines over flat arrays, carrying the share that the trees leave of it.

    ``layers``: height of the trees and their kind; density and share deep inside by kind. ``lee``: distances
    in tree heights, densities, the windbreak table. ``line``: position of the first cell, stride along, stride
    across, cells across, number of the first line. ``offset[k]``: cells across after k cells along. Adds to
    ``total``, raises ``worst``. The lines go side by side, so that neighbouring cells are met together.
    """
    height_m, kind, density, deep = layers
    lee_h, lee_density, lee_table = lee
    count = last - first
    share, away_m, lee_of_h = np.ones(count), np.zeros(count), np.zeros(count)
    kept, kept_h = np.ones(count), np.full(count, -1.0)
    inside_h, inside_density = np.zeros(count), np.zeros(count)  # of the stand that the line is in; 0: in none
    behind, candidate = np.ones((count, len(lee_h))), np.ones(len(lee_h))
    for k in range(len(offset)):
        shift = line[4] + first + offset[k]
        begin, end = max(0, -shift), min(count, line[3] - shift)
        start = line[0] + k * line[1] + shift * line[2]
        for at in range(begin, end):
            cell = start + at * line[2]
            tall = height_m[cell]
            away_m[at] += step_m
            if tall > _ZERO:
                if tall != kept_h[at]:
                    kept[at], kept_h[at] = math.exp(-step_m / (2.0 * tall)), tall
                floor = deep[kind[cell]]
                share[at] = floor + (share[at] - floor) * (kept[at] if inside_h[at] > 0.0 else math.sqrt(kept[at]))
                inside_h[at], inside_density[at] = tall, density[kind[cell]]
            elif tall == _ZERO:
                share[at] = 1.0
                if lee_of_h[at] > 0.0:
                    share[at] = _lee_share(away_m[at] / lee_of_h[at], lee_h, behind[at])
                    lee_of_h[at] = lee_of_h[at] if away_m[at] <= lee_h[-1] * lee_of_h[at] else 0.0
                if inside_h[at] > 0.0:
                    for near in range(len(lee_h)):
                        candidate[near] = _belt_share(near, inside_density[at], lee_density, lee_table)
                    fresh = _lee_share(0.5 * step_m / inside_h[at], lee_h, candidate)
                    if fresh <= share[at]:  # a thin stand behind a thick one doesn't open the wind again
                        share[at], lee_of_h[at], away_m[at] = fresh, inside_h[at], 0.5 * step_m
                        behind[at, :] = candidate
                    inside_h[at] = 0.0
            else:
                share[at], lee_of_h[at], inside_h[at] = 1.0, 0.0, 0.0
                total[cell] = worst[cell] = _NAN
                continue
            total[cell] += np.float32(share[at])
            worst[cell] = max(worst[cell], np.float32(share[at]))
