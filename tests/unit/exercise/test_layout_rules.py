"""Each rule of a camp that is broken on purpose is found, by its own name and no other of its kind."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sitepick.exercise.layout import read_layout
from sitepick.exercise.layout_rules import check_layout
from sitepick.exercise.pick_ground import read_pick
from sitepick.plan.exercise import PlacedThing
from tests.unit.exercise.made_class import best_answer, lonlat, made_standard, with_thing


def checked(handed_in, *, precision_m=0.0):
    standard = made_standard()
    pick = read_pick(standard, handed_in.pick, tolerance_m=50.0)
    layout = read_layout(standard, handed_in.layout)
    return {one.name: one for one in check_layout(layout, pick, precision_m=precision_m, door_tolerance_deg=10.0)}


def place_of(what, *, east_m=0.0, north_m=0.0):
    """The place of a thing of the best layout, or one beside it."""
    standard = made_standard()
    thing = next(one for one in best_answer(standard).layout if one.what == what)
    east, north = standard.answer.ground.grid.from_lonlat(*thing.place)
    return lonlat(standard, float(east) + east_m, float(north) + north_m)


def lake():
    standard = made_standard()
    return lonlat(standard, *standard.answer.ground.grid.cell_centre_m(102, 40))


def beside_the_lake():
    """Ten metres from the shore, wherever the camp is."""
    standard = made_standard()
    return lonlat(standard, *standard.answer.ground.grid.cell_centre_m(93, 40))


@pytest.mark.slow
def test_the_programs_own_camp_breaks_no_rule():
    checks = checked(best_answer(made_standard()))
    assert {"spacing", "doors", "leader", "latrine_from_water", "latrine_from_shelters", "on_the_pick"} <= set(checks)
    assert [one.sentence for one in checks.values() if not one.is_kept] == []


def windward(distance_m):
    """A place so far to the windward of the middle of the camp."""
    standard = made_standard()
    camp, grid = standard.answer.camp, standard.answer.ground.grid
    east = sum(one.east_m for one in camp.shelters) / len(camp.shelters)
    north = sum(one.north_m for one in camp.shelters) / len(camp.shelters)
    to_wind = math.radians(300.0 - grid.convergence_deg(east, north))
    return lonlat(standard, east + distance_m * math.sin(to_wind), north + distance_m * math.cos(to_wind))


PLANTED = {
    "shelters": lambda held: replace(held, layout=held.layout[1:]),
    "facilities": lambda held: replace(held, layout=tuple(one for one in held.layout if one.what != "Latrine")),
    "ground": lambda held: with_thing(held, "Tent 2", place=lake()),
    "on_the_pick": lambda held: with_thing(held, "Tent 3", place=place_of("Tent 3", east_m=700.0)),
    "spacing": lambda held: with_thing(held, "Tent 2", place=place_of("Tent 1", east_m=20.0)),
    "doors": lambda held: with_thing(held, "Tent 4", door_deg=300.0),
    "leader": lambda held: with_thing(held, "Leader's tent", place=place_of("Leader's tent", east_m=260.0)),
    "latrine_from_water": lambda held: with_thing(held, "Latrine", place=beside_the_lake()),
    "latrine_from_shelters": lambda held: with_thing(held, "Latrine", place=place_of("Tent 1", north_m=12.0)),
    "latrine_walk": lambda held: with_thing(held, "Latrine", place=place_of("Latrine", east_m=400.0)),
    "latrine_downwind": lambda held: with_thing(held, "Latrine", place=windward(110.0)),
    "waste_from_water": lambda held: with_thing(held, "Waste", place=beside_the_lake()),
    "fuel_from_shelters": lambda held: with_thing(held, "Fuel", place=place_of("Tent 1", north_m=6.0)),
    "fire_from_shelters": lambda held: replace(
        held, layout=(*held.layout, PlacedThing(what="Fire", place=place_of("Tent 1", north_m=9.0)))
    ),
    "fuel_from_fire": lambda held: replace(
        held, layout=(*held.layout, PlacedThing(what="Fire", place=place_of("Fuel", north_m=5.0)))
    ),
    "latrine_from_cooking": lambda held: replace(
        held, layout=(*held.layout, PlacedThing(what="Cooking", place=place_of("Latrine", north_m=40.0)))
    ),
}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("rule", list(PLANTED))
def test_a_planted_broken_rule_is_found(rule):
    found = checked(PLANTED[rule](best_answer(made_standard())))
    assert not found[rule].is_kept, found[rule].sentence
    assert 0.0 <= found[rule].kept_frac < 1.0


@pytest.mark.slow
def test_coarse_references_are_not_held_against_a_layout():
    """Two tents 50 m apart by references to 10 m may well keep 55 m."""
    held = with_thing(best_answer(made_standard()), "Tent 2", place=place_of("Tent 1", east_m=48.0))
    assert not checked(held)["spacing"].is_kept
    assert checked(held, precision_m=10.0)["spacing"].kept_frac > checked(held)["spacing"].kept_frac


@pytest.mark.slow
def test_nearer_to_a_rule_is_worth_more():
    shares = [
        checked(with_thing(best_answer(made_standard()), "Tent 2", place=place_of("Tent 1", east_m=away)))[
            "spacing"
        ].kept_frac
        for away in (5.0, 20.0, 35.0, 50.0)
    ]
    assert shares == sorted(shares)
    assert shares[0] < shares[-1] < 1.0


def test_what_nobody_knows_is_named():
    layout = read_layout(made_standard(), (PlacedThing(what="Swimming pool", place=lake()),))
    assert layout.not_known == ("Swimming pool",)
    assert read_layout(made_standard(), (PlacedThing(what="latrine 2", place=lake()),)).things[0].kind == "latrine"
