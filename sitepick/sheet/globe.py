"""The answer's layers as features on the globe (WGS 84 degrees), for formats that know no other projection."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sitepick.grid import DoubleArray, Grid
from sitepick.sheet.geopackage import LAYERS, layer_rows
from sitepick.tonight import Tonight

DIGITS = 7  # of a degree: a centimetre
# What a hand-held map wants. Water and the grid's own pieces of the route stay in the GeoPackage.
TOLD_LAYERS = (
    "route", "route_points", "sites", "shelters", "facilities", "posts", "subareas", "perimeter", "reach", "hazards",
)  # fmt: skip
_LEAST_PIECE = 1e-12  # square degrees: rounding can leave slivers of no area


@dataclass(frozen=True, slots=True, kw_only=True)
class Feature:
    """One thing on the globe.

    Attributes
    ----------
    layer, name : str
    geometry : shapely geometry
        Longitude and latitude; cut at 180°, outer rings counter-clockwise, valid.
    values : dict
        The layer's columns but the name; None where a value isn't known.
    """

    layer: str
    name: str
    geometry: BaseGeometry
    values: dict[str, Any]


def globe_features(answer: Tonight) -> tuple[Feature, ...]:
    """The whole route first, then every other layer as the GeoPackage has it.

    Parameters
    ----------
    answer : Tonight
    """
    grid = answer.ground.grid
    told = [_route(answer)]
    rows = layer_rows(answer)
    for layer in TOLD_LAYERS:
        for row in rows[layer]:
            if layer == "route" and row["part"] not in ("way in", "dummy trail"):
                continue
            values = {name: _plain(row[name]) for name in LAYERS[layer]}
            name = _name(layer, values)
            geometry = on_globe(row["geometry"], grid)
            if not geometry.is_empty:
                values.pop("name", None)
                told.append(Feature(layer=layer, name=name, geometry=geometry, values=values))
    return tuple(told)


def _route(answer: Tonight) -> Feature:
    route, march = answer.plan.route, answer.march
    line = shapely.LineString([(round(lon, DIGITS), round(lat, DIGITS)) for lon, lat in route.points])
    values = {
        "length_m": round(march.route_length_m, 1),
        "reach_along_route_m": round(march.reach_along_route_m, 1),
        "depart": march.depart.isoformat(timespec="seconds"),
    }
    return Feature(layer="route", name=route.name, geometry=cut_at_180(line), values=values)


def _name(layer: str, values: dict[str, Any]) -> str:
    if layer == "sites":
        return f"Site {values['rank']}, {values['name']}"
    if layer == "route":
        return f"{values['part'].capitalize()}: {values['name']}"
    if layer == "reach":
        return {"early": "Reach if fast", "likely": "Reach, likely", "late": "Reach if slow"}[values["pace"]]
    if layer == "perimeter":
        return "Perimeter"
    return str(values.get("name") or values.get("section") or layer)


def on_globe(geometry: BaseGeometry, grid: Grid) -> BaseGeometry:
    """A geometry of the grid in rounded degrees, cut at 180°, its polygons valid and wound as RFC 7946 asks."""

    def degrees(points_m: DoubleArray) -> DoubleArray:
        lon, lat = grid.to_lonlat(points_m[:, 0], points_m[:, 1])
        return np.column_stack([lon, lat]).round(DIGITS)

    moved: BaseGeometry = shapely.transform(geometry, degrees)
    return cut_at_180(moved)


def cut_at_180(geometry: BaseGeometry) -> BaseGeometry:
    """A geometry that no longer crosses longitude 180° (RFC 7946, section 3.1.9), mended and wound."""
    lon = shapely.get_coordinates(geometry)[:, 0]
    if len(lon) and lon.max() - lon.min() > 180.0:
        # Nothing of ours is half a globe wide: it crosses. Shown east of 180°, cut there, and the rest moved back.
        whole = shapely.transform(geometry, lambda points: points + np.where(points[:, :1] < 0.0, [360.0, 0.0], 0.0))
        east = shapely.intersection(shapely.make_valid(whole), shapely.box(-180.0, -90.0, 180.0, 90.0))
        west = shapely.intersection(shapely.make_valid(whole), shapely.box(180.0, -90.0, 540.0, 90.0))
        west = shapely.transform(west, lambda points: points - [360.0, 0.0])
        pieces = [piece for part in (east, west) for piece in _flat(part) if _dimension(piece) == _dimension(geometry)]
        geometry = _gathered(pieces)
    if _dimension(geometry) == 2:
        pieces = [piece for piece in _flat(shapely.make_valid(geometry)) if piece.area > _LEAST_PIECE]
        geometry = _gathered([shapely.orient_polygons(piece) for piece in pieces])
    return geometry


def _flat(geometry: BaseGeometry) -> list[BaseGeometry]:
    return list(shapely.get_parts(shapely.get_parts(geometry)))


def _dimension(geometry: BaseGeometry) -> int:
    return int(shapely.get_dimensions(geometry))


def _gathered(pieces: list[BaseGeometry]) -> BaseGeometry:
    """One piece as it is, several as the like multi-geometry."""
    if len(pieces) == 1:
        return pieces[0]
    if not pieces:
        return shapely.Polygon()
    if _dimension(pieces[0]) == 1:
        return shapely.MultiLineString([piece for piece in pieces if isinstance(piece, shapely.LineString)])
    return shapely.MultiPolygon([piece for piece in pieces if isinstance(piece, shapely.Polygon)])


def _plain(value: Any) -> Any:
    """A value for a text file: no infinity, nothing that isn't known told as a number."""
    if isinstance(value, float):
        return round(value, 3) if np.isfinite(value) else None
    return value
