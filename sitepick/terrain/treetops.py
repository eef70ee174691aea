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
from sitepick.terrain.stand import LEAST_DENSITY_FRAC, LEAST_HEIGHT_M, tree_height_m
from sitepick.work import Watch

EDGE_COUNT_MIN = 60  # edges that it takes to believe their step; fewer leave what is usual for the cover
SMOOTH_M = 30.0  # side of the square that heights under trees and at their edges are averaged over
_MOST_FRAC = 0.5
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
    watch.tick("trees off the heights")
    height_m = tree_height_m(ground)
    reach = max(1, round(ground.source_cell_m / ground.grid.ground_cell_m))
    is_wooded: MaskArray = (height_m >= LEAST_HEIGHT_M) & (ground.share("canopy_frac") >= LEAST_DENSITY_FRAC)
    is_open: MaskArray = ~is_wooded & (height_m < 1.0) & (ground.share("water_frac") <= _MOST_FRAC)
    is_edge = _near(is_wooded, reach) & _near(~is_wooded & (ground.cover_index != NOT_KNOWN), reach)
    steps = _tree_steps(ground, height_m, is_wooded, is_open, reach)
    watch.tick("trees off the heights")
    frac = np.zeros(len(ground.legend.classes) + 1, np.float32)
    for index, step in steps.items():
        frac[index] = step.height_frac
    above_m = _blurred(np.where(is_wooded, frac[ground.cover_index] * height_m, np.float32(0.0)), reach)
    bare_m = _smoothed(ground.elevation_m - above_m, is_wooded | is_edge, ground.grid.ground_cell_m)
    return BareGround(
        ground=replace(ground, elevation_m=bare_m),
        is_edge=is_edge,
        is_under_trees=is_wooded,
        cautions=(_caution(tuple(steps.values()), is_edge),),
    )


def _near(is_there: MaskArray, reach: int) -> MaskArray:
    near: MaskArray = ndimage.maximum_filter(is_there.view(np.uint8), 2 * reach + 1, mode="constant") > 0
    return near


def _tree_steps(
    ground: Ground, height_m: FloatArray, is_wooded: MaskArray, is_open: MaskArray, reach: int
) -> dict[int, TreeStep]:
    """What each kind of forest on the map lifts the heights by."""
    kind = np.where(is_wooded, ground.cover_index, np.int16(NOT_KNOWN))
    measured = [
        _steps_along_rows(turned(ground.elevation_m), turned(kind), turned(height_m), turned(is_open), reach)
        for turned in _FOUR_WAYS
    ]
    kinds, steps_m, heights_m = (np.concatenate(column) for column in zip(*measured, strict=True))
    steps: dict[int, TreeStep] = {}
    for index in np.unique(kind[is_wooded]).tolist():
        cover, is_kind = ground.legend.classes[index], kinds == index
        mean_m = float(np.mean(height_m[kind == index], dtype=np.float64))
        is_measured = int(np.count_nonzero(is_kind)) >= EDGE_COUNT_MIN
        height_frac = cover.canopy_frac
        if is_measured:
            height_frac = float(np.median(steps_m[is_kind]) / np.median(heights_m[is_kind]))
        height_frac = min(max(height_frac, 0.0), 1.0)
        steps[index] = TreeStep(
            name=cover.name, height_frac=height_frac, step_m=height_frac * mean_m, is_measured=is_measured
        )
    return steps


def _steps_along_rows(
    elevation_m: FloatArray, kind: IndexArray, height_m: FloatArray, is_open: MaskArray, reach: int
) -> tuple[IndexArray, FloatArray, FloatArray]:
    """Kind, step and tree height at edges with forest to the west and open ground to the east of them."""
    rows, cols = np.nonzero((kind[:, :-1] != NOT_KNOWN) & is_open[:, 1:])
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


def _blurred(above_m: FloatArray, reach: int) -> FloatArray:
    """As a source of wider cells shows it: the mean of each of its cells, and straight lines between their middles."""
    if reach == 1:
        return above_m
    side = 2 * (reach // 2) + 1
    blurred = above_m
    for _ in range(3):  # a mean, and a triangle, which is two of them
        blurred = ndimage.uniform_filter(blurred, side, mode="nearest")
    return blurred


def _smoothed(elevation_m: FloatArray, is_rough: MaskArray, cell_m: float) -> FloatArray:
    """Averaged over a square where the ground is rough and the whole square is known."""
    side = 2 * max(1, round((SMOOTH_M / cell_m - 1.0) / 2.0)) + 1
    is_known = np.isfinite(elevation_m)
    is_whole = ndimage.binary_erosion(is_known, np.ones((side, side), bool))
    base_m = float(np.min(elevation_m, where=is_known, initial=np.inf)) if is_known.any() else 0.0
    mean_m = ndimage.uniform_filter(np.nan_to_num(elevation_m - base_m), side, mode="nearest") + np.float32(base_m)
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
        f"{float(np.mean(is_edge)):.0%} of the map, were averaged: slopes there and in small clearings may still be "
        "false. Look at the slope on the ground.",
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
