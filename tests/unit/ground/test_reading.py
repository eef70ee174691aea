"""Reading a plan's ground as a whole."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.errors import GroundError
from sitepick.ground import NOT_KNOWN, read_ground
from sitepick.plan.model import Area
from sitepick.units import FEET_M
from sitepick.work import JobStopped, Watch
from tests.helpers.real_places import coast_plan, mountain_plan
from tests.unit.ground.files import GRASS, TREE, WATER, lonlat, plan_for, plane, write_lines, write_raster

ROWS, COLS = 40, 60


@pytest.fixture
def elevation(tmp_path):
    return write_raster(tmp_path / "elevation.tif", plane(ROWS, COLS))


@pytest.fixture
def cover(tmp_path):
    given = np.full((ROWS, COLS), TREE, dtype=np.uint8)
    given[:, 30:] = GRASS
    given[30:, 30:] = WATER
    return write_raster(tmp_path / "cover.tif", given, nodata=0)


def texts(ground):
    return [caution.text for caution in ground.cautions]


def test_the_ground_is_cut_to_the_heights_and_stays_on_the_window_grid(elevation, cover):
    ground = read_ground(plan_for(elevation, cover))
    assert ground.grid.shape == (ROWS, COLS)
    assert ground.grid.cell_m == 10.0
    assert ground.grid.west_m % 10.0 == ground.grid.north_m % 10.0 == 0.0
    np.testing.assert_allclose(ground.elevation_m, plane(ROWS, COLS), atol=1e-3)


def test_cover_codes_become_classes_of_the_legend(elevation, cover):
    ground = read_ground(plan_for(elevation, cover))
    names = [ground.legend.classes[index].name for index in ground.cover_index[[0, 0, 39], [0, 59, 59]]]
    assert names == ["tree cover", "grassland", "permanent water"]
    assert ground.is_known().all()


def test_cells_are_5_m_only_where_both_rasters_are(tmp_path, cover):
    fine = write_raster(tmp_path / "fine.tif", plane(80, 120, cell_m=5.0), cell_m=5.0)
    codes = write_raster(tmp_path / "codes.tif", np.full((80, 120), TREE, np.uint8), cell_m=5.0)
    assert read_ground(plan_for(fine, codes)).grid.cell_m == 5.0
    assert read_ground(plan_for(fine, cover)).grid.cell_m == 10.0


def test_coarser_sources_are_told_with_their_cell(tmp_path, cover):
    coarse = write_raster(tmp_path / "coarse.tif", plane(14, 20, cell_m=30.0), cell_m=30.0)
    ground = read_ground(plan_for(coarse, cover))
    assert ground.source_cell_m == pytest.approx(30.0, rel=0.001)
    assert any("heights come from cells of 30 m, resampled to 10 m" in text for text in texts(ground))


def test_sources_as_fine_as_the_grid_are_not_called_coarse(elevation, cover):
    assert not any("resampled" in text for text in texts(read_ground(plan_for(elevation, cover))))


@pytest.mark.parametrize("kind", ["surface", "unknown", "terrain"])
def test_the_kind_of_elevation_model_is_kept_and_left_to_the_terrain_to_tell(elevation, cover, kind):
    ground = read_ground(plan_for(elevation, cover, elevation_kind=kind))
    assert ground.elevation_kind == kind
    assert not any("tree tops" in text for text in texts(ground))


def test_a_code_that_the_legend_lacks_is_told_with_its_share(tmp_path, elevation):
    given = np.full((ROWS, COLS), GRASS, dtype=np.uint8)
    given[:10, :] = 77
    ground = read_ground(plan_for(elevation, write_raster(tmp_path / "c.tif", given)))
    assert any("lacks the codes 77 (25 %)" in text for text in texts(ground))
    assert (ground.cover_index[:10] == NOT_KNOWN).all()
    assert any("land cover of 25 % of the ground is not known" in text for text in texts(ground))


def test_trees_of_unknown_leaf_stay_unknown_until_the_user_says(elevation, cover):
    silent = read_ground(plan_for(elevation, cover))
    assert np.isnan(silent.share("evergreen_frac")[0, 0])
    assert any("tree cover (10), 50 %" in text and "evergreen_of_forest_frac" in text for text in texts(silent))
    told = read_ground(plan_for(elevation, cover, evergreen_of_forest_frac=0.8))
    assert told.share("evergreen_frac")[0, 0] == pytest.approx(0.8 * 0.7)
    assert told.share("deciduous_frac")[0, 0] == pytest.approx(0.2 * 0.7)
    assert not any("leafless" in text for text in texts(told))


def test_the_wrong_legend_is_refused_and_the_right_one_named(elevation, cover):
    with pytest.raises(GroundError, match="nlcd doesn't know the codes 10, 30, 80") as caught:
        read_ground(plan_for(elevation, cover, legend="nlcd"))
    assert caught.value.fix == "set the legend to worldcover"


def test_a_legend_that_knows_most_codes_by_chance_is_told_with_the_one_that_knows_all(tmp_path, elevation):
    given = np.full((ROWS, COLS), 20, dtype=np.uint8)  # shrub in one legend and cropland in another
    given[: ROWS // 4] = 112  # closed evergreen needle forest in one, suburbs in another
    given[0] = 200  # sea
    own = tmp_path / "own.csv"
    own.write_text(
        "code,name,evergreen,deciduous,open,wet,water,ice,built,canopy,tree_height_m,going,firewood\n"
        "20,shrub,0,0,1,0,0,0,0,0.1,1,1.3,0\n112,wood,0.8,0,0,0,0,0,0,0.8,15,1.5,0.5\n",
        encoding="utf-8",
    )
    ground = read_ground(plan_for(elevation, write_raster(tmp_path / "c.tif", given), legend=own))
    assert any("The legend cgls_lc100 knows every code here" in text for text in texts(ground))


def test_land_cover_named_as_elevation_is_refused(tmp_path, elevation, cover):
    given = np.full((ROWS, COLS), GRASS, dtype=np.int16)
    given[: ROWS // 2], given[0] = TREE, WATER
    classes = write_raster(tmp_path / "classes.tif", given)
    with pytest.raises(GroundError, match="holds classes of land cover, not heights"):
        read_ground(plan_for(classes, cover))
    with pytest.raises(GroundError, match="named both as elevation and as cover"):
        read_ground(plan_for(cover, cover))


def test_low_ground_in_whole_metres_is_not_taken_for_land_cover(tmp_path, cover):
    low = (np.mgrid[0:ROWS, 0:COLS][1] % 30 + 1).astype(np.int16)  # 1 to 30 m: codes of a legend too
    assert read_ground(plan_for(write_raster(tmp_path / "low.tif", low), cover)).elevation_m.max() > 25.0


def test_a_plan_in_feet_climbs_in_metres(elevation, cover):
    ground = read_ground(plan_for(elevation, cover, elevation_unit="foot"))
    np.testing.assert_allclose(ground.elevation_m, plane(ROWS, COLS) * FEET_M, atol=1e-3)


def test_streams_tracks_and_marked_ground_become_masks_and_lines(tmp_path, elevation, cover):
    streams = write_lines(tmp_path / "streams.geojson", [lonlat(5.5, 2), lonlat(5.5, 58)])
    tracks = write_lines(tmp_path / "tracks.geojson", [lonlat(1, 20.5), lonlat(39, 20.5)])
    ring = (lonlat(30, 30), lonlat(30, 40), lonlat(38, 40), lonlat(38, 30))
    area = Area(name="Range", ring=ring)
    no_go = write_lines(
        tmp_path / "no_go.geojson", [[lonlat(10, 50), lonlat(10, 55), lonlat(15, 55), lonlat(10, 50)]], kind="Polygon"
    )
    ground = read_ground(
        plan_for(elevation, cover, streams=(streams,), tracks=(tracks,), no_go=(no_go,), areas=(area,))
    )
    assert ground.is_stream[5, 3:57].all()
    assert ground.is_stream.sum() <= 60
    assert ground.is_track[2:38, 20].all()
    assert ground.is_no_go[31:37, 31:39].all()
    assert ground.is_no_go[11, 53]
    assert not ground.is_no_go[20, 20]
    east_m, north_m = ground.stream_lines[0][0]
    assert (east_m - ground.grid.west_m, ground.grid.north_m - north_m) == pytest.approx((20.0, 55.0), abs=0.01)
    assert len(ground.track_lines) == 1


def test_canopy_heights_are_read_and_their_gaps_kept(tmp_path, elevation, cover):
    given = np.full((ROWS, COLS), 12, dtype=np.uint8)
    given[0, :10] = 255
    canopy = write_raster(tmp_path / "canopy.tif", given)
    ground = read_ground(plan_for(elevation, cover, canopy_height=(canopy,)))
    assert np.isnan(ground.canopy_height_m[0, :9]).all()
    assert (ground.canopy_height_m[5:] == 12.0).all()


def test_a_route_that_leaves_the_ground_is_told(elevation, cover):
    ground = read_ground(plan_for(elevation, cover, points=(lonlat(10, 30), lonlat(10, 90))))
    told = [text for text in texts(ground) if "of the route lies where no height is known" in text]
    assert len(told) == 1
    assert 48 <= int(told[0].split(" ")[0]) <= 52


def test_several_bands_are_told_and_the_named_one_is_read(tmp_path, cover):
    bands = np.stack([np.full((ROWS, COLS), 5.0, np.float32), plane(ROWS, COLS)])
    path = write_raster(tmp_path / "bands.tif", bands, descriptions=("roughness", "elevation"))
    ground = read_ground(plan_for(path, cover))
    np.testing.assert_allclose(ground.elevation_m, plane(ROWS, COLS), atol=1e-3)
    assert "bands.tif has 2 bands; band 2 was read as elevation." in texts(ground)


def test_layers_cannot_be_written_to(elevation, cover):
    ground = read_ground(plan_for(elevation, cover))
    with pytest.raises(ValueError, match="read-only"):
        ground.elevation_m[0, 0] = 0.0


def test_reading_stops_when_told(elevation, cover):
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        read_ground(plan_for(elevation, cover), watch=watch)


@pytest.mark.slow
@pytest.mark.parametrize(("plan", "low_m", "high_m"), [(coast_plan(), -10, 200), (mountain_plan(), 500, 2700)])
def test_real_places_are_known_nearly_everywhere(plan, low_m, high_m):
    ground = read_ground(plan)
    assert ground.is_known().mean() > 0.85
    assert low_m < np.nanmin(ground.elevation_m) < np.nanmax(ground.elevation_m) < high_m
    assert ground.source_cell_m == pytest.approx(92.7, abs=0.3)
    assert (ground.share("canopy_frac") > 0.5).mean() > 0.3
