"""Compiled loops of the terrain stage, over plain arrays and numbers: sight.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _HALF, _LOWEST, _NAN, _ONE, _ZERO, _compiled, _inlined

TILE = 16  # cells to a side of the squares whose highest ground is known
RINGS, RAYS = 16, 32  # that are passed over together where nothing can be seen
SLOPE_BINS, BINS_TOGETHER = 1024, 32
_GROUPS = SLOPE_BINS // BINS_TOGETHER
TREE_UNITS = 1 << 18  # of a whole loss: sums of whole numbers are quick and hang on no order
NOTHING_LEFT = 10 * TREE_UNITS  # of a share in ten thousand, after so many trees
_SECOND = np.uint64(1)  # without sign: quicker to find
_A_TRIFLE, _A_HAIR = np.float32(1e-5), 1e-6
_QUARTER, _NEXT_TO_NONE, _FAR_DOWN = np.float32(0.25), np.float32(1e-6), np.float32(-1e30)


@_compiled
def top_rows(z, tree_m, ground_top_m, tree_top_m, first, last):
    """Highest ground and trees of each square of cells, in some rows of squares; -inf and 0 where none is known."""
    rows, cols = z.shape
    ground, trees = np.empty(cols, np.float32), np.empty(cols, np.float32)
    for square in range(first, last):
        ground[:], trees[:] = _LOWEST, _ZERO
        for row in range(square * TILE, min((square + 1) * TILE, rows)):
            height, tree = z[row], tree_m[row]
            for col in range(cols):
                ground[col] = height[col] if height[col] > ground[col] else ground[col]
                trees[col] = tree[col] if tree[col] > trees[col] else trees[col]
        for aside in range(ground_top_m.shape[1]):
            ground_top_m[square, aside] = ground[aside * TILE : (aside + 1) * TILE].max()
            tree_top_m[square, aside] = trees[aside * TILE : (aside + 1) * TILE].max()


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
def _raise_rays(slope, highest):
    for n in range(len(slope)):
        highest[n] = slope[n] if slope[n] > highest[n] else highest[n]


@_inlined
def _add_trees(top, lost, highest, blind, trees, has_trees):
    """Trees that stand over all that hides already; what stands lower is looked over or not seen anyway.

    The sums of some bins each stand first; bins of a sum of zero aren't written yet.
    """
    for n in range(len(top)):
        if top[n] > highest[n] and top[n] > blind[n]:
            if not has_trees[n]:
                has_trees[n] = True
                trees[n, :_GROUPS] = 0
            number, more = _slope_bin(top[n]), int(lost[n] * np.float32(TREE_UNITS) + _HALF)
            group = number // BINS_TOGETHER
            if trees[n, group] == 0:
                for bin_there in range(BINS_TOGETHER):
                    trees[n, _GROUPS + group * BINS_TOGETHER + bin_there] = 0
            trees[n, _GROUPS + number] += more
            trees[n, group] += more


@_inlined
def _lost_above(trees, slope):
    """Trees of a ray that stand higher than a sight line of such a slope."""
    number = np.int32(_slope_bin(slope))
    group, total = number // np.int32(BINS_TOGETHER), np.int32(0)
    for n in range(_GROUPS):  # all of them, so that many are added at a time
        total += trees[n] if np.int32(n) > group else np.int32(0)
    if trees[group] > 0:
        within, bins = number % np.int32(BINS_TOGETHER), trees[_GROUPS + group * BINS_TOGETHER :]
        for n in range(BINS_TOGETHER):
            total += bins[n] if np.int32(n) > within else np.int32(0)
    return np.float32(total) / np.float32(TREE_UNITS)


@_inlined
def _blind_below(trees):
    """Slope below which a ray's trees leave nothing to be seen."""
    lost = 0
    for group in range(_GROUPS - 1, 0, -1):
        lost += trees[group]
        if lost > NOTHING_LEFT:
            place = np.float32(2.0 * BINS_TOGETHER * group / SLOPE_BINS - 1.0)
            return _QUARTER * place / (_ONE - abs(place))
    return _FAR_DOWN


@_inlined
def _span(low, high, size):
    """Squares between two cells, both included, of those that the ground has."""
    return max(low, 0) // TILE, max(min(high, size - 1) // TILE + 1, 0)


@_inlined
def _tops_between(tops, eye, shape, way, near, far, west, east):
    """Highest ground and trees on the cells of some rings and some way aside, or a little beyond."""
    (down, right), (rows, cols) = way, shape
    high_m, tree_m = _LOWEST, _ZERO
    along, across = (
        (near, far) if down + right > 0 else (-far, -near),
        (west, east) if right > 0 or down < 0 else (-east, -west),
    )
    # Forward runs along the rows' numbers on the way north and south, aside along the columns'; else the other way.
    row_span, col_span = (along, across) if right == 0 else (across, along)
    top, bottom = _span(eye[0] + row_span[0], eye[0] + row_span[1], rows)
    left, past = _span(eye[1] + col_span[0], eye[1] + col_span[1], cols)
    for row in range(top, bottom):
        for col in range(left, past):
            high_m, tree_m = max(high_m, tops[0][row, col]), max(tree_m, tops[1][row, col])
    return high_m, tree_m


@_compiled
def _look_over(tops, eye, own_m, rule, reach, way, shape, rings, first, last):
    """What stands before each group of rays on each group of rings.

    The slope that nothing there rises over, the same for those rings and all beyond, and the highest trees there.
    """
    groups, chunks = -(-(last - first) // RAYS), -(-rings // RINGS)
    steepest, tree_m = np.empty((groups, chunks), np.float32), np.empty((groups, chunks), np.float32)
    beyond = np.empty((groups, chunks + 1), np.float32)
    for group in range(groups):
        low = (first + group * RAYS - reach) / reach
        high = (min(first + (group + 1) * RAYS, last) - reach) / reach
        least = 0.0 if low <= 0.0 <= high else min(abs(low), abs(high))
        near_m = rule[0] * math.sqrt(1.0 + least * least)
        far_m = rule[0] * math.sqrt(1.0 + max(low * low, high * high))
        beyond[group, chunks] = _LOWEST
        for chunk in range(chunks - 1, -1, -1):
            near, far = 1 + chunk * RINGS, min((chunk + 1) * RINGS, rings)
            west = math.floor(min(low * near, low * far) - _A_HAIR)
            east = math.floor(max(high * near, high * far) + _A_HAIR) + 1
            high_m, trees_m = _tops_between(tops, eye, shape, way, near, far, west, east)
            rise_m, fall_m = high_m + max(rule[2], trees_m) - own_m, near_m * near if rule[3] > 0.0 else far_m * far
            slope = rise_m / (near_m * near if rise_m > 0.0 else far_m * far) - rule[3] * fall_m
            steepest[group, chunk], tree_m[group, chunk] = np.float32(slope) + _A_TRIFLE, trees_m
            beyond[group, chunk] = max(beyond[group, chunk + 1], steepest[group, chunk])
    return steepest, beyond, tree_m


@_compiled
def sight_rays(layers, tops, eye, rule, reach, side, total, first, last):
    """Add what is seen from one place on one of four sides, between some of the rays to that side's rim.

    ``layers``: height of the ground, of the trees, share of sight lost by metre of trees, all of the grid's shape.
    ``tops``: highest ground and trees of each square of them. ``eye``: row and column. ``rule``: ground width of a
    cell, height of the eye and of the target, drop by distance squared, farthest sight, what
    a look counts. ``reach``: cells to the rim, with ``2 reach`` rays a side. ``total``, flat: each cell is given its
    share of what a look counts. The rays step from ring to ring of cells together; where nothing rises over what
    hides on some rays already, neither target nor tree, some rings are passed over.
    A cell is judged by the height of sight between the two rays beside it, and by the trees along the nearer.
    Unknown ground hides nothing. ``trees`` holds for each ray how many trees stand as high as each slope.
    """
    rows, cols = shape = layers[0].shape
    way = ((-1, 0), (0, 1), (1, 0), (0, -1))[side]
    own_m = layers[0][eye[0], eye[1]] + rule[1]
    rings = min(reach, min(_room(eye[0], rows, way[0]), _room(eye[1], cols, way[1])), int(rule[4] / rule[0] + 1e-9))
    if rings < 1 or first >= last:
        return
    steepest, beyond, tree_m = _look_over(tops, eye, own_m, rule, reach, way, shape, rings, first, last)
    count = last - first + 1
    highest, blind = np.full(count + 1, _FAR_DOWN), np.full(count + 1, _FAR_DOWN)
    has_trees, trees = np.zeros(count, np.bool_), np.empty((count, _GROUPS + SLOPE_BINS), np.int32)
    hiding = highest, blind, has_trees, trees
    lean = (np.arange(first, last + 1) - reach) / reach
    step_m = (rule[0] * np.sqrt(1.0 + lean * lean)).astype(np.float32)
    height, other, loss = _floats(count + 3), _floats(count + 3), _floats(count + 3)
    part, near, far, slope, over = (
        _floats(count + 3), _floats(count + 3), _floats(count + 3), _floats(count + 3), _floats(count + 3),
    )  # fmt: skip
    scratch = lean, step_m, height, other, loss, part, near, far, slope, over, np.empty(count + 3, np.int32)
    for chunk in range(steepest.shape[1]):
        low, past = -1, 0  # rays that look at something
        is_open, is_wooded = False, False
        for group in range(len(steepest) + 1):
            is_idle = True
            if group < len(steepest):
                one, end = group * RAYS, min((group + 1) * RAYS, count - 1) + 1
                is_blind = blind[one:end].min() > steepest[group, chunk]
                is_idle = highest[one:end].min() > steepest[group, chunk] or blind[one:end].min() > beyond[group, chunk]
            if not is_idle:
                low, past = one if low < 0 else low, end
                is_open, is_wooded = is_open or not is_blind, is_wooded or tree_m[group, chunk] > _ZERO
            elif low >= 0:
                rings_there = 1 + chunk * RINGS, min((chunk + 1) * RINGS, rings)
                _step(
                    layers,
                    eye,
                    rule,
                    reach,
                    way,
                    total,
                    first,
                    rings_there,
                    (low, past),
                    (is_open, is_wooded),
                    hiding,
                    scratch,
                )
                if is_open and is_wooded:
                    for ray in range(low, past):
                        if has_trees[ray]:
                            blind[ray] = max(blind[ray], _blind_below(trees[ray]))
                low, is_open, is_wooded = -1, False, False


@_compiled
def _step(layers, eye, rule, reach, way, total, first, rings, rays_there, is_there, hiding, scratch):
    """Take some rays of a block, numbered from its first, over some rings, both included."""
    rows, cols = layers[0].shape
    z, tree_layer, loss_layer = layers[0].reshape(-1), layers[1].reshape(-1), layers[2].reshape(-1)
    start, target_m, drop_per_m2 = eye[0] * cols + eye[1], np.float32(rule[2]), np.float32(rule[3])
    cell_m, reach_cells, own_m = rule[0], rule[4] / rule[0], np.float32(z[start] + np.float32(rule[1]))
    down, right = way
    highest, blind, has_trees, trees = hiding
    lean, step_m, height, tree_m, loss, part, near, far, slope, over, beside = scratch
    # A cell aside is a column eastward on the way north, a row southward on the way east, and so on round.
    ahead, aside = down * cols + right, right * cols - down
    most = min(_room(eye[0], rows, right), _room(eye[1], cols, -down))
    least = -min(_room(eye[0], rows, -right), _room(eye[1], cols, down))
    least_ray, most_ray, whole = first + rays_there[0], first + rays_there[1] - 1, int(rule[5])
    for k in range(rings[0], rings[1] + 1):
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
        is_wooded = False
        if is_there[0] and is_there[1]:
            loss[0] = loss[width - 1] = _ZERO
            _take(loss_layer, at, aside, _ZERO, loss[piece])
            is_wooded = _count_of_wooded(loss[:width]) > 0
            if is_wooded:
                _take(tree_layer, at, aside, _ZERO, tree_m[piece])
        begin = max(west, -((reach - least_ray) * k // reach))
        end = min(east + 1, -((reach - most_ray) * k // reach))
        if begin < end and is_there[0]:
            n, first_ray = end - begin, first - reach - 1e-9
            _place_cells(begin, reach / k, first_ray, beside[:n], part[:n])
            _pick(highest, beside[:n], near, far)
            _slopes_of_cells(height[begin - base :], k, begin, np.float32(cell_m), target_m, drop_per_m2, slope[:n])
            _clear_of_rays(slope, near, far, part, over[:n])
            for n in range(end - begin):
                if over[n] >= _ZERO:
                    lost = _ZERO
                    ray, cell = beside[n] + (1 if part[n] >= _HALF else 0), begin + n - base
                    if slope[n] < blind[ray]:
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
            _tree_tops(beside[:n], part, tree_m, loss, k, step_m[rays], slope, near, far)
            _add_trees(near[:n], far, highest[rays], blind[rays], trees[rays], has_trees[rays])
        _raise_rays(slope[:n], highest[rays])


@_compiled
def share_rows(total, whole, z, share, first, last):
    """Whole numbers as shares of the most that they can be, none where the height isn't known, in some rows."""
    for row in range(first, last):
        count, height, told = total[row], z[row], share[row]
        for col in range(len(told)):
            told[col] = np.float32(count[col]) / np.float32(whole) + _ZERO * height[col]
