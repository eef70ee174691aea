"""Slow, obvious twins of the compiled loops of the sites stage."""

from __future__ import annotations

import math

import numpy as np


def footprint_fits(allowed, row, col, radius):
    """Whether every cell that a disc touches, and the cell of its middle, is allowed."""
    rows, cols = allowed.shape
    for r in range(-3, rows + 3):
        for c in range(-3, cols + 3):
            near_row, near_col = min(max(row, r), r + 1), min(max(col, c), c + 1)
            is_home = math.floor(row) == r and math.floor(col) == c
            if is_home or (near_row - row) ** 2 + (near_col - col) ** 2 < radius**2:
                is_inside = 0 <= r < rows and 0 <= c < cols
                if not is_inside or not allowed[r, c]:
                    return False
    return True


def lattice_places(allowed, spacing, radius, turn):
    """Places of a lattice whose footprints fit, as a set of rounded pairs."""
    reach = int(2 * sum(allowed.shape) / spacing) + 4
    found = set()
    for i in range(-reach, reach + 1):
        for j in range(-reach, reach + 1):
            along, across = turn[1] + i, turn[2] + j
            row = spacing * (along * math.sin(turn[0]) + across * math.sin(turn[0] + turn[3]))
            col = spacing * (along * math.cos(turn[0]) + across * math.cos(turn[0] + turn[3]))
            is_inside = 0 <= row <= allowed.shape[0] and 0 <= col <= allowed.shape[1]
            if is_inside and footprint_fits(allowed, row, col, radius):
                found.add((round(row, 6), round(col, 6)))
    return found


def try_places(allowed, spacing, radius, trials, is_swapping, held):
    """The places held after each trial was put in, or took the stead of the one it is too close to."""
    held = [tuple(place) for place in held]
    for row, col in trials:
        close = [k for k, place in enumerate(held) if (place[0] - row) ** 2 + (place[1] - col) ** 2 < spacing**2]
        if len(close) > 1 or (close and not is_swapping) or not footprint_fits(allowed, row, col, radius):
            continue
        if close:
            held[close[0]] = (row, col)
        else:
            held.append((row, col))
    return held


def grow_piece(is_free, reluctance, row, col, most):
    """Cells in the order they join a piece: of those beside it, always the one with the least toll."""
    piece, edge = [], [(0.0, row, col)]
    seen = {(row, col)}
    while edge and len(piece) < most:
        edge.sort()
        _, r, c = edge.pop(0)
        piece.append((r, c))
        for there in ((r + 1, c), (r - 1, c), (r, c + 1), (r, c - 1)):
            is_inside = 0 <= there[0] < is_free.shape[0] and 0 <= there[1] < is_free.shape[1]
            if not is_inside or there in seen or not is_free[there]:
                continue
            seen.add(there)
            away = math.hypot(there[0] - row, there[1] - col)
            edge.append((away * float(reluctance[there]), *there))
    return np.array(piece)


def camp_toll(cost, spacing, is_held, places):
    """The ways of all to the first place, in spacings, and the cost of every cell stood on but for those held."""
    ways = [math.dist(place, places[0]) / spacing for place in places]
    free = [place for place, held in zip(places, is_held, strict=True) if not held]
    return sum(ways) + sum(float(cost[math.floor(row), math.floor(col)]) for row, col in free)


def settle(allowed, cost, spacing, radius, reach, is_held, draws, places):
    """The best places met on the way that the draws lead, and their toll; every trial looked at whole."""
    held = [tuple(place) for place in places.tolist()]
    best, now = held, camp_toll(cost, spacing, is_held, held)
    best_toll, count = now, len(held)
    for t, (who, kind, angle, share, luck) in enumerate(draws.tolist()):
        left, k = 1.0 - t / len(draws), int(who * count)
        down, right = math.sin(2.0 * math.pi * angle), math.cos(2.0 * math.pi * angle)
        trial = list(held)
        if kind < 0.85 and is_held[k]:
            continue
        if kind < 0.5:
            far = spacing * share * (0.01 + 0.5 * left * left)
            trial[k] = (held[k][0] + far * down, held[k][1] + far * right)
        elif kind < 0.75:
            far = spacing * (1.0 + math.sqrt(count)) * math.sqrt(share)
            trial[k] = (held[0][0] + far * down, held[0][1] + far * right)
        elif kind < 0.85:
            if k == 0 or is_held[0] or (radius[k], reach[k]) != (radius[0], reach[0]):
                continue
            trial[0], trial[k] = held[k], held[0]
        else:
            far = spacing * share * (0.01 + 1.5 * left * left)
            shifted = [(row + far * down, col + far * right) for row, col in held]
            trial = [held[i] if is_held[i] else shifted[i] for i in range(count)]
        if not stands_fit(allowed, spacing, radius, reach, trial, is_held):
            continue
        then = camp_toll(cost, spacing, is_held, trial)
        if then < now or luck < math.exp((now - then) / (0.002 + 0.3 * left * left)):
            held, now = trial, then
            if now < best_toll - 1e-9:
                best, best_toll = held, now
    return np.array(best), best_toll


def stands_fit(allowed, spacing, radius, reach, places, is_held=None):
    """Whether every footprint lies on allowed ground and every two keep their distance, but for what is held."""
    rows, cols = allowed.shape
    is_held = [False] * len(places) if is_held is None else is_held
    on_ground = all(
        is_held[k] or (0.0 <= row < rows and 0.0 <= col < cols and footprint_fits(allowed, row, col, radius[k]))
        for k, (row, col) in enumerate(places)
    )
    return on_ground and all(
        (is_held[i] and is_held[k]) or math.dist(places[i], places[k]) >= spacing + reach[i] + reach[k] - 1e-9
        for i in range(len(places))
        for k in range(i)
    )


def lack(place, others, spacing):
    """Squares of what the distances from a place to others lack, in spacings."""
    return sum(max(0.0, 1.0 - math.dist(place, other) / spacing) ** 2 for other in others)


def press_apart(allowed, spacing, radius, cells, fixed, draws, places):
    """Where the draws lead places that stand too close, each trial held against all others, and whether it is won."""
    held, stays = [tuple(place) for place in places.tolist()], [tuple(place) for place in fixed.tolist()]

    def lack_of(k, place):
        return lack(place, held[:k] + held[k + 1 :] + stays, spacing)

    for t, (who, kind, angle, share, luck) in enumerate(draws.tolist()):
        if t % 64 == 0 and not any(lack_of(k, held[k]) for k in range(len(held))):
            break
        k, left = int(who * len(held)), 1.0 - t / len(draws)
        now = lack_of(k, held[k])
        if now == 0.0 and luck > 0.3:
            continue
        if kind < 0.9:
            turn = math.pi / 2.0 * math.floor(4.0 * angle) if kind < 0.45 else 2.0 * math.pi * angle
            far = 0.6 * spacing * 10.0 ** (-4.0 * share)
            trial = held[k][0] + far * math.sin(turn), held[k][1] + far * math.cos(turn)
        else:
            row, col = cells[int(angle * len(cells))]
            trial = row + 0.5, col + share
        worse = lack_of(k, trial) - now
        if worse > 0.0 and luck >= math.exp(-worse / (1e-9 + 0.02 * left * left)):
            continue
        if footprint_fits(allowed, *trial, radius):
            held[k] = trial
    return np.array(held), not any(lack_of(k, held[k]) for k in range(len(held)))


def count_near(part_of, places, cells, reach, enough):
    """Places of the same part within reach of each cell's middle, counted to ``enough``."""
    return [
        min(
            enough,
            sum(
                math.hypot(place[0] - row - 0.5, place[1] - col - 0.5) <= reach
                and part_of[int(place[0]), int(place[1])] == part_of[row, col]
                for place in places
            ),
        )
        for row, col in cells
    ]
