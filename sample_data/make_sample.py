"""Makes Ulvmark, an invented piece of subarctic country, and the plan that opens at first start.

Run ``python -m sample_data.make_sample`` from a checkout; it writes its files beside itself. Nothing here
is a real place: names, heights, water, forest and tracks come from the design in the ``invented_...`` modules
and a fixed random start. The same versions of numpy and scipy give the same arrays.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

import geopandas
import numpy as np
import numpy.typing as npt
import rasterio
from pyproj import Transformer
from rasterio.transform import from_origin
from shapely.geometry import LineString

from sample_data.invented_cover import HAMLET, grown_cover
from sample_data.invented_relief import (
    COARSE_M,
    SIDE_M,
    Array,
    pressed_hills,
    refined,
    with_benches,
    with_hollows,
    worn_down,
)
from sample_data.invented_water import Stream, stream_paths, with_lakes, with_streams
from sitepick.plan import Area, GroundSource, MarchSettings, Plan, Route, Unit, Weather, shelters_for, write_plan
from sitepick.plan.journey import DayForecast, JourneySettings

WEST_M, NORTH_M = 470_000.0, 7_430_000.0
SOUTH_M = NORTH_M - SIDE_M
CRS = "EPSG:32634"
CELL_M = 10.0
LABEL = "Invented ground, no real place"

Places = tuple[tuple[float, float], ...]

# Lines below are (east_km, north_km) from the south-west corner, as in the design of the ground.
BRIDGE: Places = ((17.12, 4.98), (16.80, 4.70))
ROAD_UP_THE_VALLEY: Places = (HAMLET, (16.95, 6.0), (15.1, 7.45))
TRACKS: tuple[tuple[str, Places], ...] = (
    ("Winter road to the hamlet", ((20.0, 5.3), (19.2, 5.45), (18.6, 5.2), HAMLET)),
    ("Winter road up the valley", ROAD_UP_THE_VALLEY),
    ("Bridge track", (HAMLET, *BRIDGE, (16.2, 4.5), (15.4, 4.15))),
    ("Wood track", ((16.95, 6.0), (17.3, 6.6), (17.75, 7.3), (18.1, 8.2))),
)
MAIN_ROUTE: Places = (
    *ROAD_UP_THE_VALLEY, (14.3, 8.6), (13.2, 8.95), (12.35, 9.7), (11.9, 10.3), (10.7, 10.1), (9.6, 10.8), (9.0, 12.4),
    (7.7, 12.8), (6.4, 14.2),
)  # fmt: skip
OVER_THE_RIDGE: Places = (
    HAMLET, *BRIDGE, (15.4, 4.15), (13.0, 4.1), (12.6, 5.9), (11.0, 7.6), (8.9, 7.7), (7.3, 9.9), (6.2, 11.2),
    (5.0, 12.6), (3.6, 13.2),
)  # fmt: skip
ALONG_THE_LAKES: Places = (
    HAMLET, *BRIDGE, (15.4, 4.15), (12.2, 4.0), (10.6, 4.1), (9.4, 4.7), (8.7, 5.3), (7.6, 5.8), (6.9, 6.4),
    (6.3, 6.35), (3.9, 6.15),
)  # fmt: skip
# The same ways, gone on with to one goal west of the fell lake, some days off.
ROUND_THE_FELL_LAKE: Places = (
    (6.395, 14.195), (6.365, 14.205), (5.815, 14.065), (5.275, 14.195), (4.875, 14.895), (4.825, 15.005),
    (4.805, 15.155), (4.895, 15.265), (4.995, 15.345), (5.005, 15.395), (4.965, 15.545), (4.925, 15.585),
    (3.585, 16.445), (3.505, 16.565), (3.475, 16.585), (3.235, 16.565), (2.765, 16.345), (2.705, 16.295),
    (2.605, 16.165), (2.565, 16.065), (2.585, 15.735), (2.555, 15.655), (2.485, 15.505), (2.505, 15.315),
    (2.325, 15.015), (2.385, 14.815), (2.475, 14.745), (2.505, 14.705), (2.555, 14.685), (2.615, 14.635),
    (2.665, 14.565), (2.875, 14.125), (3.205, 13.715), (3.225, 13.655), (3.235, 13.635), (3.275, 13.585), (3.6, 13.2),
)  # fmt: skip
OVER_THE_WEST_HILL: Places = (
    (3.785, 6.505), (3.775, 6.535), (3.815, 7.925), (3.955, 8.325), (4.225, 8.565), (4.965, 10.315), (5.145, 11.055),
    (5.205, 11.645), (5.165, 11.935), (5.085, 12.345), (4.515, 12.795), (4.415, 12.855), (4.005, 13.275),
    (3.795, 13.295), (3.6, 13.2),
)  # fmt: skip
ENCLOSURE: Places = ((12.55, 10.9), (13.0, 10.8), (13.25, 11.2), (12.95, 11.45), (12.6, 11.3), (12.55, 10.9))

NOTE = (
    "Ulvmark is invented: ground, water, forest, tracks, names and weather are made up to show what sitepick does. "
    "Nothing in it may be used to travel by."
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SampleGround:
    """Everything that is made, before it is written.

    Attributes
    ----------
    cell_m : float
    elevation_m : ndarray, float32
        In steps of 1/8 m.
    cover : ndarray, uint8
    streams : tuple of Stream
    """

    cell_m: float
    elevation_m: npt.NDArray[np.float32]
    cover: npt.NDArray[np.uint8]
    streams: tuple[Stream, ...]


def make_ground(cell_m: float = CELL_M, *, coarse_m: float = COARSE_M) -> SampleGround:
    """The invented country at a cell size.

    Parameters
    ----------
    cell_m : float
        Of the rasters made; 10 for the files, larger for a quick look.
    coarse_m : float
        Of the grid on which the hills are worn down.
    """
    coarse = worn_down(pressed_hills(coarse_m), coarse_m)
    height = with_hollows(with_benches(refined(coarse, coarse_m, cell_m), cell_m), cell_m)
    height, is_lake = with_lakes(height, cell_m)
    paths = stream_paths(height, is_lake, cell_m)
    height, is_river, streams = with_streams(height, is_lake, paths, cell_m)
    height = np.round(height * 8.0) / 8.0
    cover = grown_cover(height, is_lake | is_river, cell_m)
    return SampleGround(cell_m=cell_m, elevation_m=height.astype(np.float32), cover=cover, streams=streams)


def lon_lat(points: Places) -> Places:
    """Design places as longitude and latitude, to about 0.1 m."""
    to_wgs84 = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True)
    found = [to_wgs84.transform(WEST_M + east * 1000.0, SOUTH_M + north * 1000.0) for east, north in points]
    return tuple((round(lon, 6), round(lat, 6)) for lon, lat in found)


def make_plan(folder: Path) -> Plan:
    """The plan that opens at first start; its files lie in `folder`."""
    return Plan(
        name="Ulvmark (invented)",
        note=NOTE,
        ground=GroundSource(
            elevation=(folder / "ulvmark_elevation.tif",),
            cover=(folder / "ulvmark_cover.tif",),
            legend="cgls_lc100",
            elevation_unit="metre",
            elevation_kind="terrain",
            streams=(folder / "ulvmark_streams.geojson",),
            tracks=(folder / "ulvmark_tracks.geojson",),
        ),
        unit=Unit(people=38, shelters=shelters_for(38)),
        weather=Weather(wind_from_deg=300.0, wind_kmh=28.0, temperature_c=-21.0, snow_cm=70.0),
        march=MarchSettings(depart=datetime.fromisoformat("2027-02-11T08:00+01:00"), mode="ski", has_sled=True),
        route=Route(name="Up the valley", points=lon_lat(MAIN_ROUTE)),
        alternatives=(
            Route(name="Over the ridge", points=lon_lat(OVER_THE_RIDGE)),
            Route(name="Along the lakes", points=lon_lat(ALONG_THE_LAKES)),
        ),
        areas=(Area(name="Reindeer enclosure", ring=lon_lat(ENCLOSURE)),),
    )


def make_days_plan(folder: Path) -> Plan:
    """The same unit on a journey of several days: three ways to one goal, with a forecast for each day."""
    plan = make_plan(folder)
    return replace(
        plan,
        name="Ulvmark in days (invented)",
        route=Route(name="Up the valley", points=lon_lat((*MAIN_ROUTE, *ROUND_THE_FELL_LAKE))),
        alternatives=(
            Route(name="Over the ridge", points=lon_lat(OVER_THE_RIDGE)),
            Route(name="Along the lakes", points=lon_lat((*ALONG_THE_LAKES, *OVER_THE_WEST_HILL))),
        ),
        journey=JourneySettings(
            days_max=6,
            supply_every_days=3,
            forecasts=(
                DayForecast(day=2, wind_from_deg=330.0, wind_kmh=35.0, temperature_c=-24.0),
                DayForecast(day=3, wind_from_deg=20.0, wind_kmh=20.0, temperature_c=-29.0),
                DayForecast(day=4, wind_from_deg=60.0, wind_kmh=15.0, temperature_c=-26.0),
            ),
        ),
    )


def write_rasters(ground: SampleGround, folder: Path) -> None:
    """Elevation and cover, small: heights keep their steps of 1/8 m exactly."""
    rows, cols = ground.cover.shape
    shared = {
        "driver": "GTiff", "width": cols, "height": rows, "count": 1, "crs": CRS, "tiled": True,
        "transform": from_origin(WEST_M, NORTH_M, ground.cell_m, ground.cell_m), "blockxsize": 256, "blockysize": 256,
    }  # fmt: skip
    elevation = {
        "dtype": "float32",
        "nodata": -9999.0,
        "compress": "lerc_zstd",
        "max_z_error": 1.0 / 16.0,
        "zstd_level": 19,
    }
    with rasterio.open(folder / "ulvmark_elevation.tif", "w", **shared, **elevation) as out:
        out.write(ground.elevation_m, 1)
        out.set_band_description(1, "height of the bare ground")
        out.set_band_unit(1, "metre")
        out.update_tags(TIFFTAG_IMAGEDESCRIPTION=LABEL)
    cover = {"dtype": "uint8", "nodata": 0, "compress": "deflate", "zlevel": 9}
    with rasterio.open(folder / "ulvmark_cover.tif", "w", **shared, **cover) as out:
        out.write(ground.cover, 1)
        out.set_band_description(1, "land cover, codes of the Copernicus CGLS-LC100 legend")
        out.update_tags(TIFFTAG_IMAGEDESCRIPTION=LABEL)


def write_lines(lines: list[tuple[str, str, LineString]], path: Path) -> None:
    """Named lines as GeoJSON, thinned to about 2 m."""
    frame = geopandas.GeoSeries([line for _, _, line in lines], crs=CRS).simplify(2.0).to_crs("EPSG:4326")
    features = [
        {
            "type": "Feature",
            "properties": {"name": name, "kind": kind},
            "geometry": {"type": "LineString", "coordinates": np.round(line.coords, 6).tolist()},
        }
        for (name, kind, _), line in zip(lines, frame, strict=True)
    ]
    document = {"type": "FeatureCollection", "description": LABEL, "features": features}
    path.write_text(json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n", encoding="utf-8")


def stream_lines(streams: tuple[Stream, ...]) -> list[tuple[str, str, LineString]]:
    """The streams as named lines, each drawn in the direction that it runs."""
    return [
        (
            "Ulvmark river" if stream.is_river else "Brook",
            "river" if stream.is_river else "stream",
            LineString(stream.points[:, :2] + (WEST_M, SOUTH_M)),
        )
        for stream in streams
    ]


def track_lines() -> list[tuple[str, str, LineString]]:
    """Winter roads and tracks; the bridge is part of its track."""
    corner: Array = np.array((WEST_M, SOUTH_M))
    return [(name, "track", LineString(np.array(points) * 1000.0 + corner)) for name, points in TRACKS]


def main() -> None:
    """Make everything beside this script."""
    folder = Path(__file__).resolve().parent
    ground = make_ground()
    write_rasters(ground, folder)
    write_lines(stream_lines(ground.streams), folder / "ulvmark_streams.geojson")
    write_lines(track_lines(), folder / "ulvmark_tracks.geojson")
    write_plan(make_plan(folder), folder / "ulvmark.geojson")
    write_plan(make_days_plan(folder), folder / "ulvmark_days.geojson")
    for path in sorted(folder.glob("ulvmark*")):
        print(f"{path.name}: {math.ceil(path.stat().st_size / 1000)} kB")


if __name__ == "__main__":
    main()
