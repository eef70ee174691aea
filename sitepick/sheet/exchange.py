"""``tonight.geojson``, ``tonight.kml`` and ``tonight.gpx``: the answer for any map, hand-held or not."""

from __future__ import annotations

import json
import re
import xml.etree.ElementTree as ET
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import shapely
from shapely.geometry.base import BaseGeometry

from sitepick.ground.raw_line import OWN_SOURCE
from sitepick.sheet.globe import DIGITS, TOLD_LAYERS, Feature, globe_features
from sitepick.sheet.summary import alternate_words, answer_facts, answer_name
from sitepick.tonight import Tonight

_KML = "http://www.opengis.net/kml/2.2"
_GPX = "http://www.topografix.com/GPX/1/1"
_NOT_IN_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
_FOLDERS = {
    "route": "Route", "route_points": "Points of the route", "sites": "Sites", "shelters": "Shelters",
    "facilities": "Other places", "posts": "Posts", "subareas": "Sections", "perimeter": "Perimeter",
    "reach": "Reach", "hazards": "Hazards",
}  # fmt: skip
# Colour as aabbggrr, width, and fill or none: route and hazards dark, the reach blue.
_KML_LOOKS = {
    "route": ("ff000000", 4, None), "sites": ("ff000000", 3, None), "subareas": ("ff55555d", 1, None),
    "perimeter": ("ff000000", 2, None), "reach": ("ff8f6f2f", 3, None), "hazards": ("ff000000", 2, "60000000"),
}  # fmt: skip


def write_exchange_files(answer: Tonight, geojson: Path, kml: Path, gpx: Path) -> None:
    """Write all three.

    Parameters
    ----------
    answer : Tonight
    geojson, kml, gpx : Path
        New files.
    """
    features = globe_features(answer)
    geojson.write_text(geojson_text(answer, features), encoding="utf-8")
    kml.write_bytes(kml_bytes(answer, features))
    gpx.write_bytes(gpx_bytes(answer, features))


def geojson_text(answer: Tonight, features: tuple[Feature, ...]) -> str:
    """A feature collection (RFC 7946); each feature names its layer."""
    told = [
        {
            "type": "Feature",
            "properties": {"layer": one.layer, "name": one.name, **one.values},
            "geometry": _geojson_geometry(one.geometry),
        }
        for one in features
    ]
    head = {"type": "FeatureCollection", "title": answer.plan.name, "description": _description(answer)}
    rows = ",\n".join(json.dumps(one, ensure_ascii=False, allow_nan=False) for one in told)
    return f'{json.dumps(head, ensure_ascii=False)[:-1]},\n"features": [\n{rows}\n]}}\n'


def _geojson_geometry(geometry: BaseGeometry) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(shapely.to_geojson(geometry))
    return told


def kml_bytes(answer: Tonight, features: tuple[Feature, ...]) -> bytes:
    """A KML 2.2 document (OGC 07-147r2), a folder a layer."""
    root = ET.Element("kml", xmlns=_KML)
    document = ET.SubElement(root, "Document")
    _text(document, "name", answer.plan.name)
    _text(document, "description", _description(answer))
    for layer, (colour, width, fill) in _KML_LOOKS.items():
        style = ET.SubElement(document, "Style", id=layer)
        line = ET.SubElement(style, "LineStyle")
        _text(line, "color", colour)
        _text(line, "width", str(width))
        area = ET.SubElement(style, "PolyStyle")
        _text(area, "color", fill or "00ffffff")
        _text(area, "fill", "1" if fill else "0")
    for layer in TOLD_LAYERS:
        held = [one for one in features if one.layer == layer]
        if held:
            folder = ET.SubElement(document, "Folder")
            _text(folder, "name", _FOLDERS[layer])
            for one in held:
                _placemark(folder, one)
    return _packed(root)


def _placemark(folder: ET.Element, feature: Feature) -> None:
    mark = ET.SubElement(folder, "Placemark")
    _text(mark, "name", feature.name)
    if feature.layer in _KML_LOOKS:
        _text(mark, "styleUrl", f"#{feature.layer}")
    told = ET.SubElement(mark, "ExtendedData")
    for key, value in feature.values.items():
        if value is not None:
            _text(ET.SubElement(told, "Data", name=key), "value", _shown(value))
    _kml_geometry(mark, feature.geometry)


def _kml_geometry(parent: ET.Element, geometry: BaseGeometry) -> None:
    kind = geometry.geom_type
    if kind.startswith("Multi"):
        held = ET.SubElement(parent, "MultiGeometry")
        for part in shapely.get_parts(geometry):
            _kml_geometry(held, part)
        return
    shape = ET.SubElement(parent, kind)
    if isinstance(geometry, shapely.Polygon):
        for tag, rings in (("outerBoundaryIs", [geometry.exterior]), ("innerBoundaryIs", geometry.interiors)):
            for ring in rings:
                linear = ET.SubElement(ET.SubElement(shape, tag), "LinearRing")
                _text(linear, "coordinates", _kml_coordinates(ring))
        return
    if kind == "LineString":
        _text(shape, "tessellate", "1")
    _text(shape, "coordinates", _kml_coordinates(geometry))


def _kml_coordinates(geometry: BaseGeometry) -> str:
    return " ".join(f"{_degrees(lon)},{_degrees(lat)}" for lon, lat in shapely.get_coordinates(geometry))


def gpx_bytes(answer: Tonight, features: tuple[Feature, ...]) -> bytes:
    """GPX 1.1: the route with its named points, and waypoints for sites, shelters, other places and posts."""
    root = ET.Element("gpx", xmlns=_GPX, version="1.1", creator="sitepick")
    about = ET.SubElement(root, "metadata")
    _text(about, "name", answer.plan.name)
    _text(about, "desc", _description(answer))
    _text(about, "time", _gpx_time(answer.march.depart))
    grid = answer.ground.grid
    for site in answer.sites.sites:
        lon, lat = (float(value) for value in grid.to_lonlat(site.east_m, site.north_m))
        role = {1: "Tonight"}.get(site.rank, "Alternate" if site == answer.sites.alternate else "Site")
        _waypoint(root, lon, lat, f"Site {site.rank}, {site.name}", f"{role}. {site.reason}", "site")
    for one in features:
        if one.layer in ("shelters", "facilities", "posts"):
            lon, lat = shapely.get_coordinates(one.geometry)[0].tolist()
            told = {key: value for key, value in one.values.items() if value not in (None, "") and key != "src"}
            described = "; ".join(f"{key}: {_shown(value)}" for key, value in told.items())
            kind = {"shelters": "shelter", "facilities": "place", "posts": "post"}[one.layer]
            _waypoint(root, lon, lat, one.name, described, kind)
    route = ET.SubElement(root, "rte")
    _text(route, "name", answer.plan.route.name)
    for (lon, lat), name in zip(answer.plan.route.points, answer.plan.route.names_by_point, strict=True):
        point = ET.SubElement(route, "rtept", _gpx_place(lon, lat))
        if name is not None:
            _text(point, "name", name)
    return _packed(root)


def _waypoint(root: ET.Element, lon: float, lat: float, name: str, described: str, kind: str) -> None:
    point = ET.SubElement(root, "wpt", _gpx_place(lon, lat))
    _text(point, "name", name)
    _text(point, "desc", described)
    _text(point, "src", OWN_SOURCE)
    _text(point, "type", kind)


def _gpx_place(lon: float, lat: float) -> dict[str, str]:
    """GPX has no longitude 180: it is -180 there."""
    lon = round(lon, DIGITS)
    return {"lat": _degrees(lat), "lon": _degrees(-180.0 if lon >= 180.0 else lon)}


def _gpx_time(moment: datetime) -> str:
    return moment.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _degrees(value: float) -> str:
    return f"{value:.{DIGITS}f}".rstrip("0").rstrip(".")


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) and abs(value) < 1e5 else str(value)


def _description(answer: Tonight) -> str:
    return f"{answer_name(answer)} {answer_facts(answer)} {alternate_words(answer)}".strip()


def _text(parent: ET.Element, tag: str, text: str) -> None:
    """A child with a text, less the few signs that XML 1.0 can't hold."""
    ET.SubElement(parent, tag).text = _NOT_IN_XML.sub("", text)


def _packed(root: ET.Element) -> bytes:
    ET.indent(root, " ")
    packed: bytes = ET.tostring(root, encoding="UTF-8", xml_declaration=True)
    return packed
