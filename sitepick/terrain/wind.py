"""How much of the open wind reaches a shelter.

Share of the open wind = what the relief leaves of it times what the trees leave of it.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sitepick.grid import FloatArray, Grid
from sitepick.terrain import _kernels
from sitepick.terrain.stand import ForestShare, Stand, forest_share
from sitepick.terrain.upwind import UPWIND_M, Upwind
from sitepick.units import bearing_deg
from sitepick.work import Watch, run_row_blocks

FAN_DEG = tuple(float(angle) for angle in range(-15, 16, 5))  # rays either side of the forecast; Winstral et al. 2002
QUARTERS_DEG = tuple(45.0 * number for number in range(8))  # looked at in turn where the wind isn't known
QUARTER_FAN_DEG = (-15.0, 0.0, 15.0)  # rays of each of them: together one every 15 degrees
ROSE_WORST_SHARE = 0.05  # of the time; rarer winds of a rose don't set its worst

# Liston & Elder 2006 (J. Hydrometeorology 7:217) weigh slope and curvature so. They scale both by the
# extremes of the window; here by a fixed slope, so that an answer doesn't change with the window
# and ripples on level ground don't become storms.
SLOPE_WEIGHT, CURVATURE_WEIGHT = 0.58, 0.42
FULL_EFFECT_DEG = 30.0  # slope, or slope of both flanks of a ridge, at which a term is at its full half
CURVATURE_M = 300.0  # half of a ridge-to-valley length
# Ours: rising ground upwind takes up to four fifths, at 30 degrees and steeper.
SHELTER_MOST_FRAC, SHELTER_FULL_DEG = 0.8, 30.0
SHARE_LEAST, SHARE_GREATEST = 0.1, 1.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WindShare:
    """Share of the open wind at each cell.

    Attributes
    ----------
    mean, worst : float32, of the grid's shape
        Over the rays around the wind; over all quarters where the wind isn't known. NaN where slope
        or cover isn't known.
    """

    mean: FloatArray
    worst: FloatArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Relief:
    """The shape of the ground, as wind from any side meets it; float32 arrays of the grid's shape.

    Attributes
    ----------
    grid : Grid
    elevation_m : float32
    to_north, to_east : float32
        Fall of the ground to true north and east, 0.5 at a slope of `FULL_EFFECT_DEG`. NaN where not known.
    curved : float32
        -0.5 in valleys to 0.5 on ridges with flanks of that slope.
    """

    grid: Grid
    elevation_m: FloatArray
    to_north: FloatArray
    to_east: FloatArray
    curved: FloatArray


def read_relief(elevation_m: FloatArray, slope_deg: FloatArray, grid: Grid, *, watch: Watch) -> Relief:
    """The shape of the ground, as wind from any side meets it.

    Parameters
    ----------
    elevation_m, slope_deg : ndarray of the grid's shape, float32
    grid : Grid
    watch : Watch

    Returns
    -------
    Relief

    Notes
    -----
    Curvature after Liston & Elder 2006: height above the mean of two opposite places, mean of four
    directions. Pairs that aren't wholly known say nothing; where none is, the ground counts as neither
    ridge nor hollow.
    """
    to_north, to_east, curved = (np.empty(grid.shape, np.float32) for _ in range(3))
    reach_cells = max(1, round(CURVATURE_M / grid.ground_cell_m))
    reach_m = reach_cells * grid.ground_cell_m
    turn_deg = grid.convergence_deg(*grid.centre_m)

    def block(first: int, last: int) -> None:
        _kernels.exposure_rows(
            elevation_m, slope_deg, reach_cells, reach_m, FULL_EFFECT_DEG, turn_deg,
            to_north, to_east, curved, first, last,
        )  # fmt: skip

    run_row_blocks(block, grid.shape, watch=watch, step="ridges and hollows")
    return Relief(grid=grid, elevation_m=elevation_m, to_north=to_north, to_east=to_east, curved=curved)


def wind_share(relief: Relief, stand: Stand, wind_from_deg: float | None, *, watch: Watch) -> WindShare:
    """Share of the open wind that reaches a shelter.

    Parameters
    ----------
    relief : Relief
    stand : Stand
        The trees.
    wind_from_deg : float or None
        True bearing that the wind comes from; None: not known, all quarters count alike.
    watch : Watch

    Returns
    -------
    WindShare
    """
    if wind_from_deg is not None:
        return _over_winds(relief, stand, [_Wind(from_deg=wind_from_deg, fan_deg=FAN_DEG)], watch)
    part = 1.0 / len(QUARTERS_DEG)
    quarters = [_Wind(from_deg=from_deg, fan_deg=QUARTER_FAN_DEG, part=part, worst="mean") for from_deg in QUARTERS_DEG]
    return _over_winds(relief, stand, quarters, watch)


def rose_share(
    relief: Relief, stand: Stand, rose: tuple[tuple[float, float, float], ...], *, watch: Watch
) -> WindShare:
    """Share of the open wind that reaches a shelter, over the winds of a rose.

    Parameters
    ----------
    relief : Relief
    stand : Stand
        The trees.
    rose : tuple of (from_deg, share, kmh)
        True bearings, shares of the time, speeds; at least one with a share.
    watch : Watch

    Returns
    -------
    WindShare
        `mean` by the shares of the time, `worst` over the winds with `ROSE_WORST_SHARE` or more of
        it, over all where none has so much.
    """
    total = sum(share for _, share, _ in rose)
    # Rounded shares of 5 % may come as 0.04999.
    telling = min(ROSE_WORST_SHARE, max(share for _, share, _ in rose)) - 1e-6
    winds = [
        _Wind(
            from_deg=from_deg, fan_deg=QUARTER_FAN_DEG, part=share / total, worst="ray" if share >= telling else "none"
        )
        for from_deg, share, _ in rose
        if share > 0.0
    ]
    return _over_winds(relief, stand, winds, watch)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wind:
    """One of the winds that are looked at: its part in the mean, and what of it the worst is held against."""

    from_deg: float
    fan_deg: tuple[float, ...]
    part: float = 1.0
    worst: str = "ray"  # "ray", "mean" (of its rays) or "none"


def _over_winds(relief: Relief, stand: Stand, winds: list[_Wind], watch: Watch) -> WindShare:
    """Relief times trees, wind by wind: the mean by their parts, and the worst of those that tell."""
    turn_deg = relief.grid.convergence_deg(*relief.grid.centre_m)
    total: WindShare | None = None
    for wind in winds:
        rays_deg = tuple(bearing_deg(wind.from_deg + angle - turn_deg) for angle in wind.fan_deg)
        trees = forest_share(stand, rays_deg, watch=watch)
        share = relief_share(relief, wind.from_deg, rays_deg, watch=watch, trees=trees)
        total = _with(total, share, wind, watch)
    if total is None:
        raise ValueError("no wind to look at")
    return total


def _with(total: WindShare | None, share: WindShare, wind: _Wind, watch: Watch) -> WindShare:
    """Add one wind to those before it; the first one's arrays are kept and written on."""
    part = np.float32(wind.part)

    def block(first: int, last: int) -> None:
        mean, worst = share.mean[first:last], share.worst[first:last]
        if wind.worst == "mean":
            worst[:] = mean
        elif wind.worst == "none":
            worst *= np.float32(0.0)  # a gap stays one
        mean *= part
        if total is not None:
            total.mean[first:last] += mean
            np.maximum(total.worst[first:last], worst, out=total.worst[first:last])

    run_row_blocks(block, share.mean.shape, watch=watch, step="wind over the ground")
    return share if total is None else total


def relief_share(
    relief: Relief, wind_from_deg: float, rays_deg: tuple[float, ...], *, watch: Watch,
    trees: ForestShare | None = None,
) -> WindShare:  # fmt: skip
    """Share of the open wind that the relief leaves.

    Parameters
    ----------
    relief : Relief
    wind_from_deg : float
        True bearing that the wind comes from.
    rays_deg : tuple of float
        Grid bearings along which the ground upwind is looked at.
    watch : Watch
    trees : ForestShare, optional
        What the trees leave of it; the relief takes its part off these, in place.

    Returns
    -------
    WindShare
        `mean` with the mean shelter of the rays, `worst` with the least sheltered.
    """
    shape = relief.grid.shape
    mean, worst = (np.ones(shape, np.float32) for _ in range(2)) if trees is None else (trees.mean, trees.worst)
    upwind = Upwind(relief.elevation_m, rays_deg, relief.grid.ground_cell_m, UPWIND_M)
    from_rad = math.radians(bearing_deg(wind_from_deg))
    setting = np.array([
        math.cos(from_rad), math.sin(from_rad), SLOPE_WEIGHT, CURVATURE_WEIGHT,
        SHELTER_MOST_FRAC, SHELTER_FULL_DEG, SHARE_LEAST, SHARE_GREATEST,
    ], np.float32)  # fmt: skip

    def block(first: int, last: int) -> None:
        for upwind_deg, share in zip(upwind.rows(first, last), (mean, worst), strict=True):
            _kernels.relief_rows(
                relief.to_north[first:last], relief.to_east[first:last], relief.curved[first:last], upwind_deg,
                setting, share[first:last],
            )  # fmt: skip

    run_row_blocks(block, relief.grid.shape, watch=watch, step="wind over the ground", block_rows=upwind.block_rows)
    return WindShare(mean=mean, worst=worst)
