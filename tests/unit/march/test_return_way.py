"""The way back to the route runs the other way: what was quick down is slow up."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import numpy as np
import pytest

from sitepick.march import minutes_back_to_route, plan_march
from sitepick.march.pace import pace_of, slope_factor
from tests.helpers.made import make_ground, make_plan, make_terrain

ROWS, COLS = 81, 120


ASKED = (ROWS // 2 + 30, 60)


def back_over(tangent, *, limit_min=60.0, cells=(ASKED, (0, 60))):
    """Ground that falls by `tangent` from the route in the middle to both sides."""
    row = np.abs(np.arange(ROWS) - ROWS // 2)
    ground = make_ground(np.broadcast_to(-10.0 * tangent * row[:, None], (ROWS, COLS)))
    plan = make_plan(ground)
    plan = replace(plan, march=replace(plan.march, has_sled=False, camp_by_hour=time(9, 0)))
    terrain = make_terrain(ground)
    march = plan_march(plan, ground, terrain)
    return plan, march, minutes_back_to_route(plan, ground, terrain, march, cells, limit_min=limit_min)


@pytest.mark.parametrize("tangent", [0.0, 0.1, -0.1])
def test_straight_back_takes_the_slope_the_other_way(tangent):
    plan, _, back = back_over(tangent)
    cell = ASKED
    level_min = 300.0 / 3200.0 * 60.0
    pace = pace_of(plan.march, plan.weather)
    assert back.minutes[cell] == pytest.approx(level_min * float(slope_factor(pace, tangent)), rel=0.02)


def test_it_ends_at_the_station_nearest_in_time():
    _, march, back = back_over(0.0)
    cell = ASKED
    east_m, _ = march.grid.cell_centre_m(*cell)
    assert march.route_m[back.seed[cell], 0] == pytest.approx(east_m, abs=20.0)


def test_past_the_limit_nothing_is_known():
    _, _, back = back_over(0.0, limit_min=3.0)
    assert np.isnan(back.minutes[0, 60])
    assert back.seed[0, 60] == -1
    assert back.minutes[ROWS // 2, 60] == pytest.approx(0.0, abs=0.2)


def test_ground_behind_the_farthest_place_asked_for_is_not_looked_at():
    _, _, near = back_over(0.0, cells=[(ROWS // 2 + 3, 60)])
    _, _, far = back_over(0.0)
    assert near.minutes[ROWS // 2 + 3, 60] == far.minutes[ROWS // 2 + 3, 60]
    asked_min = near.minutes[ROWS // 2 + 3, 60]
    assert np.isfinite(far.minutes[1:-1]).all()
    np.testing.assert_array_equal(np.isfinite(near.minutes), far.minutes <= asked_min)
