"""Heights that follow the tree tops: the ground is found again under made forests over known planes."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import ndimage

from sitepick.plan.model import Weather
from sitepick.terrain import read_terrain
from sitepick.terrain.treetops import bare_ground
from sitepick.work import Watch
from tests.helpers.made import BIRCH, LAKE, OPEN, SPRUCE, made_relief, make_ground, make_plan

PLANE_DEG = 3.0
INNER = np.s_[4:-4, 4:-4]


def patches(rows=90, cols=110, seed=3):
    relief = made_relief(rows, cols, seed=seed, roughness=2.6)
    return np.select([relief > 70, relief < 35], [SPRUCE, BIRCH], OPEN)


def plane(shape, turn_deg=30.0):
    rows, cols = np.indices(shape)
    along = cols * np.cos(np.radians(turn_deg)) + rows * np.sin(np.radians(turn_deg))
    return 200.0 + along * 10.0 * np.tan(np.radians(PLANE_DEG))


def over_trees(bare, cover, *, spruce_m=11.0, birch_m=3.0, noise_m=0.0):
    rng = np.random.default_rng(5)
    roof = np.select([cover == SPRUCE, cover == BIRCH], [spruce_m, birch_m], 0.0)
    return bare + roof + np.where(roof > 0.0, rng.normal(0.0, max(noise_m, 1e-9), cover.shape), 0.0)


def surface(heights, cover, **known):
    return make_ground(heights, cover, elevation_kind="surface", **known)


def terrain_of(ground):
    return read_terrain(make_plan(ground, weather=Weather(wind_from_deg=300.0)), ground)


def bare(ground):
    return bare_ground(ground, watch=Watch())


@pytest.mark.parametrize("turn_deg", [0.0, 30.0, 135.0, 270.0])
@pytest.mark.parametrize("spruce_m", [5.0, 11.0, 15.0])
def test_the_slope_of_a_plane_under_a_forest_is_found_again(turn_deg, spruce_m):
    cover = patches()
    ground = surface(over_trees(plane(cover.shape, turn_deg), cover, spruce_m=spruce_m), cover)
    terrain = terrain_of(ground)
    np.testing.assert_allclose(terrain.slope_30m_deg[INNER], PLANE_DEG, atol=0.2)
    np.testing.assert_allclose(terrain.slope_deg[INNER], PLANE_DEG, atol=0.4)
    assert not terrain.is_avalanche_release.any()


def test_the_same_heights_taken_for_the_ground_show_banks_that_are_not_there():
    cover = patches()
    heights = over_trees(plane(cover.shape), cover)
    taken_for_ground = terrain_of(make_ground(heights, cover))
    assert np.nanmax(taken_for_ground.slope_30m_deg) > 15.0
    assert taken_for_ground.is_avalanche_release.any()


def test_a_false_edge_of_one_wide_cell():
    # Arithmetic: 12 m of trees over one cell of 30 m are 21.8 degrees, over a window of 60 m 11.3 degrees.
    cover = np.full((60, 60), OPEN)
    cover[:, 30:] = SPRUCE
    heights = np.where(cover == SPRUCE, 12.0, 0.0)
    raw = terrain_of(make_ground(heights, cover, cell_m=30.0))
    assert np.nanmax(raw.slope_deg) == pytest.approx(11.3, abs=0.05)
    found = terrain_of(surface(heights, cover, cell_m=30.0))
    assert np.nanmax(found.slope_deg) < 0.5


def test_a_rough_roof_is_smoothed_and_open_ground_is_left_as_it_is():
    cover = patches()
    heights = over_trees(plane(cover.shape), cover, noise_m=1.5).astype(np.float32)
    ground = surface(heights, cover)
    found = bare(ground)
    is_far = ~found.is_edge & (cover == OPEN)
    np.testing.assert_array_equal(found.ground.elevation_m[is_far], heights[is_far])
    is_deep = ~found.is_edge & (cover == SPRUCE)
    rough = (heights - plane(cover.shape) - 11.0)[INNER][is_deep[INNER]]
    smooth = (found.ground.elevation_m - plane(cover.shape))[INNER][is_deep[INNER]]
    assert np.std(smooth) < 0.5 * np.std(rough)
    assert abs(np.mean(smooth)) < 0.7


def test_a_source_of_wider_cells_is_undone_as_it_blurs():
    cover = np.kron(patches(32, 36), np.ones((3, 3), int))
    heights = over_trees(plane(cover.shape), cover)
    source = heights.reshape(32, 3, 36, 3).mean(axis=(1, 3))
    resampled = ndimage.affine_transform(source, [1 / 3, 1 / 3], [-1 / 3, -1 / 3], cover.shape, order=1, mode="nearest")
    ground = surface(resampled, cover, source_cell_m=30.0)
    raw, found = terrain_of(make_ground(resampled, cover)), terrain_of(ground)
    off_raw = np.abs(raw.slope_30m_deg - PLANE_DEG)[12:-12, 12:-12]
    off = np.abs(found.slope_30m_deg - PLANE_DEG)[12:-12, 12:-12]
    assert np.max(off) < 0.35 * np.max(off_raw)
    assert np.mean(off) < 0.25 * np.mean(off_raw)


def test_a_terrain_model_is_never_touched():
    ground = make_ground(made_relief(40, 40), patches(40, 40))
    found = bare(ground)
    assert found.ground is ground
    assert not found.is_edge.any()
    assert not found.cautions


def test_a_real_bank_in_the_open_stays_as_steep():
    cover = np.full((60, 80), OPEN)
    cover[:, 60:] = SPRUCE
    heights = np.where(np.indices(cover.shape)[1] >= 25, 20.0, 0.0)
    raw = terrain_of(make_ground(heights, cover))
    found = terrain_of(surface(over_trees(heights, cover), cover))
    np.testing.assert_allclose(found.slope_deg[:, :55], raw.slope_deg[:, :55], atol=1e-4)


def test_how_far_the_trees_stand_above_the_ground_is_measured_and_told():
    cover = patches()
    told = bare(surface(over_trees(plane(cover.shape), cover, spruce_m=9.0), cover)).cautions[0].text
    assert "9 m off dense spruce, by the step at its edges" in told
    assert "3 m off birch, by the step at its edges" in told


def test_few_edges_leave_what_is_usual():
    cover = np.full((60, 60), OPEN)
    cover[20:26, 20:26] = SPRUCE
    told = bare(surface(over_trees(plane(cover.shape), cover), cover)).cautions[0].text
    assert "13 m off dense spruce, as is usual" in told  # 0.85 of its 15 m


def test_the_cells_at_the_edges_are_counted():
    cover = np.full((40, 50), OPEN)
    cover[:, 25:] = SPRUCE
    found = bare(surface(over_trees(plane(cover.shape), cover), cover))
    assert np.count_nonzero(found.is_edge) == 2 * 40
    assert "80 cells at forest edges, 4 % of the map" in found.cautions[0].text


def test_water_beside_a_forest_is_no_open_ground_to_measure_by():
    cover = np.full((60, 60), LAKE)
    cover[:, 30:] = SPRUCE
    assert "as is usual" in bare(surface(over_trees(plane(cover.shape), cover), cover)).cautions[0].text


def test_gaps_stay_gaps_and_spread_no_farther():
    cover = patches()
    heights = over_trees(plane(cover.shape), cover)
    heights[40:44, 50:54] = np.nan
    found = bare(surface(heights, cover)).ground.elevation_m
    np.testing.assert_array_equal(np.isnan(found), np.isnan(heights))


def test_measured_tree_heights_tell_the_roof_cell_by_cell():
    cover = np.full((80, 80), OPEN)
    cover[20:60, 20:60] = SPRUCE
    tall = np.where(cover == SPRUCE, np.linspace(8.0, 20.0, 80)[None, :], 0.0).astype(np.float32)
    ground = surface(plane(cover.shape) + 0.7 * tall, cover, canopy_height_m=tall)
    np.testing.assert_allclose(terrain_of(ground).slope_30m_deg[INNER], PLANE_DEG, atol=0.8)


def test_without_forest_the_caution_says_that_nothing_was_taken_off():
    found = bare(surface(plane((30, 30)), OPEN))
    assert "no forest is mapped" in found.cautions[0].text
    np.testing.assert_array_equal(found.ground.elevation_m, plane((30, 30)).astype(np.float32))
