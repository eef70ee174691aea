"""Heights that follow the tree tops, brought down to the ground before slopes are read off them.

A forest's edge in such heights is a bank that isn't there, and its roof is rough where the ground is smooth.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import numpy.typing as npt
from scipy import ndimage

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray
from sitepick.ground.model import NOT_KNOWN, Ground, IndexArray
from sitepick.terrain.margin import extreme_around, with_margin
from sitepick.terrain.stand import LEAST_DENSITY_FRAC, LEAST_HEIGHT_M, by_class, canopy_frac, tree_height_m
from sitepick.work import Watch, each_block, run_row_blocks

EDGE_COUNT_MIN = 60  # edges that it takes to believe their step; fewer leave what is usual for the cover
SMOOTH_M = 30.0  # side of the square that heights under trees and at their edges are averaged over
_MOST_FRAC = 0.5
# As a source of wider cells shows it: the mean of each of its cells, and straight lines between their middles,
# which is a triangle, or two means.
_BLUR_COUNT = 3
# So that the west of a layer is each of its sides in turn.
_FOUR_WAYS: tuple[Callable[[npt.NDArray[Any]], npt.NDArray[Any]], ...] = (
    np.asarray, np.fliplr, np.transpose, lambda layer: np.fliplr(layer.T),
)  # fmt: skip

_PlaceArray = npt.NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class TreeStep:
    """How far the heights over one kind of forest stand above the ground.

    Attributes
    ----------
    name : str
        The cover's.
    height_frac : float
        Step by the height of the trees, 0-1.
    step_m : float
        Mean over the map.
    is_measured : bool
        From the heights on both sides of its edges; else what is usual for the cover.
    """

    name: str
    height_frac: float
    step_m: float
    is_measured: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class BareGround:
    """Ground with the trees taken off its heights.

    Attributes
    ----------
    ground : Ground
        The same where its heights follow the ground already, or it isn't known what they follow.
    is_edge : bool, of the grid's shape
        Cells within one cell of the source of a forest's edge.
    is_under_trees : bool, of the grid's shape
        Cells that trees were taken off.
    cautions : tuple of Caution
    """

    ground: Ground
    is_edge: MaskArray
    is_under_trees: MaskArray
    cautions: tuple[Caution, ...]


def bare_ground(ground: Ground, *, watch: Watch) -> BareGround:
    """Take the trees off heights that follow the tree tops.

    Parameters
    ----------
    ground : Ground
    watch : Watch

    Returns
    -------
    BareGround

    Notes
    -----
    Such heights run part of the way up the crowns, how far differs by source and forest. So the step is measured:
    at every straight edge of a forest the ground inside and the ground outside are each drawn on to the edge as a
    line, and the median of their differences counts for the cover. It is taken off in proportion to the
    trees' height, blurred as the source blurs it. What is left under trees and at their edges is averaged
    over 30 m, which leaves planes as they are.
    """
    nothing = np.broadcast_to(np.False_, ground.grid.shape)
    if ground.elevation_kind != "surface":
        return BareGround(ground=ground, is_edge=nothing, is_under_trees=nothing, cautions=_untouched(ground))
    reach = max(1, round(ground.source_cell_m / ground.grid.ground_cell_m))
    steps = _tree_steps(ground, reach, watch)
    height_frac = np.zeros(len(ground.legend.classes) + 1, np.float32)
    for index, step in steps.items():
        height_frac[index] = step.height_frac
    blur = reach // 2 if reach > 1 else 0
    smooth = max(1, round((SMOOTH_M / ground.grid.ground_cell_m - 1.0) / 2.0))
    bare_m = np.empty(ground.grid.shape, np.float32)
    is_edge, is_under_trees = np.empty(ground.grid.shape, bool), np.empty(ground.grid.shape, bool)

    def block(first: int, last: int) -> None:
        trees = _Trees.around(ground, first, last, max(reach, _BLUR_COUNT * blur + smooth))
        is_edge_near = _near(trees.is_wooded, reach) & _near(~trees.is_wooded & trees.is_known, reach)
        above_m = np.where(trees.is_wooded, height_frac[trees.kind] * trees.height_m, np.float32(0.0))
        for _ in range(_BLUR_COUNT if blur else 0):
            above_m = ndimage.uniform_filter(above_m, 2 * blur + 1, mode="nearest")
        smoothed_m = _smoothed(trees.elevation_m - above_m, trees.is_wooded | is_edge_near, smooth)
        bare_m[first:last] = smoothed_m[trees.own]
        is_edge[first:last], is_under_trees[first:last] = is_edge_near[trees.own], trees.is_wooded[trees.own]

    run_row_blocks(block, ground.grid.shape, watch=watch, step="trees off the heights")
    return BareGround(
        ground=replace(ground, elevation_m=bare_m),
        is_edge=is_edge,
        is_under_trees=is_under_trees,
        cautions=(_caution(tuple(steps.values()), is_edge),),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Trees:
    """Some rows of the ground, with those around them, as far as it has any."""

    own: slice  # the rows that were asked for
    elevation_m: FloatArray
    kind: IndexArray
    height_m: FloatArray
    is_known: MaskArray
    is_wooded: MaskArray
    is_open: MaskArray

    @classmethod
    def around(cls, ground: Ground, first: int, last: int, reach: int) -> _Trees:
        top = max(0, first - reach)
        rows = slice(top, last + reach)
        kind, height_m = ground.cover_index[rows], tree_height_m(ground, rows)
        is_wooded = (height_m >= LEAST_HEIGHT_M) & (canopy_frac(ground, rows) >= LEAST_DENSITY_FRAC)
        is_water = by_class(ground, "water_frac", rows) > _MOST_FRAC
        return cls(
            own=slice(first - top, last - top),
            elevation_m=ground.elevation_m[rows],
            kind=kind,
            height_m=height_m,
            is_known=kind != NOT_KNOWN,
            is_wooded=is_wooded,
            is_open=~is_wooded & (height_m < 1.0) & ~is_water,
        )


def _near(is_there: MaskArray, reach: int) -> MaskArray:
    framed = with_margin(is_there, 0, is_there.shape[0], reach, nothing=False)
    return extreme_around(framed, reach, np.maximum)


def _tree_steps(ground: Ground, reach: int, watch: Watch) -> dict[int, TreeStep]:
    """What each kind of forest on the map lifts the heights by."""
    class_count = len(ground.legend.classes)
    cell_count, height_sum_m = np.zeros(class_count, np.int64), np.zeros(class_count)
    measured = []
    for first, last in each_block(ground.grid.shape, watch=watch, step="trees off the heights"):
        trees = _Trees.around(ground, first, last, 2 * reach + 1)
        is_wooded, kind = trees.is_wooded[trees.own], trees.kind[trees.own]
        cell_count += np.bincount(kind[is_wooded], minlength=class_count)
        heights_m = trees.height_m[trees.own][is_wooded]
        height_sum_m += np.bincount(kind[is_wooded], weights=heights_m, minlength=class_count)
        measured += [_steps_along_rows(trees, turned, reach) for turned in _FOUR_WAYS]
    kinds, steps_m, heights_m = (np.concatenate(column) for column in zip(*measured, strict=True))
    steps: dict[int, TreeStep] = {}
    for index in np.flatnonzero(cell_count).tolist():
        cover, is_kind = ground.legend.classes[index], kinds == index
        is_measured = int(np.count_nonzero(is_kind)) >= EDGE_COUNT_MIN
        height_frac = cover.canopy_frac
        if is_measured:
            height_frac = float(np.median(steps_m[is_kind]) / np.median(heights_m[is_kind]))
        height_frac = min(max(height_frac, 0.0), 1.0)
        mean_m = float(height_sum_m[index] / cell_count[index])
        steps[index] = TreeStep(
            name=cover.name, height_frac=height_frac, step_m=height_frac * mean_m, is_measured=is_measured
        )
    return steps


def _steps_along_rows(
    trees: _Trees, turned: Callable[[npt.NDArray[Any]], npt.NDArray[Any]], reach: int
) -> tuple[IndexArray, FloatArray, FloatArray]:
    """Kind, step and tree height at edges with forest to the west and open ground to the east of them, once turned."""
    elevation_m, height_m, is_open = turned(trees.elevation_m), turned(trees.height_m), turned(trees.is_open)
    kind = turned(np.where(trees.is_wooded, trees.kind, np.int16(NOT_KNOWN)))
    is_own = np.zeros(trees.kind.shape, bool)
    is_own[trees.own] = True
    rows, cols = np.nonzero((kind[:, :-1] != NOT_KNOWN) & is_open[:, 1:] & turned(is_own)[:, :-1])
    is_whole = (cols >= 2 * reach) & (cols + 1 + 2 * reach < kind.shape[1])
    rows, cols = rows[is_whole], cols[is_whole]
    is_straight = np.ones(rows.shape, bool)
    for away in range(1, 2 * reach + 1):
        is_straight &= (kind[rows, cols - away] == kind[rows, cols]) & is_open[rows, cols + 1 + away]
    rows, cols = rows[is_straight], cols[is_straight]

    def at_edge(near: _PlaceArray, far: _PlaceArray) -> FloatArray:
        near_m, far_m = elevation_m[rows, near], elevation_m[rows, far]
        drawn: FloatArray = near_m + (near_m - far_m) * np.float32((reach + 0.5) / reach)
        return drawn

    # The cells next to the edge, where the source blurs it, take no part.
    steps_m = at_edge(cols - reach, cols - 2 * reach) - at_edge(cols + 1 + reach, cols + 1 + 2 * reach)
    is_known = np.isfinite(steps_m)
    return kind[rows, cols][is_known], steps_m[is_known], height_m[rows, cols][is_known]


def _smoothed(elevation_m: FloatArray, is_rough: MaskArray, reach: int) -> FloatArray:
    """Averaged over a square where the ground is rough and the whole square is known."""
    is_known = np.isfinite(elevation_m)
    is_whole = ~_near(~is_known, reach)
    for edge in (np.s_[:reach], np.s_[-reach:], np.s_[:, :reach], np.s_[:, -reach:]):
        is_whole[edge] = False
    base_m = float(np.min(elevation_m, where=is_known, initial=np.inf)) if is_known.any() else 0.0
    above_m = np.nan_to_num(elevation_m - np.float32(base_m))
    mean_m = ndimage.uniform_filter(above_m, 2 * reach + 1, mode="nearest") + np.float32(base_m)
    return np.where(is_rough & is_whole, mean_m, elevation_m)


def _caution(steps: tuple[TreeStep, ...], is_edge: MaskArray) -> Caution:
    opening = "The heights follow the tree tops, not the ground"
    if not steps:
        return Caution(
            kind="data",
            text=f"{opening}, and no forest is mapped to take off them: forest edges may show as banks that aren't "
            "there. Look at the slope on the ground.",
        )
    told = " and ".join(
        f"{step.step_m:.0f} m off {step.name}, {'by the step at its edges' if step.is_measured else 'as is usual'}"
        for step in steps
    )
    return Caution(
        kind="data",
        text=f"{opening}. The trees were taken off ({told}) and {np.count_nonzero(is_edge)} cells at forest edges, "
        f"{100 * float(np.mean(is_edge)):.0f} % of the map, were averaged: slopes there and in small clearings may "
        "still be false. Look at the slope on the ground.",
    )


def _untouched(ground: Ground) -> tuple[Caution, ...]:
    if ground.elevation_kind == "terrain":
        return ()
    return (
        Caution(
            kind="data",
            text="It is not known whether the heights follow the ground or the tree tops: slopes at forest edges may "
            "be false, small clearings may look like pits, and shelter by trees may count twice. Look at the slope "
            "on the ground, and say which it is, if you know.",
        ),
    )
