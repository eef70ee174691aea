"""A few rows of a grid with what lies round them, for questions that look past their edges."""

from __future__ import annotations

from typing import Any, TypeVar

import numpy as np
import numpy.typing as npt

_Layer = TypeVar("_Layer", bound=npt.NDArray[Any])


def with_margin(layer: _Layer, first: int, last: int, reach: int, *, nothing: float = np.nan) -> _Layer:
    """Rows of a grid with ``reach`` more cells on each side.

    Parameters
    ----------
    layer : ndarray of shape (rows, cols)
    first, last : int
        Rows from ``first`` up to, not including, ``last``.
    reach : int
        Cells, >= 0.
    nothing : float
        Stands outside the grid.

    Returns
    -------
    ndarray of shape (last - first + 2 reach, cols + 2 reach)
        A copy of its own.
    """
    rows, cols = layer.shape
    framed = np.full((last - first + 2 * reach, cols + 2 * reach), nothing, layer.dtype)
    top, bottom = max(0, first - reach), min(rows, last + reach)
    framed[top - first + reach : bottom - first + reach, reach : reach + cols] = layer[top:bottom]
    return framed  # type: ignore[return-value]


def extreme_around(framed: _Layer, reach: int, extreme: np.ufunc) -> _Layer:
    """Greatest or least of the square of ``2 reach + 1`` cells around each cell inside a margin of ``reach``.

    Parameters
    ----------
    framed : ndarray
        As `with_margin` gives it.
    reach : int
        Cells, >= 0.
    extreme : ufunc
        ``np.maximum`` or ``np.minimum``; for either a gap wins, as for ``np.fmax`` and ``np.fmin`` it never does.

    Returns
    -------
    ndarray
        Without the margin. Cost: some two operations a cell for each doubling of the square.
    """
    side = 2 * reach + 1
    for _ in range(2):
        width = 1
        while width < side:
            more = min(width, side - width)
            framed = extreme(framed[:-more], framed[more:])
            width += more
        framed = framed.T
    return framed
