"""Grid references, zones, scale and convergence against published values."""

from __future__ import annotations

import math

import numpy as np
import pytest
from pygeodesy import toUtmUps8

from sitepick.grid import Grid, metric_crs, mgrs_reference
from tests.helpers.made import make_grid

# GeographicLib's GeoConvert documentation and the `mgrs` package's own examples.
PUBLISHED = [(33.33424, 44.40363, "38SMB4450088500"), (-79.9, 6.1, "32CMS4324728161")]
# Worked out with two independent libraries; zone exceptions after NGA.STND.0037.
WORKED = [
    (61.2181, -149.9003, "06VUN4424790536"),
    (-33.8688, 151.2093, "56HLH3436850948"),
    (67.8558, 20.2253, "34WDA6741326991"),
    (60.0, 5.0, "32VKM7697958157"),
    (78.2232, 15.6267, "33XWG1427883355"),
    (79.9, 6.1, "31XEJ6066272040"),
    (84.5, 30.0, "ZFB0554070788"),
]


@pytest.mark.parametrize(("lat", "lon", "reference"), PUBLISHED + WORKED)
def test_grid_reference(lat, lon, reference):
    assert mgrs_reference(lon, lat) == reference


@pytest.mark.parametrize(
    ("lat", "lon", "epsg"),
    [(60.0, 5.0, 32632), (59.0, 2.9, 32631), (78.22, 15.63, 32633), (79.9, 6.1, 32631), (84.5, 30.0, 5041),
     (-80.5, 30.0, 5042), (-1.0, 3.0, 32731), (67.0, 180.0, 32601), (67.0, -180.0, 32601)],
)  # fmt: skip
def test_the_metric_projection_is_the_zone_with_its_exceptions(lat, lon, epsg):
    assert metric_crs(lon, lat) == f"EPSG:{epsg}"


def test_a_projected_point_has_the_same_reference_as_its_place():
    grid = make_grid(10, 10)
    lon, lat = grid.to_lonlat(500_050.0, 7_479_950.0)
    assert grid.mgrs(500_050.0, 7_479_950.0)[:5] == mgrs_reference(float(lon), float(lat))[:5] == "34WEV"


def test_the_scale_on_a_zones_middle_line_is_0_9996():
    # Definition of UTM (NGA.SIG.0012).
    grid = make_grid(10, 10)
    assert grid.point_scale(500_000.0, 7_480_000.0) == pytest.approx(0.9996, abs=1e-9)
    assert grid.ground_cell_m == pytest.approx(10.0 / 0.9996, abs=1e-5)


def test_convergence_follows_the_sine_of_latitude():
    # Grid convergence is about (lon - lon0) sin(lat): common practice, exact to a few thousandths of a degree here.
    grid = Grid(crs="EPSG:32634", west_m=560_000.0, north_m=7_480_000.0, cell_m=10.0, rows=1, cols=1)
    lon, lat = grid.to_lonlat(560_000.0, 7_480_000.0)
    expected = (float(lon) - 21.0) * math.sin(math.radians(float(lat)))
    assert grid.convergence_deg(560_000.0, 7_480_000.0) == pytest.approx(expected, abs=0.005)
    assert expected > 0.0


@pytest.mark.slow
def test_references_anywhere_are_those_of_another_library():
    """pygeodesy works them out in pure Python, after Karney's series; both cut to the metre."""
    places = np.random.default_rng(7)
    for _ in range(400):
        lon, lat = float(places.uniform(-180.0, 180.0)), float(places.uniform(-79.9, 89.0))
        assert_same_place(mgrs_reference(lon, lat), str(toUtmUps8(lat, lon).toMgrs()))


def assert_same_place(reference: str, other: str) -> None:
    """Zone and square letter by letter; a metre may fall on either side of a cut."""
    other = other.replace(" ", "").lstrip("0")
    reference = reference.lstrip("0")
    assert reference[:-10] == other[:-10], (reference, other)
    for part in (slice(-10, -5), slice(-5, None)):
        assert abs(int(reference[part]) - int(other[part])) <= 1, (reference, other)
