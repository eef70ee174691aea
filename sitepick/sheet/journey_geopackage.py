"""``journey.gpkg``: routes, days, nights and ways out as layers for any mapping program (OGC GeoPackage 1.3)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import geopandas
import pandas as pd
import pyogrio
from shapely import LineString, Point, Polygon
from shapely.geometry.base import BaseGeometry

from sitepick.errors import SheetError
from sitepick.grid import WGS84
from sitepick.journey.compare import totals
from sitepick.journey.model import Day, Journey, RouteJourney

Row = dict[str, Any]

# Geometry and columns of each layer, in the order the layers are written. A layer without a row has them too.
LAYERS: dict[str, tuple[str, dict[str, str]]] = {
    "routes": (
        "LineString",
        {"name": "str", "rank": "int64", "days": "int64", "hours": "float64", "length_m": "float64",
         "climb_m": "float64", "weakest": "float64", "mean": "float64", "no_site": "int64", "trouble": "str"},
    ),
    "days": (
        "LineString",
        {"route": "str", "day": "int64", "depart": "str", "arrive": "str", "camp_by": "str", "distance_m": "float64",
         "climb_m": "float64", "moving_min": "float64", "avalanche_m": "float64"},
    ),
    "nights": (
        "Point",
        {"route": "str", "day": "int64", "name": "str", "score": "float64", "capacity": "int64", "pinned": "bool",
         "has_site": "bool", "arrive": "str", "water": "str", "alternate": "str"},
    ),
    "night_sites": ("Polygon", {"route": "str", "day": "int64", "name": "str", "score": "float64"}),
    "ways_out": ("Point", {"route": "str", "day": "int64", "name": "str", "minutes": "float64"}),
}  # fmt: skip


def write_journey_geopackage(journey: Journey, path: Path) -> None:
    """Write every layer, in longitude and latitude.

    Parameters
    ----------
    journey : Journey
    path : Path
        A new file.

    Raises
    ------
    SheetError
        The disk is full and the like.
    """
    rows = journey_rows(journey)
    try:
        for layer, (geometry, columns) in LAYERS.items():
            table = pd.DataFrame(
                {name: pd.Series([row[name] for row in rows[layer]], dtype=kind) for name, kind in columns.items()}
            )
            frame = geopandas.GeoDataFrame(table, geometry=[row["geometry"] for row in rows[layer]], crs=WGS84)
            pyogrio.write_dataframe(
                frame, path, layer=layer, driver="GPKG", geometry_type=geometry, append=path.exists(),
                promote_to_multi=False,
            )  # fmt: skip
    except (pyogrio.errors.DataSourceError, pyogrio.errors.DataLayerError, pyogrio.errors.FeatureError) as fault:
        raise SheetError(
            f"the journey's layers could not be written: {fault}",
            where=path.name,
            fix="choose a folder you may write to, with room on the disk",
        ) from fault


def journey_rows(journey: Journey) -> dict[str, list[Row]]:
    """The rows of every layer, each with its columns and its ``geometry`` in longitude and latitude."""
    rows: dict[str, list[Row]] = {layer: [] for layer in LAYERS}
    for rank, index in enumerate(journey.order, start=1):
        one = journey.routes[index]
        rows["routes"].append(_route_row(one, rank))
        for day in one.days:
            if not day.is_rest:
                rows["days"].append(_day_row(one, day))
            if day.night is not None:
                rows["nights"].append(_night_row(one, day))
            if day.night is not None and not day.night.is_bare:
                rows["night_sites"].append(
                    {"route": one.name, "day": day.number, "name": day.night.name, "score": day.score,
                     "geometry": Polygon(day.night.ring)}
                )  # fmt: skip
            if day.bail_out is not None:
                rows["ways_out"].append(
                    {"route": one.name, "day": day.number, "name": day.bail_out.name, "minutes": day.bail_out.minutes,
                     "geometry": Point(day.bail_out.place)}
                )  # fmt: skip
    return rows


def _route_row(one: RouteJourney, rank: int) -> Row:
    row = totals(one)
    return {
        "name": one.name, "rank": rank, "days": len(one.days), "hours": row["hours"],
        "length_m": one.survey.line.length_m, "climb_m": row["climb_m"], "weakest": row["weakest"],
        "mean": row["mean"], "no_site": int(row["bare_count"]), "trouble": one.trouble,
        "geometry": LineString(one.survey.route.points),
    }  # fmt: skip


def _day_row(one: RouteJourney, day: Day) -> Row:
    return {
        "route": one.name, "day": day.number, "depart": day.depart.isoformat(timespec="seconds"),
        "arrive": day.arrive.isoformat(timespec="seconds"), "camp_by": day.camp_by.isoformat(timespec="seconds"),
        "distance_m": day.distance_m, "climb_m": day.climb_m, "moving_min": day.moving_min,
        "avalanche_m": day.avalanche_m, "geometry": _way(one, day),
    }  # fmt: skip


def _way(one: RouteJourney, day: Day) -> BaseGeometry:
    """The day's way along the route, from last night's place to tonight's."""
    line = one.survey.line
    span = line.between(day.begin_m, day.end_m)
    points = [line.place_at(day.begin_m), *zip(line.lon_deg[span], line.lat_deg[span], strict=True)]
    points.append(line.place_at(day.end_m))
    if day.night is not None:
        points.append(day.night.place)
    index = day.number - 2
    if index >= 0 and one.days[index].night is not None:
        points.insert(0, one.days[index].night.place)  # type: ignore[union-attr]
    return LineString(points)


def _night_row(one: RouteJourney, day: Day) -> Row:
    assert day.night is not None
    return {
        "route": one.name, "day": day.number, "name": day.night.name, "score": day.score,
        "capacity": day.night.capacity, "pinned": day.is_pinned, "has_site": not day.night.is_bare,
        "arrive": day.arrive.isoformat(timespec="seconds"),
        "water": "" if day.detail is None else day.detail.water_words,
        "alternate": "" if day.detail is None else day.detail.alternate, "geometry": Point(day.night.place),
    }  # fmt: skip
