"""Lines and areas from vector files: streams, tracks, no-go ground."""

from __future__ import annotations

import warnings
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pyogrio
import shapely
from pyogrio.errors import DataSourceError
from pyproj import CRS, Transformer
from pyproj.exceptions import CRSError
from rasterio.features import rasterize

from sitepick.grid import WGS84, DoubleArray, Grid, MaskArray
from sitepick.ground.fault import Fault
from sitepick.ground.local_file import file_faults, is_vector_driver_allowed, prepare_vector_reading
from sitepick.plan.model import Area

Geometries = npt.NDArray[np.object_]

_LINE_KINDS = (1, 2, 5)  # shapely's type numbers: line, ring, several lines
_AREA_KINDS = (3, 6)
_EDGE_POINTS = 21  # along each side of the window, when it is carried into another projection


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """One layer of a vector file."""

    name: str
    crs: str
    driver: str
    feature_count: int
    kind: str


def layers_of(path: Path, *, with_points: bool = False) -> tuple[list[Layer], list[Fault]]:
    """The layers of a vector file that can hold lines or areas (or points too); or what is wrong with it."""
    where = str(path)
    faults = file_faults(path)
    if faults:
        return [], faults
    prepare_vector_reading()
    layers = []
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # about odd geometry types; such features are left out
            for name in pyogrio.list_layers(path)[:, 0]:
                info = pyogrio.read_info(path, layer=name, force_feature_count=True)
                if not is_vector_driver_allowed(info["driver"]):
                    return [], [Fault(where=where, what="this file only points elsewhere", fix="name the data file")]
                layers.append(
                    Layer(
                        name=str(name),
                        crs=info["crs"] or "",
                        driver=info["driver"],
                        feature_count=info["features"],
                        kind=str(info["geometry_type"] or ""),
                    )
                )
    except (DataSourceError, ValueError, RuntimeError):
        return [], [
            Fault(
                where=where,
                what="this is not a vector file that can be read",
                fix="name a file of lines or areas, such as a GeoPackage",
            )
        ]
    usable = [
        layer
        for layer in layers
        if layer.kind and layer.feature_count != 0 and (with_points or "Point" not in layer.kind)
    ]
    if any(not layer.crs for layer in usable):
        return [], [Fault(where=where, what="it has no projection (CRS)", fix="assign the right one, then try again")]
    return usable, []


def read_shapes(path: Path, grid: Grid) -> tuple[Geometries, list[Fault]]:
    """Lines and areas of a file that touch the grid's window, in the grid's coordinates."""
    layers, faults = layers_of(path)
    found: list[Any] = []
    for layer in layers:
        try:
            shapes = shapes_of(path, layer, bounds=_bounds_in(grid, layer.crs))
            found.extend(carried(shapes, layer.crs, grid.crs))
        except CRSError:
            faults.append(Fault(where=str(path), what="its projection can't be used", fix="reproject the file"))
        except (DataSourceError, ValueError, RuntimeError):
            faults.append(Fault(where=str(path), what="the file is damaged or cut off", fix="copy it again"))
    shapes = np.empty(len(found), dtype=object)
    shapes[:] = found
    if not len(shapes):
        return shapes, faults
    west, south, east, north = grid.bounds_m
    spare = 2 * grid.cell_m
    shapes = shapely.make_valid(shapes)
    shapes = shapely.clip_by_rect(shapes, west - spare, south - spare, east + spare, north + spare)
    return shapes[~shapely.is_empty(shapes)], faults


def shapes_of(
    path: Path,
    layer: Layer,
    *,
    bounds: tuple[float, float, float, float] | None = None,
) -> Geometries:
    """Lines and areas of one layer, flat, in the layer's own coordinates."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        _, _, packed, _ = pyogrio.raw.read(path, layer=layer.name, columns=[], bbox=bounds, force_2d=True)
    shapes = shapely.from_wkb(packed, on_invalid="ignore")
    shapes = shapes[~(shapely.is_missing(shapes) | shapely.is_empty(shapes))]
    shapes = shapely.get_parts(shapes[shapely.get_dimensions(shapes) >= 1])
    kept: Geometries = shapes[np.isin(shapely.get_type_id(shapes), (*_LINE_KINDS, *_AREA_KINDS))]
    return kept


def carried(shapes: Geometries, source_crs: str, target_crs: str) -> Geometries:
    """Shapes in another projection; those that don't exist there are left out."""
    transformer = Transformer.from_crs(
        CRS.from_user_input(source_crs).to_2d(), CRS.from_user_input(target_crs), always_xy=True
    )

    def move(points: DoubleArray) -> DoubleArray:
        return np.column_stack(transformer.transform(points[:, 0], points[:, 1]))

    moved = shapely.transform(shapes, move)
    kept: Geometries = moved[np.isfinite(shapely.bounds(moved)).all(axis=1)]
    return kept


def _bounds_in(grid: Grid, crs: str) -> tuple[float, float, float, float]:
    transformer = Transformer.from_crs(CRS.from_user_input(grid.crs), CRS.from_user_input(crs).to_2d(), always_xy=True)
    west, south, east, north = transformer.transform_bounds(*grid.bounds_m, densify_pts=_EDGE_POINTS)
    if west > east:  # the window lies across the 180th meridian
        west, east = -180.0, 180.0
    return west, south, east, north


def mask_of(shapes: Geometries, grid: Grid) -> MaskArray:
    """Cells that the shapes touch."""
    if not len(shapes):
        return np.zeros(grid.shape, dtype=bool)
    burnt = rasterize(
        list(shapes), out_shape=grid.shape, transform=grid.affine, all_touched=True, default_value=1, dtype="uint8"
    )
    return np.asarray(burnt, dtype=bool)


def lines_of(shapes: Geometries) -> tuple[DoubleArray, ...]:
    """Lines, and outlines of areas, as arrays of (east_m, north_m)."""
    outlines = np.where(np.isin(shapely.get_type_id(shapes), _AREA_KINDS), shapely.boundary(shapes), shapes)
    parts = shapely.get_parts(outlines)
    parts = parts[np.isin(shapely.get_type_id(parts), _LINE_KINDS)]
    lines = tuple(np.array(shapely.get_coordinates(part), dtype=np.float64) for part in parts)
    for line in lines:
        line.flags.writeable = False
    return lines


def marked_areas(areas: Sequence[Area], grid: Grid) -> Geometries:
    """The plan's no-go areas in the grid's coordinates."""
    rings = [area.ring for area in areas if area.role == "no_go"]
    shapes = np.empty(len(rings), dtype=object)
    shapes[:] = [shapely.make_valid(shapely.Polygon(ring)) for ring in rings]
    return carried(shapes, WGS84, grid.crs) if len(shapes) else shapes
