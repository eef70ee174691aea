"""Points that take to tracks: the nearest place on a line, if one is near enough. No Qt."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sitepick.grid import DoubleArray

SNAP_PX = 12.0


class TrackSnap:
    """The mapped tracks as stretches to snap to.

    Parameters
    ----------
    lines_m : sequence of float64 arrays of shape (n, 2)
        Grid coordinates.
    """

    def __init__(self, lines_m: Sequence[DoubleArray]) -> None:
        lines = [line for line in lines_m if len(line) > 1]
        nothing = np.zeros((0, 2))
        self._start = np.concatenate([line[:-1] for line in lines]) if lines else nothing
        self._along = np.concatenate([np.diff(line, axis=0) for line in lines]) if lines else nothing

    def nearest(self, east_m: float, north_m: float, within_m: float) -> tuple[float, float] | None:
        """The nearest place on a track, None where none is within so many metres."""
        if not len(self._start):
            return None
        square = np.maximum((self._along**2).sum(axis=1), 1e-9)
        share = np.clip((((east_m, north_m) - self._start) * self._along).sum(axis=1) / square, 0.0, 1.0)
        foot = self._start + share[:, None] * self._along
        distance = np.hypot(foot[:, 0] - east_m, foot[:, 1] - north_m)
        index = int(np.argmin(distance))
        if distance[index] > within_m:
            return None
        east, north = foot[index].tolist()
        return east, north
