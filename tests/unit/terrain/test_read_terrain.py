"""What the terrain stage promises about whole pieces of ground."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from sitepick.plan.model import GroundSource, Weather
from sitepick.terrain import read_shape, read_terrain
from sitepick.terrain.model import DERIVED_STREAM, MAPPED_BROOK, SEA, Terrain
from sitepick.work import JobStopped, Watch
from tests.helpers.made import (
    BIRCH,
    BOG,
    LAKE,
    OPEN,
    SPRUCE,
    TREES_OF_UNKNOWN_LEAF,
    made_relief,
    make_ground,
    make_plan,
)  # fmt: skip

FLOATS = ("slope_deg", "slope_30m_deg", "wind_share", "wind_share_worst", "height_above_drainage_m")
MASKS = ("is_water", "is_wet", "is_avalanche_release", "is_avalanche_runout", "unsafe_unknown")


def terrain_of(ground, **weather):
    return read_terrain(make_plan(ground, weather=Weather(**weather)), ground)


def kinds(terrain):
    return {caution.kind for caution in terrain.cautions}


def cover_patches(rows, cols, seed=3):
    relief = made_relief(rows, cols, seed=seed)
    return np.select([relief > 75, relief > 62, relief < 20], [SPRUCE, BIRCH, BOG], OPEN)


def test_layers_have_the_kinds_that_the_model_promises():
    ground = make_ground(made_relief(40, 50), cover_patches(40, 50))
    terrain = terrain_of(ground, wind_from_deg=300.0)
    for field in dataclasses.fields(Terrain):
        layer = getattr(terrain, field.name)
        if isinstance(layer, np.ndarray):
            want = bool if field.name in MASKS else np.uint8 if field.name == "water_kind" else np.float32
            assert layer.dtype == want, field.name
            assert not layer.flags.writeable


def test_raising_the_land_changes_nothing():
    relief = np.rint(made_relief(50, 60, height_m=300.0) * 8) / 8
    cover = cover_patches(50, 60)
    low = terrain_of(make_ground(relief, cover), wind_from_deg=300.0)
    high = terrain_of(make_ground(relief + 512.0, cover), wind_from_deg=300.0)
    for name in (*FLOATS, *MASKS, "water_kind"):
        np.testing.assert_allclose(getattr(high, name), getattr(low, name), atol=1e-3, err_msg=name)


def on_middle_line(elevation_m, cover):
    """Ground whose middle lies on the zone's middle line, where true and grid bearings are one."""
    ground = make_ground(elevation_m, cover)
    west_m = ground.grid.west_m - ground.grid.cols * ground.grid.cell_m / 2
    return dataclasses.replace(ground, grid=dataclasses.replace(ground.grid, west_m=west_m))


@pytest.mark.parametrize("wind_from_deg", [10.0, 100.0, 300.0])
def test_turning_ground_and_wind_together_turns_the_answer(wind_from_deg):
    relief, cover = made_relief(48, 48, height_m=200.0), cover_patches(48, 48)
    plain = terrain_of(on_middle_line(relief, cover), wind_from_deg=wind_from_deg)
    turned = terrain_of(
        on_middle_line(np.rot90(relief, -1), np.rot90(cover, -1)), wind_from_deg=(wind_from_deg + 90.0) % 360.0
    )
    for name in ("slope_deg", "slope_30m_deg", "wind_share", "wind_share_worst"):
        np.testing.assert_allclose(getattr(turned, name), np.rot90(getattr(plain, name), -1), atol=1e-4, err_msg=name)


def test_mirroring_ground_and_wind_mirrors_the_answer():
    relief, cover = made_relief(48, 48, height_m=200.0), cover_patches(48, 48)
    plain = terrain_of(on_middle_line(relief, cover), wind_from_deg=290.0)
    mirrored = terrain_of(on_middle_line(relief[:, ::-1], cover[:, ::-1]), wind_from_deg=70.0)
    for name in ("slope_deg", "wind_share", "wind_share_worst"):
        np.testing.assert_allclose(getattr(mirrored, name), getattr(plain, name)[:, ::-1], atol=1e-4, err_msg=name)


def test_aspect_is_a_true_bearing():
    heights = np.broadcast_to(-np.arange(30.0), (30, 30))
    ground = make_ground(heights)
    east = dataclasses.replace(ground, grid=dataclasses.replace(ground.grid, west_m=600_000.0))
    turn_deg = east.grid.convergence_deg(*east.grid.centre_m)
    assert turn_deg > 2.0, "100 km east of the middle line grid north lies well east of true north"
    np.testing.assert_allclose(read_shape(east).aspect_deg[1:-1, 1:-1], 90.0 + turn_deg, atol=1e-4)


def test_wind_from_0_is_wind_from_360():
    ground = make_ground(made_relief(40, 40, height_m=200.0), cover_patches(40, 40))
    north, again = terrain_of(ground, wind_from_deg=0.0), terrain_of(ground, wind_from_deg=360.0)
    np.testing.assert_array_equal(north.wind_share, again.wind_share)
    np.testing.assert_array_equal(north.wind_share_worst, again.wind_share_worst)


def test_speed_of_the_wind_does_not_change_its_share():
    ground = make_ground(made_relief(30, 30), cover_patches(30, 30))
    calm, gale = terrain_of(ground, wind_from_deg=90.0, wind_kmh=0.0), terrain_of(ground, wind_from_deg=90.0)
    np.testing.assert_array_equal(calm.wind_share, gale.wind_share)


def test_wind_of_unknown_direction_counts_all_quarters_and_says_so():
    ground = make_ground(made_relief(40, 40, height_m=200.0), cover_patches(40, 40))
    unknown = terrain_of(ground)
    inside = np.isfinite(unknown.wind_share)
    assert inside[1:-1, 1:-1].all()
    assert (unknown.wind_share_worst >= unknown.wind_share - 1e-6)[inside].all()
    assert "wind" in kinds(unknown)
    assert "wind" not in kinds(terrain_of(ground, wind_from_deg=10.0))
    turned = terrain_of(make_ground(np.rot90(ground.elevation_m), np.rot90(ground.cover_index)))
    np.testing.assert_allclose(turned.wind_share, np.rot90(unknown.wind_share), atol=2e-3)


def test_a_rose_of_one_wind_is_that_wind_by_its_outer_and_middle_rays():
    ground = make_ground(made_relief(40, 40, height_m=200.0), cover_patches(40, 40))
    one = terrain_of(ground, wind_from_deg=300.0)
    rose = terrain_of(ground, wind_rose=((300.0, 1.0, 20.0),))
    assert np.nanmean(np.abs(rose.wind_share - one.wind_share)) < 0.03
    assert (rose.wind_share_worst <= one.wind_share_worst + 1e-6)[1:-1, 1:-1].all()
    assert "wind" not in kinds(rose)


def test_a_rose_weighs_its_winds_by_time_and_leaves_rare_ones_out_of_the_worst():
    ground = make_ground(made_relief(40, 40, height_m=200.0), cover_patches(40, 40))
    west, east = (terrain_of(ground, wind_rose=((from_deg, 1.0, 20.0),)) for from_deg in (270.0, 90.0))
    both = terrain_of(ground, wind_rose=((270.0, 0.7, 20.0), (90.0, 0.3, 5.0)))
    np.testing.assert_allclose(both.wind_share, 0.7 * west.wind_share + 0.3 * east.wind_share, atol=1e-5)
    np.testing.assert_array_equal(both.wind_share_worst, np.maximum(west.wind_share_worst, east.wind_share_worst))
    rare = terrain_of(ground, wind_rose=((270.0, 0.96, 20.0), (90.0, 0.04, 5.0)))
    np.testing.assert_array_equal(rare.wind_share_worst, west.wind_share_worst)


def test_level_open_ground_takes_the_whole_wind_and_falls_nowhere():
    ground = make_ground(np.full((20, 20), 431.7))
    terrain = terrain_of(ground, wind_from_deg=45.0)
    inner = np.s_[1:-1, 1:-1]
    assert (terrain.slope_deg[inner] == 0.0).all()
    assert np.isnan(read_shape(ground).aspect_deg).all()
    np.testing.assert_allclose(terrain.wind_share[inner], 1.0)
    assert not terrain.is_avalanche_release.any()
    assert "avalanche" not in kinds(terrain)


def test_a_gap_in_the_heights_spreads_one_cell_and_no_further():
    heights = made_relief(30, 30, height_m=100.0)
    heights[12:15, 12:15] = np.nan
    terrain = terrain_of(make_ground(heights), wind_from_deg=300.0)
    want = np.zeros((30, 30), bool)
    want[11:16, 11:16] = True
    want[[0, -1], :] = want[:, [0, -1]] = True
    for layer in (terrain.slope_deg, terrain.slope_30m_deg, terrain.wind_share, terrain.wind_share_worst):
        assert np.array_equal(np.isnan(layer), want)
    assert np.array_equal(terrain.unsafe_unknown, want)


def test_ground_of_unknown_cover_is_unsafe_and_its_wind_unknown():
    cover = np.full((20, 20), SPRUCE)
    cover[8:10, 8:10] = -1
    terrain = terrain_of(make_ground(np.full((20, 20), 50.0), cover), wind_from_deg=270.0)
    unknown = np.s_[8:10, 8:10]
    assert terrain.unsafe_unknown[unknown].all()
    assert np.isnan(terrain.wind_share[unknown]).all()
    assert np.isfinite(terrain.wind_share[1:-1, 11:-1]).all()
    assert terrain.wind_share[8, 10] > terrain.wind_share[5, 10], "unknown ground shelters nobody"


def test_a_gap_neither_starts_nor_ends_a_stream():
    rows, cols = 120, 60
    valley = np.abs(np.arange(cols) - 30.0)[None, :] * 2.0 + np.arange(rows)[::-1, None] * 0.5
    whole = terrain_of(make_ground(valley, cell_m=30.0), wind_from_deg=0.0)
    holed = valley.copy()
    holed[60:64, 25:36] = np.nan
    cut = terrain_of(make_ground(holed, cell_m=30.0), wind_from_deg=0.0)
    stream = whole.water_kind == DERIVED_STREAM
    assert stream[100, 30]
    assert not (cut.water_kind == DERIVED_STREAM)[60:64, 25:36].any()
    assert not ((cut.water_kind == DERIVED_STREAM) & ~stream).any(), "no stream where none was"


@pytest.mark.parametrize("shape", [(1, 1), (1, 40), (40, 1), (2, 2), (3, 3), (2, 50)])
def test_windows_of_a_cell_or_two_are_answered(shape):
    terrain = terrain_of(make_ground(made_relief(64, 64)[: shape[0], : shape[1]], SPRUCE), wind_from_deg=123.0)
    assert terrain.slope_deg.shape == shape
    if min(shape) < 3:
        assert np.isnan(terrain.slope_deg).all()
        assert terrain.unsafe_unknown.all()


def test_nothing_known_at_all_is_all_unsafe():
    ground = make_ground(np.full((12, 12), np.nan), -1)
    terrain = terrain_of(ground)
    assert terrain.unsafe_unknown.all()
    assert np.isnan(terrain.wind_share).all()
    assert not terrain.is_water.any()
    assert np.isnan(terrain.height_above_drainage_m).all()


def test_sea_at_nought_is_water_level_and_0_above_itself():
    heights = np.maximum(made_relief(40, 40, height_m=60.0) - 20.0, 0.0)
    cover = np.where(heights <= 0.0, LAKE, OPEN)
    terrain = terrain_of(make_ground(heights, cover, cell_m=30.0), wind_from_deg=200.0)
    sea = cover == LAKE
    assert (terrain.water_kind[:, 0][sea[:, 0]] == SEA).any(), "pools behind the shore are no sea"
    assert terrain.is_water[sea].all()
    assert not terrain.is_wet[sea].any()
    assert (terrain.height_above_drainage_m[sea] == 0.0).all()


def test_low_ground_beside_a_mapped_stream_floods_and_the_bank_above_does_not():
    heights = np.broadcast_to(np.abs(np.arange(40) - 20.0) * 0.8, (30, 40)) + np.arange(30)[::-1, None] * 0.1
    is_stream = np.zeros((30, 40), bool)
    is_stream[:, 20] = True
    terrain = terrain_of(make_ground(heights, is_stream=is_stream), wind_from_deg=0.0)
    assert (terrain.water_kind[:, 20] == MAPPED_BROOK).all()
    np.testing.assert_allclose(terrain.height_above_drainage_m[15, 25], 4.0, atol=0.51)
    assert terrain.is_wet[15, 22]
    assert not terrain.is_wet[15, 25]


def test_bog_is_wet_and_lakes_are_water():
    cover = np.full((20, 30), OPEN)
    cover[:, :6], cover[:, 24:] = BOG, LAKE
    slope = np.broadcast_to(40.0 - np.arange(30.0), (20, 30))
    terrain = terrain_of(make_ground(slope, cover), wind_from_deg=0.0)
    assert terrain.is_wet[:, :6].all()
    assert terrain.is_water[:, 24:].all()
    assert not terrain.is_wet[:, 8:20].any()


def steep_bank(cover=OPEN, angle_deg=35.0, cell_m=10.0, **known):
    """A plateau, a bank 100 m high facing south, level ground below."""
    fall = np.clip(np.arange(120) - 20, 0, None) * cell_m * np.tan(np.radians(angle_deg))
    heights = np.broadcast_to(np.maximum(300.0 - fall, 200.0)[:, None], (120, 40))
    return make_ground(heights, cover, cell_m=cell_m, **known)


def test_a_steep_open_bank_releases_and_reaches_the_level_ground_below():
    terrain = terrain_of(steep_bank(), wind_from_deg=0.0)
    assert terrain.is_avalanche_release[25:30, 5:-5].all()
    assert terrain.is_avalanche_runout[40:50, 5:-5].all()
    assert not terrain.is_avalanche_runout[60:, :].any(), "100 m of height at 18 degrees carry 308 m from the top"
    assert not terrain.is_avalanche_runout[:18, :].any(), "nothing runs uphill"
    assert not (terrain.is_avalanche_release & terrain.is_avalanche_runout).any()
    assert "avalanche" in kinds(terrain)
    text = next(caution.text for caution in terrain.cautions if caution.kind == "avalanche")
    assert "bulletin" in text


def test_dense_forest_holds_the_snow_but_young_trees_do_not():
    assert not terrain_of(steep_bank(SPRUCE), wind_from_deg=0.0).is_avalanche_release.any()
    assert terrain_of(steep_bank(BIRCH), wind_from_deg=0.0).is_avalanche_release.any()
    young = np.full((120, 40), 2.0, np.float32)
    assert terrain_of(steep_bank(SPRUCE, canopy_height_m=young), wind_from_deg=0.0).is_avalanche_release.any()


@pytest.mark.parametrize(("source_cell_m", "releases"), [(10.0, False), (25.0, True), (30.0, True), (90.0, True)])
def test_coarse_heights_lower_the_slope_that_counts_as_a_release(source_cell_m, releases):
    terrain = terrain_of(steep_bank(angle_deg=26.0, source_cell_m=source_cell_m), wind_from_deg=0.0)
    assert terrain.is_avalanche_release.any() == releases
    told = [caution.text for caution in terrain.cautions if "flatten" in caution.text]
    assert bool(told) == (source_cell_m > 15.0)


def test_a_patch_of_a_few_cells_is_no_release():
    bump = np.full((40, 40), 100.0)
    bump[20, 20] = 130.0
    terrain = terrain_of(make_ground(bump), wind_from_deg=0.0)
    assert np.count_nonzero(terrain.slope_deg > 28.0) == 4
    assert not terrain.is_avalanche_release.any()


def test_a_ridge_in_between_keeps_an_avalanche_off():
    ground = steep_bank()
    walled = ground.elevation_m.copy()
    walled[40:42, :] = 320.0
    terrain = terrain_of(make_ground(walled), wind_from_deg=0.0)
    assert terrain.is_avalanche_runout[36:39, 5:-5].all()
    assert not terrain.is_avalanche_runout[44:, :].any()
    assert terrain_of(ground, wind_from_deg=0.0).is_avalanche_runout[44:50, 5:-5].all()


def test_deep_forest_is_calmer_than_its_edge_and_birch_windier_than_spruce():
    cover = np.full((40, 60), OPEN)
    cover[:, 20:] = SPRUCE
    spruce = terrain_of(make_ground(np.full((40, 60), 10.0), cover), wind_from_deg=270.0).wind_share
    birch = terrain_of(
        make_ground(np.full((40, 60), 10.0), np.where(cover == SPRUCE, BIRCH, OPEN)), wind_from_deg=270.0
    ).wind_share
    row = spruce[20]
    assert (np.diff(row[20:58]) <= 1e-6).all()
    assert 0.1 <= row[57] <= 0.3
    assert (birch[20, 25:58] > row[25:58]).all()
    np.testing.assert_allclose(row[1:20], 1.0)


def test_measured_tree_heights_count_before_typical_ones():
    cover = np.full((30, 60), OPEN)
    cover[:, 10:14] = SPRUCE
    tall = np.where(cover == SPRUCE, 25.0, 0.0).astype(np.float32)
    typical = terrain_of(make_ground(np.full((30, 60), 10.0), cover), wind_from_deg=270.0)
    measured = terrain_of(make_ground(np.full((30, 60), 10.0), cover, canopy_height_m=tall), wind_from_deg=270.0)
    assert measured.wind_share[15, 45] < typical.wind_share[15, 45]
    gaps = np.full((30, 60), np.nan, np.float32)
    unmeasured = terrain_of(make_ground(np.full((30, 60), 10.0), cover, canopy_height_m=gaps), wind_from_deg=270.0)
    np.testing.assert_array_equal(unmeasured.wind_share, typical.wind_share)


def test_forest_of_unknown_leaf_is_taken_as_bare_until_the_user_tells():
    ground = make_ground(np.full((30, 40), 10.0), TREES_OF_UNKNOWN_LEAF)
    unknown = terrain_of(ground, wind_from_deg=270.0)
    assert np.isnan(unknown.evergreen_frac).all()
    assert any("leaf type" in caution.text for caution in unknown.cautions)
    plan = make_plan(ground, weather=Weather(wind_from_deg=270.0))
    told = read_terrain(
        dataclasses.replace(plan, ground=dataclasses.replace(plan.ground, evergreen_of_forest_frac=1.0)), ground
    )
    np.testing.assert_allclose(told.evergreen_frac, 0.7)
    assert (told.wind_share < unknown.wind_share)[1:-1, 1:-1].all()
    assert not any("leaf type" in caution.text for caution in told.cautions)
    assert isinstance(plan.ground, GroundSource)


@pytest.mark.parametrize(("kind", "warns"), [("terrain", False), ("surface", True), ("unknown", True)])
def test_heights_over_tree_tops_carry_a_caution(kind, warns):
    terrain = terrain_of(make_ground(made_relief(20, 20), elevation_kind=kind), wind_from_deg=0.0)
    assert any("forest edges" in caution.text for caution in terrain.cautions) == warns


def test_every_caution_is_a_sentence():
    ground = make_ground(
        made_relief(60, 60, height_m=900.0), TREES_OF_UNKNOWN_LEAF, elevation_kind="surface", source_cell_m=30.0,
        cell_m=30.0,
    )  # fmt: skip
    cautions = terrain_of(ground).cautions
    assert len(cautions) >= 4
    assert all(caution.text[0].isupper() or caution.text[0].isdigit() for caution in cautions)
    assert all(caution.text.endswith(".") for caution in cautions)


def test_the_work_is_told_in_steps_and_stops_when_asked():
    ground = make_ground(made_relief(300, 40, height_m=600.0), OPEN)
    plan, steps = make_plan(ground), []
    read_terrain(plan, ground, watch=Watch(lambda step, done, total: steps.append(step)))
    assert len(dict.fromkeys(steps)) >= 8
    for stop_at in list(dict.fromkeys(steps))[:-1]:
        with pytest.raises(JobStopped):
            read_terrain(plan, ground, watch=stopping_at(stop_at))


def stopping_at(stop_at):
    def listen(step, done, total):
        if step == stop_at:
            watch.stop()

    watch = Watch(listen)
    return watch
