"""Bad ground files: each ends in one sentence that says what, where and what to do."""

from __future__ import annotations

import socket
from pathlib import Path

import numpy as np
import pytest
import rasterio

from sitepick.errors import GroundError
from sitepick.ground import examine_files, read_ground
from tests.helpers.made import NORTH_M, WEST_M
from tests.unit.ground.files import GRASS, TREE, from_origin, lonlat, plan_for, plane, write_lines, write_raster

ROWS, COLS = 40, 60


@pytest.fixture
def elevation(tmp_path):
    return write_raster(tmp_path / "elevation.tif", plane(ROWS, COLS))


@pytest.fixture
def cover(tmp_path):
    return write_raster(tmp_path / "cover.tif", np.full((ROWS, COLS), TREE, dtype=np.uint8))


def sentence(*args, **known):
    """What reading a plan with a bad file says."""
    with pytest.raises(GroundError) as caught:
        read_ground(plan_for(*args, **known))
    text = str(caught.value)
    assert text.count("Traceback") == 0
    assert text.endswith(".")
    return text


def write_text(path: Path, text: str) -> Path:
    path.write_text(text)
    return path


def test_a_missing_file(tmp_path, cover):
    assert "no such file" in sentence(tmp_path / "none.tif", cover)


def test_a_folder_instead_of_a_file(tmp_path, cover):
    assert "this is a folder" in sentence(tmp_path, cover)


def test_an_empty_file(tmp_path, cover):
    assert "the file is empty" in sentence(write_text(tmp_path / "e.tif", ""), cover)


def test_a_text_file_named_tif(tmp_path, cover):
    assert "not a raster that can be read" in sentence(write_text(tmp_path / "e.tif", "heights: many"), cover)


@pytest.mark.parametrize("kept", [0.1, 0.6, 0.95])
def test_a_file_cut_off(tmp_path, elevation, cover, kept):
    content = write_raster(tmp_path / "whole.tif", np.random.default_rng(1).random((400, 400), np.float32)).read_bytes()
    cut = tmp_path / "cut.tif"
    cut.write_bytes(content[: int(len(content) * kept)])
    told = sentence(cut, cover)
    assert "damaged or cut off" in told
    assert "cut.tif" in told


def test_a_cover_file_cut_off(tmp_path, elevation):
    content = write_raster(tmp_path / "whole.tif", np.full((400, 400), TREE, np.uint8)).read_bytes()
    cut = tmp_path / "cut.tif"
    cut.write_bytes(content[: len(content) // 50])
    assert "damaged or cut off" in sentence(elevation, cut)


def test_no_projection(tmp_path, cover):
    assert "no projection" in sentence(write_raster(tmp_path / "e.tif", plane(ROWS, COLS), crs=None), cover)


def test_no_place_on_the_map(tmp_path, cover):
    path = tmp_path / "e.tif"
    with pytest.warns(rasterio.errors.NotGeoreferencedWarning):
        write_raster(path, plane(ROWS, COLS), transform=rasterio.Affine.identity())
    assert "where on the map it lies" in sentence(path, cover)


def test_metres_tagged_as_degrees(tmp_path, cover):
    assert "can't be the degrees" in sentence(
        write_raster(tmp_path / "e.tif", plane(ROWS, COLS), crs="EPSG:4326"), cover
    )


def test_degrees_tagged_as_metres(tmp_path, cover):
    path = write_raster(tmp_path / "e.tif", plane(ROWS, COLS), transform=from_origin(21.0, 67.4, 0.0001, 0.0001))
    assert "look like degrees" in sentence(path, cover)


def test_a_local_projection(tmp_path, cover):
    local = 'LOCAL_CS["Quarry",UNIT["metre",1],AXIS["East",EAST],AXIS["North",NORTH]]'
    path = write_raster(tmp_path / "e.tif", plane(ROWS, COLS), crs=rasterio.crs.CRS.from_wkt(local))
    assert "local one without a place on the globe" in sentence(path, cover)


def test_a_picture_as_elevation(tmp_path, cover):
    picture = np.full((4, ROWS, COLS), 120, dtype=np.uint8)
    path = write_raster(tmp_path / "dem.tif", picture, photometric="RGB", alpha="yes")
    assert "this is a picture, not elevation" in sentence(path, cover)


def test_a_picture_as_cover(tmp_path, elevation):
    path = write_raster(tmp_path / "map.tif", np.full((3, ROWS, COLS), 120, dtype=np.uint8), photometric="RGB")
    assert "this is a picture, not cover" in sentence(elevation, path)


def test_cover_in_fractions(tmp_path, elevation):
    path = write_raster(tmp_path / "c.tif", np.full((ROWS, COLS), 10.5, dtype=np.float32))
    assert "not whole numbers" in sentence(elevation, path)


def test_whole_codes_in_a_float_raster_serve(tmp_path, elevation):
    path = write_raster(tmp_path / "c.tif", np.full((ROWS, COLS), float(GRASS), dtype=np.float32))
    assert read_ground(plan_for(elevation, path)).is_known().all()


def test_a_single_cell(tmp_path, cover):
    assert "only 1 x 1 cells" in sentence(write_raster(tmp_path / "e.tif", np.array([[5.0]])), cover)


@pytest.mark.parametrize("value", [-9999.0, np.nan])
def test_nothing_but_gaps(tmp_path, cover, value):
    path = write_raster(tmp_path / "e.tif", np.full((ROWS, COLS), value, np.float32), nodata=-9999.0)
    assert "there is no known height" in sentence(path, cover)


def test_cover_of_nothing_but_gaps(tmp_path, elevation):
    path = write_raster(tmp_path / "c.tif", np.zeros((ROWS, COLS), np.uint8), nodata=0)
    assert "there is no known land cover" in sentence(elevation, path)


def test_heights_in_an_unknown_unit(tmp_path, cover):
    path = write_raster(tmp_path / "e.tif", plane(ROWS, COLS), units=("fathom",))
    told = sentence(path, cover)
    assert "'fathom'" in told
    assert "elevation_unit" in told


def test_cover_that_lies_elsewhere(tmp_path, elevation):
    away = from_origin(WEST_M + 3000.0, NORTH_M, 10.0, 10.0)
    path = write_raster(tmp_path / "c.tif", np.full((ROWS, COLS), TREE, np.uint8), transform=away)
    assert "cover the same ground as the elevation" in sentence(elevation, path)


def test_elevation_that_misses_the_route(tmp_path, cover):
    away = from_origin(WEST_M + 90_000.0, NORTH_M, 10.0, 10.0)
    path = write_raster(tmp_path / "e.tif", plane(ROWS, COLS), transform=away)
    assert "name elevation files that cover the route" in sentence(path, cover)


def test_a_route_that_starts_off_the_ground(elevation, cover):
    told = sentence(elevation, cover, points=(lonlat(10, -30), lonlat(10, 30)))
    assert "where no height is known" in told
    assert "move its start" in told


def test_a_legend_that_explains_nothing_and_no_other_does(tmp_path, elevation):
    path = write_raster(tmp_path / "c.tif", np.full((ROWS, COLS), 238, np.uint8))
    assert "make a legend of your own" in sentence(elevation, path)


def test_a_vector_file_that_is_none(tmp_path, elevation, cover):
    path = write_text(tmp_path / "streams.gpkg", "no package")
    assert "not a vector file" in sentence(elevation, cover, streams=(path,))


def test_all_faults_of_all_files_are_told_at_once(tmp_path, elevation):
    picture = write_raster(tmp_path / "map.tif", np.full((3, ROWS, COLS), 9, np.uint8), photometric="RGB")
    told = sentence((elevation, tmp_path / "none.tif"), picture, canopy_height=(tmp_path,), legend=tmp_path / "no.csv")
    assert "4 faults" in told
    for words in (
        "none.tif: there is no such file",
        "map.tif: this is a picture",
        "this is a folder",
        "no such legend",
    ):
        assert words in told


@pytest.mark.parametrize("name", ["höjd på berget.tif", "a b (1).tif", "a#b.tif", "a%20b.tif", "[1].tif"])
def test_odd_names_are_read(tmp_path, cover, name):
    path = write_raster(tmp_path / "plain.tif", plane(ROWS, COLS)).rename(tmp_path / name)
    assert read_ground(plan_for(path, cover)).grid.shape == (ROWS, COLS)


def test_an_odd_narrow_strip_is_read(tmp_path):
    elevation = write_raster(tmp_path / "e.tif", plane(8, 160))
    cover = write_raster(tmp_path / "c.tif", np.full((8, 160), TREE, np.uint8))
    assert read_ground(plan_for(elevation, cover, points=(lonlat(4, 4), lonlat(4, 50)))).grid.shape == (8, 160)


# What points elsewhere, carries code or talks to a network is never opened.

VRT = """<VRTDataset rasterXSize="60" rasterYSize="40"><SRS>EPSG:32634</SRS>
<GeoTransform>{west}, 10, 0, {north}, 0, -10</GeoTransform>
<VRTRasterBand dataType="Float32" band="1"{kind}>{body}</VRTRasterBand></VRTDataset>"""
SOURCE = '<SimpleSource><SourceFilename relativeToVRT="{relative}">{name}</SourceFilename></SimpleSource>'


def write_vrt(path, body, kind=""):
    return write_text(path, VRT.format(west=WEST_M, north=NORTH_M, body=body, kind=kind))


def test_a_virtual_raster_of_local_files_is_read(tmp_path, elevation, cover):
    path = write_vrt(tmp_path / "v.vrt", SOURCE.format(name="elevation.tif", relative=1))
    np.testing.assert_allclose(read_ground(plan_for(path, cover)).elevation_m, plane(ROWS, COLS), atol=1e-3)


@pytest.mark.parametrize(
    "name", ["/vsicurl/http://127.0.0.1:1/a.tif", "http://127.0.0.1:1/a.tif", "/vsizip/a.zip/a.tif", "&lt;VRTDataset/>",
             "WMS:http://127.0.0.1:1/", "none.tif", "HDF5:a.h5://x"],
)  # fmt: skip
@pytest.mark.parametrize("suffix", [".vrt", ".tif"])
def test_a_virtual_raster_that_points_elsewhere_is_refused(tmp_path, cover, name, suffix):
    path = write_vrt(tmp_path / f"v{suffix}", SOURCE.format(name=name, relative=0))
    assert "this virtual raster points to" in sentence(path, cover)


def test_a_virtual_raster_inside_another_is_looked_through(tmp_path, cover):
    write_vrt(tmp_path / "inner.vrt", SOURCE.format(name="/vsicurl/http://127.0.0.1:1/a.tif", relative=0))
    path = write_vrt(tmp_path / "outer.vrt", SOURCE.format(name="inner.vrt", relative=1))
    assert "this virtual raster points to 'inner.vrt'" in sentence(path, cover)


def test_a_virtual_raster_that_names_itself_ends(tmp_path, cover):
    path = write_vrt(tmp_path / "loop.vrt", SOURCE.format(name="loop.vrt", relative=1))
    assert "nested too deep" in sentence(path, cover)


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        (' subClass="VRTDerivedRasterBand"', "<PixelFunctionLanguage>Python</PixelFunctionLanguage>"),
        ("", "<PixelFunctionCode>import os</PixelFunctionCode>"),
        (' subClass="VRTRawRasterBand"', '<SourceFilename relativeToVRT="1">elevation.tif</SourceFilename>'),
    ],
)
def test_a_virtual_raster_that_carries_code_is_refused(tmp_path, elevation, cover, kind, body):
    path = write_vrt(tmp_path / "v.vrt", body + SOURCE.format(name="elevation.tif", relative=1), kind)
    assert "this virtual raster will not be opened" in sentence(path, cover)


def test_a_virtual_raster_with_entities_is_refused(tmp_path, cover):
    path = write_vrt(tmp_path / "v.vrt", "&a;")
    path.write_text('<!DOCTYPE x [<!ENTITY a "b">]>' + path.read_text())
    assert "damaged or too large" in sentence(path, cover)


@pytest.mark.parametrize("name", ["a.zip", "a.tar.gz", "a.kmz"])
def test_an_archive_is_refused(tmp_path, cover, name):
    assert "this is an archive" in sentence(write_text(tmp_path / name, "PK"), cover)


def test_a_web_source_is_refused_without_a_call(tmp_path, cover, monkeypatch):
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        listener.listen()
        listener.settimeout(0.05)
        server = f"http://127.0.0.1:{listener.getsockname()[1]}/"
        text = f"<GDAL_WMS><Service name='WMS'><ServerUrl>{server}</ServerUrl></Service></GDAL_WMS>"
        path = write_text(tmp_path / "w.xml", text)
        assert "only points elsewhere" in sentence(path, cover)
        vector = write_text(
            tmp_path / "w.vrt", f"<OGRVRTDataSource><OGRVRTLayer name='a'>{server}</OGRVRTLayer></OGRVRTDataSource>"
        )
        assert "only points elsewhere" in sentence(path, cover, streams=(vector,))
        assert not any(facts.serves for facts in examine_files([server + "a.tif", f"/vsicurl/{server}a.tif", path]))
        with pytest.raises(TimeoutError):
            listener.accept()


def test_vector_lines_without_a_projection(tmp_path, elevation, cover):
    import pyogrio
    import shapely

    path = tmp_path / "s.fgb"
    line = np.array([shapely.LineString([(0, 0), (1, 1)])], dtype=object)
    with pytest.warns(UserWarning, match="crs"):
        pyogrio.raw.write(path, shapely.to_wkb(line), [], [], geometry_type="LineString", crs=None)
    assert "no projection" in sentence(elevation, cover, streams=(path,))


def test_lines_elsewhere_leave_the_ground_as_it_is(tmp_path, elevation, cover):
    path = write_lines(tmp_path / "s.geojson", [(10.0, 50.0), (11.0, 50.0)])
    assert not read_ground(plan_for(elevation, cover, streams=(path,))).is_stream.any()
