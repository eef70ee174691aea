"""The metric grid that every layer of a plan's ground shares.

Square cells, north up, row 0 in the north, in the projection's metres. Distances that a person
reads are on the *ground*: grid length divided by the projection's point scale.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import mgrs
import numpy as np
import numpy.typing as npt
from affine import Affine
from pyproj import CRS, Proj, Transformer

FloatArray = npt.NDArray[np.float32]
MaskArray = npt.NDArray[np.bool_]
DoubleArray = npt.NDArray[np.float64]

WGS84 = "EPSG:4326"


@lru_cache(maxsize=32)
def _to_globe(crs: str) -> Transformer:
    return Transformer.from_crs(CRS.from_user_input(crs), CRS.from_user_input(WGS84), always_xy=True)


@lru_cache(maxsize=32)
def _from_globe(crs: str) -> Transformer:
    return Transformer.from_crs(CRS.from_user_input(WGS84), CRS.from_user_input(crs), always_xy=True)


@lru_cache(maxsize=32)
def _projection(crs: str) -> Proj:
    return Proj(CRS.from_user_input(crs))


@lru_cache(maxsize=128)
def _ground_cell_m(grid: Grid) -> float:
    # Asked for everywhere, and a projection takes a tenth of a millisecond to tell its scale.
    return grid.cell_m / grid.point_scale(*grid.centre_m)


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """A window of square cells on the ground.

    Attributes
    ----------
    crs : str
        The metric projection, such as ``"EPSG:32634"``.
    west_m, north_m : float
        Outer corner of cell (0, 0), in the projection's metres.
    cell_m : float
        Width of a cell in the projection's metres, > 0.
    rows, cols : int
        Size, each >= 1.
    """

    crs: str
    west_m: float
    north_m: float
    cell_m: float
    rows: int
    cols: int

    def __post_init__(self) -> None:
        if not (self.cell_m > 0 and self.rows >= 1 and self.cols >= 1):
            raise ValueError(f"a grid needs cells of some width and at least one of them: {self}")

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return self.rows, self.cols

    @property
    def east_m(self) -> float:
        """Outer east edge, in the projection's metres."""
        return self.west_m + self.cols * self.cell_m

    @property
    def south_m(self) -> float:
        """Outer south edge, in the projection's metres."""
        return self.north_m - self.rows * self.cell_m

    @property
    def bounds_m(self) -> tuple[float, float, float, float]:
        """West, south, east and north edge, in the projection's metres."""
        return self.west_m, self.south_m, self.east_m, self.north_m

    @property
    def affine(self) -> Affine:
        """Cell corner to projected point, as raster libraries take it."""
        return Affine(self.cell_m, 0.0, self.west_m, 0.0, -self.cell_m, self.north_m)

    @property
    def centre_m(self) -> tuple[float, float]:
        """Middle of the window, ``(east_m, north_m)``."""
        return (self.west_m + self.east_m) / 2, (self.south_m + self.north_m) / 2

    @property
    def ground_cell_m(self) -> float:
        """Width of a cell on the ground, at the middle of the window."""
        return _ground_cell_m(self)

    @property
    def cell_area_m2(self) -> float:
        """Area of a cell on the ground, at the middle of the window."""
        return self.ground_cell_m**2

    def contains(self, east_m: float, north_m: float) -> bool:
        """Whether a point lies inside the window."""
        return self.west_m <= east_m < self.east_m and self.south_m < north_m <= self.north_m

    def cell_at(self, east_m: float, north_m: float) -> tuple[int, int]:
        """Row and column of the cell that holds a point; may lie outside the window."""
        return (
            int(np.floor((self.north_m - north_m) / self.cell_m)),
            int(np.floor((east_m - self.west_m) / self.cell_m)),
        )

    def cell_centre_m(self, row: float, col: float) -> tuple[float, float]:
        """Middle of a cell, ``(east_m, north_m)``."""
        return self.west_m + (col + 0.5) * self.cell_m, self.north_m - (row + 0.5) * self.cell_m

    def to_lonlat(self, east_m: npt.ArrayLike, north_m: npt.ArrayLike) -> tuple[DoubleArray, DoubleArray]:
        """Longitude and latitude (WGS 84, degrees) of projected points."""
        lon, lat = _to_globe(self.crs).transform(np.asarray(east_m, float), np.asarray(north_m, float))
        return np.asarray(lon), np.asarray(lat)

    def from_lonlat(self, lon_deg: npt.ArrayLike, lat_deg: npt.ArrayLike) -> tuple[DoubleArray, DoubleArray]:
        """Projected points of longitudes and latitudes (WGS 84, degrees)."""
        east, north = _from_globe(self.crs).transform(np.asarray(lon_deg, float), np.asarray(lat_deg, float))
        return np.asarray(east), np.asarray(north)

    def point_scale(self, east_m: float, north_m: float) -> float:
        """Grid metres a ground metre at a point (0.9996 on a UTM zone's middle line)."""
        return float(self.point_scales(np.array([east_m], float), np.array([north_m], float))[0])

    def point_scales(self, east_m: DoubleArray, north_m: DoubleArray) -> DoubleArray:
        """Grid metres a ground metre at each of some points."""
        lon, lat = self.to_lonlat(east_m, north_m)
        factors = _projection(self.crs).get_factors(np.asarray(lon, float), np.asarray(lat, float))
        return np.asarray(factors.meridional_scale, float)

    def convergence_deg(self, east_m: float, north_m: float) -> float:
        """Grid convergence: the true bearing of grid north at a point, positive to the east."""
        lon, lat = self.to_lonlat(east_m, north_m)
        return float(_projection(self.crs).get_factors(float(lon), float(lat)).meridian_convergence)

    def mgrs(self, east_m: float, north_m: float) -> str:
        """Military grid reference to 1 m (10 digits), cut off and never rounded."""
        lon, lat = self.to_lonlat(east_m, north_m)
        return mgrs_reference(float(lon), float(lat))


def with_neighbours(mask: MaskArray) -> MaskArray:
    """Cells of a mask and the eight around each.

    Whole shifted rows and columns: about ten times as quick as a general dilation.
    """
    wide = mask.copy()
    wide[:, 1:] |= mask[:, :-1]
    wide[:, :-1] |= mask[:, 1:]
    full = wide.copy()
    full[1:] |= wide[:-1]
    full[:-1] |= wide[1:]
    return full


def mgrs_reference(lon_deg: float, lat_deg: float) -> str:
    """Military grid reference to 1 m (10 digits) of a place on the globe (WGS 84)."""
    return str(mgrs.MGRS().toMGRS(lat_deg, lon_deg, MGRSPrecision=5))


def metric_crs(lon_deg: float, lat_deg: float) -> str:
    """Metric projection for a place: its UTM zone, or UPS beyond 84° N and 80° S.

    Zone exceptions of south-west Norway (32V) and Svalbard (31X-37X) included.
    Source: NGA.STND.0037 (universal grids), section on zone exceptions, from memory.

    >>> metric_crs(5.0, 60.0), metric_crs(15.63, 78.22), metric_crs(30.0, 84.5)
    ('EPSG:32632', 'EPSG:32633', 'EPSG:5041')
    """
    if lat_deg >= 84.0:
        return "EPSG:5041"
    if lat_deg < -80.0:
        return "EPSG:5042"
    lon = (lon_deg + 180.0) % 360.0 - 180.0
    zone = int((lon + 180.0) // 6.0) + 1
    if 56.0 <= lat_deg < 64.0 and 3.0 <= lon < 12.0:
        zone = 32
    elif lat_deg >= 72.0 and 0.0 <= lon < 42.0:
        zone = 31 if lon < 9.0 else 33 if lon < 21.0 else 35 if lon < 33.0 else 37
    return f"EPSG:{(32600 if lat_deg >= 0 else 32700) + zone}"
