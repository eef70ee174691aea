"""The leader's own lines in the order, and the order as plain text."""

from __future__ import annotations

from dataclasses import fields
from pathlib import Path

import pytest

from sitepick.errors import PlanFileError, SettingsError
from sitepick.plan.file import read_plan, write_plan
from sitepick.plan.handout import HandoutSettings, OrderNotes
from sitepick.sheet.order import LEADER_ADDS, SECTION_TITLES, order_text, plain_order_text
from sitepick.sheet.plain import plain_text
from tests.helpers.made import make_plan
from tests.helpers.made_tonight import made_tonight


def test_every_section_takes_notes_and_every_note_has_a_section() -> None:
    assert [one.name for one in fields(OrderNotes)] == list(SECTION_TITLES)


def test_lines_stand_at_the_end_of_their_section_and_nowhere_else() -> None:
    notes = OrderNotes(signals="Channel 4.\n\nListen at 20:00 | 06:00.", task="Bring the *medical* sled.")
    text = order_text(made_tonight(handout=HandoutSettings(notes=notes)))
    signals = text.split("## Command and signals")[1].split("## Casualties")[0]
    assert signals.rstrip().endswith(f"{LEADER_ADDS}\n\n- Channel 4.\n- Listen at 20:00 \\| 06:00.")
    assert text.count("Channel 4.") == 1
    assert "Bring the \\*medical\\* sled." in text.split("## Task")[1].split("## March")[0]
    assert text.count(LEADER_ADDS) == 2


def test_a_section_that_only_the_leader_fills_gets_its_title() -> None:
    answer = made_tonight(handout=HandoutSettings(notes=OrderNotes(duties="Tent 2 from 02:00.")))
    assert "## Duties of the night\n\nThe leader adds:\n\n- Tent 2 from 02:00." in order_text(answer)


def test_notes_and_paper_survive_the_plans_file(tmp_path: Path) -> None:
    handout = HandoutSettings(paper="A3", notes=OrderNotes(march="Αθήνα\nЯкутск", cautions="雪山 خيمة"))
    plan = make_plan(handout=handout)
    write_plan(plan, tmp_path / "plan.geojson")
    assert read_plan(tmp_path / "plan.geojson").handout == handout


def test_a_plan_without_them_still_loads(tmp_path: Path) -> None:
    import json

    write_plan(make_plan(), tmp_path / "plan.geojson")
    document = json.loads((tmp_path / "plan.geojson").read_text(encoding="utf-8"))
    del document["sitepick"]["handout"]
    (tmp_path / "plan.geojson").write_text(json.dumps(document), encoding="utf-8")
    assert read_plan(tmp_path / "plan.geojson").handout == HandoutSettings()


def test_a_mistyped_section_is_told_with_what_was_meant(tmp_path: Path) -> None:
    path = tmp_path / "plan.geojson"
    write_plan(make_plan(handout=HandoutSettings(notes=OrderNotes(signals="x"))), path)
    path.write_text(path.read_text(encoding="utf-8").replace('"signals"', '"signal"'), encoding="utf-8")
    with pytest.raises(PlanFileError, match="is signals meant"):
        read_plan(path)


def test_paper_and_length_have_limits() -> None:
    with pytest.raises(SettingsError, match="none of A4, A3, Letter"):
        HandoutSettings(paper="A5")
    with pytest.raises(SettingsError, match="more than 4000 letters"):
        OrderNotes(task="x" * 4001)


def test_plain_text_says_the_same_words_without_markup() -> None:
    answer = made_tonight(name="a|b *c* #d")
    plain = plain_order_text(answer)
    assert "a|b *c* #d" in plain
    assert "**" not in plain
    assert "|---" not in plain
    assert "\nSituation\n---------\n" in plain
    for placed in answer.camp.shelters if answer.camp else ():
        assert placed.shelter.name in plain


def test_tables_become_columns_whatever_the_script() -> None:
    told = plain_text("| from | to |\n|---|---|\n| 雪山 | B |\n| Start\\|1 | C |\n").splitlines()
    assert told == ["from     to", "雪山     B", "Start|1  C"]
