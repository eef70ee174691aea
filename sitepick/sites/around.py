"""All-round defence: how the ground lies around a piece, and what is seen from its edge."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
from scipy import ndimage

from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.ground.model import Ground
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
    window, part = _window(on)
    grid = part.grid
    is_piece: MaskArray = np.zeros(grid.shape, bool)
    is_piece[on.piece.cells[:, 0] - window[0].start, on.piece.cells[:, 1] - window[1].start] = True
    away_m = ndimage.distance_transform_edt(~is_piece) * grid.ground_cell_m
    is_asked = (away_m > 0.0) & (away_m <= VIEW_M) & np.isfinite(part.elevation_m)
    if np.count_nonzero(is_asked) < 0.5 * np.count_nonzero((away_m > 0.0) & (away_m <= VIEW_M)):
        return math.nan
    rule = SightRule(eye_m=_EYE_M, target_m=_TARGET_M, reach_m=VIEW_M + grid.ground_cell_m)
    seen = np.zeros(grid.shape, np.float32)
    for row, col in _edge_places(on, _LOOKOUTS):
        place_m: DoubleArray = np.array([grid.cell_centre_m(int(row) - window[0].start, int(col) - window[1].start)])
        np.fmax(seen, read_sight(on.plan, part, place_m, rule=rule), out=seen)
    return float(np.mean(seen[is_asked]))


def _window(on: PieceGround) -> tuple[tuple[slice, slice], Ground]:
    """The ground within sight of the piece, on a grid of its own, and where it lies."""
    whole, grid = on.ground, on.ground.grid
    reach = math.ceil(VIEW_M / grid.ground_cell_m) + 2
    top, left = np.maximum(on.piece.cells.min(axis=0) - reach, 0)
    bottom, right = np.minimum(on.piece.cells.max(axis=0) + reach + 1, grid.shape)
    window = slice(int(top), int(bottom)), slice(int(left), int(right))
    part = Grid(
        crs=grid.crs, west_m=grid.west_m + left * grid.cell_m, north_m=grid.north_m - top * grid.cell_m,
        cell_m=grid.cell_m, rows=int(bottom - top), cols=int(right - left),
    )  # fmt: skip

    def cut(layer: Any) -> Any:
        return None if layer is None else np.ascontiguousarray(layer[window])

    return window, replace(
        whole,
        grid=part,
        elevation_m=cut(on.elevation_m),
        cover_index=cut(whole.cover_index),
        canopy_height_m=cut(whole.canopy_height_m),
        is_stream=cut(whole.is_stream),
        is_track=cut(whole.is_track),
        is_no_go=cut(whole.is_no_go),
        elevation_kind="terrain" if on.terrain.bare_elevation_m is not None else whole.elevation_kind,
    )
