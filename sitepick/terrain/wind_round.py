"""How much wind reaches a few places from every side: what a forecast that errs would bring there."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.terrain import _kernels
from sitepick.terrain.model import Terrain
from sitepick.terrain.stand import LEE_DENSITY, LEE_HEIGHTS, LEE_SHARE, read_stand
from sitepick.terrain.upwind import UPWIND_M
from sitepick.terrain.wind import (
    CURVATURE_M,
    CURVATURE_WEIGHT,
    FULL_EFFECT_DEG,
    SHARE_GREATEST,
    SHARE_LEAST,
    SHELTER_FULL_DEG,
    SHELTER_MOST_FRAC,
    SLOPE_WEIGHT,
)
from sitepick.work import Watch

CellArray = npt.NDArray[np.int64]

BEARING_COUNT = 24  # one every 15 degrees, so that a fan is a bearing with its two neighbours
TREES_UPWIND_M = 600.0  # a belt of 20 m shelters so far; deep in a stand nothing farther off tells
_DIAGONAL = math.sqrt(2.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WindRound:
    """Share of the open wind at some cells, for wind from each bearing.

    Attributes
    ----------
    mean, worst : float64 arrays of shape (cells, BEARING_COUNT)
        Over a fan of three rays around true bearings of 0, 15, 30 ... 345 degrees; NaN where not known.
    """

    mean: DoubleArray
    worst: DoubleArray


def wind_round(
    ground: Ground, terrain: Terrain, cells: CellArray, *, of_forest_frac: float | None
) -> WindRound:  # fmt: skip
    """Share of the open wind that reaches some cells, by where it comes from.

    Parameters
    ----------
    ground : Ground
    terrain : Terrain
        Over the same grid.
    cells : int64 array of shape (n, 2)
        Row and column.
    of_forest_frac : float or None
        Evergreen share of forest whose leaf type the legend doesn't know.

    Returns
    -------
    WindRound

    Notes
    -----
    The same rules as `wind.wind_share`, along lines that end in each cell instead of lines over the whole
    grid, so that the trees met upwind may be off by half a cell. Cost: cells x bearings x 60.
    """
    turn_deg = ground.grid.convergence_deg(*ground.grid.centre_m)
    step_deg = 360.0 / BEARING_COUNT
    bearings_deg: DoubleArray = np.arange(BEARING_COUNT, dtype=np.float64) * step_deg
    rays_deg = tuple(float((bearing - turn_deg) % 360.0) for bearing in bearings_deg)
    upwind_deg = _upwind_deg(ground, terrain, cells, rays_deg)
    trees = _trees_share(ground, cells, rays_deg, of_forest_frac)
    relief_mean = _relief_share(ground, terrain, cells, bearings_deg, _fan_mean(upwind_deg))
    least_deg: DoubleArray = _fan(upwind_deg).min(axis=0)
    relief_worst = _relief_share(ground, terrain, cells, bearings_deg, least_deg)
    return WindRound(mean=relief_mean * _fan_mean(trees), worst=relief_worst * _fan(trees).max(axis=0))


def _fan(by_ray: DoubleArray) -> DoubleArray:
    """Each bearing's own ray and its two neighbours, along a first axis."""
    fan: DoubleArray = np.stack([np.roll(by_ray, shift, axis=1) for shift in (-1, 0, 1)])
    return fan


def _fan_mean(by_ray: DoubleArray) -> DoubleArray:
    mean: DoubleArray = _fan(by_ray).mean(axis=0)
    return mean


def _at(layer: FloatArray, rows: CellArray, cols: CellArray) -> DoubleArray:
    """A layer's values at cells, NaN outside it."""
    is_inside = (rows >= 0) & (rows < layer.shape[0]) & (cols >= 0) & (cols < layer.shape[1])
    values = layer[np.clip(rows, 0, layer.shape[0] - 1), np.clip(cols, 0, layer.shape[1] - 1)]
    return np.where(is_inside, values, np.nan).astype(np.float64)


def _heights(ground: Ground, terrain: Terrain) -> FloatArray:
    return ground.elevation_m if terrain.bare_elevation_m is None else terrain.bare_elevation_m


def _upwind_deg(ground: Ground, terrain: Terrain, cells: CellArray, rays_deg: tuple[float, ...]) -> DoubleArray:
    """Steepest rise of the ground along each ray; level where none of it is known."""
    heights_m, cell_m = _heights(ground, terrain), ground.grid.ground_cell_m
    own_m = _at(heights_m, cells[:, 0], cells[:, 1])
    away = np.arange(1, max(1, math.floor(UPWIND_M / cell_m + 1e-6)) + 1)
    steepest = np.empty((len(cells), len(rays_deg)))
    for k, ray_deg in enumerate(rays_deg):
        down, right, longer = _step(ray_deg)
        kept = np.minimum(away, max(1, math.floor(UPWIND_M * longer / cell_m + 1e-6)))
        row, col = np.round(down * kept, 9), np.round(right * kept, 9)
        near_row, near_col = np.floor(row).astype(np.int64), np.floor(col).astype(np.int64)
        part = (row - near_row) + (col - near_col)  # one of them is 0
        far_row, far_col = np.ceil(row).astype(np.int64), np.ceil(col).astype(np.int64)
        near_m = _at(heights_m, cells[:, :1] + near_row, cells[:, 1:] + near_col)
        far_m = _at(heights_m, cells[:, :1] + far_row, cells[:, 1:] + far_col)
        between_m = np.where(part == 0.0, near_m, (1.0 - part) * near_m + part * far_m)
        rate = (between_m - own_m[:, None]) / (kept * cell_m / longer)
        steepest[:, k] = np.where(np.isnan(rate), -np.inf, rate).max(axis=1)
    rise_deg = np.where(np.isfinite(steepest), np.degrees(np.arctan(steepest)), 0.0)
    return np.asarray(np.where(np.isnan(own_m)[:, None], np.nan, rise_deg))


def _step(ray_deg: float) -> tuple[float, float, float]:
    """Rows and columns of a step towards where the wind comes from, the longer of them 1, and the longer's share."""
    down, right = -math.cos(math.radians(ray_deg)), math.sin(math.radians(ray_deg))
    longer = max(abs(down), abs(right))
    return down / longer, right / longer, longer


def _relief_share(
    ground: Ground, terrain: Terrain, cells: CellArray, bearings_deg: DoubleArray, upwind_deg: DoubleArray
) -> DoubleArray:
    """Share of the open wind that the relief leaves, as `wind.relief_share` reckons it."""
    index = cells[:, 0], cells[:, 1]
    slope_deg, aspect_deg = terrain.slope_deg[index].astype(np.float64), _aspect_deg(ground, terrain, cells)
    half = 0.5 * slope_deg / FULL_EFFECT_DEG
    towards = np.cos(np.radians(np.nan_to_num(aspect_deg)[:, None] - bearings_deg[None, :]))
    facing = np.clip(half[:, None] * towards, -0.5, 0.5)
    speed = 1.0 + SLOPE_WEIGHT * facing + CURVATURE_WEIGHT * _curved(ground, terrain, cells)[:, None]
    kept = 1.0 - SHELTER_MOST_FRAC * np.clip(upwind_deg, 0.0, SHELTER_FULL_DEG) / SHELTER_FULL_DEG
    return np.asarray(np.clip(speed * kept, SHARE_LEAST, SHARE_GREATEST))


def _aspect_deg(ground: Ground, terrain: Terrain, cells: CellArray) -> DoubleArray:
    """True bearing of the steepest fall (Horn) at each cell; NaN where a neighbour isn't known."""
    heights_m, rows, cols = _heights(ground, terrain), cells[:, 0], cells[:, 1]
    around = {(down, right): _at(heights_m, rows + down, cols + right) for down in (-1, 0, 1) for right in (-1, 0, 1)}
    weights = ((-1, 1.0), (0, 2.0), (1, 1.0))
    to_east = sum(weight * (around[k, 1] - around[k, -1]) for k, weight in weights)
    to_south = sum(weight * (around[1, k] - around[-1, k]) for k, weight in weights)
    turn_deg = ground.grid.convergence_deg(*ground.grid.centre_m)
    return np.asarray(np.degrees(np.arctan2(-np.asarray(to_east), np.asarray(to_south))) + turn_deg)


def _curved(ground: Ground, terrain: Terrain, cells: CellArray) -> DoubleArray:
    """-0.5 in valleys to 0.5 on ridges, as `wind.read_relief` reckons it."""
    heights_m = _heights(ground, terrain)
    reach = max(1, round(CURVATURE_M / ground.grid.ground_cell_m))
    reach_m = reach * ground.grid.ground_cell_m
    rows, cols = cells[:, 0], cells[:, 1]
    own_m = _at(heights_m, rows, cols)
    total, count = np.zeros(len(cells)), np.zeros(len(cells))
    for down, right in ((reach, 0), (0, reach), (reach, reach), (reach, -reach)):
        pair_m = 0.5 * (_at(heights_m, rows - down, cols - right) + _at(heights_m, rows + down, cols + right))
        rise = (own_m - pair_m) / (2.0 * reach_m * (_DIAGONAL if down and right else 1.0))
        total += np.nan_to_num(rise)
        count += np.isfinite(rise)
    full_rate = math.tan(math.radians(FULL_EFFECT_DEG))
    return np.asarray(np.clip(total / np.maximum(count, 1.0) / full_rate, -0.5, 0.5))


def _trees_share(
    ground: Ground, cells: CellArray, rays_deg: tuple[float, ...], of_forest_frac: float | None
) -> DoubleArray:
    """Share of the wind that the trees leave: a line of cells along each ray, laid out as ground of its own."""
    shares = np.empty((len(cells), len(rays_deg)))
    lee = (LEE_HEIGHTS, LEE_DENSITY, LEE_SHARE)
    for k, ray_deg in enumerate(rays_deg):
        down, right, longer = _step(ray_deg)
        step_m = ground.grid.ground_cell_m / longer
        # From the far end to the cell, which is how the wind meets them.
        away = np.arange(math.ceil(TREES_UPWIND_M / step_m), -1, -1)
        rows = cells[:, :1] + np.floor(np.round(down * away, 9) + 0.5).astype(np.int64)
        cols = cells[:, 1:] + np.floor(np.round(right * away, 9) + 0.5).astype(np.int64)
        lines = _laid_out(ground, rows, cols)
        stand = read_stand(lines, of_forest_frac, watch=Watch())
        layers = (stand.height_m.reshape(-1), stand.kind.reshape(-1), stand.density_frac, stand.deep_frac)
        total, worst = np.zeros(rows.size, np.float32), np.zeros(rows.size, np.float32)
        line = np.array([0, 1, len(away), len(cells), 0], np.int64)
        offset = np.zeros(len(away), np.int64)
        _kernels.forest_lines(layers, lee, line, offset, step_m, total, worst, 0, len(cells))
        shares[:, k] = total.reshape(rows.shape)[:, -1]
    return shares


def _laid_out(ground: Ground, rows: CellArray, cols: CellArray) -> Ground:
    """The ground's cover along some lines, a line a row; not known beyond its edge."""
    is_inside = (rows >= 0) & (rows < ground.grid.rows) & (cols >= 0) & (cols < ground.grid.cols)
    index = np.clip(rows, 0, ground.grid.rows - 1), np.clip(cols, 0, ground.grid.cols - 1)
    nothing = np.zeros(rows.shape, bool)
    return replace(
        ground,
        grid=replace(ground.grid, rows=rows.shape[0], cols=rows.shape[1]),
        elevation_m=np.zeros(rows.shape, np.float32),
        cover_index=np.where(is_inside, ground.cover_index[index], NOT_KNOWN).astype(np.int16),
        canopy_height_m=None if ground.canopy_height_m is None else ground.canopy_height_m[index],
        is_stream=nothing,
        is_track=nothing,
        is_no_go=nothing,
    )
