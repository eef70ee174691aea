"""The layers of tonight.gpkg, read back."""

from __future__ import annotations

from pathlib import Path

import geopandas
import numpy as np
import pyogrio
import pytest
import rasterio

from sitepick.sheet.geopackage import LAYERS, write_geopackage
from sitepick.sheet.layers import write_layers
from sitepick.sheet.model import Sheet
from tests.helpers.made_tonight import made_tonight, with_named_end


@pytest.mark.slow
@pytest.mark.parametrize("site_count", [3, 0])
def test_every_layer_is_there_with_its_columns_even_when_it_is_empty(tmp_path: Path, site_count: int) -> None:
    path = tmp_path / "tonight.gpkg"
    write_geopackage(made_tonight(site_count=site_count), path)
    assert [str(name) for name, _ in pyogrio.list_layers(path)] == list(LAYERS)
    for layer, columns in LAYERS.items():
        info = pyogrio.read_info(path, layer=layer)
        assert list(info["fields"]) == list(columns)
        assert info["crs"] == "EPSG:32634"


@pytest.mark.slow
def test_layers_hold_what_was_found(tmp_path: Path) -> None:
    answer = made_tonight()
    path = tmp_path / "tonight.gpkg"
    write_geopackage(answer, path)

    def read(layer: str) -> geopandas.GeoDataFrame:
        return pyogrio.read_dataframe(path, layer=layer)

    sites = read("sites")
    assert list(sites["rank"]) == [1, 2, 3]
    assert sites.geometry[0].equals(answer.sites.sites[0].outline_m)
    shelters = read("shelters")
    assert answer.camp is not None
    assert list(shelters["name"]) == [placed.shelter.name for placed in answer.camp.shelters]
    assert shelters.geometry[0].x == answer.camp.shelters[0].east_m
    assert set(read("reach")["pace"]) == {"early", "likely", "late"}
    hazards = read("hazards").set_index("kind")
    assert hazards.loc["avalanche release", "area_m2"] == pytest.approx(15 * 40 * 100.0, rel=0.01)
    assert list(read("route")["part"]) == ["reached at likely pace", "past the reach"]
    water = read("water").set_index("kind")
    assert water.loc["lake", "area_m2"] == pytest.approx(40 * 60 * 100.0, rel=0.01)
    assert water.loc["mapped stream", "length_m"] > 3000.0


@pytest.mark.slow
def test_a_drawer_of_pictures_is_handed_every_layer_as_a_page(tmp_path: Path) -> None:
    answer = made_tonight()
    drawn = {}

    def draw(sheet: Sheet, page: int, path: Path, dots_per_inch: float) -> None:
        drawn[path.stem] = sheet.title
        path.write_bytes(f"{page} {dots_per_inch:g}".encode())

    written = write_layers(answer.plan, answer.ground, answer.terrain, tmp_path / "layers", draw_png=draw)
    assert {path.stem for path in written if path.suffix == ".tif"} == set(drawn)
    assert (tmp_path / "layers" / "slope_deg.png").read_bytes() == b"0 254"
    assert drawn["is_wet"] == "Bog, marsh and ground that floods"


@pytest.mark.slow
def test_every_layer_of_the_ground_is_written_to_measure_and_to_look_at(tmp_path: Path) -> None:
    answer = made_tonight()
    written = write_layers(answer.plan, answer.ground, answer.terrain, tmp_path / "layers")
    names = {path.name for path in written}
    assert {"slope_deg.tif", "slope_deg.png", "elevation_m.tif", "cover_code.tif", "ground.png"} <= names
    assert {"sun_hours.tif", "sun_hours.png", "seen_share.tif", "seen_share.png"} <= names
    for path in written:
        if path.suffix == ".tif":
            with rasterio.open(path) as file:
                assert file.descriptions[0], path.name
    with rasterio.open(tmp_path / "layers" / "sun_hours.tif") as file:
        assert file.units == ("h",)
        assert "trees is not counted" in file.descriptions[0]
        sun_hours = file.read(1)
    assert 0.0 < np.nanmax(sun_hours) < 9.0  # mid-February at 67 N
    with rasterio.open(tmp_path / "layers" / "elevation_m.tif") as file:
        assert file.tags(ns="IMAGE_STRUCTURE")["LAYOUT"] == "COG"
        assert file.crs.to_epsg() == 32634
        assert file.transform == answer.ground.grid.affine
        read = file.read(1)
    assert read[100, 100] == answer.ground.elevation_m[100, 100]
    assert read[0, -1] != read[0, -1]  # not a number: not known


def test_every_layer_that_terrain_may_hold_has_its_unit_and_meaning() -> None:
    from dataclasses import fields

    from sitepick.sheet.layers import MEANINGS
    from sitepick.terrain.model import Terrain

    arrays = {one.name for one in fields(Terrain) if "Array" in str(one.type)}
    assert "bare_elevation_m" in arrays  # of a surface model alone
    assert arrays <= set(MEANINGS)


@pytest.mark.slow
def test_named_points_of_the_route_are_a_layer_with_their_numbers(tmp_path: Path) -> None:
    answer = with_named_end(made_tonight())
    path = tmp_path / "tonight.gpkg"
    write_geopackage(answer, path)
    points = pyogrio.read_dataframe(path, layer="route_points")
    points = points[points["kind"] == "named point"]
    assert list(zip(points["number"], points["name"], strict=True)) == [(2, "Upper hut")]
    grid = answer.ground.grid
    assert points["mgrs"][0] == grid.mgrs(points.geometry[0].x, points.geometry[0].y)
    assert (points.geometry[0].x, points.geometry[0].y) == pytest.approx(
        [float(value) for value in grid.from_lonlat(*answer.plan.route.points[1])], abs=0.01
    )
