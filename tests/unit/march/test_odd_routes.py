"""Routes that cross what they shouldn't: a right answer or one sentence, never a crash."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time

import numpy as np
import pytest

from sitepick.errors import MarchError, SettingsError
from sitepick.grid import Grid
from sitepick.march import plan_march
from sitepick.plan.model import MarchSettings, Route
from tests.helpers.made import LAKE, OPEN, make_ground, make_plan, make_terrain

ROWS, COLS = 60, 200


def march_along(cells, ground=None, **march):
    ground = ground or make_ground(np.zeros((ROWS, COLS)))
    points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(*cell)) for cell in cells]
    route = Route(name="Odd", points=tuple((float(lon), float(lat)) for lon, lat in points))
    plan = make_plan(ground, route=route)
    settings = {"has_sled": False, "camp_by_hour": time(10, 0), "halt_min": 0.0, **march}
    plan = replace(plan, march=replace(plan.march, **settings))
    return plan_march(plan, ground, make_terrain(ground))


def blocked(march):
    return [caution.text for caution in march.cautions if "can be followed for" in caution.text]


@pytest.mark.parametrize("kind", ["lake", "cliff", "gap", "no-go"])
def test_what_can_t_be_crossed_ends_the_route_with_one_sentence(kind):
    height, cover = np.zeros((ROWS, COLS)), np.full((ROWS, COLS), OPEN)
    is_no_go = np.zeros((ROWS, COLS), bool)
    words = {"lake": "water without ice", "cliff": "too steep", "gap": "don't know", "no-go": "out of bounds"}[kind]
    if kind == "lake":
        cover[:, 100:103] = LAKE
    elif kind == "cliff":
        height[:, 100:] = 40.0
    elif kind == "gap":
        height[:, 100:103] = np.nan
    else:
        is_no_go[:, 100:103] = True
    march = march_along([(30, 5), (30, 190)], replace(make_ground(height, cover), is_no_go=is_no_go))
    told = blocked(march)
    assert len(told) == 1
    assert words in told[0]
    assert march.is_blocked
    assert np.isnan(march.moving_min[:, 104:]).all()
    assert march.turn_back is not None


def test_a_route_that_leaves_the_ground_ends_at_its_edge():
    ground = make_ground(np.zeros((ROWS, COLS)))
    march = march_along([(30, 5), (30, COLS + 300)], ground)
    assert "edge of the ground" in blocked(march)[0]
    assert march.reach_along_route_m == pytest.approx(1940.0, abs=20.0)


def test_a_route_that_crosses_itself_is_left_by_its_first_pass():
    march = march_along([(30, 10), (30, 150), (50, 100), (10, 60)])
    crossing = march.grid.cell_at(*march.route_m[60])
    assert march.moving_min[crossing] <= march.station_moving_min[60] + 0.2
    along = march.station_moving_min
    assert np.all(np.diff(along) >= 0.0)


def test_two_equal_points_cost_nothing():
    once, twice = march_along([(30, 5), (30, 90)]), march_along([(30, 5), (30, 50), (30, 50), (30, 90)])
    assert twice.station_moving_min[-1] == pytest.approx(once.station_moving_min[-1])
    assert all(leg.distance_m > 0.0 for leg in twice.legs)


def test_a_route_without_length_is_one_sentence():
    with pytest.raises(MarchError, match="lie in one place"):
        march_along([(30, 5), (30, 5)])


def test_there_and_back_reaches_its_start_again():
    march = march_along([(30, 5), (30, 60), (30, 5)])
    assert march.reach_along_route_m == pytest.approx(1100.0, abs=5.0)


def test_a_route_over_the_date_line_is_marched_across():
    ground = replace(
        make_ground(np.zeros((60, 400))),
        grid=Grid(crs="EPSG:32601", west_m=281_000.0, north_m=7_480_000.0, cell_m=10.0, rows=60, cols=400),
    )
    points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(30, col)) for col in (5, 390)]
    lon, lat = np.array(points, float).T
    plan = make_plan(ground, route=Route(name="Line", points=tuple(zip(lon.tolist(), lat.tolist(), strict=True))))
    plan = replace(plan, march=replace(plan.march, has_sled=False, camp_by_hour=time(10, 0), camp_in_dark=True))
    march = plan_march(plan, ground, make_terrain(ground))
    assert march.route_length_m == pytest.approx(3850.0, rel=0.01)


def test_a_departure_without_a_zone_is_one_sentence():
    with pytest.raises(SettingsError, match="no time zone"):
        MarchSettings(depart=datetime(2027, 2, 11, 8, 0))


def test_a_departure_after_camp_by_is_one_sentence_with_two_ways_out():
    late = datetime(2027, 2, 11, 17, 0, tzinfo=make_plan().march.depart.tzinfo)
    with pytest.raises(MarchError, match=r"departs at 17:00 .* must be in camp by .*depart earlier.*camp_in_dark"):
        march_along([(30, 5), (30, 90)], depart=late, camp_by_hour=None)
