"""A party that breaks the trail ahead: the main body goes on a broken trail and never closes up."""

from __future__ import annotations

from dataclasses import replace
from datetime import time, timedelta

import numpy as np
import pytest

from sitepick.march import plan_march
from sitepick.march.lead import lead_h
from tests.helpers.made import make_ground, make_plan, make_terrain

HEAD_START_MIN = 15.0


def march_over(*, breaking="lead_party", ground=None, pace=None, **march):
    """An hour of a lead party's main body over four level kilometres; departs at 9, by day."""
    ground = ground or make_ground(np.zeros((40, 600)))
    plan = make_plan(ground)
    settings = {
        "depart": plan.march.depart + timedelta(hours=3), "camp_by_hour": time(12, 0), "has_sled": False,
        "halt_min": 0.0, "pace": replace(plan.march.pace, breaking=breaking, **(pace or {})), **march,
    }  # fmt: skip
    return plan_march(replace(plan, march=replace(plan.march, **settings)), ground, make_terrain(ground))


def test_the_main_body_goes_on_a_broken_trail():
    assert march_over().reach_along_route_m == pytest.approx(4800.0, rel=1e-3)
    assert march_over(breaking="rotation").reach_along_route_m == pytest.approx(3200.0, rel=1e-3)


def test_on_even_ground_the_party_leaves_ahead_by_the_formula():
    march = march_over()
    station = 300
    km = march.station_distance_m[station] / 1000.0
    assert march.lead_min[station] == pytest.approx(60.0 * lead_h(km, 3.2, 4.8) + HEAD_START_MIN, rel=1e-3)
    party = march.lead_party_departs(1000.0 * km)
    assert party.minute % 5 == 0
    assert (
        timedelta(0)
        <= (march.depart - timedelta(minutes=float(march.lead_min[station]))) - party
        < timedelta(minutes=5)
    )


def test_the_party_has_to_lead_by_more_the_farther_it_goes():
    assert (np.diff(march_over().lead_min) >= 0.0).all()


def test_the_party_leaves_its_sleds_behind():
    """Without sleds it breaks at 3.2 km/h, while the main body with sleds makes 0.7 of 4.8."""
    march = march_over(has_sled=True)
    km = march.station_distance_m[300] / 1000.0
    assert march.lead_min[300] == pytest.approx(60.0 * lead_h(km, 3.2, 0.7 * 4.8) + HEAD_START_MIN, rel=1e-3)


def test_the_party_carries_its_loads():
    """40 kg take 22 / 4.5 times 8.3 % of the speed: from memory, FM 21-18."""
    march = march_over(pace={"load_kg": 40.0})
    km, share = march.station_distance_m[300] / 1000.0, 1.0 - 0.083 * 22.0 / 4.5
    assert march.lead_min[300] == pytest.approx(60.0 * lead_h(km, share * 3.2, share * 4.8) + HEAD_START_MIN, rel=1e-3)


def test_a_party_no_slower_than_the_main_body_still_has_its_head_start():
    heavy = march_over(has_sled=True, pace={"sled_kg": 300.0, "lead_margin_min": 20.0})
    assert heavy.lead_min[-1] == pytest.approx(20.0)


def test_halts_lengthen_the_lead():
    without, with_halts = march_over().lead_min[-1], march_over(halt_min=15.0, first_halt_after_min=5.0).lead_min[-1]
    assert with_halts > 1.1 * without


def test_on_packed_tracks_the_party_has_its_head_start_and_no_more():
    track = np.zeros((40, 600), bool)
    track[18:22] = True
    march = march_over(ground=make_ground(np.zeros((40, 600)), is_track=track))
    assert np.nanmax(march.lead_min) == pytest.approx(HEAD_START_MIN)


def test_before_dawn_the_party_has_to_leave_earlier_still():
    """The main body leaves at 8, after dawn; in deep snow on foot the party would leave in the dark."""
    wading = {"mode": "foot", "has_sled": False, "depart": make_plan().march.depart, "camp_by_hour": time(11, 0)}
    by_day = march_over(pace={"night_frac": 1.0}, **wading)
    dark = march_over(**wading)
    assert dark.lead_min[-1] > 1.2 * by_day.lead_min[-1]
    assert any("lead party" in caution.text and caution.kind == "dark" for caution in dark.cautions)
    assert not any("lead party" in caution.text for caution in march_over().cautions)


@pytest.mark.parametrize("march", [{"breaking": "rotation"}, {"trail_broken": True}])
def test_without_a_party_none_leaves(march):
    answer = march_over(**march)
    assert answer.lead_min is None
    assert answer.lead_party_departs(1000.0) is None
