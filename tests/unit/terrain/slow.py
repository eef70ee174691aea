"""Slow, obvious twins of the terrain stage's compiled loops: one cell at a time, in double precision."""

from __future__ import annotations

import heapq
import math

import numpy as np

from sitepick.terrain import stand, wind

EIGHT = [(down, right) for down in (-1, 0, 1) for right in (-1, 0, 1) if (down, right) != (0, 0)]


def slope_and_aspect(z, cell_m):
    rows, cols = z.shape
    slope = np.full(z.shape, np.nan)
    aspect = np.full(z.shape, np.nan)
    for row in range(1, rows - 1):
        for col in range(1, cols - 1):
            (a, b, c), (d, e, f), (g, h, i) = z[row - 1 : row + 2, col - 1 : col + 2].astype(float)
            to_east = ((c + 2 * f + i) - (a + 2 * d + g)) / (8 * cell_m)
            to_south = ((g + 2 * h + i) - (a + 2 * b + c)) / (8 * cell_m)
            if np.isnan(to_east + to_south + e):
                continue
            slope[row, col] = math.degrees(math.atan(math.hypot(to_east, to_south)))
            if to_east or to_south:
                aspect[row, col] = math.degrees(math.atan2(-to_east, to_south)) % 360.0
    return slope, aspect


def plane_slope(z, cell_m, half_count):
    rows, cols = z.shape
    slope = np.full(z.shape, np.nan)
    away = np.arange(-half_count, half_count + 1) * cell_m
    south, east = np.meshgrid(away, away, indexing="ij")
    known = np.stack([east.ravel(), south.ravel(), np.ones(east.size)], axis=1)
    for row in range(half_count, rows - half_count):
        for col in range(half_count, cols - half_count):
            square = z[row - half_count : row + half_count + 1, col - half_count : col + half_count + 1].astype(float)
            if np.isfinite(square).all():
                to_east, to_south, _ = np.linalg.lstsq(known, square.ravel(), rcond=None)[0]
                slope[row, col] = math.degrees(math.atan(math.hypot(to_east, to_south)))
    return slope


def upwind_slope(z, rays_deg, cell_m):
    rows, cols = z.shape
    mean, least = np.full(z.shape, np.nan), np.full(z.shape, np.nan)
    for row in range(rows):
        for col in range(cols):
            if np.isnan(z[row, col]):
                continue
            rises = [_steepest_rise(z, row, col, ray_deg, cell_m) for ray_deg in rays_deg]
            mean[row, col], least[row, col] = np.mean(rises), np.min(rises)
    return mean, least


def _steepest_rise(z, row, col, ray_deg, cell_m):
    down, right = -math.cos(math.radians(ray_deg)), math.sin(math.radians(ray_deg))
    step = cell_m / max(abs(down), abs(right))
    steepest = None
    distance = step
    while distance <= wind.UPWIND_M + 1e-6 or distance == step:
        height = _height_at(z, row + down * distance / cell_m, col + right * distance / cell_m)
        if not np.isnan(height):
            rise = math.degrees(math.atan((height - float(z[row, col])) / distance))
            steepest = rise if steepest is None else max(steepest, rise)
        distance += step
    return 0.0 if steepest is None else steepest


def _height_at(z, row, col):
    """Straight between the cells on both sides; not known outside or beside a gap."""
    row, col = round(row, 6), round(col, 6)
    cells = {(math.floor(row), math.floor(col)), (math.ceil(row), math.ceil(col))}
    if any(not (0 <= r < z.shape[0] and 0 <= c < z.shape[1]) for r, c in cells):
        return math.nan
    near, far = (float(z[r, c]) for r, c in (min(cells), max(cells)))
    if len(cells) == 1:
        return near
    (near_row, near_col), (far_row, far_col) = min(cells), max(cells)
    if (near_col > far_col) or (near_row > far_row):
        raise AssertionError("a ray crosses rows or columns, never both between cells")
    part = abs(row - near_row) + abs(col - near_col)
    return near + (far - near) * part


def relief_share(z, slope_deg, aspect_deg, upwind_deg, wind_from_deg, cell_m):
    """The house formula, one cell at a time."""
    rows, cols = z.shape
    reach = max(1, round(wind.CURVATURE_M / cell_m))
    share = np.full(z.shape, np.nan)
    for row in range(rows):
        for col in range(cols):
            if np.isnan(slope_deg[row, col]):
                continue
            facing = 0.0
            if slope_deg[row, col] > 0:
                turned = math.radians(wind_from_deg - aspect_deg[row, col])
                facing = 0.5 * slope_deg[row, col] / 30.0 * math.cos(turned)
            bends = []
            for down, right in ((1, 0), (0, 1), (1, 1), (1, -1)):
                ends = [(row + sign * reach * down, col + sign * reach * right) for sign in (-1, 1)]
                if all(0 <= r < rows and 0 <= c < cols for r, c in ends):
                    middle = np.mean([float(z[end]) for end in ends])
                    bend = (float(z[row, col]) - middle) / (2 * reach * cell_m * math.hypot(down, right))
                    bends += [bend] if not np.isnan(bend) else []
            curved = np.mean(bends) / math.tan(math.radians(30.0)) if bends else 0.0
            speed = 1 + 0.58 * np.clip(facing, -0.5, 0.5) + 0.42 * np.clip(curved, -0.5, 0.5)
            sheltered = 1 - 0.8 * min(max(upwind_deg[row, col], 0.0), 30.0) / 30.0
            share[row, col] = np.clip(speed * sheltered, 0.1, 1.5)
    return share


def forest_share_along(heights, densities, step_m):
    """Share of the wind at each cell of one line, upwind end first; heights NaN where not known, 0 without trees."""
    shares = []
    for here, height in enumerate(heights):
        if np.isnan(height):
            shares.append(math.nan)
        elif height > 0:
            shares.append(_share_inside(heights, densities, shares, here, step_m))
        else:
            shares.append(_share_behind(heights, densities, here, step_m))
    return shares


def _share_inside(heights, densities, shares, here, step_m):
    deep = np.interp(densities[here], stand.DEEP_DENSITY, stand.DEEP_SHARE)
    before = heights[here - 1] if here else math.nan
    entered = shares[here - 1] if here and not np.isnan(before) else 1.0
    way = step_m if before > 0 else step_m / 2
    return deep + (entered - deep) * math.exp(-way / (2 * heights[here]))


def _share_behind(heights, densities, here, step_m):
    """Least share behind any stand upwind, over ground that is known all the way, each from its own edge."""
    best = 1.0
    for edge in range(here - 1, -1, -1):
        if np.isnan(heights[edge]):
            break
        if heights[edge] > 0 and not heights[edge + 1] > 0:
            away_h = (here - edge - 0.5) * step_m / heights[edge]
            if away_h <= 30.0:
                row = [np.interp(densities[edge], stand.LEE_DENSITY, column) for column in stand.LEE_SHARE.T]
                best = min(best, float(np.interp(away_h, stand.LEE_HEIGHTS, row)))
    return best


def filled_levels(level):
    """Spill level of every cell, by flooding from the outlets with a sorted queue; -1 is a gap."""
    rows, cols = level.shape
    filled = np.full(level.shape, -1, level.dtype)
    queue = []
    for row in range(rows):
        for col in range(cols):
            ways = [(row + down, col + right) for down, right in EIGHT]
            is_edge = any(not (0 <= r < rows and 0 <= c < cols) or level[r, c] < 0 for r, c in ways)
            if level[row, col] >= 0 and is_edge:
                filled[row, col] = level[row, col]
                heapq.heappush(queue, (int(level[row, col]), row, col))
    while queue:
        height, row, col = heapq.heappop(queue)
        for down, right in EIGHT:
            r, c = row + down, col + right
            if 0 <= r < rows and 0 <= c < cols and level[r, c] >= 0 and filled[r, c] < 0:
                filled[r, c] = max(height, level[r, c])
                heapq.heappush(queue, (int(filled[r, c]), r, c))
    return filled


def steepest_falls(filled, row, col):
    """Greatest fall by distance from a cell to a neighbour, and the neighbours that have it."""
    falls = {}
    for down, right in EIGHT:
        r, c = row + down, col + right
        if 0 <= r < filled.shape[0] and 0 <= c < filled.shape[1] and filled[r, c] >= 0:
            falls[r * filled.shape[1] + c] = (filled[row, col] - filled[r, c]) / math.hypot(down, right)
    steepest = max(falls.values(), default=0.0)
    return steepest, {cell for cell, fall in falls.items() if fall >= steepest - 1e-9}


def way_down(receiver, start):
    """Cells from a start to where its water leaves."""
    way = [start]
    while receiver.flat[way[-1]] >= 0:
        way.append(int(receiver.flat[way[-1]]))
        assert len(way) <= receiver.size, "the water runs in a circle"
    return way


def reached_from(z, release, cell_m, alpha_deg):
    """Ground that any release cell reaches by a chain of cells under its own energy line."""
    rows, cols = z.shape
    fall = math.tan(math.radians(alpha_deg))
    reached = np.zeros(z.shape, bool)
    for start_row, start_col in zip(*np.nonzero(release), strict=True):
        seen = np.zeros(z.shape, bool)
        seen[start_row, start_col] = True
        stack = [(start_row, start_col)]
        while stack:
            row, col = stack.pop()
            for down, right in EIGHT:
                r, c = row + down, col + right
                if not (0 <= r < rows and 0 <= c < cols) or seen[r, c]:
                    continue
                line = float(z[start_row, start_col]) - fall * cell_m * math.hypot(r - start_row, c - start_col)
                if not line <= z[r, c]:
                    seen[r, c] = True
                    stack.append((r, c))
        reached |= seen
    return reached


def position(z, reach):
    """Height above the mean of the other known cells of a square."""
    above = np.full(z.shape, np.nan)
    for row in range(z.shape[0]):
        for col in range(z.shape[1]):
            square = z[max(0, row - reach) : row + reach + 1, max(0, col - reach) : col + reach + 1].astype(float)
            others = np.count_nonzero(np.isfinite(square)) - 1
            if np.isfinite(z[row, col]) and others > 0:
                here = float(z[row, col])
                above[row, col] = here - (np.nansum(square) - here) / others
    return above


def roughness(z):
    rough = np.full(z.shape, np.nan)
    for row in range(1, z.shape[0] - 1):
        for col in range(1, z.shape[1] - 1):
            steps = [float(z[row + down, col + right]) - float(z[row, col]) for down, right in EIGHT]
            rough[row, col] = math.sqrt(sum(step * step for step in steps))
    return rough
