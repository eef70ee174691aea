"""All-round defence: how the ground lies around a piece, and what is seen from its edge."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from sitepick.grid import FloatArray, Grid, MaskArray
from sitepick.ground.model import NOT_KNOWN
from sitepick.sites.reading import PieceGround
from sitepick.terrain.sight import SightRule, read_sight

APPROACH_M = 150.0  # ours: the last stretch of somebody who comes
VIEW_M = 300.0  # common practice: as far as a post makes out a person among scattered trees
_SIDES = 16
_LOOKOUTS = 6
_EYE_M, _TARGET_M = 1.5, 1.0  # a sentry kneels or stands, someone comes bent over


def approach_rise_deg(on: PieceGround) -> float:
    """How steeply the ground rises to the piece's edge over the last 150 m, the mean of 16 sides; NaN: not known.

    Negative where the ground around looks down on it.
    """
    edge = _edge_places(on, _SIDES)
    middle = on.piece.cells.mean(axis=0)
    out = edge - middle
    length = np.maximum(np.hypot(out[:, 0], out[:, 1]), 1e-9)
    far = np.rint(edge + out / length[:, None] * (APPROACH_M / on.ground.grid.ground_cell_m)).astype(np.int64)
    heights = on.elevation_m
    is_inside = ((far >= 0) & (far < heights.shape)).all(axis=1)
    near_m = heights[edge[is_inside, 0], edge[is_inside, 1]].astype(np.float64)
    rise_m = near_m - heights[far[is_inside, 0], far[is_inside, 1]]
    rise_m = rise_m[np.isfinite(rise_m)]
    if rise_m.size < _SIDES // 2:
        return math.nan
    return float(np.degrees(np.mean(np.arctan(rise_m / APPROACH_M))))


def _edge_places(on: PieceGround, count: int) -> np.ndarray:
    """The piece's farthest cells on even sides of its middle, int64 of shape (count, 2)."""
    cells = on.piece.cells
    out = cells - cells.mean(axis=0)
    turns = 2.0 * np.pi * np.arange(count) / count
    ahead = out @ np.stack((-np.cos(turns), np.sin(turns)))
    return np.asarray(cells[np.argmax(ahead, axis=0)])


def view_frac(on: PieceGround) -> float:
    """Share of the ground within 300 m of the piece that is seen from its edge; NaN where little of it is known.

    Six look out from the edge; a cell counts by the most that one of them sees of it.
    """
    cell_m = on.ground.grid.ground_cell_m
    window = _window(on, cell_m)
    is_piece: MaskArray = np.zeros(window.shape, bool)
    is_piece[on.piece.cells[:, 0] - window.top, on.piece.cells[:, 1] - window.left] = True
    away_m = ndimage.distance_transform_edt(~is_piece) * cell_m
    is_near = (away_m > 0.0) & (away_m <= VIEW_M)
    is_near[: window.known_rows.start] = is_near[window.known_rows.stop :] = False
    is_asked = is_near & np.isfinite(window.cut(on.elevation_m, np.nan))
    if np.count_nonzero(is_asked) < 0.5 * np.count_nonzero(is_near):
        return math.nan
    return float(np.mean(_most_seen(on, window, _edge_places(on, _LOOKOUTS), cell_m)[is_asked]))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Window:
    """The ground within sight of a piece: rows and columns of the whole, which may begin above its first row.

    Attributes
    ----------
    top, left : int
    shape : (rows, cols)
    known_rows : slice
        Of the window: those that lie on the ground.
    """

    top: int
    left: int
    shape: tuple[int, int]
    known_rows: slice

    def cut(self, layer: npt.NDArray[Any], beyond: object) -> npt.NDArray[Any]:
        """A layer's values, with another in rows that lie off the ground."""
        held = np.full(self.shape, beyond, layer.dtype)
        rows = slice(self.top + self.known_rows.start, self.top + self.known_rows.stop)
        held[self.known_rows] = layer[rows, self.left : self.left + self.shape[1]]
        return held


def _window(on: PieceGround, cell_m: float) -> _Window:
    reach = math.ceil(VIEW_M / cell_m) + 2
    low, high = on.piece.cells.min(axis=0), on.piece.cells.max(axis=0) + 1
    rows, cols = on.ground.grid.shape
    top, past = int(low[0]) - reach, int(high[0]) + reach
    left, right = max(int(low[1]) - reach, 0), min(int(high[1]) + reach, cols)
    known = slice(max(-top, 0), min(past, rows) - top)
    return _Window(top=top, left=left, shape=(past - top, right - left), known_rows=known)


def _most_seen(on: PieceGround, window: _Window, places: npt.NDArray[np.int64], cell_m: float) -> FloatArray:
    """The most that one of some places sees of each cell of a window, 0-1.

    As many copies of the window as there are places lie one below the other, with one looking out in each, so that all
    are read at once: each looks less far than its copy's upper and lower edge, so none sees into another's.
    """
    grid, whole = on.ground.grid, on.ground
    count, (rows, cols) = len(places), window.shape
    row_m = grid.north_m - (window.top + rows / 2.0) * grid.cell_m  # all copies about the window's own middle
    part = Grid(
        crs=grid.crs, west_m=grid.west_m + window.left * grid.cell_m, north_m=row_m + count * rows / 2.0 * grid.cell_m,
        cell_m=grid.cell_m, rows=count * rows, cols=cols,
    )  # fmt: skip

    def cut(layer: Any, beyond: object) -> Any:
        return None if layer is None else np.tile(window.cut(layer, beyond), (count, 1))

    copies = replace(
        whole,
        grid=part,
        elevation_m=cut(on.elevation_m, np.nan),
        cover_index=cut(whole.cover_index, NOT_KNOWN),
        canopy_height_m=cut(whole.canopy_height_m, np.nan),
        is_stream=cut(whole.is_stream, False),
        is_track=cut(whole.is_track, False),
        is_no_go=cut(whole.is_no_go, False),
        elevation_kind="terrain" if on.terrain.bare_elevation_m is not None else whole.elevation_kind,
    )
    eyes = [
        part.cell_centre_m(number * rows + int(row) - window.top, int(col) - window.left)
        for number, (row, col) in enumerate(places)
    ]
    rule = SightRule(eye_m=_EYE_M, target_m=_TARGET_M, reach_m=VIEW_M + cell_m)
    seen = read_sight(on.plan, copies, np.array(eyes), rule=rule).reshape(count, rows, cols)
    # Each counts for its share of all who stand on known ground, and sees its own copy only.
    standing = sum(bool(np.isfinite(on.elevation_m[row, col])) for row, col in places.tolist())
    most: FloatArray = np.fmax.reduce(seen, axis=0, initial=0.0) * np.float32(standing)
    return most
