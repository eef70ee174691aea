"""Who carries what: nothing lost, nothing twice, and a sled over its limit told plainly."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from sitepick.march.sled_load import (
    Goods,
    least_off,
    load_sleds,
    person_load_kg,
    section_load_kg,
    sections_of,
    sled_load_kg,
)
from sitepick.plan.kit import STOWED, KitItem
from sitepick.plan.load import LoadSettings
from sitepick.plan.model import Plan, Unit
from sitepick.plan.shelter import Shelter, shelter_kind
from tests.helpers.made import make_plan


def plan_with(*kit: KitItem, people: int = 38, has_sled: bool = True, **load: object) -> Plan:
    plan = make_plan(people=people, load=LoadSettings(kit=kit, **load))
    return replace(plan, march=replace(plan.march, has_sled=has_sled))


def sections(*people: int) -> Unit:
    kind = shelter_kind("ten_person_tent")
    shelters = tuple(
        Shelter(name=f"Tent {index}", section=f"Section {index}", people=count, kind=kind)
        for index, count in enumerate(people, start=1)
    )
    return Unit(people=sum(people), shelters=shelters)


def total(plan: Plan) -> dict[tuple[str, str], int]:
    counts: dict[tuple[str, str], int] = {}
    for sled in load_sleds(plan):
        for one in sled.goods:
            counts[one.section, one.name] = counts.get((one.section, one.name), 0) + one.count
    return counts


AXE = KitItem(name="Axe", weight_kg=1.6, whose="section", carried="sled", stowed="to hand")
TENT = KitItem(name="Tent", weight_kg=41.3, whose="section", carried="sled", stowed="low aft")
FUEL = KitItem(name="Fuel", weight_kg=15.4, whose="section", carried="sled", stowed="low aft")
STOVE = KitItem(name="Stove", weight_kg=8.0, whose="section", carried="sled", stowed="forward")
BAG = KitItem(name="Bag", weight_kg=3.0, whose="person", carried="sled", stowed="anywhere")
PACK = KitItem(name="Pack", weight_kg=20.0, whose="person", carried="back")


def test_the_usual_kit_of_a_full_section_stays_under_the_limit():
    """200 lb a section and a 91 lb tent: common practice."""
    plan = make_plan(people=150)
    assert max(section.people for section in sections_of(plan)) >= 9
    sleds = load_sleds(plan)
    assert len(sleds) == len(sections_of(plan))
    assert all(sled.over_kg == 0.0 and not sled.guests for sled in sleds)
    assert 60.0 < sled_load_kg(plan) <= 90.7


def test_heavy_and_bulky_goods_lie_low_and_aft_and_tools_come_last():
    order = [one.name for one in load_sleds(plan_with(AXE, BAG, STOVE, FUEL, TENT))[0].goods]
    assert order == ["Tent", "Fuel", "Stove", "Axe", "Bag"]


def test_what_is_on_the_back_is_no_load_of_the_sled():
    plan = plan_with(PACK, TENT)
    assert person_load_kg(plan) == 20.0
    assert sled_load_kg(plan) == 41.3


def test_without_a_sled_the_section_shares_its_goods():
    plan = replace(plan_with(PACK, TENT, has_sled=False), unit=sections(10, 4))
    loads = {section.name: section_load_kg(plan, section) for section in sections_of(plan)}
    assert loads["Section 1"] == pytest.approx(24.13)
    assert loads["Section 2"] == pytest.approx(30.325)
    assert person_load_kg(plan) == pytest.approx(30.325)
    assert load_sleds(plan) == ()
    assert sled_load_kg(plan) == 0.0


def test_a_vehicle_carries_what_a_sled_would():
    plan = plan_with(PACK, TENT, has_sled=False)
    plan = replace(plan, march=replace(plan.march, mode="vehicle"))
    assert person_load_kg(plan) == 20.0
    assert load_sleds(plan) == ()


@pytest.mark.parametrize("carried_kg", [0.0, 200.0])
def test_a_load_told_by_the_user_stands_whatever_the_list_says(carried_kg):
    assert person_load_kg(plan_with(PACK, carried_kg=carried_kg)) == carried_kg


def test_an_empty_list_is_no_load():
    plan = plan_with()
    assert person_load_kg(plan) == 0.0
    assert sled_load_kg(plan) == 0.0
    assert all(sled.goods == () for sled in load_sleds(plan))


def test_what_is_too_much_rides_with_a_neighbour_who_has_room():
    plan = replace(plan_with(TENT, BAG, sled_limit_kg=70.0), unit=sections(10, 2))
    first, second = load_sleds(plan)
    assert first.load_kg <= 70.0
    assert [one.name for one in second.guests] == ["Bag"]
    assert second.guests[0].section == "Section 1"
    assert total(plan) == {
        ("Section 1", "Tent"): 1, ("Section 1", "Bag"): 10, ("Section 2", "Tent"): 1, ("Section 2", "Bag"): 2,
    }  # fmt: skip


def test_a_sled_over_its_limit_is_told_with_the_least_that_must_come_off():
    plan = replace(plan_with(TENT, FUEL, STOVE, AXE, sled_limit_kg=60.0), unit=sections(5))
    (sled,) = load_sleds(plan)
    assert sled.load_kg == pytest.approx(66.3)
    assert sled.over_kg == pytest.approx(6.3)
    assert [one.name for one in sled.too_much] == ["Stove"]


def test_a_tent_comes_off_only_where_nothing_else_is_enough():
    plan = replace(plan_with(TENT, FUEL, AXE, sled_limit_kg=20.0), unit=sections(5))
    (sled,) = load_sleds(plan)
    assert [one.name for one in sled.too_much] == ["Tent"]


def test_fewer_sleds_than_sections_are_shared_by_neighbours():
    plan = plan_with(AXE, STOVE, sled_count=2)
    sleds = load_sleds(plan)
    assert len(sleds) == 2
    assert sum(total(plan).values()) == 2 * len(sections_of(plan))
    assert sleds[0].section == "Section 1 and Section 2 and Section 3"


def test_more_sleds_than_sections_go_where_most_is_to_pull():
    plan = replace(plan_with(TENT, BAG, sled_count=3), unit=sections(10, 3))
    sleds = load_sleds(plan)
    assert [sled.section for sled in sleds] == ["Section 1", "Section 1", "Section 2"]
    assert total(plan)["Section 1", "Bag"] == 10


def test_a_sled_that_nobody_is_left_to_pull_stays_at_base():
    plan = replace(plan_with(TENT, sled_count=200), unit=sections(2, 1))
    sleds = load_sleds(plan)
    assert len(sleds) == 3
    assert all(sled.pullers == 1 for sled in sleds)


def test_no_more_people_are_in_harness_than_a_section_has():
    plan = replace(plan_with(TENT, pullers_per_sled=4), unit=sections(3, 9))
    assert [sled.pullers for sled in load_sleds(plan)] == [3, 4]


@pytest.mark.parametrize("seed", range(30))
def test_nothing_is_lost_or_doubled_and_no_sled_is_over_while_another_has_room(seed):
    rng = np.random.default_rng(seed)
    kit = tuple(
        KitItem(
            name=f"Thing {index}",
            weight_kg=round(float(rng.uniform(0.1, 20.0)), 2),
            number=int(rng.integers(0, 4)),
            whose=str(rng.choice(["person", "section"])),
            carried="sled",
            stowed=str(rng.choice(STOWED)),
        )
        for index in range(8)
    )
    load = {"sled_limit_kg": float(rng.uniform(40.0, 200.0)), "sled_count": int(rng.integers(1, 9))}
    plan = replace(plan_with(*kit, **load), unit=sections(*(int(count) for count in rng.integers(1, 10, 4))))
    wanted = {
        (section.name, item.name): item.number * (section.people if item.whose == "person" else 1)
        for section in sections_of(plan)
        for item in kit
        if item.number
    }
    assert total(plan) == wanted
    sleds = load_sleds(plan)
    assert sleds == load_sleds(plan)
    over = [sled for sled in sleds if sled.over_kg > 0.0]
    for sled in over:
        assert not sled.guests
        assert math.fsum(one.total_kg for one in sled.too_much) >= sled.over_kg - 1e-6
        roomiest = max(other.limit_kg - other.load_kg for other in sleds)
        assert all(one.weight_kg > roomiest for one in sled.too_much)


def slow_least_off(goods: list[Goods], over_kg: float) -> float:
    """The least weight that is enough, by trying every way to take pieces off."""
    ways = itertools.product(*(range(one.count + 1) for one in goods))
    weights = (math.fsum(count * one.weight_kg for count, one in zip(way, goods, strict=True)) for way in ways)
    return min(weight for weight in weights if weight >= over_kg - 1e-9)


@pytest.mark.parametrize("seed", range(25))
def test_what_comes_off_is_the_least_that_is_enough(seed):
    rng = np.random.default_rng(seed)
    goods = [
        Goods(name=str(index), section="1", weight_kg=int(rng.integers(1, 150)) / 10, count=int(rng.integers(1, 4)),
              stowed="forward")
        for index in range(6)
    ]  # fmt: skip
    over_kg = float(rng.integers(1, 300)) / 10
    if sum(one.total_kg for one in goods) < over_kg:
        over_kg = sum(one.total_kg for one in goods) / 2
    taken = least_off(goods, over_kg)
    assert math.fsum(one.total_kg for one in taken) == pytest.approx(slow_least_off(goods, over_kg))
    held = {one.name: one.count for one in goods}
    assert all(0 < one.count <= held[one.name] for one in taken)


def test_taking_off_more_than_there_is_takes_all():
    goods = [Goods(name="Axe", section="1", weight_kg=1.6, count=2, stowed="to hand")]
    assert least_off(goods, 10.0) == tuple(goods)
    assert least_off(goods, 0.0) == ()


@pytest.mark.slow
@pytest.mark.slow
def test_a_list_that_is_absurdly_heavy_is_still_told_at_once():
    plan = plan_with(
        *(KitItem(name=f"Thing {index}", weight_kg=200.0, number=200, whose="person") for index in range(200)),
        people=400, sled_count=200,
    )  # fmt: skip
    assert all(sled.over_kg > 0.0 and sled.too_much for sled in load_sleds(plan))
