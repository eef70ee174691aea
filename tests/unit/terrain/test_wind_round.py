"""The wind from every side at a few places is what the whole grid has there."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.terrain import read_terrain
from sitepick.terrain.wind_round import BEARING_COUNT, wind_round
from tests.helpers.made import OPEN, SPRUCE, made_relief, make_ground, make_plan


@pytest.fixture(scope="module")
def scene():
    stands = np.random.default_rng(2).random((13, 13)).repeat(20, 0).repeat(20, 1)[:250, :250] < 0.5
    ground = make_ground(made_relief(250, 250, height_m=200.0), np.where(stands, SPRUCE, OPEN))
    plan = make_plan(ground)
    return plan, ground, read_terrain(plan, ground)


@pytest.mark.slow
@pytest.mark.parametrize("bearing_deg", [0.0, 75.0, 225.0])
def test_it_is_the_share_of_the_whole_grid(scene, bearing_deg):
    plan, ground, terrain = scene
    turned = replace(plan, weather=replace(plan.weather, wind_from_deg=bearing_deg))
    whole = read_terrain(turned, ground).wind_share
    cells = np.random.default_rng(4).integers(5, 245, (150, 2))
    around = wind_round(ground, terrain, cells, of_forest_frac=None)
    off = around.mean[:, int(bearing_deg * BEARING_COUNT / 360.0)] - whole[cells[:, 0], cells[:, 1]]
    # The grid's fan has seven rays and its lines lie otherwise by half a cell.
    assert abs(np.mean(off)) < 0.01
    assert np.std(off) < 0.05


def test_the_lee_of_a_wood_lies_opposite_the_wind():
    cover = np.full((81, 81), OPEN)
    cover[:, 30:38] = SPRUCE
    ground = make_ground(np.full((81, 81), 300.0), cover)
    terrain = read_terrain(make_plan(ground), ground)
    around = wind_round(ground, terrain, np.array([[40, 45], [40, 23]]), of_forest_frac=None)
    west, east = 270 // 15, 90 // 15
    assert around.mean[0, west] < 0.6 < 0.95 < around.mean[0, east]
    assert around.mean[1, east] < 0.6 < 0.95 < around.mean[1, west]
    assert (around.worst >= around.mean - 1e-9).all()


def test_what_is_not_known_stays_unknown():
    heights = np.full((30, 30), 300.0)
    heights[:, :5] = np.nan
    ground = make_ground(heights, SPRUCE)
    terrain = read_terrain(make_plan(ground), ground)
    around = wind_round(ground, terrain, np.array([[15, 2], [15, 20]]), of_forest_frac=None)
    assert np.isnan(around.mean[0]).all()
    assert np.isfinite(around.mean[1]).all()
