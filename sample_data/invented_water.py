"""Ulvmark's water: lakes where the ground holds it, and a river and brooks that never run uphill. All invented."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy import ndimage
from scipy.spatial import cKDTree

from sample_data.invented_relief import (
    HOLLOWS,
    SIDE_M,
    START,
    Array,
    Mask,
    enlarged,
    flood,
    noise,
    places,
    thinned,
    upstream_km2,
)

STREAM_KM2 = 1.1


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stream:
    """Running water, from its source down.

    Attributes
    ----------
    points : ndarray of shape (n, 3)
        East and north in m on the grid, height of the water; about one cell apart.
    is_river : bool
        Wide enough for water cells of its own.
    """

    points: Array
    is_river: bool


def with_lakes(height: Array, cell_m: float) -> tuple[Array, Mask]:
    """Hollows filled level to their lip: with water where a lake is meant or high tarns lie deep, else with peat."""
    small, small_m, step = thinned(height, cell_m)
    filled, _, _ = flood(small)
    depth = filled - small
    labels, count = ndimage.label(depth > 0.2, np.ones((3, 3)))
    numbers = np.arange(1, count + 1)
    area = ndimage.sum_labels(np.ones_like(depth), labels, numbers) * small_m**2
    deepest = ndimage.maximum(depth, labels, numbers)
    level = np.floor(ndimage.maximum(filled, labels, numbers) * 8.0) / 8.0
    meant = np.zeros(count + 1, dtype=bool)
    for east_km, north_km, *_ in HOLLOWS:
        row, col = int((SIDE_M - north_km * 1000.0) / small_m), int(east_km * 1000.0 / small_m)
        meant[np.unique(labels[row - 6 : row + 7, col - 6 : col + 7])] = True
    is_tarn = (deepest > 2.2) & (level > 500.0) & (area > 14_000.0) & (area < 400_000.0)
    kept = np.concatenate(([False], is_tarn | (meant[1:] & (area > 8_000.0) & (deepest > 1.0))))
    wide = ndimage.grey_dilation(np.where(kept[labels], labels, 0), size=(5, 5))
    wide = wide.repeat(step, 0).repeat(step, 1)
    surface = np.concatenate(([-np.inf], level))[wide]
    is_lake = np.asarray(ndimage.binary_opening(height < surface, np.ones((2, 2))))
    touching, count = ndimage.label(is_lake)  # hollows that touch share one lake, at the lower level
    lowest = np.concatenate(([0.0], ndimage.minimum(surface, touching, np.arange(1, count + 1))))
    surface = lowest[touching]
    peat = ndimage.gaussian_filter(np.where(kept[labels], small, filled - 0.1), 0.8)
    height = np.maximum(height, np.where(is_lake, -np.inf, enlarged(peat, small_m, cell_m)))
    lakes = np.where(is_lake, surface, -np.inf)
    for cells in (1, 2, 3):  # a low bank all round
        height = np.maximum(height, ndimage.grey_dilation(lakes, size=2 * cells + 1) - 0.8 * (cells - 1))
    height = np.where(is_lake, surface, height)
    return height, is_lake


def stream_paths(height: Array, is_lake: Mask, cell_m: float) -> list[Array]:
    """Where water runs: paths of (east_m, north_m) on the grid, the river first, each to a lake or another path."""
    small, small_m, step = thinned(height, cell_m)
    lake = is_lake[::step, ::step]
    rough = noise(small.shape, small_m, (2.0 * small_m, 12.0 * small_m), 0.8, 50)
    _, order, below = flood(np.where(lake, small, small + 0.5 * rough))
    area = upstream_km2(order, below, small_m)
    cols = small.shape[1]
    east_km, north_km, *_ = HOLLOWS[0]  # the river is what leaves the great lake
    inlet = int((SIDE_M - north_km * 1000.0) / small_m) * cols + int(east_km * 1000.0 / small_m)
    sources = [inlet, *_sources(area, below, lake.ravel())]
    taken: set[int] = set()
    paths = []
    for source in sources:
        path = [source]
        while path[-1] not in taken and below[path[-1]] != path[-1]:
            taken.add(path[-1])
            path.append(int(below[path[-1]]))
        if len(path) * small_m > 350.0:
            cells = np.array(path)
            paths.append(np.column_stack([(cells % cols + 0.5) * small_m, SIDE_M - (cells // cols + 0.5) * small_m]))
    return paths


def _sources(area: Array, below: npt.NDArray[np.int64], lake: Mask) -> list[int]:
    """Cells where a stream begins, those of the longest streams first."""
    is_stream = (area > STREAM_KM2) & ~lake
    has_above = np.zeros(len(area), dtype=bool)
    has_above[below[is_stream]] = True
    heads = np.flatnonzero(is_stream & ~has_above)
    lengths = []
    for head in heads.tolist():
        cell, length = head, 0
        while below[cell] != cell:
            cell, length = int(below[cell]), length + 1
        lengths.append(length)
    return [int(head) for head in heads[np.argsort(-np.array(lengths), kind="stable")]]


def with_streams(
    height: Array, is_lake: Mask, paths: list[Array], cell_m: float
) -> tuple[Array, Mask, tuple[Stream, ...]]:
    """The ground with its running water cut in, the river's own cells, and the water as lines that never rise."""
    streams: list[Stream] = []
    for number, path in enumerate(paths):
        line = _wound(path, cell_m, wind_m=42.0 if number == 0 else 8.0, start=200 + number)
        if streams:
            line = _joined(line, is_lake, streams, cell_m)
        streams.append(Stream(points=_running_down(line, height, is_lake, cell_m, streams), is_river=number == 0))
    east, north = (place * 1000.0 for place in places(cell_m))
    spots = np.concatenate([stream.points for stream in streams[1:]])
    far, index = cKDTree(spots[:, :2]).query(np.column_stack([east.ravel(), north.ravel()]), distance_upper_bound=200.0)
    far, index = far.reshape(height.shape), np.minimum(index, len(spots) - 1).reshape(height.shape)
    water = spots[index, 2]
    bank = np.maximum(far - 5.0, 0.0)
    height = np.where((far < 200.0) & ~is_lake, np.minimum(height, water + 0.18 * bank + 0.004 * bank**2), height)
    height = np.where((far < 0.75 * cell_m) & ~is_lake, water, height)
    river = streams[0].points
    far, index = cKDTree(river[:, :2]).query(np.column_stack([east.ravel(), north.ravel()]), distance_upper_bound=420.0)
    far, index = np.minimum(far, 420.0).reshape(height.shape), np.minimum(index, len(river) - 1).reshape(height.shape)
    water, inside = river[index, 2], (far < 420.0) & ~is_lake
    width = 20.0 + 4.0 * noise(height.shape, cell_m, (80.0, 900.0), 1.2, 60)
    bank = np.maximum(far - width, 0.0)
    lowest = water + 0.4 + 0.004 * bank - 0.25 * np.maximum(bank - 200.0, 0.0)
    height = np.where(inside, np.clip(height, lowest, water + 0.8 + 0.11 * bank + 0.0008 * bank**2), height)
    is_river = (far < width) & ~is_lake
    height = np.where(is_river, water, height)
    lines = [*_outside(streams[0], is_lake, is_lake, cell_m)]
    brink = ndimage.binary_dilation(is_river, np.ones((3, 3)))
    for stream in streams[1:]:
        lines += _outside(stream, is_lake, brink, cell_m)
    return height, is_river, tuple(lines)


def _joined(line: Array, is_lake: Mask, above: list[Stream], cell_m: float) -> Array:
    """The line led on to the stream that it runs to, which may have wound aside."""
    end = line[-1]
    spots = np.concatenate([stream.points for stream in above])[:, :2]
    far, index = cKDTree(spots).query(end)
    on_rim = min(end.min(), (SIDE_M - end).min()) < 5.0 * cell_m
    row, col = _cells(end[None, :], is_lake, cell_m)
    if on_rim or is_lake[row[0], col[0]] or far < cell_m or far > 200.0:
        return line
    share = np.linspace(0.0, 1.0, int(far / cell_m) + 2)[1:, None]
    return np.concatenate([line, end + share * (spots[index] - end)])


def _cells(points: Array, mask: Mask, cell_m: float) -> tuple[npt.NDArray[np.int64], npt.NDArray[np.int64]]:
    """Rows and columns under points."""
    last = mask.shape[0] - 1
    row = np.clip(((SIDE_M - points[:, 1]) / cell_m).astype(np.int64), 0, last)
    return row, np.clip((points[:, 0] / cell_m).astype(np.int64), 0, last)


def _wound(path: Array, cell_m: float, *, wind_m: float, start: int) -> Array:
    """A path of cells as a winding line with a point about every cell; its ends stay."""
    smooth = ndimage.gaussian_filter1d(path, 2.2, axis=0, mode="nearest")
    rng = np.random.default_rng([START, start])
    aside = ndimage.gaussian_filter1d(rng.standard_normal(len(path)), 6.0)
    aside *= wind_m / max(float(aside.std()), 1e-9)
    heading = np.gradient(smooth, axis=0)
    heading /= np.maximum(np.hypot(heading[:, :1], heading[:, 1:]), 1e-9)
    ends = np.minimum(1.0, np.minimum(np.arange(len(path)), np.arange(len(path))[::-1]) / 10.0)
    line = smooth + (ends * aside)[:, None] * np.column_stack([-heading[:, 1], heading[:, 0]])
    line[0], line[-1] = path[0], path[-1]
    chain = np.concatenate(([0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))))
    even = np.linspace(0.0, chain[-1], max(2, int(chain[-1] / cell_m) + 1))
    return np.column_stack([np.interp(even, chain, line[:, axis]) for axis in (0, 1)])


def _running_down(line: Array, height: Array, is_lake: Mask, cell_m: float, above: list[Stream]) -> Array:
    """The line with the water's height, falling all the way to the water that it reaches."""
    spots = np.stack([(SIDE_M - line[:, 1]) / cell_m - 0.5, line[:, 0] / cell_m - 0.5])
    ground = ndimage.map_coordinates(height, spots, order=1, mode="nearest")
    row, col = np.clip(np.round(spots).astype(int), 0, height.shape[0] - 1)
    on_lake = is_lake[row, col]
    lake = height[row, col]
    least = np.where(on_lake, lake, -np.inf)
    if above:
        joined = np.concatenate([stream.points for stream in above])
        far, index = cKDTree(joined[:, :2]).query(line[-1])
        if far < 40.0 + cell_m:
            least[-1] = max(least[-1], joined[index, 2])
    least = np.maximum.accumulate(least[::-1])[::-1]
    water = np.minimum.accumulate(np.where(on_lake, lake, ground - (0.6 if above else 1.0)))
    return np.column_stack([line, np.maximum(water, least)])


def _outside(stream: Stream, is_lake: Mask, is_end: Mask, cell_m: float) -> list[Stream]:
    """The pieces of a stream between lakes, as far as the first cell of the water it ends in."""
    cells = _cells(stream.points, is_lake, cell_m)
    wet = np.flatnonzero(is_end[cells] & ~is_lake[cells])
    end = int(wet[0]) + 1 if wet.size else len(stream.points)
    labels, count = ndimage.label(~is_lake[cells][:end])
    pieces = [stream.points[:end][labels == number] for number in range(1, count + 1)]
    return [Stream(points=piece, is_river=stream.is_river) for piece in pieces if len(piece) > 4]
