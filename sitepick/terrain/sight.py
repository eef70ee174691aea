"""What can be seen from where other people pass: who stands on a track, and which ground do they look over.

Not a promise of being hidden: smoke, light, tracks in the snow and noise give a camp away past any trees.
"""

from __future__ import annotations

import math
import threading
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from sitepick.grid import DoubleArray, FloatArray
from sitepick.ground.model import NOT_KNOWN, Ground
from sitepick.plan.model import Plan
from sitepick.terrain import _kernels_sight
from sitepick.terrain.horizon import DROP_PER_M2
from sitepick.terrain.lookers import Lookers, lookers_at, who_looks
from sitepick.terrain.stand import evergreen_frac, tree_height_m
from sitepick.work import Watch, run_row_blocks

LEAST_RIM = 250  # cells: on small ground rays lie closer than one a cell of its rim, and tell more
RAYS_AT_ONCE = 256  # between two looks at whether to stop
SEEN_WHOLE = 1 << 31  # of a place that all see; shares of it are whole numbers, so that their sum hangs on no order

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
        Height of the eyes over the ground; a person who stands. The plan's observers have their own.
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
        What it says of forest of unknown leaf type, its route and its observers.
    ground : Ground
    observers_m : float64 array of shape (n, 2), optional
        Where they stand, ``(east_m, north_m)``, each counting alike; left out: along the mapped tracks and roads,
        along the route, and the plan's marked observers, as `lookers.who_looks` tells and weighs them.
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
    lookers = (
        who_looks(plan, ground, rule.eye_m) if observers_m is None else lookers_at(ground, observers_m, rule.eye_m)
    )
    if not len(lookers.cell):
        return np.full(grid.shape, np.nan, np.float32)
    reach = math.ceil(rule.reach_m / grid.ground_cell_m)
    eye_rows = lookers.cell[:, 0]
    rows = range(max(0, int(eye_rows.min()) - reach), min(grid.rows, int(eye_rows.max()) + reach + 1))
    layers = _sight_layers(plan, ground, rows, watch)
    tops = _tops_of_squares(layers, rows, watch)
    counts = _counts_of_looks(lookers)
    numbers = np.empty((len(counts), 6))
    numbers[:, 0], numbers[:, 1], numbers[:, 2] = grid.ground_cell_m, lookers.eye_m, rule.target_m
    numbers[:, 3], numbers[:, 4], numbers[:, 5] = rule.drop_per_m2, rule.reach_m, counts
    parts = _parts_of_looks(lookers, reach, grid.shape)
    totals: dict[int, CountArray] = {}  # of each thread

    def block(first: int, last: int) -> None:
        thread = threading.get_ident()
        if thread not in totals:
            totals[thread] = np.zeros(grid.shape, np.uint32)
        for one, rim, side, ray in parts[first:last]:
            past, total = min(ray + RAYS_AT_ONCE, 2 * rim), totals[thread].reshape(-1)
            _kernels_sight.sight_rays(layers, tops, lookers.cell[one], numbers[one], rim, side, total, ray, past)

    run_row_blocks(block, len(parts), watch=watch, step="sight from tracks, route and observers", block_rows=1)
    np.add.at(next(iter(totals.values())), tuple(lookers.cell.T), counts)
    return _share_of_looks(list(totals.values()), int(counts.sum()), ground, watch)


def _tops_of_squares(
    layers: tuple[FloatArray, FloatArray, FloatArray], rows: range, watch: Watch
) -> tuple[FloatArray, FloatArray]:
    """Highest ground and trees of each square of cells; of those outside of some rows nothing is asked."""
    side = _kernels_sight.TILE
    shape = tuple(-(-size // side) for size in layers[0].shape)
    tops = np.full(shape, -np.inf, np.float32), np.zeros(shape, np.float32)
    start = rows.start // side

    def block(first: int, last: int) -> None:
        _kernels_sight.top_rows(layers[0], layers[1], *tops, start + first, start + last)

    run_row_blocks(
        block, -(-rows.stop // side) - start, watch=watch, step="highest ground before the eyes", block_rows=8
    )
    return tops


def _counts_of_looks(lookers: Lookers) -> CountArray:
    """What each looker adds to a place that they see."""
    return np.rint(lookers.share * SEEN_WHOLE).astype(np.uint32)


def _parts_of_looks(lookers: Lookers, reach: int, shape: tuple[int, int]) -> list[tuple[int, int, int, int]]:
    """Looker, cells from it to the rim, side and first ray, of some rays at once; no rim lies needlessly far."""
    parts = []
    for number, (row, col) in enumerate(lookers.cell.tolist()):
        rim = max(LEAST_RIM, min(reach, max(row, shape[0] - 1 - row, col, shape[1] - 1 - col)))
        parts += [(number, rim, side, first) for side in range(4) for first in range(0, 2 * rim, RAYS_AT_ONCE)]
    return parts


def _share_of_looks(totals: list[CountArray], whole: int, ground: Ground, watch: Watch) -> FloatArray:
    share = np.empty(ground.grid.shape, np.float32)

    def block(first: int, last: int) -> None:
        for other in totals[1:]:
            totals[0][first:last] += other[first:last]
        _kernels_sight.share_rows(totals[0], whole, ground.elevation_m, share, first, last)

    run_row_blocks(block, ground.grid.shape, watch=watch, step="sight from tracks, route and observers")
    return share


def _sight_layers(plan: Plan, ground: Ground, rows: range, watch: Watch) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Height of the ground and of the trees on it, and the share of sight that they take by metre; in some rows only.

    What lies beyond them is left as it came, since nobody looks there.
    """
    typical_m, hiding = _trees_by_class(plan, ground)
    trees_m, loss_by_m = np.zeros(ground.grid.shape, np.float32), np.zeros(ground.grid.shape, np.float32)
    elevation_m = np.ascontiguousarray(ground.elevation_m)
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
            trees_m[part] = height_m
            loss_by_m[part] = np.where(height_m > 0.0, hiding[cover], np.float32(0.0))
            if is_surface:
                elevation_m[part] -= height_m

    run_row_blocks(block, (len(rows), ground.grid.cols), watch=watch, step="trees in the way of sight")
    return elevation_m, trees_m, loss_by_m


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
