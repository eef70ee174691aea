"""A route from a file must lie on the ground that is named with it."""

from __future__ import annotations

from pathlib import Path

import pytest

from sitepick.errors import GroundError
from sitepick.ground import check_route_lies_on
from sitepick.plan.model import GroundSource, Route
from tests.helpers.made import make_grid
from tests.unit.ground.files import plane, write_raster

FILE = Path("walk.gpx")


@pytest.fixture
def source(tmp_path):
    elevation = write_raster(tmp_path / "e.tif", plane(100, 100))
    return GroundSource(elevation=(elevation,), cover=(elevation,), legend="worldcover")


def middle():
    lon, lat = make_grid(100, 100).to_lonlat(*make_grid(100, 100).centre_m)
    return float(lon), float(lat)


def test_a_route_that_touches_the_ground_will_do(source):
    check_route_lies_on(Route(name="In", points=(middle(), (30.0, 60.0))), source, FILE)


def test_a_route_elsewhere_is_told_with_its_distance(source):
    lon, lat = middle()
    with pytest.raises(GroundError, match=r"walk.gpx: the route lies 111 km from the elevation files; name"):
        check_route_lies_on(Route(name="Far", points=((lon, lat - 1.0), (lon, lat - 1.01))), source, FILE)


def test_a_route_with_its_axes_swapped_is_told_so(source):
    lon, lat = middle()
    with pytest.raises(GroundError, match="look swapped"):
        check_route_lies_on(Route(name="Swapped", points=((lat, lon), (lat, lon + 0.01))), source, FILE)


def test_ground_that_can_not_be_read_is_left_to_those_who_read_it(source, tmp_path):
    broken = tmp_path / "broken.tif"
    broken.write_text("no raster")
    source = GroundSource(elevation=(broken,), cover=(broken,), legend="worldcover")
    check_route_lies_on(Route(name="Far", points=((0.0, 0.0), (0.0, 0.01))), source, FILE)
