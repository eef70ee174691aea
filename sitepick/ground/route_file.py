"""A route out of a file: GPX, GeoJSON, GeoPackage, KML."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import shapely
from pyogrio.errors import DataSourceError
from pyproj.exceptions import CRSError

from sitepick.errors import GroundError, SettingsError
from sitepick.grid import WGS84, DoubleArray, Grid, metric_crs
from sitepick.ground.fault import raise_faults
from sitepick.ground.vector import Layer, carried, layers_of, shapes_of
from sitepick.plan.model import Route

DETAIL_M = 3.0  # a recorded track is thinned to this
_GPX_ORDER = ("routes", "tracks")


def read_route(path: str | Path) -> Route:
    """Read the first line of a file as a route.

    Parameters
    ----------
    path : str or Path
        A local file of lines. Of a GPX file, its routes come before its tracks. The parts of a
        line in several parts are joined in their order.

    Returns
    -------
    Route
        Named after the file.

    Raises
    ------
    GroundError
        The file is missing, is no vector file, or holds no line.
    """
    path = Path(path)
    layers, faults = layers_of(path)
    raise_faults(faults)
    for layer in sorted(layers, key=_rank):
        points = _first_line(path, layer)
        if points is not None:
            return _route(path, points)
    raise GroundError("there is no line in it", where=str(path), fix="name a file with a route or a track")


def _rank(layer: Layer) -> int:
    return _GPX_ORDER.index(layer.name) if layer.driver == "GPX" and layer.name in _GPX_ORDER else len(_GPX_ORDER)


def _first_line(path: Path, layer: Layer) -> DoubleArray | None:
    try:
        lines = shapes_of(path, layer, first_only=True)
        lines = carried(lines[shapely.get_dimensions(lines) == 1], layer.crs, WGS84)
    except (CRSError, DataSourceError, ValueError, RuntimeError) as fault:
        raise GroundError("the file is damaged", where=str(path), fix="export the route again") from fault
    return np.vstack([shapely.get_coordinates(line) for line in lines]) if len(lines) else None


def _route(path: Path, points: DoubleArray) -> Route:
    grid = Grid(
        crs=metric_crs(float(points[0, 0]), float(points[0, 1])), west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1
    )
    metric = np.column_stack(grid.from_lonlat(points[:, 0], points[:, 1]))
    if np.ptp(points, axis=0).max() == 0.0:
        raise GroundError(
            "the line never leaves its first point", where=str(path), fix="name a file with a whole route"
        )
    if np.isfinite(metric).all():
        metric = shapely.get_coordinates(shapely.simplify(shapely.LineString(metric), DETAIL_M))
        points = np.column_stack(grid.to_lonlat(metric[:, 0], metric[:, 1]))
    try:
        return Route(name=path.stem, points=tuple((float(lon), float(lat)) for lon, lat in points.round(6)))
    except SettingsError as fault:
        raise GroundError(fault.what, where=str(path), fix=fault.fix) from fault
