"""The sheet as it looks."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from PySide6.QtGui import QImage

from sitepick.paint.pdf import page_image
from sitepick.sheet.camp_plan import camp_map
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Page
from sitepick.sheet.palette import read_palette
from tests.helpers.made_tonight import made_tonight

Compare = Callable[[str, QImage], None]


def test_camp_plan_looks_as_it_did(qapp: Any, same_as_golden: Compare) -> None:
    answer = made_tonight()
    assert answer.camp is not None
    _, drawn = camp_map(answer, answer.camp, (2.0, 2.0, 60.0, 72.0), read_palette("paper"))
    page = Page(width_mm=64.0, height_mm=76.0, strokes=drawn.strokes)
    same_as_golden("camp_plan", page_image(page, 130.0))


def test_first_page_looks_as_it_did(qapp: Any, same_as_golden: Compare) -> None:
    sheet = lay_out_sheet(made_tonight(people=150))
    same_as_golden("first_page", page_image(sheet.pages[0], 34.0))


def test_page_without_a_site_looks_as_it_did(qapp: Any, same_as_golden: Compare) -> None:
    sheet = lay_out_sheet(made_tonight(site_count=0))
    same_as_golden("no_site_page", page_image(sheet.pages[0], 34.0))
