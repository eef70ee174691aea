"""What a leader expects of the camp."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from sitepick.camp import lay_out_camp
from sitepick.plan.edits import with_values
from sitepick.plan.model import CampSettings
from sitepick.sites import find_sites
from sitepick.units import bearing_between_deg
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

GLOBE = Geod(ellps="WGS84")


def camp_on(shape=(60, 60), *, people=38, plan=None, **terrain):
    ground = make_ground(np.full(shape, 300.0), SPRUCE)
    plan = plan or make_plan(ground, people=people)
    made = make_terrain(ground, **terrain)
    march = make_march(plan, ground)
    sites = find_sites(plan, ground, made, march)
    return lay_out_camp(plan, ground, made, march, sites), sites, plan


def apart_m(camp, grid):
    lon, lat = grid.to_lonlat([one.east_m for one in camp.shelters], [one.north_m for one in camp.shelters])
    return [
        GLOBE.inv(lon[a], lat[a], lon[b], lat[b])[2] for a, b in itertools.combinations(range(len(camp.shelters)), 2)
    ]


@pytest.mark.slow
@pytest.mark.parametrize("people", [1, 12, 38, 150])
def test_every_shelter_finds_a_place_at_the_spacing(people):
    camp, sites, plan = camp_on((90, 90), people=people)
    assert [placed.shelter for placed in camp.shelters] == list(plan.unit.shelters)
    assert not camp.missing
    distances = apart_m(camp, sites.grid)
    assert all(distance >= camp.spacing_m for distance in distances)
    assert camp.min_distance_m == pytest.approx(min(distances, default=0.0))


@pytest.mark.slow
@settings(max_examples=5, deadline=None, derandomize=True)
@given(seed=st.integers(0, 1000), spacing_m=st.floats(12.0, 60.0))
def test_every_footprint_stands_on_ground_within_limits(seed, spacing_m):
    random = np.random.default_rng(seed)
    is_wet = random.random((60, 60)) < 0.15
    plan = replace(make_plan(people=24), camp=CampSettings(spacing_m=spacing_m))
    camp, sites, _ = camp_on(plan=plan, is_wet=is_wet)
    grid = sites.grid
    for placed in camp.shelters:
        disc = shapely.Point(placed.east_m, placed.north_m).buffer(placed.shelter.kind.footprint_m * 0.9996 / 2 - 0.01)
        row, col = grid.cell_at(placed.east_m, placed.north_m)
        for r, c in itertools.product(range(row - 1, row + 2), range(col - 1, col + 2)):
            east_m, north_m = grid.cell_centre_m(r, c)
            if disc.intersects(shapely.box(east_m - 5, north_m - 5, east_m + 5, north_m + 5)):
                assert sites.can_pitch[r, c]
    assert all(distance >= spacing_m for distance in apart_m(camp, grid))


def test_the_leader_stands_in_the_middle():
    camp, _, _ = camp_on(people=60)
    middle = np.mean([(one.east_m, one.north_m) for one in camp.shelters], axis=0)
    away = {one.shelter.is_leaders: [] for one in camp.shelters}
    for one in camp.shelters:
        away[one.shelter.is_leaders].append(np.hypot(one.east_m - middle[0], one.north_m - middle[1]))
    assert max(away[True]) <= min(away[False])


@pytest.mark.parametrize("wind_from_deg", [0.0, 77.0, 200.0, 300.0])
def test_doors_stand_oblique_to_the_wind_on_the_side_of_the_camp(wind_from_deg):
    plan = with_values(make_plan(people=60), "weather", wind_from_deg=wind_from_deg)
    camp, sites, _ = camp_on(plan=plan)
    middle = np.mean([(one.east_m, one.north_m) for one in camp.shelters], axis=0)
    turn_deg = sites.grid.convergence_deg(*middle)
    for one in camp.shelters:
        assert bearing_between_deg(one.door_bearing_deg, wind_from_deg) == pytest.approx(135.0)
        to_middle = np.degrees(np.arctan2(middle[0] - one.east_m, middle[1] - one.north_m)) + turn_deg
        other = (2.0 * wind_from_deg - one.door_bearing_deg) % 360.0
        here, there = (bearing_between_deg(side, to_middle) for side in (one.door_bearing_deg, other))
        assert here <= there + 0.1 or np.hypot(middle[0] - one.east_m, middle[1] - one.north_m) < 1.0


@pytest.mark.parametrize("weather", [{"wind_from_deg": None}, {"wind_kmh": 0.0}])
def test_doors_look_to_the_middle_when_it_is_calm_or_the_wind_is_not_known(weather):
    plan = with_values(make_plan(people=60), "weather", **weather)
    camp, sites, _ = camp_on(plan=plan)
    middle = np.mean([(one.east_m, one.north_m) for one in camp.shelters], axis=0)
    turn_deg = sites.grid.convergence_deg(*middle)
    for one in camp.shelters:
        if np.hypot(middle[0] - one.east_m, middle[1] - one.north_m) > 1.0:
            to_middle = np.degrees(np.arctan2(middle[0] - one.east_m, middle[1] - one.north_m)) + turn_deg
            assert bearing_between_deg(one.door_bearing_deg, to_middle) < 0.1


def test_the_way_in_meets_the_outline():
    camp, sites, _ = camp_on()
    entry = shapely.Point(camp.entry_east_m, camp.entry_north_m)
    assert sites.sites[0].outline_m.exterior.distance(entry) < 0.01


def test_the_slope_told_is_the_steepest_under_the_footprint():
    slope = np.random.default_rng(4).random((60, 60)).astype(np.float32) * 5.0
    camp, sites, _ = camp_on(slope_deg=slope)
    for placed in camp.shelters:
        assert placed.slope_deg >= float(slope[sites.grid.cell_at(placed.east_m, placed.north_m)]) - 1e-6


def test_shelters_without_a_place_are_named():
    ground = make_ground(np.full((60, 60), 300.0), SPRUCE)
    plan = make_plan(ground, people=20)
    made, march = make_terrain(ground), make_march(plan, ground)
    sites = find_sites(plan, ground, made, march)
    camp = lay_out_camp(make_plan(ground, people=150), ground, made, march, sites)
    assert camp.missing
    assert len(camp.shelters) + len(camp.missing) == 16
    assert camp.cautions[0].kind == "room"


def test_a_camp_needs_a_site():
    ground = make_ground(np.full((20, 20), np.nan), -1)
    plan = make_plan(ground)
    made, march = make_terrain(ground), make_march(plan, ground)
    with pytest.raises(ValueError, match="needs a site"):
        lay_out_camp(plan, ground, made, march, find_sites(plan, ground, made, march))
