"""How much of the open wind reaches a shelter.

Share of the open wind = what the relief leaves of it times what the trees leave of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray, Grid
from sitepick.terrain import _kernels
from sitepick.terrain.margin import with_margin
from sitepick.terrain.stand import ForestShare, Stand, forest_share
from sitepick.units import bearing_deg
from sitepick.work import BLOCK_ROWS, Watch, run_row_blocks

FAN_DEG = tuple(float(angle) for angle in range(-15, 16, 5))  # rays either side of the forecast; Winstral et al. 2002
QUARTERS_DEG = tuple(45.0 * number for number in range(8))  # looked at in turn where the wind isn't known
QUARTER_FAN_DEG = (-15.0, 0.0, 15.0)  # rays of each of them: together one every 15 degrees
ROSE_WORST_SHARE = 0.05  # of the time; rarer winds of a rose don't set its worst
UPWIND_M = 300.0  # how far upwind the ground can shelter; Winstral et al. 2002 take 100-300 m

# Liston & Elder 2006 (J. Hydrometeorology 7:217) weigh slope and curvature so. They scale both by the
# extremes of the window; here by a fixed slope, so that an answer doesn't change with the window
# and ripples on level ground don't become storms.
SLOPE_WEIGHT, CURVATURE_WEIGHT = 0.58, 0.42
FULL_EFFECT_DEG = 30.0  # slope, or slope of both flanks of a ridge, at which a term is at its full half
CURVATURE_M = 300.0  # half of a ridge-to-valley length
# Ours: rising ground upwind takes up to four fifths, at 30 degrees and steeper.
SHELTER_MOST_FRAC, SHELTER_FULL_DEG = 0.8, 30.0
SHARE_LEAST, SHARE_GREATEST = 0.1, 1.5

_BLOCK_SAMPLES, _LEAST_BLOCK_ROWS = 25_000_000, 16  # some hundredths of a second; rows enough to share their margin


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WindShare:
    """Share of the open wind at each cell.

    Attributes
    ----------
    mean, worst : float32, of the grid's shape
        Over the rays around the wind; over all quarters where the wind isn't known. NaN where slope
        or cover isn't known.
    """

    mean: FloatArray
    worst: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Relief:
    """The shape of the ground, as wind from any side meets it; float32 arrays of the grid's shape.

    Attributes
    ----------
    grid : Grid
    elevation_m : float32
    to_north, to_east : float32
        Fall of the ground to true north and east, 0.5 at a slope of `FULL_EFFECT_DEG`. NaN where not known.
    curved : float32
        -0.5 in valleys to 0.5 on ridges with flanks of that slope.
    """

    grid: Grid
    elevation_m: FloatArray
    to_north: FloatArray
    to_east: FloatArray
    curved: FloatArray


def read_relief(elevation_m: FloatArray, slope_deg: FloatArray, grid: Grid, *, watch: Watch) -> Relief:
    """The shape of the ground, as wind from any side meets it.

    Parameters
    ----------
    elevation_m, slope_deg : ndarray of the grid's shape, float32
    grid : Grid
    watch : Watch

    Returns
    -------
    Relief

    Notes
    -----
    Curvature after Liston & Elder 2006: height above the mean of two opposite places, mean of four
    directions. Pairs that aren't wholly known say nothing; where none is, the ground counts as neither
    ridge nor hollow.
    """
    to_north, to_east, curved = (np.empty(grid.shape, np.float32) for _ in range(3))
    reach_cells = max(1, round(CURVATURE_M / grid.ground_cell_m))
    reach_m = reach_cells * grid.ground_cell_m
    turn_deg = grid.convergence_deg(*grid.centre_m)

    def block(first: int, last: int) -> None:
        _kernels.exposure_rows(
            elevation_m, slope_deg, reach_cells, reach_m, FULL_EFFECT_DEG, turn_deg,
            to_north, to_east, curved, first, last,
        )  # fmt: skip

    run_row_blocks(block, grid.rows, watch=watch, step="ridges and hollows")
    return Relief(grid=grid, elevation_m=elevation_m, to_north=to_north, to_east=to_east, curved=curved)


def wind_share(relief: Relief, stand: Stand, wind_from_deg: float | None, *, watch: Watch) -> WindShare:
    """Share of the open wind that reaches a shelter.

    Parameters
    ----------
    relief : Relief
    stand : Stand
        The trees.
    wind_from_deg : float or None
        True bearing that the wind comes from; None: not known, all quarters count alike.
    watch : Watch

    Returns
    -------
    WindShare
    """
    if wind_from_deg is not None:
        return _over_winds(relief, stand, [_Wind(from_deg=wind_from_deg, fan_deg=FAN_DEG)], watch)
    part = 1.0 / len(QUARTERS_DEG)
    quarters = [_Wind(from_deg=from_deg, fan_deg=QUARTER_FAN_DEG, part=part, worst="mean") for from_deg in QUARTERS_DEG]
    return _over_winds(relief, stand, quarters, watch)


def rose_share(
    relief: Relief, stand: Stand, rose: tuple[tuple[float, float, float], ...], *, watch: Watch
) -> WindShare:
    """Share of the open wind that reaches a shelter, over the winds of a rose.

    Parameters
    ----------
    relief : Relief
    stand : Stand
        The trees.
    rose : tuple of (from_deg, share, kmh)
        True bearings, shares of the time, speeds; at least one with a share.
    watch : Watch

    Returns
    -------
    WindShare
        `mean` by the shares of the time, `worst` over the winds with `ROSE_WORST_SHARE` or more of
        it, over all where none has so much.
    """
    total = sum(share for _, share, _ in rose)
    # Rounded shares of 5 % may come as 0.04999.
    telling = min(ROSE_WORST_SHARE, max(share for _, share, _ in rose)) - 1e-6
    winds = [
        _Wind(
            from_deg=from_deg, fan_deg=QUARTER_FAN_DEG, part=share / total, worst="ray" if share >= telling else "none"
        )
        for from_deg, share, _ in rose
        if share > 0.0
    ]
    return _over_winds(relief, stand, winds, watch)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wind:
    """One of the winds that are looked at: its part in the mean, and what of it the worst is held against."""

    from_deg: float
    fan_deg: tuple[float, ...]
    part: float = 1.0
    worst: str = "ray"  # "ray", "mean" (of its rays) or "none"


def _over_winds(relief: Relief, stand: Stand, winds: list[_Wind], watch: Watch) -> WindShare:
    """Relief times trees, wind by wind: the mean by their parts, and the worst of those that tell."""
    turn_deg = relief.grid.convergence_deg(*relief.grid.centre_m)
    total: WindShare | None = None
    for wind in winds:
        rays_deg = tuple(bearing_deg(wind.from_deg + angle - turn_deg) for angle in wind.fan_deg)
        trees = forest_share(stand, rays_deg, watch=watch)
        share = relief_share(relief, wind.from_deg, rays_deg, watch=watch, trees=trees)
        total = _with(total, share, wind, watch)
    if total is None:
        raise ValueError("no wind to look at")
    return total


def _with(total: WindShare | None, share: WindShare, wind: _Wind, watch: Watch) -> WindShare:
    """Add one wind to those before it; the first one's arrays are kept and written on."""
    part = np.float32(wind.part)

    def block(first: int, last: int) -> None:
        mean, worst = share.mean[first:last], share.worst[first:last]
        if wind.worst == "mean":
            worst[:] = mean
        elif wind.worst == "none":
            worst *= np.float32(0.0)  # a gap stays one
        mean *= part
        if total is not None:
            total.mean[first:last] += mean
            np.maximum(total.worst[first:last], worst, out=total.worst[first:last])

    run_row_blocks(block, share.mean.shape[0], watch=watch, step="wind over the ground")
    return share if total is None else total


def relief_share(
    relief: Relief, wind_from_deg: float, rays_deg: tuple[float, ...], *, watch: Watch,
    trees: ForestShare | None = None,
) -> WindShare:  # fmt: skip
    """Share of the open wind that the relief leaves.

    Parameters
    ----------
    relief : Relief
    wind_from_deg : float
        True bearing that the wind comes from.
    rays_deg : tuple of float
        Grid bearings along which the ground upwind is looked at.
    watch : Watch
    trees : ForestShare, optional
        What the trees leave of it; the relief takes its part off these, in place.

    Returns
    -------
    WindShare
        `mean` with the mean shelter of the rays, `worst` with the least sheltered.
    """
    shape = relief.grid.shape
    mean, worst = (np.ones(shape, np.float32) for _ in range(2)) if trees is None else (trees.mean, trees.worst)
    upwind = _Upwind(relief.elevation_m, rays_deg, relief.grid.ground_cell_m, UPWIND_M)
    from_rad = math.radians(bearing_deg(wind_from_deg))
    setting = np.array([
        math.cos(from_rad), math.sin(from_rad), SLOPE_WEIGHT, CURVATURE_WEIGHT,
        SHELTER_MOST_FRAC, SHELTER_FULL_DEG, SHARE_LEAST, SHARE_GREATEST,
    ], np.float32)  # fmt: skip

    def block(first: int, last: int) -> None:
        for upwind_deg, share in zip(upwind.rows(first, last), (mean, worst), strict=True):
            _kernels.relief_rows(
                relief.to_north[first:last], relief.to_east[first:last], relief.curved[first:last], upwind_deg,
                setting, share[first:last],
            )  # fmt: skip

    run_row_blocks(block, relief.grid.rows, watch=watch, step="wind over the ground", block_rows=upwind.block_rows)
    return WindShare(mean=mean, worst=worst)


def upwind_slope_deg(
    elevation_m: FloatArray, rays_deg: tuple[float, ...], *, cell_m: float, watch: Watch, reach_m: float = UPWIND_M
) -> tuple[FloatArray, FloatArray]:
    """Steepest rise of the ground upwind: how deep a place lies in its shelter.

    Parameters
    ----------
    elevation_m : ndarray, float32
        Metres, NaN where not known.
    rays_deg : tuple of float
        Grid bearings to look along.
    cell_m : float
        Ground width of a cell.
    watch : Watch
    reach_m : float
        How far to look.

    Returns
    -------
    mean_deg, least_deg : ndarray, float32
        Over the rays; negative on crests. Ground that isn't known shelters nobody: rays that see
        none count as level. NaN only where the place's own height isn't known.

    Notes
    -----
    Winstral, Elder & Davis 2002 (J. Hydrometeorology 3:524), one sample a cell's width, heights
    interpolated.
    """
    mean_deg = np.empty(elevation_m.shape, np.float32)
    least_deg = np.empty(elevation_m.shape, np.float32)
    upwind = _Upwind(elevation_m, rays_deg, cell_m, reach_m)

    def block(first: int, last: int) -> None:
        mean_deg[first:last], least_deg[first:last] = upwind.rows(first, last)

    run_row_blocks(
        block, elevation_m.shape[0], watch=watch, step="shelter by the ground", block_rows=upwind.block_rows
    )  # fmt: skip
    return mean_deg, least_deg


class _Upwind:
    """Steepest rise of the ground upwind, a few rows at a time.

    Attributes
    ----------
    block_rows : int
        As many as a thread works on for some hundredths of a second.
    """

    def __init__(self, elevation_m: FloatArray, rays_deg: tuple[float, ...], cell_m: float, reach_m: float) -> None:
        cols = elevation_m.shape[1]
        self._elevation_m = elevation_m
        self._margin = _sample_count(cell_m, reach_m)
        self._step, self._rate = _ray_samples(rays_deg, cell_m, reach_m, cols + 2 * self._margin)
        samples_a_row = cols * len(rays_deg) * self._margin
        self.block_rows = min(BLOCK_ROWS, max(_LEAST_BLOCK_ROWS, _BLOCK_SAMPLES // max(1, samples_a_row)))

    def rows(self, first: int, last: int) -> tuple[FloatArray, FloatArray]:
        """Mean and least of the rays in degrees, from row ``first`` up to ``last``."""
        framed = with_margin(self._elevation_m, first, last, self._margin)
        mean_deg = np.empty((last - first, self._elevation_m.shape[1]), np.float32)
        least_deg = np.empty_like(mean_deg)
        _kernels.upwind_slope_rows(framed, self._step, self._rate, mean_deg, least_deg, 0, last - first)
        return mean_deg, least_deg


def _sample_count(cell_m: float, reach_m: float) -> int:
    return max(1, math.floor(reach_m / cell_m + 1e-6))


def _ray_samples(
    rays_deg: tuple[float, ...], cell_m: float, reach_m: float, width: int
) -> tuple[npt.NDArray[np.int64], FloatArray]:
    """Where rays cross from row to row (from column to column if they lie flatter), as the kernel takes it."""
    away = np.arange(1, _sample_count(cell_m, reach_m) + 1)
    steps, rates = [], []
    for ray_deg in rays_deg:
        down, right = -math.cos(math.radians(ray_deg)), math.sin(math.radians(ray_deg))
        longer = max(abs(down), abs(right))
        # No further than the reach, and as many for each ray: the last one as often as needed.
        kept = np.minimum(away, max(1, math.floor(reach_m * longer / cell_m + 1e-6)))
        kept = np.append(kept, kept[-1:]) if kept.size % 2 else kept
        # Rounded, so that a ray along the rows stays on its row.
        row, col = np.round(down / longer * kept, 9), np.round(right / longer * kept, 9)
        near, far = np.floor(row) * width + np.floor(col), np.ceil(row) * width + np.ceil(col)
        part = (row - np.floor(row)) + (col - np.floor(col))  # one of them is 0
        steps.append(np.stack([near, far], axis=1).astype(np.int64))
        rates.append(np.stack([1.0 - part, part], axis=1) / (kept * cell_m / longer)[:, None])
    return np.stack(steps), np.stack(rates).astype(np.float32)
