"""How firm the pick is, what topples it and which site to fall back on, as the papers tell it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sitepick.sheet.document import tonight_document
from sitepick.sheet.order import order_text
from sitepick.sheet.summary import alternate_words, firmness_words
from sitepick.sites.model import OwnSite, Topple
from tests.helpers.made_tonight import made_tonight

TOPPLE = Topple(name="water", text="way to water and back weighing twice as much", error_units=4.0, then_first=3)
WHY = "It is the alternate because site 2 can't be reached at the late pace."


@pytest.fixture(scope="module")
def answer():
    made = made_tonight()
    failed = OwnSite(name="Ours", text="It is too steep.", measures=(), score=None)
    sites = replace(
        made.sites, is_drawn=True, topple=TOPPLE, alternate_rank=3, alternate_words=WHY, own_failed=(failed,)
    )  # fmt: skip
    return replace(made, sites=sites)


def test_the_order_tells_the_pick_the_alternate_and_what_would_topple(answer):
    text = order_text(answer)
    assert "**Alternate: site 3, Far wood**" in text
    assert "**Alternate: site 2" not in text
    assert "weighing twice as much; site 3 is first then" in text
    assert WHY in alternate_words(answer)


def test_nothing_is_told_of_draws_that_were_not_made(answer):
    assert firmness_words(replace(answer, sites=replace(answer.sites, is_drawn=False))) == ""
    firm = firmness_words(replace(answer, sites=replace(answer.sites, topple=None)))
    assert firm == "The pick stays first in 81 of 100 draws. No single change that was tried takes its place."
    gone = firmness_words(replace(answer, sites=replace(answer.sites, topple=replace(TOPPLE, then_first=None))))
    assert "another place is first then, or none" in gone


def test_the_document_holds_them(answer):
    document = tonight_document(answer)
    assert document["alternate"] == {"rank": 3, "why": WHY}
    assert document["topple"] == {"what": "water", "text": TOPPLE.text, "error_units": 4.0, "then_first": 3}
    assert document["own_sites_past_limits"] == [{"name": "Ours", "text": "It is too steep.", "score": None}]
    assert document["hidden_site_count"] == 0
