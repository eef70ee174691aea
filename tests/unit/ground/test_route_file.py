"""Routes out of files."""

from __future__ import annotations

import json

import numpy as np
import pyogrio
import pytest
import shapely

from sitepick.errors import GroundError
from sitepick.ground import read_route, read_routes

POINTS = [(21.0, 67.4), (21.05, 67.41), (21.1, 67.4)]

GPX = """<?xml version="1.0"?>
<gpx version="1.1" creator="made" xmlns="http://www.topografix.com/GPX/1/1">
<wpt lat="60" lon="10"/>
{body}
</gpx>"""
TRACK = """<trk><trkseg><trkpt lat="67.4" lon="21.0"/><trkpt lat="67.41" lon="21.05"/></trkseg>
<trkseg><trkpt lat="67.4" lon="21.1"/><trkpt lat="67.35" lon="21.15"/></trkseg></trk>"""
ROUTE = '<rte><name>Way</name><rtept lat="67.4" lon="21.0"/><rtept lat="67.5" lon="21.2"/></rte>'


def gpx_file(folder, body, *, version="1.1", name="walk.gpx"):
    path = folder / name
    head = f'<gpx version="{version}" creator="made" xmlns="http://www.topografix.com/GPX/{version.replace(".", "/")}">'
    path.write_text(f'<?xml version="1.0"?>\n{head}\n{body}\n</gpx>', encoding="utf-8")
    return path


def place(name, lat, lon):
    return f'<wpt lat="{lat}" lon="{lon}"><name>{name}</name></wpt>'


def track(*parts, name=""):
    points = ["".join(f'<trkpt lat="{lat}" lon="{lon}"/>' for lon, lat in part) for part in parts]
    return f"<trk><name>{name}</name>{''.join(f'<trkseg>{part}</trkseg>' for part in points)}</trk>"


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


def test_a_file_without_anything_holds_no_route(tmp_path):
    with pytest.raises(GroundError, match="there is no line in it; name a file"):
        read_route(gpx_file(tmp_path, ""))


def test_a_file_of_named_points_says_so(tmp_path):
    body = place("Hut", 67.4, 21.0) + place("Ford", 67.5, 21.0)
    with pytest.raises(GroundError, match="no line in it, only 2 named points"):
        read_route(gpx_file(tmp_path, body))


def test_a_line_of_one_point_is_refused(tmp_path):
    with pytest.raises(GroundError, match="its line has only one point"):
        read_route(gpx_file(tmp_path, track([(21.0, 67.4)])))


def test_a_route_of_one_place_is_refused(tmp_path):
    path = tmp_path / "still.geojson"
    geometry = {"type": "LineString", "coordinates": [[21.0, 67.4], [21.0, 67.4]]}
    path.write_text(json.dumps({"type": "Feature", "properties": {}, "geometry": geometry}))
    with pytest.raises(GroundError, match="never leaves its first point"):
        read_route(path)


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("a.gpx", "<gpx><trk>", "cut off at line 1, and holds no line"),
        ("a.gpx", "<html><body>Log in</body></html>", "not a vector file"),
        ("a.gpx", "hello", "not a vector file"),
        ("a.geojson", "{", "cut off: it is not whole JSON"),
        ("a.geojson", '{"type": "FeatureCollection", "features": []}', "there is no line in it"),
        ("a.kml", "<kml><Document><Placemark>", "not a vector file"),
        ("a.gpkg", "SQLite format 3", "not a vector file"),
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


@pytest.mark.parametrize("version", ["1.0", "1.1"])
def test_every_line_of_a_file_becomes_a_route_of_its_own(tmp_path, version):
    body = track(POINTS, name="Out") + ROUTE + track(POINTS[::-1], name="Out") + track([(21.0, 67.4)])
    read = read_routes(gpx_file(tmp_path, body, version=version))
    assert [route.name for route in read.routes] == ["Way", "Out", "Out 2"]
    assert read.notes[0] == "The file holds 4 lines; Way is taken, Out and Out 2 kept as other routes."
    assert read.notes[1] == "1 line that leads nowhere left out."


def test_a_map_full_of_lines_is_no_choice_of_routes(tmp_path):
    read = read_routes(gpx_file(tmp_path, track(POINTS, name="A") * 30))
    assert len(read.routes) == 12
    assert "The 18 lines after the first 12 were not looked at." in read.notes


def test_a_wide_gap_between_segments_is_a_caution(tmp_path):
    body = track([(21.0, 67.4), (21.05, 67.41)], [(21.051, 67.41), (21.1, 67.4)], [(21.3, 67.4), (21.4, 67.4)])
    read = read_routes(gpx_file(tmp_path, body))
    assert "walk: Its 3 parts are joined in their order." in read.notes
    assert len(read.cautions) == 1
    assert "between part 2 and part 3 the file leaves 8.6 km open" in read.cautions[0].text


def test_named_points_near_the_line_become_its_own(tmp_path):
    body = place("Bend", 67.41, 21.05) + place("Spring", 67.4052, 21.0252) + place("Peak", 67.5, 21.05) + track(POINTS)
    read = read_routes(gpx_file(tmp_path, body))
    route = read.routes[0]
    assert route.point_names == (None, "Spring", "Bend", None)
    assert route.points[1] == pytest.approx((21.025, 67.405), abs=0.001)
    assert route.points[2] == POINTS[1]
    assert "walk: 2 named points: Spring and Bend." in read.notes
    assert "1 named point farther than 100 m from every line left out." in read.notes


def test_the_points_of_a_gpx_route_keep_their_names(tmp_path):
    points = "".join(f'<rtept lat="67.4" lon="{21 + n / 100}"><name>{name}</name></rtept>' for n, name in
                     enumerate(("Base", "", "Ford &amp; bank", "  Camp\n2 ")))  # fmt: skip
    route = read_route(gpx_file(tmp_path, f"<rte>{points}</rte>"))
    assert route.point_names == ("Base", "Ford & bank", "Camp 2")  # the nameless one lies straight between


@pytest.mark.parametrize(("name", "driver"), [("a.geojson", None), ("a.gpkg", None), ("a.kml", "LIBKML")])
def test_lines_and_named_points_of_other_formats(tmp_path, name, driver):
    shapes = [shapely.LineString(POINTS), shapely.Point(21.05, 67.4101), shapely.LineString(POINTS[::-1])]
    field = np.array(["There", "Bend", "Back"], dtype=object)
    pyogrio.raw.write(
        tmp_path / name, shapely.to_wkb(np.array(shapes)), [field], ["name"], geometry_type="Unknown",
        crs="EPSG:4326", driver=driver,
    )  # fmt: skip
    routes = read_routes(tmp_path / name).routes
    assert [route.name for route in routes] == ["There", "Back"]
    assert [route.point_names for route in routes] == [(None, "Bend", None)] * 2


def test_every_layer_of_a_geopackage_is_looked_at(tmp_path):
    path = tmp_path / "all.gpkg"
    metric = np.array([shapely.LineString([(500_000.0, 7_470_000.0), (505_000.0, 7_470_000.0)])])
    degrees = np.array([shapely.LineString(POINTS)])
    for layer, shape, crs in (("metric", metric, "EPSG:32634"), ("degrees", degrees, "EPSG:4326")):
        pyogrio.raw.write(
            path, shapely.to_wkb(shape), [], [], geometry_type="LineString", crs=crs, layer=layer,
            append=path.exists(), driver="GPKG",
        )  # fmt: skip
    routes = read_routes(path).routes
    assert routes[0].points[0] == pytest.approx((21.0, 67.346), abs=0.001)
    assert routes[1].points == tuple(POINTS)


def test_an_old_geojson_may_name_its_projection(tmp_path):
    path = tmp_path / "old.geojson"
    crs = {"type": "name", "properties": {"name": "urn:ogc:def:crs:EPSG::32634"}}
    geometry = {"type": "LineString", "coordinates": [[500_000, 7_470_000], [505_000, 7_470_000]]}
    feature = {"type": "Feature", "properties": {}, "geometry": geometry}
    path.write_text(json.dumps({"type": "FeatureCollection", "crs": crs, "features": [feature]}))
    assert read_route(path).points[0] == pytest.approx((21.0, 67.346), abs=0.001)


def test_a_recorded_kml_track_is_a_line(tmp_path):
    path = tmp_path / "walk.kml"
    coords = "".join(f"<when>2027-02-11T08:0{n}:00Z</when>" for n in range(3))
    coords += "".join(f"<gx:coord>{lon} {lat} 300</gx:coord>" for lon, lat in POINTS)
    spaces = 'xmlns="http://www.opengis.net/kml/2.2" xmlns:gx="http://www.google.com/kml/ext/2.2"'
    path.write_text(f"<kml {spaces}><Document><Placemark><gx:Track>{coords}</gx:Track></Placemark></Document></kml>")
    assert read_route(path).points == tuple(POINTS)


def test_the_parts_of_a_line_are_put_in_order_where_they_meet(tmp_path):
    parts = [[(21.1, 67.4), (21.05, 67.41)], [(21.1, 67.4), (21.2, 67.42)], [(21.0, 67.4), (21.05, 67.41)]]
    route = read_route(line_file(tmp_path / "m.gpkg", shapely.MultiLineString(parts)))
    assert set(route.points) == {point for part in parts for point in part}
    assert [lon for lon, _ in route.points] in ([21.0, 21.05, 21.1, 21.2], [21.2, 21.1, 21.05, 21.0])


def test_what_stands_before_a_broken_tail_is_taken_with_a_caution(tmp_path):
    path = gpx_file(tmp_path, track([*POINTS, (21.2, 67.45)]))
    path.write_text(path.read_text().partition('<trkpt lat="67.45"')[0] + '<trkpt lat="67.4')
    read = read_routes(path)
    assert read.routes[0].points == tuple(POINTS)
    assert "cut off at line 3" in read.cautions[0].text
    assert "see whether the route reaches its end" in read.cautions[0].text


def test_latitude_and_longitude_the_wrong_way_round_are_told(tmp_path):
    body = track([(lat, lon) for lon, lat in [(121.0, 67.4), (121.1, 67.4)]])
    with pytest.raises(GroundError, match="longitude and latitude look swapped"):
        read_route(gpx_file(tmp_path, body))


@pytest.mark.parametrize("nonsense", ["nan", "1e999", "", "north", "95.0"])
def test_points_that_are_no_place_are_left_out(tmp_path, nonsense):
    points = [(21.0, 67.4), (21.02, nonsense), (21.05, 67.41)]
    read = read_routes(gpx_file(tmp_path, track(points)))
    assert read.routes[0].points == ((21.0, 67.4), (21.05, 67.41))
    assert "walk: 1 point without a place on the globe left out." in read.notes


def test_a_first_point_far_from_all_others_is_a_caution(tmp_path):
    close = [(21.0 + n / 10_000, 67.4) for n in range(30)]
    read = read_routes(gpx_file(tmp_path, track([(20.9, 67.45), *close])))
    assert read.routes[0].points[0] == (20.9, 67.45)
    assert "its first point lies 7.0 km from the next" in read.cautions[0].text


@pytest.mark.parametrize("name", ["bomb.gpx", "bomb.kml"])
def test_xml_that_declares_entities_is_refused(tmp_path, name):
    root = "gpx" if name.endswith("gpx") else "kml"
    path = tmp_path / name
    path.write_text(
        f'<?xml version="1.0"?>\n<!DOCTYPE {root} [<!ENTITY a "x"><!ENTITY b SYSTEM "file:///etc/passwd">]>\n'
        f"<{root}><name>&b;</name>{track(POINTS, name='&a;')}</{root}>"
    )
    with pytest.raises(GroundError):
        read_routes(path)


def test_a_file_in_another_encoding_keeps_its_names(tmp_path):
    path = tmp_path / "way.gpx"
    text = f'<?xml version="1.0" encoding="ISO-8859-1"?><gpx>{track(POINTS, name="Över fjället")}</gpx>'
    path.write_bytes(text.encode("latin-1"))
    assert read_route(path).name == "Över fjället"


def test_a_route_across_the_180th_meridian_is_one_line(tmp_path):
    route = read_route(gpx_file(tmp_path, track([(179.98, 67.4), (-179.99, 67.41), (-179.95, 67.4)])))
    assert route.points == ((179.98, 67.4), (-179.99, 67.41), (-179.95, 67.4))
