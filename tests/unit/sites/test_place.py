"""Why here, and why not."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.plan.model import CampSettings
from sitepick.sites import find_sites, why_here
from tests.helpers.made import SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march


def answer_at(row, col, *, plan=None, limit_min=1e6, **terrain):
    ground = make_ground(np.full((60, 60), 300.0), SPRUCE)
    plan = plan or make_plan(ground, people=20)
    made, march = make_terrain(ground, **terrain), make_march(plan, ground, limit_min=limit_min)
    sites = find_sites(plan, ground, made, march)
    return why_here(plan, ground, made, march, sites, *ground.grid.cell_centre_m(row, col)), sites


@pytest.mark.slow
def test_on_a_site_it_says_which():
    _, sites = answer_at(0, 0)
    row, col = sites.grid.cell_at(sites.sites[1].east_m, sites.sites[1].north_m)
    answer, _ = answer_at(row, col)
    assert answer.site_rank == 2
    assert answer.failed == ()
    assert answer.text.startswith("This is on site 2.")
    assert answer.capacity >= 3


def test_a_slope_too_steep_is_told_by_how_much():
    slope = np.full((60, 60), 1.0, np.float32)
    slope[:, :20] = 7.2
    answer, _ = answer_at(30, 5, slope_30m_deg=slope)
    assert [one.name for one in answer.failed] == ["slope"]
    assert "1.5° too steep over 30 m" in answer.text
    assert answer.capacity is None


def test_every_limit_that_fails_is_told():
    answer, _ = answer_at(10, 10, is_wet=True, is_avalanche_runout=True, wind_share_worst=1.3)
    assert {one.name for one in answer.failed} == {"wet", "avalanche", "wind"}


def test_ground_out_of_reach_and_ground_without_room_are_told():
    answer, _ = answer_at(30, 59, limit_min=5.0)
    assert [one.name for one in answer.failed] == ["reach"]
    plan = replace(make_plan(people=38), camp=CampSettings(spacing_m=500.0))
    answer, _ = answer_at(30, 30, plan=plan)
    assert [one.name for one in answer.failed] == ["room"]
    assert "of 5 shelters fit" in answer.text


def test_a_place_off_the_map_is_told():
    answer, _ = answer_at(-5, 10)
    assert answer.failed[0].name == "unknown"
    assert "outside the ground" in answer.text


def test_the_nearest_ground_that_would_do_is_told_and_would():
    slope = np.full((60, 60), 1.0, np.float32)
    slope[:, :30] = 9.0
    answer, sites = answer_at(30, 10, slope_30m_deg=slope)
    # The first level column lies 20 cells of 10 m east.
    assert answer.nearest == "The nearest ground that would do lies 200 m east."
    assert answer.nearest in answer.text
    assert answer.score is None
    there, _ = answer_at(30, 30, slope_30m_deg=slope)
    assert there.failed == ()
    assert sites.sites


def test_a_camp_here_is_scored():
    answer, sites = answer_at(30, 30)
    assert 0.0 < answer.score <= 100.0
    assert f"scores {answer.score:.0f} of 100" in answer.text
    assert answer.score <= sites.sites[0].score + 5.0


def test_nothing_near_is_told_where_nothing_serves():
    answer, _ = answer_at(30, 30, is_wet=True)
    assert answer.nearest == ""
