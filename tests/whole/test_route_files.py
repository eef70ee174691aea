"""Routes from files as a person at the terminal meets them."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitepick import cli
from sitepick.plan.file import read_plan
from sitepick.resource import sample_path, sample_plan_path

pytestmark = pytest.mark.slow
FILES = [
    "--elevation", str(sample_path("ulvmark_elevation.tif")), "--cover", str(sample_path("ulvmark_cover.tif")),
    "--legend", "cgls_lc100",
]  # fmt: skip
POINT = '<trkpt lat="{1}" lon="{0}"/>'


def gpx_of(path: Path, *lines, tail: str = "</gpx>") -> Path:
    tracks = [f"<trk><trkseg>{''.join(POINT.format(*point) for point in line)}</trkseg></trk>" for line in lines]
    lon, lat = lines[0][1]
    path.write_text(f'<gpx><wpt lat="{lat}" lon="{lon}"><name>Ford</name></wpt>{"".join(tracks)}{tail}')
    return path


def test_a_plan_from_a_recorded_file_keeps_its_names_and_other_lines(tmp_path, capsys):
    points = read_plan(sample_plan_path()).route.points[:5]
    twice = [point for point in points for _ in range(2)]
    track = gpx_of(tmp_path / "walk.gpx", [points[0], *twice], points[::-1])
    plan = tmp_path / "mine.geojson"
    assert cli.run(["new", str(plan), *FILES, "--route", str(track)]) == cli.DONE
    told = capsys.readouterr().out
    assert "The file holds 2 lines; walk is taken, walk 2 kept as another route." in told
    assert "walk: 6 double points left out." in told
    assert "walk: 1 named point: Ford." in told
    made = read_plan(plan)
    assert made.route.points == points
    assert "Ford" in made.route.point_names
    assert [route.name for route in made.alternatives] == ["walk 2"]


def test_a_route_elsewhere_writes_no_plan(tmp_path, capsys):
    track = gpx_of(tmp_path / "far.gpx", [(14.0, 45.4), (14.1, 45.5)])
    assert cli.run(["new", str(tmp_path / "mine.geojson"), *FILES, "--route", str(track)]) == cli.BAD_INPUT
    told = capsys.readouterr().err
    assert "km from the elevation files" in told
    assert told.count("\n") == 1
    assert not (tmp_path / "mine.geojson").exists()


def test_ground_tells_what_a_routes_file_holds(tmp_path, capsys):
    whole = gpx_of(tmp_path / "walk.gpx", [(21.0, 67.4), (21.1, 67.4), (21.2, 67.5)])
    cut = gpx_of(tmp_path / "cut.gpx", [(21.0, 67.4), (21.1, 67.4)], tail="<trk><trkseg><trk")
    lines = tmp_path / "line.geojson"
    lines.write_text('{"type": "LineString", "coordinates": [[21.0, 67.4], [21.1, 67.4]]}')
    assert cli.run(["ground", str(whole), str(cut)]) == cli.DONE
    told = capsys.readouterr().out
    assert "walk: 1 named point: Ford." in told
    assert "damaged or cut off at line 1" in told
    assert cli.run(["ground", str(lines)]) == cli.DONE
    assert "As a route: line: 4.3 km, 2 points." in capsys.readouterr().out
