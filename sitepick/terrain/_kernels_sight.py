"""Compiled loops of the terrain stage, over plain arrays and numbers: horizon, sun and sight.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``. Loops named ``..._rows`` and
``..._lines`` write only what lies between ``first`` and ``last`` and may run side by side.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _HALF, _NAN, _ONE, _ZERO, _atan_deg, _compiled, _inlined

SLOPE_BINS, BINS_TOGETHER = 1024, 32
RINGS_BLIND = 32  # between two looks at how far up a ray's trees leave nothing to be seen
TREE_UNITS = 1 << 18  # of a whole loss: sums of whole numbers are quick and hang on no order
NOTHING_LEFT = 10 * TREE_UNITS  # of a share in ten thousand, after so many trees
_SECOND, _THIRD, _FOURTH, _HULL_SIZE = (np.uint64(number) for number in range(1, 5))  # without sign: quicker to find
_A_TRIFLE = np.float32(1e-5)
_QUARTER, _NEXT_TO_NONE, _FAR_DOWN = np.float32(0.25), np.float32(1e-6), np.float32(-1e30)


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


@_inlined
def _slope_bin(slope):
    """Number of a sight line's slope, finest about level: 0.0005 there, 0.003 at 20 degrees."""
    return min(SLOPE_BINS - 1, int((slope / (_QUARTER + abs(slope)) + _ONE) * np.float32(0.5 * SLOPE_BINS)))


@_inlined
def _room(eye, size, way):
    """Cells from the eye to the edge of the ground, going up or down the rows or columns."""
    return eye if way < 0 else (size - 1 - eye if way > 0 else 1 << 30)


@_inlined
def _floats(count):
    return np.empty(count, np.float32)


@_inlined
def _take(layer, start, stride, less, piece):
    for n in range(len(piece)):
        piece[n] = layer[start + n * stride] - less


@_inlined
def _count_of_wooded(loss):
    count = np.int32(0)
    for n in range(len(loss)):
        count += np.int32(loss[n] > _ZERO)
    return count


@_inlined
def _place_rays(lean, k, base, cell, part):
    for n in range(len(cell)):
        place = lean[n] * k - base
        cell[n] = np.int32(place)
        part[n] = np.float32(place - cell[n])


@_inlined
def _place_cells(aside, by_cell, first_ray, ray, part):
    for n in range(len(ray)):
        place = (aside + n) * by_cell - first_ray
        ray[n] = np.int32(place)
        part[n] = np.float32(place - ray[n])


@_inlined
def _pick(values, number, near, far):
    for n in range(len(number)):
        one = np.uint64(number[n])
        near[n], far[n] = values[one], values[one + _SECOND]


@_inlined
def _slopes_of_rays(near, far, part, k, step_m, drop_per_m2, slope):
    """Slope from the eye to the ground on each ray, between two cells; beside a gap, that of the one known."""
    by_k, fall = np.float32(1.0 / k), drop_per_m2 * np.float32(k)
    for n in range(len(slope)):
        one, other = near[n], far[n]
        height = one + (other - one) * part[n]
        height = other if np.isnan(one) else height
        height = one if np.isnan(other) | (part[n] < _NEXT_TO_NONE) else height
        slope[n] = height * by_k / step_m[n] - fall * step_m[n]


@_inlined
def _slopes_of_cells(height, k, aside, cell_m, target_m, drop_per_m2, slope):
    """Slope from the eye to what is looked for on each cell."""
    ahead = np.float32(k * k)
    for n in range(len(slope)):
        sideways = np.float32(aside + n)
        away_m = cell_m * np.sqrt(ahead + sideways * sideways)
        slope[n] = (height[n] + target_m) / away_m - drop_per_m2 * away_m


@_inlined
def _clear_of_rays(slope, near, far, part, over):
    """How far a slope lies over the highest on the two rays beside it."""
    for n in range(len(over)):
        over[n] = slope[n] - (near[n] + part[n] * (far[n] - near[n]))


@_inlined
def _tree_tops(cell, part, tree_m, loss, k, step_m, slope, top, lost):
    """Slope to the top of the trees where each ray passes, and the share of sight that is lost in them."""
    for n in range(len(cell)):
        nearer = np.uint64(cell[n]) + (_SECOND if part[n] >= _HALF else np.uint64(0))
        top[n], lost[n] = tree_m[nearer], loss[nearer]
    by_k = np.float32(1.0 / k)
    for n in range(len(cell)):
        top[n] = slope[n] + top[n] * by_k / step_m[n] if lost[n] > _ZERO else _FAR_DOWN
        lost[n] *= step_m[n]


@_inlined
def _raise_rays(slope, highest, blind):
    for n in range(len(slope)):
        highest[n] = slope[n] if slope[n] > highest[n] else highest[n]
        blind[n] = highest[n] if highest[n] > blind[n] else blind[n]


@_inlined
def _add_trees(top, lost, blind, trees, has_trees):
    """Trees that stand over all that hides already; what stands lower is looked over or not seen anyway."""
    for n in range(len(top)):
        if top[n] > blind[n]:
            if not has_trees[n]:
                has_trees[n] = True
                trees[n, :] = 0
            number, more = _slope_bin(top[n]), int(lost[n] * np.float32(TREE_UNITS) + _HALF)
            trees[n, number] += more
            trees[n, SLOPE_BINS + number // BINS_TOGETHER] += more


@_inlined
def _sum(numbers):
    total = 0
    for n in range(len(numbers)):
        total += numbers[n]
    return total


@_inlined
def _lost_above(trees, slope):
    """Trees of a ray that stand higher than a sight line of such a slope; the sums of some bins each lie last."""
    number = _slope_bin(slope)
    group = number // BINS_TOGETHER
    return np.float32(
        _sum(trees[number + 1 : BINS_TOGETHER * (group + 1)]) + _sum(trees[SLOPE_BINS + group + 1 :])
    ) / np.float32(TREE_UNITS)


@_inlined
def _blind_below(trees):
    """Slope below which a ray's trees leave nothing to be seen."""
    lost = 0
    for group in range(SLOPE_BINS // BINS_TOGETHER - 1, 0, -1):
        lost += trees[SLOPE_BINS + group]
        if lost > NOTHING_LEFT:
            place = np.float32(2.0 * BINS_TOGETHER * group / SLOPE_BINS - 1.0)
            return _QUARTER * place / (_ONE - abs(place))
    return _FAR_DOWN


@_inlined
def _steepest_beyond(top_m, own_m, rule, k):
    """Slope from the eye that no target farther than the k-th ring lies over, by the highest ground there."""
    rise_m, near_m, far_m = top_m + rule[2] - own_m, k * rule[0], max(rule[4], k * rule[0])
    slope = rise_m / (near_m if rise_m > 0.0 else far_m) - rule[3] * (near_m if rule[3] > 0.0 else far_m)
    return np.float32(slope) + _A_TRIFLE


@_compiled
def sight_rays(layers, tops_m, eye, rule, reach, side, total, first, last):
    """Add what is seen from one place on one of four sides, between some of the rays to that side's rim.

    ``layers``: height of the ground, of the trees, share of sight lost by metre of trees, all of the grid's shape.
    ``tops_m``: highest ground past every `RINGS_BLIND` rings. ``eye``: row and column. ``rule``: ground width of a
    cell, height of the eye and of the target, drop by distance squared, farthest sight, whether there are trees, what
    a look counts. ``reach``: cells to the rim, with ``2 reach`` rays a side. ``total``, flat: each cell is given its
    share of what a look counts. The rays step from ring to ring of cells together, until nothing more can be seen.
    A cell is judged by the height of sight between the two rays beside it, and by the trees along the nearer.
    Unknown ground hides nothing. ``trees`` holds for each ray how many trees stand as high as each slope.
    """
    rows, cols = layers[0].shape
    z, tree_layer, loss_layer = layers[0].reshape(-1), layers[1].reshape(-1), layers[2].reshape(-1)
    start, target_m, drop_per_m2 = eye[0] * cols + eye[1], np.float32(rule[2]), np.float32(rule[3])
    cell_m, reach_cells, own_m = rule[0], rule[4] / rule[0], np.float32(z[start] + np.float32(rule[1]))
    down, right = (-1, 0, 1, 0)[side], (0, 1, 0, -1)[side]
    # A cell aside is a column eastward on the way north, a row southward on the way east, and so on round.
    ahead, aside = down * cols + right, right * cols - down
    most = min(_room(eye[0], rows, right), _room(eye[1], cols, -down))
    least = -min(_room(eye[0], rows, -right), _room(eye[1], cols, down))
    room = min(_room(eye[0], rows, down), _room(eye[1], cols, right))
    count = last - first + 1
    lean = (np.arange(first, last + 1) - reach) / reach
    step_m = (cell_m * np.sqrt(1.0 + lean * lean)).astype(np.float32)
    highest, blind = np.full(count + 1, _FAR_DOWN), np.full(count + 1, _FAR_DOWN)
    height, tree_m, loss = _floats(count + 3), _floats(count + 3), _floats(count + 3)
    part, near, far, slope, over = (
        _floats(count + 3), _floats(count + 3), _floats(count + 3), _floats(count + 3), _floats(count + 3),
    )  # fmt: skip
    beside = np.empty(count + 3, np.int32)
    has_trees = np.zeros(count, np.bool_)
    trees = np.empty((count, SLOPE_BINS + SLOPE_BINS // BINS_TOGETHER), np.int32)
    is_wooded, met_trees, whole = False, False, int(rule[6])
    least_ray, most_ray = first, last  # outside of them nothing more is seen
    for k in range(1, min(reach, room, int(reach_cells + 1e-9)) + 1):
        wide = int(math.sqrt(reach_cells * reach_cells - k * k + 1e-6))  # cells aside that sight reaches
        west, east = max(least, -wide), min(most, wide)
        # Rays that pass over known cells, or between one of them and what lies beyond.
        low = max(least_ray, math.ceil((west - 1 + 1e-9) * reach / k) + reach)
        past = min(most_ray, math.floor((east + 1 - 1e-9) * reach / k) + reach) + 1
        if low >= past:
            continue
        base = math.floor((low - reach) / reach * k + 1e-9)
        width = math.floor((past - 1 - reach) / reach * k + 1e-9) + 2 - base
        from_cell, to_cell = max(base, least), min(base + width, most + 1)
        piece, at = slice(from_cell - base, to_cell - base), start + k * ahead + from_cell * aside
        height[0] = height[width - 1] = _NAN
        _take(z, at, aside, own_m, height[piece])
        if rule[5] > 0.0:
            loss[0] = loss[width - 1] = _ZERO
            _take(loss_layer, at, aside, _ZERO, loss[piece])
            is_wooded = _count_of_wooded(loss[:width]) > 0
            if is_wooded:
                _take(tree_layer, at, aside, _ZERO, tree_m[piece])
        begin = max(west, -((reach - least_ray) * k // reach))
        end = min(east + 1, -((reach - most_ray) * k // reach))
        if begin < end:
            n, first_ray = end - begin, first - reach - 1e-9
            _place_cells(begin, reach / k, first_ray, beside[:n], part[:n])
            _pick(highest, beside[:n], near, far)
            _slopes_of_cells(height[begin - base :], k, begin, np.float32(cell_m), target_m, drop_per_m2, slope[:n])
            _clear_of_rays(slope, near, far, part, over[:n])
        for n in range(end - begin):
            if over[n] >= _ZERO:
                lost = _ZERO
                if is_wooded or met_trees:
                    ray, cell = beside[n] + (1 if part[n] >= _HALF else 0), begin + n - base
                    if blind[ray] > highest[ray] and slope[n] < blind[ray]:
                        continue  # in trees without end
                    if has_trees[ray]:
                        lost = _lost_above(trees[ray], slope[n])
                    if is_wooded and tree_m[cell] > target_m:
                        lost += _HALF * loss[cell] * step_m[ray]
                share = whole if lost == _ZERO else int(whole * math.exp(-lost) + 0.5)
                total[start + k * ahead + (begin + n) * aside] += share
        n, rays = past - low, slice(low - first, past - first)
        _place_rays(lean[rays], k, base - 1e-9, beside[:n], part)
        _pick(height, beside[:n], near, far)
        _slopes_of_rays(near, far, part, k, step_m[rays], drop_per_m2, slope[:n])
        if is_wooded:
            met_trees = True
            _tree_tops(beside[:n], part, tree_m, loss, k, step_m[rays], slope, near, far)
            _add_trees(near[:n], far, blind[rays], trees[rays], has_trees[rays])
        _raise_rays(slope[:n], highest[rays], blind[rays])
        if k % RINGS_BLIND == 0:
            if met_trees:
                for ray in range(low - first, past - first):
                    if has_trees[ray]:
                        blind[ray] = max(blind[ray], _blind_below(trees[ray]))
            steepest = _steepest_beyond(tops_m[k // RINGS_BLIND], z[start] + rule[1], rule, k)
            while least_ray < most_ray and min(blind[least_ray - first], blind[least_ray + 1 - first]) > steepest:
                least_ray += 1
            while least_ray < most_ray and min(blind[most_ray - first], blind[most_ray - 1 - first]) > steepest:
                most_ray -= 1
            if least_ray == most_ray:
                return
