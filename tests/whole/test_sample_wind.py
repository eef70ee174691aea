"""The wind over the sample's ground: calmer deeper in the forest, calmer behind a hill than before it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from sitepick.terrain import read_shape
from sitepick.terrain.stand import tree_height_m

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def wind(sample_answer):
    return sample_answer.plan.weather.wind_from_deg


def upwind(layer, from_deg, away_m, cell_m):
    """What stands so far upwind of each cell; whatever is at the other side of the map near its edges."""
    down = round(-math.cos(math.radians(from_deg)) * away_m / cell_m)
    right = round(math.sin(math.radians(from_deg)) * away_m / cell_m)
    return np.roll(layer, (-down, -right), axis=(0, 1))


def test_fifty_metres_inside_the_forest_are_calmer_than_its_edge(sample_answer, wind):
    ground, share = sample_answer.ground, sample_answer.terrain.wind_share
    cell_m = ground.grid.ground_cell_m
    is_stand = tree_height_m(ground) >= 10.0
    back = [upwind(is_stand, wind, step * cell_m, cell_m) for step in range(1, 8)]
    is_edge = is_stand & ~back[0] & ~back[1]
    is_inside = is_stand & np.logical_and.reduce(back[: round(50.0 / cell_m)]) & ~back[-1]
    inner = np.s_[40:-40, 40:-40]
    edge, inside = (np.nanmean(share[inner][mask[inner]]) for mask in (is_edge, is_inside))
    assert np.count_nonzero(is_inside[inner]) > 200
    assert inside < 0.8 * edge


def test_the_lee_side_of_a_hill_is_calmer_than_its_windward_side(sample_answer, wind):
    ground, terrain = sample_answer.ground, sample_answer.terrain
    is_hillside = (terrain.slope_deg > 8.0) & (tree_height_m(ground) < 1.0)
    facing = np.cos(np.radians(read_shape(ground).aspect_deg - wind))
    windward, lee = (is_hillside & is_there for is_there in (facing > 0.7, facing < -0.7))
    assert min(np.count_nonzero(windward), np.count_nonzero(lee)) > 200
    assert np.nanmean(terrain.wind_share[lee]) < 0.8 * np.nanmean(terrain.wind_share[windward])
