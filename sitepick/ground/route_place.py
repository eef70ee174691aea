"""Whether a route from a file lies where the ground's files do."""

from __future__ import annotations

from pathlib import Path

from pyproj import Geod

from sitepick.errors import GroundError
from sitepick.ground.local_file import gdal_environment
from sitepick.ground.raster import ELEVATION, inspect_raster
from sitepick.ground.tell import lonlat_bounds
from sitepick.plan.model import GroundSource, LonLat, Route

Box = tuple[float, float, float, float]


def check_route_lies_on(route: Route, source: GroundSource, path: Path) -> None:
    """Refuse a route that touches none of the elevation files, and tell how far off it lies.

    Parameters
    ----------
    route : Route
    source : GroundSource
        Files that can't be read aren't counted: reading the ground tells about those.
    path : Path
        The route's file, for what is told.

    Raises
    ------
    GroundError
        No point lies on the ground.
    """
    boxes = _boxes(source)
    if not boxes or any(_off_km(point, box) == 0.0 for point in route.points for box in boxes):
        return
    km = min(_off_km(point, box) for point in (route.points[0], route.points[-1]) for box in boxes)
    is_swapped = any(abs(lon) <= 90.0 and _off_km((lat, lon), box) == 0.0 for lon, lat in route.points for box in boxes)
    raise GroundError(
        f"the route lies {km:,.0f} km from the elevation files",
        where=str(path),
        fix="its longitude and latitude look swapped: export it again with longitude first"
        if is_swapped
        else "name elevation files of the route's place, or another route",
    )


def _boxes(source: GroundSource) -> list[Box]:
    boxes = []
    with gdal_environment():
        for path in source.elevation:
            file, _ = inspect_raster(path, ELEVATION, unit=source.elevation_unit)
            if file is not None:
                boxes.append(lonlat_bounds(file))
    return boxes


def _off_km(point: LonLat, box: Box) -> float:
    """Distance from a point to the nearest of a box, 0 inside."""
    lon, lat = point
    west, south, east, north = box
    # counted from the box's middle, so that either may lie across the 180th meridian
    middle = (west + east) / 2.0
    lon = middle + (lon - middle + 180.0) % 360.0 - 180.0
    near_lon, near_lat = min(max(lon, west), east), min(max(lat, south), north)
    if (near_lon, near_lat) == (lon, lat):
        return 0.0
    return float(Geod(ellps="WGS84").inv(lon, lat, near_lon, near_lat)[2]) / 1000.0
