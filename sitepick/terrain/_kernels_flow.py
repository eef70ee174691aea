"""Compiled loops of the terrain stage, over plain arrays and numbers: water and avalanches.

Each has a slow, obvious twin in ``tests/unit/terrain/slow.py``.
"""

# Plain loops for the compiler, which finds the types by itself.
# mypy: disable-error-code="no-untyped-def"

from __future__ import annotations

import math

import numpy as np

from sitepick.terrain._kernels import _compiled, _inlined

_DIAGONAL = math.sqrt(0.5)


_GAP, _NOT_REACHED, _QUEUED, _OUTSIDE = -3, -2, -1, 0  # labels of cells within a tile
_FLAT = -3  # receiver of a cell that has nothing lower beside it, until the way out is found
_NO_EDGE = np.int32(2**31 - 1)
_PASSED_ON, _HELD = 255, 254  # in place of how many cells have still to drain into one


@_inlined
def _first_of(label, cell):
    """The earliest cell that a cell leads to; ways there are cut short as they are walked."""
    while label[cell] != cell:
        label[cell] = label[label[cell]]
        cell = label[cell]
    return cell


@_compiled
def join_rows(is_there, label, first, last):
    """Let each cell of a mask lead to an earlier one of its part, the first to itself; -1 off the mask.

    Blocks of rows in their order. Of the four neighbours met before, the one to the north touches all others,
    so it alone is asked where it is there.
    """
    cols, flat = is_there.shape[1], label.reshape(-1)
    for row in range(first, last):
        for col in range(cols):
            cell = row * cols + col
            if not is_there[row, col]:
                flat[cell] = -1
                continue
            flat[cell] = cell
            if row > 0 and is_there[row - 1, col]:
                flat[cell] = _first_of(flat, cell - cols)
                continue
            one = cell
            if col > 0 and is_there[row, col - 1]:
                one = _first_of(flat, cell - 1)
            elif row > 0 and col > 0 and is_there[row - 1, col - 1]:
                one = _first_of(flat, cell - cols - 1)
            other = one
            if row > 0 and col < cols - 1 and is_there[row - 1, col + 1]:
                other = _first_of(flat, cell - cols + 1)
            flat[one] = flat[other] = flat[cell] = min(one, other)


@_compiled
def number_rows(label, count, first, last):
    """Number the parts from 1 in the order of their first cells, 0 off them; after `join_rows`, in order.

    Returns how many parts there are so far, ``count`` of them before these rows.
    """
    cols, flat = label.shape[1], label.reshape(-1)
    for cell in range(first * cols, last * cols):
        earlier = flat[cell]
        if earlier < 0:
            flat[cell] = 0
        elif earlier == cell:
            count += 1
            flat[cell] = count
        else:
            flat[cell] = flat[earlier]
    return count


@_compiled
def count_cells(label, cell_count, first, last):
    """Add up the cells of each number."""
    for row in range(first, last):
        for col in range(label.shape[1]):
            cell_count[label[row, col]] += 1


@_compiled
def level_rows(z, is_lost, lowest_m, step_m, level, first, last):
    """Heights in whole steps above the lowest; -1 where water is lost to sight, 0 in other gaps."""
    for row in range(first, last):
        for col in range(z.shape[1]):
            if is_lost[row, col]:
                level[row, col] = -1
            elif math.isnan(z[row, col]):
                level[row, col] = 0
            else:
                level[row, col] = round((z[row, col] - lowest_m) / step_m)


@_inlined
def _is_outlet(level, row, col):
    """Whether water leaves here: on the window's edge, or beside a gap that runs out of the window."""
    rows, cols = level.shape
    if row == 0 or col == 0 or row == rows - 1 or col == cols - 1:
        return True
    for down in range(-1, 2):
        for right in range(-1, 2):
            if level[row + down, col + right] < 0:
                return True
    return False


@_inlined
def _tile_with_rim(level, top, bottom, left, right):
    """A tile's levels and labels in one row each, with a rim of gaps, so that no step leads out of them."""
    width = right - left + 2
    own = np.full((bottom - top + 2) * width, -1, np.int32)
    label = np.full(own.shape, _GAP, np.int16)
    lowest, highest = _NO_EDGE, np.int32(-1)
    for row in range(top, bottom):
        for col in range(left, right):
            here = level[row, col]
            if here < 0:
                continue
            cell = (row - top + 1) * width + col - left + 1
            own[cell] = here
            lowest, highest = min(lowest, here), max(highest, here)
            if _is_outlet(level, row, col):
                label[cell] = _OUTSIDE
            elif row == top or row == bottom - 1 or col == left or col == right - 1:
                label[cell] = _QUEUED
            else:
                label[cell] = _NOT_REACHED
    return own, label, lowest, highest


@_compiled
def flood_tile(level, label, top, bottom, left, right, label_max):
    """Flood one tile inwards from its border and its outlets, lowest first.

    ``level`` is raised to where the tile itself spills, ``label`` tells the lowest border cell that the
    water spills to (0 the outside). Returns the number of labels and, a row a pair of labels that touch,
    the two and the lowest level at which water passes between them.
    """
    width = right - left + 2
    raised, told, lowest, highest = _tile_with_rim(level, top, bottom, left, right)
    head = np.full(max(0, highest - lowest) + 1, -1, np.int32)
    following = np.empty(len(raised), np.int32)
    for cell in range(len(raised)):
        if told[cell] == _OUTSIDE or told[cell] == _QUEUED:
            following[cell] = head[raised[cell] - lowest]
            head[raised[cell] - lowest] = cell
    passes = np.full((label_max, label_max), _NO_EDGE, np.int32)
    label_count, bucket = 1, 0
    while bucket < len(head):
        cell = head[bucket]
        if cell < 0:
            bucket += 1
            continue
        head[bucket] = following[cell]
        if told[cell] == _QUEUED:
            told[cell] = label_count
            label_count += 1
        own, here = told[cell], np.int32(bucket + lowest)
        for down in range(-1, 2):
            for beside in range(cell + down * width - 1, cell + down * width + 2):
                other = np.uint64(beside)  # without sign: quicker to find
                theirs = told[other]
                if theirs >= 0:
                    if theirs != own:
                        low, high = min(own, theirs), max(own, theirs)
                        passes[low, high] = min(passes[low, high], max(raised[other], here))
                elif theirs == _QUEUED:
                    told[other] = own
                elif theirs == _NOT_REACHED:
                    told[other] = own
                    there = max(raised[other], here)
                    raised[other] = there
                    place = np.uint64(there - lowest)
                    following[other] = head[place]
                    head[place] = np.int32(beside)
    for row in range(top, bottom):
        start = (row - top + 1) * width + 1
        level[row, left:right] = raised[start : start + right - left]
        label[row, left:right] = told[start : start + right - left]
    return label_count, _passes_listed(passes, label_count)


@_inlined
def _passes_listed(passes, label_count):
    """A row a pair of labels that touch: the two and the level."""
    count = 0
    for low in range(label_count):
        for high in range(low + 1, label_count):
            count += passes[low, high] < _NO_EDGE
    edges = np.empty((count, 3), np.int32)
    count = 0
    for low in range(label_count):
        for high in range(low + 1, label_count):
            if passes[low, high] < _NO_EDGE:
                edges[count, 0], edges[count, 1], edges[count, 2] = low, high, passes[low, high]
                count += 1
    return edges


@_inlined
def _root(group, node):
    while group[node] != node:
        group[node] = group[group[node]]
        node = group[node]
    return node


@_compiled
def spill_levels(edges, order, group, ring, spill):
    """Level at which each label's water gets out, over the edges in rising ``order``; label 0 is out.

    ``group`` and ``ring``: what each label is joined to so far, and each group's members, chained in a ring.
    """
    for k in order:
        one, other = _root(group, edges[k, 0]), _root(group, edges[k, 1])
        if one == other:
            continue
        outside = _root(group, 0)
        if outside == other:
            one, other = other, one
        if outside == one:
            member = other
            while True:
                spill[member] = edges[k, 2]
                member = ring[member]
                if member == other:
                    break
        ring[one], ring[other] = ring[other], ring[one]
        group[other] = one


@_compiled
def raise_rows(level, label, offset, tile_cells, spill, z, lowest_m, step_m, filled_m, first, last):
    """Raise each cell to the level at which its label's water gets out; the same in metres."""
    for row in range(first, last):
        for col in range(level.shape[1]):
            if level[row, col] < 0:
                filled_m[row, col] = np.nan
                continue
            own = label[row, col]
            if own > _OUTSIDE:
                own = spill[offset[row // tile_cells, col // tile_cells] + own]
                level[row, col] = max(level[row, col], own)
            height_m = np.float32(level[row, col] * step_m + lowest_m)
            filled_m[row, col] = z[row, col] if math.isnan(z[row, col]) else max(height_m, z[row, col])


@_inlined
def _steepest_at_edge(level, row, col):
    """Flat index of the cell that lies steepest below, where some neighbours are missing; -1 where none does."""
    rows, cols = level.shape
    steepest, goal = 0.0, -1
    for down in range(max(row - 1, 0), min(row + 2, rows)):
        for across in range(max(col - 1, 0), min(col + 2, cols)):
            fall = level[row, col] - level[down, across]
            if fall <= 0 or level[down, across] < 0:
                continue
            steepness = fall * (1.0 if down == row or across == col else _DIAGONAL)
            if steepness > steepest:
                steepest, goal = steepness, down * cols + across
    return goal


@_compiled
def flow_rows(level, receiver, first, last):
    """Steepest of eight ways down the filled ground; -1 out of the window, `_FLAT` where nothing is lower.

    Returns how many are flat.
    """
    rows, cols = level.shape
    flat_count = 0
    for row in range(first, last):
        if row == 0 or row == rows - 1:
            for col in range(cols):
                receiver[row, col] = _steepest_at_edge(level, row, col) if level[row, col] >= 0 else -1
            continue
        north, here, south = level[row - 1], level[row], level[row + 1]
        for col in range(cols):
            if here[col] < 0:
                receiver[row, col] = -1
                continue
            if col == 0 or col == cols - 1:
                receiver[row, col] = _steepest_at_edge(level, row, col)
                continue
            straight, goal = north[col], -cols
            if here[col - 1] < straight:
                straight, goal = here[col - 1], -1
            if here[col + 1] < straight:
                straight, goal = here[col + 1], 1
            if south[col] < straight:
                straight, goal = south[col], cols
            oblique, corner = north[col - 1], -cols - 1
            if north[col + 1] < oblique:
                oblique, corner = north[col + 1], -cols + 1
            if south[col - 1] < oblique:
                oblique, corner = south[col - 1], cols - 1
            if south[col + 1] < oblique:
                oblique, corner = south[col + 1], cols + 1
            if straight < 0 or oblique < 0:
                receiver[row, col] = _steepest_at_edge(level, row, col)
            elif min(straight, oblique) >= here[col]:
                receiver[row, col] = _FLAT
                flat_count += 1
            else:
                is_straight = here[col] - straight >= (here[col] - oblique) * _DIAGONAL
                receiver[row, col] = row * cols + col + (goal if is_straight else corner)
    return flat_count


@_compiled
def find_flat_exits(level, receiver, queue, count, first, last):
    """Queue the cells of flats that lie beside a way out, ``count`` before these rows; returns how many by now.

    Their receivers are written down as -10 and less: no ways out for their own neighbours before all are found.
    """
    rows, cols = level.shape
    for row in range(max(first, 1), min(last, rows - 1)):
        for col in range(1, cols - 1):
            if receiver[row, col] != _FLAT:
                continue
            for beside in range(9):
                down, across = row - 1 + beside // 3, col - 1 + beside % 3
                if receiver[down, across] >= -1 and level[down, across] == level[row, col]:
                    receiver[row, col] = -(down * cols + across) - 10
                    queue[count] = row * cols + col
                    count += 1
                    break
    return count


@_compiled
def drain_flats(level, receiver, queue, state, step_count):
    """Drain flats outward in, each cell by the fewest steps. ``state``: cells done, cells queued."""
    cols = level.shape[1]
    done, queued = state[0], state[1]
    stop = min(done + step_count, len(queue))
    while done < min(queued, stop):
        row, col = queue[done] // cols, queue[done] % cols
        if receiver[row, col] <= -10:
            receiver[row, col] = -(receiver[row, col] + 10)
        for beside in range(9):
            down, across = row - 1 + beside // 3, col - 1 + beside % 3
            if receiver[down, across] == _FLAT and level[down, across] == level[row, col]:
                receiver[down, across] = queue[done]
                queue[queued] = down * cols + across
                queued += 1
        done += 1
    state[0], state[1] = done, queued
    return done < queued


@_compiled
def count_rows(receiver, gives, first, last):
    """Count for each cell how many drain straight into it, from a block of rows."""
    flat, cols = receiver.reshape(-1), receiver.shape[1]
    for cell in range(first * cols, last * cols):
        if flat[cell] >= 0:
            gives[flat[cell]] += 1


@_compiled
def accumulate_rows(receiver, gives, count, first, last):
    """Pass each cell's count on to the cell that it drains to, once all that drains to itself has come.

    Nothing is passed out of the rows, which may run side by side with others: see `pass_on_row`.
    """
    flat, cols = receiver.reshape(-1), receiver.shape[1]
    for start in range(first * cols, last * cols):
        cell = start
        while gives[cell] == 0:
            gives[cell] = _PASSED_ON
            goal = flat[cell]
            if goal < 0:
                break
            if goal < first * cols or goal >= last * cols:
                gives[cell] = _HELD
                break
            count[goal] += count[cell]
            gives[goal] -= 1
            cell = goal


@_compiled
def pass_on_row(receiver, gives, count, row):
    """Pass on what `accumulate_rows` held back in a row, and what that sets free, as far as it goes."""
    flat, cols = receiver.reshape(-1), receiver.shape[1]
    for start in range(row * cols, (row + 1) * cols):
        cell = start
        while gives[cell] == 0 or gives[cell] == _HELD:
            gives[cell] = _PASSED_ON
            goal = flat[cell]
            if goal < 0:
                break
            count[goal] += count[cell]
            gives[goal] -= 1
            cell = goal


@_compiled
def drain_rows(receiver, drain_m, cell_m, base_m, path_m, way, first, last):
    """Height of the drain that each cell's water comes to, and the way there.

    ``drain_m`` is NaN off the drains; ``path_m`` is negative where nothing was told yet; ``way`` is scratch.
    """
    flat, cols = receiver.reshape(-1), receiver.shape[1]
    diagonal_m = cell_m * math.sqrt(2.0)
    for start in range(first * cols, last * cols):
        cell, length = start, 0
        while path_m[cell] < 0.0 and math.isnan(drain_m[cell]) and flat[cell] >= 0:
            way[length] = cell
            length += 1
            cell = flat[cell]
        if path_m[cell] < 0.0:
            base_m[cell] = drain_m[cell]
            path_m[cell] = drain_m[cell] * np.float32(0.0)  # NaN where the water is lost
        for k in range(length - 1, -1, -1):
            goal, cell = cell, way[k]
            is_straight = abs(goal - cell) == 1 or abs(goal - cell) == cols
            base_m[cell] = base_m[goal]
            path_m[cell] = path_m[goal] + (cell_m if is_straight else diagonal_m)


@_inlined
def _pull(z, energy_m, source, cell_m, fall, row, col, start):
    """Take over a neighbour's source where its energy line runs higher; returns whether it did."""
    if start < 0 or start == source[row, col]:
        return False
    start_row, start_col = start // z.shape[1], start % z.shape[1]
    run = math.sqrt(float((row - start_row) ** 2 + (col - start_col) ** 2)) * cell_m
    energy = np.float32(z[start_row, start_col] - fall * run)  # as stored, or two sources would swap for ever
    if energy <= z[row, col] or energy <= energy_m[row, col]:
        return False
    energy_m[row, col] = energy
    source[row, col] = start
    return True


@_compiled
def spread_pass(z, energy_m, source, cell_m, fall, changed_in, number, first, last):
    """Part of one pass of energy lines over the ground, southward if ``number`` is even, else northward.

    ``first``, ``last``: rows, counted from where the pass begins. ``changed_in[row]``: number of the pass that
    last changed a row. Returns how many cells changed.
    """
    rows, cols = z.shape
    is_northward = number % 2 == 1
    changed_count = 0
    for step in range(first, last):
        row = rows - 1 - step if is_northward else step
        before = row if step == 0 else (row + 1 if is_northward else row - 1)
        # Nothing new here or in the row before since the last pass this way: nothing to take over.
        if max(changed_in[row], changed_in[before]) < number - 2:
            continue
        old_count = changed_count
        for col in range(cols):
            own = source[row, col]
            near, far = source[before, max(0, col - 1)], source[before, min(cols - 1, col + 1)]
            straight, beside = source[before, col], source[row, max(0, col - 1)]
            if near == own and far == own and straight == own and beside == own:
                continue
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, near)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, far)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, straight)
            changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, beside)
        for col in range(cols - 2, -1, -1):
            if source[row, col + 1] != source[row, col]:
                changed_count += _pull(z, energy_m, source, cell_m, fall, row, col, source[row, col + 1])
        if changed_count > old_count:
            changed_in[row] = number
    return changed_count


@_compiled
def run_down_paths(z, is_release, receiver, cell_m, fall, energy_m, source, first, last):
    """Follow the water's way down from releases, as far as a line that falls along it stays above the ground.

    From those in the rows. Of the ways over a cell the one with the highest line goes on; ``source`` tells
    where it began.
    """
    cols = z.shape[1]
    for start in range(first * cols, last * cols):
        if not is_release[start // cols, start % cols]:
            continue
        cell, energy = start, z[start // cols, start % cols]
        while energy > energy_m[cell // cols, cell % cols]:
            energy_m[cell // cols, cell % cols] = energy
            source[cell // cols, cell % cols] = start
            goal = receiver[cell // cols, cell % cols]
            if goal < 0:
                break
            is_straight = abs(goal - cell) == 1 or abs(goal - cell) == cols
            energy = np.float32(energy - fall * cell_m * (1.0 if is_straight else math.sqrt(2.0)))
            if energy <= z[goal // cols, goal % cols]:
                break
            cell = goal


@_compiled
def release_above_rows(z, source, patch, patch_m2, cell_m, fall, angle_deg, area_m2, first, last):
    """Angle up to the release that a cell lies below, and its patch's area.

    Where a cell has no source of its own, that of a neighbour whose line runs highest here. NaN where
    there is none; a release with none above it has no angle yet.
    """
    rows, cols = z.shape
    for row in range(first, last):
        for col in range(cols):
            angle_deg[row, col] = np.nan
            area_m2[row, col] = np.nan
            start, best = source[row, col], -np.inf
            if start < 0:
                for down in range(max(row - 1, 0), min(row + 2, rows)):
                    for across in range(max(col - 1, 0), min(col + 2, cols)):
                        other = source[down, across]
                        if other < 0:
                            continue
                        run = math.sqrt(float((other // cols - row) ** 2 + (other % cols - col) ** 2)) * cell_m
                        if z[other // cols, other % cols] - fall * run > best:
                            best = z[other // cols, other % cols] - fall * run
                            start = other
            if start < 0:
                continue
            area_m2[row, col] = patch_m2[patch[start // cols, start % cols]]
            if start == row * cols + col:
                continue
            run = math.sqrt(float((start // cols - row) ** 2 + (start % cols - col) ** 2)) * cell_m
            rise = max(0.0, z[start // cols, start % cols] - z[row, col])
            angle_deg[row, col] = math.degrees(math.atan(rise / run)) if not math.isnan(z[row, col]) else np.nan
