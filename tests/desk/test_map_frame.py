"""Pixels and metres of the map agree both ways."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.desk.map_frame import COARSEST_M_PER_PX, FINEST_M_PER_PX, MapFrame, grid_around, round_step
from sitepick.plan.model import Route

FRAME = MapFrame(east_m=500_000.0, north_m=7_480_000.0, m_per_px=5.0, width_px=801.0, height_px=603.0)


def test_a_point_goes_to_a_pixel_and_back():
    assert FRAME.to_ground(*FRAME.to_px(501_234.0, 7_479_321.0)) == pytest.approx((501_234.0, 7_479_321.0))


def test_the_middle_is_in_the_middle_and_north_is_up():
    assert FRAME.to_px(FRAME.east_m, FRAME.north_m) == (400.5, 301.5)
    assert FRAME.to_px(FRAME.east_m, FRAME.north_m + 100)[1] == 301.5 - 20


def test_a_line_goes_where_its_points_go():
    line = np.array([[500_100.0, 7_480_100.0], [500_900.0, 7_479_000.0]])
    assert FRAME.line_to_px(line) == pytest.approx(np.array([FRAME.to_px(*point) for point in line]))


@pytest.mark.parametrize("factor", [0.5, 3.0])
def test_zooming_keeps_the_ground_under_the_pixel(factor: float):
    assert FRAME.zoomed(factor, 10, 500).to_ground(10, 500) == pytest.approx(FRAME.to_ground(10, 500))


def test_zooming_ends_at_its_limits():
    assert FRAME.zoomed(1e9, 0, 0).m_per_px == FINEST_M_PER_PX
    assert FRAME.zoomed(1e-9, 0, 0).m_per_px == COARSEST_M_PER_PX


def test_a_box_shown_lies_in_view():
    frame = FRAME.showing((490_000.0, 7_470_000.0, 498_000.0, 7_471_000.0), margin_px=30)
    left, bottom = frame.to_px(490_000.0, 7_470_000.0)
    right, top = frame.to_px(498_000.0, 7_471_000.0)
    assert left == pytest.approx(30)
    assert right == pytest.approx(frame.width_px - 30)
    assert 30 <= top < bottom <= frame.height_px - 30


@pytest.mark.parametrize(("least", "step"), [(0.9, 1.0), (1.0, 1.0), (1.1, 2.0), (30.0, 50.0), (700.0, 1000.0)])
def test_round_steps_are_one_two_five(least: float, step: float):
    assert round_step(least) == pytest.approx(step)


def test_a_routes_own_grid_holds_it_with_room_around():
    route = Route(name="Made", points=((21.0, 67.4), (21.3, 67.5)))
    grid = grid_around(route)
    east_m, north_m = grid.from_lonlat(*zip(*route.points, strict=True))
    assert grid.crs == "EPSG:32634"
    assert east_m.min() - grid.west_m == pytest.approx(3000.0, abs=11)
    assert grid.north_m - north_m.max() == pytest.approx(3000.0, abs=11)
    assert all(grid.contains(float(e), float(n)) for e, n in zip(east_m, north_m, strict=True))
