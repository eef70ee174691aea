"""Rasters on the grid: closed answers for heights and codes."""

from __future__ import annotations

import numpy as np
import pytest
import rasterio
from affine import Affine
from pyproj import Transformer

from sitepick.ground.align import Findings
from sitepick.units import FEET_M, US_SURVEY_FEET_M
from tests.helpers.made import CRS, NORTH_M, WEST_M, make_grid
from tests.unit.ground.files import GRASS, TREE, WATER, codes, from_origin, heights, opened, plane, write_raster


def test_a_raster_on_our_own_cells_comes_through_unchanged(tmp_path):
    given = np.random.default_rng(1).uniform(0, 500, (40, 50)).astype(np.float32)
    path = write_raster(tmp_path / "a.tif", given)
    np.testing.assert_allclose(heights(path, rows=40, cols=50), given, atol=1e-3)


def degrees_of_plane(path, *, rows=260, cols=320, step_deg=0.0001):
    """The tilted plane sampled on cells of a ten-thousandth of a degree around the made grid."""
    to_globe = Transformer.from_crs(CRS, "EPSG:4326", always_xy=True)
    west, north = to_globe.transform(WEST_M - 50.0, NORTH_M + 50.0)
    lon = west + (np.arange(cols) + 0.5) * step_deg
    lat = north - (np.arange(rows) + 0.5) * step_deg
    east_m, north_m = to_globe.transform(*np.meshgrid(lon, lat), direction="INVERSE")
    values = (200.0 + 0.03 * (east_m - WEST_M) - 0.02 * (NORTH_M - north_m)).astype(np.float32)
    transform = from_origin(west, north, step_deg, step_deg)
    return write_raster(path, values, crs="EPSG:4326", transform=transform)


def test_a_tilted_plane_in_degrees_stays_a_plane_within_a_centimetre(tmp_path):
    path = degrees_of_plane(tmp_path / "degrees.tif")
    np.testing.assert_allclose(heights(path, rows=100, cols=100), plane(100, 100), atol=0.01)


def test_web_mercator_is_measured_on_the_ground(tmp_path):
    to_map = Transformer.from_crs(CRS, "EPSG:3857", always_xy=True)
    west, north = to_map.transform(WEST_M - 100.0, NORTH_M + 100.0)
    step = 25.0  # of the map; under 10 m on the ground at 67° N
    x, y = np.meshgrid(west + (np.arange(300) + 0.5) * step, north - (np.arange(300) + 0.5) * step)
    east_m, north_m = to_map.transform(x, y, direction="INVERSE")
    values = (200.0 + 0.03 * (east_m - WEST_M) - 0.02 * (NORTH_M - north_m)).astype(np.float32)
    path = write_raster(tmp_path / "m.tif", values, crs="EPSG:3857", transform=from_origin(west, north, step, step))
    np.testing.assert_allclose(heights(path, rows=60, cols=60), plane(60, 60), atol=0.01)
    assert opened(path).coarsest_cell_m == pytest.approx(9.6, abs=0.1)


def test_a_south_up_raster_gives_the_same_heights(tmp_path):
    given = plane(40, 50)
    upside = Affine(10.0, 0.0, WEST_M, 0.0, 10.0, NORTH_M - 400.0)
    path = write_raster(tmp_path / "south.tif", given[::-1], transform=upside)
    np.testing.assert_allclose(heights(path, rows=40, cols=50), given, atol=1e-3)


def test_a_turned_raster_gives_the_same_plane(tmp_path):
    across, down = 10.0 * np.cos(np.radians(30.0)), 10.0 * np.sin(np.radians(30.0))
    turned = Affine(across, -down, WEST_M + 300.0, -down, -across, NORTH_M + 400.0)
    row, col = np.mgrid[0:120, 0:120] + 0.5
    east_m = turned.a * col + turned.b * row + turned.c
    north_m = turned.d * col + turned.e * row + turned.f
    values = (200.0 + 0.03 * (east_m - WEST_M) - 0.02 * (NORTH_M - north_m)).astype(np.float32)
    path = write_raster(tmp_path / "turned.tif", values, transform=turned)
    got = heights(path, rows=80, cols=80)
    known = np.isfinite(got)
    assert known.mean() > 0.5
    np.testing.assert_allclose(got[known], plane(80, 80)[known], atol=0.01)


def test_coarse_heights_are_interpolated_between_their_cells(tmp_path):
    path = write_raster(tmp_path / "coarse.tif", plane(20, 20, cell_m=30.0), cell_m=30.0)
    got = heights(path, rows=60, cols=60)
    np.testing.assert_allclose(got[2:-2, 2:-2], plane(60, 60)[2:-2, 2:-2], atol=0.01)


def test_fine_heights_are_averaged_over_the_cell(tmp_path):
    noise = np.where(np.indices((300, 300)).sum(axis=0) % 2, 5.0, -5.0)
    path = write_raster(tmp_path / "fine.tif", (plane(300, 300, cell_m=1.0) + noise).astype(np.float32), cell_m=1.0)
    got = heights(path, rows=30, cols=30)
    np.testing.assert_allclose(got[1:-1, 1:-1], plane(30, 30)[1:-1, 1:-1], atol=0.02)


@pytest.mark.parametrize(
    ("tag", "metres"),
    [("ft", FEET_M), ("US survey foot", US_SURVEY_FEET_M), ("metre", 1.0), ("cm", 0.01), ("dm", 0.1), ("", 1.0)],
)
def test_heights_follow_the_unit_tag(tmp_path, tag, metres):
    path = write_raster(tmp_path / "unit.tif", plane(20, 20), units=(tag,))
    np.testing.assert_allclose(heights(path, rows=20, cols=20), plane(20, 20) * metres, rtol=1e-5)


def test_the_plans_unit_goes_before_the_tag(tmp_path):
    path = write_raster(tmp_path / "unit.tif", plane(20, 20), units=("metre",))
    np.testing.assert_allclose(heights(path, rows=20, cols=20, unit="foot"), plane(20, 20) * FEET_M, rtol=1e-5)


def test_scale_and_offset_tags_are_honoured(tmp_path):
    stored = np.full((20, 20), 1500, dtype=np.int16)
    path = write_raster(tmp_path / "scaled.tif", stored, scales=(0.1,), offsets=(-20.0,))
    np.testing.assert_allclose(heights(path, rows=20, cols=20), 130.0, rtol=1e-6)


@pytest.mark.parametrize("fine", [1, 2])
def test_tiles_read_like_one_file(tmp_path, fine):
    given = np.random.default_rng(2).uniform(0, 500, (80, 80)).astype(np.float32)
    cell_m = 10.0 / fine
    whole = write_raster(tmp_path / "whole.tif", given, cell_m=cell_m)
    tiles = []
    for row in (0, 40):
        for col in (0, 40):
            corner = from_origin(WEST_M + col * cell_m, NORTH_M - row * cell_m, cell_m, cell_m)
            part = given[row : row + 40, col : col + 40]
            tiles.append(write_raster(tmp_path / f"tile{row}{col}.tif", part, transform=corner))
    size = 80 // fine
    for moved in (make_grid(size, size), make_grid(size, size, cell_m=9.0)):
        one = heights(whole, rows=size, cols=size, grid=moved)
        np.testing.assert_array_equal(one, heights(*tiles, rows=size, cols=size, grid=moved))
        assert np.isfinite(one[2:-2, 2:-2]).all()


def test_tiles_of_different_cells_meet_without_a_gap(tmp_path):
    """As where a global model changes its cell's width at a parallel."""
    left = write_raster(tmp_path / "left.tif", plane(40, 20, cell_m=30.0), cell_m=30.0)
    row, col = np.mgrid[0:40, 0:30] + 0.5
    values = (200.0 + 0.03 * (600.0 + col * 20.0) - 0.02 * row * 30.0).astype(np.float32)
    corner = Affine(20.0, 0.0, WEST_M + 600.0, 0.0, -30.0, NORTH_M)
    right = write_raster(tmp_path / "right.tif", values, transform=corner)
    got = heights(left, right, rows=120, cols=120)[3:-3, 3:-3]
    assert np.isfinite(got).all()
    np.testing.assert_allclose(got, plane(120, 120)[3:-3, 3:-3], atol=0.35)


def test_a_declared_gap_stays_a_gap_and_takes_only_its_neighbours(tmp_path):
    given = plane(20, 20, cell_m=30.0)
    given[10, 10] = -1.0
    path = write_raster(tmp_path / "gap.tif", given, cell_m=30.0, nodata=-1.0)
    is_gap = np.isnan(heights(path, rows=60, cols=60))[3:-3, 3:-3]
    rows, cols = np.nonzero(is_gap)
    # The gap's own 30 m and the half cells next to it, whose heights would need it.
    assert (rows.min() + 3, rows.max() + 3) == (29, 33) == (cols.min() + 3, cols.max() + 3)


@pytest.mark.parametrize("value", [-9999.0, -32768.0, 3.4e38, -600.0, 9500.0, np.nan])
def test_undeclared_gaps_are_found_and_told(tmp_path, value):
    given = plane(30, 30)
    given[12:15, 12:15] = value
    findings = Findings()
    path = write_raster(tmp_path / "odd.tif", given)
    got = heights(path, rows=30, cols=30, findings=findings)
    assert np.isnan(got[12:15, 12:15]).all()
    np.testing.assert_allclose(got[:11], given[:11], atol=1e-3)
    if not np.isnan(value):
        assert findings.undeclared == {("odd.tif", float(np.float32(value))): 9}


def test_an_undeclared_gap_in_fine_heights_never_bends_an_average(tmp_path):
    given = np.full((200, 200), 300.0, dtype=np.float32)
    given[55, 57] = -9999.0
    got = heights(write_raster(tmp_path / "fine.tif", given, cell_m=1.0), rows=20, cols=20)
    known = got[np.isfinite(got)]
    np.testing.assert_allclose(known, 300.0)
    assert known.size > 350


def test_sea_at_zero_is_known_ground(tmp_path):
    path = write_raster(tmp_path / "sea.tif", np.zeros((30, 30), dtype=np.int16))
    assert (heights(path, rows=30, cols=30) == 0.0).all()


def test_only_the_window_is_read_from_a_large_file(tmp_path, monkeypatch):
    path = tmp_path / "large.tif"
    profile = {
        "driver": "GTiff", "dtype": "int16", "count": 1, "height": 40_000, "width": 40_000, "crs": CRS, "tiled": True,
        "transform": from_origin(WEST_M - 200_000.0, NORTH_M + 200_000.0, 10.0, 10.0), "sparse_ok": True,
    }  # fmt: skip
    with rasterio.open(path, "w", **profile) as target:
        target.write(np.full((1, 300, 300), 77, np.int16), window=rasterio.windows.Window(19_900, 19_900, 300, 300))
    sizes = []
    from sitepick.ground import mosaic

    whole_read = mosaic.read_part
    monkeypatch.setattr(mosaic, "read_part", lambda *args, **known: sizes.append(args[3]) or whole_read(*args, **known))
    assert (heights(path, rows=100, cols=100) == 77).all()
    assert sum(rows * cols for rows, cols in sizes) < 120 * 120


def test_finer_cover_gives_the_most_frequent_class(tmp_path):
    fine = np.full((40, 40), GRASS, dtype=np.uint8)
    fine[0:4, 0:4] = [[TREE] * 4, [TREE] * 4, [TREE] * 4, [WATER] * 4]
    fine[4:8, 0:4] = [[WATER] * 3 + [TREE], [WATER] * 3 + [TREE], [TREE] * 4, [WATER] * 4]
    got = codes(write_raster(tmp_path / "fine.tif", fine, cell_m=2.5), rows=10, cols=10)
    assert (got[0, 0], got[1, 0]) == (TREE, WATER)
    assert (got[2:, 1:] == GRASS).all()


def test_much_finer_cover_gives_the_most_frequent_class(tmp_path):
    fine = np.full((200, 200), GRASS, dtype=np.uint8)
    fine[:20, :14] = WATER
    got = codes(write_raster(tmp_path / "fine.tif", fine, cell_m=0.5), rows=10, cols=10)
    assert got[0, 0] == WATER
    assert (got.ravel()[1:] == GRASS).all()


def test_coarser_cover_gives_the_class_under_the_cells_middle(tmp_path):
    coarse = np.array([[TREE, WATER], [GRASS, TREE]], dtype=np.uint8)
    got = codes(write_raster(tmp_path / "coarse.tif", coarse, cell_m=100.0), rows=20, cols=20)
    np.testing.assert_array_equal(got, np.kron(coarse, np.ones((10, 10), dtype=int)))


def test_cover_gaps_and_ground_outside_the_file_are_not_known(tmp_path):
    given = np.full((10, 10), TREE, dtype=np.uint8)
    given[2:4] = 0
    got = codes(write_raster(tmp_path / "c.tif", given, nodata=0), rows=12, cols=12)
    assert (got[2:4] == -1).all()
    assert (got[10:] == -1).all()
    assert (got[:2, :10] == TREE).all()


def test_longitudes_counted_to_360_are_found(tmp_path):
    path = degrees_of_plane(tmp_path / "a.tif")
    with rasterio.open(path) as source:
        values, transform = source.read(1), source.transform
    shifted = Affine(transform.a, 0.0, transform.c - 360.0, 0.0, transform.e, transform.f)
    turned = write_raster(tmp_path / "b.tif", values, crs="EPSG:4326", transform=shifted)
    np.testing.assert_allclose(heights(turned, rows=50, cols=50), heights(path, rows=50, cols=50), atol=1e-3)


def test_an_undeclared_zero_far_below_all_other_ground_is_a_gap(tmp_path):
    given = plane(30, 30)
    given[:, :4] = 0.0
    findings = Findings()
    got = heights(write_raster(tmp_path / "border.tif", given), rows=30, cols=30, findings=findings)
    assert np.isnan(got[:, :4]).all()
    np.testing.assert_allclose(got[:, 5:], given[:, 5:], atol=1e-3)
    assert findings.undeclared == {("border.tif", 0.0): 120}


def test_a_zero_beside_low_ground_is_sea(tmp_path):
    given = plane(30, 30) - 199.0
    given[:, :4] = 0.0
    assert np.isfinite(heights(write_raster(tmp_path / "shore.tif", given), rows=30, cols=30)).all()


def test_a_projection_with_its_own_datum_shift_is_placed_by_it(tmp_path):
    old = "+proj=utm +zone=34 +ellps=intl +towgs84=-87,-98,-121,0,0,0,0 +units=m"
    to_old = Transformer.from_crs(CRS, old, always_xy=True)
    west, north = to_old.transform(WEST_M - 50.0, NORTH_M + 50.0)
    x, y = np.meshgrid(west + (np.arange(60) + 0.5) * 10.0, north - (np.arange(60) + 0.5) * 10.0)
    east_m, north_m = to_old.transform(x, y, direction="INVERSE")
    assert abs(west - (WEST_M - 50.0)) > 50.0
    values = (200.0 + 0.03 * (east_m - WEST_M) - 0.02 * (NORTH_M - north_m)).astype(np.float32)
    path = write_raster(tmp_path / "old.tif", values, crs=old, transform=from_origin(west, north, 10.0, 10.0))
    np.testing.assert_allclose(heights(path, rows=40, cols=40), plane(40, 40), atol=0.02)


def test_a_vertical_datum_in_feet_tells_the_unit(tmp_path):
    path = write_raster(tmp_path / "navd.tif", plane(20, 20), crs="EPSG:32634+8228")
    np.testing.assert_allclose(heights(path, rows=20, cols=20), plane(20, 20) * FEET_M, rtol=1e-4)
