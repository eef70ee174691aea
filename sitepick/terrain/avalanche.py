"""Which slopes can release an avalanche, and how far it reaches below them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.plan.avalanche import USUAL_LEVEL, AvalancheSettings
from sitepick.terrain import _kernels_flow
from sitepick.terrain.drainage import CellArray
from sitepick.work import Watch, run_row_blocks

LOW_TREES_M = 3.0  # trees that the snow may bury hold nothing
COARSE_CELL_M = 15.0  # heights coarser than this flatten short steep banks

# What comes off the gentlest slope that can release, by the width of the source's cells: a coarse model
# flattens what is steep. Ours, on common practice of 28 degrees; widths with 5 % of slack.
_COARSE_OFF_DEG = ((10.5, 0.0), (31.5, 3.0), (math.inf, 6.0))
_LEAST_RELEASE_DEG, _LEAST_RUNOUT_DEG = 15.0, 8.0  # ours: no bulletin brings a limit below these
_EIGHT_WAYS = np.ones((3, 3), dtype=bool)
_LONG_AGO = 9


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
    settings: AvalancheSettings, ground: Ground, slope_deg: FloatArray, height_m: FloatArray, receiver: CellArray, *,
    watch: Watch,
) -> Avalanche:  # fmt: skip
    """Slopes that can release and the ground that they can reach.

    Parameters
    ----------
    settings : AvalancheSettings
    ground : Ground
    slope_deg : ndarray, float32
        NaN where not known.
    height_m : ndarray, float32
        Height of the trees, NaN where not known.
    receiver : ndarray, int32
        As in `drainage.Flow`.
    watch : Watch

    Returns
    -------
    Avalanche
    """
    watch.tick("avalanche slopes")
    limits, cell_m = limits_for(settings, ground.source_cell_m), ground.grid.ground_cell_m
    holds_snow = (ground.share("canopy_frac") >= settings.dense_canopy_frac) & ~(height_m < LOW_TREES_M)
    is_steep = (slope_deg >= limits.release_deg) & (slope_deg <= limits.steepest_deg)
    is_release, patch, patch_m2 = _patches(
        is_steep & ~holds_snow,
        np.isnan(slope_deg),
        cell_area_m2=ground.grid.cell_area_m2,
        least_m2=settings.least_area_m2,
    )
    source = runout_source(ground.elevation_m, is_release, receiver, limits, cell_m=cell_m, watch=watch)
    is_runout: MaskArray = with_neighbours(source >= 0) & ~is_release
    angle_deg, area_m2 = _release_above(
        ground.elevation_m, source, (patch, patch_m2), limits.runout_deg, cell_m=cell_m, watch=watch
    )
    is_top = is_release & np.isnan(angle_deg)
    angle_deg[is_top] = slope_deg[is_top]
    return Avalanche(
        is_release=is_release,
        is_runout=is_runout,
        angle_deg=angle_deg,
        area_m2=area_m2,
        cautions=_cautions(settings, limits, ground, is_release | is_runout),
    )


def _patches(
    is_steep: MaskArray, is_unknown: MaskArray, *, cell_area_m2: float, least_m2: float
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
    patch = np.zeros(is_steep.shape, np.int32)
    count = ndimage.label(is_steep, structure=_EIGHT_WAYS, output=patch)
    patch_m2 = (np.bincount(patch.reshape(-1), minlength=int(count) + 1) * cell_area_m2).astype(np.float32)
    is_kept = patch_m2 >= least_m2
    is_kept[patch[with_neighbours(is_unknown)]] = True
    is_kept[0] = False
    kept: MaskArray = is_kept[patch]
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
    source = np.where(is_release, np.arange(elevation_m.size, dtype=np.int32).reshape(elevation_m.shape), -1)
    source = source.astype(np.int32)
    if not is_release.any():
        return source
    energy_m = np.where(is_release, elevation_m, np.float32(-np.inf))
    fall = math.tan(math.radians(limits.runout_deg))
    # The rows with release cells are new to the first pass either way.
    changed_in = np.where(is_release.any(axis=1), 0, -_LONG_AGO)
    number, quiet_count = 1, 0
    while quiet_count < 2:  # both ways without a change: nothing is left to spread
        watch.tick("reach of avalanches")
        changed_count = _kernels_flow.spread_pass(elevation_m, energy_m, source, cell_m, fall, changed_in, number)
        quiet_count = quiet_count + 1 if changed_count == 0 else 0
        number += 1
    if limits.path_deg < limits.runout_deg:
        watch.tick("reach of avalanches")
        energy_m[:] = -np.inf
        along = np.full(source.shape, -1, np.int32)
        path_fall = math.tan(math.radians(limits.path_deg))
        _kernels_flow.run_down_paths(elevation_m, is_release, receiver, cell_m, path_fall, energy_m, along)
        np.copyto(source, along, where=source < 0)
    return source


def _release_above(
    elevation_m: FloatArray, source: CellArray, patches: tuple[CellArray, FloatArray], runout_deg: float, *,
    cell_m: float, watch: Watch,
) -> tuple[FloatArray, FloatArray]:  # fmt: skip
    """Angle up to the release that a cell lies below, and that release's area."""
    angle_deg, area_m2 = np.empty_like(elevation_m), np.empty_like(elevation_m)
    fall = math.tan(math.radians(runout_deg))

    def block(first: int, last: int) -> None:
        _kernels_flow.release_above_rows(elevation_m, source, *patches, cell_m, fall, angle_deg, area_m2, first, last)

    run_row_blocks(block, elevation_m.shape[0], watch=watch, step="reach of avalanches")
    return angle_deg, area_m2


def _cautions(
    settings: AvalancheSettings, limits: AvalancheLimits, ground: Ground, is_avalanche: MaskArray
) -> tuple[Caution, ...]:
    cautions = []
    if is_avalanche.any():
        share = float(is_avalanche.mean())
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
