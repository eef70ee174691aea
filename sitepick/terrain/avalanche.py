"""Which slopes can release an avalanche, and how far it reaches below them."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.terrain import _kernels_flow
from sitepick.work import Watch

RUNOUT_DEG = 18.0  # common practice, strict: flattest line from the stop up to the release; records run from 20
STEEPEST_RELEASE_DEG = 55.0  # steeper ground sheds its snow as it falls; common practice
DENSE_CANOPY_FRAC = 0.7  # crowns this dense hold the snow; common practice
LEAST_AREA_M2 = 1_000.0  # smaller patches bury nobody; common practice
LOW_TREES_M = 3.0  # trees that the snow may bury hold nothing
COARSE_CELL_M = 15.0  # heights coarser than this flatten short steep banks

# Gentlest slope that can release, by the width of the source's cells: a coarse model flattens
# what is steep. Ours, on common practice of 28 degrees; widths with 5 % of slack.
_RELEASE_DEG = ((10.5, 28.0), (31.5, 25.0), (math.inf, 22.0))
_EIGHT_WAYS = np.ones((3, 3), dtype=bool)
_LONG_AGO = 9


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Avalanche:
    """Avalanche ground; masks of the grid's shape.

    Attributes
    ----------
    is_release, is_runout : bool
    cautions : tuple of Caution
    """

    is_release: MaskArray
    is_runout: MaskArray
    cautions: tuple[Caution, ...]


def release_slope_deg(source_cell_m: float) -> float:
    """Gentlest slope that counts as a release, for heights of that cell width."""
    return next(slope_deg for width_m, slope_deg in _RELEASE_DEG if source_cell_m <= width_m)


def read_avalanche(ground: Ground, slope_deg: FloatArray, height_m: FloatArray, *, watch: Watch) -> Avalanche:
    """Slopes that can release and the ground that they can reach.

    Parameters
    ----------
    ground : Ground
    slope_deg : ndarray, float32
        NaN where not known.
    height_m : ndarray, float32
        Height of the trees, NaN where not known.
    watch : Watch

    Returns
    -------
    Avalanche
    """
    watch.tick("avalanche slopes")
    holds_snow = (ground.share("canopy_frac") >= DENSE_CANOPY_FRAC) & ~(height_m < LOW_TREES_M)
    is_steep = (slope_deg >= release_slope_deg(ground.source_cell_m)) & (slope_deg <= STEEPEST_RELEASE_DEG)
    is_release = _without_small(is_steep & ~holds_snow, np.isnan(slope_deg), ground.grid.cell_area_m2)
    is_reached = runout(ground.elevation_m, is_release, cell_m=ground.grid.ground_cell_m, watch=watch)
    is_runout: MaskArray = is_reached & ~is_release
    return Avalanche(is_release=is_release, is_runout=is_runout, cautions=_cautions(ground, is_release | is_runout))


def _without_small(is_release: MaskArray, is_unknown: MaskArray, cell_area_m2: float) -> MaskArray:
    """Drop patches under the least area, unless they may go on in ground that isn't known."""
    if not is_release.any():
        return is_release
    label, count = ndimage.label(is_release, structure=_EIGHT_WAYS)
    is_kept = np.bincount(label.reshape(-1), minlength=count + 1) * cell_area_m2 >= LEAST_AREA_M2
    is_kept[label[with_neighbours(is_unknown)]] = True
    is_kept[0] = False
    kept: MaskArray = is_kept[label]
    return kept


def runout(elevation_m: FloatArray, is_release: MaskArray, *, cell_m: float, watch: Watch) -> MaskArray:
    """Ground that an avalanche from any of the release cells can reach, the release cells included.

    Parameters
    ----------
    elevation_m : ndarray, float32
        Metres; what isn't known is taken to let an avalanche through.
    is_release : ndarray, bool
    cell_m : float
        Ground width of a cell.
    watch : Watch

    Returns
    -------
    ndarray, bool

    Notes
    -----
    From every release cell an energy line (Heim 1932) falls at `RUNOUT_DEG` over the straight distance.
    A cell is reached where the line runs above it and above some chain of neighbours back to the
    release: around spurs, not through ridges. Any path down the ground is longer than the straight
    line, so no path-following run at the same angle goes further. Of the lines over a cell only the
    highest is followed on; a margin of one cell covers what that misses.
    """
    if not is_release.any():
        return is_release.copy()
    energy_m = np.where(is_release, elevation_m, np.float32(-np.inf))
    source = np.where(is_release, np.arange(elevation_m.size, dtype=np.int32).reshape(elevation_m.shape), -1)
    source = source.astype(np.int32)
    fall = math.tan(math.radians(RUNOUT_DEG))
    # The rows with release cells are new to the first pass either way.
    changed_in = np.where(is_release.any(axis=1), 0, -_LONG_AGO)
    number, quiet_count = 1, 0
    while quiet_count < 2:  # both ways without a change: nothing is left to spread
        watch.tick("reach of avalanches")
        changed_count = _kernels_flow.spread_pass(elevation_m, energy_m, source, cell_m, fall, changed_in, number)
        quiet_count = quiet_count + 1 if changed_count == 0 else 0
        number += 1
    return with_neighbours(source >= 0)


def _cautions(ground: Ground, is_avalanche: MaskArray) -> tuple[Caution, ...]:
    cautions = []
    if is_avalanche.any():
        share = float(is_avalanche.mean())
        told = f"{share:.0%}" if share >= 0.01 else "Less than 1%"
        cautions.append(
            Caution(
                kind="avalanche",
                text=f"{told} of the ground on this map can release avalanches or be reached by them. No "
                "bulletin is known here: check the day's avalanche bulletin, and keep off and out from under "
                "steep slopes whatever the map says.",
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
