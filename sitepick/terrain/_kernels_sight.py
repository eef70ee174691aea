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
def _between(z, base, stride, part, low_is_there, high_is_there):
    """Height between two neighbours, ``part`` of the way to the second; beside a gap, that of the one known."""
    low = z[base] if low_is_there else _NAN
    if part == 0.0:
        return low
    high = z[base + stride] if high_is_there else _NAN
    if np.isnan(low):
        return high
    return low if np.isnan(high) else low + (high - low) * part


@_inlined
def _sweep_line(z, line, number, lean, step_m, drop_per_m2, top_m, top_height, seen_deg):
    """Horizon at each step of one line, from its far end on, over a stack that holds the hull of what lies ahead.

    Taking a parabola off the heights bends them like the earth; what that adds to every slope is taken off again.
    """
    seen_deg[:] = _NAN
    count = 0
    for k in range(len(seen_deg)):
        across = number + lean * k
        base = math.floor(across)
        if base < -1 or base >= line[3]:
            continue
        position = line[0] + k * line[1] + base * line[2]
        height = _between(z, position, line[2], across - base, base >= 0, base + 1 < line[3])
        if np.isnan(height):
            continue
        away_m = k * step_m
        own = height - drop_per_m2 * away_m * away_m
        while count > 1:
            near_rise, far_rise = top_height[count - 1] - own, top_height[count - 2] - own
            if far_rise * (away_m - top_m[count - 1]) < near_rise * (away_m - top_m[count - 2]):
                break
            count -= 1
        rise = 0.0  # no lower than level: past the last known ground the world goes on
        if count > 0:
            ahead_m = away_m - top_m[count - 1]
            rise = max(0.0, (top_height[count - 1] - own) / ahead_m - 2.0 * drop_per_m2 * away_m)
        seen_deg[k] = _atan_deg(np.float32(rise))
        top_m[count], top_height[count] = away_m, own
        count += 1


@_compiled
def horizon_lines(z, line, lean, steps, step_m, drop_per_m2, horizon_deg, first, last):
    """Height of the horizon in one direction, along lines that look there, over flat arrays.

    ``line``: position of the cell at the far end, stride along (towards the looker), stride across, cells across,
    number of the first line. Line n passes ``n + lean * k`` cells across at its k-th of ``steps``; a cell lies
    between two lines and takes from both by nearness.
    """
    top_m, top_height = np.empty(steps), np.empty(steps)
    low, high = np.empty(steps, np.float32), np.empty(steps, np.float32)
    _sweep_line(z, line, line[4] + first, lean, step_m, drop_per_m2, top_m, top_height, low)
    for number in range(line[4] + first, line[4] + last):
        _sweep_line(z, line, number + 1, lean, step_m, drop_per_m2, top_m, top_height, high)
        for k in range(steps):
            across = number + lean * k
            col = math.ceil(across)
            if col < 0 or col >= line[3]:
                continue
            cell = line[0] + k * line[1] + col * line[2]
            part = np.float32(col - across)
            seen_deg = low[k] if part == _ZERO else low[k] + part * (high[k] - low[k])
            horizon_deg[cell] = seen_deg + _ZERO * z[cell]
        low, high = high, low


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
