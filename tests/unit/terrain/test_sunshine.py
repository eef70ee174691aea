"""Hours of sun: what counts, what doesn't, and which day is meant."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import numpy as np
import pytest

from sitepick.errors import SettingsError
from sitepick.sky import SUN_RADIUS_DEG, SUNRISE_ALTITUDE_DEG, arrival_day, upper_rim_deg
from sitepick.terrain import read_sun_hours, sun_at
from sitepick.work import JobStopped, Watch
from tests.helpers.made import SPRUCE, made_relief, make_ground, make_plan


def departing(plan, depart):
    return replace(plan, march=replace(plan.march, depart=datetime.fromisoformat(depart)))


def test_the_rim_is_on_the_horizon_at_sunrise():
    assert upper_rim_deg(SUNRISE_ALTITUDE_DEG) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(("seen_deg", "bent_minutes"), [(5.0, 9.9), (10.0, 5.3), (45.0, 1.0)])
def test_the_air_bends_by_the_almanac(seen_deg, bent_minutes):
    # Mean refraction by apparent height, as nautical almanacs print it: common practice.
    true_deg = seen_deg - bent_minutes / 60.0 - SUN_RADIUS_DEG
    assert upper_rim_deg(true_deg) == pytest.approx(seen_deg, abs=0.2 / 60.0)


def test_a_higher_sun_is_seen_higher():
    assert (np.diff(upper_rim_deg(np.linspace(-1.2, 89.0, 500))) > 0.0).all()


def test_a_march_over_midnight_in_summer_time_arrives_on_the_evening_before():
    assert arrival_day(20.0, 63.0, datetime.fromisoformat("2026-06-01T08:00+02:00"))[0].day == 1
    # At 63 N in June civil dusk comes after midnight by the clock of a zone far to the east.
    assert arrival_day(20.0, 63.0, datetime.fromisoformat("2026-05-02T00:10+05:00"))[0].day == 1


def test_the_shade_of_trees_is_not_counted():
    z = made_relief(30, 30)
    plan = make_plan()
    wood, bare = (read_sun_hours(plan, make_ground(z, cover)) for cover in (SPRUCE, 0))
    np.testing.assert_array_equal(wood, bare)


@pytest.mark.slow
def test_each_cell_of_a_wide_window_has_its_own_sun():
    # 60 km from south to north: in late November a quarter of an hour of sun.
    ground = make_ground(np.zeros((60, 3)), cell_m=1000.0)
    plan = departing(make_plan(), "2026-11-25T08:00+01:00")
    hours = read_sun_hours(plan, ground)
    for row in (0, 30, 59):
        assert hours[row, 1] == pytest.approx(sun_at(plan, ground, (row, 1)).hours, abs=0.05)
    assert hours[59, 1] - hours[0, 1] > 0.2


def test_raised_ground_has_the_same_sun():
    z = made_relief(40, 40)
    plan = make_plan()
    np.testing.assert_allclose(
        read_sun_hours(plan, make_ground(z + 256.0)), read_sun_hours(plan, make_ground(z)), atol=0.01
    )


def test_a_place_among_hills_has_the_sun_between_its_first_and_last():
    z = made_relief(60, 60, height_m=80.0)
    ground, plan = make_ground(z), make_plan()
    hours = read_sun_hours(plan, ground)
    assert float(hours.min()) < 6.0 < float(hours.max())
    row, col = np.unravel_index(np.argmax(hours), hours.shape)
    sun = sun_at(plan, ground, (int(row), int(col)))
    assert sun.hours <= (sun.last - sun.first) / timedelta(hours=1) + 1e-6
    assert sun.first.date() == plan.march.depart.date()


def test_a_year_that_the_ephemeris_lacks_is_told():
    with pytest.raises(SettingsError, match="2090"):
        departing(make_plan(), "2090-02-11T08:00+01:00")


def test_stopping_ends_the_work():
    watch = Watch()
    watch.stop()
    with pytest.raises(JobStopped):
        read_sun_hours(make_plan(), make_ground(np.zeros((9, 9))), watch=watch)
