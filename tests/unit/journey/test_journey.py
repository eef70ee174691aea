"""A route cut into days over a made way, and what is told where that can't be done."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.errors import SettingsError
from sitepick.journey import journey as planner
from sitepick.journey.journey import plan_journey
from sitepick.plan.journey import JourneyPoint, PinnedNight
from sitepick.plan.journey_edits import with_night_let_go, with_night_pinned
from sitepick.plan.model import Route
from tests.unit.journey.made_survey import journey_plan, make_survey, place_at, with_journey

pytestmark = pytest.mark.slow
EVENLY = {float(km): 50.0 + km for km in range(4, 40, 4)}


@pytest.fixture
def surveyed(monkeypatch):
    """Surveys without files: tells how often each route was surveyed."""

    def over(sites_by_route, **known):
        asked = []

        def survey_route(plan, route, *, watch, room):
            asked.append(route.name)
            return make_survey(replace(plan, route=route), sites_by_route[route.name], **known)

        monkeypatch.setattr(planner, "survey_route", survey_route)
        return asked

    return over


def test_every_day_ends_by_camp_by_and_begins_where_the_last_one_ended(surveyed):
    surveyed({"Made route": EVENLY})
    (one,) = plan_journey(journey_plan(days_max=4)).routes
    assert one.is_whole
    assert all(day.arrive <= day.camp_by for day in one.days)
    assert [day.begin_m for day in one.days] == [0.0, *(day.night.rejoin_m for day in one.days[:-1])]
    assert one.days[-1].night is None
    assert sum(day.distance_m for day in one.days) == pytest.approx(40_000.0, rel=0.01)


def test_a_pinned_night_stays_and_the_rest_is_planned_round_it(surveyed):
    asked = surveyed({"Made route": EVENLY})
    plan = journey_plan(days_max=4)
    before = plan_journey(plan)
    night = PinnedNight(route="Made route", day=2, place=place_at(20.0, north_m=100.0))
    pinned = with_night_pinned(plan, night)
    after = plan_journey(pinned, previous=before)
    assert after.routes[0].days[1].night.along_m == 20_000.0
    assert after.routes[0].days[1].is_pinned
    assert asked == ["Made route"]
    assert with_night_let_go(pinned, "Made route", 2) == plan


def test_a_pinned_night_out_of_reach_is_told_with_what_to_do(surveyed):
    surveyed({"Made route": EVENLY})
    plan = journey_plan(pinned=(PinnedNight(route="Made route", day=1, place=place_at(36.0, north_m=100.0)),))
    (one,) = plan_journey(plan).routes
    assert one.chain is None
    assert "The night of day 1 on Made route can't be kept where it is pinned" in one.trouble


def test_a_pin_on_no_site_is_told(surveyed):
    surveyed({"Made route": EVENLY})
    plan = journey_plan(pinned=(PinnedNight(route="Made route", day=1, place=place_at(6.0, north_m=1500.0)),))
    assert "lies on no site that was found" in plan_journey(plan).routes[0].trouble


def test_a_pin_on_a_route_that_is_not_there_is_refused():
    plan = journey_plan(pinned=(PinnedNight(route="Another", day=1, place=place_at(6.0)),))
    with pytest.raises(SettingsError, match="no route has that name"):
        plan_journey(plan)


def test_a_day_shorter_than_the_gap_between_sites_leaves_a_bare_night_with_what_would_mend_it(surveyed):
    surveyed({"Made route": {8.0: 70.0, 34.0: 80.0}})
    (one,) = plan_journey(journey_plan(days_max=4)).routes
    (bare,) = [day for day in one.nights if day.night.is_bare]
    assert 8.0 < bare.end_m / 1000.0 < 34.0
    assert bare.mends[0].startswith("No site holds the unit between 8.0 km and 34.0 km")
    assert any("h longer" in mend for mend in bare.mends)


def test_a_night_must_fall_near_a_place_that_asks_for_one(surveyed):
    surveyed({"Made route": EVENLY})
    stop = JourneyPoint(name="Mill", kind="stop", place=place_at(12.0), within_m=1000.0)
    (one,) = plan_journey(journey_plan(days_max=5, points=(stop,))).routes
    assert 12_000.0 in [day.night.along_m for day in one.nights]
    lonely = replace(stop, place=place_at(14.0), within_m=500.0)
    (none,) = plan_journey(journey_plan(points=(lonely,))).routes
    assert "no site lies within 0.5 km of Mill" in none.trouble


def test_a_route_past_a_place_that_it_must_pass_is_told(surveyed):
    surveyed({"Made route": EVENLY})
    far = JourneyPoint(name="Ford", kind="pass", place=place_at(12.0, north_m=5000.0), within_m=1000.0)
    assert "the route passes Ford at 5.0 km" in plan_journey(journey_plan(points=(far,))).routes[0].trouble


def test_too_few_days_are_told_with_how_many_it_takes(surveyed):
    surveyed({"Made route": EVENLY})
    (one,) = plan_journey(journey_plan(days_max=1)).routes
    assert one.trouble.startswith("Made route takes 2 days, 1 more than there are")


def test_a_route_over_ground_that_is_not_known_is_told_and_the_others_stand(surveyed):
    surveyed({"Made route": EVENLY, "Other": EVENLY})
    plan = journey_plan()
    plan = replace(plan, alternatives=(replace(plan.route, name="Other"),))
    good = plan_journey(plan)
    blocked = replace(good.routes[1].survey, trouble="at 18.0 km it meets ground that the files don't know")
    old = replace(good, routes=(good.routes[0], replace(good.routes[1], survey=blocked)))
    again = plan_journey(with_journey(plan, rule="mean"), previous=old)
    assert again.routes[1].trouble == (
        "Other can't be followed to its end: at 18.0 km it meets ground that the files don't know."
    )
    assert again.order == (0, 1)


def test_routes_stand_by_the_rule_and_what_one_has_over_the_other_is_told(surveyed):
    surveyed({"Made route": EVENLY, "Other": dict.fromkeys(EVENLY, 40.0)})
    plan = journey_plan(days_max=4)
    plan = replace(plan, alternatives=(replace(plan.route, name="Other"),))
    journey = plan_journey(plan)
    assert journey.order == (0, 1)
    assert journey.words[0] == "By the best weakest night, Made route comes first."
    assert "a weakest night" in journey.words[1]


def test_routes_that_do_not_meet_are_told(surveyed):
    surveyed({"Made route": EVENLY, "Short": EVENLY})
    plan = journey_plan()
    short = Route(name="Short", points=(place_at(0.0), place_at(30.0)))
    (caution,) = plan_journey(replace(plan, alternatives=(short,))).cautions
    assert "Made route and Short end 10.0 km apart" in caution.text


def test_more_than_six_routes_are_refused():
    plan = journey_plan()
    others = tuple(replace(plan.route, name=f"Way {number}") for number in range(6))
    with pytest.raises(SettingsError, match="7 routes"):
        plan_journey(replace(plan, alternatives=others))


def test_two_routes_of_one_name_are_refused():
    plan = journey_plan()
    with pytest.raises(SettingsError, match="the same name"):
        plan_journey(replace(plan, alternatives=(plan.route,)))


def test_a_rest_day_stays_in_camp(surveyed):
    surveyed({"Made route": EVENLY})
    (one,) = plan_journey(journey_plan(days_max=6, rest_days=(2,))).routes
    first, rest = one.days[:2]
    assert rest.is_rest
    assert (rest.night, rest.distance_m) == (first.night, 0.0)
