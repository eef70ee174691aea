"""Marks by themselves: GeoJSON (RFC 7946) out, to be taken over into another plan, and in."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

from sitepick.errors import PlanFileError, SettingsError
from sitepick.output import whole_file
from sitepick.plan.mark import Mark

SIZE_MAX_BYTES = 5_000_000
_GEOMETRY = {"point": "Point", "line": "LineString", "area": "Polygon"}
_SHAPE = {kind: shape for shape, kind in _GEOMETRY.items()}


def write_marks(marks: tuple[Mark, ...], path: Path) -> None:
    """Write marks, whole or not at all.

    Raises
    ------
    PlanFileError
        The folder is read-only, the disk is full and the like; an older file stays as it was.
    """
    document = {"type": "FeatureCollection", "features": [_feature(mark) for mark in marks]}
    with whole_file(path, error=PlanFileError) as target:
        target.write_text(json.dumps(document, ensure_ascii=False, indent=1) + "\n", encoding="utf-8")


def _feature(mark: Mark) -> dict[str, Any]:
    points = [list(point) for point in mark.points]
    if mark.shape == "area" and points[0] != points[-1]:
        points.append(points[0])
    coordinates: Any = points[0] if mark.shape == "point" else [points] if mark.shape == "area" else points
    properties: dict[str, Any] = {"kind": mark.kind, "name": mark.name, "note": mark.note, "seen_by": mark.seen_by}
    for name, moment in (("holds_from", mark.holds_from), ("holds_until", mark.holds_until)):
        if moment is not None:
            properties[name] = moment.isoformat(timespec="minutes")
    geometry = {"type": _GEOMETRY[mark.shape], "coordinates": coordinates}
    return {"type": "Feature", "properties": properties, "geometry": geometry}


def read_marks(path: Path) -> tuple[Mark, ...]:
    """Marks out of a GeoJSON file, also of one that others wrote: what has no meaning becomes an "other" mark.

    Raises
    ------
    PlanFileError
        It can't be read, or holds what makes no mark; every fault is told with its feature's number.
    """
    try:
        if path.stat().st_size > SIZE_MAX_BYTES:
            raise PlanFileError("the file is larger than 5 MB", where=str(path), fix="keep only the marks in it")
        features = json.loads(path.read_text(encoding="utf-8-sig"))["features"]
    except OSError as fault:
        raise PlanFileError(
            f"the file can't be read: {fault.strerror or fault}", where=str(path), fix="check the file and its rights"
        ) from fault
    except (ValueError, KeyError, TypeError, RecursionError) as fault:
        raise PlanFileError(
            "this is no GeoJSON feature collection", where=str(path), fix="export the marks as GeoJSON"
        ) from fault
    marks, faults = [], []
    for number, feature in enumerate(features if isinstance(features, list) else [], start=1):
        try:
            marks.append(_mark(feature))
        except SettingsError as fault:
            faults.append(f"feature {number}: {fault.what}")
        except (KeyError, TypeError, IndexError, ValueError, AttributeError):
            faults.append(f"feature {number}: not a point, line or area of numbers")
    if not marks and not faults:
        faults.append("there is no mark in it")
    if faults:
        raise PlanFileError("; ".join(faults), where=str(path), fix="mend the file")
    return tuple(marks)


def _mark(feature: Any) -> Mark:
    properties, geometry = feature.get("properties") or {}, feature["geometry"]
    shape = _SHAPE[geometry["type"]]
    coordinates = geometry["coordinates"]
    points = [coordinates] if shape == "point" else coordinates[0] if shape == "area" else coordinates
    times = {
        name: datetime.fromisoformat(properties[name]) for name in ("holds_from", "holds_until") if name in properties
    }
    return Mark(
        kind=str(properties.get("kind") or "other"),
        shape=shape,
        points=tuple((float(point[0]), float(point[1])) for point in points),
        name=str(properties.get("name") or ""),
        note=str(properties.get("note") or ""),
        seen_by=str(properties.get("seen_by") or "both"),
        **times,
    )
