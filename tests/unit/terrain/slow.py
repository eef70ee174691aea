"""Slow, obvious twins of the terrain stage's compiled loops: one cell at a time, in double precision."""

from __future__ import annotations

import itertools
import math

import numpy as np

from sitepick.terrain import _kernels_sight, stand, upwind, wind

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
    while distance <= upwind.UPWIND_M + 1e-6 or distance == step:
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


def parts(is_there):
    """Numbers of the connected parts, eight ways, in the order of their first cells; 0 off them."""
    number, count = np.zeros(is_there.shape, int), 0
    for start in zip(*np.nonzero(is_there), strict=True):
        if number[start]:
            continue
        count += 1
        number[start], found = count, [start]
        while found:
            row, col = found.pop()
            for down, right in EIGHT:
                r, c = row + down, col + right
                inside = 0 <= r < is_there.shape[0] and 0 <= c < is_there.shape[1]
                if inside and is_there[r, c] and not number[r, c]:
                    number[r, c] = count
                    found.append((r, c))
    return number


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


def cold_pool(above_near, above_far, above_floor, fall, gathered, pool):
    """The house curves, one cell at a time."""
    low = max(np.interp(-above_near, [0, 10], [0, 1]), np.interp(-above_far, [0, 20], [0, 1]))
    floor = np.interp(above_floor, [2, 10, 20, 40], [1, 0.3, 0.1, 0])
    level = np.interp(fall, [1, 2, 6], [1, 0.8, 0])
    km2 = max(gathered, 1) * 1e-4  # cells of 10 m
    drained = low * floor * level * np.interp(np.log(km2), np.log([0.03, 0.3, 1.0]), [0.5, 0.75, 1.0])
    known = 0.0 * (above_near + above_far + above_floor + fall + pool)
    return max(drained, np.interp(pool, [1, 4], [0, 1])) + known


def roughness(z):
    rough = np.full(z.shape, np.nan)
    for row in range(1, z.shape[0] - 1):
        for col in range(1, z.shape[1] - 1):
            steps = [float(z[row + down, col + right]) - float(z[row, col]) for down, right in EIGHT]
            rough[row, col] = math.sqrt(sum(step * step for step in steps))
    return rough


def horizon(z, bearing_deg, cell_m, drop_per_m2):
    """Horizon of each cell: between those of the two lines on both sides of it, every point of a line looked at."""
    down, right = -math.cos(math.radians(bearing_deg)), math.sin(math.radians(bearing_deg))
    lies_flat = abs(right) >= abs(down)
    ground = z if lies_flat else z.T
    along, across = (right, down) if lies_flat else (down, right)
    ground = ground if along < 0 else ground[:, ::-1]  # the far end first
    lean = round(-across / abs(along), 9)
    step_m = cell_m / abs(along)
    found = np.full(ground.shape, np.nan)
    for row, col in np.argwhere(np.isfinite(ground)).tolist():
        low = math.ceil(row - lean * col) + lean * col - 1.0  # of the lines, one a cell's width
        low = low + 1.0 if round(row - low, 9) == 1.0 else low
        part = row - low
        near = [_horizon_on_line(ground, low + side, col, lean, step_m, drop_per_m2) for side in (0, 1)]
        found[row, col] = near[0] if part == 0.0 else (1 - part) * near[0] + part * near[1]
    found = found if along < 0 else found[:, ::-1]
    return found if lies_flat else found.T


def _height_on_line(ground, across, along):
    """Straight between two cells; where one of them is a gap or outside, the other."""
    low = math.floor(across)
    ends = [float(ground[row, along]) if 0 <= row < ground.shape[0] else math.nan for row in (low, low + 1)]
    if across == low or math.isnan(ends[1]):
        return ends[0]
    return ends[1] if math.isnan(ends[0]) else ends[0] + (ends[1] - ends[0]) * (across - low)


def _horizon_on_line(ground, across, along, lean, step_m, drop_per_m2):
    own = _height_on_line(ground, across, along)
    highest = 0.0
    for step in range(1, along + 1):
        height = _height_on_line(ground, across - lean * step, along - step)
        if not math.isnan(height):
            away_m = step * step_m
            highest = max(highest, (height - own) / away_m - drop_per_m2 * away_m)
    return math.degrees(math.atan(highest)) if not math.isnan(own) else math.nan


def sun_hours(horizons_deg, sun_deg, step_h):
    """Hours with the sun over the horizon, one cell and one step at a time, straight between two moments.

    ``horizons_deg``: a grid for each moment; ``sun_deg``: the same for the sun.
    """
    hours = np.zeros(horizons_deg[0].shape)
    for cell in np.ndindex(hours.shape):
        clear = [float(sun[cell]) - float(horizon[cell]) for sun, horizon in zip(sun_deg, horizons_deg, strict=True)]
        for before, after in itertools.pairwise(clear):
            if math.isnan(before + after):
                hours[cell] = math.nan
            elif before > 0 and after > 0:
                hours[cell] += step_h
            elif before > 0 or after > 0:
                hours[cell] += step_h * max(before, after) / abs(before - after)
    return hours


def sight(layers, eye, rule, reach):
    """What is seen from one place: each cell's own two rays walked from the eye anew; shares of the grid's shape."""
    z, tree_m, loss_by_m = layers
    cell_m, eye_m, target_m, drop_per_m2, reach_m, *_ = rule
    share = np.zeros(z.shape)
    share[eye] = 1.0
    for row, col in np.ndindex(z.shape):
        way, forward, aside = _side_of(row - eye[0], col - eye[1])
        away_m = cell_m * math.hypot(forward, aside)
        if forward == 0 or forward > reach or math.isnan(z[row, col]) or away_m > reach_m:
            continue
        slope = _sight_slope(z[row, col] + target_m - z[eye] - eye_m, away_m, drop_per_m2)
        place = aside * reach / forward  # between which rays, of 2 reach to the rim
        low, part = math.floor(place), place - math.floor(place)
        near = _walk_ray(layers, eye, rule, way, low / reach, forward, slope)
        far = _walk_ray(layers, eye, rule, way, (low + 1) / reach, forward, slope) if part else near
        lean, lost = (low / reach, near[1]) if part < 0.5 else ((low + 1) / reach, far[1])
        if tree_m[row, col] > target_m:
            lost += 0.5 * loss_by_m[row, col] * cell_m * math.hypot(1.0, lean)
        share[row, col] = math.exp(-lost) if slope >= near[0] + part * (far[0] - near[0]) else 0.0
    return share


def _walk_ray(layers, eye, rule, way, lean, forward, slope):
    """Highest slope to the ground on a ray before a cell, and what its trees take of a look of some slope."""
    z, tree_m, loss_by_m = layers
    step_m = rule[0] * math.hypot(1.0, lean)
    highest, lost = -1e30, 0.0
    for step in range(1, forward):
        height, on = _ground_on_ray(z, eye, way, step, round(lean * step, 9))
        if math.isnan(height):
            continue
        ground = _sight_slope(height - z[eye] - rule[1], step * step_m, rule[3])
        top = ground + (tree_m[on] / (step * step_m) if on else 0.0)
        if on and top > highest and _slope_bin(slope) < _slope_bin(top):  # what stands lower is looked over
            lost += loss_by_m[on] * step_m
        highest = max(highest, ground)
    return highest, lost


def _slope_bin(slope):
    return _kernels_sight._slope_bin(np.float32(slope))


def _side_of(south, east):
    """Which of four sides a cell lies on: the way there, cells forward and cells aside."""
    for down, right in ((-1, 0), (0, 1), (1, 0), (0, -1)):
        forward, aside = south * down + east * right, south * right - east * down
        if forward > 0 and -forward <= aside < forward:
            return (down, right), forward, aside
    return (0, 0), 0, 0


def _sight_slope(height_m, away_m, drop_per_m2):
    return float(height_m) / away_m - drop_per_m2 * away_m


def _ground_on_ray(z, eye, way, step, across):
    """Height of the ground between the two cells beside a ray, and the nearer of them, if any."""
    (down, right), low = way, math.floor(across)
    cells = [(eye[0] + step * down + side * right, eye[1] + step * right - side * down) for side in (low, low + 1)]
    heights = [float(z[c]) if 0 <= c[0] < z.shape[0] and 0 <= c[1] < z.shape[1] else math.nan for c in cells]
    on = cells[math.floor(across + 0.5) - low]
    on = on if 0 <= on[0] < z.shape[0] and 0 <= on[1] < z.shape[1] else None
    if across == low or math.isnan(heights[1]):
        return heights[0], on
    if math.isnan(heights[0]):
        return heights[1], on
    return heights[0] + (heights[1] - heights[0]) * (across - low), on
