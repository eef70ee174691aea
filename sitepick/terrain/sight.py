"""What can be seen from where other people pass: who stands on a track, and which ground do they look over.

Not a promise of being hidden: smoke, light, tracks in the snow and noise give a camp away past any trees.
"""

from __future__ import annotations

import math
import threading
from collections.abc import Iterable
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.plan.model import Plan
from sitepick.terrain import _kernels_sight
from sitepick.terrain.horizon import DROP_PER_M2
from sitepick.terrain.stand import evergreen_frac, tree_height_m
from sitepick.work import Watch, run_row_blocks

LEAST_RIM = 250  # cells: on small ground rays lie closer than one a cell of its rim, and tell more
RAYS_AT_ONCE = 256  # between two looks at whether to stop
OBSERVER_STEP_M = 250.0  # ours: between two who look from a track

# Sight among trees falls as exp(-distance / V). Common practice: V is 30-60 m in dense evergreens and
# 80-150 m in open pine; bare leaf-shedding trees hide next to nothing. V = 38 m over the share of the ground
# under evergreens gives 45 m at 0.85 and 115 m at 0.33.
EVERGREEN_SIGHT_M = 38.0
BARE_HIDES_FRAC = 0.05  # ours: what a bare crown hides against a green one


@dataclass(frozen=True, slots=True, kw_only=True)
class SightRule:
    """Who looks, at what, how far.

    Attributes
    ----------
    eye_m : float
        Height of the eyes over the ground; a person who stands.
    target_m : float
        Height of what is looked for; the ridge of a tent.
    reach_m : float
        Nothing is made out farther away.
    drop_per_m2 : float
        What falls away below level, by distance squared: the earth's curve less refraction.
    """

    eye_m: float = 1.7
    target_m: float = 2.5
    reach_m: float = 5000.0
    drop_per_m2: float = DROP_PER_M2

    def __post_init__(self) -> None:
        if not (self.reach_m > 0.0 and self.eye_m >= 0.0 and self.target_m >= 0.0):
            raise ValueError(f"eyes and target stand on the ground, and sight reaches somewhere: {self}")


CellsArray = npt.NDArray[np.int64]
CountArray = npt.NDArray[np.uint32]


def read_sight(
    plan: Plan,
    ground: Ground,
    observers_m: DoubleArray | None = None,
    *,
    rule: SightRule | None = None,
    watch: Watch | None = None,
) -> FloatArray:
    """Share of the observers who see a tent at each cell.

    Parameters
    ----------
    plan : Plan
        What it says of forest of unknown leaf type.
    ground : Ground
    observers_m : float64 array of shape (n, 2), optional
        Where they stand, ``(east_m, north_m)``; left out: along the mapped tracks and roads, `observers_on_tracks`.
        Those outside the ground, or on ground of unknown height, see nothing and don't count.
    rule : SightRule, optional
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    ndarray of the grid's shape, float32
        0-1; part of a share where trees let part of the looks through. NaN where the height isn't known,
        and everywhere if there is nobody to look.

    Raises
    ------
    work.JobStopped
        The watch was stopped.

    Notes
    -----
    Rays run from the observer to the rim of a square, one or more a cell of it; heights are interpolated on them, and
    each cell is judged by the height of sight between the two rays beside it. Trees are met where the nearer
    ray runs below their tops. What isn't known (height, cover, leaf type) hides nothing, so that ground looks seen
    rather than hidden. Heights that follow the tree tops are brought down by the height of the trees; those of unknown
    kind are taken as the ground.
    """
    watch, rule = watch or Watch(), rule or SightRule()
    grid = ground.grid
    eyes = _observer_cells(ground, observers_on_tracks(ground) if observers_m is None else observers_m)
    if not len(eyes):
        return np.full(grid.shape, np.nan, np.float32)
    reach = math.ceil(rule.reach_m / grid.ground_cell_m)
    rows = range(max(0, int(eyes[:, 0].min()) - reach), min(grid.rows, int(eyes[:, 0].max()) + reach + 1))
    layers, has_trees = _sight_layers(plan, ground, rows, watch)
    numbers = np.array(
        [grid.ground_cell_m, rule.eye_m, rule.target_m, rule.drop_per_m2, rule.reach_m, float(has_trees)]
    )
    parts = _parts_of_looks(eyes, reach, grid.shape)
    totals: dict[int, CountArray] = {}  # of each thread; whole numbers: the sum doesn't hang on the order

    def block(first: int, last: int) -> None:
        thread = threading.get_ident()
        if thread not in totals:
            totals[thread] = np.zeros(grid.shape, np.uint32)
        for eye, rim, side, ray in parts[first:last]:
            past = min(ray + RAYS_AT_ONCE, 2 * rim)
            _kernels_sight.sight_rays(layers, eyes[eye], numbers, rim, side, totals[thread].reshape(-1), ray, past)

    run_row_blocks(block, len(parts), watch=watch, step="sight from tracks and roads", block_rows=1)
    return _share_of_looks(list(totals.values()), eyes, ground, watch)


def _parts_of_looks(eyes: CellsArray, reach: int, shape: tuple[int, int]) -> list[tuple[int, int, int, int]]:
    """Eye, cells from it to the rim, side and first ray, of some rays at once; no rim lies needlessly far."""
    parts = []
    for number, (row, col) in enumerate(eyes.tolist()):
        rim = max(LEAST_RIM, min(reach, max(row, shape[0] - 1 - row, col, shape[1] - 1 - col)))
        parts += [(number, rim, side, first) for side in range(4) for first in range(0, 2 * rim, RAYS_AT_ONCE)]
    return parts


def _share_of_looks(totals: list[CountArray], eyes: CellsArray, ground: Ground, watch: Watch) -> FloatArray:
    share = np.empty(ground.grid.shape, np.float32)
    whole = np.float32(len(eyes) * _kernels_sight.SEEN_WHOLE)
    totals[0][eyes[:, 0], eyes[:, 1]] += _kernels_sight.SEEN_WHOLE

    def block(first: int, last: int) -> None:
        for other in totals[1:]:
            totals[0][first:last] += other[first:last]
        np.divide(totals[0][first:last], whole, out=share[first:last], dtype=np.float32, casting="unsafe")
        share[first:last][np.isnan(ground.elevation_m[first:last])] = np.nan

    run_row_blocks(block, ground.grid.rows, watch=watch, step="sight from tracks and roads")
    return share


def observers_on_tracks(ground: Ground) -> DoubleArray:
    """Places along the mapped tracks and roads, every 250 m, that somebody may look from.

    Parameters
    ----------
    ground : Ground

    Returns
    -------
    float64 array of shape (n, 2)
        ``(east_m, north_m)``; none where no track is mapped.
    """
    scale = ground.grid.cell_m / ground.grid.ground_cell_m
    return places_along(ground.track_lines, OBSERVER_STEP_M * scale)


def places_along(lines: Iterable[DoubleArray], step_m: float) -> DoubleArray:
    """Even places along lines, both ends included, no farther apart than a step.

    Parameters
    ----------
    lines : iterable of float64 arrays of shape (n, 2)
        ``(east_m, north_m)``.
    step_m : float
        In the lines' own metres, > 0.

    Returns
    -------
    float64 array of shape (n, 2)
    """
    places = [np.empty((0, 2))]
    for line in lines:
        way_m = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
        at_m = np.linspace(0.0, way_m[-1], 1 + math.ceil(way_m[-1] / step_m - 1e-9))
        places.append(np.column_stack([np.interp(at_m, way_m, line[:, axis]) for axis in (0, 1)]))
    return np.concatenate(places)


def _observer_cells(ground: Ground, observers_m: DoubleArray) -> CellsArray:
    """Cells that somebody looks from, each once: where tracks meet, nobody counts twice."""
    grid = ground.grid
    inside = [grid.cell_at(*place) for place in observers_m.tolist() if grid.contains(*place)]
    known = [cell for cell in inside if not np.isnan(ground.elevation_m[cell])]
    return np.array(sorted(set(known)), np.int64).reshape(-1, 2)


def _sight_layers(
    plan: Plan, ground: Ground, rows: range, watch: Watch
) -> tuple[tuple[FloatArray, FloatArray, FloatArray], bool]:
    """Height of the ground and of the trees on it, and the share of sight that they take by metre; in some rows only.

    What lies beyond them is left as it came, since nobody looks there. And whether there is any tree.
    """
    typical_m, hiding = _trees_by_class(plan, ground)
    trees_m, loss_by_m = np.zeros(ground.grid.shape, np.float32), np.zeros(ground.grid.shape, np.float32)
    elevation_m = np.ascontiguousarray(ground.elevation_m)
    wooded: list[int] = []
    is_surface = ground.elevation_kind == "surface"  # heights of the tree tops: people stand and tents are below them
    if is_surface:
        elevation_m = elevation_m.copy()

    def block(first: int, last: int) -> None:
        part = slice(rows.start + first, rows.start + last)
        cover = ground.cover_index[part]
        height_m = np.take(typical_m, cover, mode="wrap")  # the last for unknown cover, -1
        if ground.canopy_height_m is not None:
            measured_m = ground.canopy_height_m[part]
            height_m = np.where(np.isfinite(measured_m), measured_m, height_m)
        if height_m.any():  # else nothing is written, and no memory taken
            wooded.append(first)
            trees_m[part] = height_m
            loss_by_m[part] = np.where(height_m > 0.0, hiding[cover], np.float32(0.0))
            if is_surface:
                elevation_m[part] -= height_m

    run_row_blocks(block, len(rows), watch=watch, step="trees in the way of sight")
    return (elevation_m, trees_m, loss_by_m), bool(wooded)


def _trees_by_class(plan: Plan, ground: Ground) -> tuple[FloatArray, FloatArray]:
    """Typical height of trees and share of sight that they take by metre, by class of cover, of unknown cover last."""
    classes = np.append(np.arange(len(ground.legend.classes)), NOT_KNOWN).astype(ground.cover_index.dtype)[None]
    nothing = np.zeros(classes.shape, np.bool_)
    samples = replace(
        ground, grid=replace(ground.grid, rows=1, cols=classes.size), cover_index=classes, canopy_height_m=None,
        elevation_m=np.zeros(classes.shape, np.float32), is_stream=nothing, is_track=nothing, is_no_go=nothing,
    )  # fmt: skip
    canopy = samples.share("canopy_frac")
    green = np.nan_to_num(np.minimum(evergreen_frac(samples, plan.ground.evergreen_of_forest_frac), canopy))
    hiding = green + np.float32(BARE_HIDES_FRAC) * (np.nan_to_num(canopy) - green)
    return np.nan_to_num(tree_height_m(samples)[0]), hiding[0] / np.float32(EVERGREEN_SIGHT_M)
