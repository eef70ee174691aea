"""Compiled loops of the terrain stage, over plain arrays and numbers: horizon, sun and sight.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``. Loops named ``..._rows`` and
``..._lines`` write only what lies between ``first`` and ``last`` and may run side by side.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _NAN, _ONE, _ZERO, _atan_deg, _compiled, _inlined

SLOPE_BINS = 1024
SEEN_WHOLE = 10_000  # of a place that is wholly seen


@_inlined
def _heights_between(low, high, part, fallen_m, height):
    """Heights ``part`` of the way from one cell to the next; beside a gap, that of the one known."""
    for n in range(len(height)):
        near, far = np.float64(low[n]), np.float64(high[n])
        between = near + (far - near) * part
        between = near if np.isnan(far) else between
        height[n] = (far if np.isnan(near) else between) - fallen_m


@_inlined
def _angles(rise, seen_deg):
    for n in range(len(rise)):
        seen_deg[n] = _atan_deg(rise[n])


@_inlined
def _seen_ahead(height, k, per_step, bent, hull, top, rise):
    """Steepest rise from each line's k-th step to what lies ahead on it, over a stack that holds the hull of that.

    ``hull[line, place]``: step, height, rise by step to the next place of the hull; above its last stands the sky.
    """
    for n in range(len(height)):
        own, line = height[n], hull[n]
        if np.isnan(own):
            rise[n] = _NAN
            continue
        place = top[n]
        while True:
            ahead, more = k - line[place, 0], line[place, 1] - own
            if more >= line[place, 2] * ahead:
                break
            place -= 1
        steepest = more / ahead
        rise[n] = np.float32(max(0.0, steepest * per_step - bent))  # past the last known ground the world goes on
        top[n] = place + 1
        line[place + 1, 0], line[place + 1, 1], line[place + 1, 2] = k, own, steepest


@_compiled
def horizon_lines(z, line, lean, steps, step_m, drop_per_m2, horizon_deg, first, last):
    """Height of the horizon in one direction, along lines that look there, over flat arrays.

    ``line``: position of the cell at the far end, stride along (towards the looker), stride across, cells across,
    number of the first line. Line n passes ``n + lean * k`` cells across at its k-th of ``steps``; a cell lies
    between two lines and takes from both by nearness. All lines take a step together, since they lie alike
    between the cells of it. Taking a parabola off the heights bends them like the earth; what that adds to every
    slope is taken off again.
    """
    stride, cells, number, count = line[2], line[3], line[4] + first, last - first + 1
    hull, top = np.empty((count, steps + 1, 3)), np.zeros(count, np.int64)
    for n in range(count):
        hull[n, 0, 0], hull[n, 0, 1], hull[n, 0, 2] = -1.0, -np.inf, -np.inf
    ground, height = np.empty(count + 1, np.float32), np.empty(count)
    rise, seen_deg = np.empty(count, np.float32), np.empty(count, np.float32)
    for k in range(steps):
        across = lean * k
        base = number + math.floor(across)  # cell beside the block's first line, on the low side
        part = across - math.floor(across)
        aside = 1 if part > 0.0 else 0
        low, past = max(0, -base - aside), min(count, cells - base)  # lines that have a cell here
        if low >= past:
            continue
        start = line[0] + k * line[1] + base * stride
        for n in range(low, past + aside):
            ground[n] = z[start + n * stride] if 0 <= base + n < cells else _NAN
        away_m = k * step_m
        here = height[low:past]
        if aside:
            _heights_between(ground[low:past], ground[low + 1 : past + 1], part, drop_per_m2 * away_m * away_m, here)
        else:
            _heights_between(ground[low:past], ground[low:past], 0.0, drop_per_m2 * away_m * away_m, here)
        _seen_ahead(here, k, 1.0 / step_m, 2.0 * drop_per_m2 * away_m, hull[low:past], top[low:past], rise[low:past])
        _angles(rise[low:past], seen_deg[low:past])
        right = np.float32(1.0 - part) if aside else _ZERO
        for n in range(low, min(past, count - 1)):
            if base + n + aside < cells:
                at = seen_deg[n]
                if aside:
                    at += right * (seen_deg[n + 1] - at)
                horizon_deg[start + (n + aside) * stride] = at + _ZERO * ground[n + aside]


@_compiled
def sun_rows(near_deg, far_deg, part, sun_deg, step_h, clear_deg, hours, first, last):
    """Add the hours of direct sun over some moments whose azimuth lies between two horizons.

    ``part[moment]``: of the way from the near to the far azimuth. ``sun_deg[moment]``: height of the sun's rim at
    cell (0, 0), more by row, more by column. ``clear_deg`` holds how far it stood over the horizon the moment before.
    """
    cols = hours.shape[1]
    for row in range(first, last):
        near, far, clear, told = near_deg[row], far_deg[row], clear_deg[row], hours[row]
        for moment in range(len(part)):
            height = np.float32(sun_deg[moment, 0] + row * sun_deg[moment, 1])
            by_col, right = np.float32(sun_deg[moment, 2]), np.float32(part[moment])
            step = np.float32(step_h)
            for col in range(cols):
                now = height + by_col * np.float32(col) - (near[col] + right * (far[col] - near[col]))
                before = clear[col]
                upper, lower = max(now, before), min(now, before)
                share = upper / (upper - lower)  # of the step, where the sun crosses the horizon in it
                share = _ONE if lower >= _ZERO else share
                told[col] += step * (_ZERO if upper <= _ZERO else share)
                clear[col] = now


@_inlined
def _slope_bin(slope):
    """Number of a sight line's slope, finest about level: 0.0005 there, 0.003 at 20 degrees."""
    return min(SLOPE_BINS - 1, int((slope / (0.25 + abs(slope)) + 1.0) * (0.5 * SLOPE_BINS)))


@_inlined
def _room(eye, size, way):
    """Cells from the eye to the edge of the ground, going up or down the rows or columns."""
    return eye if way < 0 else (size - 1 - eye if way > 0 else 1 << 30)


@_compiled
def sight_rays(layers, eye, rule, reach, seen, first, last):
    """What is seen from one place, along rays to the rim of a square of ``2 reach + 1`` cells a side around it.

    ``layers``: height of the ground, of the trees, share of sight lost by metre of trees, all of the grid's shape.
    ``eye``: row and column. ``rule``: ground width of a cell, height of the eye and of the target, drop by distance
    squared, farthest sight. Each cell belongs to the ray that passes nearest; ``seen`` (of the square's shape)
    gets its share in `SEEN_WHOLE`. Ground that isn't known hides nothing. ``through`` holds for each slope how
    many trees stand in the way of a sight line as steep as that.
    """
    rows, cols = layers[0].shape
    z, tree_m, loss_by_m = layers[0].reshape(-1), layers[1].reshape(-1), layers[2].reshape(-1)
    out, width, start = seen.reshape(-1), seen.shape[1], eye[0] * cols + eye[1]
    cell_m, own, target_m, drop_per_m2, reach_m = rule[0], z[start] + rule[1], rule[2], rule[3], rule[4]
    through = np.empty(SLOPE_BINS, np.float32)
    for ray in range(first, last):
        side, rim = ray // (2 * reach), ray % (2 * reach) - reach
        down, right = (-1, 0, 1, 0)[side], (0, 1, 0, -1)[side]
        lean = rim / reach
        step_m = cell_m * math.sqrt(1.0 + lean * lean)
        ahead, ahead_out = down * cols + right, down * width + right
        aside, aside_out = right * cols - down, right * width - down
        # A cell aside is a column eastward on the way north, a row southward on the way east, and so on round.
        most = min(_room(eye[0], rows, right), _room(eye[1], cols, -down))
        least = -min(_room(eye[0], rows, -right), _room(eye[1], cols, down))
        room = min(_room(eye[0], rows, down), _room(eye[1], cols, right))
        through[:] = _ZERO
        highest = -np.inf
        for k in range(1, min(reach, room, int(reach_m / step_m + 1e-9)) + 1):
            across = lean * k
            near = math.floor(across + 0.5)
            if near < least or near > most:
                break
            at = start + k * ahead + near * aside
            ground, loss = z[at], loss_by_m[at] * step_m
            away_m = k * step_m
            by_m, drop = 1.0 / away_m, drop_per_m2 * away_m
            slope = (ground + target_m - own) * by_m - drop
            past = 2 * (near * reach - rim * k)
            if slope >= highest and -k <= past < k:
                share = 1.0
                lost = through[_slope_bin(slope)]
                if loss > 0.0 and tree_m[at] > target_m:
                    lost += np.float32(0.5 * loss)
                if lost > _ZERO:
                    share = math.exp(-lost)
                out[reach * (width + 1) + k * ahead_out + near * aside_out] = int(SEEN_WHOLE * share + 0.5)
            # The ground on the ray itself, between two cells; at a gap or the edge, the one known.
            if across != near:
                beside = near + (1 if across > near else -1)
                other = z[at + (beside - near) * aside] if least <= beside <= most else _NAN
                if np.isnan(ground):
                    ground = other
                elif not np.isnan(other):
                    ground += (other - ground) * abs(across - near)
            if np.isnan(ground):
                continue
            slope = (ground - own) * by_m - drop
            if loss > 0.0:
                lowest = _slope_bin(highest) if highest > -np.inf else 0
                top = _slope_bin(slope + tree_m[at] * by_m)
                more = np.float32(loss)
                for number in range(np.uint64(lowest), np.uint64(top)):  # without sign, many at once; may be none
                    through[number] += more
            highest = max(highest, slope)
