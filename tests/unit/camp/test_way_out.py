"""How a casualty is brought out: the nearest track by time, the way back, a clearing."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.camp import lay_out_camp
from sitepick.camp.way_out import way_to_track
from sitepick.sites import find_sites
from sitepick.work import Watch
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

SIZE = 80
AT = (40, 40)


def to_track(tracks, *, walls=None, heights=None):
    """From the middle of a wood to tracks on it; nobody gets through walls."""
    ground = make_ground(np.full((SIZE, SIZE), 300.0) if heights is None else heights, SPRUCE)
    is_track = np.zeros((SIZE, SIZE), bool)
    for cells in tracks:
        is_track[cells] = True
    ground, plan = replace(ground, is_track=is_track), make_plan(ground)
    march = make_march(plan, ground)
    pace = np.array(march.minutes_per_100m, copy=True)
    if walls is not None:
        pace[walls] = np.nan
    at_m = ground.grid.cell_centre_m(*AT)
    found = way_to_track(plan, ground, make_terrain(ground), replace(march, minutes_per_100m=pace), at_m, watch=Watch())
    return found, float(np.nanmax(pace)), ground.grid


def test_the_nearest_track_is_told_with_time_distance_and_bearing():
    found, minutes_per_100m, grid = to_track([(slice(None), 60), (10, slice(None))])
    assert found.away_m == pytest.approx(200.0, abs=0.5)
    assert found.bearing_deg == pytest.approx(90.0 + grid.convergence_deg(*grid.cell_centre_m(*AT)), abs=0.1)
    assert found.minutes == pytest.approx(2.0 * minutes_per_100m, rel=0.02)


def test_a_track_behind_a_wall_is_not_the_nearest():
    found, _, _ = to_track([(slice(None), 50), (10, slice(None, 45))], walls=(slice(None), 47))
    assert found.away_m == pytest.approx(300.0, abs=1.0)
    assert found.bearing_deg == pytest.approx(0.0, abs=1.0) or found.bearing_deg > 359.0


@pytest.mark.parametrize("tracks", [[], [(slice(None), 79)]])
def test_no_track_or_none_that_can_be_reached_is_none(tracks):
    found, _, _ = to_track(tracks, walls=(slice(None), 60))
    assert found is None


def way_out_of(is_track):
    ground = replace(make_ground(np.full((SIZE, SIZE), 300.0), SPRUCE), is_track=is_track)
    plan = make_plan(ground, people=10)
    terrain, march = make_terrain(ground), make_march(plan, ground)
    sites = find_sites(plan, ground, terrain, march)
    return lay_out_camp(plan, ground, terrain, march, sites).work.way_out


def test_every_way_out_stands_in_the_work_order():
    is_track = np.zeros((SIZE, SIZE), bool)
    is_track[70] = True
    told = way_out_of(is_track)
    assert told.startswith("To the nearest mapped track: ")
    assert " to the south (" in told
    assert "km to the start" in told
    assert way_out_of(np.zeros((SIZE, SIZE), bool)).startswith("By the way in and back")
