"""The day's times: light, halts, and the latest arrival."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta, timezone
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sitepick.errors import MarchError
from sitepick.march.clock import arrival_sun, halt_rule, read_clock, route_middle, with_stops
from sitepick.plan.delay import Delay
from sitepick.plan.model import Route
from tests.helpers.made import make_plan

MARCH = make_plan().march
NORWAY = timezone(timedelta(hours=1))


def plan_with(*, points=None, **march):
    plan = make_plan()
    route = plan.route if points is None else Route(name="Made route", points=points)
    return replace(plan, route=route, march=replace(plan.march, **march))


def arctic(month, day, **march):
    """A plan at 78° N in Svalbard, departing at 8 on a day of 2026."""
    depart = datetime(2026, month, day, 8, 0, tzinfo=NORWAY)
    return plan_with(points=((15.6, 78.2), (15.7, 78.2)), depart=depart, **march)


def test_camp_by_leaves_the_pitching_time_before_civil_dusk():
    clock = read_clock(plan_with(pitching_min=120.0))
    assert clock.useful_light_end == clock.sun.civil_dusk
    left = clock.useful_light_end - clock.camp_by
    assert timedelta(minutes=120) <= left < timedelta(minutes=121)


def test_the_users_hour_can_only_make_camp_by_earlier():
    by_light = read_clock(plan_with()).camp_by
    assert read_clock(plan_with(camp_by_hour=time(13, 30))).camp_by.hour == 13
    assert read_clock(plan_with(camp_by_hour=time(19, 0))).camp_by == by_light


def test_in_polar_night_camp_by_is_the_users_hour_and_the_march_says_that_it_is_dark():
    clock = read_clock(arctic(12, 21, camp_by_hour=time(15, 0)))
    assert clock.camp_by == datetime(2026, 12, 21, 15, 0, tzinfo=NORWAY)
    assert clock.useful_light_end is None
    assert [caution.kind for caution in clock.cautions] == ["dark"]
    assert "no useful light" in clock.cautions[0].text


@pytest.mark.parametrize(("month", "kind"), [(12, "polar night"), (6, "midnight sun")])
def test_without_a_dusk_the_users_hour_is_asked_for(month, kind):
    with pytest.raises(MarchError, match=rf"no dusk.*{kind}.*give the hour"):
        read_clock(arctic(month, 21))


def test_under_the_midnight_sun_the_users_hour_holds_and_nothing_is_said_of_the_dark():
    clock = read_clock(arctic(6, 21, camp_by_hour=time(20, 0)))
    assert clock.camp_by.hour == 20
    assert clock.cautions == ()


def test_an_hour_before_the_departure_is_the_next_days():
    clock = read_clock(arctic(6, 21, camp_by_hour=time(2, 0)))
    assert clock.camp_by == datetime(2026, 6, 22, 2, 0, tzinfo=NORWAY)


def test_a_departure_past_camp_by_is_told_with_what_to_do():
    late = datetime(2027, 2, 11, 15, 45, tzinfo=NORWAY)
    with pytest.raises(MarchError, match=r"departs at 15:45 .* in camp by 15:2\d.*depart earlier"):
        read_clock(plan_with(depart=late))


def test_a_departure_after_dark_isn_t_given_the_next_days_light():
    with pytest.raises(MarchError, match="must be in camp by"):
        read_clock(plan_with(depart=datetime(2027, 2, 11, 20, 0, tzinfo=NORWAY)))


def test_a_departure_before_dawn_is_cautioned():
    clock = read_clock(plan_with(depart=datetime(2027, 2, 11, 5, 0, tzinfo=NORWAY)))
    assert [caution.kind for caution in clock.cautions] == ["dark"]
    assert read_clock(plan_with()).cautions == ()


@pytest.mark.parametrize("zone", [timezone.utc, timezone(timedelta(hours=-9)), timezone(timedelta(hours=9))])  # noqa: UP017
def test_the_zone_of_the_departure_changes_how_dusk_is_written_and_not_when_it_is(zone):
    """64.84° N 147.72° W, 1 March 2026: dusk follows the sunset of 03:08:31 UTC on the 2nd by 50 minutes."""
    depart = datetime(2026, 3, 1, 17, 30, tzinfo=timezone.utc).astimezone(zone)  # noqa: UP017 - 8:30 in Alaska
    sun = arrival_sun(Route(name="Alaska", points=((-147.72, 64.84), (-147.7, 64.84))), depart)
    assert timedelta(hours=10, minutes=20) < sun.civil_dusk - depart < timedelta(hours=10, minutes=40)
    assert sun.civil_dusk.utcoffset() == zone.utcoffset(None)


def test_a_dusk_after_midnight_belongs_to_the_evening_before():
    """Summer time at 63.5° N in early June puts dusk past midnight by the clock."""
    zone = ZoneInfo("Europe/Helsinki")
    depart = datetime(2026, 5, 20, 9, 0, tzinfo=zone)
    sun = arrival_sun(Route(name="Far west", points=((22.0, 63.5), (22.1, 63.5))), depart)
    assert sun.civil_dusk.date() == depart.date() + timedelta(days=1)
    assert sun.civil_dusk.hour == 0


def test_a_day_on_which_the_clocks_change_is_counted_in_true_hours():
    zone = ZoneInfo("Europe/Stockholm")
    clocks = [
        read_clock(
            plan_with(
                points=((18.0, 67.0), (18.1, 67.0)), depart=datetime(2026, 3, day, 1, 30, tzinfo=zone), halt_min=0.0
            )
        )
        for day in (28, 29)
    ]
    assert clocks[1].moving_min == pytest.approx(clocks[0].moving_min, abs=8.0)  # dusk comes a little later each day


def test_first_halt_comes_early_and_then_one_an_hour_by_the_clock():
    rule = halt_rule(replace(MARCH, first_halt_after_min=25.0, halt_every_min=60.0, halt_min=10.0), until_min=200.0)
    assert rule.halts == ((25.0, 10.0), (75.0, 10.0), (125.0, 10.0))
    assert rule.elapsed_min(25.0) == 25.0
    assert rule.elapsed_min(26.0) == 36.0
    assert rule.moving_min(85.0) == 75.0
    assert rule.moving_min(90.0) == 75.0  # standing


def test_no_halts_no_standing():
    rule = halt_rule(replace(MARCH, halt_min=0.0), until_min=600.0)
    assert rule.halts == ()
    assert rule.elapsed_min(300.0) == 300.0


def test_the_long_halt_takes_in_the_short_one_that_it_meets():
    march = replace(MARCH, first_halt_after_min=60.0, long_halt_at=time(9, 5), long_halt_min=30.0)  # departs at 8
    rule = halt_rule(march, until_min=150.0)
    assert rule.halts == ((60.0, 35.0), (85.0, 10.0))  # 9:00-9:35, then 10:00


def test_a_long_halt_past_the_day_costs_nothing():
    march = replace(MARCH, halt_min=0.0, long_halt_at=time(7, 0), long_halt_min=30.0)
    assert halt_rule(march, until_min=600.0).moving_min(500.0) == 500.0


def test_delay_is_lost_at_the_start_and_moves_the_halts():
    rule = halt_rule(replace(MARCH, delay_min=40.0, first_halt_after_min=25.0), until_min=100.0)
    assert rule.halts[:2] == ((0.0, 40.0), (25.0, 10.0))
    assert rule.elapsed_min(10.0) == 50.0


def test_halts_without_an_end_are_refused():
    with pytest.raises(MarchError, match="leaves no time to move"):
        halt_rule(replace(MARCH, halt_every_min=20.0, halt_min=20.0), until_min=100.0)


def test_a_delay_as_long_as_the_day_is_refused():
    with pytest.raises(MarchError, match="leave no time to move before camp-by"):
        read_clock(plan_with(delay_min=600.0))


@settings(max_examples=40, deadline=None)
@given(
    moving=st.floats(0.0, 500.0),
    every=st.floats(20.0, 120.0),
    length=st.floats(0.0, 15.0),
    first=st.floats(5.0, 60.0),
    delay=st.floats(0.0, 60.0),
)
def test_moving_and_elapsed_minutes_are_two_sides_of_one_rule(moving, every, length, first, delay):
    march = replace(
        MARCH, halt_every_min=every, halt_min=length, first_halt_after_min=first, delay_min=delay,
        long_halt_at=time(12, 0), long_halt_min=30.0,
    )  # fmt: skip
    rule = halt_rule(march, until_min=3000.0)
    assert rule.moving_min(rule.elapsed_min(moving)) == pytest.approx(moving, abs=1e-6)


def test_the_middle_of_a_route_is_half_way_along_it():
    lon, lat = route_middle(Route(name="Bent", points=((20.0, 67.0), (20.0, 67.3), (20.0, 67.4))))
    assert (lon, lat) == pytest.approx((20.0, 67.2))


def test_the_middle_of_a_route_over_the_180th_meridian_lies_on_it():
    lon, _ = route_middle(Route(name="Dateline", points=((179.9, 67.0), (-179.9, 67.0))))
    assert abs(lon) == pytest.approx(180.0)


# Delays that the user foresees


def test_a_delay_at_a_place_falls_after_the_way_to_it_and_moves_no_halt_by_the_clock():
    march = replace(MARCH, first_halt_after_min=25.0, halt_every_min=60.0, halt_min=10.0)
    rule = halt_rule(march, until_min=200.0, stops=((40.0, 20.0, "ford"),))
    # halts at 8:25, 9:25 and 10:25; at the ford 40 min on the move are over at 8:50
    assert rule.halts == ((25.0, 10.0), (40.0, 20.0), (55.0, 10.0), (105.0, 10.0))
    assert rule.reasons == ("first halt", "ford", "halt", "halt")


def test_a_halt_that_falls_into_a_delay_is_taken_in():
    march = replace(MARCH, first_halt_after_min=25.0, halt_every_min=60.0, halt_min=10.0)
    rule = halt_rule(march, until_min=100.0, stops=((20.0, 30.0, "ford"),))  # 8:20 to 8:50 takes in 8:25
    assert rule.halts == ((20.0, 30.0), (55.0, 10.0))


def test_delays_at_times_and_places_add_up_each_with_its_reason():
    march = replace(
        MARCH, halt_min=0.0,
        delays=(Delay(minutes=15.0, at=time(9, 0), reason="radio"), Delay(minutes=10.0, at=time(8, 30))),
    )  # fmt: skip
    rule = halt_rule(march, until_min=300.0, stops=((70.0, 20.0, "ford"), (90.0, 5.0, "fence")))
    assert rule.halts == ((30.0, 10.0), (50.0, 15.0), (70.0, 20.0), (90.0, 5.0))
    assert rule.reasons == ("delay", "radio", "ford", "fence")
    assert rule.elapsed_min(91.0) == 91.0 + 50.0


def test_a_delay_at_a_place_leaves_less_time_to_move():
    plan = plan_with(delays=(Delay(minutes=30.0, at_km=2.0, reason="ford"),), halt_min=0.0)
    clock = read_clock(plan)
    held = with_stops(clock, plan.march, lambda distance_m: distance_m / 50.0)
    assert clock.moving_min - held.moving_min == pytest.approx(30.0)
    assert held.halt_rule.halts == ((40.0, 30.0),)


def test_a_delay_past_the_end_of_the_route_isn_t_counted_and_that_is_said():
    plan = plan_with(delays=(Delay(minutes=30.0, at_km=200.0, reason="ford"),))
    held = with_stops(read_clock(plan), plan.march, lambda distance_m: None)
    assert held.moving_min == read_clock(plan).moving_min
    assert any("delay at 200 km (ford) lies past the end" in caution.text for caution in held.cautions)


# Marches in the dark


def test_a_march_may_end_in_the_dark_when_the_user_says_so():
    clock = read_clock(plan_with(camp_by_hour=time(19, 0), camp_in_dark=True))
    assert clock.camp_by.hour == 19
    assert [caution.kind for caution in clock.cautions] == ["dark"]
    assert "ends in the dark: useful light ends at 16:36" in clock.cautions[0].text


def test_a_night_march_after_dusk_is_possible_and_says_so():
    depart = datetime(2027, 2, 11, 20, 0, tzinfo=NORWAY)
    clock = read_clock(plan_with(depart=depart, camp_by_hour=time(2, 0), camp_in_dark=True))
    assert clock.camp_by == datetime(2027, 2, 12, 2, 0, tzinfo=NORWAY)
    assert "no useful light" in clock.cautions[0].text
    assert clock.dark == ((depart, clock.camp_by),)


def test_a_march_from_dark_to_dark_is_told_with_both_hours():
    depart = datetime(2027, 2, 11, 5, 0, tzinfo=NORWAY)
    clock = read_clock(plan_with(depart=depart, camp_by_hour=time(18, 0), camp_in_dark=True))
    assert len(clock.dark) == 2
    assert "starts and ends in the dark" in clock.cautions[0].text


def test_the_dark_hours_say_whether_the_moon_helps():
    """Full moon on 3 January 2026, new moon on the 18th."""
    full, new = (
        read_clock(plan_with(depart=datetime(2026, 1, day, 5, 0, tzinfo=NORWAY))).cautions[0].text for day in (4, 18)
    )
    assert "helps" in full
    assert "moon is down" in new or "little light" in new


def test_the_hour_of_camp_by_is_read_on_the_departures_own_clock_when_the_zone_changes_in_the_night():
    """Clocks go forward at 2 on 28 March 2027: the plan keeps the departure's offset."""
    depart = datetime(2027, 3, 27, 22, 0, tzinfo=ZoneInfo("Europe/Stockholm"))
    clock = read_clock(plan_with(depart=depart, camp_by_hour=time(4, 0), camp_in_dark=True, halt_min=0.0))
    assert clock.moving_min == pytest.approx(360.0)
    assert clock.camp_by.utcoffset() == depart.utcoffset()


def test_pitching_follows_the_rule_unless_the_user_gives_a_number():
    by_rule = read_clock(plan_with(pitching_min=None))
    assert by_rule.pitching_min == 88.0
    assert timedelta(minutes=12) <= read_clock(plan_with()).camp_by - by_rule.camp_by <= timedelta(minutes=14)
