"""The connected parts of a mask, found by blocks of rows so that the work stops soon when told."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sitepick.grid import MaskArray
from sitepick.terrain import _kernels_flow
from sitepick.work import Watch, each_block

PartArray = npt.NDArray[np.int32]
CountArray = npt.NDArray[np.int64]


def label_parts(is_there: MaskArray, *, watch: Watch, step: str) -> tuple[PartArray, int]:
    """Number the parts of a mask; cells that touch at a side or a corner are of one part.

    Parameters
    ----------
    is_there : ndarray of shape (rows, cols), bool
    watch : Watch
    step : str
        What is being done, as a person reads it.

    Returns
    -------
    part : ndarray of shape (rows, cols), int32
        From 1 on, in the order of their first cells; 0 off the mask.
    count : int
        How many parts there are.
    """
    part = np.empty(is_there.shape, np.int32)
    for first, last in each_block(is_there.shape, watch=watch, step=step):
        _kernels_flow.join_rows(is_there, part, first, last)
    count = 0
    for first, last in each_block(is_there.shape, watch=watch, step=step):
        count = _kernels_flow.number_rows(part, count, first, last)
    return part, count


def part_sizes(part: PartArray, count: int, *, watch: Watch, step: str) -> CountArray:
    """Cells of each part by its number, of what lies off all parts at 0. Parameters as for `label_parts`."""
    cell_count = np.zeros(count + 1, np.int64)
    for first, last in each_block(part.shape, watch=watch, step=step):
        _kernels_flow.count_cells(part, cell_count, first, last)
    return cell_count
