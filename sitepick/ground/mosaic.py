"""Rasters that share one pixel grid, read as if they were one file; and how that grid lies under ours."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from math import gcd
from typing import Any

import numpy as np
import numpy.typing as npt
from affine import Affine
from pyproj import CRS, Transformer
from rasterio.enums import MaskFlags, Resampling
from rasterio.windows import Window

from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.ground.local_file import open_raster
from sitepick.ground.raster import RasterFile, map_point

NODE_STEP = 16  # cells between places whose position in the source is computed exactly
_PHASE_TOLERANCE = 0.01  # of a pixel


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """One file of a mosaic, and how many pixels it begins after the mosaic's own corner."""

    file: RasterFile
    first_row: int
    first_col: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Mosaic:
    """Files on one pixel grid; where two overlap, the first one that knows counts.

    Attributes
    ----------
    crs, transform
        Of the shared pixel grid; pixel (0, 0) is the first file's.
    tiles : tuple of Tile
    """

    crs: CRS
    transform: Affine
    tiles: tuple[Tile, ...]

    @property
    def pixel_bounds(self) -> tuple[int, int, int, int]:
        """First row, first column, past-last row and past-last column of all tiles together."""
        return (
            min(tile.first_row for tile in self.tiles),
            min(tile.first_col for tile in self.tiles),
            max(tile.first_row + tile.file.rows for tile in self.tiles),
            max(tile.first_col + tile.file.cols for tile in self.tiles),
        )

    def reduction(self, wanted: int) -> int:
        """How many pixels can be read as one: at most `wanted`, and a divisor of every tile's corner."""
        for count in range(max(1, wanted), 1, -1):
            if all(gcd(tile.first_row, count) == count and gcd(tile.first_col, count) == count for tile in self.tiles):
                return count
        return 1


def mosaics(files: Sequence[RasterFile]) -> list[Mosaic]:
    """Group files that share one pixel grid, in the order given."""
    groups: list[Mosaic] = []
    for file in files:
        for index, group in enumerate(groups):
            corner = _corner_in(group, file)
            if corner is not None:
                tile = Tile(file=file, first_row=corner[0], first_col=corner[1])
                groups[index] = Mosaic(crs=group.crs, transform=group.transform, tiles=(*group.tiles, tile))
                break
        else:
            tile = Tile(file=file, first_row=0, first_col=0)
            groups.append(Mosaic(crs=file.crs, transform=file.transform, tiles=(tile,)))
    return groups


def _corner_in(group: Mosaic, file: RasterFile) -> tuple[int, int] | None:
    """Row and column of a file's corner on a group's pixel grid; None when the grids differ."""
    if file.crs != group.crs:
        return None
    ours, theirs = group.transform, file.transform
    size = max(abs(ours.a), abs(ours.b), abs(ours.d), abs(ours.e))
    longest = max(file.rows, file.cols)
    for mine, other in ((ours.a, theirs.a), (ours.b, theirs.b), (ours.d, theirs.d), (ours.e, theirs.e)):
        if abs(mine - other) * longest > _PHASE_TOLERANCE * size:
            return None
    col, row = map_point(~ours, theirs.c, theirs.f)
    if abs(col - round(col)) > _PHASE_TOLERANCE or abs(row - round(row)) > _PHASE_TOLERANCE:
        return None
    return round(row), round(col)


def nodes_under(grid: Grid, mosaic: Mosaic) -> tuple[DoubleArray, DoubleArray]:
    """Mosaic row and column under the middle of every `NODE_STEP`-th cell; infinite where there is none."""
    node_rows = np.arange(0, grid.rows + NODE_STEP, NODE_STEP, dtype=np.float64)
    node_cols = np.arange(0, grid.cols + NODE_STEP, NODE_STEP, dtype=np.float64)
    east_m, north_m = np.meshgrid(
        grid.west_m + (node_cols + 0.5) * grid.cell_m, grid.north_m - (node_rows + 0.5) * grid.cell_m
    )
    x, y = Transformer.from_crs(CRS.from_user_input(grid.crs), mosaic.crs, always_xy=True).transform(east_m, north_m)
    if mosaic.crs.is_geographic:
        x = _same_turn(x, mosaic)
    col, row = map_point(~mosaic.transform, x, y)
    return np.ascontiguousarray(row), np.ascontiguousarray(col)


def _same_turn(lon_deg: DoubleArray, mosaic: Mosaic) -> DoubleArray:
    """Longitudes on the turn of the globe that the mosaic counts in (-180 to 180, or 0 to 360)."""
    first_row, first_col, last_row, last_col = mosaic.pixel_bounds
    middle, _ = map_point(mosaic.transform, (first_col + last_col) / 2, (first_row + last_row) / 2)
    turned: DoubleArray = lon_deg + 360.0 * np.round((middle - lon_deg) / 360.0)
    return turned


def pixel_window(
    mosaic: Mosaic, node_row: DoubleArray, node_col: DoubleArray, *, spare: int
) -> tuple[int, int, int, int] | None:
    """Pixels under a block of nodes, cut to where there are tiles; None when they miss each other."""
    is_there = np.isfinite(node_row) & np.isfinite(node_col)
    if not is_there.any():
        return None
    first_row, first_col, last_row, last_col = mosaic.pixel_bounds
    top = max(first_row, int(np.floor(node_row[is_there].min())) - spare)
    left = max(first_col, int(np.floor(node_col[is_there].min())) - spare)
    bottom = min(last_row, int(np.ceil(node_row[is_there].max())) + spare)
    right = min(last_col, int(np.ceil(node_col[is_there].max())) + spare)
    return (top, left, bottom, right) if top < bottom and left < right else None


class OpenMosaic:
    """The files of a mosaic, open for reading pieces.

    Parameters
    ----------
    mosaic : Mosaic
    stack : ExitStack
        Closes the files.
    """

    def __init__(self, mosaic: Mosaic, stack: ExitStack) -> None:
        self.mosaic = mosaic
        self._datasets = [stack.enter_context(open_raster(tile.file.path)) for tile in mosaic.tiles]

    def pieces(
        self, window: tuple[int, int, int, int], *, reduction: int, resampling: Resampling
    ) -> list[tuple[RasterFile, slice, slice, npt.NDArray[Any], MaskArray]]:
        """The parts of a pixel window that the tiles hold.

        Parameters
        ----------
        window : tuple of int
            First row, first column, past-last row and column; a multiple of `reduction` each.
        reduction : int
            Pixels read as one, in each direction.
        resampling : Resampling
            How they become one.

        Returns
        -------
        list of (file, row slice, column slice, values, is_gap)
            The slices count in reduced pixels from the window's corner.
        """
        found = []
        for tile, dataset in zip(self.mosaic.tiles, self._datasets, strict=True):
            rows = _overlap(window[0], window[2], tile.first_row, tile.file.rows)
            cols = _overlap(window[1], window[3], tile.first_col, tile.file.cols)
            if rows is None or cols is None:
                continue
            # Pixels that don't fill a whole reduced one, at a file's far edges, are left out.
            shape = ((rows[1] - rows[0]) // reduction, (cols[1] - cols[0]) // reduction)
            if 0 in shape:
                continue
            part = Window(cols[0], rows[0], shape[1] * reduction, shape[0] * reduction)
            values, is_gap = read_part(dataset, tile.file, part, shape, resampling=resampling)
            top = (rows[0] + tile.first_row - window[0]) // reduction
            left = (cols[0] + tile.first_col - window[1]) // reduction
            found.append((tile.file, slice(top, top + shape[0]), slice(left, left + shape[1]), values, is_gap))
        return found


def _overlap(first: int, past_last: int, tile_first: int, tile_count: int) -> tuple[int, int] | None:
    """The part of a span that a tile holds, counted from the tile's own edge."""
    start, stop = max(first, tile_first) - tile_first, min(past_last, tile_first + tile_count) - tile_first
    return (start, stop) if start < stop else None


def read_part(
    dataset: Any,
    file: RasterFile,
    part: Window,
    shape: tuple[int, int],
    *,
    resampling: Resampling = Resampling.nearest,
) -> tuple[npt.NDArray[Any], MaskArray]:
    """Values of a part of a raster, as stored, and where they are declared as no data (or NaN)."""
    values = dataset.read(file.band, window=part, out_shape=shape, resampling=resampling)
    is_gap = np.zeros(values.shape, dtype=bool)
    flags = dataset.mask_flag_enums[file.band - 1]
    if MaskFlags.nodata in flags and file.nodata is not None:
        if np.issubdtype(values.dtype, np.floating):
            is_gap = values == np.asarray(file.nodata).astype(values.dtype)
        else:
            is_gap = values == file.nodata
    elif MaskFlags.all_valid not in flags:
        is_gap = dataset.read_masks(file.band, window=part, out_shape=shape) == 0
    if np.issubdtype(values.dtype, np.floating):
        is_gap |= np.isnan(values)
    return values, is_gap
