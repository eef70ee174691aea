"""Routes read from GPX against gpxpy, a library of its own for that format, and lengths against geodesics."""

from __future__ import annotations

from pathlib import Path

import gpxpy
import gpxpy.gpx
import numpy as np
import pytest
import shapely
from pyproj import Geod

from sitepick.grid import Grid, metric_crs
from sitepick.ground import read_route, read_routes
from sitepick.ground.gpx_file import read_gpx

POINTS = [(67.40, 21.00), (67.41, 21.05), (67.405, 21.11), (67.43, 21.14)]
DATA = Path(__file__).parents[1] / "data"
RECORDED = ["mojstrovka.gpx", "korita_zbevnica.gpx"]  # GPX 1.0, see tests/data/SOURCES.md
GLOBE = Geod(ellps="WGS84")


def written(tmp_path, *, as_track: bool, version: str):
    document = gpxpy.gpx.GPX()
    if as_track:
        track = gpxpy.gpx.GPXTrack()
        halves = (POINTS[:2], POINTS[2:])
        track.segments = [
            gpxpy.gpx.GPXTrackSegment([gpxpy.gpx.GPXTrackPoint(lat, lon) for lat, lon in half]) for half in halves
        ]
        document.tracks.append(track)
    else:
        route = gpxpy.gpx.GPXRoute()
        route.points = [gpxpy.gpx.GPXRoutePoint(lat, lon) for lat, lon in POINTS]
        document.routes.append(route)
    path = tmp_path / "walk.gpx"
    path.write_text(document.to_xml(version=version), encoding="utf-8")
    return path


@pytest.mark.parametrize("version", ["1.0", "1.1"])
@pytest.mark.parametrize("as_track", [False, True], ids=["route", "track of two segments"])
def test_every_point_is_read_where_it_stands(tmp_path, as_track, version):
    read = read_route(written(tmp_path, as_track=as_track, version=version))
    assert read.name == "walk"
    assert [(lat, lon) for lon, lat in read.points] == [pytest.approx(point, abs=1e-6) for point in POINTS]


@pytest.fixture(params=RECORDED)
def recorded(request):
    path = DATA / request.param
    return path, gpxpy.parse(path.read_text(encoding="utf-8"))


def test_recorded_tracks_hold_the_points_names_and_segments_that_gpxpy_finds(recorded):
    path, document = recorded
    raw = read_gpx(path)
    assert raw.line_count == len(document.tracks)
    for line, track in zip(raw.lines, document.tracks, strict=True):
        points = [(point.longitude, point.latitude) for segment in track.segments for point in segment.points]
        assert line.points.tolist() == [list(point) for point in points]
        assert line.name == (track.name or "")
        counts = [len(segment.points) for segment in track.segments if segment.points]
        assert list(line.part_starts) == np.cumsum([0, *counts[:-1]]).tolist()
    places = [(place.name, place.lon_deg, place.lat_deg) for place in raw.places]
    assert places == [(point.name, point.longitude, point.latitude) for point in document.waypoints if point.name]


def test_recorded_times_are_those_that_gpxpy_finds():
    document = gpxpy.parse((DATA / "korita_zbevnica.gpx").read_text(encoding="utf-8"))
    track, line = document.tracks[-1], read_gpx(DATA / "korita_zbevnica.gpx").lines[-1]
    times = [point.time for segment in track.segments for point in segment.points]
    assert all(time is not None for time in times)
    assert line.seconds.tolist() == [time.timestamp() for time in times]


def test_a_cleaned_track_stays_by_the_one_that_was_recorded(recorded):
    path, document = recorded
    tracks = [track for track in document.tracks if track.get_points_no() > 1]
    for route, track in zip(read_routes(path).routes, tracks, strict=True):
        points = np.array([(point.longitude, point.latitude) for part in track.segments for point in part.points])
        grid = Grid(crs=metric_crs(*points[0].tolist()), west_m=0.0, north_m=0.0, cell_m=1.0, rows=1, cols=1)
        before, after = (
            shapely.LineString(np.column_stack(grid.from_lonlat(*np.array(line).T))) for line in (points, route.points)
        )
        assert shapely.hausdorff_distance(before, after, densify=0.05) < 10.5  # twice the 5 m where both sides bend
        assert max(shapely.distance(shapely.points(before.coords), after)) < 5.2
        before_m, after_m = GLOBE.line_length(*points.T), GLOBE.line_length(*np.array(route.points).T)
        assert 0.9 * before_m < after_m <= before_m + 0.2
        # gpxpy measures on a ball
        assert track.length_2d() == pytest.approx(before_m, rel=0.005)
