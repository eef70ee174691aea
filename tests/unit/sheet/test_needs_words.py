"""Effort, food, water, fuel and loads in words, on the sheet, in the order and in the file."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from sitepick.march import Stop, read_needs
from sitepick.plan.kit import KitItem, usual_kit
from sitepick.plan.kit_edits import with_kit_item_changed
from sitepick.plan.load import LoadSettings
from sitepick.sheet.document import tonight_document, tonight_text
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Text
from sitepick.sheet.needs_words import energy_words, fuel_words, load_words, sled_lines, sled_words, water_words
from sitepick.sheet.order import order_text
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight


def with_needs(answer: Tonight, *, water_min: float | None = 9.0) -> Tonight:
    pick = answer.sites.sites[0]
    stop = Stop(
        row=10, col=10, leave_m=pick.leave_distance_m, detour_min=pick.detour_min, moving_min=pick.moving_min,
        water_min=water_min, water_words="Mapped stream, 9 min there and back.",
    )  # fmt: skip
    needs = read_needs(answer.plan, answer.ground, answer.terrain, answer.march, stop=stop)
    return replace(answer, needs=needs)


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return with_needs(made_tonight())


def sheet_words(answer: Tonight) -> str:
    return " ".join(
        stroke.text for page in lay_out_sheet(answer).pages for stroke in page.strokes if isinstance(stroke, Text)
    )


def test_the_day_is_told_against_the_ration(answer: Tonight):
    told = energy_words(answer.needs)
    assert told.startswith("The day takes about ")
    assert told.endswith("a ration of 4 500 kcal covers it.")
    short = energy_words(replace(answer.needs, ration_kcal=answer.needs.hardest.total_kcal - 800.0))
    assert short.endswith("leaves 800 open.")
    assert "may be more" in energy_words(replace(answer.needs, is_at_least=True))


def test_water_says_where_it_comes_from(answer: Tonight):
    assert "5.5 L of water a person, 209 L in all. Water: mapped stream" in water_words(answer.needs, 38)
    melted = with_needs(answer, water_min=None).needs
    assert "No water near: melt snow. It takes 1045 L of snow." in water_words(melted, 38)
    assert "only to melt it" in fuel_words(melted)
    assert "were it melted" in fuel_words(answer.needs)


def test_sleds_that_are_loaded_alike_are_told_together(answer: Tonight):
    lines = sled_lines(answer.needs)
    assert len(lines) < len(answer.needs.sleds)
    assert all(sled.name in " ".join(lines) for sled in answer.needs.sleds)
    assert "Low and aft: Ten-person tent; Full fuel can of 18.9 L." in sled_words(answer.needs.sleds[0])


def test_a_sled_over_its_limit_is_told_plainly():
    plan_load = LoadSettings(kit=(KitItem(name="Stone", weight_kg=100.0),))
    answer = with_needs(made_tonight(people=5, load=plan_load))
    assert "1 over the limit" in load_words(answer.needs)
    assert "100.0 of 90.7 kg, 9.3 kg over" in sled_words(answer.needs.sleds[0])
    assert "9.3 kg over its limit" in order_text(answer)
    assert "9.3 kg over its limit" in sheet_words(answer)


def test_the_order_holds_supplies_effort_by_leg_sleds_and_the_list_to_tick(answer: Tonight):
    plan = with_kit_item_changed(answer.plan, "Axe", is_ticked=True)
    text = order_text(replace(answer, plan=plan))
    section = text.split("## Effort and supplies")[1].split("\n## ")[0]
    assert section.count(" W in harness; ") == len(answer.march.legs)
    assert "Sled 1, Section 1" in section
    assert f"1 of {len(usual_kit())} things on the kit list is ticked." in text
    assert "- ☑ Axe, 1.6 kg, each section, on the sled" in text
    assert "- ☐ Saw" in text


def test_the_order_tells_an_empty_list_as_empty():
    assert "The kit list is empty." in order_text(with_needs(made_tonight(load=LoadSettings(kit=()))))


def test_the_sheet_holds_effort_and_supplies(answer: Tonight):
    words = sheet_words(answer)
    for told in ("Effort and supplies", "The day takes about", "White gas", "On each back", "kit list"):
        assert told in words


def test_the_file_holds_the_needs_as_plain_values(answer: Tonight):
    needs = json.loads(tonight_text(tonight_document(answer)))["needs"]
    assert [leg["from"] for leg in needs["legs"]] == [leg.start_name for leg in answer.march.legs]
    assert needs["legs"][0]["watts_in_harness"] > needs["legs"][0]["watts"] > 0
    assert needs["day"]["person"]["kcal"] == round(answer.needs.walk.total_kcal)
    assert needs["water"]["source"] == "water"
    assert needs["sleds"][0]["limit_kg"] == 90.7
    assert len(needs["kit"]) == len(usual_kit())


def test_an_answer_without_needs_is_handed_out_as_before():
    bare = made_tonight()
    assert tonight_document(bare)["needs"] is None
    assert "Effort and supplies" not in order_text(bare)


def test_a_name_in_the_kit_list_breaks_no_table():
    answer = with_needs(made_tonight(load=LoadSettings(kit=(KitItem(name="A|B *c* <d> #e"),))))
    assert "A\\|B \\*c\\* \\<d\\> \\#e" in order_text(answer)
