"""How far a slope may be off, against draws and against closed forms."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sitepick.plan.edits import with_values
from sitepick.plan.model import Weather
from sitepick.terrain import chance_within, read_terrain
from sitepick.terrain.slope import surroundings_slope_deg
from sitepick.terrain.slope_error import height_error_m, slope_error_deg
from sitepick.work import Watch
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_grid, make_ground, make_plan


def plane(shape, slope_deg):
    return np.broadcast_to(np.arange(shape[1]) * 10.0 * math.tan(math.radians(slope_deg)), shape)


def test_the_error_of_a_plane_of_nine_heights_is_what_draws_show():
    rng = np.random.default_rng(11)
    heights = (plane((300, 300), 12.0) + rng.normal(0.0, 0.5, (300, 300))).astype(np.float32)
    found = surroundings_slope_deg(heights, make_grid(300, 300), watch=Watch())[1:-1, 1:-1]
    ground = make_ground(heights)
    told = slope_error_deg(np.full((300, 300), 12.0, np.float32), 0.5, ground)[0, 0]
    assert np.std(found) == pytest.approx(told, rel=0.03)


@pytest.mark.parametrize("source_cell_m", [30.0, 50.0])
def test_heights_wider_apart_err_as_the_line_between_two_of_them(source_cell_m):
    ground = make_ground(plane((9, 9), 0.0), source_cell_m=source_cell_m)
    told = slope_error_deg(np.zeros((9, 9), np.float32), 1.0, ground)[4, 4]
    assert told == pytest.approx(math.degrees(math.sqrt(2.0) / source_cell_m), rel=1e-5)


@pytest.mark.parametrize(("slope_deg", "error_deg", "limit_deg"), [(0.0, 2.0, 3.0), (4.0, 1.5, 5.7), (7.0, 3.0, 5.7)])
def test_the_chance_is_what_draws_show(slope_deg, error_deg, limit_deg):
    rng = np.random.default_rng(12)
    spread = math.radians(error_deg) / math.cos(math.radians(slope_deg)) ** 2
    east = math.tan(math.radians(slope_deg)) + rng.normal(0.0, spread, 200_000)
    steep = np.degrees(np.arctan(np.hypot(east, rng.normal(0.0, spread, 200_000))))
    drawn = np.mean(steep <= limit_deg)
    assert chance_within(slope_deg, error_deg, limit_deg) == pytest.approx(drawn, abs=0.005)


def test_the_chance_on_real_shapes_is_what_heights_drawn_anew_show():
    # Each draw is ground that may be there instead: the share of draws within the limit, cell by cell.
    rng = np.random.default_rng(14)
    heights, error_m, limit_deg = made_relief(14, 16, seed=2, height_m=12.0), 0.6, 5.7
    ground, grid = make_ground(heights), make_grid(14, 16)
    read_deg = surroundings_slope_deg(heights, grid, watch=Watch())
    chance = chance_within(read_deg, slope_error_deg(read_deg, error_m, ground), limit_deg)
    is_within = np.zeros(heights.shape)
    for _ in range(600):
        drawn = heights + rng.normal(0.0, error_m, heights.shape).astype(np.float32)
        is_within += surroundings_slope_deg(drawn, grid, watch=Watch()) <= limit_deg
    inner = np.s_[1:-1, 1:-1]
    assert np.mean((chance[inner] > 0.1) & (chance[inner] < 0.9)) > 0.3, "much of it is neither sure nor out"
    np.testing.assert_allclose(chance[inner], is_within[inner] / 600.0, atol=0.08)
    assert np.mean(chance[inner] - is_within[inner] / 600.0) == pytest.approx(0.0, abs=0.01)


def test_the_chance_on_level_ground_has_a_closed_form():
    # Rayleigh's distribution: 1 - exp(-limit^2 / 2 error^2).
    limit = math.tan(math.radians(5.0)) / math.radians(3.0)
    assert chance_within(0.0, 3.0, 5.0) == pytest.approx(1.0 - math.exp(-(limit**2) / 2.0), rel=1e-9)


def test_the_two_forms_meet_where_one_takes_over():
    slopes = np.linspace(5.0, 20.0, 400)
    chances = chance_within(slopes, 0.3, 9.5)
    assert (np.diff(chances) <= 1e-9).all()
    assert np.min(np.diff(chances)) > -0.06


def test_what_is_sure_is_yes_or_no_and_what_is_not_known_stays_so():
    chances = chance_within([3.0, 6.0, np.nan, 3.0], [0.0, 0.0, 1.0, np.nan], 5.7)
    np.testing.assert_array_equal(chances, [1.0, 0.0, np.nan, np.nan])


def test_a_larger_error_never_makes_near_level_ground_surer():
    chances = chance_within(2.0, np.array([0.1, 0.5, 1.0, 2.0, 4.0, 8.0]), 5.7)
    assert (np.diff(chances) <= 0.0).all()


@pytest.mark.parametrize(
    ("kind", "source_cell_m", "error_m"),
    [
        ("surface", 30.0, 1.2),
        ("unknown", 30.0, 1.2),
        ("terrain", 1.0, 0.15),
        ("terrain", 10.0, 0.3),
        ("terrain", 90, 2.5),
    ],
)
def test_the_usual_error_by_kind_and_cell(kind, source_cell_m, error_m):
    # From memory: 2 m in nine of ten between neighbours of a 30 m surface model are 1.2 m.
    ground = make_ground(plane((5, 5), 0.0), elevation_kind=kind, source_cell_m=source_cell_m)
    assert height_error_m(ground, None) == error_m
    assert height_error_m(ground, 0.4) == 0.4


def test_what_the_user_tells_of_the_files_counts():
    ground = make_ground(plane((20, 20), 2.0))
    plan = make_plan(ground, weather=Weather(wind_from_deg=0.0))
    usual, told = (read_terrain(p, ground) for p in (plan, with_values(plan, "ground", elevation_error_m=3.0)))
    np.testing.assert_allclose(told.slope_error_deg[1:-1, 1:-1], 10.0 * usual.slope_error_deg[1:-1, 1:-1], rtol=1e-5)
    np.testing.assert_array_equal(np.isnan(told.slope_error_deg), np.isnan(told.slope_30m_deg))


def test_tree_tops_make_a_slope_less_sure():
    cover = np.full((40, 40), OPEN)
    cover[:, 20:] = SPRUCE
    ground = make_ground(plane((40, 40), 2.0), cover, elevation_kind="surface")
    error = read_terrain(make_plan(ground, weather=Weather(wind_from_deg=0.0)), ground).slope_error_deg
    assert error[20, 30] > 2.0 * error[20, 8]
