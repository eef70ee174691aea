"""Laws that every layer of slope, wind, forest and position keeps, whatever the ground."""

from __future__ import annotations

import dataclasses
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

from sitepick import work
from sitepick.plan.model import Weather
from sitepick.terrain import cold, margin, read_shape, read_terrain, slope, stand, survey, treetops, upwind, wind
from sitepick.terrain.cold import position_m, roughness_m
from sitepick.terrain.slope import slope_and_aspect, surroundings_slope_deg
from sitepick.terrain.upwind import upwind_slope_deg
from sitepick.units import bearing_deg
from sitepick.work import Watch
from tests.helpers.made import BIRCH, BOG, OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan

LAYERS = (
    "slope_deg",
    "slope_30m_deg",
    "slope_error_deg",
    "wind_share",
    "wind_share_worst",
    "evergreen_frac",
    "canopy_frac",
)
SHAPES = ("position_near_m", "position_far_m", "roughness_m")
WINDS = {
    "told": {"wind_from_deg": 300.0},
    "not known": {},
    "rose": {"wind_rose": ((300.0, 0.6, 20.0), (80.0, 0.37, 15.0), (180.0, 0.03, 9.0))},
}
MOVES = {  # of the ground, and of a bearing with it
    "turned a quarter": (lambda layer: np.rot90(layer, -1), lambda deg: deg + 90.0),
    "turned a half": (lambda layer: np.rot90(layer, 2), lambda deg: deg + 180.0),
    "mirrored": (np.fliplr, lambda deg: -deg),
    "upside down": (np.flipud, lambda deg: 180.0 - deg),
}


def land(rows=44, cols=44, height_m=160.0, **known):
    """Hills under patches of forest, on the zone's middle line, where true and grid bearings are one."""
    relief = made_relief(rows, cols, height_m=height_m)
    kinds = made_relief(rows, cols, seed=3)
    return on_middle_line(relief, np.select([kinds > 75, kinds > 62, kinds < 20], [SPRUCE, BIRCH, BOG], OPEN), **known)


def on_middle_line(heights, cover, **known):
    ground = make_ground(np.ascontiguousarray(heights), np.ascontiguousarray(cover), **known)
    west_m = ground.grid.west_m - ground.grid.cols * ground.grid.cell_m / 2
    return dataclasses.replace(ground, grid=dataclasses.replace(ground.grid, west_m=west_m))


def layers_of(ground, weather):
    terrain = read_terrain(make_plan(ground, weather=Weather(**weather)), ground)
    shape = read_shape(ground)
    layers = {name: getattr(terrain, name) for name in (*LAYERS, "unsafe_unknown")}
    return {**layers, **{name: getattr(shape, name) for name in (*SHAPES, "aspect_deg")}}


def moved_weather(weather, turned):
    if "wind_from_deg" in weather:
        return {"wind_from_deg": bearing_deg(turned(weather["wind_from_deg"]))}
    return {"wind_rose": tuple((bearing_deg(turned(deg)), *rest) for deg, *rest in weather.get("wind_rose", ()))}


@pytest.mark.parametrize("kind", ["terrain", "surface"])
@pytest.mark.parametrize("winds", WINDS)
@pytest.mark.parametrize("move", MOVES)
def test_the_answer_moves_with_ground_and_wind(move, winds, kind):
    moved, turned = MOVES[move]
    plain_ground = land(elevation_kind=kind)
    plain = layers_of(plain_ground, WINDS[winds])
    other_ground = on_middle_line(moved(plain_ground.elevation_m), moved(plain_ground.cover_index), elevation_kind=kind)
    other = layers_of(other_ground, moved_weather(WINDS[winds], turned))
    aspect, want = other.pop("aspect_deg"), turned(moved(plain.pop("aspect_deg")))
    steep = moved(plain["slope_deg"]) > 0.5
    assert np.nanmax(np.abs((aspect - want + 180.0) % 360.0 - 180.0)[steep]) < 2e-2
    for name, layer in plain.items():
        np.testing.assert_allclose(other[name], moved(layer), atol=2e-3, err_msg=name)


@pytest.mark.parametrize("winds", WINDS)
def test_raising_the_land_changes_nothing(winds):
    ground = land()
    low_m = np.rint(ground.elevation_m * 8) / 8  # so that the sums are exact
    low, high = (
        layers_of(on_middle_line(low_m + more_m, ground.cover_index), WINDS[winds]) for more_m in (0.0, 1024.0)
    )
    for name, layer in low.items():
        np.testing.assert_allclose(high[name], layer, atol=1e-3, err_msg=name)


def test_twice_the_cell_and_twice_the_height_are_the_same_shape():
    z, grid, wide = made_relief(40, 44), make_grid(40, 44), make_grid(40, 44, cell_m=20.0)
    for name, small, large in (
        ("slope", slope_and_aspect(z, grid, watch=Watch())[0], slope_and_aspect(2 * z, wide, watch=Watch())[0]),
        ("aspect", slope_and_aspect(z, grid, watch=Watch())[1], slope_and_aspect(2 * z, wide, watch=Watch())[1]),
        ("30 m", surroundings_slope_deg(z, grid, watch=Watch()), surroundings_slope_deg(2 * z, wide, watch=Watch())),
        ("roughness", 2 * roughness_m(z, watch=Watch()), roughness_m(2 * z, watch=Watch())),
        ("position", 2 * position_m(z, 80.0, cell_m=10.0, watch=Watch()),
         position_m(2 * z, 160.0, cell_m=20.0, watch=Watch())),
        ("upwind", upwind_slope_deg(z, (300.0,), cell_m=10.0, watch=Watch(), reach_m=150.0)[0],
         upwind_slope_deg(2 * z, (300.0,), cell_m=20.0, watch=Watch(), reach_m=300.0)[0]),
    ):  # fmt: skip
        # The window's middle lies elsewhere, so the true width of a cell and grid north are a trace off.
        np.testing.assert_allclose(large, small, atol=2e-2, rtol=1e-4, err_msg=name)


@pytest.fixture
def many_blocks(monkeypatch):
    """Work in another order of the blocks, on more threads."""

    def shuffled(kernel, size, *, watch, step, block_rows=None):
        row_count, block_rows = np.atleast_1d(size)[0], block_rows or work.rows_at_once(size)
        starts = np.random.default_rng(8).permutation(np.arange(0, row_count, block_rows))
        with ThreadPoolExecutor(3) as pool:
            list(pool.map(lambda first: kernel(int(first), int(min(first + block_rows, row_count))), starts))

    for module in (cold, slope, stand, survey, treetops, upwind, wind):
        monkeypatch.setattr(module, "run_row_blocks", shuffled)


@pytest.mark.parametrize("kind", ["terrain", "surface"])
def test_order_of_blocks_and_count_of_threads_leave_every_bit(kind, request):
    ground = land(300, 60, elevation_kind=kind)
    one = layers_of(ground, WINDS["told"])
    request.getfixturevalue("many_blocks")
    other = layers_of(ground, WINDS["told"])
    for name, layer in one.items():
        np.testing.assert_array_equal(other[name], layer, err_msg=name)


@pytest.mark.parametrize("winds", WINDS)
def test_a_gap_spreads_no_farther_than_the_slope_needs(winds):
    ground = land()
    heights = ground.elevation_m.copy()
    heights[20:22, 25:28] = np.nan
    layers = layers_of(on_middle_line(heights, ground.cover_index), WINDS[winds])
    beside, edge = np.zeros(heights.shape, bool), np.ones(heights.shape, bool)
    edge[1:-1, 1:-1] = False
    beside[19:23, 24:29] = True
    for name in ("slope_deg", "slope_30m_deg", "slope_error_deg", "wind_share", "wind_share_worst", "roughness_m"):
        np.testing.assert_array_equal(np.isnan(layers[name]), beside | edge, err_msg=name)
    for name in ("position_near_m", "position_far_m"):
        np.testing.assert_array_equal(np.isnan(layers[name]), np.isnan(heights), err_msg=name)


@pytest.mark.parametrize("shape", [(1, 1), (1, 30), (30, 1), (2, 2), (5, 4)])
@pytest.mark.parametrize("kind", ["terrain", "surface"])
def test_windows_smaller_than_every_reach_are_answered(shape, kind):
    layers = layers_of(land(*shape, elevation_kind=kind), {})
    assert all(layer.shape == shape for layer in layers.values())
    if min(shape) < 3:
        assert np.isnan(layers["slope_deg"]).all()
        assert layers["unsafe_unknown"].all()
    assert np.isfinite(layers["position_far_m"]).all() == (shape != (1, 1))


def test_a_margin_is_what_numpy_pads():
    z = made_relief(20, 9)
    np.testing.assert_array_equal(
        margin.with_margin(z, 4, 11, 3), np.pad(z, 3, constant_values=np.nan)[4 : 11 + 6]
    )  # fmt: skip
    far = margin.with_margin(z, 0, 20, 40)
    np.testing.assert_array_equal(far, np.pad(z, 40, constant_values=np.nan))


@pytest.mark.parametrize("reach", [0, 1, 2, 5, 15])
def test_the_extreme_of_a_square_is_that_of_its_cells(reach):
    z = made_relief(20, 17)
    framed = margin.with_margin(z, 0, 20, reach, nothing=-1.0)
    got = margin.extreme_around(framed, reach, np.maximum)
    want = [[framed[r : r + 2 * reach + 1, c : c + 2 * reach + 1].max() for c in range(17)] for r in range(20)]
    np.testing.assert_array_equal(got, want)
