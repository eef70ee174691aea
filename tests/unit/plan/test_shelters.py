"""The kinds of shelter there are, the user's own among them, and what a unit's list must keep to."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.layout import LayoutSettings
from sitepick.plan.model import Unit
from sitepick.plan.pitching import PitchingRule, pitching_time_min, pitching_words
from sitepick.plan.shelter import SHELTER_KINDS, Shelter, own_kind, shelter_kind, shelters_for
from tests.helpers.made import make_plan

TARP = own_kind("tarp", places=3, footprint_m=2.5, pitching_min=25.0, needs_trees=True)


def shelter(name, kind="ten_person_tent", people=2, **values):
    kind = shelter_kind(kind) if isinstance(kind, str) else kind
    return Shelter(**{"name": name, "section": "Section 1", "people": people, "kind": kind, **values})


def unit(*shelters, own=()):
    return Unit(people=sum(one.people for one in shelters), shelters=shelters, shelter_kinds=own)


def plan_with(*shelters, own=(), snow_cm=0.0):
    plan = make_plan(unit=unit(*shelters, own=own))
    march = replace(plan.march, pitching_min=None, pitching=PitchingRule(hands_per_shelter=1.0))
    return replace(plan, march=march, weather=replace(plan.weather, snow_cm=snow_cm))


def test_snow_shelters_need_the_depths_that_field_manuals_give():
    # From memory: a trench in at least 1 m of packed snow, a cave in a drift of at least 2 m.
    trench, cave = shelter_kind("snow_trench"), shelter_kind("snow_cave")
    assert (trench.needs_snow_cm, trench.needs_drift) == (100.0, False)
    assert (cave.needs_snow_cm, cave.needs_drift) == (200.0, True)


def test_every_kind_has_a_label_of_its_own_and_room_for_someone():
    assert len({kind.label for kind in SHELTER_KINDS}) == len(SHELTER_KINDS) == 6
    assert all(kind.places >= 2 and kind.footprint_m >= 2.0 for kind in SHELTER_KINDS)


@pytest.mark.parametrize(
    ("kind", "minutes"),
    [("ten_person_tent", 75.0), ("lean_to", 120.0), ("snow_trench", 90.0), ("snow_cave", 180.0), ("vehicle", 15.0)],
)
def test_each_kind_takes_its_own_time_to_pitch(kind, minutes):
    assert pitching_time_min(plan_with(shelter("One", kind))) == minutes


def test_the_users_own_kind_takes_the_time_that_they_give_or_a_tents():
    assert pitching_words(plan_with(shelter("One", TARP), own=(TARP,))) == "25 min for tarp"
    dome = own_kind("dome")
    assert pitching_time_min(plan_with(shelter("One", dome), own=(dome,))) == 75.0


def test_snow_is_not_dug_away_where_the_shelter_is_made_of_it():
    deep = {
        kind: pitching_time_min(plan_with(shelter("One", kind), snow_cm=300.0)) for kind in ("snow_cave", "lean_to")
    }
    assert deep == {"snow_cave": 180.0, "lean_to": 120.0 + 45.0}


@pytest.mark.parametrize(
    ("shelters", "words"),
    [
        ((shelter("One"), shelter("One")), "the same name"),
        ((shelter("One", joined_to="Two"),), "no other shelter"),
        ((shelter("One", joined_to="One"),), "no other shelter"),
        ((shelter("One", joined_to="Two"), shelter("Two", joined_to="Three"), shelter("Three")), "joined already"),
        ((shelter("One", joined_to="Two"), shelter("Two"), shelter("Three", joined_to="Two")), "joined already"),
        ((shelter("One", TARP),), "not known"),
        ((), "no shelters"),
    ],
)
def test_a_list_that_does_not_add_up_is_told_in_one_sentence(shelters, words):
    with pytest.raises(SettingsError, match=words):
        Unit(people=max(1, sum(one.people for one in shelters)), shelters=shelters)


def test_everyone_has_a_place():
    with pytest.raises(SettingsError, match="the shelters hold 2 people and the unit has 3"):
        Unit(people=3, shelters=(shelter("One"),))
    with pytest.raises(SettingsError, match="Two is to hold 7 people and has 5 places"):
        shelter("Two", "five_person_tent", people=7)


@pytest.mark.parametrize("own", [(own_kind("Lean-To"),), (TARP, own_kind("TARP")), (replace(TARP, key="awning"),)])
def test_kinds_of_ones_own_have_names_of_their_own(own):
    with pytest.raises(SettingsError, match="name"):
        unit(shelter("One"), own=own)


@pytest.mark.parametrize(
    "values",
    [
        {"places": 0},
        {"footprint_m": 0.0},
        {"footprint_m": float("nan")},
        {"needs_snow_cm": -1.0},
        {"pitching_min": 1e9},
    ],
)
def test_figures_outside_their_limits_are_refused(values):
    with pytest.raises(SettingsError, match="tarp"):
        replace(TARP, **values)


@pytest.mark.parametrize("name", ["", "  ", " Tent", "Tent\n2", "x" * 101])
def test_names_can_be_printed(name):
    with pytest.raises(SettingsError):
        shelter(name)


def test_own_kinds_joined_shelters_and_layout_come_back_from_the_file(tmp_path):
    first = shelter("Aid post", TARP, people=1)
    plan = plan_with(first, shelter("Aid post's store", people=0, joined_to="Aid post"), own=(TARP,))
    plan = replace(plan, camp=replace(plan.camp, layout=LayoutSettings(slope_cost=0.25, wind_cost=2.0)))
    path = tmp_path / "plan.geojson"
    write_plan(plan, path)
    told = json.loads(path.read_text())["sitepick"]["unit"]
    assert told["shelters"][0]["kind"] == "tarp"
    assert told["shelter_kinds"][0]["footprint_m"] == 2.5
    read = read_plan(path)
    assert (read.unit, read.camp.layout, read.march.pitching) == (plan.unit, plan.camp.layout, plan.march.pitching)


def test_a_plan_from_before_own_kinds_still_loads(tmp_path):
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(), path)
    document = json.loads(path.read_text())
    settings = document["sitepick"]
    del settings["unit"]["shelter_kinds"], settings["camp"]["layout"]
    for name in ("trench_min", "cave_min", "vehicle_min"):
        del settings["march"]["pitching"][name]
    for one in settings["unit"]["shelters"]:
        del one["joined_to"]
    path.write_text(json.dumps(document))
    assert read_plan(path).unit.shelters == shelters_for(38)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"places": "many"}, r"shelter_kinds\[0\].places"),
        ({"places": 99}, "99, outside 1 to 60"),
        ({"widht_m": 3.0}, "not a setting"),
        ({"label": ""}, "no name"),
    ],
)
def test_a_faulty_kind_in_a_file_is_told_with_its_place(tmp_path, change, words):
    path = tmp_path / "plan.geojson"
    write_plan(plan_with(shelter("One", TARP), own=(TARP,)), path)
    document = json.loads(path.read_text())
    document["sitepick"]["unit"]["shelter_kinds"][0].update(change)
    path.write_text(json.dumps(document))
    with pytest.raises(PlanFileError, match=words):
        read_plan(path)


@pytest.mark.parametrize("kinds", [7, {"a": 1}, [7], ["ten_person_tent"], [None]])
def test_kinds_that_are_no_list_of_kinds_are_refused_with_a_sentence(tmp_path, kinds):
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(), path)
    document = json.loads(path.read_text())
    document["sitepick"]["unit"]["shelter_kinds"] = kinds
    path.write_text(json.dumps(document))
    with pytest.raises(PlanFileError):
        read_plan(path)
