"""``tonight.gpkg``: the answer as layers for any mapping program (OGC GeoPackage 1.3)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import geopandas
import pandas as pd
import pyogrio
from shapely import LineString, MultiLineString, Point

from sitepick.errors import SheetError
from sitepick.ground.raw_line import OWN_SOURCE
from sitepick.plan.model import FACTOR_NAMES
from sitepick.sheet.named_points import named_points
from sitepick.sheet.shape import cell_lines, mask_polygons, reach_polygons, route_parts
from sitepick.terrain.model import DERIVED_STREAM, LAKE, RIVER, SEA, WATER_KIND_NAMES
from sitepick.tonight import Tonight

# Columns of each layer with their kinds, in the order the layers are written. A layer without a row has them too.
# `src` tells our own reader of routes which points stand beside the route.
LAYERS: dict[str, dict[str, str]] = {
    "route": {"name": "str", "part": "str", "length_m": "float64"},
    "route_points": {"number": "int64", "name": "str", "kind": "str", "at": "str", "mgrs": "str", "src": "str"},
    "reach": {"pace": "str", "moving_limit_min": "float64", "area_m2": "float64"},
    "sites": {
        "rank": "int64", "name": "str", "score": "float64", "capacity": "int64", "area_m2": "float64",
        "arrive": "str", "detour_min": "float64", "firm_share": "float64", "reason": "str",
        **dict.fromkeys(FACTOR_NAMES, "float64"),
    },
    "shelters": {
        "name": "str", "section": "str", "kind": "str", "people": "int64", "is_leaders": "bool",
        "door_bearing_deg": "float64", "slope_deg": "float64", "joined_to": "str", "is_by_hand": "bool",
        "mgrs": "str", "src": "str",
    },
    "facilities": {"kind": "str", "name": "str", "reason": "str", "is_by_hand": "bool", "mgrs": "str", "src": "str"},
    "subareas": {"section": "str", "area_m2": "float64"},
    "perimeter": {"area_m2": "float64"},
    "posts": {
        "name": "str", "left_bearing_deg": "float64", "right_bearing_deg": "float64", "seen_frac": "float64",
        "is_by_hand": "bool", "mgrs": "str", "src": "str",
    },
    "hazards": {"kind": "str", "name": "str", "area_m2": "float64"},
    "water": {"kind": "str", "length_m": "float64", "area_m2": "float64"},
}  # fmt: skip

Row = dict[str, Any]


def write_geopackage(answer: Tonight, path: Path) -> None:
    """Write every layer of an answer.

    Parameters
    ----------
    answer : Tonight
    path : Path
        A new file.

    Raises
    ------
    SheetError
        The disk is full and the like.
    """
    rows = layer_rows(answer)
    try:
        for layer in LAYERS:
            pyogrio.write_dataframe(
                _frame(layer, rows[layer], answer.ground.grid.crs), path, layer=layer, driver="GPKG",
                geometry_type=_GEOMETRY[layer], append=path.exists(), promote_to_multi=False,
            )  # fmt: skip
        _check_written(path, {layer: len(found) for layer, found in rows.items()})
    except (pyogrio.errors.DataSourceError, pyogrio.errors.DataLayerError, pyogrio.errors.FeatureError) as fault:
        raise SheetError(
            f"the map layers could not be written: {fault}",
            where=path.name,
            fix="choose a folder you may write to, with room on the disk",
        ) from fault


def layer_rows(answer: Tonight) -> dict[str, list[Row]]:
    """The rows of every layer, each with its columns and its ``geometry`` in grid coordinates."""
    return {
        "route": _route_rows(answer),
        "route_points": _route_point_rows(answer),
        "reach": _reach_rows(answer),
        "sites": _site_rows(answer),
        "shelters": _shelter_rows(answer),
        "facilities": _facility_rows(answer),
        "subareas": _sub_area_rows(answer),
        "perimeter": _perimeter_rows(answer),
        "posts": _post_rows(answer),
        "hazards": _hazard_rows(answer),
        "water": _water_rows(answer),
    }


_GEOMETRY = {
    "route": "LineString",
    "route_points": "Point",
    "reach": "MultiPolygon",
    "sites": "Polygon",
    "shelters": "Point",
    "facilities": "Point",
    "subareas": "Polygon",
    "perimeter": "Polygon",
    "posts": "Point",
    "hazards": "MultiPolygon",
    "water": "Unknown",
}


def _check_written(path: Path, counts: dict[str, int]) -> None:
    """The writer can lose rows on a full disk without a word: count them."""
    for layer, count in counts.items():
        found = pyogrio.read_info(path, layer=layer, force_feature_count=True)["features"]
        if found != count:
            raise pyogrio.errors.DataSourceError(f"{found} of {count} rows of the layer {layer} arrived")


def _frame(layer: str, rows: list[Row], crs: str) -> geopandas.GeoDataFrame:
    columns = LAYERS[layer]
    table = pd.DataFrame({name: pd.Series([row[name] for row in rows], dtype=kind) for name, kind in columns.items()})
    return geopandas.GeoDataFrame(table, geometry=[row["geometry"] for row in rows], crs=crs)


def _route_rows(answer: Tonight) -> list[Row]:
    march = answer.march
    reached, rest = route_parts(march)
    told = (
        ("reached at likely pace", reached, march.reach_along_route_m),
        ("past the reach", rest, march.route_length_m - march.reach_along_route_m),
    )
    rows = [
        {"name": answer.plan.route.name, "part": part, "length_m": length_m, "geometry": LineString(points)}
        for part, points, length_m in told
        if len(points) > 1
    ]
    return rows + _camp_way_rows(answer)


def _camp_way_rows(answer: Tonight) -> list[Row]:
    """The way in and the trail past the site."""
    if answer.camp is None or answer.camp.security is None:
        return []
    scale = answer.ground.grid.ground_cell_m / answer.ground.grid.cell_m
    told = (
        ("way in", answer.camp.security.way_in_m),
        ("dummy trail", answer.camp.security.dummy_trail_m),
    )
    lines = [(part, LineString(points)) for part, points in told if len(points) > 1]
    return [
        {"name": answer.camp.site_name, "part": part, "length_m": line.length * scale, "geometry": line}
        for part, line in lines
    ]


def _route_point_rows(answer: Tonight) -> list[Row]:
    return [
        {
            "number": point.number,
            "name": point.name,
            "kind": "named point",
            "at": "",
            "mgrs": point.mgrs,
            "src": "",
            "geometry": Point(point.east_m, point.north_m),
        }
        for point in named_points(answer)
    ] + _turn_back_rows(answer)


def _turn_back_rows(answer: Tonight) -> list[Row]:
    """The turn-back place, where the day has one; it is no point of the route, so its number is 0."""
    turn = answer.march.turn_back
    if turn is None or turn.is_whole_day:
        return []
    east_m, north_m = (float(value) for value in answer.march.route_m[turn.station])
    return [
        {
            "number": 0,
            "name": "Turn-back",
            "kind": "turn-back",
            "at": turn.at.isoformat(timespec="seconds"),
            "mgrs": answer.ground.grid.mgrs(east_m, north_m),
            "src": OWN_SOURCE,
            "geometry": Point(east_m, north_m),
        }
    ]


def _reach_rows(answer: Tonight) -> list[Row]:
    march = answer.march
    limits = (march.early_moving_min_limit, march.moving_min_limit, march.late_moving_min_limit)
    ground_scale = answer.ground.grid.cell_area_m2 / answer.ground.grid.cell_m**2
    return [
        {"pace": pace, "moving_limit_min": limit, "area_m2": shape.area * ground_scale, "geometry": shape}
        for (pace, shape), limit in zip(reach_polygons(march).items(), limits, strict=True)
        if not shape.is_empty
    ]


def _site_rows(answer: Tonight) -> list[Row]:
    return [
        {
            "rank": site.rank, "name": site.name, "score": site.score, "capacity": site.capacity,
            "area_m2": site.area_m2, "arrive": site.arrive.isoformat(timespec="seconds"),
            "detour_min": site.detour_min, "firm_share": site.firm_share, "reason": site.reason,
            **dict.fromkeys(FACTOR_NAMES), **{measure.name: measure.value for measure in site.measures},
            "geometry": site.outline_m,
        }
        for site in answer.sites.sites
    ]  # fmt: skip


def _shelter_rows(answer: Tonight) -> list[Row]:
    if answer.camp is None:
        return []
    return [
        {
            "name": placed.shelter.name, "section": placed.shelter.section, "kind": placed.shelter.kind.label,
            "people": placed.shelter.people, "is_leaders": placed.shelter.is_leaders,
            "door_bearing_deg": placed.door_bearing_deg, "slope_deg": placed.slope_deg,
            "joined_to": placed.touches, "is_by_hand": placed.is_pinned,
            "mgrs": answer.ground.grid.mgrs(round(placed.east_m, 2), round(placed.north_m, 2)),
            "src": OWN_SOURCE,
            "geometry": Point(placed.east_m, placed.north_m),
        }
        for placed in answer.camp.shelters
    ]  # fmt: skip


def _facility_rows(answer: Tonight) -> list[Row]:
    if answer.camp is None:
        return []
    return [
        {
            "kind": facility.kind,
            "name": facility.name,
            "reason": facility.reason,
            "is_by_hand": facility.is_pinned,
            "mgrs": answer.ground.grid.mgrs(round(facility.east_m, 2), round(facility.north_m, 2)),
            "src": OWN_SOURCE,
            "geometry": Point(facility.east_m, facility.north_m),
        }
        for facility in answer.camp.facilities
    ] + _alarm_rows(answer)


def _alarm_rows(answer: Tonight) -> list[Row]:
    """Where everyone gathers on alarm: told among the other places."""
    if answer.camp is None or answer.camp.security is None:
        return []
    east_m, north_m = answer.camp.security.alarm_east_m, answer.camp.security.alarm_north_m
    return [
        {
            "kind": "alarm",
            "name": "Gather here on alarm",
            "reason": "Near the middle, clear of shelters and of what burns.",
            "is_by_hand": False,
            "mgrs": answer.ground.grid.mgrs(round(east_m, 2), round(north_m, 2)),
            "src": OWN_SOURCE,
            "geometry": Point(east_m, north_m),
        }
    ]


def _sub_area_rows(answer: Tonight) -> list[Row]:
    if answer.camp is None:
        return []
    scale = answer.ground.grid.cell_area_m2 / answer.ground.grid.cell_m**2
    return [
        {"section": area.section, "area_m2": area.outline_m.area * scale, "geometry": area.outline_m}
        for area in answer.camp.sub_areas
    ]


def _perimeter_rows(answer: Tonight) -> list[Row]:
    if answer.camp is None or answer.camp.security is None:
        return []
    outline = answer.camp.security.perimeter_m
    scale = answer.ground.grid.cell_area_m2 / answer.ground.grid.cell_m**2
    return [{"area_m2": outline.area * scale, "geometry": outline}]


def _post_rows(answer: Tonight) -> list[Row]:
    if answer.camp is None or answer.camp.security is None:
        return []
    return [
        {
            "name": post.name,
            "left_bearing_deg": post.left_bearing_deg,
            "right_bearing_deg": post.right_bearing_deg,
            "seen_frac": post.seen_frac,
            "is_by_hand": post.is_pinned,
            "mgrs": answer.ground.grid.mgrs(round(post.east_m, 2), round(post.north_m, 2)),
            "src": OWN_SOURCE,
            "geometry": Point(post.east_m, post.north_m),
        }
        for post in answer.camp.security.posts
    ]


def _hazard_rows(answer: Tonight) -> list[Row]:
    terrain = answer.terrain
    ground_scale = terrain.grid.cell_area_m2 / terrain.grid.cell_m**2
    told = (
        ("avalanche release", "Slope that can release", terrain.is_avalanche_release),
        ("avalanche runout", "Ground that an avalanche can reach", terrain.is_avalanche_runout),
        ("wet ground", "Bog, marsh and ground that floods", terrain.is_wet),
        ("not known", "Slope, water or avalanche hazard not known", terrain.unsafe_unknown),
    )
    shapes = [(kind, name, mask_polygons(mask, terrain.grid)) for kind, name, mask in told]
    return [
        {"kind": kind, "name": name, "area_m2": shape.area * ground_scale, "geometry": shape}
        for kind, name, shape in shapes
        if not shape.is_empty
    ]


def _water_rows(answer: Tonight) -> list[Row]:
    terrain, grid = answer.terrain, answer.ground.grid
    scale = grid.ground_cell_m / grid.cell_m
    streams = MultiLineString([LineString(line) for line in answer.ground.stream_lines if len(line) > 1])
    derived = cell_lines(terrain.water_kind == DERIVED_STREAM, grid)
    rows: list[Row] = []
    for kind in (LAKE, RIVER, SEA):
        shape = mask_polygons(terrain.water_kind == kind, grid)
        if not shape.is_empty:
            area_m2 = shape.area * scale**2
            rows.append({"kind": WATER_KIND_NAMES[kind], "length_m": None, "area_m2": area_m2, "geometry": shape})
    for name, lines in (("mapped stream", streams), (WATER_KIND_NAMES[DERIVED_STREAM], derived)):
        if not lines.is_empty:
            rows.append({"kind": name, "length_m": lines.length * scale, "area_m2": None, "geometry": lines})
    return rows
