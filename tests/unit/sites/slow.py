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
