"""What a leader calls a piece of ground: its name from the lie of the land."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass

import numpy as np

from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.sites.candidates import Piece
from sitepick.sites.outline import middle_of
from sitepick.terrain.model import DERIVED_STREAM, LAKE, MAPPED_BROOK, MAPPED_STREAM, RIVER, SEA, Terrain
from sitepick.units import compass_word

SURROUNDINGS_M = 250.0  # what counts as the ground around a site
NEAR_M = 600.0  # a feature farther off names nothing
_EVEN_M = 3.0  # heights this close count as the same
_FLAT_DEG = 3.0
_WOODED_FRAC = 0.5
_WATERS = (
    (LAKE, "lake"), (RIVER, "river"), (MAPPED_STREAM, "stream"), (MAPPED_BROOK, "brook"), (DERIVED_STREAM, "stream"),
    (SEA, "sea"),
)  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearing:
    """Where a feature lies as seen from itself to the site.

    Attributes
    ----------
    feature : str
    side : str
        Compass side of the feature that the site is on.
    distance_m : float
    """

    feature: str
    side: str
    distance_m: float


def name_pieces(pieces: tuple[Piece, ...], ground: Ground, terrain: Terrain, march: March) -> tuple[str, ...]:
    """A name for each piece, none like another.

    Parameters
    ----------
    pieces : tuple of Piece
    ground : Ground
    terrain : Terrain
    march : March

    Returns
    -------
    tuple of str
        Such as "Wooded bench north of the stream".
    """
    names = [_name(piece, ground, terrain, march) for piece in pieces]
    common = Counter(names)
    names = [
        f"{name}, {_place_words(piece, march)}" if common[name] > 1 else name
        for name, piece in zip(names, pieces, strict=True)
    ]
    common, seen = Counter(names), Counter[str]()
    told = []
    for name in names:
        seen[name] += 1
        told.append(f"{name} ({seen[name]})" if common[name] > 1 else name)
    return tuple(told)


def _name(piece: Piece, ground: Ground, terrain: Terrain, march: March) -> str:
    form = land_form(piece, ground, terrain)
    canopy = terrain.canopy_frac[piece.index]
    if np.nanmean(np.nan_to_num(canopy, nan=0.0)) >= _WOODED_FRAC:
        form = f"wooded {form}"
    near = nearest_feature(piece, terrain, march)
    name = form if near is None else f"{form} {near.side} of the {near.feature}"
    return name[0].upper() + name[1:]


def land_form(piece: Piece, ground: Ground, terrain: Terrain) -> str:
    """What the ground is within its surroundings: "flat", "slope", "bench", "spur", "knoll" or "hollow"."""
    reach = max(2, math.ceil(SURROUNDINGS_M / ground.grid.ground_cell_m))
    row, col = middle_of(piece.cells)
    window = (slice(max(0, row - reach), row + reach + 1), slice(max(0, col - reach), col + reach + 1))
    around = ground.elevation_m[window]
    here = float(np.mean(ground.elevation_m[piece.index]))
    known = np.isfinite(around)
    higher = float(np.mean(around[known] > here + _EVEN_M))
    lower = float(np.mean(around[known] < here - _EVEN_M))
    slope_here = float(np.mean(terrain.slope_30m_deg[piece.index]))
    slopes = terrain.slope_30m_deg[window]
    slope_around = float(np.mean(slopes[np.isfinite(slopes)])) if np.isfinite(slopes).any() else slope_here
    if higher + lower < 0.3:
        return "flat"
    if lower > 0.75:
        return "knoll" if higher < 0.05 else "spur"
    if higher > 0.75:
        return "hollow"
    if slope_here < 0.6 * slope_around and slope_around > _FLAT_DEG:
        return "bench"
    return "flat" if slope_around <= _FLAT_DEG else "slope"


def nearest_feature(piece: Piece, terrain: Terrain, march: March) -> Bearing | None:
    """The water or route that a site is named after: water first, the route where there is none."""
    grid = terrain.grid
    row, col = middle_of(piece.cells)
    reach = math.ceil(NEAR_M / grid.ground_cell_m)
    top, left = max(0, row - reach), max(0, col - reach)
    kinds = terrain.water_kind[top : row + reach + 1, left : col + reach + 1]
    best: Bearing | None = None
    for kind, feature in _WATERS:
        rows, cols = np.nonzero(kinds == kind)
        if not rows.size:
            continue
        down, right = rows + top - row, cols + left - col
        away = np.hypot(down, right)
        k = int(np.argmin(away))
        distance_m = float(away[k]) * grid.ground_cell_m
        if distance_m <= NEAR_M and (best is None or distance_m < best.distance_m):
            side = _side(grid.convergence_deg(*grid.cell_centre_m(row, col)), float(down[k]), float(-right[k]))
            best = Bearing(feature=feature, side=side, distance_m=distance_m)
    return best or _from_route(row, col, march)


def _from_route(row: int, col: int, march: March) -> Bearing | None:
    grid = march.grid
    east_m, north_m = grid.cell_centre_m(row, col)
    away = np.hypot(march.route_m[:, 0] - east_m, march.route_m[:, 1] - north_m)
    k = int(np.argmin(away))
    distance_m = float(away[k]) / grid.point_scale(east_m, north_m)
    if distance_m > NEAR_M or distance_m < grid.ground_cell_m:
        return None
    north, east = north_m - march.route_m[k, 1], east_m - march.route_m[k, 0]
    side = _side(grid.convergence_deg(east_m, north_m), float(north), float(east))
    return Bearing(feature="route", side=side, distance_m=distance_m)


def _side(convergence_deg: float, north: float, east: float) -> str:
    return compass_word(math.degrees(math.atan2(east, north)) + convergence_deg)


def _place_words(piece: Piece, march: March) -> str:
    """Where a site lies by the route: how far along it, and how far to which side where that is far."""
    grid, cell = march.grid, middle_of(piece.cells)
    station = int(march.leave_station[cell])
    along_km = float(march.station_distance_m[station]) / 1000.0
    east_m, north_m = grid.cell_centre_m(*cell)
    east, north = east_m - march.route_m[station, 0], north_m - march.route_m[station, 1]
    off_km = math.hypot(east, north) / grid.point_scale(east_m, north_m) / 1000.0
    where = "the start" if along_km < 0.05 else f"km {along_km:.1f} of the route"
    if off_km < NEAR_M / 1000.0:
        return f"at {where}"
    return f"{off_km:.1f} km {_side(grid.convergence_deg(east_m, north_m), north, east)} of {where}"
