"""Edits make a new plan and leave the old one as it was."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sitepick.errors import SettingsError
from sitepick.plan import edits
from sitepick.plan.factor import Factor
from sitepick.plan.further import FurtherFactors
from sitepick.plan.model import MAIN_NAMES, Preferences, Route, Unit
from sitepick.plan.shelter import shelters_for
from tests.helpers.made import make_plan

PLAN = make_plan(alternatives=(Route(name="Other", points=((21.0, 67.4), (21.2, 67.4), (21.3, 67.4))),))


def test_moving_a_point_moves_that_point_only():
    moved = edits.with_route_point_moved(PLAN, 0, (21.5, 67.5))
    assert moved.route.points == ((21.5, 67.5), PLAN.route.points[1])
    assert PLAN.route.points[0] != (21.5, 67.5)


def test_a_point_added_and_removed_gives_the_same_plan():
    added = edits.with_route_point_added(PLAN, 1, (21.05, 67.45))
    assert len(added.route.points) == 3
    assert edits.with_route_point_removed(added, 1) == PLAN


def test_a_route_keeps_two_points():
    with pytest.raises(SettingsError, match="two points"):
        edits.with_route_point_removed(PLAN, 0)


def test_choosing_an_alternative_swaps_it_with_the_route():
    chosen = edits.with_alternative_chosen(PLAN, 0)
    assert chosen.route.name == "Other"
    assert chosen.alternatives[0] == PLAN.route
    assert edits.with_alternative_chosen(chosen, 0) == PLAN


def test_a_weight_changes_nothing_else():
    changed = edits.with_weight(PLAN, "wind", 90.0)
    assert changed.preferences.wind.weight == 90.0
    assert changed.preferences.forest == PLAN.preferences.forest


@given(people=st.integers(1, 400))
def test_everyone_has_a_place_and_the_leader_a_tent_over_ten(people):
    unit = Unit(people=people, shelters=shelters_for(people))
    assert sum(shelter.people for shelter in unit.shelters) == people
    assert sum(shelter.is_leaders for shelter in unit.shelters) == (people > 10)
    assert len(unit.shelters) == -(-people // 10) + (people > 10)
    assert all(0 < shelter.people <= 10 for shelter in unit.shelters)


def test_more_people_than_places_is_refused():
    with pytest.raises(SettingsError, match="hold 10 people and the unit has 30"):
        Unit(people=30, shelters=shelters_for(10))


@pytest.mark.parametrize(
    "curve", [((0.0, 0.0),), ((1.0, 0.0), (0.0, 1.0)), ((0.0, 0.0), (1.0, 2.0)), ((0.0, 0.0), (1.0, 1.0), (2.0, 0.5))]
)
def test_a_curve_rises_or_falls_and_never_turns_back(curve):
    with pytest.raises(SettingsError, match="curve"):
        Factor(weight=1.0, curve=curve)


def test_all_weights_0_are_refused():
    none = Factor(weight=0.0, curve=((0.0, 0.0), (1.0, 1.0)))
    nothing = dict.fromkeys(MAIN_NAMES, none)
    with pytest.raises(SettingsError, match="every weight is 0"):
        Preferences(**nothing, further=FurtherFactors(cold=none))
    assert Preferences(**nothing).factor("cold").weight > 0.0  # one is enough


@pytest.mark.parametrize(
    ("part", "values", "words"),
    [
        ("camp", {"spacing_m": 0.0}, "spacing is 0 m, outside 3 to 500 m"),
        ("weather", {"wind_kmh": float("nan")}, "wind speed is not a number"),
        ("weather", {"wind_from_deg": 361.0}, "wind from is 361 °"),
        ("march", {"mode": "helicopter"}, "none of foot, snowshoe, ski, vehicle"),
    ],
)
def test_absurd_values_are_refused_in_words(part, values, words):
    with pytest.raises(SettingsError) as told:
        edits.with_values(PLAN, part, **values)
    assert words in str(told.value)


def test_every_head_has_a_place():
    tents = shelters_for(24)
    empty = (replace(tents[0], people=0), *tents[1:])
    with pytest.raises(SettingsError, match="the shelters hold 17 people and the unit has 24"):
        Unit(people=24, shelters=empty)


def test_a_departure_beyond_the_tables_of_the_sun_is_refused():
    with pytest.raises(SettingsError, match="year 1800"):
        edits.with_values(PLAN, "march", depart=PLAN.march.depart.replace(year=1800))


def test_the_pace_is_edited_value_by_value_and_for_the_mode_at_hand():
    plan = make_plan()
    assert edits.with_pace(plan, night_frac=0.8).march.pace.night_frac == 0.8
    edited = edits.with_mode_pace(plan, broken_kmh=5.0)  # on skis
    assert edited.march.pace.ski.broken_kmh == 5.0
    assert edited.march.pace.foot == plan.march.pace.foot
    towed = edits.with_values(edits.with_pace(plan, is_towed=True), "march", mode="vehicle")
    assert edits.with_mode_pace(towed, broken_kmh=9.0).march.pace.tow.broken_kmh == 9.0


def test_a_function_without_a_level_speed_takes_the_planning_rate():
    plan = edits.with_pace(make_plan(), is_towed=True)
    own = edits.with_pace(plan, tow=replace(plan.march.pace.tow, function="ski_rule", level_from="function"))
    assert edits.with_slope_function(own, "tow", "vehicle_grade").march.pace.tow.level_from == "table"
    walking = edits.with_pace(plan, foot=replace(plan.march.pace.foot, level_from="function"))
    assert edits.with_slope_function(walking, "foot", "rees").march.pace.foot.level_from == "function"


NAMED = replace(PLAN.route, points=((21.0, 67.4), (21.05, 67.42), (21.1, 67.4)), point_names=("Base", "Ford", None))


def test_names_go_along_with_their_points():
    plan = edits.with_route(PLAN, NAMED)
    moved = edits.with_route_point_moved(plan, 1, (21.06, 67.43)).route
    assert moved.point_names == ("Base", "Ford", None)
    added = edits.with_route_point_added(plan, 1, (21.02, 67.41)).route
    assert added.point_names == ("Base", None, "Ford", None)
    several = edits.with_route_points_added(plan, 3, [(21.2, 67.4), (21.3, 67.4)]).route
    assert several.points[2:] == ((21.1, 67.4), (21.2, 67.4), (21.3, 67.4))
    assert several.point_names == ("Base", "Ford", None, None, None)
    removed = edits.with_route_point_removed(plan, 0).route
    assert removed.point_names == ("Ford", None)


def test_a_point_is_named_renamed_and_left_without_a_name():
    plan = edits.with_route_point_named(PLAN, 1, "  Upper  hut ")
    assert plan.route.point_names == (None, "Upper hut")
    assert edits.with_route_point_named(plan, 1, " ") == PLAN


def test_a_route_turned_twice_is_the_route():
    plan = edits.with_route(PLAN, NAMED)
    turned = edits.with_route_turned(plan)
    assert turned.route.points == NAMED.points[::-1]
    assert turned.route.point_names == (None, "Ford", "Base")
    assert edits.with_route_turned(turned) == plan


def test_a_route_cut_in_two_keeps_its_rest_beside_it():
    plan = edits.with_route_cut(edits.with_route(PLAN, NAMED), 1)
    assert plan.route.points == NAMED.points[:2]
    assert plan.route.point_names == ("Base", "Ford")
    rest = plan.alternatives[-1]
    assert (rest.name, rest.points, rest.point_names) == (f"Rest of {NAMED.name}", NAMED.points[1:], ("Ford", None))


@pytest.mark.parametrize("index", [0, 2])
def test_a_route_is_not_cut_at_its_ends(index):
    with pytest.raises(SettingsError, match="can't be cut at its end"):
        edits.with_route_cut(edits.with_route(PLAN, NAMED), index)


def test_routes_taken_from_a_file_lose_none_that_were_there():
    others = (replace(NAMED, name="A"), replace(NAMED, name="B"))
    plan = edits.with_routes_taken(PLAN, others)
    assert plan.route.name == "A"
    assert plan.alternatives == (*PLAN.alternatives, PLAN.route, others[1])


def test_a_route_that_is_dropped_is_gone_and_the_others_stay():
    plan = edits.with_routes_taken(PLAN, (NAMED,))
    assert edits.with_alternative_dropped(plan, len(plan.alternatives) - 1).alternatives == PLAN.alternatives
