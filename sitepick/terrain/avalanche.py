"""Which slopes can release an avalanche, and how far it reaches below them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.plan.avalanche import USUAL_LEVEL, AvalancheSettings
from sitepick.terrain import _kernels_flow
from sitepick.terrain.drainage import CellArray
from sitepick.terrain.margin import with_margin
from sitepick.terrain.parts import label_parts, part_sizes
from sitepick.terrain.stand import canopy_frac, tree_height_m
from sitepick.work import Watch, each_block, run_row_blocks

LOW_TREES_M = 3.0  # trees that the snow may bury hold nothing
COARSE_CELL_M = 15.0  # heights coarser than this flatten short steep banks

# What comes off the gentlest slope that can release, by the width of the source's cells: a coarse model
# flattens what is steep. Ours, on common practice of 28 degrees; widths with 5 % of slack.
_COARSE_OFF_DEG = ((10.5, 0.0), (31.5, 3.0), (math.inf, 6.0))
_LEAST_RELEASE_DEG, _LEAST_RUNOUT_DEG = 15.0, 8.0  # ours: no bulletin brings a limit below these
_LONG_AGO = 9
_REACH = "reach of avalanches"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Avalanche:
    """Avalanche ground; arrays of the grid's shape.

    Attributes
    ----------
    is_release, is_runout : bool
    angle_deg : float32
        Steepness of the line up to the release that a place lies below; on a release with none
        above it its own slope. NaN off avalanche ground.
    area_m2 : float32
        Area of that release. NaN off avalanche ground.
    cautions : tuple of Caution
    """

    is_release: MaskArray
    is_runout: MaskArray
    angle_deg: FloatArray
    area_m2: FloatArray
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class AvalancheLimits:
    """Angles that hold for the day and the heights.

    Attributes
    ----------
    release_deg, steepest_deg : float
        Slopes between them can release.
    runout_deg, path_deg : float
        Snow stops where the line up to its release is flatter, straight or along its way.
    """

    release_deg: float
    steepest_deg: float
    runout_deg: float
    path_deg: float


def limits_for(settings: AvalancheSettings, source_cell_m: float) -> AvalancheLimits:
    """Angles that hold for the day's bulletin and fresh snow, on heights of that cell width.

    Parameters
    ----------
    settings : AvalancheSettings
    source_cell_m : float

    Returns
    -------
    AvalancheLimits
        Never milder than the settings say: levels up to the usual one change nothing.
    """
    levels = settings.levels_above_usual
    coarse_off_deg = next(off_deg for width_m, off_deg in _COARSE_OFF_DEG if source_cell_m <= width_m)
    release_deg = settings.release_min_deg - coarse_off_deg - levels * settings.release_per_level_deg
    runout_off_deg = levels * settings.runout_per_level_deg
    return AvalancheLimits(
        release_deg=max(min(_LEAST_RELEASE_DEG, settings.release_min_deg), release_deg),
        steepest_deg=settings.release_max_deg,
        runout_deg=max(_LEAST_RUNOUT_DEG, settings.runout_deg - runout_off_deg),
        path_deg=max(_LEAST_RUNOUT_DEG, settings.path_deg - runout_off_deg),
    )


def read_avalanche(
    settings: AvalancheSettings, ground: Ground, slope_deg: FloatArray, receiver: CellArray, *, watch: Watch
) -> Avalanche:
    """Slopes that can release and the ground that they can reach.

    Parameters
    ----------
    settings : AvalancheSettings
    ground : Ground
    slope_deg : ndarray, float32
        NaN where not known.
    receiver : ndarray, int32
        As in `drainage.Flow`.
    watch : Watch

    Returns
    -------
    Avalanche
    """
    limits, cell_m, shape = limits_for(settings, ground.source_cell_m), ground.grid.ground_cell_m, slope_deg.shape
    is_open_steep = np.empty(shape, bool)

    def find(first: int, last: int) -> None:
        rows = slice(first, last)
        is_dense = canopy_frac(ground, rows) >= settings.dense_canopy_frac
        holds_snow = is_dense & ~(tree_height_m(ground, rows) < LOW_TREES_M)
        is_steep = (slope_deg[rows] >= limits.release_deg) & (slope_deg[rows] <= limits.steepest_deg)
        is_open_steep[rows] = is_steep & ~holds_snow

    run_row_blocks(find, shape, watch=watch, step="avalanche slopes")
    is_release, patch, patch_m2 = _patches(
        is_open_steep, slope_deg, cell_area_m2=ground.grid.cell_area_m2, least_m2=settings.least_area_m2, watch=watch
    )
    source = runout_source(ground.elevation_m, is_release, receiver, limits, cell_m=cell_m, watch=watch)
    angle_deg, area_m2 = _release_above(
        ground.elevation_m, source, (patch, patch_m2), limits.runout_deg, cell_m=cell_m, watch=watch
    )
    is_runout, ground_count = np.empty(shape, bool), []

    def tell(first: int, last: int) -> None:
        rows = slice(first, last)
        near = with_neighbours(with_margin(source, first, last, 1, nothing=-1) >= 0)[1:-1, 1:-1]
        is_runout[rows] = near & ~is_release[rows]
        np.copyto(angle_deg[rows], slope_deg[rows], where=is_release[rows] & np.isnan(angle_deg[rows]))
        ground_count.append(np.count_nonzero(is_release[rows] | is_runout[rows]))

    run_row_blocks(tell, shape, watch=watch, step=_REACH)
    return Avalanche(
        is_release=is_release,
        is_runout=is_runout,
        angle_deg=angle_deg,
        area_m2=area_m2,
        cautions=_cautions(settings, limits, ground, sum(ground_count) / is_runout.size),
    )


def _patches(
    is_steep: MaskArray, slope_deg: FloatArray, *, cell_area_m2: float, least_m2: float, watch: Watch
) -> tuple[MaskArray, CellArray, FloatArray]:
    """Patches of no less than the least area, or that may go on in ground that isn't known.

    Returns
    -------
    is_release : bool
    patch : int32
        Number of the patch.
    patch_m2 : float32
        Area by number.
    """
    shape, step = is_steep.shape, "avalanche slopes"
    patch, count = label_parts(is_steep, watch=watch, step=step)
    patch_m2 = (part_sizes(patch, count, watch=watch, step=step) * cell_area_m2).astype(np.float32)
    is_kept = patch_m2 >= least_m2
    for first, last in each_block(shape, watch=watch, step=step):
        is_unknown = np.isnan(with_margin(slope_deg, first, last, 1, nothing=0.0))
        is_kept[patch[first:last][with_neighbours(is_unknown)[1:-1, 1:-1]]] = True
    is_kept[0] = False
    kept = np.empty(is_steep.shape, bool)

    def keep(first: int, last: int) -> None:
        kept[first:last] = is_kept[patch[first:last]]

    run_row_blocks(keep, shape, watch=watch, step=step)
    return kept, patch, patch_m2


def runout_source(
    elevation_m: FloatArray, is_release: MaskArray, receiver: CellArray, limits: AvalancheLimits, *, cell_m: float,
    watch: Watch,
) -> CellArray:  # fmt: skip
    """The release cell from which an avalanche can reach a place, a release cell's own at least.

    Parameters
    ----------
    elevation_m : ndarray, float32
        Metres; what isn't known is taken to let an avalanche through.
    is_release : ndarray, bool
    receiver : ndarray, int32
        As in `drainage.Flow`.
    limits : AvalancheLimits
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    ndarray, int32
        Flat index; -1 where none does.

    Notes
    -----
    From every release cell an energy line (Heim 1932) falls at `runout_deg` over the straight distance.
    A cell is reached where the line runs above it and above some chain of neighbours back to the
    release: around spurs, not through ridges. Any path down the ground is longer than the straight
    line, so a path-following run goes further only at a flatter angle; then it is followed too, along
    the steepest way down. Of the lines over a cell only the highest is followed on; a margin of one
    cell covers what that misses.
    """
    rows, cols = elevation_m.shape
    source, energy_m = np.empty((rows, cols), np.int32), np.empty((rows, cols), np.float32)
    has_release = np.empty(rows, bool)

    def begin(first: int, last: int) -> None:
        own = np.arange(first * cols, last * cols, dtype=np.int32).reshape(-1, cols)
        source[first:last] = np.where(is_release[first:last], own, np.int32(-1))
        energy_m[first:last] = np.where(is_release[first:last], elevation_m[first:last], np.float32(-np.inf))
        has_release[first:last] = is_release[first:last].any(axis=1)

    run_row_blocks(begin, elevation_m.shape, watch=watch, step=_REACH)
    if not has_release.any():
        return source
    fall = math.tan(math.radians(limits.runout_deg))
    # The rows with release cells are new to the first pass either way.
    changed_in = np.where(has_release, 0, -_LONG_AGO)
    number, quiet_count = 1, 0
    while quiet_count < 2:  # both ways without a change: nothing is left to spread
        changed_count = sum(
            _kernels_flow.spread_pass(elevation_m, energy_m, source, cell_m, fall, changed_in, number, first, last)
            for first, last in each_block(elevation_m.shape, watch=watch, step=_REACH)
        )
        quiet_count = quiet_count + 1 if changed_count == 0 else 0
        number += 1
    if limits.path_deg < limits.runout_deg:
        _add_paths(elevation_m, is_release, receiver, cell_m, limits.path_deg, source, energy_m, watch)
    return source


def _add_paths(
    elevation_m: FloatArray, is_release: MaskArray, receiver: CellArray, cell_m: float, path_deg: float,
    source: CellArray, energy_m: FloatArray, watch: Watch,
) -> None:  # fmt: skip
    """Follow the ways down from the releases too, in place; what ``energy_m`` held is lost."""
    shape, fall = source.shape, math.tan(math.radians(path_deg))
    along = np.empty(source.shape, np.int32)

    def begin(first: int, last: int) -> None:
        along[first:last] = -1
        energy_m[first:last] = -np.inf

    def add(first: int, last: int) -> None:
        np.copyto(source[first:last], along[first:last], where=source[first:last] < 0)

    run_row_blocks(begin, shape, watch=watch, step=_REACH)
    for first, last in each_block(shape, watch=watch, step=_REACH):
        _kernels_flow.run_down_paths(elevation_m, is_release, receiver, cell_m, fall, energy_m, along, first, last)
    run_row_blocks(add, shape, watch=watch, step=_REACH)


def _release_above(
    elevation_m: FloatArray, source: CellArray, patches: tuple[CellArray, FloatArray], runout_deg: float, *,
    cell_m: float, watch: Watch,
) -> tuple[FloatArray, FloatArray]:  # fmt: skip
    """Angle up to the release that a cell lies below, and that release's area."""
    angle_deg, area_m2 = np.empty_like(elevation_m), np.empty_like(elevation_m)
    fall = math.tan(math.radians(runout_deg))

    def block(first: int, last: int) -> None:
        _kernels_flow.release_above_rows(elevation_m, source, *patches, cell_m, fall, angle_deg, area_m2, first, last)

    run_row_blocks(block, elevation_m.shape, watch=watch, step=_REACH)
    return angle_deg, area_m2


def _cautions(
    settings: AvalancheSettings, limits: AvalancheLimits, ground: Ground, share: float
) -> tuple[Caution, ...]:
    cautions = []
    if share > 0.0:
        told = f"{100 * share:.0f} %" if share >= 0.01 else "Less than 1 %"
        cautions.append(
            Caution(
                kind="avalanche",
                text=f"{told} of the ground on this map can release avalanches or be reached by them. "
                f"{settings.day_words()} {_tightened_words(settings, limits)}{_advice(settings)}",
            )
        )
    if ground.source_cell_m > COARSE_CELL_M:
        cautions.append(
            Caution(
                kind="avalanche",
                text=f"Heights every {ground.source_cell_m:.0f} m flatten short steep banks: slopes that can release "
                "may be missing from the map, so judge each slope above a camp on the ground.",
            )
        )
    return tuple(cautions)


def _tightened_words(settings: AvalancheSettings, limits: AvalancheLimits) -> str:
    if settings.levels_above_usual == 0:
        return ""
    level = USUAL_LEVEL + settings.levels_above_usual
    because = "" if settings.bulletin_level == level else f"So much fresh snow counts as level {level}. "
    return (
        f"{because}Slopes from {limits.release_deg:g}° on are taken to release, and to reach down to a line of "
        f"{limits.runout_deg:g}°. "
    )


def _advice(settings: AvalancheSettings) -> str:
    if settings.bulletin_level is None:
        return "Check the day's avalanche bulletin, and keep off and out from under steep slopes whatever the map says."
    return "Read all of it, not the level alone, and keep off and out from under steep slopes whatever the map says."
