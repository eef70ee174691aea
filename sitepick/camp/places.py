"""Which places of a site the camp takes: as many as are needed, on the best of the ground, close together."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from scipy import ndimage

from sitepick.camp.stands import Stand, stands_of
from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.plan.model import Plan
from sitepick.sites.beside import pack_beside
from sitepick.sites.model import Site, Sites
from sitepick.sites.packing import QUICK, THOROUGH, Room, room_of
from sitepick.sites.pressing import pressed_in
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
        Those that find a place, the leaders' first; what stands already one by one before or after the others.
    places_m : float64 array of shape (count, 2)
        Their middles, east and north in grid coordinates; the first is the middle of the camp.
    is_held : bool array of shape (count,)
        What stood there already.
    """

    stands: tuple[Stand, ...]
    places_m: DoubleArray
    is_held: MaskArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Ground:
    """Where places are looked for, in cells of a window.

    Attributes
    ----------
    mask : bool array
    cost : float64 array
    plan : Plan
    grid : Grid
    held : float64 array of shape (count, 2)
        What stands already.
    is_led : bool
        The first of those is the middle of the camp.
    """

    mask: MaskArray
    cost: DoubleArray
    plan: Plan
    grid: Grid
    held: DoubleArray
    is_led: bool


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


def choose_places(
    mask: MaskArray,
    corner: tuple[int, int],
    plan: Plan,
    terrain: Terrain,
    held_m: Mapping[str, tuple[float, float]] | None = None,
) -> Layout:
    """Places for as many of the unit's shelters as fit, close together on the best of the ground.

    Parameters
    ----------
    mask : bool array
        Cells that a footprint may cover.
    corner : (row, col)
        Where the mask lies on the grid.
    plan : Plan
    terrain : Terrain
    held_m : mapping from name to (east_m, north_m), optional
        Shelters that stand already, anywhere: the others keep the spacing from them and gather round them.

    Returns
    -------
    Layout
        Where not all fit, the last of the unit are left out. Joined shelters stand apart where that takes more of them.

    Notes
    -----
    Of the places for all, those with the least toll are looked for: the ways to the first stand in spacings, and for
    every place its slope and wind at the plan's price (`plan.layout`), and a stream near by. See
    `sites.settling.camp_toll`.
    """
    held_m = held_m or {}
    fixed = stands_of(tuple(one for one in plan.unit.shelters if one.name in held_m), joined=False)
    free = tuple(one for one in plan.unit.shelters if one.name not in held_m)
    fixed_m = np.array([held_m[stand.shelters[0].name] for stand in fixed], dtype=np.float64).reshape(-1, 2)
    on = _Ground(
        mask=mask,
        cost=place_cost(mask.shape, corner, plan, terrain),
        plan=plan,
        grid=terrain.grid,
        held=_in_cells(fixed_m, corner, terrain.grid),
        is_led=bool(fixed) and fixed[0].is_leaders,
    )
    layouts = []
    for joined in (True, False):
        layouts.append(_layout_of(on, fixed, stands_of(free, joined=joined), corner))
        if sum(len(stand.shelters) for stand in layouts[-1].stands) == len(plan.unit.shelters):
            break
    return max(layouts, key=lambda layout: sum(len(stand.shelters) for stand in layout.stands))


def _layout_of(on: _Ground, fixed: tuple[Stand, ...], stands: tuple[Stand, ...], corner: tuple[int, int]) -> Layout:
    """Those that stand already with as many others as find a place."""
    places = _places_for(on, stands) if stands else on.held
    is_led = on.is_led or len(places) == len(fixed)
    others = stands[: len(places) - len(fixed)]
    is_held = np.array([is_led] * len(fixed) + [False] * len(others) + [not is_led] * len(fixed), bool)
    return Layout(
        stands=(*fixed, *others) if is_led else (*others, *fixed),
        places_m=_on_grid(places, corner, on.grid),
        is_held=is_held[: len(places)] if is_led else is_held[len(fixed) :],
    )


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


def _in_cells(places_m: DoubleArray, corner: tuple[int, int], grid: Grid) -> DoubleArray:
    return np.column_stack(
        (
            (grid.north_m - places_m[:, 1]) / grid.cell_m - corner[0],
            (places_m[:, 0] - grid.west_m) / grid.cell_m - corner[1],
        )
    )


def _places_for(on: _Ground, stands: tuple[Stand, ...]) -> DoubleArray:
    """Places in cells for the first of some stands in their order, with what stands already before or behind them."""
    single = tuple(stand for stand in stands if len(stand.shelters) == 1)
    widest = stand_room(on.plan, on.grid, stands)
    found = _packed(on.mask, widest, on.held, len(stands))
    starts = _starts(found, on, min(len(stands), len(found)), widest.spacing)
    if single and len(found) < len(stands) and len(single) < len(stands):
        tight = _joined_first(on, stands, stand_room(on.plan, on.grid, single), widest)
        starts = [tight] if len(tight) else []
    if not starts:
        return on.held
    others = stands[: len(starts[0])]
    cells_a_m = widest.radius / max(stand.radius_m for stand in stands)
    # Shelters of one kind of stand may change places: they take the room of the widest.
    widest_single = max((stand.radius_m for stand in single), default=0.0)
    radius_m = [widest_single if len(stand.shelters) == 1 else stand.radius_m for stand in others]
    none = np.zeros(len(on.held))

    def joined(held: DoubleArray, free: DoubleArray) -> DoubleArray:
        return np.concatenate((held, free) if on.is_led else (free, held))

    kinds = Stands(
        spacing=widest.spacing - 2.0 * cells_a_m * max(stand.reach_m for stand in stands),
        radius=joined(none, cells_a_m * np.array(radius_m)),
        reach=joined(none, cells_a_m * np.array([stand.reach_m for stand in others])),
        is_held=joined(none + 1.0, np.zeros(len(others))) > 0.0,
    )
    return settle(on.mask, on.cost, kinds, [joined(on.held, start) for start in starts])


def _packed(mask: MaskArray, room: Room, held: DoubleArray, need: int) -> DoubleArray:
    """As many places as can be found, pressed together where that makes room for all."""
    return pressed_in(mask, room, pack_beside(mask, room, held, THOROUGH), need, held)


def _starts(found: DoubleArray, on: _Ground, need: int, spacing: float) -> list[DoubleArray]:
    """The tightest sets round each of some places, or round who leads already, their costs counted, the best first."""
    if not need:
        return []
    cells = np.floor(found).astype(int)
    own = on.cost[cells[:, 0], cells[:, 1]]
    if on.is_led:
        toll = np.hypot(*(found - on.held[0]).T) / spacing + own
        return [found[np.argsort(toll, kind="stable")[:need]]]
    apart = np.hypot(found[:, None, 0] - found[None, :, 0], found[:, None, 1] - found[None, :, 1]) / spacing
    to_held = np.hypot(found[:, None, 0] - on.held[None, :, 0], found[:, None, 1] - on.held[None, :, 1]) / spacing
    toll = apart + own[None, :]
    np.fill_diagonal(toll, -1.0)  # the middle itself is always in
    nearest = np.argsort(toll, axis=1, kind="stable")[:, :need]
    sums = np.take_along_axis(toll, nearest, axis=1).sum(axis=1) + own + to_held.sum(axis=1)
    return [found[nearest[k]] for k in np.argsort(sums, kind="stable")]


def _joined_first(on: _Ground, stands: tuple[Stand, ...], room: Room, widest: Room) -> DoubleArray:
    """Places where ground is tight: for those that are joined first, then for as many others as fit round them."""
    left, places = np.array(on.mask), {}
    rows, cols = np.indices(on.mask.shape)
    for number, stand in enumerate(stands):
        if len(stand.shelters) == 1:
            continue
        best: tuple[int, DoubleArray, MaskArray] | None = None
        spots = pack_beside(left, widest, on.held, QUICK)
        for spot in spots[:: max(1, len(spots) // _SPOT_COUNT_MAX)]:
            away = np.hypot(
                np.maximum(np.abs(rows + 0.5 - spot[0]) - 0.5, 0.0), np.maximum(np.abs(cols + 0.5 - spot[1]) - 0.5, 0.0)
            )
            free = left & (away >= (room.spacing + widest.spacing) / 2.0)
            count = len(pack_beside(free, room, on.held, QUICK))
            if best is None or count > best[0]:
                best = count, spot, free
        if best is None:
            return np.empty((0, 2))
        places[number], left = best[1], best[2]
    single_count = sum(len(stand.shelters) == 1 for stand in stands)
    others = iter(_packed(left, room, on.held, single_count))
    taken = []
    for number in range(len(stands)):
        place = places[number] if number in places else next(others, None)
        if place is not None:
            taken.append((number, place))
    in_order = len(taken) == len(stands)
    return np.array([place for _, place in taken]) if in_order else np.empty((0, 2))
