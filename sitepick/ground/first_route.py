"""A first route over files, for a plan that has none yet: a straight line to draw over."""

from __future__ import annotations

from sitepick.errors import GroundError
from sitepick.ground.fault import Fault, raise_faults
from sitepick.ground.local_file import gdal_environment
from sitepick.ground.raster import COVER, ELEVATION, inspect_raster
from sitepick.ground.tell import lonlat_bounds
from sitepick.plan.model import GroundSource, Route

SHARE_OF_WIDTH = 0.25
LENGTH_MAX_DEG = 0.1


def route_across(source: GroundSource) -> Route:
    """A short west-east line over the middle of the ground that the first elevation and cover file share.

    Parameters
    ----------
    source : GroundSource

    Returns
    -------
    Route

    Raises
    ------
    GroundError
        A file will not serve, or the two don't overlap.
    """
    faults: list[Fault] = []
    boxes = []
    with gdal_environment():
        for path, role in ((source.elevation[0], ELEVATION), (source.cover[0], COVER)):
            file, found = inspect_raster(path, role, unit=source.elevation_unit if role == ELEVATION else None)
            faults += found
            if file is not None:
                boxes.append(lonlat_bounds(file))
    raise_faults(faults)
    west, south = (max(box[axis] for box in boxes) for axis in (0, 1))
    east, north = (min(box[axis] for box in boxes) for axis in (2, 3))
    if west >= east or south >= north:
        raise GroundError(
            "elevation and cover don't overlap", where=str(source.cover[0]), fix="choose files of the same place"
        )
    half = min(SHARE_OF_WIDTH * (east - west), LENGTH_MAX_DEG) / 2
    middle, lat = (west + east) / 2, round((south + north) / 2, 6)
    return Route(name="First line", points=((round(middle - half, 6), lat), (round(middle + half, 6), lat)))
