"""Made raster and vector files, and plans that name them."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import rasterio
from affine import Affine
from pyproj import Transformer

from sitepick.ground.align import Findings, codes_on_grid, heights_on_grid
from sitepick.ground.local_file import gdal_environment
from sitepick.ground.raster import COVER, ELEVATION, RasterFile, inspect_raster
from sitepick.plan.model import GroundSource, Plan, Route
from sitepick.work import Watch
from tests.helpers.made import CRS, NORTH_M, WEST_M, make_grid, make_plan

TREE, GRASS, WATER = 10, 30, 80  # WorldCover


def write_raster(path: Path, values: Any, *, cell_m: float = 10.0, **known: Any) -> Path:
    """A raster whose corner is the made grid's; band(s) first where three-dimensional."""
    bands = np.atleast_3d(np.asarray(values)) if np.ndim(values) < 3 else np.asarray(values)
    bands = bands.transpose(2, 0, 1) if np.ndim(values) < 3 else bands
    tags = {name: known.pop(name) for name in ("units", "scales", "offsets", "descriptions") if name in known}
    profile: dict[str, Any] = {
        "driver": "GTiff",
        "dtype": bands.dtype,
        "count": bands.shape[0],
        "height": bands.shape[1],
        "width": bands.shape[2],
        "crs": CRS,
        "transform": from_origin(WEST_M, NORTH_M, cell_m, cell_m),
        **known,
    }
    with rasterio.open(path, "w", **profile) as target:
        target.write(bands)
        for name, value in tags.items():
            setattr(target, name, value)
    return path


def from_origin(west: float, north: float, width: float, height: float) -> Affine:
    """North-up cells counted from a corner."""
    return Affine(width, 0.0, west, 0.0, -height, north)


def plane(rows: int, cols: int, *, cell_m: float = 10.0, dtype: str = "float32") -> np.ndarray:
    """Heights of a tilted plane at the cells' middles: 3 cm a metre to the east, 2 cm to the north."""
    row, col = np.mgrid[0:rows, 0:cols]
    return (200.0 + 0.03 * (col + 0.5) * cell_m - 0.02 * (row + 0.5) * cell_m).astype(dtype)


def opened(path: Path, role: str = ELEVATION, *, unit: str | None = None) -> RasterFile:
    with gdal_environment():
        file, faults = inspect_raster(path, role, unit=unit)
    assert not faults, faults
    assert file is not None
    return file


def heights(
    *paths: Path, rows: int, cols: int, cell_m: float = 10.0, unit: str | None = None, **known: Any
) -> np.ndarray:
    files = [opened(path, unit=unit) for path in paths]
    grid = known.pop("grid", None) or make_grid(rows, cols, cell_m=cell_m)
    with gdal_environment():
        return heights_on_grid(files, grid, known.pop("findings", Findings()), watch=Watch())


def codes(*paths: Path, rows: int, cols: int, cell_m: float = 10.0) -> np.ndarray:
    """Class codes; -1 where not known."""
    files = [opened(path, COVER) for path in paths]
    with gdal_environment():
        return codes_on_grid(files, make_grid(rows, cols, cell_m=cell_m), Findings(), watch=Watch()) - 1


def lonlat(row: float, col: float, *, cell_m: float = 10.0) -> tuple[float, float]:
    """The place of a cell's corner, counted from the made grid's corner."""
    lon, lat = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True).transform(
        WEST_M + col * cell_m, NORTH_M - row * cell_m
    )
    return lon, lat


def plan_for(elevation: Any, cover: Any, **known: Any) -> Plan:
    """A plan whose route runs through the first rows and columns of the made rasters."""
    paths = {
        name: tuple(value) if isinstance(value, list | tuple) else (value,)
        for name, value in (("elevation", elevation), ("cover", cover))
    }
    points = known.pop("points", (lonlat(10, 5), lonlat(10, 35)))
    areas = known.pop("areas", ())
    source = GroundSource(**{"legend": "worldcover", **paths, **known})
    return replace(make_plan(), ground=source, route=Route(name="Made route", points=points), areas=areas)


def write_lines(path: Path, *lines: Any, kind: str = "LineString") -> Path:
    """GeoJSON of lines (or rings) in longitude and latitude."""
    features = [
        {"type": "Feature", "properties": {}, "geometry": {"type": kind, "coordinates": line}} for line in lines
    ]
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    return path
