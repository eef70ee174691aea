"""The order tells what the day's distance rests on."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from sitepick.march.pace import pace_of
from sitepick.plan import edits
from sitepick.sheet.document import tonight_document
from sitepick.sheet.order import order_text
from sitepick.sheet.pace import lead_party_departs, pace_lines
from sitepick.sheet.timetable import timetable
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight


def told(**values: object) -> Tonight:
    """The made answer with the pace of a plan whose march is changed; `pace` changes what it is reckoned from."""
    answer = made_tonight()
    pace = values.pop("pace", {})
    plan = edits.with_pace(edits.with_values(answer.plan, "march", **values), **pace)  # type: ignore[arg-type]
    march = replace(answer.march, pace=pace_of(plan.march, plan.weather))
    if plan.march.pace.breaking == "lead_party":
        march = replace(march, lead_min=np.linspace(15.0, 75.0, march.station_distance_m.size))
    return replace(answer, plan=plan, march=march)


def test_the_order_tells_speed_trail_and_what_slows() -> None:
    lines = pace_lines(told(has_sled=True, pace={"load_kg": 27.0}))
    assert lines[0] == (
        "Pace by day on the level: 1.9 km/h on an unbroken trail, 2.8 on a broken one; slopes by Munter's rule."
    )
    assert lines[1].startswith("Trail: the head of the column breaks it")
    assert "a sled of 90 kg with 3 people at it leaves 70 % of the speed" in lines[2]
    assert "27 kg on each back leave 83 %" in lines[2]
    assert lines[0] in order_text(told(has_sled=True, pace={"load_kg": 27.0}))


def test_the_units_own_speed_stands_for_everything() -> None:
    lines = pace_lines(told(has_sled=True, level_kmh=2.5))
    assert "by the unit's own speed" in lines[0]
    assert len(lines) == 2


def test_deep_snow_and_the_dark_are_told_where_they_slow() -> None:
    answer = told(has_sled=False, pace={"sinking_cm": 80.0})
    early = replace(answer.march, depart=answer.march.sun.civil_dawn - timedelta(hours=1))  # type: ignore[operator]
    line = pace_lines(replace(answer, march=early))[2]
    assert "snow that a boot sinks 80 cm into leaves 75 % on an unbroken trail" in line
    assert f"before {answer.march.sun.civil_dawn:%H:%M} the dark leaves 65 %" in line
    assert len(pace_lines(told(has_sled=False, pace={"sinking_cm": 10.0}))) == 2


def test_a_lead_party_stands_in_the_order_and_the_timetable() -> None:
    answer = told(pace={"breaking": "lead_party"})
    departs = lead_party_departs(answer)
    assert departs is not None
    assert departs < answer.march.depart
    assert f"a lead party without sleds leaves at {departs:%H:%M}" in pace_lines(answer)[1]
    assert timetable(answer)[0].what == "lead party departs, to break the trail"
    assert lead_party_departs(told()) is None


def test_the_document_holds_the_pace_with_its_source() -> None:
    pace = tonight_document(told(mode="foot", has_sled=False))["march"]["pace"]
    assert pace["slopes_by"] == "tobler"
    assert "Tobler 1993" in pace["source"]
    assert pace["trail"] == "rotation"
    assert pace["broken_kmh"] == pytest.approx(3.2)
    assert pace["lead_party_departs"] is None


def test_a_march_that_tells_no_pace_says_nothing_of_it() -> None:
    answer = made_tonight()
    assert pace_lines(replace(answer, march=replace(answer.march, pace=None))) == ()
    assert tonight_document(replace(answer, march=replace(answer.march, pace=None)))["march"]["pace"] is None
