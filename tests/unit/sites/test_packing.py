"""Laws of packing: apart, on allowed ground, as many as fit, the same again."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod
from scipy.spatial.distance import pdist

from sitepick.sites.packing import QUICK, THOROUGH, Effort, Room, most_that_could_fit, pack, room_of
from tests.helpers.made import make_grid
from tests.unit.sites import slow

LITTLE = Effort(lattice_count=40, swap_count=2000)


@pytest.mark.slow
@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    seed=st.integers(0, 10_000),
    share=st.floats(0.3, 1.0),
    spacing=st.floats(0.7, 9.0),
    radius=st.floats(0.0, 0.8),
)
def test_places_keep_their_distance_on_allowed_ground(seed, share, spacing, radius):
    allowed = np.random.default_rng(seed).random((11, 13)) < share
    places = pack(allowed, Room(spacing=spacing, radius=radius), LITTLE)
    assert len(places) <= most_that_could_fit(allowed, Room(spacing=spacing, radius=radius))
    if len(places) > 1:
        assert pdist(places).min() >= spacing - 1e-9
    assert all(slow.footprint_fits(allowed, row, col, radius) for row, col in places)


def test_no_ground_holds_nothing():
    assert len(pack(np.zeros((5, 5), bool), Room(spacing=3.0, radius=0.2), THOROUGH)) == 0


def test_a_footprint_wider_than_the_ground_finds_no_place():
    assert len(pack(np.ones((1, 9), bool), Room(spacing=3.0, radius=0.7), THOROUGH)) == 0


def test_a_lone_cell_holds_one():
    assert len(pack(np.ones((1, 1), bool), Room(spacing=5.0, radius=0.265), QUICK)) == 1


def test_more_ground_never_holds_fewer_by_more_than_the_search_may_miss():
    room = Room(spacing=4.0, radius=0.2)
    counts = [len(pack(np.ones((size, size), bool), room, THOROUGH)) for size in (6, 9, 12, 15)]
    assert counts == sorted(counts)
    assert counts[0] < counts[-1]


def test_the_same_ground_gives_the_same_places():
    allowed = np.random.default_rng(1).random((20, 20)) < 0.8
    room = Room(spacing=3.3, radius=0.2)
    assert np.array_equal(pack(allowed, room, THOROUGH), pack(allowed, room, THOROUGH))


@pytest.mark.parametrize("spacing_m", [10.0, 54.864, 180.0])
def test_the_spacing_is_kept_on_the_ground_and_not_on_the_grid(spacing_m):
    grid = make_grid(60, 60)
    room = room_of(grid, grid.bounds_m, spacing_m=spacing_m, footprint_m=5.3)
    size = min(60, int(8 * room.spacing))
    places = pack(np.ones((size, size), bool), room, LITTLE)
    east, north = grid.west_m + places[:, 1] * grid.cell_m, grid.north_m - places[:, 0] * grid.cell_m
    lon, lat = grid.to_lonlat(east, north)
    one, other = np.triu_indices(len(places), 1)
    _, _, apart_m = Geod(ellps="WGS84").inv(lon[one], lat[one], lon[other], lat[other])
    assert apart_m.min() >= spacing_m
    assert apart_m.min() < 1.01 * spacing_m
