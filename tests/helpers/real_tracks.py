"""Tracks that people walked and routes drawn over real heights, as slopes over even steps."""

from __future__ import annotations

from itertools import pairwise

import gpxpy
import numpy as np
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


TRACKS = {
    "mojstrovka": lambda: walked_track("mojstrovka"),
    "korita_zbevnica": lambda: walked_track("korita_zbevnica"),
    "coast": lambda: drawn_route("n57e011", COAST_ROUTE),
    "mountains": lambda: drawn_route("n44e005", MOUNTAIN_ROUTE),
}


def hours(key, tangents):
    """Hours for a whole track by a walking function at its own level speed, without halts."""
    return float(MINUTES_PER_KM[key](tangents).sum()) * STEP_M / 1000.0 / 60.0


def length_and_climb(tangents):
    """Kilometres, and metres up, over steps of 50 m."""
    return len(tangents) * STEP_M / 1000.0, float(tangents[tangents > 0.0].sum()) * STEP_M
