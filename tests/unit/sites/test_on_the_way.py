"""A stop for the night lies well along the day's march and not far off the route."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.model import Preferences
from sitepick.sites.factors import progress_frac
from sitepick.sites.find import find_sites
from sitepick.sites.limits import read_limits
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march

USUAL = Preferences()


@pytest.fixture(scope="module")
def scene():
    ground = make_ground(np.full((160, 400), 300.0), SPRUCE)
    plan = replace(make_plan(ground, people=10), preferences=USUAL)
    return plan, ground, make_terrain(ground), make_march(plan, ground)


def test_the_share_of_the_way_runs_from_the_start_to_the_end_of_the_reach(scene):
    march = scene[-1]
    share = progress_frac(march, np.array([0, 399, -1], np.int32))
    assert share[:2] == pytest.approx([0.0, 1.0])
    assert np.isnan(share[2])


def test_ground_before_half_of_the_days_way_is_out(scene):
    limits = read_limits(*scene)
    assert not limits.can_pitch[:, :199].any()
    assert limits.can_pitch[80, 205:].any()


def test_ground_an_hour_off_the_route_is_out(scene):
    plan, ground, terrain, march = scene
    slow = replace(march, detour_min=march.detour_min * 10.0)
    limits = read_limits(plan, ground, terrain, slow)
    assert limits.can_pitch[80, 300]
    assert not limits.can_pitch[0, 300]


def test_of_equal_ground_the_farther_along_and_nearer_the_route_is_picked(scene):
    sites = find_sites(*scene).sites
    pick = sites[0]
    assert pick.measure("progress").value > 0.85
    assert pick.measure("detour").value < 10.0
    assert "of the way that can be made today" in pick.measure("progress").sentence


def test_what_keeps_early_ground_out_is_told(scene):
    names = {hindrance.name: hindrance for hindrance in find_sites(*scene).hindrances}
    assert names["progress"].excluded_frac == pytest.approx(0.5, abs=0.02)
    assert "50 % of the way" in names["progress"].text
