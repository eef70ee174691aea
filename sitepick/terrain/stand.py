"""What the trees leave of the wind, inside a stand and behind it.

Trees are taken as they stand in winter: leaf-shedding crowns are bare and stop little.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from sitepick.grid import FloatArray
from sitepick.ground.model import NOT_KNOWN, Ground, IndexArray
from sitepick.terrain import _kernels
from sitepick.work import Watch, run_row_blocks

_BLOCK_LINES = 64  # looked along side by side
LEAST_HEIGHT_M = 3.0  # lower growth doesn't overtop a shelter
LEAST_DENSITY_FRAC = 0.05
BARE_CROWN_FRAC = 0.4  # density of a bare crown against a green one: rows of 25-35 % where conifers reach 60-80 %

# Share of the open wind deep inside a stand, by its density in winter. Common practice: 10-30 % in
# closed conifers at the height of a head.
DEEP_DENSITY = np.array([0.0, 0.3, 0.5, 0.8, 1.0])
DEEP_SHARE = np.array([1.0, 0.6, 0.35, 0.15, 0.1])

# Share of the open wind behind a belt, by distance in tree heights and by its density: none, bare
# leaf-shedding row, row of conifers, several rows of conifers. Brandle & Finch 1991 (University of
# Nebraska, EC91-1763), from memory; nearer than five heights as at five.
LEE_HEIGHTS = np.array([5.0, 10.0, 15.0, 20.0, 30.0])
LEE_DENSITY = np.array([0.0, 0.3, 0.5, 0.7])
LEE_SHARE = np.array([
    [1.00, 1.00, 1.00, 1.00, 1.00],
    [0.50, 0.65, 0.80, 0.85, 0.95],
    [0.30, 0.50, 0.60, 0.75, 0.95],
    [0.25, 0.35, 0.65, 0.85, 0.95],
])  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stand:
    """The trees, as the wind meets them in winter.

    Attributes
    ----------
    height_m : float32 array of the grid's shape
        0 where no stand is, NaN where the cover isn't known.
    kind : int16 array of the grid's shape
        Place in the next two; anything where no stand is.
    density_frac : float32 array, one a kind
        Share of the wind's way that crowns stand in.
    deep_frac : float32 array, one a kind
        Share of the open wind deep inside such a stand.
    cell_m : float
        Ground width of a cell.
    """

    height_m: FloatArray
    kind: IndexArray
    density_frac: FloatArray
    deep_frac: FloatArray
    cell_m: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForestShare:
    """Share of the wind that the trees leave, mean of the rays and worst ray; float32, of the grid's shape."""

    mean: FloatArray
    worst: FloatArray


ALL_ROWS = slice(None)


def tree_height_m(ground: Ground, rows: slice = ALL_ROWS) -> FloatArray:
    """Height of the trees: measured where it is known, else typical for the cover.

    Parameters
    ----------
    ground : Ground
    rows : slice
        Of the grid; all of them, unless the caller goes block by block.
    """
    typical_m = by_class(ground, "tree_height_m", rows)
    if ground.canopy_height_m is None:
        return typical_m
    measured_m = ground.canopy_height_m[rows]
    return np.where(np.isfinite(measured_m), measured_m, typical_m)


def evergreen_frac(ground: Ground, of_forest_frac: float | None, rows: slice = ALL_ROWS) -> FloatArray:
    """Share of the ground under evergreens; NaN where it isn't known.

    Parameters
    ----------
    ground : Ground
    of_forest_frac : float or None
        What the user says of forest whose leaf type the legend doesn't know.
    rows : slice
        As in `tree_height_m`.
    """
    return _evergreen_by_class(ground, of_forest_frac)[ground.cover_index[rows]]


def canopy_frac(ground: Ground, rows: slice = ALL_ROWS) -> FloatArray:
    """Share of the ground under any crowns; NaN where it isn't known. ``rows`` as in `tree_height_m`."""
    return by_class(ground, "canopy_frac", rows)


def by_class(ground: Ground, name: str, rows: slice = ALL_ROWS) -> FloatArray:
    """One column of the legend over the ground, as `Ground.share`. ``rows`` as in `tree_height_m`."""
    return _table(ground, name)[ground.cover_index[rows]]


def _table(ground: Ground, name: str) -> FloatArray:
    """One column of the legend; NaN at the end, for ground whose cover isn't known."""
    values = [getattr(cover, name) for cover in ground.legend.classes]
    return np.array([np.nan if value is None else value for value in values] + [np.nan], np.float32)


def _evergreen_by_class(ground: Ground, of_forest_frac: float | None) -> FloatArray:
    known = _table(ground, "evergreen_frac")
    if of_forest_frac is None:
        return known
    return np.where(np.isnan(known), np.float32(of_forest_frac) * _table(ground, "canopy_frac"), known)


def read_stand(ground: Ground, of_forest_frac: float | None, *, watch: Watch) -> Stand:
    """Trees as the wind meets them; crowns of unknown leaf type count as bare, which is the windier.

    Parameters
    ----------
    ground : Ground
    of_forest_frac : float or None
        Evergreen share of forest whose leaf type the legend doesn't know.
    watch : Watch

    Returns
    -------
    Stand
    """
    canopy, evergreen = _table(ground, "canopy_frac"), _evergreen_by_class(ground, of_forest_frac)
    green = np.where(np.isnan(evergreen), np.float32(0.0), np.minimum(evergreen, canopy))
    density = green + np.float32(BARE_CROWN_FRAC) * (canopy - green)
    deep = np.interp(density, DEEP_DENSITY, DEEP_SHARE).astype(np.float32)
    height_m = np.empty(ground.grid.shape, np.float32)

    def block(first: int, last: int) -> None:
        rows = slice(first, last)
        kind, tall_m = ground.cover_index[rows], tree_height_m(ground, rows)
        is_stand = (tall_m >= LEAST_HEIGHT_M) & (density >= LEAST_DENSITY_FRAC)[kind]
        height_m[rows] = np.where(is_stand, tall_m, np.float32(0.0))
        height_m[rows][kind == NOT_KNOWN] = np.nan

    run_row_blocks(block, ground.grid.shape, watch=watch, step="stands of trees")
    return Stand(
        height_m=height_m,
        kind=ground.cover_index,
        density_frac=density,
        deep_frac=deep,
        cell_m=ground.grid.ground_cell_m,
    )


def forest_share(stand: Stand, rays_deg: tuple[float, ...], *, watch: Watch) -> ForestShare:
    """Share of the wind that the trees leave, for wind along each of some rays.

    Parameters
    ----------
    stand : Stand
    rays_deg : tuple of float
        Grid bearings that the wind comes from.
    watch : Watch

    Returns
    -------
    ForestShare
        NaN where the cover isn't known; such ground upwind shelters nobody.

    Notes
    -----
    Inside a stand f = f_inf + (f_0 - f_inf) exp(-x / 2H): x is the way from the upwind edge, H the height
    of the trees, f_inf the share deep inside, f_0 the share where the wind enters: all of it out of
    open ground, less in the lee of another stand. Behind a stand the windbreak table holds.
    """
    shape = stand.height_m.shape
    total = np.zeros(shape, np.float32)
    worst = np.zeros(shape, np.float32)
    layers = (stand.height_m.reshape(-1), stand.kind.reshape(-1), stand.density_frac, stand.deep_frac)
    lee = (LEE_HEIGHTS, LEE_DENSITY, LEE_SHARE)
    for ray_deg in rays_deg:
        line, offset, step_cells = wind_lines(ray_deg, shape)
        line_count = int(line[3]) + abs(int(offset[-1]))
        step_m = step_cells * stand.cell_m

        def block(
            first: int, last: int, line: CellArray = line, offset: CellArray = offset, step_m: float = step_m
        ) -> None:
            _kernels.forest_lines(
                layers, lee, line, offset, step_m, total.reshape(-1), worst.reshape(-1), first, last
            )  # fmt: skip

        run_row_blocks(block, line_count, watch=watch, step="shelter by trees", block_rows=_BLOCK_LINES)

    def mean_block(first: int, last: int) -> None:
        total[first:last] /= np.float32(len(rays_deg))

    run_row_blocks(mean_block, shape, watch=watch, step="shelter by trees")
    return ForestShare(mean=total, worst=worst)


CellArray = npt.NDArray[np.int64]


def wind_lines(ray_deg: float, shape: tuple[int, int]) -> tuple[CellArray, CellArray, float]:
    """Digital lines along the wind that together pass through every cell once.

    Parameters
    ----------
    ray_deg : float
        Grid bearing that the wind comes from.
    shape : (rows, cols)

    Returns
    -------
    line : int64
        Flat index of the upwind end, stride along, stride across, cells across, number of the first line.
    offset : int64
        Cells across after so many cells along.
    step_cells : float
        Length of a step along, in cell widths.
    """
    rows, cols = shape
    down, right = math.cos(math.radians(ray_deg)), -math.sin(math.radians(ray_deg))  # the way the wind goes
    if abs(right) >= abs(down):
        along_count, along_stride, across_count, across_stride = cols, 1, rows, cols
        along, across = right, down
    else:
        along_count, along_stride, across_count, across_stride = rows, cols, cols, 1
        along, across = down, right
    start = 0 if along > 0 else (along_count - 1) * along_stride
    lean = round(across / abs(along), 9)
    offset = np.floor(np.arange(along_count) * abs(lean) + 0.5).astype(np.int64) * (1 if lean >= 0 else -1)
    first_line = -max(0, int(offset[-1]))
    line = np.array(
        [start, along_stride if along > 0 else -along_stride, across_stride, across_count, first_line], np.int64
    )
    return line, offset, 1.0 / abs(along)
