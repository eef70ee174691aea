"""The invented sample country is small, whole, believable, and says that it is invented."""

from __future__ import annotations

import json
from functools import cache

import numpy as np
import pytest
import rasterio
from pyproj import Geod, Transformer
from scipy import ndimage

from sample_data.invented_cover import OPEN_BIRCH, SHRUB, SPRUCE, WATER
from sample_data.invented_relief import flood, pressed_hills, slope_deg
from sample_data.make_sample import (
    CELL_M,
    CRS,
    LABEL,
    MAIN_ROUTE,
    NORTH_M,
    WEST_M,
    make_days_plan,
    make_ground,
    make_plan,
)
from sitepick.plan import Plan, Route, read_plan, shelters_for
from sitepick.resource import sample_path, sample_plan_path

BARE_CODES = (20, 30, 60, 70, 100)
TO_GRID = Transformer.from_crs("EPSG:4326", CRS, always_xy=True)


@cache
def raster(name: str) -> np.ndarray:
    with rasterio.open(sample_path(name)) as file:
        return file.read(1)


def elevation() -> np.ndarray:
    return raster("ulvmark_elevation.tif")


def cover() -> np.ndarray:
    return raster("ulvmark_cover.tif")


@cache
def slope() -> np.ndarray:
    return slope_deg(elevation().astype(float), 10.0, 5.0)


def lines(name: str) -> list[dict]:
    return json.loads(sample_path(name).read_text(encoding="utf-8"))["features"]


def cells_along(lon_lat: object, step_m: float = 5.0) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns under a line, in its direction."""
    lon, lat = np.array(lon_lat).T
    east, north = TO_GRID.transform(lon, lat)
    chain = np.concatenate(([0.0], np.cumsum(np.hypot(np.diff(east), np.diff(north)))))
    even = np.arange(0.0, chain[-1], step_m)
    row = (NORTH_M - np.interp(even, chain, north)) / CELL_M
    col = (np.interp(even, chain, east) - WEST_M) / CELL_M
    return np.floor(row).astype(int), np.floor(col).astype(int)


def plan() -> Plan:
    return read_plan(sample_plan_path())


def routes() -> list[Route]:
    return [plan().route, *plan().alternatives]


def length_m(route: Route) -> float:
    lon, lat = np.array(route.points).T
    return float(Geod(ellps="WGS84").line_length(lon, lat))


def test_sample_files_stay_small() -> None:
    assert sum(path.stat().st_size for path in sample_path().glob("ulvmark*")) <= 8_000_000


def test_every_file_says_that_it_is_invented() -> None:
    for name in ("ulvmark_elevation.tif", "ulvmark_cover.tif"):
        with rasterio.open(sample_path(name)) as file:
            assert file.tags()["TIFFTAG_IMAGEDESCRIPTION"] == LABEL
    for name in ("ulvmark_streams.geojson", "ulvmark_tracks.geojson"):
        assert json.loads(sample_path(name).read_text(encoding="utf-8"))["description"] == LABEL
    assert "invented" in plan().name
    assert "invented" in plan().note


def test_elevation_and_cover_lie_on_the_same_cells() -> None:
    with (
        rasterio.open(sample_path("ulvmark_elevation.tif")) as heights,
        rasterio.open(sample_path("ulvmark_cover.tif")) as growth,
    ):
        assert heights.crs == growth.crs == CRS
        assert heights.transform == growth.transform
        assert heights.shape == growth.shape == (2000, 2000)
        assert heights.units == ("metre",)
        assert 66.5 < heights.lnglat()[1] < 67.5


def test_no_cell_is_unknown_and_every_code_is_in_the_legend() -> None:
    table = np.genfromtxt(
        [line for line in _legend_lines() if line and not line.startswith("#")], delimiter=",", dtype=str, skip_header=1
    )
    assert set(np.unique(cover()).tolist()) <= {int(code) for code in table[:, 0]}
    assert np.isfinite(elevation()).all()
    assert elevation().min() > 0.0


def _legend_lines() -> list[str]:
    return sample_path("..", "resources", "legends", "cgls_lc100.csv").read_text(encoding="utf-8").splitlines()


def test_every_lake_is_level() -> None:
    middle = ndimage.binary_erosion(cover() == WATER, np.ones((9, 9)))  # no outlet and no river is that wide
    labels, count = ndimage.label(middle)
    numbers = np.arange(1, count + 1)
    assert (ndimage.maximum(elevation(), labels, numbers) == ndimage.minimum(elevation(), labels, numbers)).all()


def test_there_are_lakes_of_different_size() -> None:
    labels, _ = ndimage.label(ndimage.binary_opening(cover() == WATER, np.ones((9, 9))))
    areas_ha = np.sort(np.bincount(labels.ravel())[1:]) / 100.0
    assert len(areas_ha) >= 8
    assert areas_ha[0] < 10.0
    assert areas_ha[-1] > 150.0


def test_no_shore_is_a_cliff() -> None:
    is_water = cover() == WATER
    shore = ndimage.binary_dilation(is_water, np.ones((3, 3))) & ~is_water
    rise = elevation() - ndimage.minimum_filter(np.where(is_water, elevation(), np.inf), size=3)
    assert np.percentile(rise[shore], 99.0) < 4.0


def test_shores_lie_below_their_lake_only_where_water_runs_out() -> None:
    is_water = cover() == WATER
    on_stream = np.zeros(is_water.shape, dtype=bool)
    for feature in lines("ulvmark_streams.geojson"):
        on_stream[cells_along(feature["geometry"]["coordinates"])] = True
    shore = ndimage.binary_dilation(is_water, np.ones((3, 3))) & ~is_water
    rise = elevation() - ndimage.minimum_filter(np.where(is_water, elevation(), np.inf), size=3)
    low = shore & (rise < -0.5)
    assert 0.0 < low.sum() < 0.01 * shore.sum()
    assert ndimage.distance_transform_edt(~on_stream)[low].max() <= 8.0


def test_streams_never_run_uphill() -> None:
    for feature in lines("ulvmark_streams.geojson"):
        heights = elevation()[cells_along(feature["geometry"]["coordinates"])]
        assert (heights - np.minimum.accumulate(heights)).max() <= 1.5, feature["properties"]["name"]


def test_the_river_runs_in_water_cells() -> None:
    for feature in lines("ulvmark_streams.geojson"):
        if feature["properties"]["kind"] == "river":
            assert (cover()[cells_along(feature["geometry"]["coordinates"])] == WATER).mean() > 0.97


def test_every_stream_ends_in_other_water_or_at_the_rim() -> None:
    is_wet = cover() == WATER
    features = lines("ulvmark_streams.geojson")
    for feature in features:
        is_wet[cells_along(feature["geometry"]["coordinates"][:-1])] = True
    for feature in features:
        row, col = (place[-1] for place in cells_along(feature["geometry"]["coordinates"]))
        near = is_wet[max(row - 4, 0) : row + 5, max(col - 4, 0) : col + 5]
        assert near.any() or min(row, col, 1999 - row, 1999 - col) < 5


def test_plan_holds_the_promised_unit_and_weather() -> None:
    held = plan()
    assert held.unit.people == 38
    assert held.unit.shelters == shelters_for(38)
    assert len(held.unit.shelters) == 5
    assert (held.march.mode, held.march.has_sled) == ("ski", True)
    assert held.march.depart.isoformat() == "2027-02-11T08:00:00+01:00"
    assert (held.weather.wind_from_deg, held.weather.wind_kmh) == (300.0, 28.0)
    assert (held.weather.temperature_c, held.weather.snow_cm) == (-21.0, 70.0)


def test_plan_file_is_what_the_maker_writes() -> None:
    assert plan() == make_plan(sample_plan_path().parent)


def test_plan_names_files_that_are_there() -> None:
    source = plan().ground
    assert all(path.is_file() for path in (*source.elevation, *source.cover, *source.streams, *source.tracks))


def test_route_is_a_long_day_and_lies_inside_the_ground() -> None:
    assert 14_000.0 <= length_m(plan().route) <= 16_500.0
    assert 7 <= len(MAIN_ROUTE) == len(plan().route.points) <= 12
    assert len(plan().alternatives) == 2
    for route in routes():
        row, col = cells_along(route.points)
        assert min(row.min(), col.min(), 1999 - row.max(), 1999 - col.max()) > 100


def test_routes_cross_wide_water_on_tracks_only() -> None:
    on_track = np.zeros(cover().shape, dtype=bool)
    for feature in lines("ulvmark_tracks.geojson"):
        on_track[cells_along(feature["geometry"]["coordinates"])] = True
    on_track = ndimage.binary_dilation(on_track, np.ones((3, 3)))
    for route in routes():
        row, col = cells_along(route.points)
        assert not ((cover()[row, col] == WATER) & ~on_track[row, col]).any(), route.name


def test_routes_keep_off_steep_ground() -> None:
    for route in routes():
        assert slope()[cells_along(route.points)].max() < 18.0, route.name


def test_route_stays_clear_of_slopes_that_slide() -> None:
    row, col = cells_along(plan().route.points, step_m=100.0)
    start_row, start_col = np.nonzero(_can_slide())
    run_m = np.hypot(start_row - row[:, None], start_col - col[:, None]) * 10.0
    drop_m = elevation()[start_row, start_col] - elevation()[row, col][:, None]
    # 18 degrees from the start to the furthest reach: the lowest angle in use for mapping (Toft et al. 2024).
    assert np.degrees(np.arctan2(drop_m, run_m)).max() < 18.0


@cache
def _can_slide() -> np.ndarray:
    """Open slopes of 30-45 degrees, patches of half a hectare and more."""
    steep = (slope() >= 30.0) & (slope() <= 45.0) & np.isin(cover(), BARE_CODES)
    labels, count = ndimage.label(steep)
    large = np.flatnonzero(np.bincount(labels.ravel(), minlength=count + 1) >= 50)
    return np.isin(labels, large[large > 0])


def test_there_are_high_open_slopes_that_slide() -> None:
    labels, count = ndimage.label(ndimage.binary_dilation(_can_slide(), np.ones((5, 5))))
    drops = [np.ptp(elevation()[spot]) for spot in ndimage.find_objects(labels, count)]
    assert _can_slide().sum() / 100.0 > 50.0
    assert max(drops) > 150.0


def test_there_are_gentle_spruce_benches_near_the_route() -> None:
    gentle = (slope() < 5.7) & (cover() == SPRUCE)
    labels, _ = ndimage.label(ndimage.binary_opening(gentle, np.ones((5, 5))))
    near = np.zeros(cover().shape, dtype=bool)
    near[cells_along(plan().route.points)] = True
    near = ndimage.distance_transform_edt(~near) < 100.0
    area_ha = np.bincount(labels[near])[1:] / 100.0
    assert (area_ha > 6.0).sum() >= 8


def test_trees_end_at_the_tree_line() -> None:
    is_tree = (cover() >= 111) & (cover() <= 126)
    assert is_tree[elevation() > 660.0].mean() < 0.01
    assert is_tree[(elevation() > 380.0) & (elevation() < 500.0)].mean() > 0.5
    assert np.median(elevation()[cover() == OPEN_BIRCH]) > np.median(elevation()[cover() == SPRUCE]) + 80.0
    assert np.median(elevation()[cover() == SHRUB]) > 560.0


def test_flood_fills_a_hollow_to_its_lip_and_drains_every_cell_outwards() -> None:
    height = np.full((5, 6), 9.0)
    height[1:4, 1:5] = 4.0
    height[2, 2] = 1.0
    height[2, 5] = 6.0
    filled, order, below = flood(height)
    assert (filled[1:4, 1:5] == 6.0).all()
    rank = np.empty(order.size, dtype=int)
    rank[order] = np.arange(order.size)
    inner = below != np.arange(below.size)
    assert (rank[below[inner]] < rank[inner]).all()


@pytest.mark.slow
def test_the_maker_gives_the_same_ground_every_time() -> None:
    first, second = (make_ground(80.0, coarse_m=160.0) for _ in range(2))
    assert np.array_equal(first.elevation_m, second.elevation_m)
    assert np.array_equal(first.cover, second.cover)
    assert all(np.array_equal(a.points, b.points) for a, b in zip(first.streams, second.streams, strict=True))


@pytest.mark.slow
def test_the_files_are_the_ground_of_the_design() -> None:
    shrunk = elevation().reshape(250, 8, 250, 8).mean((1, 3))
    assert np.median(np.abs(pressed_hills(80.0) - shrunk)) < 8.0


def test_the_journeys_plan_is_what_its_maker_makes() -> None:
    assert read_plan(sample_path("ulvmark_days.geojson")) == make_days_plan(sample_plan_path().parent)
