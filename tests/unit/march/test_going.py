"""What the unit meets on each cell, and what is a wall to it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.march.going import (
    CLOSED_STAND,
    NO_GO,
    NO_WALL,
    OPEN_WATER,
    TOO_STEEP,
    UNKNOWN,
    ice_needed_cm,
    move_height_m,
    read_going,
)
from sitepick.march.pace import pace_of
from sitepick.plan.model import MODES, Weather
from sitepick.plan.pace import PaceSettings
from sitepick.terrain.model import MAPPED_STREAM
from tests.helpers.made import LAKE, OPEN, SPRUCE, make_ground, make_plan, make_terrain

MARCH = replace(make_plan().march, has_sled=False)


def going_over(cover=OPEN, *, height=None, terrain_values=None, march=None, **ground_values):
    """Going over twelve by twelve cells; `march` changes the plan's march."""
    ground = make_ground(np.zeros((12, 12)) if height is None else height, cover, **ground_values)
    settings = replace(MARCH, **(march or {}))
    pace = pace_of(settings, Weather(snow_cm=60.0))
    return read_going(settings, pace, ground, make_terrain(ground, **(terrain_values or {})))


def mask(*index):
    cells = np.zeros((12, 12), bool)
    cells[index] = True
    return cells


def lake_across():
    cover = np.full((12, 12), OPEN)
    cover[:, 5:8] = LAKE
    return cover


def test_open_ground_takes_the_level_rate_and_forest_its_going_factor_more():
    cover = np.full((12, 12), OPEN)
    cover[6:] = SPRUCE
    going = going_over(cover)
    assert going.off_route_s_per_m[0, 0] == pytest.approx(3.6 / 3.2)
    assert going.off_route_s_per_m[8, 0] == pytest.approx(3.6 / 3.2 * 1.2)


def test_a_broken_trail_quickens_the_route_and_nothing_off_it():
    going = going_over(march={"trail_broken": True})
    assert going.route_s_per_m[0, 0] == pytest.approx(3.6 / 4.8)
    assert going.off_route_s_per_m[0, 0] == pytest.approx(3.6 / 3.2)


def test_packed_tracks_go_like_a_broken_trail_through_any_cover():
    going = going_over(SPRUCE, is_track=mask(4))
    assert going.off_route_s_per_m[4, 3] == pytest.approx(3.6 / 4.8)
    unpacked = going_over(SPRUCE, is_track=mask(4), march={"tracks_packed": False})
    assert unpacked.off_route_s_per_m[4, 3] == pytest.approx(3.6 / 3.2)


def test_water_is_a_wall_until_ice_was_measured():
    going = going_over(lake_across())
    assert (going.wall[:, 5:8] == OPEN_WATER).all()
    assert np.isnan(going.off_route_s_per_m[:, 5:8]).all()
    assert not going.is_ice.any()


@pytest.mark.parametrize(
    ("mode", "has_sled", "needed_cm"),
    [("foot", False, 10.0), ("ski", False, 10.0), ("ski", True, 15.0), ("vehicle", False, 50.0)],
)
def test_ice_bears_from_the_thickness_of_the_load_on(mode, has_sled, needed_cm):
    """Common practice: a file of people 10 cm, sleds 15 cm; vehicles by the load formula, with room to spare."""
    march = {"mode": mode, "has_sled": has_sled}
    assert ice_needed_cm(replace(MARCH, **march)) == needed_cm
    bears = going_over(lake_across(), march={**march, "ice_cm": needed_cm})
    assert (bears.wall == NO_WALL).all()
    assert (bears.is_ice == (lake_across() == LAKE)).all()
    assert (going_over(lake_across(), march={**march, "ice_cm": needed_cm - 0.1}).wall[:, 6] == OPEN_WATER).all()


def test_the_vehicles_ice_bears_five_tonnes_by_the_load_formula():
    """Gold 1971: P = 3.5 h² kg; its known overstress of 56-71 % taken off."""
    assert 3.5 * 50.0**2 / 1.71 > 5000.0


def test_white_ice_counts_half_and_never_without_clear_ice_measured():
    """Common practice."""
    thin = {"ice_cm": 9.0, "pace": PaceSettings(white_ice_cm=1.0)}
    assert (going_over(lake_across(), march=thin).wall[:, 6] == OPEN_WATER).all()
    thick = {"ice_cm": 9.0, "pace": PaceSettings(white_ice_cm=2.0)}
    assert (going_over(lake_across(), march=thick).wall == NO_WALL).all()
    only_white = {"ice_cm": None, "pace": PaceSettings(white_ice_cm=80.0)}
    assert (going_over(lake_across(), march=only_white).wall[:, 6] == OPEN_WATER).all()


@pytest.mark.parametrize("mode", MODES)
@pytest.mark.parametrize("has_sled", [False, True])
def test_nothing_goes_on_less_than_10_cm(mode, has_sled):
    light = replace(MARCH, mode=mode, has_sled=has_sled, pace=PaceSettings(vehicle_kg=100.0))
    assert ice_needed_cm(light) >= 10.0


def test_a_track_bridges_water_and_the_bridge_is_marked():
    going = going_over(lake_across(), is_track=mask(4))
    assert (going.wall[4] == NO_WALL).all()
    assert (going.is_bridge == (mask(4) & (lake_across() == LAKE))).all()
    assert (going.wall[5, 5:8] == OPEN_WATER).all()


def test_a_track_over_wide_water_is_no_bridge():
    cover = np.full((12, 12), LAKE)
    going = going_over(cover, is_track=mask(4), cell_m=30.0)
    assert (going.wall[4] == OPEN_WATER).all()


def test_ground_that_isn_t_known_is_a_wall():
    height = np.zeros((12, 12))
    height[2, 2] = np.nan
    cover = np.full((12, 12), OPEN)
    cover[3, 3] = -1
    going = going_over(cover, height=height)
    assert going.wall[2, 2] == going.wall[3, 3] == UNKNOWN
    assert (going.wall != NO_WALL).sum() == 2


def test_marked_ground_is_a_wall_even_on_a_track():
    assert going_over(is_no_go=mask(4), is_track=mask(4)).wall[4, 4] == NO_GO


def test_steep_ground_is_a_wall_but_for_a_track_cut_into_it():
    steep = {"slope_deg": np.full((12, 12), 27.0, np.float32)}
    going = going_over(terrain_values=steep, is_track=mask(4))
    assert going.wall[3, 3] == TOO_STEEP  # over the skis' 25°
    assert going.wall[4, 3] == NO_WALL
    assert (going_over(terrain_values=steep, march={"mode": "foot"}).wall == NO_WALL).all()


def test_a_vehicle_stays_out_of_closed_forest_but_for_tracks():
    going = going_over(SPRUCE, is_track=mask(4), march={"mode": "vehicle"})
    assert going.wall[3, 3] == CLOSED_STAND
    assert going.wall[4, 3] == NO_WALL


def test_streams_are_crossed_and_marked_but_not_under_a_track():
    ground = make_ground(np.zeros((12, 12)), is_track=mask(4))
    terrain = replace(
        make_terrain(ground), water_kind=np.where(mask(slice(None), 6), MAPPED_STREAM, 0).astype(np.uint8)
    )
    going = read_going(MARCH, pace_of(MARCH, Weather()), ground, terrain)
    assert going.is_stream[3, 6]
    assert not going.is_stream[4, 6]
    assert (going.wall == NO_WALL).all()


def test_a_surface_models_stand_edges_are_no_cliffs():
    tree_tops = np.zeros((12, 12))
    tree_tops[:, 6:] = 12.0
    ground = make_ground(tree_tops, elevation_kind="surface")
    step = np.abs(np.diff(move_height_m(ground), axis=1)).max()
    assert step < 10.0 * np.tan(np.radians(20.0))
    terrain = {"slope_deg": np.where(mask(slice(None), 6), 40.0, 0.0).astype(np.float32)}
    assert (going_over(height=tree_tops, elevation_kind="surface", terrain_values=terrain).wall == NO_WALL).all()


def test_a_surface_models_gaps_stay_gaps():
    tree_tops = np.ones((12, 12))
    tree_tops[5, 5] = np.nan
    heights = move_height_m(make_ground(tree_tops, elevation_kind="surface"))
    assert np.isnan(heights[5, 5])
    assert heights[5, 6] == pytest.approx(1.0)
