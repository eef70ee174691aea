"""Which slopes can release, what lies below them, and how the day's bulletin tightens both."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from sitepick.plan.avalanche import AvalancheSettings
from sitepick.plan.model import Weather
from sitepick.terrain import read_terrain
from sitepick.terrain.avalanche import limits_for
from tests.helpers.made import BIRCH, OPEN, SPRUCE, make_ground, make_plan
from tests.unit.terrain.test_read_terrain import steep_bank

TOP, FOOT = 20, 34  # rows of the made bank's upper and lower edge, 100 m of height apart


def terrain_of(ground, **settings):
    plan = make_plan(ground, weather=Weather(wind_from_deg=0.0), avalanche=AvalancheSettings(**settings))
    return read_terrain(plan, ground)


def texts(terrain):
    return " ".join(caution.text for caution in terrain.cautions if caution.kind == "avalanche")


@pytest.mark.parametrize(
    ("cell_m", "release_deg"), [(5.0, 28.0), (10.0, 28.0), (20.0, 25.0), (30.0, 25.0), (31.0, 25.0), (90.0, 22.0)]
)
def test_coarser_heights_flatten_banks_so_the_release_starts_gentler(cell_m, release_deg):
    assert limits_for(AvalancheSettings(), cell_m).release_deg == release_deg


@pytest.mark.parametrize(
    ("level", "release_deg", "runout_deg"),
    [(None, 28.0, 18.0), (1, 28.0, 18.0), (2, 28.0, 18.0), (3, 26.0, 17.0), (4, 24.0, 16.0), (5, 22.0, 15.0)],
)
def test_each_level_above_moderate_takes_its_step_off_both_angles(level, release_deg, runout_deg):
    limits = limits_for(AvalancheSettings(bulletin_level=level), 10.0)
    assert (limits.release_deg, limits.runout_deg, limits.path_deg) == (release_deg, runout_deg, runout_deg)


def test_limits_never_fall_below_what_snow_can_do_unless_the_user_says_so():
    steep = AvalancheSettings(bulletin_level=5, release_per_level_deg=6.0, runout_per_level_deg=4.0, runout_deg=10.0)
    limits = limits_for(steep, 90.0)
    assert limits.release_deg == 15.0
    assert limits.runout_deg == 8.0


def test_a_higher_level_never_frees_ground():
    ground = steep_bank(angle_deg=27.0)
    earlier = np.zeros(ground.grid.shape, bool)
    counts = []
    for level in (1, 2, 3, 4, 5):
        terrain = terrain_of(ground, bulletin_level=level)
        out = terrain.is_avalanche_release | terrain.is_avalanche_runout
        assert not (earlier & ~out).any()
        earlier = out
        counts.append(int(out.sum()))
    assert counts[0] == counts[1] == 0, "27 degrees hold at moderate danger"
    assert 0 < counts[2] < counts[3] < counts[4]


@pytest.mark.parametrize("runout_deg", [15.0, 18.0, 22.0])
def test_snow_runs_to_where_the_line_up_to_the_release_has_the_runout_angle(runout_deg):
    terrain = terrain_of(steep_bank(), runout_deg=runout_deg, path_deg=runout_deg)
    reached = np.flatnonzero(terrain.is_avalanche_runout[:, 20])
    top = np.flatnonzero(terrain.is_avalanche_release[:, 20]).min()
    drop_m = steep_bank().elevation_m[top, 20] - 200.0
    # A line of that angle from the top comes down so far out, and one cell is added.
    assert reached.max() - top == pytest.approx(drop_m / np.tan(np.radians(runout_deg)) / 10.0, abs=1.5)


def test_a_place_below_knows_the_angle_up_and_the_area_above():
    ground = steep_bank()
    terrain = terrain_of(ground)
    release = terrain.is_avalanche_release
    top = np.flatnonzero(release[:, 20]).min()
    for row in (40, 45, 50):
        rise_m = ground.elevation_m[top, 20] - ground.elevation_m[row, 20]
        want = np.degrees(np.arctan(rise_m / ((row - top) * 10.0)))
        assert terrain.avalanche_angle_deg[row, 20] == pytest.approx(want, abs=0.6)
    out = release | terrain.is_avalanche_runout
    assert np.isfinite(terrain.avalanche_angle_deg[out]).all()
    assert np.isnan(terrain.avalanche_angle_deg[~out]).all()
    assert np.isnan(terrain.avalanche_area_m2[~out]).all()
    np.testing.assert_allclose(terrain.avalanche_area_m2[out], release.sum() * ground.grid.cell_area_m2, rtol=1e-6)
    # Records of stops run from about 20 degrees, so 18 is strict; the one added cell lies a little below.
    assert terrain.avalanche_angle_deg[36:][terrain.is_avalanche_runout[36:]].min() > 16.5


def test_two_slopes_keep_their_own_areas():
    ground = steep_bank()
    cover = np.full(ground.grid.shape, OPEN)
    forest = make_ground(ground.elevation_m, cover, canopy_height_m=None)
    wall = forest.elevation_m.copy()
    wall[:, 24:28] = np.nan
    apart = terrain_of(make_ground(wall, cover))
    left, right = apart.avalanche_area_m2[45, 5], apart.avalanche_area_m2[45, 35]
    assert left > 1.5 * right > 0.0


def test_the_least_area_and_the_crowns_that_hold_the_snow_are_settings():
    cover = np.full((120, 40), SPRUCE)
    cover[:, 10:30] = OPEN
    assert terrain_of(steep_bank(cover), least_area_m2=10_000.0).is_avalanche_release.any()
    assert not terrain_of(steep_bank(cover), least_area_m2=100_000.0).is_avalanche_release.any()
    birch = steep_bank(BIRCH)
    assert terrain_of(birch).is_avalanche_release.any()
    assert not terrain_of(birch, dense_canopy_frac=0.5).is_avalanche_release.any()
    assert not terrain_of(steep_bank(), release_min_deg=40.0).is_avalanche_release[25:30, 5:-5].any()
    assert not terrain_of(steep_bank(angle_deg=48.0), release_max_deg=46.0).is_avalanche_release[24:27, 5:-5].any()


def test_a_gully_carries_snow_past_the_straight_line_only_where_the_path_angle_is_flatter():
    rows = np.arange(160)[:, None]
    fall = np.interp(rows * 10.0, [0.0, 200.0, 340.0, 1600.0], [0.0, 0.0, 98.0, 300.0])  # 35 degrees, then 9
    gully = 400.0 - fall + np.abs(np.arange(41) - 20.0)[None, :] * 2.0
    ground = make_ground(gully)
    straight, along = terrain_of(ground), terrain_of(ground, path_deg=12.0)
    assert (along.is_avalanche_runout & ~straight.is_avalanche_runout).any()
    assert not (straight.is_avalanche_runout & ~along.is_avalanche_runout).any()
    beyond = along.is_avalanche_runout & ~straight.is_avalanche_runout
    assert np.abs(np.nonzero(beyond)[1] - 20).max() <= 2, "down the gully, not over its sides"
    assert np.isfinite(along.avalanche_angle_deg[beyond]).all()


def test_without_a_bulletin_the_caution_says_so_and_with_one_quotes_it():
    assert "No bulletin is known here" in texts(terrain_of(steep_bank()))
    told = texts(terrain_of(steep_bank(), bulletin_level=4, fresh_24h_cm=25.0))
    assert "level 4, high" in told
    assert "25 cm in 24 h" in told
    assert "from 24° on" in told
    assert "line of 16°" in told
    fresh = texts(terrain_of(steep_bank(), fresh_72h_cm=90.0))
    assert "counts as level 4" in fresh
    assert "No bulletin is known here" in fresh


def test_turning_mirroring_and_raising_the_ground_turns_mirrors_and_keeps_the_answer():
    z = np.rint(steep_bank().elevation_m * 8) / 8 + np.rint(8 * 3.0 * np.sin(np.arange(40) / 5.0))[None, :] / 8
    plain = terrain_of(make_ground(z))
    for turned, back in (
        (np.rot90(z), lambda a: np.rot90(a, -1)),
        (z[:, ::-1], lambda a: a[:, ::-1]),
        (z[::-1], lambda a: a[::-1]),
        (z + 512.0, lambda a: a),
    ):
        terrain = terrain_of(make_ground(turned))
        assert np.array_equal(back(terrain.is_avalanche_release), plain.is_avalanche_release)
        off = back(terrain.is_avalanche_runout) != plain.is_avalanche_runout
        assert off.mean() < 0.005, "lines of the same height are followed in the order of the rows"
        np.testing.assert_array_equal(
            np.nan_to_num(back(terrain.avalanche_area_m2))[~off], np.nan_to_num(plain.avalanche_area_m2)[~off]
        )


def test_twice_the_cell_and_twice_the_height_is_the_same_ground_with_four_times_the_area():
    ground = steep_bank()
    same_source = dataclasses.replace(make_ground(2.0 * ground.elevation_m, cell_m=20.0), source_cell_m=10.0)
    plain, double = terrain_of(ground), terrain_of(same_source)
    assert np.array_equal(double.is_avalanche_release, plain.is_avalanche_release)
    assert np.array_equal(double.is_avalanche_runout, plain.is_avalanche_runout)
    np.testing.assert_allclose(double.avalanche_angle_deg, plain.avalanche_angle_deg, atol=0.01)
    np.testing.assert_allclose(double.avalanche_area_m2, 4.0 * plain.avalanche_area_m2, rtol=1e-3)
