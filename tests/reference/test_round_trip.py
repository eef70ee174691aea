"""What is written can be read: by other libraries, and by the program itself as ground for another plan."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import geopandas
import gpxpy
import numpy as np
import pyogrio
import pytest
import rasterio
from pyproj import Transformer

from sitepick.ground import Ground, read_ground, read_routes
from sitepick.paint import write_pdf
from sitepick.plan.model import GroundSource
from sitepick.sheet import write_handout
from sitepick.sheet.layers import answer_layers, ground_layers, layer_geotiff
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight, with_named_end
from tests.helpers.moved import watched
from tests.helpers.real_places import coast_plan

CENTIMETRE_M = 0.011
PLACES = ("shelters", "facilities", "posts")


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return with_named_end(watched(made_tonight(people=150)))


@pytest.fixture(scope="module")
def folder(answer: Tonight, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("out")
    write_handout(answer, place, draw_pdf=write_pdf)
    return place


@pytest.fixture(scope="module")
def told(folder: Path) -> dict[str, dict[str, tuple[float, float]]]:
    """Easting and northing of every place by layer and name, as tonight.json tells them."""
    document = json.loads((folder / "tonight.json").read_text(encoding="utf-8"))
    found = {
        layer: {one["name"]: (one["easting_m"], one["northing_m"]) for one in document["camp"][layer]}
        for layer in PLACES
    }
    gather = document["camp"]["alarm"]
    found["facilities"]["Gather here on alarm"] = (gather["easting_m"], gather["northing_m"])
    found["sites"] = {site["name"]: (site["easting_m"], site["northing_m"]) for site in document["sites"]}
    return found


@pytest.mark.slow
def test_the_geopackage_tells_the_places_of_the_json(folder: Path, told: dict, answer: Tonight) -> None:
    for layer in PLACES:
        table = pyogrio.read_dataframe(folder / "tonight.gpkg", layer=layer)
        assert_same_places({row["name"]: (row.geometry.x, row.geometry.y) for _, row in table.iterrows()}, told[layer])
    sites = pyogrio.read_dataframe(folder / "tonight.gpkg", layer="sites")
    assert sites.geometry.is_valid.all()
    for _, site in sites.iterrows():
        east_m, north_m = told["sites"][site["name"]]
        assert site.geometry.contains(geopandas.points_from_xy([east_m], [north_m])[0])


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tonight.geojson", "tonight.kml"])
def test_geojson_and_kml_tell_the_places_of_the_json(folder: Path, told: dict, name: str) -> None:
    for layer, title in (("shelters", "Shelters"), ("facilities", "Other places"), ("posts", "Posts")):
        if name.endswith("kml"):
            table = pyogrio.read_dataframe(folder / name, layer=title).rename(columns={"Name": "name"})
        else:
            table = pyogrio.read_dataframe(folder / name)
            table = table[table["layer"] == layer]
        grid = table.to_crs(32634).geometry
        found = {row_name: (point.x, point.y) for row_name, point in zip(table["name"], grid, strict=True)}
        assert_same_places(found, told[layer])


@pytest.mark.slow
def test_gpx_tells_the_places_of_the_json(folder: Path, told: dict) -> None:
    to_grid = Transformer.from_crs(4326, 32634, always_xy=True)
    gpx = gpxpy.parse((folder / "tonight.gpx").read_text(encoding="utf-8"))
    for layer, kind in (("shelters", "shelter"), ("facilities", "place"), ("posts", "post"), ("sites", "site")):
        found = {
            str(point.name).partition(", ")[2] if kind == "site" else point.name: to_grid.transform(
                point.longitude, point.latitude
            )
            for point in gpx.waypoints
            if point.type == kind
        }
        assert_same_places(found, told[layer])


def assert_same_places(found: dict, wanted: dict) -> None:
    assert set(found) == set(wanted)
    for name, (east_m, north_m) in wanted.items():
        assert found[name] == pytest.approx((east_m, north_m), abs=CENTIMETRE_M), name


@pytest.mark.slow
@pytest.mark.parametrize("name", ["tonight.gpkg", "tonight.gpx", "tonight.geojson", "tonight.kml"])
def test_the_route_is_read_back_from_every_file(folder: Path, answer: Tonight, name: str) -> None:
    route = read_routes(folder / name).routes[0]
    if name == "tonight.gpkg":  # the way as it is marched, in pieces, on the grid
        start = [float(value) for value in answer.ground.grid.to_lonlat(*answer.march.route_m[0])]
    else:
        start = list(answer.plan.route.points[0])
        assert len(route.points) == len(answer.plan.route.points)
        assert "Upper hut" in route.names_by_point
    assert np.allclose(route.points[0], start, atol=1e-6)
    assert not {"Tent 1", "Latrine", "Post 1", "Water point"} & set(route.names_by_point)  # they stand beside it


@pytest.mark.slow
def test_the_score_lies_where_one_may_pitch_and_nowhere_else(folder: Path, answer: Tonight) -> None:
    with rasterio.open(folder / "score.tif") as file:
        assert file.tags(ns="IMAGE_STRUCTURE")["LAYOUT"] == "COG"
        assert file.crs.to_epsg() == 32634
        score = file.read(1)
        pick = answer.sites.sites[0]
        ((at_pick,),) = file.sample([(pick.east_m, pick.north_m)])
    known = np.isfinite(score)
    assert not (known & ~answer.sites.can_pitch).any()
    assert known.any()
    assert 0.0 <= score[known].min() <= score[known].max() <= 1.0
    row, col = answer.ground.grid.cell_at(pick.east_m, pick.north_m)
    assert at_pick == answer_layers(answer)["score"][row, col]


@pytest.mark.slow
def test_layers_that_were_written_are_ground_for_the_next_plan(tmp_path: Path) -> None:
    """Heights and cover of a real place, written and read back, are the same to the last bit."""
    plan = coast_plan()
    first = read_ground(plan)
    for name, values in ground_layers(first).items():
        (tmp_path / f"{name}.tif").write_bytes(layer_geotiff(name, values, first.grid))
    source = GroundSource(
        elevation=(tmp_path / "elevation_m.tif",), cover=(tmp_path / "cover_code.tif",), legend="worldcover"
    )
    again = read_ground(replace(plan, ground=source))
    assert again.grid.crs == first.grid.crs
    assert again.grid.cell_m == first.grid.cell_m
    mine, theirs = shared(first, again)
    known = np.isfinite(theirs.elevation_m)
    assert known.mean() > 0.9
    assert np.array_equal(mine.elevation_m[known], theirs.elevation_m[known])
    sure = theirs.cover_index >= 0
    assert np.array_equal(mine.cover_index[sure], theirs.cover_index[sure])


def shared(one: Ground, other: Ground) -> tuple[Ground, Ground]:
    """The two on the cells that both have."""
    west_m, north_m = max(one.grid.west_m, other.grid.west_m), min(one.grid.north_m, other.grid.north_m)
    east_m, south_m = min(one.grid.east_m, other.grid.east_m), max(one.grid.south_m, other.grid.south_m)
    cut = []
    for ground in (one, other):
        grid = ground.grid
        row, col = round((grid.north_m - north_m) / grid.cell_m), round((west_m - grid.west_m) / grid.cell_m)
        rows, cols = round((north_m - south_m) / grid.cell_m), round((east_m - west_m) / grid.cell_m)
        part = (slice(row, row + rows), slice(col, col + cols))
        smaller = replace(grid, west_m=west_m, north_m=north_m, rows=rows, cols=cols)
        cut.append(
            replace(
                ground, grid=smaller, elevation_m=ground.elevation_m[part], cover_index=ground.cover_index[part],
                canopy_height_m=None,
            )
        )  # fmt: skip
    return cut[0], cut[1]
