"""Which of the places that a site offers the camp takes."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt
import shapely

from sitepick.camp.pinned import Pinned
from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.plan.model import Plan
from sitepick.sites.beside import pack_beside
from sitepick.sites.hindrance import unit_room
from sitepick.sites.model import Site, Sites
from sitepick.terrain.model import Terrain

# What a degree of slope and all of the open wind are worth in spacings walked to the middle of the camp. Ours.
_SLOPE_COST = 0.1
_WIND_COST = 1.0


def site_mask(site: Site, sites: Sites, grid: Grid) -> tuple[MaskArray, int, int]:
    """The cells of a site that may be camped on, with the row and column of the mask's corner."""
    west, south, east, north = site.outline_m.bounds
    half = grid.cell_m / 2.0
    top, left = (max(0, k) for k in grid.cell_at(west + half, north - half))
    bottom, right = grid.cell_at(east - half, south + half)
    rows, cols = np.mgrid[top : min(bottom, grid.rows - 1) + 1, left : min(right, grid.cols - 1) + 1]
    east_m, north_m = grid.cell_centre_m(rows, cols)
    inside = np.asarray(shapely.contains_xy(site.outline_m, east_m, north_m), bool)
    return inside & sites.can_pitch[rows, cols], top, left


def choose_places(
    mask: MaskArray, corner: tuple[int, int], plan: Plan, terrain: Terrain, pinned: Pinned | None = None
) -> DoubleArray:
    """Places for as many of the unit's shelters as fit, close together on the best of the ground.

    Parameters
    ----------
    mask : bool array
        Cells that a footprint may cover.
    corner : (row, col)
        Where the mask lies on the grid.
    plan : Plan
    terrain : Terrain
    pinned : Pinned, optional
        Shelters that stand already: the others keep the spacing from them and gather round them.

    Returns
    -------
    ndarray of shape (count, 2), float64
        East and north in grid coordinates, without those that stand already.
    """
    grid = terrain.grid
    room = unit_room(plan, grid)
    held = np.empty((0, 2)) if pinned is None else pinned.shelters_in_cells(grid, corner)
    need = len(plan.unit.shelters) - len(held)
    places = pack_beside(mask, room, held) if need else np.empty((0, 2))
    cost = _costs(places, corner, terrain) + ways_to(held, places) / room.spacing
    chosen = places[_tightest(places / room.spacing, cost, need)] if len(places) else places
    return np.column_stack(
        (
            grid.west_m + (chosen[:, 1] + corner[1]) * grid.cell_m,
            grid.north_m - (chosen[:, 0] + corner[0]) * grid.cell_m,
        )
    )


def ways_to(held: DoubleArray, places: DoubleArray) -> DoubleArray:
    """From each place to the middle of those that stand already, in cells; 0 where none does."""
    if not len(held):
        return np.zeros(len(places))
    middle = held.mean(axis=0)
    return np.asarray(np.hypot(places[:, 0] - middle[0], places[:, 1] - middle[1]))


def _costs(places: DoubleArray, corner: tuple[int, int], terrain: Terrain) -> DoubleArray:
    """What a steep or windy place costs, in spacings."""
    rows, cols = (places[:, k].astype(int) + corner[k] for k in (0, 1))
    slope = np.nan_to_num(terrain.slope_30m_deg[rows, cols].astype(float), nan=10.0)
    wind = np.nan_to_num(terrain.wind_share[rows, cols].astype(float), nan=1.0)
    return np.asarray(_SLOPE_COST * slope + _WIND_COST * wind)


def _tightest(places: DoubleArray, cost: DoubleArray, need: int) -> npt.NDArray[np.int64]:
    """Index of the places that lie closest round one of them, their costs counted."""
    apart = np.hypot(places[:, None, 0] - places[None, :, 0], places[:, None, 1] - places[None, :, 1])
    toll = apart + cost[None, :]
    nearest = np.argsort(toll, axis=1, kind="stable")[:, :need]
    sums = np.take_along_axis(toll, nearest, axis=1).sum(axis=1)
    return np.asarray(np.sort(nearest[int(np.argmin(sums))]))
