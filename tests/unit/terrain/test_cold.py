"""Where cold air gathers: floors and closed hollows, not benches and shoulders."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.plan.model import Weather
from sitepick.terrain import read_shape, read_terrain
from sitepick.terrain.cold import position_m
from sitepick.work import Watch
from tests.helpers.made import LAKE, OPEN, made_relief, make_ground, make_plan

CELL_M = 20.0
SHAPES = ("position_near_m", "position_far_m", "roughness_m")
FLOOR, BENCH, SHOULDER = 60, 72, 110  # columns of the made valley


def valley(rows=120, *, bench_m=25.0):
    """A valley that falls to the south: a floor 200 m wide, a bench above it, hillsides."""
    away_m = np.abs(np.arange(121) - FLOOR) * CELL_M
    across_m = np.interp(away_m, [0, 100, 200, 290, 500, 1200], [0, 0.5, bench_m, bench_m + 2, 90, 160])
    return 300.0 + across_m[None, :] + 0.005 * CELL_M * np.arange(rows)[::-1, None]


def terrain_of(heights, cover=OPEN, **ground):
    land = make_ground(heights, cover, cell_m=CELL_M, **ground)
    return read_terrain(make_plan(land, weather=Weather(wind_from_deg=300.0)), land)


def layers_of(heights):
    shape = read_shape(make_ground(heights, cell_m=CELL_M))
    layers = {name: getattr(shape, name) for name in SHAPES}
    return {**layers, "cold_pool_frac": terrain_of(heights).cold_pool_frac}


def test_a_bench_above_the_valley_beats_its_floor_and_the_hillside_is_free_of_it():
    pooled = terrain_of(valley()).cold_pool_frac
    assert pooled[90, FLOOR] > 0.9
    assert pooled[90, BENCH] < 0.2
    assert pooled[90, SHOULDER] < 0.05


def test_the_floor_is_colder_the_more_ground_drains_to_it():
    pooled = terrain_of(valley()).cold_pool_frac[5:-5, FLOOR]
    assert pooled[-1] > pooled[0] + 0.1


def test_a_closed_hollow_is_cold_though_nothing_drains_far_to_it():
    heights = np.full((80, 80), 500.0)
    rows, cols = np.indices(heights.shape)
    heights -= np.clip(8.0 - np.hypot(rows - 40, cols - 40), 0.0, 6.0)
    pooled = terrain_of(heights).cold_pool_frac
    assert pooled[40, 40] == pytest.approx(1.0)
    assert pooled[10, 10] < 0.1


def test_a_dip_within_the_error_of_the_heights_is_no_cold_hollow():
    heights = np.full((60, 60), 500.0)
    heights[30, 30] -= 0.8
    assert terrain_of(heights).cold_pool_frac[30, 30] < 0.1


def test_open_water_is_no_hollow_to_camp_in_but_its_shore_is_cold():
    heights, cover = valley(), np.full((120, 121), OPEN)
    cover[80:90, FLOOR - 3 : FLOOR + 4] = LAKE
    pooled = terrain_of(heights, cover).cold_pool_frac
    assert np.isnan(pooled[80:90, FLOOR - 3 : FLOOR + 4]).all()
    assert pooled[95, FLOOR] > 0.9


def test_where_the_water_is_lost_to_sight_the_lowest_ground_near_by_is_the_floor():
    heights = valley(10)  # too little ground for a stream
    terrain = terrain_of(heights)
    assert np.isnan(terrain.height_above_drainage_m).all()
    assert terrain.cold_pool_frac[5, BENCH] < 0.1 < terrain.cold_pool_frac[5, FLOOR]


def test_raising_the_land_leaves_the_cold_where_it_was():
    low, high = layers_of(valley()), layers_of(valley() + 1024.0)
    for name, layer in low.items():
        np.testing.assert_allclose(high[name], layer, atol=2e-2, err_msg=name)


@pytest.mark.parametrize("moved", [np.fliplr, np.flipud, np.rot90], ids=["mirrored", "upside down", "turned"])
def test_a_valley_mirrored_or_turned_is_as_cold(moved):
    plain, other = layers_of(valley(121)), layers_of(np.ascontiguousarray(moved(valley(121))))
    for name, layer in plain.items():
        np.testing.assert_allclose(other[name], moved(layer), atol=2e-3, err_msg=name)


def test_a_plane_lies_neither_above_nor_below_its_surroundings():
    plane = np.add.outer(np.arange(60) * 2.0, np.arange(70) * 3.0).astype(np.float32)
    np.testing.assert_allclose(position_m(plane, 100.0, cell_m=10.0, watch=Watch())[10:-10, 10:-10], 0.0, atol=1e-3)


def test_ground_that_is_not_known_takes_no_part():
    heights = made_relief(40, 40)
    heights[:, 25:] = np.nan
    cut = position_m(heights, 80.0, cell_m=10.0, watch=Watch())
    np.testing.assert_allclose(
        cut[:, :25], position_m(heights[:, :25].copy(), 80.0, cell_m=10.0, watch=Watch()), atol=1e-4
    )
    assert np.isnan(cut[:, 25:]).all()
    alone = np.full((9, 9), np.nan, np.float32)
    alone[4, 4] = 100.0
    assert np.isnan(position_m(alone, 30.0, cell_m=10.0, watch=Watch())).all()
