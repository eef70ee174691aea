"""The day line: what the sky and the unit do, hour by hour."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta, timezone

import pytest
from PySide6.QtCore import QPoint
from pytestqt.qtbot import QtBot

from sitepick.desk.day_line import DayLine
from sitepick.desk.day_strip import DARK, LIGHT, TWILIGHT, bare_strip, day_strip, march_spans, sky_spans
from sitepick.desk.look import Look
from sitepick.sky import SunDay
from sitepick.tonight import Tonight

ZONE = timezone(timedelta(hours=1))


def at(hour: float) -> datetime:
    return datetime(2027, 2, 11, tzinfo=ZONE) + timedelta(hours=hour)


SUN = SunDay(
    civil_dawn=at(7), sunrise=at(8), sunset=at(15), civil_dusk=at(16), noon_altitude_deg=8.0, kind="day and night"
)


def test_the_sky_runs_from_dark_through_twilight_to_light_and_back():
    spans = sky_spans(SUN, at(6), at(18))
    assert [span.kind for span in spans] == [DARK, TWILIGHT, LIGHT, TWILIGHT, DARK]
    assert [span.begin for span in spans] == [at(6), at(7), at(8), at(15), at(16)]
    assert spans[-1].end == at(18)


def test_a_strip_that_begins_by_day_begins_in_light():
    spans = sky_spans(SUN, at(9), at(15.5))
    assert [(span.kind, span.begin, span.end) for span in spans] == [
        (LIGHT, at(9), at(15)),
        (TWILIGHT, at(15), at(15.5)),
    ]


@pytest.mark.parametrize(
    ("kind", "known", "kinds"),
    [
        ("midnight sun", {}, [LIGHT]),
        ("polar night", {}, [DARK]),
        ("polar twilight", {"civil_dawn": at(9), "civil_dusk": at(14)}, [DARK, TWILIGHT, DARK]),
        ("white night", {"sunrise": at(8), "sunset": at(15)}, [TWILIGHT, LIGHT, TWILIGHT]),
    ],
)
def test_days_without_dusk_or_light_are_told_too(kind: str, known: dict, kinds: list[str]):
    nothing = {"civil_dawn": None, "sunrise": None, "sunset": None, "civil_dusk": None}
    sun = SunDay(**{**nothing, **known}, noon_altitude_deg=0.0, kind=kind)
    assert [span.kind for span in sky_spans(sun, at(6), at(18))] == kinds


def test_halts_fall_between_stretches_on_the_move():
    spans = march_spans(at(8), at(10), ((25.0, 10.0), (60.0, 5.0), (500.0, 10.0)))
    assert [(span.kind, (span.end - span.begin).total_seconds() / 60) for span in spans] == [
        ("march", 25.0), ("halt", 10.0), ("march", 35.0), ("halt", 5.0), ("march", 45.0),
    ]  # fmt: skip


def test_a_halt_of_no_length_is_no_halt():
    assert [span.kind for span in march_spans(at(8), at(9), ((25.0, 0.0),))] == ["march"]


def test_the_day_of_an_answer_has_pitching_after_arrival(answer: Tonight):
    strip = day_strip(answer)
    pitching = strip.acts[-1]
    assert pitching.kind == "pitching"
    assert pitching.begin == answer.sites.sites[0].arrive
    assert pitching.end - pitching.begin == timedelta(minutes=answer.march.pitching_min)
    assert {moment.text.split()[0] for moment in strip.moments} >= {"depart", "arrive", "camp-by", "sunset", "dark"}
    assert all(strip.begin <= moment.at <= strip.end for moment in strip.moments if moment.text[:7] != "sunrise")


def test_without_a_site_the_day_ends_at_the_reach(nothing_found: Tonight):
    strip = day_strip(nothing_found)
    assert strip.acts[-1].kind == "march"
    assert strip.acts[-1].end == nothing_found.march.arrive_at_reach_end


def test_before_an_answer_only_the_departure_is_known(answer: Tonight):
    strip = bare_strip(answer.plan)
    assert strip.sky == ()
    assert [moment.text for moment in strip.moments] == ["depart 08:00"]


@pytest.fixture
def line(qtbot: QtBot, look: Look, answer: Tonight) -> DayLine:
    line = DayLine(look)
    qtbot.addWidget(line)
    line.resize(1000, 114)
    line.show()
    line.show_answer(answer)
    return line


def test_the_pointer_tells_the_time_under_it(qtbot: QtBot, line: DayLine, answer: Tonight):
    told: list[datetime | None] = []
    line.moment_pointed.connect(told.append)
    qtbot.mouseMove(line, QPoint(500, 50))
    strip = day_strip(answer)
    assert told[-1] is not None
    assert abs(told[-1] - (strip.begin + (strip.end - strip.begin) / 2)) < timedelta(minutes=1)


def test_the_day_is_told_to_screen_readers(line: DayLine):
    assert "camp-by 09:10" in line.accessibleDescription()
    assert "1 halt" in line.accessibleDescription()


@pytest.mark.shape
def test_march_is_drawn_in_the_colour_of_intent_between_depart_and_arrive(line: DayLine, look: Look, answer: Tonight):
    image = line.grab().toImage()
    strip = day_strip(answer)
    middle = answer.march.depart + timedelta(minutes=10)
    x = 20 + (middle - strip.begin) / (strip.end - strip.begin) * (line.width() - 40)
    dpr = image.devicePixelRatio()
    assert image.pixelColor(round(x * dpr), round((24 + 22) * dpr)) == look.intent


def test_an_old_day_is_faded(line: DayLine, look: Look):
    fresh = line.grab().toImage()
    line.show_stale(True)
    assert line.grab().toImage() != fresh


def test_a_changed_plan_leaves_the_old_answers_day(line: DayLine, answer: Tonight):
    line.show_plan(replace(answer.plan, name="Another"))
    assert "camp-by" in line.accessibleDescription()
