"""A few rows of a grid with ground that isn't known all round, for what looks past their edges."""

from __future__ import annotations

import numpy as np

from sitepick.grid import FloatArray


def with_margin(elevation_m: FloatArray, first: int, last: int, reach: int) -> FloatArray:
    """Rows of a grid with ``reach`` more cells on each side; NaN outside the grid.

    Parameters
    ----------
    elevation_m : ndarray of shape (rows, cols), float32
    first, last : int
        Rows from ``first`` up to, not including, ``last``.
    reach : int
        Cells, >= 0.

    Returns
    -------
    ndarray of shape (last - first + 2 reach, cols + 2 reach), float32
        A copy of its own.
    """
    rows, cols = elevation_m.shape
    framed = np.full((last - first + 2 * reach, cols + 2 * reach), np.nan, np.float32)
    top, bottom = max(0, first - reach), min(rows, last + reach)
    framed[top - first + reach : bottom - first + reach, reach : reach + cols] = elevation_m[top:bottom]
    return framed
