"""What kind of water it is, where it runs, and what it does to the ground beside it."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.plan.model import Weather
from sitepick.terrain import read_terrain
from sitepick.terrain.model import (
    DERIVED_STREAM,
    LAKE,
    MAPPED_BROOK,
    MAPPED_STREAM,
    NO_WATER,
    RIVER,
    SEA,
    is_to_fetch,
)
from tests.helpers import made
from tests.helpers.made import OPEN, make_ground, make_plan

ROWS, COLS, MIDDLE = 120, 61, 30


def terrain_of(ground, **weather):
    return read_terrain(make_plan(ground, weather=Weather(wind_from_deg=0.0, **weather)), ground)


def valley(fall=0.5, side=2.0, base_m=100.0):
    """A valley that falls to the south by so much a row, its sides rising by so much a column."""
    sides = np.abs(np.arange(COLS) - MIDDLE)[None, :] * side
    return base_m + sides + fall * np.arange(ROWS)[::-1, None]


def with_water(heights, where, cell_m=30.0, **known):
    cover = np.full(heights.shape, OPEN)
    cover[where] = made.LAKE
    return make_ground(heights, cover, cell_m=cell_m, **known)


def test_broad_water_is_a_lake_and_long_narrow_water_a_river():
    heights = valley()
    lake, river = np.s_[20:40, 15:46], np.s_[60:120, 29:31]
    heights[lake] = heights[39, MIDDLE]
    terrain = terrain_of(with_water(heights, lake))
    assert (terrain.water_kind[lake] == LAKE).all()
    both = valley()
    both[lake] = both[39, MIDDLE]
    cover = np.full(both.shape, OPEN)
    cover[lake] = cover[40:120, 29:31] = made.LAKE
    joined = terrain_of(make_ground(both, cover, cell_m=30.0))
    assert (joined.water_kind[lake] == LAKE).all()
    assert (joined.water_kind[45:, 29:31] == RIVER).all(), "told apart though they touch"
    assert (terrain_of(with_water(valley(), river)).water_kind[river] == RIVER).all()


def test_a_broad_river_is_one_because_it_falls_and_a_long_lake_because_it_does_not():
    wide = np.s_[:, 27:33]
    falling, level = valley(fall=0.2, side=0.5), valley(fall=0.0, side=0.5)
    level[wide] = falling[wide] = 0.0
    falling[wide] = 100.0 + 0.2 * np.arange(ROWS)[::-1, None]
    level[wide] = 100.0
    assert (terrain_of(with_water(falling, wide)).water_kind[wide] == RIVER).all()
    assert (terrain_of(with_water(level, wide)).water_kind[wide] == LAKE).all()


def test_a_pond_is_a_lake_however_small():
    heights = valley()
    assert terrain_of(with_water(heights, np.s_[50:52, 29:31])).water_kind[50, 29] == LAKE


def test_the_sea_is_water_but_none_to_fetch():
    heights = np.maximum(valley(fall=0.1, side=0.5) - 106.0, 0.0)
    sea = heights <= 0.0
    terrain = terrain_of(with_water(heights, sea), temperature_c=-5.0)
    assert (terrain.water_kind[sea] == SEA).all()
    assert terrain.is_water[sea].all()
    assert not is_to_fetch(terrain.water_kind[sea]).any()
    assert any("salt" in caution.text for caution in terrain.cautions)
    inland = terrain_of(with_water(heights + 60.0, sea))
    assert not (inland.water_kind == SEA).any()


def test_a_rough_lake_lies_level_and_drains_to_its_outlet():
    heights = valley()
    lake = np.s_[20:60, 20:41]
    rng = np.random.default_rng(3)
    heights[lake] = heights[60, MIDDLE] + rng.normal(0.0, 0.7, heights[lake].shape)
    terrain = terrain_of(with_water(heights, lake))
    assert (terrain.height_above_drainage_m[lake] == 0.0).all()
    level_m = heights[lake].mean()
    np.testing.assert_allclose(terrain.height_above_drainage_m[40, 41:45], heights[40, 41:45] - level_m, atol=0.05)
    below = terrain.water_kind[62:, MIDDLE - 1 : MIDDLE + 2]
    assert (below == DERIVED_STREAM).any(axis=1).all(), "what the lake gathers leaves it as a stream"


def test_a_hole_in_the_heights_neither_ends_the_stream_above_nor_starts_one_below():
    heights = valley()
    whole = terrain_of(make_ground(heights, cell_m=30.0))
    holed = heights.copy()
    holed[60:66, 25:36] = np.nan
    cut = terrain_of(make_ground(holed, cell_m=30.0))
    away = np.ones(heights.shape, bool)
    away[59:67, 24:37] = False
    np.testing.assert_array_equal((cut.water_kind == DERIVED_STREAM)[away], (whole.water_kind == DERIVED_STREAM)[away])
    assert (cut.water_kind[60:66, 25:36] == NO_WATER).all()
    known = np.isfinite(holed)
    np.testing.assert_array_equal(
        np.isfinite(cut.height_above_drainage_m[known]), np.isfinite(whole.height_above_drainage_m[known])
    )
    assert np.isnan(cut.height_above_drainage_m[~known]).all()


def test_water_that_comes_to_a_gap_that_runs_out_of_the_window_is_lost_there():
    heights = valley()
    heights[100:, :] = np.nan
    terrain = terrain_of(make_ground(heights, cell_m=30.0))
    assert (terrain.water_kind[100:] == NO_WATER).all()
    assert terrain.water_kind[98, MIDDLE] == DERIVED_STREAM


@pytest.mark.parametrize("off", [0, 1, 2])
def test_a_mapped_stream_wins_over_the_furrow_beside_it(off):
    heights = valley(side=0.3)
    is_stream = np.zeros(heights.shape, bool)
    is_stream[:, MIDDLE + off] = True
    terrain = terrain_of(make_ground(heights, is_stream=is_stream, cell_m=30.0))
    assert not (terrain.water_kind == DERIVED_STREAM).any()
    mapped = terrain.water_kind[:, MIDDLE + off]
    assert np.isin(mapped, (MAPPED_STREAM, MAPPED_BROOK)).all()
    assert terrain.height_above_drainage_m[60, MIDDLE - 5] < 3.0, "the ground beside it drains to it"


def test_a_brook_becomes_a_stream_where_five_square_kilometres_drain_to_it():
    heights = valley()
    is_stream = np.zeros(heights.shape, bool)
    is_stream[:, MIDDLE] = True
    terrain = terrain_of(make_ground(heights, is_stream=is_stream, cell_m=60.0))
    along = terrain.water_kind[:, MIDDLE]
    first = int(np.argmax(along == MAPPED_STREAM))
    assert 0 < first < ROWS
    assert (along[:first] == MAPPED_BROOK).all()
    assert (along[first:] == MAPPED_STREAM).all()
    assert first * COLS * 60.0**2 == pytest.approx(5e6, rel=0.1)


@pytest.mark.parametrize(("temperature_c", "told"), [(-10.0, True), (None, True), (12.0, False)])
def test_running_water_brings_a_caution_of_its_ice_unless_the_night_is_mild(temperature_c, told):
    is_stream = np.zeros((ROWS, COLS), bool)
    is_stream[:, MIDDLE] = True
    terrain = terrain_of(make_ground(valley(), is_stream=is_stream), temperature_c=temperature_c)
    assert any(caution.kind == "ice" and "unevenly" in caution.text for caution in terrain.cautions) == told


def test_ground_below_the_sea_is_ground_like_any_other():
    low, high = (terrain_of(make_ground(valley(base_m=base_m), cell_m=30.0)) for base_m in (-400.0, 112.0))
    np.testing.assert_array_equal(low.water_kind, high.water_kind)
    np.testing.assert_allclose(low.height_above_drainage_m, high.height_above_drainage_m, atol=1e-3)


def test_flat_ground_drains_off_its_edges_by_the_shortest_way():
    terrain = terrain_of(make_ground(np.full((40, 50), 7.0), cell_m=100.0))
    assert np.isin(terrain.water_kind, (NO_WATER, DERIVED_STREAM)).all()
    assert not terrain.is_water.any()
