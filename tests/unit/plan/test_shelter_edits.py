"""Edits of the shelter list lose nobody and can be taken back."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sitepick.errors import SettingsError
from sitepick.plan.shelter import SHELTER_KINDS
from sitepick.plan.shelter_edits import (
    with_own_kind_added,
    with_own_kind_changed,
    with_own_kind_removed,
    with_shelter_added,
    with_shelter_changed,
    with_shelter_removed,
)
from tests.helpers.made import make_plan


def heads(plan):
    return sum(one.people for one in plan.unit.shelters)


def test_a_new_shelter_is_empty_and_has_a_name_and_a_section_of_its_own():
    plan = make_plan(people=38)
    for kind in SHELTER_KINDS:
        plan = with_shelter_added(with_shelter_added(plan, kind.key), kind.key)
    names = [one.name for one in plan.unit.shelters]
    assert len(set(names)) == len(names) == 5 + 2 * len(SHELTER_KINDS)
    assert names[-2:] == ["Vehicle 1", "Vehicle 2"]
    assert plan.unit.people == heads(plan) == 38


def test_people_of_a_shelter_that_goes_fill_their_own_section_first():
    plan = make_plan(people=12)
    plan = with_shelter_changed(with_shelter_added(plan, "five_person_tent"), "Tent 3", section="Section 1")
    gone = plan.unit.shelters[0].people
    left = with_shelter_removed(plan, "Tent 1")
    assert next(one for one in left.unit.shelters if one.name == "Tent 3").people == min(gone, 5)
    assert heads(left) == 12


def test_what_was_joined_to_a_shelter_that_goes_stands_alone():
    plan = with_shelter_changed(make_plan(people=38), "Tent 2", joined_to="Tent 1")
    renamed = with_shelter_changed(plan, "Tent 1", name="Aid post")
    assert renamed.unit.shelters[1].joined_to == "Aid post"
    assert with_shelter_removed(plan, "Tent 1").unit.shelters[0].joined_to == ""


def test_the_last_shelter_stays_while_someone_sleeps_in_it():
    with pytest.raises(SettingsError, match="Tent 1 holds 1 person and the others have no places free"):
        with_shelter_removed(make_plan(people=1), "Tent 1")


def test_a_kind_changed_changes_its_shelters_and_is_kept_while_used():
    plan = with_own_kind_added(make_plan(people=10), "dome")
    plan = with_shelter_changed(with_shelter_added(plan, "dome"), "Dome 1", people=2)
    plan = with_own_kind_changed(plan, "dome", places=8)
    assert plan.unit.shelters[-1].kind.places == 8
    with pytest.raises(SettingsError, match="has 1 place"):
        with_own_kind_changed(plan, "dome", places=1)
    with pytest.raises(SettingsError, match="Dome 1 is a dome"):
        with_own_kind_removed(plan, "dome")
    unused = with_shelter_removed(with_shelter_added(plan, "five_person_tent"), "Dome 1")
    assert with_own_kind_removed(unused, "dome").unit.shelter_kinds == ()


@pytest.mark.parametrize("seed", range(5))
def test_whatever_is_done_to_the_list_everyone_keeps_a_place(seed):
    random = np.random.default_rng(seed)
    plan = make_plan(people=int(random.integers(1, 60)))
    for _ in range(60):
        before = plan
        name = str(random.choice([one.name for one in plan.unit.shelters]))
        kind = SHELTER_KINDS[random.integers(len(SHELTER_KINDS))]
        people = int(random.integers(0, 12))
        deeds = (
            lambda plan, kind=kind: with_shelter_added(plan, kind.key),
            lambda plan, name=name: with_shelter_removed(plan, name),
            lambda plan, name=name, kind=kind: with_shelter_changed(plan, name, kind=kind),
            lambda plan, name=name, people=people: with_shelter_changed(plan, name, people=people),
            lambda plan, name=name: with_shelter_changed(plan, name, joined_to=plan.unit.shelters[0].name),
        )
        try:
            plan = deeds[random.integers(len(deeds))](plan)
        except SettingsError:
            assert plan is before
        assert heads(plan) == plan.unit.people >= 1
        assert replace(plan.unit) == plan.unit  # made anew, it still adds up
