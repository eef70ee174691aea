"""The desk in another language: one made of the same words in other letters, so that English that is left shows."""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from datetime import time
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PySide6.QtCore import QTranslator
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QDoubleSpinBox,
    QLabel,
    QLineEdit,
    QListWidget,
    QMenu,
    QPlainTextEdit,
    QTableWidget,
    QWidget,
)

from sitepick.desk.edit import PlanEdit
from sitepick.desk.field_book import PAGE_NAMES
from sitepick.desk.help_window import HelpWindow
from sitepick.desk.main_window import MainWindow
from sitepick.desk.route_menu import TURN, place_entries, point_entries
from sitepick.desk.sentence import Sentence
from sitepick.desk.translation import counted, install_translation, tr
from sitepick.desk.words import all_cautions, answer_on_top, begun, handed_out_sentence, measure_text
from sitepick.plan.delay import Delay
from sitepick.plan.edits import with_delays, with_values
from sitepick.plan.exercise_edits import with_marks_added
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.mark import Mark
from sitepick.plan.pitching import pitching_words
from sitepick.plan.shelter_edits import with_own_kind_added
from sitepick.tonight import Tonight
from tests.helpers.texts import TEMPLATE

PLAIN = "abcdefghijklmnopqrstuvwxyz"
OTHER = "αбγдεжγнїјклмнопфрстуνωхуз"
LETTERS = str.maketrans(PLAIN + PLAIN.upper(), OTHER + OTHER.upper())
NOT_TRANSLATED = {"sitepick", "Ctrl", "Letter", "GeoJSON", "GeoTIFF", "PNG", "PDF", "km", "min", "ha", "kg", "cm"}
QT_OWN = {"Nach links scrollen", "Nach rechts scrollen"}  # from Qt's own translation, which comes along
RELEASE = shutil.which("pyside6-lrelease", path=Path(sys.executable).parent)


def in_other_letters(text: str) -> str:
    """A text in the made language; what stands in braces stays."""
    return "".join(
        part if part.startswith("{") else part.translate(LETTERS) for part in re.split(r"(\{\w*.*?\})", text)
    )


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the made language, built by Qt's own tool."""
    assert RELEASE is not None, "pyside6-lrelease comes with PySide6 and is not beside Python"
    folder = tmp_path_factory.mktemp("translations")
    path = folder / "sitepick_de.ts"
    root = ElementTree.parse(TEMPLATE).getroot()  # a rule holds it to the code
    root.set("language", "de")
    for message in root.iter("message"):
        found = message.find("translation")
        assert found is not None
        del found.attrib["type"]
        text = in_other_letters(message.findtext("source", ""))
        if message.get("numerus"):
            for number in ("ι", "ω"):
                ElementTree.SubElement(found, "numerusform").text = f"{text} {number}"
        else:
            found.text = text
    path.write_text(ElementTree.tostring(root, encoding="unicode"), encoding="utf-8")
    done = subprocess.run([str(RELEASE), str(path)], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    assert f"{len(list(root.iter('message')))} finished and 0 unfinished" in done.stdout
    return folder


@pytest.fixture
def other_letters(folder: Path, qapp: QApplication) -> Iterator[None]:
    """The application speaks the made language for one test."""
    assert install_translation(qapp, ["fr-FR", "de-AT"], own_folder=folder) == "de-AT"
    yield
    for translator in qapp.findChildren(QTranslator):
        qapp.removeTranslator(translator)
        translator.deleteLater()


def texts_of(widget: QWidget) -> Iterator[str]:
    """What a widget shows and tells, besides what a person typed in."""
    yield from (widget.toolTip(), widget.accessibleName(), widget.accessibleDescription(), widget.windowTitle())
    if isinstance(widget, QAbstractButton | QLabel):
        yield widget.text()
    if isinstance(widget, QLineEdit | QPlainTextEdit):
        yield widget.placeholderText()
    if isinstance(widget, QAbstractSpinBox):
        yield widget.specialValueText()
    if isinstance(widget, QDoubleSpinBox):
        yield widget.suffix()
    if isinstance(widget, QComboBox):
        yield from (widget.itemText(index) for index in range(widget.count()))
    if isinstance(widget, Sentence):
        yield widget.text
    if isinstance(widget, QMenu):
        yield widget.title()
        for action in widget.actions():
            yield from (action.text(), action.statusTip())
    if isinstance(widget, QListWidget):
        yield from (widget.item(row).text() for row in range(widget.count()))
    if isinstance(widget, QTableWidget):
        heads = (widget.horizontalHeaderItem(col) for col in range(widget.columnCount()))
        yield from (head.text() for head in heads if head is not None)


def texts_below(answer: Tonight) -> list[str]:
    """What stays as it is: names that the user gave, and the sentences that stages put together, which are English."""
    plan, sites = answer.plan, answer.sites.sites
    shelters, legs, ground = plan.unit.shelters, answer.march.legs, answer.ground
    measures = [measure for site in sites for measure in site.measures]
    texts = [
        plan.name,
        plan.route.name,
        str(plan.ground.legend),
        pitching_words(plan),
        *answer_on_top(answer),
        *(caution.text for caution in all_cautions(answer)),
        *(route.name for route in plan.alternatives),
        *(words.source for words in FACTOR_WORDS.values()),
        *(name for shelter in shelters for name in (shelter.name, shelter.section)),
        *(item.name for item in plan.load.kit),
        *(path.name for path in (*plan.ground.elevation, *plan.ground.cover)),
        *(text for site in sites for text in (site.name, site.reason, *(one.text for one in site.cautions))),
        *(text for leg in legs for text in (leg.start_name, leg.end_name, *(one.text for one in leg.cautions))),
        *(text for one in measures for text in (one.sentence, measure_text(one), one.label, begun(one.label))),
        *(f"{fact.role.capitalize()}: {Path(fact.path).name}. {fact.text}" for fact in ground.files),
    ]
    return sorted((text for text in texts if text), key=len, reverse=True)


def english_left(window: MainWindow, answer: Tonight) -> dict[str, str]:
    """Texts in which a word in plain letters is left that no stage and no user put there, with the widget's class."""
    below = re.compile("|".join(re.escape(text) for text in texts_below(answer)))
    left = {}
    for widget in (window, *window.findChildren(QWidget)):
        for text in texts_of(widget):
            if text not in QT_OWN and set(re.findall(r"[A-Za-z]{2,}", below.sub("", text))) - NOT_TRANSLATED:
                left[text] = type(widget).__name__
    return left


def test_no_english_is_left_in_the_window(other_letters: None, window: MainWindow, answer: Tonight):
    for index in range(len(PAGE_NAMES)):
        window.field_book.choose_page(index)
        QApplication.processEvents()  # lists make their rows once they are seen
    for change in (
        lambda plan: with_delays(plan, (Delay(minutes=10.0, at_km=1.0), Delay(minutes=10.0, at=time(12, 0)))),
        lambda plan: with_marks_added(plan, (Mark(kind="danger", shape="point", points=plan.route.points[:1]),)),
        lambda plan: with_own_kind_added(plan, label="7"),
        lambda plan: with_values(
            plan, "weather", wind_from_deg=None, wind_kmh=None, wind_rose=((0.0, 0.5, 9.0), (90.0, 0.5, 9.0))
        ),
    ):
        window.apply(PlanEdit(text="", change=change))
    window.guide.start()
    HelpWindow(window.menus.shortcuts(), window)
    assert not english_left(window, answer)

    said = {text for widget in window.findChildren(QWidget) for text in texts_of(widget)}
    for text in (
        *("&File", "&Open plan …", "Sites", "Camp page", "Work out the journey", "Add a delay at a place"),
        *("At most days, each of , nights chosen for .", "spacing", "with a loaded sled", "not known"),
        *("Drag the map, choose a site (M)", "Ranked sites", "End the tour", "The whole manual"),
    ):
        assert any(in_other_letters(text) in one for one in said), text
    assert said >= QT_OWN

    window.apply(PlanEdit(text=TURN.text, change=TURN.change))
    assert window.history.stack.undoText() == in_other_letters("Turn the route round")
    window.notices.show_text(handed_out_sentence([Path("/x/sheet.pdf")]))
    assert window.notices.text == in_other_letters("Handout written to {folder}: {files}.").format(
        folder=Path("/x"), files="sheet.pdf"
    )


def test_menus_of_the_map_speak_the_other_language(other_letters: None, answer: Tonight):
    route = answer.plan.route
    entries = [
        *point_entries(route, 1),
        *place_entries(route, 1, route.points[0]),
        *place_entries(route, None, (0.0, 0.0)),
    ]
    left = [text for text, _ in entries if re.search(r"[A-Za-z]", text)]
    assert entries
    assert not left


def test_places_and_counts_are_filled_in(other_letters: None):
    assert [counted(count, "hidden site") for count in (1, 2)] == [
        f"{in_other_letters(f'{count} hidden sites')} {form}" for count, form in ((1, "ι"), (2, "ω"))
    ]
    assert tr("Remove {name}", name="Hill {7}") == f"{in_other_letters('Remove')} Hill {{7}}"


@pytest.mark.parametrize("languages", [["fr-FR", "fr"], ["en-GB", "de-AT"], []])
def test_without_a_translation_or_with_english_first_everything_is_english(
    folder: Path, qapp: QApplication, languages: list[str]
):
    assert install_translation(qapp, languages, own_folder=folder) == ""
    assert tr("Sites") == "Sites"
    assert counted(2, "place holds", "places hold") == "2 places hold"


def test_a_translation_that_spoils_a_place_gives_way_to_english(qapp: QApplication):
    class Spoilt(QTranslator):
        def translate(self, context: str, source: str, disambiguation: str | None = None, n: int = -1) -> str:
            return "{nmae} {"

        def isEmpty(self) -> bool:
            return False

    spoilt = Spoilt(qapp)
    qapp.installTranslator(spoilt)
    try:
        assert tr("Remove {name}", name="Hill") == "Remove Hill"
    finally:
        qapp.removeTranslator(spoilt)


def test_a_sentence_takes_its_fields_in_the_order_of_the_language(qapp: QApplication):
    first, second, third = (QLabel(text) for text in "abc")
    for label, name in ((first, "one"), (second, "two"), (third, "three")):
        label.setAccessibleName(name)
    sentence = Sentence("Von {1}, nach {0}.", first, second, third)
    assert sentence.accessibleName() == "Von two, nach one. three"
    assert sentence.text == "Von , nach ."
