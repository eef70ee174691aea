"""Pictures of the layers tell in their legends what their colours mean."""

from __future__ import annotations

import numpy as np
import pytest

from sitepick.sheet.layer_look import look_at, ramp_colour
from sitepick.sheet.layer_sheet import layer_sheet
from sitepick.sheet.model import Picture, Text
from sitepick.sheet.palette import read_palette, rgb
from tests.helpers.made import LAKE, OPEN, SPRUCE, made_relief, make_ground

PALETTE = read_palette("day")


def look(values, *, name="roughness_m", unit="m", ground=None):
    values = np.asarray(values)
    return look_at(name, values, unit, ground or make_ground(np.zeros(values.shape)), PALETTE)


def texts_of(sheet):
    return [stroke.text for stroke in sheet.pages[0].strokes if isinstance(stroke, Text)]


def test_values_run_from_dark_to_light():
    seen = look(np.linspace(0.0, 100.0, 400, dtype=np.float32).reshape(20, 20))
    lightness = seen.picture.astype(float).mean(axis=-1).ravel()
    assert lightness[0] < lightness[-1]
    assert tuple(seen.picture[0, 0]) == rgb(PALETTE.grade_good)
    assert tuple(seen.picture[-1, -1]) == rgb(PALETTE.grade_poor)
    assert ramp_colour(0.5, PALETTE) == rgb(PALETTE.grade_middle)


def test_marks_are_round_and_hold_nearly_all_values():
    seen = look(np.linspace(3.0, 97.0, 400, dtype=np.float32).reshape(20, 20))
    assert seen.ramp.marks == (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
    assert not seen.ramp.has_lower
    assert not seen.ramp.has_higher


def test_a_few_far_values_do_not_flatten_the_picture_and_the_legend_says_so():
    values = np.linspace(0.0, 10.0, 400, dtype=np.float32).reshape(20, 20)
    values[0, 0] = 5000.0
    ramp = look(values).ramp
    assert ramp.marks[-1] <= 20.0
    assert ramp.has_higher


@pytest.mark.parametrize(
    ("name", "unit", "ends"),
    [("slope_deg", "degree", (0.0, 40.0)), ("wind_share", "1", (0.0, 1.5)), ("cold_pool_frac", "1", (0.0, 1.0)),
     ("aspect_deg", "degree", (0.0, 360.0))],
)  # fmt: skip
def test_some_ramps_are_the_same_on_every_map(name, unit, ends):
    marks = look(np.full((5, 5), 0.3, np.float32), name=name, unit=unit).ramp.marks
    assert (marks[0], marks[-1]) == ends


def test_small_shares_are_spread_over_the_whole_ramp():
    seen = look(np.linspace(0.0, 0.19, 400, dtype=np.float32).reshape(20, 20), name="seen_share", unit="1")
    assert seen.ramp.marks[-1] == pytest.approx(0.2)


def test_bearings_end_in_the_colour_they_begin_with_and_east_differs_from_west():
    bearings = np.array([[0.0, 360.0, 90.0, 270.0, 180.0]] * 3, np.float32)
    seen = look(bearings, name="aspect_deg", unit="degree")
    north, again, east, west, south = (tuple(band) for band in seen.picture[0].tolist())
    assert seen.ramp.is_turning
    assert north == again
    assert len({north, east, south, west}) == 4


@pytest.mark.parametrize("value", [0.0, -3.7, 812.25])
def test_one_value_everywhere_has_a_ramp_all_the_same(value):
    marks = look(np.full((5, 5), value, np.float32)).ramp.marks
    assert marks[0] <= value <= marks[-1]
    assert marks[0] < marks[-1]


def test_ground_that_is_not_known_has_a_tint_and_a_word_of_its_own():
    values = np.ones((5, 5), np.float32)
    values[2, 2] = np.nan
    seen = look(values)
    assert tuple(seen.picture[2, 2]) == rgb(PALETTE.unknown)
    assert seen.swatches == ((PALETTE.unknown, "not known"),)
    assert look(np.ones((5, 5), np.float32)).swatches == ()
    nothing = look(np.full((5, 5), np.nan, np.float32))
    assert (nothing.picture == rgb(PALETTE.unknown)).all()


def test_kinds_of_cover_are_named_where_they_are_there():
    cover = np.full((6, 6), OPEN)
    cover[:2], cover[4:] = SPRUCE, LAKE
    cover[5, 5] = -1
    ground = make_ground(np.zeros((6, 6)), cover)
    seen = look(cover.astype(np.int16), name="cover_code", unit="", ground=ground)
    assert [words for _, words in seen.swatches] == ["open ground", "dense spruce", "lake", "not known"]
    assert seen.ramp is None
    colours = {words: colour for colour, words in seen.swatches}
    assert tuple(seen.picture[0, 0]) == rgb(colours["dense spruce"])


def test_yes_and_no_are_told():
    mask = np.eye(4, dtype=np.uint8)
    assert [words for _, words in look(mask, name="is_wet", unit="").swatches] == ["no", "yes"]


def test_a_page_holds_title_picture_numbers_and_where_it_is():
    ground = make_ground(made_relief(50, 80))
    sheet = layer_sheet("elevation_m", ground.elevation_m, ("m", "height above sea level"), ground, PALETTE)
    told = texts_of(sheet)
    assert told[0] == "Height above sea level"
    assert {"m", "0", "100"} <= {text.split(" and ")[0] for text in told}
    assert told[-1].startswith("Grid north is up. 0.8 km across and 0.5 km down, cells of 10 m")


def test_large_numbers_are_written_out():
    areas = np.linspace(0.0, 1_000_000.0, 100, dtype=np.float32).reshape(10, 10)
    sheet = layer_sheet("avalanche_area_m2", areas, ("m²", "area"), make_ground(np.zeros((10, 10))), PALETTE)
    assert {"800\N{NO-BREAK SPACE}000", "0"} <= set(texts_of(sheet))


def test_a_mask_is_titled_by_what_it_marks():
    ground = make_ground(np.zeros((9, 9)))
    sheet = layer_sheet("is_wet", np.zeros((9, 9), np.uint8), ("", "1 on bog and marsh"), ground, PALETTE)
    assert sheet.title == "Bog and marsh"


@pytest.mark.parametrize(
    ("shape", "pixels"), [((50, 80), (350, 560)), ((700, 900), (700, 900)), ((10, 5000), (4, 1667))]
)
def test_small_windows_are_drawn_larger_and_large_ones_thinned(shape, pixels):
    ground = make_ground(np.zeros(shape))
    sheet = layer_sheet("roughness_m", np.zeros(shape, np.float32), ("m", "steps"), ground, PALETTE)
    picture = next(stroke for stroke in sheet.pages[0].strokes if isinstance(stroke, Picture))
    assert picture.pixels.shape[:2] == pixels
    assert picture.width_mm == pytest.approx(pixels[1] * 0.1)
    assert sheet.pages[0].width_mm > picture.width_mm + 50.0


def test_every_stroke_lies_on_the_page():
    ground = make_ground(made_relief(30, 30))
    page = layer_sheet("roughness_m", made_relief(30, 30), ("m", "steps " * 40), ground, PALETTE).pages[0]
    for stroke in page.strokes:
        if isinstance(stroke, Text):
            left, top, right, bottom = stroke.box_mm
            assert left >= 0.0
            assert top >= 0.0
            assert right <= page.width_mm
            assert bottom <= page.height_mm
