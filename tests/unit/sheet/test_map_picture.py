"""One map by itself: its scale, its size, what it refuses."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from sitepick.errors import SheetError
from sitepick.sheet.map_picture import map_picture
from sitepick.sheet.map_scales import PICTURE_SCALES
from sitepick.sheet.model import Line, Sheet, Text
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight()


@pytest.mark.slow
@pytest.mark.parametrize(("name", "scale"), [("way", 10_000), ("way", 25_000), ("camp", 1000), ("camp", 2000)])
def test_grid_lines_lie_as_far_apart_as_scale_and_numbers_say(answer: Tonight, name: str, scale: int) -> None:
    sheet = map_picture(answer, name, scale)  # type: ignore[arg-type]
    told = next(text.text for text in texts(sheet) if text.text.startswith("1:"))
    assert int(told[2:].replace(" ", "")) == sheet.scale_denominator == scale
    across = sorted({line.points_mm[0][0] for line in sheet.pages[0].strokes if is_upright(line)})[1:-1]
    step_m = next(int(text.text.split()[2]) for text in texts(sheet) if text.text.startswith("Grid every"))
    grid = answer.ground.grid
    step_mm = step_m * 1000.0 / scale / grid.point_scale(*grid.centre_m)
    assert len(across) >= 2
    for one, other in pairwise(across):
        assert other - one == pytest.approx(step_mm, abs=0.05)


def is_upright(stroke: object) -> bool:
    """A line from edge to edge of the map."""
    if not isinstance(stroke, Line) or len(stroke.points_mm) != 2:
        return isinstance(stroke, Line) and stroke.width_mm == 0.3 and len(stroke.points_mm) == 5
    (x, top), (other_x, bottom) = stroke.points_mm
    return x == other_x and abs(bottom - top) > 59.0


def texts(sheet: Sheet) -> list[Text]:
    return [stroke for stroke in sheet.pages[0].strokes if isinstance(stroke, Text)]


@pytest.mark.slow
def test_nothing_leaves_the_page_at_any_scale(answer: Tonight) -> None:
    for name, scales in PICTURE_SCALES.items():
        for scale in scales:
            page = map_picture(answer, name, scale).pages[0]  # type: ignore[arg-type]
            for text in (stroke for stroke in page.strokes if isinstance(stroke, Text)):
                left, top, right, bottom = text.box_mm
                assert 0.0 <= left < right <= page.width_mm, (name, scale, text.text)
                assert 0.0 <= top < bottom <= page.height_mm, (name, scale, text.text)


def test_a_map_of_three_metres_is_refused(answer: Tonight) -> None:
    with pytest.raises(SheetError, match="m wide") as told:
        map_picture(answer, "way", 800)
    assert told.value.fix == "choose a smaller scale"


def test_without_a_camp_the_way_alone_can_be_drawn() -> None:
    answer = made_tonight(site_count=0)
    with pytest.raises(SheetError, match="no site was found"):
        map_picture(answer, "camp", 1000)
    assert map_picture(answer, "way", 25_000).pages


def test_the_picture_tells_whose_plan_it_is(answer: Tonight) -> None:
    sheet = map_picture(replace(answer), "way", 25_000)
    assert answer.plan.name in sheet.title
    assert any(answer.plan.name in text.text for text in texts(sheet))
