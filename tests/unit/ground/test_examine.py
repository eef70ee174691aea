"""What files are, told in sentences."""

from __future__ import annotations

import numpy as np
import pytest
import rasterio

from sitepick.errors import GroundError
from sitepick.ground import examine_files
from tests.helpers.real_places import DATA
from tests.unit.ground.files import GRASS, TREE, WATER, lonlat, plane, write_lines, write_raster


def told(path, **known):
    (facts,) = examine_files([path], **known)
    return facts


def test_real_elevation_is_told_with_cells_on_the_ground_and_heights():
    facts = told(DATA / "n57e011_elevation.tif")
    assert (facts.role, facts.serves) == ("elevation", True)
    for words in ("GTiff", "EPSG:4326", "509 x 335 cells of 49 x 93 m", "metres", "57.720 to 58.000° N", "-6 to 163 m"):
        assert words in facts.text


def test_real_cover_is_told_with_its_codes_and_the_legend_that_fits():
    facts = told(DATA / "n57e011_cover.tif", legend="worldcover")
    assert (facts.role, facts.serves, facts.legends) == ("cover", True, ("worldcover",))
    assert "codes 10, 30, 40, 50, 60, 80, 90" in facts.text


def test_cover_under_the_wrong_legend_will_not_serve():
    facts = told(DATA / "n57e011_cover.tif", legend="nlcd")
    assert not facts.serves
    assert facts.faults[0].endswith("use worldcover.")


def test_a_file_held_against_a_legend_that_knows_some_of_its_codes_is_judged_as_cover(tmp_path):
    path = write_raster(tmp_path / "c.tif", np.array([[TREE, 99], [GRASS, 98]], dtype=np.int16))
    facts = told(path, legend="worldcover")
    assert facts.role == "cover"
    assert "lacks the codes 98, 99" in facts.faults[0]


def test_codes_that_several_legends_explain_name_them_all(tmp_path):
    path = write_raster(tmp_path / "c.tif", np.array([[1, 2], [18, 2]], dtype=np.uint8))
    assert told(path).legends == ("corine_grid", "nalcms")


@pytest.mark.parametrize(("dtype", "role"), [("float32", "elevation"), ("int16", "elevation")])
def test_heights_are_told_from_codes(tmp_path, dtype, role):
    assert told(write_raster(tmp_path / "e.tif", plane(60, 200, cell_m=30.0, dtype=dtype))).role == role


def test_codes_in_a_wide_type_are_still_cover(tmp_path):
    given = np.array([[TREE, GRASS], [WATER, TREE]], dtype=np.int32)
    assert told(write_raster(tmp_path / "c.tif", given)).role == "cover"


def test_feet_and_undeclared_gaps_are_told(tmp_path):
    given = plane(30, 30)
    given[0, 0] = -9999.0
    facts = told(write_raster(tmp_path / "e.tif", given, units=("ft",)))
    assert "foots" not in facts.text
    assert "heights in feet" in facts.text
    assert "-9999, taken as no data though not declared so" in facts.text
    assert "59 to 64 m" in facts.text


def test_a_vector_file_is_told_layer_by_layer(tmp_path):
    path = write_lines(tmp_path / "streams.geojson", [lonlat(0, 0), lonlat(5, 5)], [lonlat(0, 0), lonlat(5, 9)])
    facts = told(path)
    assert (facts.role, facts.serves) == ("vector", True)
    assert "2 x LineString" in facts.text


def test_faults_are_told_per_file_and_others_still_answer(tmp_path):
    good = write_raster(tmp_path / "e.tif", plane(30, 30))
    answers = examine_files([tmp_path / "none.tif", good, tmp_path, "https://example.org/a.tif", "/vsicurl/a.tif"])
    assert [facts.serves for facts in answers] == [False, True, False, False, False]
    assert answers[0].faults == ("There is no such file; check the name and the folder.",)
    assert answers[2].faults == ("This is a folder, not a file; name the file inside it.",)
    assert [facts.path for facts in answers][:2] == [str(tmp_path / "none.tif"), str(good)]


def test_heights_in_another_unit_without_a_tag_are_told(tmp_path):
    facts = told(write_raster(tmp_path / "cm.tif", plane(30, 30) * 100.0))
    assert not facts.serves
    assert "check its unit" in facts.faults[0]


def test_a_large_file_is_sampled_not_read_through(tmp_path):
    path = tmp_path / "large.tif"
    transform = rasterio.Affine(0.001, 0.0, 0.0, 0.0, -0.001, 60.0)
    profile = {"driver": "GTiff", "dtype": "int16", "count": 1, "height": 30_000, "width": 30_000, "tiled": True}
    with rasterio.open(path, "w", crs="EPSG:4326", transform=transform, sparse_ok=True, **profile):
        pass
    facts = told(path)
    assert facts.role == "elevation"
    assert "0 to 0 m" in facts.text


def test_an_unreadable_legend_is_an_error():
    with pytest.raises(GroundError, match="not known"):
        examine_files([DATA / "n57e011_cover.tif"], legend="nothing")
