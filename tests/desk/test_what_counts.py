"""Weights by an emphasis or by answers in pairs, and what may be wished of one site."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sitepick.desk.asking import Asker
from sitepick.desk.field_book import FieldBook
from sitepick.desk.jobs import JobRunner
from sitepick.desk.look import Look
from sitepick.desk.main_window import MainWindow
from sitepick.desk.map_cards import ASK
from sitepick.desk.site_entry import COMPARE, HIDE, PIN
from sitepick.desk.site_wishes import mark_of, name_edit
from sitepick.desk.swing_dialog import TIMES
from sitepick.plan.edits import with_site_mark, with_values, with_weight
from sitepick.plan.emphasis import emphases
from sitepick.plan.model import Plan
from sitepick.sites.model import OwnSite, Topple
from sitepick.sites.swing import swings
from sitepick.tonight import Tonight
from sitepick.work import Watch
from tests.desk.conftest import WAIT_MS, QuickWork


@pytest.fixture
def varied(answer: Tonight) -> Tonight:
    """The answer, its sites unlike each other in two factors."""
    sites = []
    for k, site in enumerate(answer.sites.sites):
        measures = tuple(
            replace(measure, score=0.9 - 0.2 * k, score_high=0.9 - 0.2 * k) if measure.name in ("wind", "water") else
            replace(measure, score=0.5, score_high=0.5)
            for measure in site.measures
        )  # fmt: skip
        sites.append(replace(site, measures=measures))
    topple = Topple(name="pace", text="a pace 12 % slower", error_units=0.6, then_first=2)
    return replace(
        answer, sites=replace(answer.sites, sites=tuple(sites), is_drawn=True, topple=topple, alternate_rank=2)
    )  # fmt: skip


@pytest.fixture
def book(qtbot: QtBot, look: Look, varied: Tonight) -> FieldBook:
    book = FieldBook(look)
    qtbot.addWidget(book)
    book.show_plan(varied.plan)
    book.show_answer(varied)
    book.choose_page(3)
    book.show()
    return book


def edits_of(book: FieldBook) -> list:
    edits: list = []
    book.edit_requested.connect(edits.append)
    return edits


def test_an_emphasis_sets_all_its_weights_at_once(book: FieldBook, varied: Tonight):
    edits = edits_of(book)
    warmth = next(one for one in emphases() if one.key == "warmth")
    book.sites.counts.emphasis_field.setCurrentIndex([one.key for one in emphases()].index("warmth"))
    changed = edits[0].change(varied.plan)
    assert {name: changed.preferences.factor(name).weight for name in warmth.weights} == warmth.weights
    book.show_plan(changed)
    assert book.sites.counts.emphasis_field.currentText() == warmth.label
    book.show_plan(with_weight(changed, "forest", 1.0))
    assert book.sites.counts.emphasis_field.currentText() == "your own weights"
    assert len(edits) == 1


def test_answers_in_pairs_set_the_weights(book: FieldBook, varied: Tonight):
    edits = edits_of(book)
    dialog = book.sites.counts.swing_dialog()
    assert dialog is not None
    first, second = swings(varied.sites.sites)
    dialog.field(second.name).setCurrentIndex([times for times, _ in TIMES].index(2.0))
    dialog._on_accepted()
    changed = edits[0].change(varied.plan).preferences
    counts = {
        swing.name: getattr(changed, swing.name).weight * swing.range_frac for swing in (first, second)
    }  # fmt: skip
    assert counts[second.name] / counts[first.name] == pytest.approx(2.0)


def test_errors_and_the_way_to_the_score_are_edited_in_place(book: FieldBook, varied: Tonight):
    edits = edits_of(book)
    mean, weight, _, _ = (field.field for field in book.sites.counts._fields)
    mean.setCurrentIndex(1)
    weight.setValue(0.4)
    assert edits[0].change(varied.plan).preferences.weighting.mean == "geometric"
    assert edits[1].change(varied.plan).preferences.weighting.weight_error_frac == pytest.approx(0.4)


def test_sites_stand_side_by_side_by_two_clicks(qtbot: QtBot, book: FieldBook):
    page = book.sites
    assert not page.comparing.isVisibleTo(page)
    for entry in page.entries[:2]:
        qtbot.mouseClick(entry.wish_button(COMPARE), Qt.MouseButton.LeftButton)
    assert page.comparing.isVisibleTo(page)
    assert "Site 1" in page.comparing.accessibleDescription()
    assert "Site 2" in page.comparing.accessibleDescription()
    page.entries[0].wish_button(COMPARE).click()
    assert not page.comparing.isVisibleTo(page)


def test_keeping_hiding_and_naming_go_by_the_place(qtbot: QtBot, book: FieldBook, varied: Tonight):
    edits = edits_of(book)
    entry, site, grid = book.sites.entries[1], varied.sites.sites[1], varied.ground.grid
    qtbot.mouseClick(entry.wish_button(PIN), Qt.MouseButton.LeftButton)
    qtbot.mouseClick(entry.wish_button(HIDE), Qt.MouseButton.LeftButton)
    pinned, hidden = (edit.change(varied.plan).site_marks[0] for edit in edits)
    assert pinned.is_pinned
    assert hidden.is_hidden
    assert grid.from_lonlat(*pinned.place) == pytest.approx((site.east_m, site.north_m), abs=0.01)
    marked = with_site_mark(varied.plan, pinned)
    named = name_edit(marked, site, grid, "  The bend ").change(marked)
    assert [(mark.name, mark.is_pinned) for mark in named.site_marks] == [("The bend", True)]
    assert mark_of(named, site, grid).name == "The bend"
    assert mark_of(named, varied.sites.sites[0], grid).says_nothing


def test_how_firm_the_pick_is_and_what_topples_it_is_told(book: FieldBook):
    text = book.sites._firm.text()
    assert "first in 81 of 100 draws" in text
    assert "a pace 12 % slower; site 2 is first then" in text


def test_own_sites_past_a_limit_and_hidden_ones_are_told(book: FieldBook, varied: Tonight):
    failed = OwnSite(name="The steep one", text="100 % of it is steeper than 5.7°.", measures=(), score=41.0)
    told = replace(varied, sites=replace(varied.sites, own_failed=(failed,), hidden_count=2))
    edits = edits_of(book)
    book.show_answer(told)
    texts = [book.sites._own.itemAt(k).widget().text() for k in range(book.sites._own.count())]
    assert texts[0].startswith("The steep one is not listed. 100 % of it is steeper")
    assert "41 of 100" in texts[0]
    assert texts[1] == "Show 2 hidden sites"
    book.sites._own.itemAt(1).widget().click()
    assert edits[0].text == "Show 2 hidden sites"


def test_a_click_on_the_map_makes_a_site_of_ones_own_that_can_be_undone(qtbot: QtBot, window: MainWindow):
    window.map.choose_verb(ASK)
    middle = window.map.rect().center()
    qtbot.mouseClick(window.map, Qt.MouseButton.LeftButton, pos=middle)
    qtbot.waitUntil(window.map._why.isVisible, timeout=WAIT_MS)
    window.map._why.site_wanted.emit()
    (own,) = [area for area in window.history.plan.areas if area.role == "site"]
    assert own.name == "Own site 1"
    window.history.stack.undo()
    assert not [area for area in window.history.plan.areas if area.role == "site"]


class RankingWork(QuickWork):
    """Also ranks at once, and remembers under which plans."""

    def __init__(self, answer: Tonight) -> None:
        super().__init__(answer)
        self.ranked: list[Plan] = []

    def rank_at_once(self, plan: Plan, previous: Tonight, watch: Watch) -> Tonight:
        self.ranked.append(plan)
        return replace(previous, plan=plan)


def test_a_weight_that_moves_is_ranked_before_the_whole_answer(qtbot: QtBot, look: Look, answer: Tonight):
    kept = replace(answer, sites=replace(answer.sites, kept=object()))
    work = RankingWork(kept)
    runner = JobRunner()
    asker = Asker(runner, replace(work.desk_work(), rank_at_once=work.rank_at_once), look.palette)
    told: list[str] = []
    asker.ranked.connect(lambda _: told.append("ranked"))
    asker.answered.connect(lambda _: told.append("answered"))
    with qtbot.waitSignal(asker.answered, timeout=WAIT_MS):
        asker.show_plan(kept.plan)
    told.clear()
    with qtbot.waitSignal(asker.answered, timeout=WAIT_MS):
        asker.show_plan(with_weight(kept.plan, "wind", 3.0))
    assert told == ["ranked", "answered"]
    with qtbot.waitSignal(asker.answered, timeout=WAIT_MS):
        asker.show_plan(with_values(kept.plan, "camp", spacing_m=20.0))
    assert len(work.ranked) == 1
    assert asker.is_fresh
    runner.shutdown()
