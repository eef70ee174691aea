"""From the factors' scores to one: the same rule for a site, for many draws of it, and for whole layers."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray

_LEAST = 1e-300  # stands for 0 under a logarithm; what it makes is set to 0 again


def whole_score(
    scores: npt.ArrayLike, weights: npt.ArrayLike, *, mean: str
) -> DoubleArray:  # fmt: skip
    """One score from those of the factors.

    Parameters
    ----------
    scores : array_like of shape (..., factors)
        0-1.
    weights : array_like that broadcasts against it
        0 or more, at least one of them more; only ratios count.
    mean : str
        Out of `plan.weighting.MEANS`.

    Returns
    -------
    ndarray of shape (...), float64
        0-1. By the arithmetic mean, sum of weight x score; by the geometric mean, product of score to the power
        of its weight, which is 0 as soon as a factor that weighs anything scores 0.
    """
    held, weighing = np.asarray(scores, np.float64), np.asarray(weights, np.float64)
    shares = weighing / weighing.sum(axis=-1, keepdims=True)
    if mean == "arithmetic":
        return np.asarray(np.sum(shares * held, axis=-1))
    logs = np.log(np.maximum(held, _LEAST))
    is_spoiled = ((held <= 0.0) & (shares > 0.0)).any(axis=-1)
    return np.asarray(np.where(is_spoiled, 0.0, np.exp(np.sum(shares * logs, axis=-1))))
