"""The piece of ground that a route needs: its bounding box, the way off it, and a margin."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sitepick.errors import GroundError
from sitepick.grid import Grid, metric_crs
from sitepick.plan.model import Route

OFF_ROUTE_M = 5000.0  # how far off the route a camp is looked for at most
MARGIN_M = 3000.0  # ground around it that shelters, shades and drains
SNAP_M = 1000.0
SPAN_MAX_M = 200_000.0  # beyond it one metric projection no longer fits


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundWindow:
    """Which ground is read. Equal windows of equal files give equal ground.

    Attributes
    ----------
    crs : str
        The metric projection.
    west_m, south_m, east_m, north_m : float
        Edges, in the projection's metres, on whole kilometres.
    """

    crs: str
    west_m: float
    south_m: float
    east_m: float
    north_m: float


def ground_window(
    route: Route, *, off_route_m: float = OFF_ROUTE_M, margin_m: float = MARGIN_M, crs: str | None = None
) -> GroundWindow:
    """The ground that a route needs. Reads no file.

    Parameters
    ----------
    route : Route
    off_route_m : float
        How far off it a camp is looked for.
    margin_m : float
        Ground around that.
    crs : str, optional
        The metric projection; that of the route's middle if not told.

    Returns
    -------
    GroundWindow

    Raises
    ------
    GroundError
        The route is too long for one metric projection.
    """
    lon_deg, lat_deg = np.array(route.points, dtype=float).T
    # Counted from the first point, so that a route may cross the 180th meridian.
    lon_deg = lon_deg[0] + (lon_deg - lon_deg[0] + 180.0) % 360.0 - 180.0
    middle_lon = (lon_deg.min() + lon_deg.max()) / 2
    crs = crs or metric_crs((middle_lon + 180.0) % 360.0 - 180.0, (lat_deg.min() + lat_deg.max()) / 2)
    east_m, north_m = Grid(crs=crs, west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1).from_lonlat(lon_deg, lat_deg)
    edges = np.array([east_m.min(), north_m.min(), east_m.max(), north_m.max()])
    if not np.isfinite(edges).all() or max(edges[2] - edges[0], edges[3] - edges[1]) > SPAN_MAX_M:
        raise GroundError(
            f"the route {route.name!r} spans more than {SPAN_MAX_M / 1000:.0f} km",
            fix="shorten it to the days ahead, or check longitude and latitude of its points",
        )
    west, south, east, north = edges.tolist()
    reach_m = off_route_m + margin_m
    return GroundWindow(
        crs=crs,
        west_m=SNAP_M * math.floor((west - reach_m) / SNAP_M),
        south_m=SNAP_M * math.floor((south - reach_m) / SNAP_M),
        east_m=SNAP_M * math.ceil((east + reach_m) / SNAP_M),
        north_m=SNAP_M * math.ceil((north + reach_m) / SNAP_M),
    )
