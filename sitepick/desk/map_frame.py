"""Which ground the map shows: between the projection's metres and the widget's pixels. No Qt."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from sitepick.grid import DoubleArray, Grid, metric_crs
from sitepick.plan.model import Route

FINEST_M_PER_PX, COARSEST_M_PER_PX = 0.1, 400.0
ROUTE_MARGIN_M = 3000.0  # as far past the route as the ground is read


@dataclass(frozen=True, slots=True, kw_only=True)
class MapFrame:
    """The part of the ground in view. Pixels are logical ones, from the top left.

    Attributes
    ----------
    east_m, north_m : float
        In the middle of the view, the projection's metres.
    m_per_px : float
        Scale, > 0.
    width_px, height_px : float
        Size of the view.
    """

    east_m: float
    north_m: float
    m_per_px: float
    width_px: float
    height_px: float

    @property
    def west_m(self) -> float:
        """Left edge."""
        return self.east_m - self.width_px * self.m_per_px / 2

    @property
    def top_m(self) -> float:
        """Upper edge, northing."""
        return self.north_m + self.height_px * self.m_per_px / 2

    def to_px(self, east_m: float, north_m: float) -> tuple[float, float]:
        """Where a point of the ground is seen."""
        return (east_m - self.west_m) / self.m_per_px, (self.top_m - north_m) / self.m_per_px

    def line_to_px(self, line_m: DoubleArray) -> DoubleArray:
        """The same for an array of shape (n, 2)."""
        return np.column_stack(
            ((line_m[:, 0] - self.west_m) / self.m_per_px, (self.top_m - line_m[:, 1]) / self.m_per_px)
        )

    def to_ground(self, x_px: float, y_px: float) -> tuple[float, float]:
        """The point of the ground seen at a pixel, ``(east_m, north_m)``."""
        return self.west_m + x_px * self.m_per_px, self.top_m - y_px * self.m_per_px

    def panned(self, right_px: float, down_px: float) -> MapFrame:
        """The view moved over the ground."""
        return replace(
            self, east_m=self.east_m + right_px * self.m_per_px, north_m=self.north_m - down_px * self.m_per_px
        )

    def zoomed(self, factor: float, x_px: float, y_px: float) -> MapFrame:
        """The view `factor` times closer; the ground under a pixel stays under it."""
        m_per_px = min(max(self.m_per_px / factor, FINEST_M_PER_PX), COARSEST_M_PER_PX)
        east_m, north_m = self.to_ground(x_px, y_px)
        return replace(
            self,
            m_per_px=m_per_px,
            east_m=east_m - (x_px - self.width_px / 2) * m_per_px,
            north_m=north_m + (y_px - self.height_px / 2) * m_per_px,
        )

    def centred(self, east_m: float, north_m: float) -> MapFrame:
        """The view moved to a point."""
        return replace(self, east_m=east_m, north_m=north_m)

    def resized(self, width_px: float, height_px: float) -> MapFrame:
        """A view of another size around the same middle."""
        return replace(self, width_px=width_px, height_px=height_px)

    def showing(self, bounds_m: tuple[float, float, float, float], *, margin_px: float = 24.0) -> MapFrame:
        """The view that holds a box of ground (west, south, east, north)."""
        west_m, south_m, east_m, north_m = bounds_m
        room_x = max(self.width_px - 2 * margin_px, 16.0)
        room_y = max(self.height_px - 2 * margin_px, 16.0)
        m_per_px = max((east_m - west_m) / room_x, (north_m - south_m) / room_y)
        return replace(
            self,
            east_m=(west_m + east_m) / 2,
            north_m=(south_m + north_m) / 2,
            m_per_px=min(max(m_per_px, FINEST_M_PER_PX), COARSEST_M_PER_PX),
        )


def grid_around(route: Route) -> Grid:
    """A grid to draw a route on before its ground is read: the same projection, the same margin."""
    lons, lats = zip(*route.points, strict=True)
    crs = metric_crs((min(lons) + max(lons)) / 2, (min(lats) + max(lats)) / 2)
    cell_m = 10.0
    corner = Grid(crs=crs, west_m=0.0, north_m=0.0, cell_m=cell_m, rows=1, cols=1)
    east, north = corner.from_lonlat(lons, lats)
    west_m, north_m = float(east.min()) - ROUTE_MARGIN_M, float(north.max()) + ROUTE_MARGIN_M
    return Grid(
        crs=crs,
        west_m=west_m,
        north_m=north_m,
        cell_m=cell_m,
        rows=int((north_m - float(north.min()) + ROUTE_MARGIN_M) / cell_m) + 1,
        cols=int((float(east.max()) + ROUTE_MARGIN_M - west_m) / cell_m) + 1,
    )


def round_step(least: float) -> float:
    """The smallest of 1, 2, 5, 10, 20, 50 ... that is at least so much."""
    power = 10.0 ** np.floor(np.log10(least))
    for step in (1.0, 2.0, 5.0, 10.0):
        if step * power >= least * (1 - 1e-9):
            return float(step * power)
    return float(10.0 * power)
