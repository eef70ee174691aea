"""How deep a place lies in the shelter of the ground upwind."""

from __future__ import annotations

import math

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray
from sitepick.terrain import _kernels
from sitepick.terrain.margin import with_margin
from sitepick.work import BLOCK_ROWS, Watch, run_row_blocks

UPWIND_M = 300.0  # how far upwind the ground can shelter; Winstral et al. 2002 take 100-300 m
_BLOCK_SAMPLES, _LEAST_BLOCK_ROWS = 25_000_000, 16  # some hundredths of a second; rows enough to share their margin


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
    upwind = Upwind(elevation_m, rays_deg, cell_m, reach_m)

    def block(first: int, last: int) -> None:
        mean_deg[first:last], least_deg[first:last] = upwind.rows(first, last)

    run_row_blocks(
        block, elevation_m.shape[0], watch=watch, step="shelter by the ground", block_rows=upwind.block_rows
    )  # fmt: skip
    return mean_deg, least_deg


class Upwind:
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
