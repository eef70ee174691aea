"""Sight against other libraries', on made and on real ground; see ``tests/data/SOURCES.md`` for how they were asked."""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
import rasterio
from scipy.ndimage import maximum_filter, minimum_filter

from sitepick.terrain import read_sight
from sitepick.terrain.sight import SightRule
from tests.helpers.made import made_relief, make_ground, make_plan
from tests.helpers.real_places import DATA

SIDE, CELL_M = 160, 30.0
RULE = SightRule(reach_m=20_000.0, drop_per_m2=0.0)  # the libraries' earth is flat
PLACES = ("rough", "smooth", "n57e011", "n44e005")
VIEWS = [(place, number) for place in PLACES for number in (0, 1)]


def heights_of(place):
    if place in ("rough", "smooth"):
        return made_relief(SIDE, SIDE, seed=1, height_m=90.0, roughness=2.0 if place == "rough" else 3.0)
    with rasterio.open(DATA / f"{place}_elevation.tif") as file:
        heights = file.read(1)
    top, left = ((size - SIDE) // 2 for size in heights.shape)
    return heights[top : top + SIDE, left : left + SIDE].astype(np.float32)


def eyes_of(heights):
    """One in the middle, one on the highest ground."""
    row, col = np.unravel_index(np.argmax(heights[10:-10, 10:-10]), (SIDE - 20, SIDE - 20))
    return (SIDE // 2, SIDE // 2 - 5), (int(row) + 10, int(col) + 10)


def seen_and_theirs(place, number, library):
    heights = heights_of(place)
    assert np.isfinite(heights).all()
    assert heights.min() > -100.0  # no gap among them
    ground, eye = make_ground(heights, cell_m=CELL_M), eyes_of(heights)[number]
    seen = read_sight(make_plan(), ground, np.array([ground.grid.cell_centre_m(*eye)]), rule=RULE) > 0.0
    with np.load(DATA / f"sight_by_{library}.npz") as answers:
        theirs = np.unpackbits(answers[f"{place}_{number}"], count=heights.size).reshape(heights.shape) > 0
    assert 0.001 < theirs.mean() < 0.95
    return heights, eye, seen, theirs


def is_left_open(heights, eye, cell):
    """Whether the heights leave it open that a cell is seen: so where sight grazes.

    However the ground runs between the middles of cells, at a place on a sight line it lies between the lowest and the
    highest of the cells around the one that the place is in. A cell is left open that is seen past the lowest
    but not past the highest.
    """
    steps = 2 * max(abs(cell[0] - eye[0]), abs(cell[1] - eye[1]))  # two a cell: corners are passed too
    share = np.arange(1, steps) / steps
    row, col = (np.rint(eye[n] + (cell[n] - eye[n]) * share).astype(int) for n in (0, 1))
    own_m = float(heights[eye]) + RULE.eye_m
    way = math.hypot(cell[0] - eye[0], cell[1] - eye[1])
    target = (float(heights[cell]) + RULE.target_m - own_m) / way
    low, high = (np.max((layer[row, col] - own_m) / (share * way)) for layer in lowest_and_highest(heights.tobytes()))
    return bool(low <= target <= high)


@cache
def lowest_and_highest(heights):
    heights = np.frombuffer(heights, np.float32).reshape(SIDE, SIDE)
    return minimum_filter(heights, 3), maximum_filter(heights, 3)


@pytest.mark.parametrize(("place", "number"), VIEWS)
def test_sight_is_that_of_rays_cast_on_a_mesh_of_the_ground(place, number):
    heights, eye, seen, theirs = seen_and_theirs(place, number, "embree")
    assert np.mean(seen == theirs) >= 0.995  # 99.51 % where it is least
    differing = np.argwhere(seen != theirs).tolist()
    assert all(is_left_open(heights, eye, tuple(cell)) for cell in differing)
    # The mesh also rises between the lines from cell to cell that we look at: what differs is told as seen by us.
    assert np.count_nonzero(theirs & ~seen) <= 0.0005 * seen.size


@pytest.mark.parametrize(("place", "number"), VIEWS)
def test_sight_is_that_of_a_sweep_but_where_it_grazes(place, number):
    heights, eye, seen, theirs = seen_and_theirs(place, number, "xarray_spatial")
    # It judges the ground before a cell by its corners, we on the line itself: they differ where sight grazes,
    # most over heights in whole metres. A plain line of sight is theirs to 0.95 % at worst, ours to 0.14 %.
    assert np.mean(seen != theirs) <= 0.012
    assert all(is_left_open(heights, eye, tuple(cell)) for cell in np.argwhere(seen != theirs).tolist())


def test_the_better_part_of_a_view_is_not_left_open():
    heights = heights_of("smooth")
    cells = np.random.default_rng(1).integers(0, SIDE, (400, 2)).tolist()
    assert np.mean([is_left_open(heights, eyes_of(heights)[0], tuple(cell)) for cell in cells]) < 0.5
