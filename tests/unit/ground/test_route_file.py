"""Routes out of files."""

from __future__ import annotations

import json

import numpy as np
import pyogrio
import pytest
import shapely

from sitepick.errors import GroundError
from sitepick.ground import read_route

POINTS = [(21.0, 67.4), (21.05, 67.41), (21.1, 67.4)]

GPX = """<?xml version="1.0"?>
<gpx version="1.1" creator="made" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="60" lon="10"/>
{body}
</gpx>"""
TRACK = """<trk><trkseg><trkpt lat="67.4" lon="21.0"/><trkpt lat="67.41" lon="21.05"/></trkseg>
<trkseg><trkpt lat="67.4" lon="21.1"/><trkpt lat="67.35" lon="21.15"/></trkseg></trk>"""
ROUTE = '<rte><name>Way</name><rtept lat="67.4" lon="21.0"/><rtept lat="67.5" lon="21.2"/></rte>'


def line_file(path, line, *, crs="EPSG:4326"):
    geometry = np.array([line], dtype=object)
    driver = {".kml": "LIBKML"}.get(path.suffix)
    wkb = shapely.to_wkb(geometry)
    pyogrio.raw.write(path, wkb, [], [], geometry_type=line.geom_type, crs=crs, driver=driver)
    return path


@pytest.mark.parametrize("name", ["a.geojson", "a.gpkg", "a.kml", "a.fgb", "a.shp"])
def test_formats_give_the_same_route(tmp_path, name):
    route = read_route(line_file(tmp_path / name, shapely.LineString(POINTS)))
    np.testing.assert_allclose(route.points, POINTS, atol=1e-6)
    assert route.name == "a"


def test_metric_lines_come_back_in_degrees(tmp_path):
    line = shapely.LineString([(500_000.0, 7_470_000.0), (505_000.0, 7_470_000.0)])
    route = read_route(line_file(tmp_path / "m.gpkg", line, crs="EPSG:32634"))
    assert route.points[0] == pytest.approx((21.0, 67.346), abs=0.001)


def test_a_gpx_route_goes_before_its_tracks(tmp_path):
    path = tmp_path / "both.gpx"
    path.write_text(GPX.format(body=ROUTE + TRACK))
    assert read_route(path).points == ((21.0, 67.4), (21.2, 67.5))


def test_the_parts_of_a_track_are_joined_in_their_order(tmp_path):
    path = tmp_path / "track.gpx"
    path.write_text(GPX.format(body=TRACK))
    assert read_route(path).points == ((21.0, 67.4), (21.05, 67.41), (21.1, 67.4), (21.15, 67.35))


def test_a_recorded_track_is_thinned_to_what_shows(tmp_path):
    lon = np.linspace(21.0, 21.1, 3000)
    line = shapely.LineString(np.column_stack([lon, 67.4 + 0.01 * np.sin(60 * (lon - 21.0))]))
    route = read_route(line_file(tmp_path / "long.gpkg", line))
    assert 10 < len(route.points) < 200
    assert shapely.hausdorff_distance(shapely.LineString(route.points), line) < 0.0001


@pytest.mark.parametrize("body", ["", '<wpt lat="61" lon="11"/>'])
def test_a_file_of_points_holds_no_route(tmp_path, body):
    path = tmp_path / "points.gpx"
    path.write_text(GPX.format(body=body))
    with pytest.raises(GroundError, match="there is no line in it"):
        read_route(path)


def test_a_route_of_one_place_is_refused(tmp_path):
    path = tmp_path / "still.geojson"
    geometry = {"type": "LineString", "coordinates": [[21.0, 67.4], [21.0, 67.4]]}
    path.write_text(json.dumps({"type": "Feature", "properties": {}, "geometry": geometry}))
    with pytest.raises(GroundError, match="never leaves its first point"):
        read_route(path)


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("a.gpx", "<gpx><trk>", "not a vector file"),
        ("a.geojson", "{", "not a vector file"),
        ("a.txt", "hello", "not a vector file"),
        ("a.gpx", "", "the file is empty"),
        ("a.kmz", "x", "archive"),
        ("a.vrt", "<OGRVRTDataSource/>", "only points elsewhere"),
    ],
)
def test_files_that_hold_no_route_are_told(tmp_path, name, content, told):
    path = tmp_path / name
    path.write_text(content)
    with pytest.raises(GroundError) as caught:
        read_route(path)
    assert told in str(caught.value)
    assert str(path) in str(caught.value)


def test_a_missing_file_and_an_address_are_told(tmp_path):
    with pytest.raises(GroundError, match="no such file"):
        read_route(tmp_path / "none.gpx")
    with pytest.raises(GroundError, match="not a file on this computer"):
        read_route("https://example.org/a.gpx")
