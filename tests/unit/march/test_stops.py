"""Which points of a route end a leg, and what they are called."""

from __future__ import annotations

from dataclasses import replace
from datetime import time

import numpy as np
import pytest

from sitepick.march import plan_march
from sitepick.march.route import lay_stations
from sitepick.march.stops import LEG_LEAST_M, leg_stops
from sitepick.plan.model import Route
from tests.helpers.made import make_grid, make_ground, make_plan, make_terrain

GRID = make_grid(20, 1200)


def stops_of(cols, *, names=()):
    points = [GRID.to_lonlat(*GRID.cell_centre_m(10, col)) for col in cols]
    route = Route(name="Made", points=tuple((float(lon), float(lat)) for lon, lat in points), point_names=names)
    return [stop.name for stop in leg_stops(lay_stations(route, GRID))]


def test_every_point_of_a_drawn_route_ends_a_leg():
    assert stops_of([0, 100, 300, 400]) == ["Start", "Point 2", "Point 3", "Route's end"]


def test_a_name_takes_the_place_of_a_number():
    names = ("Base", None, "Ford", None)
    assert stops_of([0, 100, 300, 400], names=names) == ["Base", "Point 2", "Ford", "Route's end"]


def test_of_a_recorded_route_the_named_points_end_the_legs():
    cols = list(range(0, 1000, 10))
    names = tuple({7: "Ford", 99: "Hut"}.get(index) for index in range(len(cols)))
    assert stops_of(cols, names=names) == ["Start", "Ford", "Hut"]


def test_a_recorded_route_without_names_falls_into_legs_of_some_kilometres():
    cols = list(range(0, 1000, 10))
    told = stops_of(cols)
    assert (told[0], told[-1]) == ("Start", "Route's end")
    numbers = [int(name.removeprefix("Point ")) - 1 for name in told[1:-1]]
    at_m = 10.0 * np.array([0, *(cols[number] for number in numbers), cols[-1]])
    assert len(numbers) == 3
    assert np.diff(at_m).min() >= LEG_LEAST_M - 10.0


def test_the_legs_of_the_day_carry_the_names():
    ground = make_ground(np.zeros((20, 400)))
    grid = ground.grid
    points = [grid.to_lonlat(*grid.cell_centre_m(10, col)) for col in (2, 60, 120, 390)]
    route = Route(
        name="Named",
        points=tuple((float(lon), float(lat)) for lon, lat in points),
        point_names=("Base", None, "Ford", None),
    )
    plan = make_plan(ground, route=route)
    plan = replace(plan, march=replace(plan.march, has_sled=False, camp_by_hour=time(9, 0), halt_min=0.0))
    march = plan_march(plan, ground, make_terrain(ground))
    assert [(leg.start_name, leg.end_name) for leg in march.legs] == [
        ("Base", "Point 2"), ("Point 2", "Ford"), ("Ford", "End of reach"),
    ]  # fmt: skip
    assert march.legs[1].distance_m == pytest.approx(600.0, rel=1e-3)
