"""A route read from GPX 1.1 against gpxpy, a library of its own for that format."""

from __future__ import annotations

import gpxpy.gpx
import pytest

from sitepick.ground import read_route

POINTS = [(67.40, 21.00), (67.41, 21.05), (67.405, 21.11), (67.43, 21.14)]


def written(tmp_path, *, as_track: bool):
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
    path.write_text(document.to_xml(version="1.1"), encoding="utf-8")
    return path


@pytest.mark.parametrize("as_track", [False, True], ids=["route", "track of two segments"])
def test_every_point_is_read_where_it_stands(tmp_path, as_track):
    path = written(tmp_path, as_track=as_track)
    read = read_route(path)
    assert read.name == "walk"
    assert [(lat, lon) for lon, lat in read.points] == [pytest.approx(point, abs=1e-6) for point in POINTS]
