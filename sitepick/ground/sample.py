"""A quick look at some of a raster's values, whatever its size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt
from rasterio.windows import Window

from sitepick.grid import MaskArray
from sitepick.ground.local_file import open_raster
from sitepick.ground.mosaic import read_part
from sitepick.ground.raster import CANOPY_HEIGHT, ELEVATION, RasterFile

LIMITS_M = {ELEVATION: (-500.0, 9000.0), CANOPY_HEIGHT: (0.0, 120.0)}  # nothing on land lies outside
SENTINELS = (-9999.0, -32768.0, -32767.0, -99999.0)  # common practice for "no data"
CODE_MAX = 65534
ZERO_DROP_M = 30.0  # no sea lies this far below everything else in a file
CODE_COUNT_MAX = 64  # more different whole numbers than this are heights

_SIDE = 512
_WHOLE_MAX = 16_000_000  # pixels read through and thinned; larger files without overviews are read in pieces
_PIECE_SIDE = 128
_PIECES_ACROSS = 5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sample:
    """Some of a raster's values.

    Attributes
    ----------
    values : ndarray
        As stored; gaps left out.
    gap_frac : float
        Share of pixels declared as no data.
    """

    values: npt.NDArray[Any]
    gap_frac: float

    @property
    def codes(self) -> tuple[int, ...] | None:
        """The different whole numbers, when they could be class codes."""
        found = np.unique(self.values)
        is_code = 0 < len(found) <= CODE_COUNT_MAX and bool((found == np.round(found)).all())
        if not is_code or found[0] < 0 or found[-1] > CODE_MAX:
            return None
        return tuple(int(code) for code in found)


def sample(file: RasterFile) -> Sample:
    """Thinned values of the whole raster, or pieces spread over a large one without overviews.

    Raises
    ------
    rasterio.errors.RasterioError
        The file is cut off.
    """
    with open_raster(file.path) as dataset:
        if file.has_overviews or file.rows * file.cols <= _WHOLE_MAX:
            shape = (min(file.rows, _SIDE), min(file.cols, _SIDE))
            parts = [read_part(dataset, file, Window(0, 0, file.cols, file.rows), shape)]
        else:
            height, width = min(_PIECE_SIDE, file.rows), min(_PIECE_SIDE, file.cols)
            parts = [
                read_part(dataset, file, Window(col, row, width, height), (height, width))
                for row in np.linspace(0, file.rows - height, _PIECES_ACROSS).astype(int).tolist()
                for col in np.linspace(0, file.cols - width, _PIECES_ACROSS).astype(int).tolist()
            ]
    values = np.concatenate([values.ravel() for values, _ in parts])
    is_gap = np.concatenate([is_gap.ravel() for _, is_gap in parts])
    return Sample(values=values[~is_gap], gap_frac=float(is_gap.mean()))


def is_no_height(raw: npt.NDArray[Any], file: RasterFile) -> MaskArray:
    """Stored values that are no height: outside what there is on land, or usual words for "no data"."""
    low_m, high_m = LIMITS_M[file.role]
    heights_m = np.asarray(raw, dtype=np.float64) * file.metres_per_unit + file.offset_m
    odd: MaskArray = (heights_m < low_m) | (heights_m > high_m) | np.isin(raw, SENTINELS)
    return odd


def zero_means_gap(found: Sample, file: RasterFile) -> bool:
    """Whether a stored 0 is an undeclared gap: everything else in the file lies far above it."""
    known = found.values[~is_no_height(found.values, file)].astype(np.float64)
    others_m = known[known != 0.0] * file.metres_per_unit
    if file.role != ELEVATION or not 0 < len(others_m) < len(known):
        return False
    return bool(others_m.min() > ZERO_DROP_M)
