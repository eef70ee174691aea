"""The sheet's pages: papers, the camp's own map, legends, cautions at their place, titles of any length."""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest
from pyproj import Geod

from sitepick.camp.model import Facility
from sitepick.caution import Caution
from sitepick.grid import Grid
from sitepick.sheet.camp_plan import CAMP_SCALES, camp_map, lettered_places
from sitepick.sheet.flow import Block, paragraph, set_in_columns
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.legend import ENTRIES, legend_strokes
from sitepick.sheet.map_margin import grid_words
from sitepick.sheet.map_marks import caution_places
from sitepick.sheet.model import Area, Disc, Line, Page, Sheet, Text
from sitepick.sheet.page_frame import MARGIN_MM, paper_named
from sitepick.sheet.palette import read_palette, rgb
from sitepick.sheet.work_block import turns_by_span
from tests.helpers.made_tonight import made_tonight
from tests.helpers.moved import moved_to, watched

LETTERS_300 = {
    "latin": "Wooded slope south-east of the stream with many bends " * 6,
    "one word": "Schneeschuhabteilungsnamensgebungskommission" * 7,
    "cyrillic": "Лесистый склон к юго-востоку от ручья " * 8,
    "arabic": "منحدر مشجر جنوب شرق الجدول " * 11,
    "han": "雪山营地" * 75,
    "devanagari": "धारा के दक्षिण पूर्व में वन ढलान " * 9,
}
PALETTE = read_palette("paper")


def texts(page: Page) -> list[Text]:
    return [stroke for stroke in page.strokes if isinstance(stroke, Text)]


def words(sheet: Sheet) -> str:
    return " ".join(text.text for page in sheet.pages for text in texts(page))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("paper_name", "size_mm"), [("A4", (210.0, 297.0)), ("A3", (297.0, 420.0)), ("Letter", (215.9, 279.4))]
)
@pytest.mark.parametrize("people", [10, 38, 150])
def test_every_paper_holds_every_unit_without_overlap(
    paper_name: str, size_mm: tuple[float, float], people: int
) -> None:
    sheet = lay_out_sheet(watched(made_tonight(people=people)), paper_name=paper_name)
    assert 2 <= len(sheet.pages) <= 4
    for page in sheet.pages:
        assert (page.width_mm, page.height_mm) == size_mm
        assert_tidy(page)


def assert_tidy(page: Page) -> None:
    """No line of text leaves the margins, and none covers another."""
    boxes = [(text.text, text.box_mm) for text in texts(page)]
    for text, (left, top, right, bottom) in boxes:
        assert left >= MARGIN_MM - 0.3, text
        assert right <= page.width_mm - MARGIN_MM + 0.3, text
        assert top >= MARGIN_MM - 1.0, text
        assert bottom <= page.height_mm - MARGIN_MM + 0.3, text
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        overlap_x = min(a[2], b[2]) - max(a[0], b[0])
        overlap_y = min(a[3], b[3]) - max(a[1], b[1])
        assert overlap_x <= 0.3 or overlap_y <= 0.45, (one, other)


def test_larger_paper_gets_larger_maps() -> None:
    answer = made_tonight()
    small, large = lay_out_sheet(answer, paper_name="A4"), lay_out_sheet(answer, paper_name="A3")
    assert large.scale_denominator < small.scale_denominator


def test_the_plans_own_paper_is_taken_when_none_is_asked_for() -> None:
    from sitepick.plan.handout import HandoutSettings

    answer = made_tonight(handout=HandoutSettings(paper="Letter"))
    assert lay_out_sheet(answer).pages[0].width_mm == paper_named("Letter").width_mm
    assert lay_out_sheet(answer, paper_name="A3").pages[0].width_mm == 297.0


def test_the_camps_map_is_true_to_scale() -> None:
    answer = made_tonight()
    page = lay_out_sheet(answer).pages[1]
    assert answer.camp is not None
    scale = next(text.text for text in texts(page) if text.text.startswith("1:"))
    denominator = int(scale[2:].replace(" ", ""))
    assert denominator in CAMP_SCALES
    assert 1000 <= denominator <= 5000
    discs = {
        label.text: (disc.x_mm, disc.y_mm)
        for disc, label in reversed(list(itertools.pairwise(page.strokes)))  # the map's, not the legend's
        if isinstance(disc, Disc) and isinstance(label, Text) and label.text.isdigit() and disc.x_mm > 20.0
    }
    one, other = answer.camp.shelters[0], answer.camp.shelters[-1]
    lon, lat = answer.ground.grid.to_lonlat([one.east_m, other.east_m], [one.north_m, other.north_m])
    _, _, apart_m = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    apart_mm = math.dist(discs["1"], discs[str(len(answer.camp.shelters))])
    assert apart_mm == pytest.approx(1000.0 * apart_m / denominator, abs=0.05)


def test_grid_lines_stand_where_their_numbers_say() -> None:
    answer = made_tonight()
    assert answer.camp is not None
    frame, drawn = camp_map(answer, answer.camp, (15.6, 30.0, 180.0, 150.0), PALETTE)
    shelter = answer.camp.shelters[0]
    x, y = frame.point(shelter.east_m, shelter.north_m)
    upright = sorted(
        stroke.points_mm[0][0] for stroke in drawn.strokes
        if isinstance(stroke, Line) and stroke.width_mm == 0.1 and len(stroke.points_mm) == 2
        and stroke.points_mm[0][0] == stroke.points_mm[1][0]
    )  # fmt: skip
    west = max(line for line in upright if line <= x)
    step_mm = upright[1] - upright[0]
    step_m = step_mm / frame.mm_per_grid_m
    assert step_m == pytest.approx(round(step_m / 50.0) * 50.0, abs=0.05)
    assert (x - west) / frame.mm_per_grid_m == pytest.approx(shelter.east_m % step_m, abs=0.05)
    assert y < frame.box_mm[3]


def test_every_place_of_the_camp_is_on_its_map_and_in_its_table() -> None:
    answer = watched(made_tonight(people=150))
    page = lay_out_sheet(answer).pages[1]
    told = [text.text for text in texts(page)]
    assert answer.camp is not None
    for letter, name, _, _ in lettered_places(answer.camp):
        assert told.count(letter) >= 2, name
    assert answer.camp.security is not None
    for number in range(1, len(answer.camp.security.posts) + 1):
        assert told.count(str(number)) >= 3  # post, shelter and a table


def test_crowded_signs_stand_aside_and_point_to_their_place() -> None:
    answer = watched(made_tonight())
    assert answer.camp is not None
    crowd = tuple(replace(one, east_m=answer.camp.entry_east_m, north_m=answer.camp.entry_north_m + 1.0)
                  for one in answer.camp.facilities)  # fmt: skip
    _, drawn = camp_map(answer, replace(answer.camp, facilities=crowd), (15.6, 30.0, 180.0, 150.0), PALETTE)
    black = [stroke for stroke in drawn.strokes if isinstance(stroke, Area) and stroke.fill == PALETTE.text]
    squares = [area.rings_mm[0] for area in black if len(area.rings_mm[0]) == 4]
    for one, other in itertools.combinations(squares, 2):
        assert abs(one[0][0] - other[0][0]) >= 2.6 or abs(one[0][1] - other[0][1]) >= 2.6


def test_legends_tell_what_is_shown_and_nothing_else() -> None:
    sheet = lay_out_sheet(watched(made_tonight()))
    first, second = (" ".join(text.text for text in texts(page)) for page in sheet.pages[:2])
    assert "avalanche: runout" in first
    assert "post and the sides of its sector" in second
    assert "post and the sides of its sector" not in first
    assert "turn back from here" not in first
    bare = lay_out_sheet(made_tonight(site_count=0))
    assert "tonight's site" not in words(bare)


def test_legend_rows_keep_to_their_room() -> None:
    strokes, high_mm = legend_strokes(ENTRIES, (10.0, 20.0), 120.0, PALETTE)
    for stroke in strokes:
        if isinstance(stroke, Text):
            left, top, right, bottom = stroke.box_mm
            assert left >= 10.0
            assert right <= 130.0 + 0.01
            assert top >= 19.5
            assert bottom <= 20.0 + high_mm + 1.0


def test_cautions_are_numbered_on_the_map_as_in_the_list() -> None:
    answer = made_tonight()
    place = Caution(kind="avalanche", text="Ground that slides 1.2 km from the start: one by one.", place="1.2 km")
    leg = replace(answer.march.legs[0], cautions=(*answer.march.legs[0].cautions, place))
    answer = replace(answer, march=replace(answer.march, legs=(leg, answer.march.legs[1])))
    ((number, distance_m),) = caution_places(answer)
    assert distance_m == 1200.0
    page = lay_out_sheet(answer).pages[0]
    told = [text.text for text in texts(page)]
    assert f"caution {number}" in told
    row = next(text for text in texts(page) if text.text.startswith("Ground that slides"))
    label = next(text for text in texts(page) if text.text == str(number) and abs(text.y_mm - row.y_mm) < 0.1)
    assert 0.0 < row.x_mm - label.x_mm < 7.0


@pytest.mark.slow
@pytest.mark.parametrize("script", LETTERS_300)
def test_a_title_of_300_letters_wraps_and_loses_nothing(script: str) -> None:
    title = " ".join(LETTERS_300[script].split())[:300]
    answer = made_tonight()
    pick = replace(answer.sites.sites[0], name=title)
    sites = replace(answer.sites, sites=(pick, *answer.sites.sites[1:]))
    assert answer.camp is not None
    answer = replace(answer, sites=sites, camp=replace(answer.camp, site_name=title))
    sheet = lay_out_sheet(answer)
    for page in sheet.pages:
        assert_tidy(page)
    head = [text.text for text in texts(sheet.pages[0]) if text.is_bold and text.y_mm < 80.0]
    told = "".join(head).replace(" ", "").replace("\u200e", "")
    assert title.replace(" ", "") in told


def test_a_long_note_of_the_plan_stands_whole_among_the_words() -> None:
    note = "Ask the herders first. " * 40
    sheet = lay_out_sheet(replace(made_tonight(), plan=replace(made_tonight().plan, note=note)))
    assert words(sheet).count("Ask the herders") >= 39
    assert "The plan's note" in words(sheet)


def test_route_hazards_and_cautions_print_black() -> None:
    # Rust vanishes under red light and in grey, so none of it stands on paper.
    for page in lay_out_sheet(watched(made_tonight())).pages:
        for stroke in page.strokes:
            colours = {
                Line: lambda one: (one.colour,), Area: lambda one: (one.fill,), Text: lambda one: (one.colour,),
                Disc: lambda one: (one.fill, one.edge),
            }.get(type(stroke), lambda one: ())(stroke)  # fmt: skip
            for colour in colours:
                red, green, blue = rgb(colour)
                assert red <= max(green, blue) + 16, colour
    assert PALETTE.intent == PALETTE.caution_bar == "#000000"


def test_turns_of_the_same_hours_share_a_line() -> None:
    camp = watched(made_tonight()).camp
    assert camp is not None
    assert camp.work is not None
    told = turns_by_span(camp.work.turns)
    assert [span for span, _ in told] == ["20:00 – 21:00", "21:00 – 22:00", "22:00 – 23:00"]
    assert told[0][1].count("Post") == 2


def test_words_without_room_come_back_with_a_title_of_their_own() -> None:
    rows = tuple(paragraph(f"Row {index}", 60.0, "#000000") for index in range(30))
    block = Block(title="Rows", rows=rows, titles_from=tuple(f"Rows from {index}" for index in range(30)))
    columns = paper_named("A4").columns(0, 255.0)
    strokes, rest = set_in_columns((block,), columns, 60.0, PALETTE)
    told = [stroke.text for stroke in strokes[0] if isinstance(stroke, Text)]
    assert [text for text in told if text == "Rows"] == ["Rows"]
    shown = len([text for text in told if text.startswith("Row ")])
    assert rest[0].title == f"Rows from {shown}"
    assert len(rest[0].rows) == 30 - shown


@pytest.mark.parametrize(
    ("crs", "told"),
    [("EPSG:32634", "UTM zone 34 north (EPSG:32634)"), ("EPSG:32733", "UTM zone 33 south (EPSG:32733)"),
     ("EPSG:5041", "UPS north (EPSG:5041)")],
)  # fmt: skip
def test_projections_are_told_as_people_know_them(crs: str, told: str) -> None:
    assert grid_words(crs) == told


@pytest.mark.slow
@pytest.mark.parametrize(
    ("crs", "west_m", "north_m"),
    [
        ("EPSG:32634", 744_000.0, 7_480_000.0),  # across the zone's east edge
        ("EPSG:5041", 2_300_000.0, 1_480_000.0),  # past 84 N
        ("EPSG:32660", 634_000.0, 7_200_000.0),  # across 180
    ],
)
def test_a_sheet_at_the_edges_of_the_grids(crs: str, west_m: float, north_m: float) -> None:
    answer = moved_to(watched(made_tonight()), Grid(crs=crs, west_m=west_m, north_m=north_m, cell_m=10.0, rows=160,
                                                    cols=320))  # fmt: skip
    sheet = lay_out_sheet(answer)
    for page in sheet.pages:
        assert_tidy(page)
    assert grid_words(crs) in words(sheet)


def test_far_water_stands_at_the_rim_where_shelters_would_crowd_and_tells_its_way() -> None:
    answer = made_tonight()
    assert answer.camp is not None
    one = answer.camp.shelters[0]
    water = Facility(
        kind="drinking_water", name="Drinking water", east_m=one.east_m, north_m=one.north_m + 3000.0, reason=""
    )
    camp = replace(answer.camp, facilities=(water,))
    box_mm = (15.6, 30.0, 180.0, 150.0)
    frame, drawn = camp_map(answer, camp, box_mm, PALETTE)
    bare, _ = camp_map(answer, replace(camp, facilities=()), box_mm, PALETTE)
    assert frame.scale_denominator == bare.scale_denominator
    told = next(stroke for stroke in drawn.strokes if isinstance(stroke, Text) and "drinking water" in stroke.text)
    nearest = min(
        (math.dist((water.east_m, water.north_m), (shelter.east_m, shelter.north_m)), number)
        for number, shelter in enumerate(camp.shelters, start=1)
    )
    away_m = float(told.text.removeprefix("drinking water: ").split(" m at ")[0])
    assert away_m == pytest.approx(nearest[0] / 0.9996, abs=7.0)  # to the next ten, by the zone's scale
    assert told.text.endswith(f"from shelter {nearest[1]}")
    left, top, right, bottom = told.box_mm
    assert frame.x_mm < left < right < frame.x_mm + frame.width_mm
    assert frame.y_mm < top < bottom < frame.y_mm + 15.0
    near = replace(water, north_m=one.north_m + 150.0)
    _, shown = camp_map(answer, replace(camp, facilities=(near,)), box_mm, PALETTE)
    names = [stroke.text for stroke in shown.strokes if isinstance(stroke, Text)]
    assert "drinking water" in names
