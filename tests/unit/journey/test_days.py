"""What a day starts from: its date and hour, its weather, how tired people are, what they still carry."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from itertools import pairwise

import pytest

from sitepick.errors import SettingsError
from sitepick.journey.compare import clock_cautions
from sitepick.journey.days import MORE_SUPPLIES, day_plan, fresh_frac
from sitepick.march.sled_load import person_load_kg
from sitepick.plan.journey import DayForecast, JourneySettings, PinnedNight
from tests.unit.journey.made_survey import journey_plan


def test_every_day_leaves_at_the_same_hour():
    plan = journey_plan()
    assert [day_plan(plan, day, since=0).march.depart.isoformat() for day in (1, 3)] == [
        "2027-03-10T08:00:00+01:00",
        "2027-03-12T08:00:00+01:00",
    ]


def test_where_clocks_change_the_unit_leaves_by_the_clock_and_is_told():
    """Clocks in most of Europe go forward on the last Sunday of March: 28 March 2027."""
    plan = journey_plan(days_max=4, zone="Europe/Stockholm")
    first = datetime.fromisoformat("2027-03-26T08:00+01:00")
    departures = [plan.journey.departure(first, day) for day in (2, 3)]
    assert [moment.isoformat() for moment in departures] == ["2027-03-27T08:00:00+01:00", "2027-03-28T08:00:00+02:00"]


def test_the_change_of_clocks_is_a_caution():
    plan = journey_plan(days_max=4, zone="Europe/Stockholm")
    plan = replace(plan, march=replace(plan.march, depart=datetime.fromisoformat("2027-03-26T08:00+01:00")))
    (caution,) = clock_cautions(plan)
    assert "forward by 60 min before day 3" in caution.text
    assert clock_cautions(replace(plan, journey=JourneySettings(days_max=4))) == ()


def test_people_tire_until_they_rest():
    settings = JourneySettings(days_max=7, rest_days=(4,), tired_frac=0.03, tired_most_frac=0.05)
    assert [round(fresh_frac(settings, day), 3) for day in (1, 2, 3, 5, 6)] == [1.0, 0.97, 0.95, 1.0, 0.97]


def test_loads_get_lighter_until_supplies_are_taken_up():
    plan = journey_plan(days_max=4, supplies_kg=2.0)
    loads = [person_load_kg(day_plan(plan, day, since=day - 1)) for day in (1, 2, 3, 4)]
    assert [round(before - after, 6) for before, after in pairwise(loads)] == [2.0, 2.0, 2.0]
    assert all(item.name != MORE_SUPPLIES for item in day_plan(plan, 4, since=3).load.kit)


def test_a_days_forecast_stands_in_for_the_plans_weather():
    plan = journey_plan(forecasts=(DayForecast(day=2, wind_from_deg=90.0, temperature_c=-30.0),))
    second = day_plan(plan, 2, since=1).weather
    assert (second.wind_from_deg, second.temperature_c) == (90.0, -30.0)
    assert (second.wind_kmh, second.snow_cm) == (plan.weather.wind_kmh, plan.weather.snow_cm)
    assert day_plan(plan, 3, since=2).weather == plan.weather


def test_a_limit_of_hours_becomes_the_days_latest_arrival():
    plan = journey_plan(hours_max=5.5)
    assert day_plan(plan, 2, since=0).march.camp_by_hour == time(13, 30)


@pytest.mark.parametrize(
    ("values", "told"),
    [
        ({"rest_days": (1,)}, "day 1 is a rest day"),
        ({"rest_days": (2, 2)}, "stands there twice"),
        ({"days_max": 3, "rest_days": (3,)}, "the journey has 3 days"),
        ({"zone": "Nowhere/At_All"}, "no zone is called"),
        ({"forecasts": (DayForecast(day=2), DayForecast(day=2))}, "a forecast stands there twice"),
        ({"hours_max": 30.0}, "outside"),
    ],
)  # fmt: skip
def test_settings_that_make_no_sense_are_refused(values, told):
    with pytest.raises(SettingsError, match=told):
        JourneySettings(**values)


def test_a_pin_off_the_globe_is_refused():
    with pytest.raises(SettingsError, match="longitude 200"):
        PinnedNight(route="A", day=1, place=(200.0, 60.0))


def test_a_day_is_a_day_long():
    plan = journey_plan()
    first, second = (day_plan(plan, day, since=0).march.depart for day in (1, 2))
    assert second - first == timedelta(days=1)
