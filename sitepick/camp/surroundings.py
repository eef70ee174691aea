"""The ground in and round a camp, cut out of the map, as those who place something on it need it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.camp.door import steady_wind_from_deg
from sitepick.camp.model import PlacedShelter
from sitepick.grid import DoubleArray, FloatArray, Grid, MaskArray
from sitepick.ground.model import Ground
from sitepick.plan.model import Plan
from sitepick.terrain.drainage import flow_over
from sitepick.terrain.model import NO_WATER, Terrain, WaterKindArray
from sitepick.work import Watch

AROUND_M = 350.0  # beyond the shelters: past the longest walk to a latrine and its distance from water
_BANK_CELLS = 8  # room for the points along the water
STEEPEST_DEG = 20.0  # nobody walks out at night over steeper ground
WATER_SEARCH_M = 1500.0  # farther water is told by the site's measure, not shown on the camp's plan


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surroundings:
    """A window of the grid round the shelters. Arrays are of the window's shape.

    Attributes
    ----------
    plan : Plan
    grid : Grid
        Of the window.
    corner : (row, col)
        Where the window lies on the whole grid.
    east_m, north_m : float64
        Middles of the cells, grid coordinates.
    elevation_m, slope_deg, canopy_frac : float32
    can_stand : bool
        Ground that is known, dry, level enough to walk on at night, out of avalanche ground and of no-go ground.
    water_kind : uint8
    can_draw : bool
        Where there is water that may be drawn.
    from_water_m : float64
        Ground distance to the nearest water of any kind, to its cell's corner; infinite where there is none.
    receiver : int32
        Flat index, in the window, of the cell that a cell drains to; -1 out of it.
    shelters : tuple of PlacedShelter
    shelters_m : float64 array of shape (count, 2)
        Their middles, grid coordinates.
    centre_m, entry_m : (east_m, north_m)
        The middle of the camp and where the way in meets it.
    downwind : (east, north) or None
        Unit vector that the wind blows along, on the grid; None: calm or not known.
    """

    plan: Plan
    grid: Grid
    corner: tuple[int, int]
    east_m: DoubleArray
    north_m: DoubleArray
    elevation_m: FloatArray
    slope_deg: FloatArray
    canopy_frac: FloatArray
    can_stand: MaskArray
    water_kind: WaterKindArray
    can_draw: MaskArray
    from_water_m: DoubleArray
    receiver: np.ndarray
    shelters: tuple[PlacedShelter, ...]
    shelters_m: DoubleArray
    centre_m: tuple[float, float]
    entry_m: tuple[float, float]
    downwind: tuple[float, float] | None

    @property
    def scale(self) -> float:
        """Grid metres a ground metre."""
        return self.grid.cell_m / self.grid.ground_cell_m

    def from_m(self, east_m: float, north_m: float) -> DoubleArray:
        """Ground distance of each cell's middle from a point."""
        return np.asarray(np.hypot(self.east_m - east_m, self.north_m - north_m) / self.scale)

    def from_shelters_m(self) -> DoubleArray:
        """Ground distance of each cell's middle from the nearest shelter's middle."""
        nearest = np.full(self.grid.shape, np.inf)
        for east_m, north_m in self.shelters_m.tolist():
            np.minimum(nearest, self.from_m(east_m, north_m), out=nearest)
        return nearest

    def against_wind(self) -> DoubleArray:
        """How far to the windward of the middle a cell lies: -1 straight downwind, 1 straight upwind; 0 in a calm."""
        if self.downwind is None:
            return np.zeros(self.grid.shape)
        east, north = self.east_m - self.centre_m[0], self.north_m - self.centre_m[1]
        away = np.maximum(np.hypot(east, north), self.grid.cell_m)
        return np.asarray(-(east * self.downwind[0] + north * self.downwind[1]) / away)

    def above_centre_m(self) -> DoubleArray:
        """Height above the middle of the camp; NaN where not known."""
        row, col = self.grid.cell_at(*self.centre_m)
        return np.asarray(self.elevation_m - self.elevation_m[row, col], np.float64)


def surroundings_of(
    plan: Plan, ground: Ground, terrain: Terrain, shelters: tuple[PlacedShelter, ...], entry_m: tuple[float, float],
    *, watch: Watch,
) -> Surroundings:  # fmt: skip
    """Cut the ground round the shelters out of the map.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    shelters : tuple of PlacedShelter
        At least one.
    entry_m : (east_m, north_m)
    watch : Watch
    """
    whole = ground.grid
    shelters_m = np.array([(placed.east_m, placed.north_m) for placed in shelters])
    reach = math.ceil(AROUND_M / whole.ground_cell_m)
    cells = [whole.cell_at(east_m, north_m) for east_m, north_m in [*shelters_m.tolist(), entry_m]]
    rows, cols = zip(*cells, strict=True)
    middle = (sum(rows) // len(rows), sum(cols) // len(cols))
    edges = [(row + side * reach, col + side * reach) for row, col in cells for side in (-1, 1)]
    to_fetch = terrain.to_fetch
    water = _nearest_water(to_fetch, middle, math.ceil(WATER_SEARCH_M / whole.ground_cell_m))
    if water is not None:
        edges += [(water[0] + side * _BANK_CELLS, water[1] + side * _BANK_CELLS) for side in (-1, 1)]
    top, left = (max(0, min(edge[k] for edge in edges)) for k in (0, 1))
    bottom = min(whole.rows, max(row for row, _ in edges) + 1)
    right = min(whole.cols, max(col for _, col in edges) + 1)
    window = (slice(top, bottom), slice(left, right))
    grid = Grid(
        crs=whole.crs, west_m=whole.west_m + left * whole.cell_m, north_m=whole.north_m - top * whole.cell_m,
        cell_m=whole.cell_m, rows=bottom - top, cols=right - left,
    )  # fmt: skip
    row, col = np.mgrid[0 : grid.rows, 0 : grid.cols]
    east_m = grid.west_m + (col + 0.5) * grid.cell_m
    north_m = grid.north_m - (row + 0.5) * grid.cell_m
    is_hazard = terrain.is_avalanche_release | terrain.is_avalanche_runout | terrain.unsafe_unknown
    water_kind = terrain.water_kind[window]
    slope_deg = terrain.slope_deg[window]
    can_stand = (
        ~is_hazard[window] & ~ground.is_no_go[window] & ~terrain.is_wet[window] & (water_kind == NO_WATER)
        & (slope_deg <= STEEPEST_DEG)
    )  # fmt: skip
    centre_m = shelters_m.mean(axis=0)
    return Surroundings(
        plan=plan,
        grid=grid,
        corner=(top, left),
        east_m=east_m,
        north_m=north_m,
        elevation_m=ground.elevation_m[window],
        slope_deg=slope_deg,
        canopy_frac=terrain.canopy_frac[window],
        can_stand=can_stand,
        water_kind=water_kind,
        can_draw=to_fetch[window],
        from_water_m=_distance_m(water_kind != NO_WATER, grid),
        receiver=flow_over(np.ascontiguousarray(ground.elevation_m[window]), watch=watch).receiver,
        shelters=shelters,
        shelters_m=shelters_m,
        centre_m=(float(centre_m[0]), float(centre_m[1])),
        entry_m=entry_m,
        downwind=_downwind(plan, grid),
    )


def _nearest_water(to_fetch: MaskArray, middle: tuple[int, int], reach: int) -> tuple[int, int] | None:
    """The cell of water nearest to a cell, within so many cells."""
    top, left = max(0, middle[0] - reach), max(0, middle[1] - reach)
    rows, cols = np.nonzero(to_fetch[top : middle[0] + reach + 1, left : middle[1] + reach + 1])
    if not rows.size:
        return None
    nearest = int(np.argmin((rows + top - middle[0]) ** 2 + (cols + left - middle[1]) ** 2))
    return int(rows[nearest]) + top, int(cols[nearest]) + left


def _distance_m(mask: MaskArray, grid: Grid) -> DoubleArray:
    """Ground distance to the nearest of a mask's cells, at least; 0 on them."""
    if not mask.any():
        return np.full(mask.shape, np.inf)
    middles_m = np.asarray(ndimage.distance_transform_edt(~mask)) * grid.ground_cell_m
    return np.maximum(middles_m - grid.ground_cell_m * math.sqrt(0.5), 0.0)  # a cell's corner lies nearest


def _downwind(plan: Plan, grid: Grid) -> tuple[float, float] | None:
    from_deg = steady_wind_from_deg(plan)
    if from_deg is None:
        return None
    to_rad = math.radians(from_deg + 180.0 - grid.convergence_deg(*grid.centre_m))
    return math.sin(to_rad), math.cos(to_rad)
