"""What was put by hand and what was found on the spot, as the plan and its file hold them."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan.camp_edits import with_camp_values, with_tick
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.pins import PIN_KINDS, Pin, with_pin, with_pin_dropped, with_pins_dropped
from sitepick.plan.work_order import ArrivalTick
from tests.helpers.made import make_plan

TENT = Pin(kind="shelter", name="Tent 2", place=(21.0000001, 67.4))
LATRINE = Pin(kind="latrine", name="Latrine", place=(21.001, 67.401))


def written(plan, tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(plan, path)
    return path


def test_a_thing_has_one_place_by_hand_the_last_one():
    plan = with_pin(with_pin(make_plan(), TENT), LATRINE)
    moved = replace(TENT, place=(21.2, 67.2))
    assert with_pin(plan, moved).camp.pins == (LATRINE, moved)
    assert with_pin_dropped(plan, TENT.key).camp.pins == (LATRINE,)
    assert with_pin_dropped(plan, ("post", "Post 9")) == plan
    assert with_pins_dropped(plan) == make_plan()


def test_pins_and_what_was_found_come_back_from_the_file(tmp_path):
    plan = with_pin(with_pin(make_plan(), TENT), LATRINE)
    plan = with_tick(plan, ArrivalTick(what="Probe", is_done=True, found="a stump"))
    assert read_plan(written(plan, tmp_path)).camp == plan.camp


def test_a_plan_from_before_there_were_pins_still_loads(tmp_path):
    path = written(with_pin(make_plan(), TENT), tmp_path)
    document = json.loads(path.read_text(encoding="utf-8"))
    del document["sitepick"]["camp"]["pins"]
    path.write_text(json.dumps(document), encoding="utf-8")
    assert read_plan(path).camp.pins == ()


@pytest.mark.parametrize(
    ("key", "value", "words"),
    [
        ("kind", "sauna", "'sauna', which is none of"),
        ("place", [400.0, 67.0], "longitude 400"),
        ("place", [21.0], ""),
        ("place", ["21", 67.0], "not a number"),
        ("name", 7, "not a text"),
    ],
)
def test_a_pin_that_makes_no_sense_is_told_with_its_place_in_the_file(tmp_path, key, value, words):
    path = written(with_pin(make_plan(), TENT), tmp_path)
    document = json.loads(path.read_text(encoding="utf-8"))
    document["sitepick"]["camp"]["pins"][0][key] = value
    path.write_text(json.dumps(document), encoding="utf-8")
    with pytest.raises(PlanFileError) as fault:
        read_plan(path)
    assert "camp.pins[0]" in fault.value.what
    assert words in fault.value.what


def test_every_kind_of_thing_can_be_pinned():
    for kind in PIN_KINDS:
        assert Pin(kind=kind, name="One", place=(0.0, 0.0)).key == (kind, "One")


def test_a_tick_that_says_nothing_leaves_no_trace():
    plan = with_tick(make_plan(), ArrivalTick(what="Probe", is_done=True))
    assert with_tick(plan, ArrivalTick(what="Probe", is_done=False, found="  ")) == make_plan()


def test_ticks_keep_their_order_when_one_changes():
    plan = make_plan()
    for what in ("Walk", "Probe", "Look up"):
        plan = with_tick(plan, ArrivalTick(what=what, is_done=True))
    plan = with_tick(plan, ArrivalTick(what="Probe", is_done=True, found="wet"))
    assert [tick.what for tick in plan.camp.work.ticks] == ["Walk", "Probe", "Look up"]


def test_a_value_outside_its_limits_is_refused():
    with pytest.raises(SettingsError, match="latrine from water"):
        with_camp_values(make_plan(), "facilities", latrine_from_water_m=2.0)
