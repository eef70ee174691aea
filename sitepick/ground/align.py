"""Rasters brought onto the grid: heights bilinear, codes by the most frequent one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from typing import Any

import numpy as np
import numpy.typing as npt
from rasterio.enums import Resampling

from sitepick.grid import DoubleArray, FloatArray, Grid
from sitepick.ground.fault import Fault
from sitepick.ground.local_file import RasterioError
from sitepick.ground.model import CodeArray
from sitepick.ground.mosaic import NODE_STEP, Mosaic, OpenMosaic, mosaics, nodes_under, pixel_window
from sitepick.ground.raster import COVER, RasterFile
from sitepick.ground.sample import CODE_MAX, is_no_height, sample, zero_means_gap
from sitepick.work import Watch

BLOCK_CELL_ROWS = 16 * NODE_STEP
BLOCK_PIXELS_MAX = 8_000_000  # of the source, held at a time
SUB_COUNT_MAX = 4
KNOWN_WEIGHT = 0.999
SEAM_WEIGHT = 0.5


@dataclass(slots=True)
class Findings:
    """What came to light while reading.

    Attributes
    ----------
    undeclared : Counter
        File name and value to how many pixels held a "no data" value that isn't declared.
    faults : list of Fault
        Files that could not be read to the end, or hold what they must not.
    """

    undeclared: Counter[tuple[str, float]] = field(default_factory=Counter)
    faults: list[Fault] = field(default_factory=list)
    _zero_is_gap: dict[RasterFile, bool] = field(default_factory=dict)

    def zero_is_gap(self, file: RasterFile) -> bool:
        """Whether a 0 in this file stands for "no data"; looked up once."""
        if file not in self._zero_is_gap:
            self._zero_is_gap[file] = file.nodata is None and zero_means_gap(sample(file), file)
        return self._zero_is_gap[file]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Block:
    """A piece of source pixels and the nodes of the cells it serves."""

    first_cell_row: int
    past_last_cell_row: int
    window: tuple[int, int, int, int]
    reduction: int
    node_row: DoubleArray
    node_col: DoubleArray

    def empty(self, value: float, dtype: npt.DTypeLike) -> npt.NDArray[Any]:
        top, left, bottom, right = self.window
        shape = ((bottom - top) // self.reduction, (right - left) // self.reduction)
        return np.full(shape, value, dtype=dtype)


def heights_on_grid(files: Sequence[RasterFile], grid: Grid, findings: Findings, *, watch: Watch) -> FloatArray:
    """Heights in metres at the middle of each cell, bilinear; NaN where not known.

    Parameters
    ----------
    files : sequence of RasterFile
        The first one that knows a cell counts.
    grid : Grid
    findings : Findings
        Takes what comes to light.
    watch : Watch

    Returns
    -------
    ndarray of shape (rows, cols), float32
    """
    from sitepick.ground._kernels import sample_heights  # the compiler takes 0.3 s to load

    result = np.full(grid.shape, np.nan, dtype=np.float32)
    pooled = np.zeros((3, *grid.shape), dtype=np.float32) if len(groups := mosaics(files)) > 1 else None

    def carry(opened: OpenMosaic, block: _Block) -> None:
        source = _height_source(opened, block, findings)
        rows = slice(block.first_cell_row, block.past_last_cell_row)
        value = np.empty((rows.stop - rows.start, grid.cols), dtype=np.float32)
        weight = np.empty_like(value)
        sample_heights(source, block.node_row, block.node_col, NODE_STEP, 0, value.shape[0], value, weight)
        target = result[rows]
        take = np.isnan(target) & (weight >= KNOWN_WEIGHT)
        target[take] = value[take]
        if pooled is not None:
            pooled[0, rows] += np.where(weight > 0.0, value * weight, 0.0)
            pooled[1, rows] += weight
            pooled[2, rows] += weight > 0.0

    role = files[0].role
    for group in groups:
        _over_blocks(group, grid, carry, findings, watch=watch, step=f"reading {role}")
    if pooled is not None:
        # Between two files of different pixels neither knows all four neighbours; together they do.
        seam = np.isnan(result) & (pooled[1] >= SEAM_WEIGHT) & (pooled[2] >= 2.0)
        result[seam] = pooled[0][seam] / pooled[1][seam]
    return result


def codes_on_grid(files: Sequence[RasterFile], grid: Grid, findings: Findings, *, watch: Watch) -> CodeArray:
    """Class code plus one of each cell; 0 where not known.

    Finer rasters give the most frequent code in the cell, coarser ones the code at its middle.
    """
    from sitepick.ground._kernels import sample_codes  # the compiler takes 0.3 s to load

    result = np.zeros(grid.shape, dtype=np.int32)

    def carry(opened: OpenMosaic, block: _Block) -> None:
        source = _code_source(opened, block, findings)
        finest_m = min(min(tile.file.cell_ground_m) for tile in opened.mosaic.tiles) * block.reduction
        sub_count = int(np.clip(np.ceil(grid.ground_cell_m / finest_m - 0.01), 1, SUB_COUNT_MAX))
        rows = slice(block.first_cell_row, block.past_last_cell_row)
        code = np.empty((rows.stop - rows.start, grid.cols), dtype=np.int32)
        sample_codes(source, block.node_row, block.node_col, NODE_STEP, sub_count, 0, code.shape[0], code)
        target = result[rows]
        take = (target == 0) & (code > 0)
        target[take] = code[take]

    for group in mosaics(files):
        _over_blocks(group, grid, carry, findings, watch=watch, step="reading cover")
    return result


def _over_blocks(
    mosaic: Mosaic,
    grid: Grid,
    carry: Callable[[OpenMosaic, _Block], None],
    findings: Findings,
    *,
    watch: Watch,
    step: str,
) -> None:
    """Read a mosaic block by block; a file that breaks off becomes a fault."""
    try:
        blocks = list(_blocks(mosaic, grid))
        with ExitStack() as stack:
            opened = OpenMosaic(mosaic, stack)
            for done_count, block in enumerate(blocks):
                watch.tick(step, done_count, len(blocks))
                carry(opened, block)
    except RasterioError:
        names = ", ".join(str(tile.file.path) for tile in mosaic.tiles)
        findings.faults.append(
            Fault(where=names, what="the file is damaged or cut off", fix="copy or download it again")
        )


def _blocks(mosaic: Mosaic, grid: Grid) -> Iterator[_Block]:
    node_row, node_col = nodes_under(grid, mosaic)
    if pixel_window(mosaic, node_row, node_col, spare=0) is None:
        return
    across = grid.ground_cell_m / min(min(tile.file.cell_ground_m) for tile in mosaic.tiles)
    reduction = _reduction(mosaic, across)
    pixels_a_row = grid.cols * (across / reduction) ** 2
    step = NODE_STEP * int(np.clip(BLOCK_PIXELS_MAX / pixels_a_row / NODE_STEP, 1, BLOCK_CELL_ROWS // NODE_STEP))
    for first in range(0, grid.rows, step):
        past_last = min(first + step, grid.rows)
        nodes = slice(first // NODE_STEP, -(-past_last // NODE_STEP) + 1)
        window = pixel_window(mosaic, node_row[nodes], node_col[nodes], spare=2 * reduction)
        if window is None:
            continue
        top, left = (reduction * (edge // reduction) for edge in window[:2])
        bottom, right = (reduction * -(-edge // reduction) for edge in window[2:])
        yield _Block(
            first_cell_row=first,
            past_last_cell_row=past_last,
            window=(top, left, bottom, right),
            reduction=reduction,
            node_row=(node_row[nodes] - top) / reduction,
            node_col=(node_col[nodes] - left) / reduction,
        )


def _reduction(mosaic: Mosaic, across: float) -> int:
    """How many pixels are read as one where `across` of them lie side by side in a cell."""
    if mosaic.tiles[0].file.role == COVER:
        return mosaic.reduction(int(across / SUB_COUNT_MAX))
    reduction = mosaic.reduction(int(across))
    for file in (tile.file for tile in mosaic.tiles) if reduction > 1 else ():
        found = sample(file)
        if is_no_height(found.values, file).any() or zero_means_gap(found, file):
            return 1  # an average over a "no data" value that isn't declared would look like a height
    return reduction


def _height_source(opened: OpenMosaic, block: _Block, findings: Findings) -> FloatArray:
    source: FloatArray = block.empty(np.nan, np.float32)
    for file, rows, cols, values, is_gap in opened.pieces(
        block.window, reduction=block.reduction, resampling=Resampling.average
    ):
        is_odd = ~is_gap & is_no_height(values, file)
        is_zero = ~is_gap & (values == 0)
        if is_zero.any() and findings.zero_is_gap(file):
            is_odd |= is_zero
        if is_odd.any():
            odd, counts = np.unique(values[is_odd], return_counts=True)
            findings.undeclared[file.path.name, float(odd[np.argmax(counts)])] += int(counts.sum())
        heights = (values.astype(np.float64) * file.metres_per_unit + file.offset_m).astype(np.float32)
        target = source[rows, cols]
        np.copyto(target, heights, where=np.isnan(target) & ~is_gap & ~is_odd)
    return source


def _code_source(opened: OpenMosaic, block: _Block, findings: Findings) -> CodeArray:
    source: CodeArray = block.empty(0, np.int32)
    for file, rows, cols, values, is_gap in opened.pieces(
        block.window, reduction=block.reduction, resampling=Resampling.mode
    ):
        if np.issubdtype(values.dtype, np.floating):
            is_gap = is_gap | ~np.isfinite(values)
            if (values[~is_gap] != np.round(values[~is_gap])).any():
                _note_once(findings, file)
                continue
        is_gap = is_gap | (values < 0) | (values > CODE_MAX)
        codes = np.where(is_gap, 0, np.where(is_gap, 0, values).astype(np.int32) + 1)
        target = source[rows, cols]
        np.copyto(target, codes, where=target == 0)
    return source


def _note_once(findings: Findings, file: RasterFile) -> None:
    fault = Fault(
        where=str(file.path),
        what="its values are not whole numbers, so they are not class codes",
        fix="name the raster with the class codes",
    )
    if fault not in findings.faults:
        findings.faults.append(fault)
