"""The kit list and the loads: their limits, their edits, their file."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.kit import CARRIED, STOWED, WHOSE, KitItem, read_kit, usual_kit, write_kit
from sitepick.plan.kit_edits import (
    with_kit,
    with_kit_item_added,
    with_kit_item_changed,
    with_kit_item_removed,
    with_kit_unticked,
)
from sitepick.plan.load import LoadSettings
from tests.helpers.made import make_plan

HEADER = "name,weight_kg,number,for,carried,stowed\n"
NAMES = st.text(st.characters(categories=("L", "N", "P", "S")), min_size=1, max_size=20)
ITEMS = st.builds(
    KitItem,
    name=NAMES,
    weight_kg=st.floats(0.0, 200.0),
    number=st.integers(0, 200),
    whose=st.sampled_from(WHOSE),
    carried=st.sampled_from(CARRIED),
    stowed=st.sampled_from(STOWED),
)


def test_a_plan_starts_from_a_usual_list_for_back_and_sled():
    kit = make_plan().load.kit
    assert kit == usual_kit()
    assert {item.carried for item in kit} == set(CARRIED)
    assert not any(item.is_ticked for item in kit)


def test_a_plan_keeps_its_loads_and_its_ticks_in_its_file(tmp_path):
    plan = make_plan(load=LoadSettings(body_kg=72.5, carried_kg=None, sled_count=3, kit=usual_kit()[:4]))
    plan = with_kit_item_changed(plan, plan.load.kit[1].name, is_ticked=True, weight_kg=4.25)
    write_plan(plan, tmp_path / "plan.geojson")
    assert read_plan(tmp_path / "plan.geojson").load == plan.load


def test_a_plan_from_before_the_kit_list_gets_the_usual_one(tmp_path):
    write_plan(make_plan(), tmp_path / "plan.geojson")
    text = (tmp_path / "plan.geojson").read_text()
    assert '"load"' in text
    document = json.loads(text)
    del document["sitepick"]["load"]
    (tmp_path / "old.geojson").write_text(json.dumps(document))
    assert read_plan(tmp_path / "old.geojson").load == LoadSettings()


@given(kit=st.lists(ITEMS, max_size=6, unique_by=lambda item: item.name.casefold()))
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_list_comes_back_from_its_file_as_it_went(tmp_path, kit):
    write_kit(kit, tmp_path / "kit.csv")
    assert read_kit(tmp_path / "kit.csv") == tuple(kit)


def test_ticks_stay_with_the_departure_they_were_made_for(tmp_path):
    write_kit([KitItem(name="Axe", is_ticked=True)], tmp_path / "kit.csv")
    assert read_kit(tmp_path / "kit.csv") == (KitItem(name="Axe"),)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "column 'name' is missing"),
        (HEADER + "Axe,heavy,1,section,sled,to hand\n", "row 2"),
        (HEADER + "Axe,nan,1,section,sled,to hand\n", "not a number"),
        (HEADER + "Axe,201,1,section,sled,to hand\n", "0 to 200 kg"),
        (HEADER + "Axe,-1,1,section,sled,to hand\n", "0 to 200 kg"),
        (HEADER + "Axe,1.6,1.5,section,sled,to hand\n", "not a number"),
        (HEADER + "Axe,1.6,1,horse,sled,to hand\n", "none of person, section"),
        (HEADER + "Axe,1.6,1,section,sled\n", "5 values for 6 columns"),
        (HEADER + "Axe,1.6,1,section,sled,to hand\naxe,1,1,section,sled,to hand\n", "twice"),
        (HEADER + '"Axe,1.6,1,section,sled,to hand\n', "not CSV"),
        (HEADER + " ,1.6,1,section,sled,to hand\n", "has no name"),
        ("name,weight,number,for,carried,stowed\n", "is weight_kg meant?"),
    ],
)
def test_a_file_that_is_no_kit_list_is_told_by_row_and_column(tmp_path, text, told):
    (tmp_path / "kit.csv").write_text(text)
    with pytest.raises(PlanFileError, match="mend the kit list") as caught:
        read_kit(tmp_path / "kit.csv")
    assert told in str(caught.value)


def test_every_fault_of_a_list_is_told_at_once(tmp_path):
    (tmp_path / "kit.csv").write_text(HEADER + "A,x,1,section,sled,forward\nB,1,1,section,cart,forward\n")
    with pytest.raises(PlanFileError) as caught:
        read_kit(tmp_path / "kit.csv")
    assert "row 2" in str(caught.value)
    assert "row 3" in str(caught.value)


def test_a_list_that_is_not_there_or_no_text_is_told(tmp_path):
    with pytest.raises(PlanFileError, match="no such kit list"):
        read_kit(tmp_path / "none.csv")
    (tmp_path / "kit.csv").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(PlanFileError, match="not a text file"):
        read_kit(tmp_path / "kit.csv")
    with pytest.raises(PlanFileError, match="can't be read"):
        read_kit(tmp_path)


@pytest.mark.parametrize("name", ["", "  ", " Axe", "a\nb", "x" * 81])
def test_a_thing_has_a_name_that_can_be_read(name):
    with pytest.raises(SettingsError):
        KitItem(name=name)


def test_edits_change_one_thing_and_leave_the_plan_before_alone():
    plan = make_plan(load=LoadSettings(kit=(KitItem(name="Axe", is_ticked=True), KitItem(name="Saw"))))
    assert [item.name for item in with_kit_item_added(plan, KitItem(name="Rope")).load.kit] == ["Axe", "Saw", "Rope"]
    assert [item.name for item in with_kit_item_removed(plan, "Axe").load.kit] == ["Saw"]
    assert with_kit_item_changed(plan, "Saw", weight_kg=2.0).load.kit[1].weight_kg == 2.0
    assert not any(item.is_ticked for item in with_kit_unticked(plan).load.kit)
    assert with_kit(plan, ()).load.kit == ()
    assert plan.load.kit[0].is_ticked
    with pytest.raises(SettingsError, match="twice"):
        with_kit_item_added(plan, KitItem(name="AXE"))
    with pytest.raises(SettingsError, match="Saw: weight is 201"):
        with_kit_item_changed(plan, "Saw", weight_kg=201.0)


@pytest.mark.parametrize(
    "values", [{"carried_kg": 200.1}, {"carried_kg": -1.0}, {"body_kg": 0.0}, {"sled_count": 0}, {"ration_kcal": -1.0}]
)
def test_loads_outside_their_limits_are_refused(values):
    with pytest.raises(SettingsError):
        LoadSettings(**values)
    assert replace(LoadSettings(), carried_kg=200.0).carried_kg == 200.0
    assert replace(LoadSettings(), carried_kg=0.0).carried_kg == 0.0
