"""Lines and named points of any vector file but GPX: GeoJSON, GeoPackage, KML and the like."""

from __future__ import annotations

import json
import warnings
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pyogrio
import shapely
from pyogrio.errors import DataSourceError
from pyproj.exceptions import CRSError

from sitepick.errors import GroundError
from sitepick.grid import WGS84, DoubleArray
from sitepick.ground.fault import raise_faults
from sitepick.ground.raw_line import OWN_SOURCE, RawFile, RawLine, RawPlace, tidy_name
from sitepick.ground.vector import Layer, carried, layers_of

FEATURES_MAX = 2000  # of a layer; a route's file holds a handful


def read_line_file(path: Path, line_count_max: int) -> RawFile:
    """The first lines of a vector file and its named points.

    Raises
    ------
    GroundError
        The file is no vector file, is damaged, has no projection or declares a document type.
    """
    _check_text(path)
    layers, faults = layers_of(path, with_points=True)
    raise_faults(faults)
    lines: list[RawLine] = []
    places: list[RawPlace] = []
    count = 0
    for layer in layers:
        shapes, names = _features(path, layer)
        kinds = shapely.get_dimensions(shapes)
        count += int((kinds == 1).sum()) if len(shapes) < FEATURES_MAX else layer.feature_count
        for shape, name in zip(shapes[kinds == 1], names[kinds == 1], strict=True):
            if len(lines) < line_count_max:
                lines.append(_line(shape, tidy_name(name)))
        for shape, name in zip(shapes[kinds == 0], names[kinds == 0], strict=True):
            if tidy_name(name):
                lon, lat = shapely.get_coordinates(shape)[0]
                places.append(RawPlace(name=tidy_name(name), lon_deg=float(lon), lat_deg=float(lat)))
    return RawFile(lines=tuple(lines), line_count=count, places=tuple(places))


def _check_text(path: Path) -> None:
    """Refuse XML that declares a document type, and tell JSON that breaks off."""
    with path.open("rb") as handle:
        head = handle.read(4096).replace(b"\0", b"").lstrip(b"\xef\xbb\xbf \t\r\n")
    if head.startswith(b"<") and (b"<!DOCTYPE" in head.upper() or b"<!ENTITY" in head):
        raise GroundError("this is no file of lines", where=str(path), fix="name a file with a route or a track")
    if head.startswith(b"{"):
        try:
            json.loads(path.read_text(encoding="utf-8-sig"))
        except (ValueError, RecursionError) as fault:
            raise GroundError(
                "the file is damaged or cut off: it is not whole JSON", where=str(path), fix="copy or export it again"
            ) from fault


def _features(path: Path, layer: Layer) -> tuple[Any, Any]:
    """Lines and points of a layer in degrees, with their names."""
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            fields = pyogrio.read_info(path, layer=layer.name)["fields"]
            told = {str(name).lower(): str(name) for name in reversed(fields)}
            wanted = [told[name] for name in ("name", "src") if name in told]
            meta, _, packed, columns = pyogrio.raw.read(
                path, layer=layer.name, columns=wanted, force_2d=True, max_features=FEATURES_MAX
            )
        shapes = shapely.from_wkb(packed, on_invalid="ignore")
        read = {str(name).lower(): column.astype(object) for name, column in zip(meta["fields"], columns, strict=True)}
        nothing = np.full(len(shapes), None, dtype=object)
        names = read.get("name", nothing)
        is_ours = (read.get("src", nothing) == OWN_SOURCE) & (shapely.get_dimensions(shapes) == 0)
        is_held = ~(shapely.is_missing(shapes) | shapely.is_empty(shapes) | is_ours)
        shapes, names = shapes[is_held], names[is_held]
        if layer.crs == WGS84 or not len(shapes):
            return shapes, names
        is_there = np.isfinite(shapely.bounds(shapes)).all(axis=1)
        shapes, names = shapes[is_there], names[is_there]
        moved = carried(shapes, layer.crs, WGS84)
        if len(moved) == len(shapes):
            return moved, names
        return moved, np.full(len(moved), None, dtype=object)
    except CRSError as fault:
        raise GroundError("its projection can't be used", where=str(path), fix="reproject the file") from fault
    except (DataSourceError, ValueError, RuntimeError) as fault:
        raise GroundError("the file is damaged or cut off", where=str(path), fix="copy or export it again") from fault


def _line(shape: Any, name: str) -> RawLine:
    parts = [part for part in shapely.get_parts(shape) if shapely.get_dimensions(part) == 1]
    if len(parts) > 1:
        parts = _in_order(shape, parts)
    arrays = [np.array(shapely.get_coordinates(part), float) for part in parts]
    starts = np.cumsum([0, *(len(array) for array in arrays[:-1])])
    points = np.vstack(arrays)
    return RawLine(
        name=name,
        points=points,
        seconds=np.full(len(points), np.nan),
        point_names=(None,) * len(points),
        part_starts=tuple(int(start) for start in starts),
    )


def _in_order(shape: Any, parts: list[Any]) -> list[Any]:
    """The parts as they follow each other on the ground, where they make one line; else as the file has them."""
    if all(_meet(before, after) for before, after in pairwise(parts)):
        return parts
    merged = shapely.line_merge(shapely.MultiLineString(parts)) if shape.geom_type == "MultiLineString" else None
    if merged is None or merged.geom_type != "LineString":
        return parts
    first = shapely.Point(parts[0].coords[0])
    begin, end = shapely.Point(merged.coords[0]), shapely.Point(merged.coords[-1])
    return [merged if first.distance(begin) <= first.distance(end) else shapely.reverse(merged)]


def _meet(before: Any, after: Any) -> bool:
    gap: DoubleArray = np.subtract(before.coords[-1], after.coords[0])
    return bool(np.abs(gap).max() == 0.0)
