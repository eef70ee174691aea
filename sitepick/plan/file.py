"""The plan's file: GeoJSON (RFC 7946), with the settings as one foreign member.

::

    {"type": "FeatureCollection",
     "features": [ route, alternatives, areas, site marks ],   geometry is what RFC 7946 says: WGS 84
     "sitepick": {"version": 1, "name": ..., "ground": {...}, "unit": {...}, ...}}

File paths stand relative to the plan's own folder where they can. A plan names local files only.
Everything that is wrong with a file is told at once.
"""

from __future__ import annotations

import difflib
import json
import math
import os
from dataclasses import replace
from datetime import datetime, time
from functools import lru_cache
from pathlib import Path
from typing import Any, get_type_hints

import cattrs
from cattrs import AttributeValidationNote, IterableValidationNote
from cattrs.gen import make_dict_structure_fn, make_dict_unstructure_fn, override

from sitepick.errors import PlanFileError, SettingsError
from sitepick.output import whole_file
from sitepick.plan.avalanche import AvalancheSettings
from sitepick.plan.delay import Delay
from sitepick.plan.exercise import AskedParts, Exercise, GivenParts, HandedIn, Overrule, PlacedThing, Rubric
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.factor import Factor
from sitepick.plan.further import FurtherFactors
from sitepick.plan.handout import HandoutSettings, OrderNotes
from sitepick.plan.journey import DayForecast, JourneyPoint, JourneySettings, PinnedNight
from sitepick.plan.kit import KitItem
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.load import LoadSettings
from sitepick.plan.mark import Mark
from sitepick.plan.model import (
    LEGENDS,
    Area,
    CampSettings,
    GroundSource,
    MarchSettings,
    Plan,
    Preferences,
    Route,
    Unit,
    Weather,
)
from sitepick.plan.observer import Observer
from sitepick.plan.pace import ModePace, PaceSettings
from sitepick.plan.pins import Pin
from sitepick.plan.pitching import PitchingRule
from sitepick.plan.security import SecuritySettings
from sitepick.plan.shelter import Shelter, ShelterKind, shelter_kind
from sitepick.plan.weighting import SiteMark, Weighting
from sitepick.plan.work_order import ArrivalTick, WorkSettings

KEY = "sitepick"
VERSION = 1
SIZE_MAX_BYTES = 50_000_000

_MARK = "site_mark"
_OBSERVER = "observer"

_PARTS: tuple[tuple[str, type], ...] = (
    ("ground", GroundSource),
    ("unit", Unit),
    ("weather", Weather),
    ("avalanche", AvalancheSettings),
    ("march", MarchSettings),
    ("preferences", Preferences),
    ("camp", CampSettings),
    ("load", LoadSettings),
    ("handout", HandoutSettings),
    ("journey", JourneySettings),
    ("exercise", Exercise),
)

# Every class that stands in the file as a group of settings, one a line.
_GROUPS: tuple[type, ...] = (
    Delay,
    PitchingRule,
    GroundSource,
    Shelter,
    Unit,
    Weather,
    AvalancheSettings,
    ModePace,
    PaceSettings,
    MarchSettings,
    Factor,
    FurtherFactors,
    Weighting,
    Preferences,
    FacilitySettings,
    SecuritySettings,
    LayoutSettings,
    ArrivalTick,
    WorkSettings,
    Pin,
    CampSettings,
    KitItem,
    LoadSettings,
    OrderNotes,
    HandoutSettings,
    JourneyPoint,
    PinnedNight,
    DayForecast,
    JourneySettings,
    Mark,
    GivenParts,
    AskedParts,
    Rubric,
    Overrule,
    PlacedThing,
    HandedIn,
    Exercise,
)


def read_plan(path: str | Path) -> Plan:
    """Read a plan file.

    Parameters
    ----------
    path : str or Path
        A ``.geojson`` file written by `write_plan` or by hand.

    Returns
    -------
    Plan

    Raises
    ------
    PlanFileError
        The file is missing, is no plan, comes from a newer version, or holds faults; all faults
        are named.
    """
    path = Path(path)
    document = _read_json(path)
    if not isinstance(document, dict) or document.get("type") != "FeatureCollection":
        raise _no_plan(path, "it is not a GeoJSON feature collection")
    settings = document.get(KEY)
    if not isinstance(settings, dict):
        raise _no_plan(path, f'it has no "{KEY}" member')
    version = settings.get("version")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise _no_plan(path, "its version is missing")
    if version > VERSION:
        raise PlanFileError(
            f"the plan was written by a newer version of sitepick (format {version}, this one reads {VERSION})",
            where=str(path),
            fix="update sitepick, or save the plan again in the older program",
        )
    return _build_plan(document, settings, path)


def looks_like_plan(path: str | Path) -> bool:
    """Whether a file holds the settings of a plan, whole or not; other GeoJSON holds none."""
    try:
        with Path(path).open("rb") as handle:
            return f'"{KEY}"'.encode() in handle.read(SIZE_MAX_BYTES)
    except OSError:
        return True  # so that reading it as a plan tells why


def _build_plan(document: dict[str, Any], settings: dict[str, Any], path: Path) -> Plan:
    faults: list[str] = []
    converter = _converter(path.resolve().parent, _own_kinds(settings))
    known = {"version", "name", "note", *(name for name, _ in _PARTS)}
    for key in settings:
        if key not in known:
            faults.append(_unknown_key(key, known))
    parts: dict[str, Any] = {}
    for name, kind in _PARTS:
        if name not in settings:
            if name in ("ground", "unit", "march"):
                faults.append(f"{name}: missing")
            continue
        try:
            parts[name] = converter.structure(settings[name], kind)
        except (cattrs.BaseValidationError, SettingsError, TypeError, ValueError) as fault:
            faults.extend(_flatten(fault, name))
    routes, areas, points = _read_features(document.get("features"), faults)
    main = [route for role, route in routes if role == "route"]
    if len(main) != 1:
        faults.append(f'features: {len(main) or "no"} feature{"s" * (len(main) != 1)} with the role "route", 1 needed')
    for key in ("name", "note"):
        if not isinstance(settings.get(key, ""), str):
            faults.append(f"{key}: not a text")
    if faults:
        raise PlanFileError("; ".join(faults), where=str(path), fix="mend the plan file")
    return Plan(
        name=settings.get("name", path.stem),
        note=settings.get("note", ""),
        route=main[0],
        alternatives=tuple(route for role, route in routes if role == "alternative"),
        areas=tuple(areas),
        site_marks=tuple(point for point in points if isinstance(point, SiteMark)),
        observers=tuple(point for point in points if isinstance(point, Observer)),
        **parts,
    )


def write_plan(plan: Plan, path: str | Path, *, beside: Path | None = None) -> None:
    """Write a plan file, whole or not at all.

    Parameters
    ----------
    plan : Plan
    path : str or Path
    beside : Path, optional
        The folder that the file will lie in, where that isn't the one it is written into.

    Raises
    ------
    PlanFileError
        The folder is read-only, the disk is full and the like; an older file stays as it was.
    """
    path = Path(path).resolve()
    settings: dict[str, Any] = {"version": VERSION, "name": plan.name, "note": plan.note}
    converter = _converter(path.parent if beside is None else beside.resolve())
    for name, _ in _PARTS:
        settings[name] = converter.unstructure(getattr(plan, name))
    features = [_line_feature(plan.route, "route")]
    features += [_line_feature(route, "alternative") for route in plan.alternatives]
    features += [
        {
            "type": "Feature",
            "properties": {"role": area.role, "name": area.name},
            "geometry": {"type": "Polygon", "coordinates": [_closed(area.ring)]},
        }
        for area in plan.areas
    ]
    features += [_mark_feature(mark) for mark in plan.site_marks]
    features += [_observer_feature(observer) for observer in plan.observers]
    document = {"type": "FeatureCollection", "features": features, KEY: settings}
    text = json.dumps(document, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
    with whole_file(path, error=PlanFileError) as target:
        target.write_text(text, encoding="utf-8")


def _line_feature(route: Route, role: str) -> dict[str, Any]:
    properties: dict[str, Any] = {"role": role, "name": route.name}
    if route.point_names:
        properties["point_names"] = list(route.point_names)
    return {
        "type": "Feature",
        "properties": properties,
        "geometry": {"type": "LineString", "coordinates": [list(point) for point in route.points]},
    }


def _mark_feature(mark: SiteMark) -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": {"role": _MARK, "name": mark.name, "pinned": mark.is_pinned, "hidden": mark.is_hidden},
        "geometry": {"type": "Point", "coordinates": list(mark.place)},
    }


def _observer_feature(observer: Observer) -> dict[str, Any]:
    return {
        "type": "Feature",
        "properties": {"role": _OBSERVER, "name": observer.name, "eye_m": observer.eye_m},
        "geometry": {"type": "Point", "coordinates": list(observer.place)},
    }


def _closed(ring: tuple[tuple[float, float], ...]) -> list[list[float]]:
    points = [list(point) for point in ring]
    return points if points[0] == points[-1] else [*points, points[0]]


def _no_plan(path: Path, why: str) -> PlanFileError:
    return PlanFileError(
        f"this is not a sitepick plan: {why}",
        where=str(path),
        fix="name a plan file, or make one with: sitepick new PLAN --elevation ... --cover ... --legend ...",
    )


def _read_json(path: Path) -> Any:
    try:
        if path.stat().st_size > SIZE_MAX_BYTES:
            raise _no_plan(path, f"it is larger than {SIZE_MAX_BYTES // 1_000_000} MB")
        return json.loads(path.read_text(encoding="utf-8-sig"), parse_constant=_refuse_constant)
    except FileNotFoundError as fault:
        raise PlanFileError("there is no such file", where=str(path), fix="check the name and the folder") from fault
    except OSError as fault:
        raise PlanFileError(
            f"the file can't be read: {fault.strerror or fault}", where=str(path), fix="check the file and its rights"
        ) from fault
    except UnicodeDecodeError as fault:
        raise _no_plan(path, "it is not a text file") from fault
    except RecursionError as fault:
        raise _no_plan(path, "its lists are nested too deep") from fault
    except ValueError as fault:
        raise _no_plan(path, f"it is not valid JSON ({fault})") from fault


def _refuse_constant(text: str) -> float:
    raise ValueError(f"{text} is not a number that JSON allows")


def _unknown_key(key: str, known: set[str]) -> str:
    near = difflib.get_close_matches(key, sorted(known), n=1)
    shown = key if key.isidentifier() else _shown(key)
    return f"{shown}: not a setting" + (f" (is {near[0]} meant?)" if near else "")


def _read_features(
    features: Any, faults: list[str]
) -> tuple[list[tuple[str, Route]], list[Area], list[SiteMark | Observer]]:  # fmt: skip
    routes: list[tuple[str, Route]] = []
    areas: list[Area] = []
    points: list[SiteMark | Observer] = []
    if not isinstance(features, list):
        faults.append("features: missing")
        return routes, areas, points
    for number, feature in enumerate(features, start=1):
        try:
            properties = feature["properties"] or {}
            geometry = feature["geometry"]
            role, name = properties.get("role"), str(properties.get("name") or f"Feature {number}")
            if role in ("route", "alternative") and geometry["type"] == "LineString":
                names = _point_names(properties.get("point_names"))
                routes.append((role, Route(name=name, points=_points(geometry["coordinates"]), point_names=names)))
            elif role in ("no_go", "site") and geometry["type"] == "Polygon":
                areas.append(Area(name=name, role=role, ring=_points(geometry["coordinates"][0])))
            elif role == _MARK and geometry["type"] == "Point":
                points.append(_read_mark(properties, geometry["coordinates"]))
            elif role == _OBSERVER and geometry["type"] == "Point":
                points.append(_read_observer(properties, name, geometry["coordinates"]))
            else:
                faults.append(f"feature {number}: the role {role!r} doesn't go with a {geometry['type']}")
        except SettingsError as fault:
            faults.append(f"feature {number}: {fault.what}")
        except (KeyError, TypeError, IndexError, ValueError, AttributeError):
            faults.append(f"feature {number}: not a GeoJSON feature of numbers")
    return routes, areas, points


def _read_mark(properties: dict[str, Any], position: Any) -> SiteMark:
    return SiteMark(
        place=_points([position])[0],
        name=_strict_text(properties.get("name") or "", str),
        is_pinned=_strict_flag(properties.get("pinned", False), bool),
        is_hidden=_strict_flag(properties.get("hidden", False), bool),
    )


def _read_observer(properties: dict[str, Any], name: str, position: Any) -> Observer:
    observer = Observer(place=_points([position])[0], name=name)
    return replace(observer, eye_m=_strict_number(properties["eye_m"], float)) if "eye_m" in properties else observer


def _points(coordinates: Any) -> tuple[tuple[float, float], ...]:
    points = []
    for position in coordinates:
        lon, lat = position[0], position[1]
        if (
            isinstance(lon, bool)
            or isinstance(lat, bool)
            or not all(isinstance(value, int | float) and math.isfinite(value) for value in (lon, lat))
        ):
            raise ValueError(position)
        points.append((float(lon), float(lat)))
    return tuple(points)


def _point_names(value: Any) -> tuple[str | None, ...]:
    if value is None:
        return ()
    if not isinstance(value, list) or not all(name is None or isinstance(name, str) for name in value):
        raise ValueError(value)
    return tuple(name or None for name in value)


def _flatten(fault: BaseException, place: str) -> list[str]:
    """Every single fault under a group, each with its place in the file."""
    if isinstance(fault, cattrs.ForbiddenExtraKeysError):
        known = set(get_type_hints(fault.cl)) if fault.cl else set()
        return [f"{place}: {_unknown_key(key, known)}" for key in sorted(fault.extra_fields)]
    if isinstance(fault, cattrs.BaseValidationError):
        told = []
        for inner in fault.exceptions:
            spot = place
            for note in getattr(inner, "__notes__", ()):
                if isinstance(note, AttributeValidationNote):
                    spot = f"{place}.{note.name}"
                elif isinstance(note, IterableValidationNote):
                    spot = f"{place}[{note.index}]"
            told.extend(_flatten(inner, spot))
        return told
    if isinstance(fault, SettingsError):
        return [f"{place}: {fault.what}"]
    if isinstance(fault, KeyError):
        return [f"{place}: missing"]
    return [f"{place}: {fault}"]


@lru_cache(maxsize=16)  # making one costs more than reading or writing a plan with it
def _converter(folder: Path, own_kinds: tuple[ShelterKind, ...] = ()) -> cattrs.Converter:
    """Between the plan's classes and plain JSON values; strict about types."""
    converter = cattrs.Converter(forbid_extra_keys=True, detailed_validation=True)
    converter.register_structure_hook(float, _strict_number)
    converter.register_structure_hook(int, _strict_count)
    converter.register_structure_hook(str, _strict_text)
    converter.register_structure_hook(bool, _strict_flag)
    converter.register_structure_hook(datetime, lambda value, _: _moment(value, datetime, "a date and time"))
    converter.register_structure_hook(time, lambda value, _: _moment(value, time, "a time of day"))
    converter.register_unstructure_hook(datetime, lambda value: value.isoformat(timespec="minutes"))
    converter.register_unstructure_hook(time, lambda value: value.isoformat(timespec="minutes"))
    converter.register_structure_hook(Path, lambda value, _: local_path(_strict_text(value, str), folder))
    converter.register_unstructure_hook(Path, lambda value: _written_path(value, folder))
    converter.register_structure_hook(str | Path, lambda value, _: _structure_legend(value, folder))
    converter.register_unstructure_hook(str | Path, lambda value: _unstructure_legend(value, folder))
    _kinds_by_key(converter, own_kinds)  # before the groups, whose readers are made with what is known by then
    for kind in _GROUPS:
        converter.register_structure_hook(
            kind, _mapping_only(make_dict_structure_fn(kind, converter, _cattrs_forbid_extra_keys=True))
        )
    return converter


def _kinds_by_key(converter: cattrs.Converter, own: tuple[ShelterKind, ...]) -> None:
    """A shelter names its kind by the key; the user's own kinds stand whole in the unit."""
    whole = _mapping_only(make_dict_structure_fn(ShelterKind, converter, _cattrs_forbid_extra_keys=True))
    converter.register_structure_hook(
        ShelterKind, lambda value, kind: shelter_kind(value, own) if isinstance(value, str) else whole(value, kind)
    )
    by_key = make_dict_unstructure_fn(
        Shelter, converter, kind=override(unstruct_hook=lambda kind: kind.key)
    )  # fmt: skip
    converter.register_unstructure_hook(Shelter, by_key)


def _own_kinds(settings: dict[str, Any]) -> tuple[ShelterKind, ...]:
    """The user's own kinds of shelter, as far as they will do; what is wrong is told when the unit is read."""
    unit = settings.get("unit")
    told = unit.get("shelter_kinds", ()) if isinstance(unit, dict) else ()
    converter = _converter(Path())
    kinds = []
    for value in told if isinstance(told, list) else ():
        try:
            kinds.append(converter.structure(value, ShelterKind))
        except (cattrs.BaseValidationError, SettingsError, TypeError, ValueError):
            continue
    return tuple(kinds)


def _mapping_only(structure: Any) -> Any:
    def checked(value: Any, kind: Any) -> Any:
        if not isinstance(value, dict):
            raise TypeError(f"{_shown(value)} is not a group of settings")
        return structure(value, kind)

    return checked


def _structure_legend(value: Any, folder: Path) -> str | Path:
    text = _strict_text(value, str)
    return text if text in LEGENDS or not text.lower().endswith(".csv") else local_path(text, folder)


def _unstructure_legend(value: str | Path, folder: Path) -> str:
    return _written_path(value, folder) if isinstance(value, Path) else value


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."


def _strict_number(value: Any, _: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise TypeError(f"{_shown(value)} is not a number")
    return float(value)


def _strict_count(value: Any, _: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        raise TypeError(f"{_shown(value)} is not a whole number")
    return value


def _strict_text(value: Any, _: Any) -> str:
    if not isinstance(value, str):
        raise TypeError(f"{_shown(value)} is not a text")
    return value


def _moment(value: Any, kind: type[datetime] | type[time], words: str) -> datetime | time:
    text = _strict_text(value, str)
    try:
        return kind.fromisoformat(text)
    except ValueError as fault:
        raise ValueError(f"{_shown(text)} is not {words}") from fault


def _strict_flag(value: Any, _: Any) -> bool:
    if not isinstance(value, bool):
        raise TypeError(f"{_shown(value)} is neither true nor false")
    return value


def local_path(text: str, folder: Path) -> Path:
    """The local file that a plan or a command line names.

    Parameters
    ----------
    text : str
        As written.
    folder : Path
        What a relative path starts from.

    Raises
    ------
    SettingsError
        It is an address, an archive or a virtual path, not a local file.
    """
    lowered = text.strip().lower()
    is_drive = len(text) > 2 and text[1] == ":" and text[0].isalpha() and text[2] in "\\/"
    has_scheme = ":" in text and not is_drive
    if not lowered or has_scheme or lowered.startswith(("/vsi", "\\\\", "//", "<")) or "\0" in text:
        raise SettingsError(
            f"{_shown(text)} is not the path of a local file", fix="name a file on this computer, unpacked"
        )
    return (folder / Path(text)).resolve()


def _written_path(path: Path, folder: Path) -> str:
    try:
        return Path(os.path.relpath(path, folder)).as_posix()
    except ValueError:  # another drive on Windows
        return path.as_posix()
