"""The ground that a route needs."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.errors import GroundError
from sitepick.grid import Grid
from sitepick.ground import ground_window
from sitepick.plan.model import Route


def route(*points):
    return Route(name="Made route", points=points)


def at(crs, *points):
    grid = Grid(crs=crs, west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1)
    return route(*((float(lon), float(lat)) for lon, lat in (grid.to_lonlat(*point) for point in points)))


def test_the_window_is_the_route_and_8_km_around_it_on_whole_kilometres():
    window = ground_window(at("EPSG:32634", (500_400.0, 7_460_600.0), (510_700.0, 7_450_500.0)))
    edges = (window.west_m, window.south_m, window.east_m, window.north_m)
    assert window.crs == "EPSG:32634"
    assert edges == (492_000.0, 7_442_000.0, 519_000.0, 7_469_000.0)


def test_a_point_moved_a_little_keeps_an_equal_window():
    near = ground_window(at("EPSG:32634", (500_400.0, 7_460_600.0), (510_700.0, 7_450_500.0)))
    moved = ground_window(at("EPSG:32634", (500_450.0, 7_460_550.0), (510_600.0, 7_450_600.0)))
    assert near == moved
    assert hash(near) == hash(moved)
    assert replace(near, west_m=0.0) != near


@pytest.mark.parametrize(
    ("lon", "lat", "crs"),
    [(5.0, 60.0, "EPSG:32632"), (15.6, 78.2, "EPSG:32633"), (-135.0, 63.0, "EPSG:32608"), (20.0, 85.0, "EPSG:5041")],
)
def test_the_projection_is_the_middles(lon, lat, crs):
    assert ground_window(route((lon - 0.01, lat), (lon + 0.01, lat))).crs == crs


def test_a_route_may_cross_the_180th_meridian():
    window = ground_window(route((179.95, 66.0), (-179.95, 66.0)))
    assert window.east_m - window.west_m < 25_000.0
    assert window.crs in ("EPSG:32660", "EPSG:32601")


@pytest.mark.parametrize(
    "points", [((5.0, 60.0), (15.0, 60.0)), ((5.0, 60.0), (5.0, 70.0)), ((0.0, 0.0), (179.0, 0.0))]
)
def test_a_route_across_a_continent_is_refused(points):
    with pytest.raises(GroundError, match="spans more than 200 km"):
        ground_window(route(*points))


def test_edges_are_plain_numbers():
    window = ground_window(route((21.0, 67.0), (21.1, 67.0)))
    assert not isinstance(window.west_m, np.generic)
