"""The walking functions over tracks that people walked and over real heights: hours that a leader would believe."""

from __future__ import annotations

from itertools import pairwise

import gpxpy
import numpy as np
import pytest
import rasterio
from pyproj import Geod

from sitepick.march.functions import MINUTES_PER_KM
from tests.helpers.real_places import COAST_ROUTE, DATA, MOUNTAIN_ROUTE

WALKING = ("tobler", "naismith", "irmischer_path", "irmischer_off_path", "rees", "winter_card")
STEP_M = 50.0
GLOBE = Geod(ellps="WGS84")


def even_tangents(lon, lat, height_m):
    """Slopes along a line, over steps of 50 m."""
    _, _, length_m = GLOBE.inv(lon[:-1], lat[:-1], lon[1:], lat[1:])
    along_m = np.concatenate(([0.0], np.cumsum(length_m)))
    return np.diff(np.interp(np.arange(0.0, along_m[-1], STEP_M), along_m, height_m)) / STEP_M


def walked_track(name):
    """A recorded GPX track with the heights recorded along it; between its segments nothing was recorded."""
    with (DATA / f"{name}.gpx").open(encoding="utf-8") as file:
        segments = [segment.points for track in gpxpy.parse(file).tracks for segment in track.segments]
    parts = [
        even_tangents(*np.array([(point.longitude, point.latitude, point.elevation) for point in points]).T)
        for points in segments
        if len(points) > 1
    ]
    return np.concatenate(parts)


def drawn_route(name, route):
    """A drawn route over open elevation data."""
    lon, lat = np.concatenate([np.linspace(start, end, 40) for start, end in pairwise(route)]).T
    with rasterio.open(DATA / f"{name}_elevation.tif") as source:
        heights = source.read(1).astype(float)
        rows, cols = rasterio.transform.rowcol(source.transform, lon, lat)
    return even_tangents(lon, lat, heights[rows, cols])


@pytest.fixture(scope="module", params=["mojstrovka", "korita_zbevnica", "coast", "mountains"], ids=lambda name: name)
def tangents(request):
    if request.param == "coast":
        return drawn_route("n57e011", COAST_ROUTE)
    if request.param == "mountains":
        return drawn_route("n44e005", MOUNTAIN_ROUTE)
    return walked_track(request.param)


def hours(key, tangents):
    return float(MINUTES_PER_KM[key](tangents).sum()) * STEP_M / 1000.0 / 60.0


@pytest.mark.parametrize("key", WALKING)
def test_a_walk_takes_hours_that_a_leader_would_believe(tangents, key):
    """Common practice: hill walkers make 1 to 5.5 km/h, and Naismith's sum for the whole walk, 5 km/h and 600 m up an
    hour, is quick (0.85 of it at the least) but never out by more than two (steep, trackless, snow)."""
    km, up_m = len(tangents) * STEP_M / 1000.0, float(tangents[tangents > 0.0].sum()) * STEP_M
    taken_h = hours(key, tangents)
    assert 1.0 < km / taken_h < 5.5
    assert 0.85 < taken_h / (km / 5.0 + up_m / 600.0) < 2.0


def test_off_paths_takes_longer_than_on_them(tangents):
    assert hours("irmischer_off_path", tangents) > 1.2 * hours("irmischer_path", tangents)


def test_the_walk_turned_round_is_another_walk_but_for_rees(tangents):
    back = -tangents[::-1]
    assert hours("rees", back) == pytest.approx(hours("rees", tangents))
    assert hours("tobler", back) != pytest.approx(hours("tobler", tangents), rel=1e-4)
