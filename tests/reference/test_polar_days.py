"""Sun and twilight around the edges of polar night and midnight sun: nothing missed, nothing misdated."""

from __future__ import annotations

import math
from datetime import date, datetime, timedelta, timezone

import ephem
import pytest

from sitepick.sky import CIVIL_ALTITUDE_DEG, SUNRISE_ALTITUDE_DEG, dark_spans, sun_day, sun_positions
from tests.helpers.second_sky import SecondSky

ZONE = timezone(timedelta(hours=1))
EDGE_DEG = 0.5


def days_near_an_edge(lat, level_deg):
    """Days of a year around those on which the sun begins or ends to cross a height."""
    days = []
    for number in range(365):
        day = date(2026, 1, 1) + timedelta(days=number)
        declination_deg = math.degrees(float(ephem.Sun(datetime(day.year, day.month, day.day, 12)).dec))
        turns_deg = (90.0 - lat + declination_deg, declination_deg - 90.0 + lat)  # noon and midnight
        if min(abs(turn_deg - level_deg) for turn_deg in turns_deg) < EDGE_DEG:
            days.append(day)
    return days


@pytest.mark.slow
@pytest.mark.parametrize("lat", [66.0, 67.5, 68.2, 70.0, 75.0])
def test_around_the_edges_every_crossing_is_told_on_its_own_day_to_the_minute(lat):
    """Every day on which noon or midnight comes within half a degree of sunrise's height or of civil twilight's.

    Days that graze closer than a second of arc are left out: so far the libraries stand apart.
    """
    compared = grazed = 0
    for level_deg, names in (
        (SUNRISE_ALTITUDE_DEG, ("sunrise", "sunset")),
        (CIVIL_ALTITUDE_DEG, ("civil_dawn", "civil_dusk")),
    ):
        for day in days_near_an_edge(lat, level_deg):
            told = sun_day(15.0, lat, day, ZONE)
            begin = datetime.combine(day, datetime.min.time(), tzinfo=ZONE)
            rises, falls, nearness_deg = SecondSky(lat, 15.0, ephem.Sun()).crossings(
                begin, begin + timedelta(days=1), level_deg
            )
            if nearness_deg < 1.0 / 3600.0:
                grazed += 1
                continue
            for name, wanted in zip(names, (rises[:1], falls[-1:]), strict=True):
                got = getattr(told, name)
                assert (got is None) == (not wanted), (day, name)
                if got is not None:
                    assert abs(got - wanted[0]) <= timedelta(seconds=60), (day, name)
                    compared += 1
    assert compared > 20
    assert grazed <= 1


@pytest.mark.slow
@pytest.mark.parametrize("lat", [67.0, 75.0])
def test_polar_night_begins_and_ends_once_a_winter_and_its_kinds_follow_each_other(lat):
    """Kinds between August and June: light, then twilight only, then (far north) none, and back."""
    kinds = []
    for number in range(0, 250, 3):
        kind = sun_day(15.0, lat, date(2026, 9, 20) + timedelta(days=number), ZONE).kind
        if not kinds or kinds[-1] != kind:
            kinds.append(kind)
    order = ["day and night", "polar twilight", "polar night"]
    winter = [kind for kind in kinds if kind in order]
    turn = max(range(len(winter)), key=lambda number: order.index(winter[number]))
    ranks = [order.index(kind) for kind in winter]
    assert ranks[: turn + 1] == sorted(ranks[: turn + 1])
    assert ranks[turn:] == sorted(ranks[turn:], reverse=True)
    assert len(winter) == 2 * turn + 1


def test_dark_spans_end_where_twilight_begins():
    begin, end = datetime(2027, 2, 11, 4, 0, tzinfo=ZONE), datetime(2027, 2, 11, 20, 0, tzinfo=ZONE)
    spans = dark_spans(21.0, 67.4, begin, end)
    day = sun_day(21.0, 67.4, date(2027, 2, 11), ZONE)
    assert spans[0][0] == begin
    assert spans[-1][1] == end
    assert abs(spans[0][1] - day.civil_dawn) < timedelta(seconds=1)
    assert abs(spans[1][0] - day.civil_dusk) < timedelta(seconds=1)
    _, altitude_deg = sun_positions(21.0, 67.4, [spans[0][1]])
    assert altitude_deg[0] == pytest.approx(-6.0, abs=0.001)


def test_dark_spans_of_polar_night_and_midnight_sun():
    for month, spans in ((12, 1), (6, 0)):
        begin = datetime(2026, month, 21, 8, 0, tzinfo=ZONE)
        assert len(dark_spans(15.6, 78.2, begin, begin + timedelta(hours=10))) == spans
