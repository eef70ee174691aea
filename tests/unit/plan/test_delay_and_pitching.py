"""Delays that the user foresees, and the rule that the pitching time follows."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import time

import pytest

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan import Delay, PitchingRule, Shelter, pitching_time_min, read_plan, shelter_kind, write_plan
from sitepick.plan.edits import with_delays, with_people, with_pitching
from sitepick.plan.pitching import pitching_words
from tests.helpers.made import make_plan


def plan_by_rule(*, people=38, snow_cm=None, **rule):
    plan = make_plan(people=people)
    march = replace(plan.march, pitching_min=None, pitching=PitchingRule(**rule))
    return replace(plan, march=march, weather=replace(plan.weather, snow_cm=snow_cm))


def test_ten_people_in_a_tent_on_little_snow_take_the_tents_own_time():
    assert pitching_time_min(plan_by_rule(people=10)) == 75.0
    assert pitching_time_min(plan_by_rule(people=10, snow_cm=40.0)) == 75.0


def test_deep_snow_is_dug_out_up_to_the_time_that_is_usual_with_digging():
    assert pitching_time_min(plan_by_rule(people=10, snow_cm=60.0)) == 75.0 + 10.0
    assert pitching_time_min(plan_by_rule(people=10, snow_cm=300.0)) == 120.0  # common practice


def test_a_larger_unit_takes_longer():
    times = [pitching_time_min(plan_by_rule(people=people)) for people in (10, 38, 90, 150)]
    assert times == sorted(times)
    assert times[0] < times[-1] == 75.0 + 14.0


def test_log_work_takes_its_own_time_and_the_slowest_kind_counts():
    plan = plan_by_rule(people=10)
    lean_to = Shelter(name="Lean-to", section="Section 2", people=3, kind=shelter_kind("lean_to"))
    tent = replace(plan.unit.shelters[0], people=7)
    mixed = replace(plan, unit=replace(plan.unit, shelters=(tent, lean_to)))
    assert pitching_time_min(mixed) == 120.0


def test_few_hands_take_twice_as_long_and_no_more():
    assert pitching_time_min(plan_by_rule(people=2)) == 150.0
    assert pitching_time_min(plan_by_rule(people=1)) == 150.0


def test_the_users_own_number_wins():
    plan = replace(make_plan(), march=replace(make_plan().march, pitching_min=40.0))
    assert pitching_time_min(plan) == 40.0
    assert pitching_words(plan) == "40 min as the plan says"


def test_the_rule_tells_its_parts():
    assert pitching_words(plan_by_rule(snow_cm=60.0)) == (
        "88 min: 75 for tents, 10 to dig out 60 cm of snow, 3 for 38 people"
    )


def test_every_figure_of_the_rule_can_be_changed():
    plan = plan_by_rule(people=10)
    assert pitching_time_min(with_pitching(plan, "tent_min", 50.0)) == 50.0
    with pytest.raises(SettingsError, match="time for tents"):
        with_pitching(plan, "tent_min", 1.0)
    assert pitching_time_min(with_people(plan, 30)) == 77.0


@pytest.mark.parametrize(("known", "words"), [({}, "no place and no time"), ({"at_km": 2.0, "at": time(9)}, "both")])
def test_a_delay_has_a_place_or_a_time(known, words):
    with pytest.raises(SettingsError, match=words):
        Delay(minutes=10.0, **known)


def test_delays_and_the_rule_come_back_from_the_file(tmp_path):
    plan = with_delays(
        plan_by_rule(tent_min=60.0),
        (Delay(minutes=20.0, at_km=3.2, reason="ford"), Delay(minutes=5.0, at=time(12, 5))),
    )
    plan = replace(plan, march=replace(plan.march, camp_in_dark=True))
    write_plan(plan, tmp_path / "plan.geojson")
    assert read_plan(tmp_path / "plan.geojson").march == plan.march


def test_a_plan_from_before_there_were_delays_still_loads(tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(), path)
    document = json.loads(path.read_text())
    for name in ("delays", "pitching", "camp_in_dark"):
        del document["sitepick"]["march"][name]
    document["sitepick"]["march"]["pitching_min"] = 75.0
    path.write_text(json.dumps(document))
    assert read_plan(path).march == make_plan().march


def test_every_fault_of_a_delay_is_told_with_its_place(tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(), path)
    document = json.loads(path.read_text())
    document["sitepick"]["march"]["delays"] = [{"minutes": 5}, {"minutes": -5, "at_km": 1}, {"minute": 5, "at_km": 1}]
    path.write_text(json.dumps(document))
    with pytest.raises(PlanFileError) as fault:
        read_plan(path)
    for words in ("delays[0]", "no place and no time", "delays[1]", "outside 0 to 600", "delays[2]", "minutes meant"):
        assert words in str(fault.value)
