"""GPX, GeoJSON and KML: opened with other libraries and held against ``tonight.json``."""

from __future__ import annotations

import json
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import gpxpy
import numpy as np
import pyogrio
import pytest
import shapely

from sitepick.ground import read_routes
from sitepick.plan.model import Route
from sitepick.sheet.document import tonight_document
from sitepick.sheet.exchange import gpx_bytes, write_exchange_files
from sitepick.sheet.globe import Feature, cut_at_180
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight, with_named_end

NAME = "a|b <i> & \"c\" 'd' Αθήνα Якутск 雪山 خيمة \x07\x0b"
CENTIMETRE_DEG = 1.1e-7 * 3  # of a degree of longitude at 67° N


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return with_named_end(made_tonight(name=NAME))


@pytest.fixture(scope="module")
def folder(answer: Tonight, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("exchange")
    write_exchange_files(answer, place / "t.geojson", place / "t.kml", place / "t.gpx")
    return place


def test_gpx_opens_elsewhere_with_every_site_and_shelter_at_its_place(folder: Path, answer: Tonight) -> None:
    gpx = gpxpy.parse((folder / "t.gpx").read_text(encoding="utf-8"))
    told = tonight_document(answer)
    by_name = {point.name: point for point in gpx.waypoints}
    for site in told["sites"]:
        point = by_name[f"Site {site['rank']}, {site['name']}".replace("\x07", "").replace("\x0b", "")]
        assert (point.longitude, point.latitude) == (
            pytest.approx(site["lon"], abs=CENTIMETRE_DEG), pytest.approx(site["lat"], abs=CENTIMETRE_DEG)
        )  # fmt: skip
    assert len([point for point in gpx.waypoints if point.type == "shelter"]) == len(told["camp"]["shelters"])
    lon, lat = answer.ground.grid.to_lonlat(
        [one["easting_m"] for one in told["camp"]["shelters"]], [one["northing_m"] for one in told["camp"]["shelters"]]
    )
    found = [(point.longitude, point.latitude) for point in gpx.waypoints if point.type == "shelter"]
    assert np.allclose(found, np.column_stack([lon, lat]), atol=2e-7)
    assert gpx.time is not None
    assert gpx.time.isoformat() == "2027-02-11T07:00:00+00:00"


def test_gpx_holds_its_elements_in_the_schemas_sequence(folder: Path) -> None:
    # GPX 1.1 (topografix.com/GPX/1/1/gpx.xsd): metadata, wpt*, rte*; in a point name, desc, src, type.
    root = ET.parse(folder / "t.gpx").getroot()
    tags = [child.tag.rpartition("}")[2] for child in root]
    assert tags == sorted(tags, key=["metadata", "wpt", "rte"].index)
    for point in root:
        if point.tag.endswith("wpt"):
            assert [child.tag.rpartition("}")[2] for child in point] == ["name", "desc", "src", "type"]
    assert all(-180.0 <= float(point.get("lon", "nan")) < 180.0 for point in root.iter() if point.get("lon"))


@pytest.mark.parametrize("name", ["t.gpx", "t.geojson", "t.kml"])
def test_our_own_reader_reads_the_route_back(folder: Path, answer: Tonight, name: str) -> None:
    route = read_routes(folder / name).routes[0]
    assert route.name == answer.plan.route.name
    ends = (route.points[0], route.points[-1])
    assert np.allclose(ends, (answer.plan.route.points[0], answer.plan.route.points[-1]), atol=1e-6)
    assert "Upper hut" in route.names_by_point


def test_shelters_beside_the_route_do_not_become_points_of_it(folder: Path, answer: Tonight) -> None:
    route = read_routes(folder / "t.gpx").routes[0]
    assert len(route.points) == len(answer.plan.route.points)
    assert [name for name in route.names_by_point if name] == ["Upper hut"]


def test_geojson_is_what_the_standard_asks_for(folder: Path) -> None:
    text = (folder / "t.geojson").read_text(encoding="utf-8")
    document = json.loads(text, parse_constant=lambda word: pytest.fail(f"{word} is no JSON"))
    assert "crs" not in document
    assert '"sitepick"' not in text  # or it would pass for a plan
    for feature in document["features"]:
        assert set(feature) == {"type", "properties", "geometry"}
        shape = shapely.geometry.shape(feature["geometry"])
        assert shape.is_valid
        assert not shape.is_empty
        west, south, east, north = shape.bounds
        assert -180.0 <= west <= east <= 180.0
        assert -90.0 <= south <= north <= 90.0
        for part in shapely.get_parts(shape):
            if isinstance(part, shapely.Polygon):
                assert part.exterior.is_ccw
                assert not any(ring.is_ccw for ring in part.interiors)


def test_geojson_and_kml_tell_the_same_as_the_answer(folder: Path, answer: Tonight) -> None:
    told = tonight_document(answer)
    table = pyogrio.read_dataframe(folder / "t.geojson")
    assert table.crs.to_epsg() == 4326
    shelters = table[table["layer"] == "shelters"]
    assert list(shelters["name"]) == [one["name"] for one in told["camp"]["shelters"]]
    assert list(shelters["mgrs"]) == [one["mgrs"] for one in told["camp"]["shelters"]]
    layers = {name for name, _ in pyogrio.list_layers(folder / "t.kml")}
    assert {"Route", "Sites", "Shelters", "Other places", "Reach", "Hazards"} <= layers
    kml = pyogrio.read_dataframe(folder / "t.kml", layer="Shelters")
    assert list(kml["Name"]) == [one["name"] for one in told["camp"]["shelters"]]
    apart = shapely.distance(shapely.force_2d(kml.geometry.to_numpy()), shelters.geometry.to_numpy())
    assert float(apart.max()) < 2e-7


def test_without_a_site_there_is_still_the_route() -> None:
    found = gpxpy.parse(gpx_bytes(made_tonight(site_count=0), ()).decode("utf-8"))
    assert found.routes[0].points
    assert not found.waypoints


def test_longitude_180_becomes_minus_180_in_gpx(answer: Tonight) -> None:
    across = Route(name="Across", points=((179.9, 66.0), (180.0, 66.0), (-179.9, 66.1)))
    plan = replace(answer.plan, route=across)
    found = gpxpy.parse(gpx_bytes(replace(answer, plan=plan), ()).decode("utf-8"))
    assert [point.longitude for point in found.routes[0].points] == [179.9, -180.0, -179.9]


def test_what_crosses_180_is_cut_there() -> None:
    # RFC 7946, section 3.1.9.
    line = cut_at_180(shapely.LineString([(179.9, 66.0), (-179.9, 66.2)]))
    assert line.geom_type == "MultiLineString"
    assert line.equals(shapely.MultiLineString([[(179.9, 66.0), (180.0, 66.1)], [(-180.0, 66.1), (-179.9, 66.2)]]))
    ring = shapely.Polygon([(179.9, 66.0), (-179.9, 66.0), (-179.9, 66.2), (179.9, 66.2)])
    cut = cut_at_180(ring)
    assert cut.geom_type == "MultiPolygon"
    assert cut.is_valid
    assert cut.area == pytest.approx(0.2 * 0.2)
    assert cut_at_180(shapely.Point(-179.9, 66.0)) == shapely.Point(-179.9, 66.0)


def test_a_bow_tie_is_mended() -> None:
    bow = cut_at_180(shapely.Polygon([(0, 0), (1, 1), (1, 0), (0, 1)]))
    assert bow.is_valid
    assert bow.area == pytest.approx(0.5)


def test_every_layer_of_a_feature_is_named(answer: Tonight) -> None:
    from sitepick.sheet.globe import globe_features

    features = globe_features(answer)
    assert all(isinstance(one, Feature) and one.name and not one.geometry.is_empty for one in features)
    assert features[0].name == answer.plan.route.name
