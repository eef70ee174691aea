"""The ground as a paper map: tints, light, contours, colours."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.sheet.palette import PALETTE_NAMES, contrast, mixed, read_palette, rgb
from sitepick.sheet.relief import contour_interval_m, contour_lines, ground_picture
from tests.helpers.made import LAKE, OPEN, SPRUCE, make_ground, make_terrain

DAY = read_palette("day")


@pytest.mark.parametrize("name", PALETTE_NAMES)
def test_text_stands_out_on_paper_and_page(name: str) -> None:
    palette = read_palette(name)
    for ink in (palette.text, palette.soft_text, palette.faint_text, palette.link):
        for ground in (palette.paper, palette.page):
            assert contrast(ink, ground) >= 4.5
    assert contrast(palette.text, palette.caution_back) >= 4.5
    assert contrast(palette.text, palette.tab) >= 4.5


def test_contrast_of_black_on_white_is_21() -> None:
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21.0)  # WCAG 2.1, from memory
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.01)


def test_route_and_hazards_print_black() -> None:
    assert read_palette("paper").intent == "#000000"
    assert read_palette("paper").text == "#000000"


def test_mixing_nothing_leaves_the_ground() -> None:
    assert mixed("#123456", "#ABCDEF", 0.0) == "#ABCDEF"
    assert mixed("#123456", "#ABCDEF", 1.0) == "#123456"


def test_level_ground_has_the_tint_of_its_cover() -> None:
    ground = make_ground(np.zeros((8, 8)), np.where(np.arange(8) < 4, OPEN, LAKE) * np.ones((8, 1), dtype=int))
    picture = ground_picture(ground, make_terrain(ground), DAY)
    assert picture.shape == (8, 8, 3)
    assert tuple(picture[4, 0]) == rgb(DAY.snow)
    assert tuple(picture[4, 7]) == rgb(DAY.water)


def test_light_comes_from_the_north_west() -> None:
    rows, cols = np.indices((20, 20))
    faces_north_west = make_ground((rows + cols) * 3.0, SPRUCE)  # rises to the south-east
    faces_south_east = make_ground(-(rows + cols) * 3.0, SPRUCE)
    lit = ground_picture(faces_north_west, make_terrain(faces_north_west), DAY)
    shaded = ground_picture(faces_south_east, make_terrain(faces_south_east), DAY)
    assert lit.mean() > shaded.mean() + 20


def test_unknown_ground_is_hatched_and_nothing_else() -> None:
    heights = np.zeros((24, 24))
    heights[:12] = np.nan
    ground = make_ground(heights)
    picture = ground_picture(ground, make_terrain(ground), DAY)
    hatch = (picture == rgb(DAY.hatch)).all(axis=-1)
    assert hatch[:12].any()
    assert not hatch[12:].any()
    assert (picture[:12][~hatch[:12]] == rgb(DAY.unknown)).all()


def test_contours_of_a_ramp_are_straight_and_evenly_apart() -> None:
    ground = make_ground(np.tile(np.arange(50.0), (10, 1)))  # rises 1 m a cell to the east
    lines = contour_lines(ground, 10.0)
    assert [line.height_m for line in lines] == [10.0, 20.0, 30.0, 40.0]
    east = [float(line.points_m[:, 0].mean()) for line in lines]
    assert np.diff(east) == pytest.approx([100.0, 100.0, 100.0])
    assert all(np.ptp(line.points_m[:, 0]) == pytest.approx(0.0, abs=1e-6) for line in lines)
    assert [line.is_fifth for line in contour_lines(ground, 2.0)][:5] == [False, False, False, False, True]


def test_no_contour_crosses_a_gap() -> None:
    heights = np.tile(np.arange(50.0), (20, 1))
    heights[8:12] = np.nan
    ground = make_ground(heights)
    for line in contour_lines(ground, 10.0):
        rows = (ground.grid.north_m - line.points_m[:, 1]) / ground.grid.cell_m - 0.5
        assert (rows <= 7.01).all() or (rows >= 11.99).all()


def test_ground_of_one_row_or_nothing_known_has_no_contours() -> None:
    assert contour_lines(make_ground(np.zeros((1, 9))), 10.0) == ()
    assert contour_lines(make_ground(np.full((9, 9), np.nan)), 10.0) == ()


def test_interval_is_round_and_follows_the_relief() -> None:
    assert contour_interval_m(make_ground(np.linspace(0, 24, 100).reshape(10, 10))) == 1.0
    assert contour_interval_m(make_ground(np.linspace(0, 240, 100).reshape(10, 10))) == 10.0
    assert contour_interval_m(make_ground(np.full((9, 9), np.nan))) == 1.0
