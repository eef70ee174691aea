"""Routes that cross what they shouldn't: a right answer or one sentence, never a crash."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

import numpy as np
import pytest
from pyproj import Geod

from sitepick.errors import MarchError, SettingsError
from sitepick.grid import Grid
from sitepick.ground import ground_window
from sitepick.march import plan_march
from sitepick.march.clock import route_middle
from sitepick.plan.model import MarchSettings, Route
from sitepick.plan.pace import PaceSettings
from tests.helpers.made import LAKE, OPEN, make_ground, make_plan, make_terrain

ROWS, COLS = 60, 200


def march_along(cells, ground=None, *, snow_cm=None, carried_kg=None, **march):
    ground = ground or make_ground(np.zeros((ROWS, COLS)))
    points = [ground.grid.to_lonlat(*ground.grid.cell_centre_m(*cell)) for cell in cells]
    route = Route(name="Odd", points=tuple((float(lon), float(lat)) for lon, lat in points))
    plan = make_plan(ground, route=route)
    settings = {"has_sled": False, "camp_by_hour": time(10, 0), "halt_min": 0.0, **march}
    plan = replace(plan, march=replace(plan.march, **settings))
    if snow_cm is not None:
        plan = replace(plan, weather=replace(plan.weather, snow_cm=snow_cm))
    plan = replace(plan, load=replace(plan.load, carried_kg=carried_kg))
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


@pytest.mark.parametrize(
    ("crs", "west_m"),
    [("EPSG:32601", 369_800.0), ("EPSG:32660", 626_300.0)],
    ids=["read in the zone east of the line", "read in the zone west of it"],
)
def test_a_route_over_the_date_line_is_marched_across_as_if_there_were_none(crs, west_m):
    grid = Grid(crs=crs, west_m=west_m, north_m=7_480_000.0, cell_m=10.0, rows=60, cols=400)
    points = [tuple(float(value) for value in grid.to_lonlat(*grid.cell_centre_m(30, col))) for col in (5, 390)]
    assert points[0][0] > 179.9
    assert points[1][0] < -179.9
    ground = replace(make_ground(np.zeros((60, 400))), grid=grid)
    plan = make_plan(ground, route=Route(name="Line", points=tuple(points)))
    plan = replace(plan, march=replace(plan.march, has_sled=False, camp_by_hour=time(10, 0), camp_in_dark=True))
    march = plan_march(plan, ground, make_terrain(ground))
    assert march.route_length_m == pytest.approx(Geod(ellps="WGS84").line_length(*np.array(points).T), rel=1e-4)
    assert not march.is_blocked
    steps_m = np.hypot(*np.diff(march.route_m, axis=0).T)
    assert steps_m.max() <= grid.cell_m + 0.01  # nowhere round the globe
    assert ground_window(plan.route).crs in ("EPSG:32601", "EPSG:32660")
    assert abs(route_middle(plan.route)[0]) > 179.9


def test_a_night_in_which_the_clocks_go_forward_keeps_the_clock_of_its_departure():
    """Nobody resets a watch on the march: camp-by at 05:00 is by the clock that the unit left with, and says so."""
    zone = ZoneInfo("Europe/Stockholm")
    depart = datetime(2027, 3, 27, 22, 0, tzinfo=zone)  # the clocks go forward at 02:00
    march = march_along([(30, 5), (30, 190)], depart=depart, camp_by_hour=time(5, 0), camp_in_dark=True)
    assert march.camp_by - march.depart == timedelta(hours=7)
    assert march.camp_by.isoformat() == "2027-03-28T05:00:00+01:00"
    assert march.camp_by.astimezone(zone).hour == 6
    assert march.moving_min_limit == pytest.approx(420.0)


def test_three_metres_of_soft_snow_are_waded_as_one_metre_and_cautioned():
    """Whoever sinks to the hip wades, however deep the snow."""
    short = {"mode": "foot", "camp_by_hour": time(8, 30)}
    march = {depth: march_along([(30, 5), (30, 190)], snow_cm=depth, **short) for depth in (0.0, 125.0, 300.0)}
    assert 0.0 < march[300.0].reach_along_route_m < 0.25 * march[0.0].reach_along_route_m
    assert march[300.0].reach_along_route_m == pytest.approx(march[125.0].reach_along_route_m, rel=0.02)
    assert any("sink" in caution.text for caution in march[300.0].cautions)


def test_no_load_at_all_and_two_hundred_kilograms_a_head_are_marched_and_the_second_is_cautioned():
    march = {
        kg: march_along([(30, 5), (30, 190)], camp_by_hour=time(8, 20), carried_kg=kg, pace=PaceSettings())
        for kg in (0.0, 18.0, 200.0)
    }
    assert march[0.0].reach_along_route_m == pytest.approx(march[18.0].reach_along_route_m)  # so much is free of loss
    assert 0.0 < march[200.0].reach_along_route_m < 0.5 * march[0.0].reach_along_route_m
    assert any("80 kg or more on each back" in caution.text for caution in march[200.0].cautions)
    assert not any("on each back" in caution.text for caution in march[0.0].cautions)


def test_a_departure_without_a_zone_is_one_sentence():
    with pytest.raises(SettingsError, match="no time zone"):
        MarchSettings(depart=datetime(2027, 2, 11, 8, 0))


def test_a_departure_after_camp_by_is_one_sentence_with_two_ways_out():
    late = datetime(2027, 2, 11, 17, 0, tzinfo=make_plan().march.depart.tzinfo)
    with pytest.raises(MarchError, match=r"departs at 17:00 .* must be in camp by .*depart earlier.*camp_in_dark"):
        march_along([(30, 5), (30, 90)], depart=late, camp_by_hour=None)
