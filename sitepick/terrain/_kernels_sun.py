"""Compiled loops of the terrain stage, over plain arrays and numbers: horizon and sun.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``. Loops named ``..._rows`` and
``..._lines`` write only what lies between ``first`` and ``last`` and may run side by side.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _NAN, _ONE, _ZERO, _atan_deg, _compiled, _inlined

_SECOND, _THIRD, _FOURTH, _HULL_SIZE = (np.uint64(number) for number in range(1, 5))  # without sign: quicker to find


@_inlined
def _heights_between(low, high, part, fallen_m, height):
    """Heights ``part`` of the way from one cell to the next; beside a gap, that of the one known."""
    for n in range(len(height)):
        near, far = np.float64(low[n]), np.float64(high[n])
        between = near + (far - near) * part
        between = near if np.isnan(far) else between
        height[n] = (far if np.isnan(near) else between) - fallen_m


@_inlined
def _look_ahead(height, k, hull, top, more_m, ahead):
    """Height over each line's k-th step, and steps to it, of what stands steepest ahead on that line.

    ``hull``: for each line a stack of places that hold the upper hull of what lies ahead: step, height, steps and
    height to the next place. Above the last of them stands the sky. ``top``: where each stack's last place begins.
    """
    step = np.float64(k)
    for n in range(len(height)):
        own, place = height[n], top[n]
        away, more = step - hull[place], hull[place + _SECOND] - own
        if np.isnan(own):
            more_m[n] = _NAN
            continue
        while more * hull[place + _THIRD] < hull[place + _FOURTH] * away:
            place -= _HULL_SIZE
            away, more = step - hull[place], hull[place + _SECOND] - own
        more_m[n], ahead[n] = np.float32(more), np.float32(away)
        place += _HULL_SIZE
        top[n] = place
        hull[place], hull[place + _SECOND] = step, own
        hull[place + _THIRD], hull[place + _FOURTH] = away, more


@_inlined
def _angles(more_m, ahead, step_m, bent, seen_deg):
    """Past the last known ground the world goes on, so that no horizon lies below level."""
    by_step, less = np.float32(1.0 / step_m), np.float32(bent)
    for n in range(len(more_m)):
        rise = more_m[n] / ahead[n] * by_step - less
        seen_deg[n] = _atan_deg(rise if rise > _ZERO else _ZERO)


@_inlined
def _tell_cells(low_deg, high_deg, part, ground, stride, horizon_deg):
    """Horizon of each cell from those of the lines beside it; cells without a height get none."""
    for n in range(len(low_deg)):
        seen_deg = low_deg[n] + part * (high_deg[n] - low_deg[n])
        horizon_deg[np.uint64(n) * stride] = seen_deg + _ZERO * ground[n]


@_compiled
def horizon_lines(z, line, lean, steps, step_m, drop_per_m2, horizon_deg, first, last):
    """Height of the horizon in one direction, along lines that look there, over flat arrays.

    ``line``: position of the cell at the far end, stride along (towards the looker), stride across, cells across,
    number of the first line. Line n passes ``n + lean * k`` cells across at its k-th of ``steps``; a cell lies
    between two lines and takes from both by nearness. The lines take each step together, since all of them lie
    alike between the cells of it: what is done to heights and angles is done to many at a time. Taking a parabola
    off the heights bends them like the earth; what that adds to every slope is taken off again.
    """
    cells, number, count = line[3], line[4] + first, last - first + 1
    stride, room = np.uint64(line[2]), _HULL_SIZE * np.uint64(steps + 1)
    hull, top = np.empty(count * (4 * steps + 4)), np.arange(count).astype(np.uint64) * room
    for bottom in top:
        hull[bottom], hull[bottom + _SECOND] = -1.0, -np.inf
        hull[bottom + _THIRD], hull[bottom + _FOURTH] = 1.0, -np.inf
    ground, height = np.empty(count + 1, np.float32), np.empty(count)
    more_m, ahead, seen_deg = np.empty(count, np.float32), np.empty(count, np.float32), np.empty(count, np.float32)
    for k in range(steps):
        base = number + math.floor(lean * k)  # cell beside the block's first line, on the low side
        part = lean * k - math.floor(lean * k)
        aside = 1 if part > 0.0 else 0
        low, past = max(0, -base - aside), min(count, cells - base)  # lines that have a cell here
        if low >= past:
            continue
        start = line[0] + k * line[1] + base * line[2]
        ground[low] = ground[past] = _NAN
        known = ground[max(low, -base) : min(past + aside, cells - base)]
        there = z[start + max(low, -base) * line[2] :]
        for n in range(len(known)):
            known[n] = there[np.uint64(n) * stride]
        away_m, here = k * step_m, height[low:past]
        fallen_m = drop_per_m2 * away_m * away_m
        _heights_between(ground[low:past], ground[low + aside : past + aside], part, fallen_m, here)
        _look_ahead(here, k, hull, top[low:past], more_m[low:past], ahead[low:past])
        _angles(more_m[low:past], ahead[low:past], step_m, 2.0 * drop_per_m2 * away_m, seen_deg[low:past])
        past = min(past, count - 1, cells - base - aside)
        if low < past:
            near_deg, far_deg = seen_deg[low:past], seen_deg[low + aside : past + aside]
            told = horizon_deg[start + (low + aside) * line[2] :]
            own = ground[low + aside : past + aside]
            _tell_cells(near_deg, far_deg, np.float32(aside * (1.0 - part)), own, stride, told)


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
