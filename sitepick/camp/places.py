"""Which places of a site the camp takes: as many as are needed, on the best of the ground, close together."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely
from scipy import ndimage

from sitepick.camp.stands import Stand, stands_of
from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.plan.model import Plan
from sitepick.sites.model import Site, Sites
from sitepick.sites.packing import QUICK, THOROUGH, Room, pack, room_of
from sitepick.sites.settling import Stands, settle
from sitepick.terrain.model import NO_WATER, Terrain

_UNKNOWN_SLOPE_DEG, _UNKNOWN_WIND_SHARE = 10.0, 1.0  # what isn't known is taken at its worst
# Ours: open water keeps ground out; a brook that lies 2 m lower doesn't, but is better kept at the same distance.
_NEAR_STREAM_COST = 2.0
_SPOT_COUNT_MAX = 16  # tried for two that are joined, where ground is tight


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Layout:
    """Who stands where.

    Attributes
    ----------
    stands : tuple of Stand
        Those that find a place, the leaders' first.
    places_m : float64 array of shape (count, 2)
        Their middles, east and north in grid coordinates; the first is the middle of the camp.
    parted : tuple of Stand
        Joined shelters that find room only apart from each other.
    """

    stands: tuple[Stand, ...]
    places_m: DoubleArray
    parted: tuple[Stand, ...] = ()


def site_mask(site: Site, sites: Sites, grid: Grid) -> tuple[MaskArray, int, int]:
    """The cells of a site that may be camped on, with the row and column of the mask's corner."""
    if site.cells is not None:
        (top, left), (bottom, right) = site.cells.min(axis=0).tolist(), site.cells.max(axis=0).tolist()
        is_site = np.zeros((bottom - top + 1, right - left + 1), bool)
        is_site[site.cells[:, 0] - top, site.cells[:, 1] - left] = True
        return is_site & sites.can_pitch[top : bottom + 1, left : right + 1], top, left
    west, south, east, north = site.outline_m.bounds
    half = grid.cell_m / 2.0
    top, left = (max(0, k) for k in grid.cell_at(west + half, north - half))
    bottom, right = grid.cell_at(east - half, south + half)
    rows, cols = np.mgrid[top : min(bottom, grid.rows - 1) + 1, left : min(right, grid.cols - 1) + 1]
    east_m, north_m = grid.cell_centre_m(rows, cols)
    inside = np.asarray(shapely.contains_xy(site.outline_m, east_m, north_m), bool)
    return inside & sites.can_pitch[rows, cols], top, left


def choose_places(mask: MaskArray, corner: tuple[int, int], plan: Plan, terrain: Terrain) -> Layout:
    """Places for as many of the unit's shelters as fit, close together on the best of the ground.

    Parameters
    ----------
    mask : bool array
        Cells that a footprint may cover.
    corner : (row, col)
        Where the mask lies on the grid.
    plan : Plan
    terrain : Terrain

    Returns
    -------
    Layout
        Where not all fit, the last of the unit are left out.

    Notes
    -----
    Of the places for all, those with the least toll are looked for: the ways to the first stand in spacings, and for
    every place its slope and wind at the plan's price (`plan.layout`), and a stream near by. See
    `sites.settling.camp_toll`.
    """
    cost = place_cost(mask.shape, corner, plan, terrain)
    layouts = []
    for joined in (True, False):
        stands = stands_of(plan.unit.shelters, joined=joined)
        places = _places_for(mask, cost, stands, plan, terrain.grid)
        held = stands[: len(places)]
        whole = stands_of(plan.unit.shelters)
        parted = () if joined else tuple(stand for stand in whole if len(stand.shelters) > 1)
        layouts.append(Layout(stands=held, places_m=_on_grid(places, corner, terrain.grid), parted=parted))
        if sum(len(stand.shelters) for stand in held) == len(plan.unit.shelters):
            break
    return max(layouts, key=lambda layout: sum(len(stand.shelters) for stand in layout.stands))


def place_cost(shape: tuple[int, ...], corner: tuple[int, int], plan: Plan, terrain: Terrain) -> DoubleArray:
    """What standing on each cell of a window costs, in spacings walked."""
    window = (slice(corner[0], corner[0] + shape[0]), slice(corner[1], corner[1] + shape[1]))
    slope = np.nan_to_num(terrain.slope_30m_deg[window].astype(float), nan=_UNKNOWN_SLOPE_DEG)
    wind = np.nan_to_num(terrain.wind_share[window].astype(float), nan=_UNKNOWN_WIND_SHARE)
    is_near = from_water_m(shape, corner, plan, terrain) < plan.preferences.water_clear_m
    layout = plan.camp.layout
    return np.asarray(layout.slope_cost * slope + layout.wind_cost * wind + _NEAR_STREAM_COST * is_near)


def from_water_m(shape: tuple[int, ...], corner: tuple[int, int], plan: Plan, terrain: Terrain) -> DoubleArray:
    """Ground distance from the middle of each cell of a window to water of any kind near by; infinite where none is."""
    cell_m = terrain.grid.ground_cell_m
    reach = math.ceil(plan.preferences.water_clear_m / cell_m) + 1
    top, left = max(0, corner[0] - reach), max(0, corner[1] - reach)
    rows, cols = slice(top, corner[0] + shape[0] + reach), slice(left, corner[1] + shape[1] + reach)
    is_water = terrain.water_kind[rows, cols] != NO_WATER
    if not is_water.any():
        return np.full(shape, np.inf)
    away_m = np.asarray(ndimage.distance_transform_edt(~is_water)) * cell_m
    inside = (slice(corner[0] - top, corner[0] - top + shape[0]), slice(corner[1] - left, corner[1] - left + shape[1]))
    return np.asarray(away_m[inside])


def least_spacing_m(plan: Plan) -> float:
    """The spacing that shelters keep: the plan's, never less than the widest of them takes."""
    return max(plan.camp.spacing_m, *(shelter.kind.footprint_m for shelter in plan.unit.shelters))


def stand_room(plan: Plan, grid: Grid, stands: tuple[Stand, ...]) -> Room:
    """The room that any of some stands takes from any other of them, whichever way they are turned."""
    return room_of(
        grid, grid.bounds_m, spacing_m=least_spacing_m(plan) + 2.0 * max(stand.reach_m for stand in stands),
        footprint_m=2.0 * max(stand.radius_m for stand in stands),
    )  # fmt: skip


def _on_grid(places: DoubleArray, corner: tuple[int, int], grid: Grid) -> DoubleArray:
    return np.column_stack(
        (
            grid.west_m + (places[:, 1] + corner[1]) * grid.cell_m,
            grid.north_m - (places[:, 0] + corner[0]) * grid.cell_m,
        )
    )


def _places_for(
    mask: MaskArray, cost: DoubleArray, stands: tuple[Stand, ...], plan: Plan, grid: Grid
) -> DoubleArray:  # fmt: skip
    """Places in cells for the first of some stands, in their order."""
    single = tuple(stand for stand in stands if len(stand.shelters) == 1)
    widest = stand_room(plan, grid, stands)
    found = pack(mask, widest, THOROUGH)
    starts = _starts(found, cost, min(len(stands), len(found)), widest.spacing)
    if single and len(found) < len(stands) and len(single) < len(stands):
        tight = _joined_first(mask, stands, stand_room(plan, grid, single), widest)
        starts = [tight] if len(tight) else []
    if not starts:
        return np.empty((0, 2))
    held = stands[: len(starts[0])]
    cells_a_m = widest.radius / max(stand.radius_m for stand in stands)
    reach = cells_a_m * np.array([stand.reach_m for stand in held])
    # Shelters of one kind of stand may change places: they take the room of the widest.
    widest_single = max((stand.radius_m for stand in single), default=0.0)
    radius_m = [widest_single if len(stand.shelters) == 1 else stand.radius_m for stand in held]
    spacing = widest.spacing - 2.0 * cells_a_m * max(stand.reach_m for stand in stands)
    return settle(mask, cost, Stands(spacing=spacing, radius=cells_a_m * np.array(radius_m), reach=reach), starts)


def _starts(found: DoubleArray, cost: DoubleArray, need: int, spacing: float) -> list[DoubleArray]:
    """The tightest sets round each of some places, their costs counted, the best first."""
    if not need:
        return []
    cells = np.floor(found).astype(int)
    apart = np.hypot(found[:, None, 0] - found[None, :, 0], found[:, None, 1] - found[None, :, 1]) / spacing
    toll = apart + cost[cells[:, 0], cells[:, 1]][None, :]
    np.fill_diagonal(toll, -1.0)  # the middle itself is always in
    nearest = np.argsort(toll, axis=1, kind="stable")[:, :need]
    sums = np.take_along_axis(toll, nearest, axis=1).sum(axis=1) + cost[cells[:, 0], cells[:, 1]]
    return [found[nearest[k]] for k in np.argsort(sums, kind="stable")]


def _joined_first(mask: MaskArray, stands: tuple[Stand, ...], room: Room, widest: Room) -> DoubleArray:
    """Places where ground is tight: for those that are joined first, then for as many others as fit round them."""
    left, places = np.array(mask), {}
    rows, cols = np.indices(mask.shape)
    for number, stand in enumerate(stands):
        if len(stand.shelters) == 1:
            continue
        best: tuple[int, DoubleArray, MaskArray] | None = None
        spots = pack(left, widest, QUICK)
        for spot in spots[:: max(1, len(spots) // _SPOT_COUNT_MAX)]:
            away = np.hypot(
                np.maximum(np.abs(rows + 0.5 - spot[0]) - 0.5, 0.0), np.maximum(np.abs(cols + 0.5 - spot[1]) - 0.5, 0.0)
            )
            free = left & (away >= (room.spacing + widest.spacing) / 2.0)
            count = len(pack(free, room, QUICK))
            if best is None or count > best[0]:
                best = count, spot, free
        if best is None:
            return np.empty((0, 2))
        places[number], left = best[1], best[2]
    others = iter(pack(left, room, THOROUGH))
    taken = []
    for number in range(len(stands)):
        place = places[number] if number in places else next(others, None)
        if place is not None:
            taken.append((number, place))
    in_order = len(taken) == len(stands)
    return np.array([place for _, place in taken]) if in_order else np.empty((0, 2))
