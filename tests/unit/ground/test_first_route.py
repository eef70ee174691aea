"""A first line over files, for a plan without a route."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.errors import GroundError
from sitepick.ground import read_ground, route_across
from tests.helpers.made import NORTH_M, WEST_M
from tests.helpers.real_places import coast_plan
from tests.unit.ground.files import TREE, from_origin, lonlat, plan_for, plane, write_raster


def test_the_line_lies_in_the_middle_of_what_both_files_cover(tmp_path):
    elevation = write_raster(tmp_path / "e.tif", plane(40, 60))
    cover = write_raster(tmp_path / "c.tif", np.full((40, 30), TREE, np.uint8))
    plan = plan_for(elevation, cover)
    route = route_across(plan.ground)
    lon, lat = np.mean(route.points, axis=0)
    assert (lon, lat) == pytest.approx(lonlat(20, 15), abs=1e-4)
    assert read_ground(plan_for(elevation, cover, points=route.points)).grid.shape == (40, 60)


def test_on_a_real_place_it_is_a_few_kilometres_long():
    (west, south), (east, north) = route_across(coast_plan().ground).points
    assert east - west == pytest.approx(0.1, abs=1e-5)
    assert south == north


def test_files_of_different_places_are_told(tmp_path):
    elevation = write_raster(tmp_path / "e.tif", plane(40, 60))
    away = from_origin(WEST_M + 9000.0, NORTH_M, 10.0, 10.0)
    cover = write_raster(tmp_path / "c.tif", np.full((40, 60), TREE, np.uint8), transform=away)
    with pytest.raises(GroundError, match="don't overlap"):
        route_across(plan_for(elevation, cover).ground)


def test_every_bad_file_is_told(tmp_path):
    with pytest.raises(GroundError, match="2 faults"):
        route_across(plan_for(tmp_path / "no.tif", tmp_path / "none.tif").ground)
