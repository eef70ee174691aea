"""Where the way in meets the site."""

from __future__ import annotations

import numpy as np
import shapely

from sitepick.march.model import March
from sitepick.sites.model import Site


def way_in(site: Site, march: March, outline_m: shapely.Polygon) -> tuple[float, float]:
    """The point of an outline round a site that the unit comes to from where it leaves the route.

    Parameters
    ----------
    site : Site
    march : March
    outline_m : shapely.Polygon
        Round the site's ground.

    Returns
    -------
    (east_m, north_m)
        Grid coordinates. Where the route itself starts on the site, that start.
    """
    row, col = march.grid.cell_at(site.east_m, site.north_m)
    station = int(march.leave_station[row, col])
    is_inside = shapely.contains_xy(outline_m, march.route_m[: station + 1, 0], march.route_m[: station + 1, 1])
    outside = np.flatnonzero(~is_inside)
    if not outside.size:
        return float(march.route_m[0, 0]), float(march.route_m[0, 1])
    # Along the route to where it leaves for the site, then straight to the middle.
    way = shapely.LineString([*march.route_m[outside[-1] : station + 1], (site.east_m, site.north_m)])
    crossing = shapely.get_coordinates(shapely.intersection(way, outline_m.exterior))
    first = crossing[np.argmin([way.project(shapely.Point(point)) for point in crossing])]
    return float(first[0]), float(first[1])
