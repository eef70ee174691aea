"""The sheet as data: true to scale, everything in its box, nothing lost."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from pyproj import Geod

from sitepick.sheet.layout import MAP_SCALES, MARGIN_MM, lay_out_sheet
from sitepick.sheet.model import Area, Disc, Line, Picture, Sheet, Stroke, Text
from sitepick.sheet.typeface import shortened, text_line, typeface, width_mm, wrapped
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight

LONG = "von der Schneeschuhabteilungsnamensgebungskommission der Αθήνα и Якутска 雪山 خيمة"


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight()


@pytest.fixture(scope="module")
def sheet(answer: Tonight) -> Sheet:
    return lay_out_sheet(answer)


def texts(sheet: Sheet) -> list[str]:
    return [stroke.text for page in sheet.pages for stroke in page.strokes if isinstance(stroke, Text)]


def test_a_kilometre_on_the_ground_has_its_length_on_the_map(answer: Tonight, sheet: Sheet) -> None:
    grid = answer.ground.grid
    discs = rank_discs(sheet)
    one, other = answer.sites.sites[0], answer.sites.sites[1]
    lon, lat = grid.to_lonlat([one.east_m, other.east_m], [one.north_m, other.north_m])
    _, _, apart_m = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    apart_mm = math.dist(discs["1"], discs["2"])
    kilometre_mm = apart_mm / apart_m * 1000.0
    assert kilometre_mm == pytest.approx(1_000_000.0 / sheet.scale_denominator, abs=0.2)


def test_scale_is_round_and_told(sheet: Sheet) -> None:
    assert sheet.scale_denominator in MAP_SCALES
    assert f"1:{sheet.scale_denominator:,}".replace(",", " ") in texts(sheet)


def test_check_bar_is_100_mm(sheet: Sheet) -> None:
    label = next(s for s in sheet.pages[0].strokes if isinstance(s, Text) and s.text.startswith("100 mm"))
    bars = [
        line for line in sheet.pages[0].strokes
        if isinstance(line, Line) and len(line.points_mm) == 2 and 0.0 < line.points_mm[0][1] - label.y_mm < 2.0
        and line.points_mm[0][1] == line.points_mm[1][1]
    ]  # fmt: skip
    assert [line.points_mm[1][0] - line.points_mm[0][0] for line in bars] == [pytest.approx(100.0)]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("people", "site_count", "name"),
    [(10, 3, ""), (38, 3, ""), (150, 3, ""), (38, 0, ""), (38, 1, ""), (38, 3, LONG), (150, 3, LONG)],
)
def test_nothing_leaves_the_page_and_no_line_of_text_covers_another(people: int, site_count: int, name: str) -> None:
    sheet = lay_out_sheet(made_tonight(people=people, site_count=site_count, name=name))
    for page in sheet.pages:
        for stroke in page.strokes:
            for x, y in extent(stroke):
                assert MARGIN_MM - 7.0 <= x <= page.width_mm - MARGIN_MM + 0.6
                assert MARGIN_MM - 3.0 <= y <= page.height_mm - MARGIN_MM + 0.6
        boxes = [(stroke.text, stroke.box_mm) for stroke in page.strokes if isinstance(stroke, Text)]
        for index, (one, a) in enumerate(boxes):
            for other, b in boxes[index + 1 :]:
                overlap_x = min(a[2], b[2]) - max(a[0], b[0])
                overlap_y = min(a[3], b[3]) - max(a[1], b[1])
                assert overlap_x <= 0.3 or overlap_y <= 0.45, (one, other)


def test_every_shelter_stands_in_the_table_and_on_the_plan() -> None:
    answer = made_tonight(people=150)
    told = texts(lay_out_sheet(answer))
    assert answer.camp is not None
    for number, placed in enumerate(answer.camp.shelters, start=1):
        assert told.count(str(number)) >= 2
        assert any(text.startswith(placed.shelter.section.split()[0]) for text in told)


def test_doors_look_where_the_table_says(answer: Tonight, sheet: Sheet) -> None:
    strokes = sheet.pages[1].strokes
    assert answer.camp is not None
    for number, placed in enumerate(answer.camp.shelters, start=1):
        index = next(
            i for i, (disc, label) in enumerate(pairwise(strokes))
            if isinstance(disc, Disc) and disc.radius_mm < 1.7 and isinstance(label, Text) and label.text == str(number)
        )  # fmt: skip
        disc, door = strokes[index], strokes[index - 1]
        assert isinstance(disc, Disc)
        assert isinstance(door, Line)
        out_x, out_y = door.points_mm[1][0] - disc.x_mm, door.points_mm[1][1] - disc.y_mm
        grid_bearing = math.degrees(math.atan2(out_x, -out_y)) % 360.0
        convergence = answer.ground.grid.convergence_deg(placed.east_m, placed.north_m)
        assert grid_bearing + convergence == pytest.approx(placed.door_bearing_deg, abs=0.1)


def test_cautions_reasons_and_times_are_on_the_sheet(sheet: Sheet) -> None:
    told = " ".join(texts(sheet))
    for words in ("Old burn 240 m north", "arrive 09:04", "Latrine", "avalanche: release", "Invented ground", "5.7°"):
        assert words in told


def test_without_a_site_the_sheet_gives_route_and_reasons() -> None:
    sheet = lay_out_sheet(made_tonight(site_count=0))
    told = " ".join(texts(sheet))
    assert "Tonight: no site found." in told
    assert "Why no site" in told
    assert "allow 8° to gain 40 ha" in told
    assert not rank_discs(sheet)


def test_real_ground_carries_no_mark_of_invention() -> None:
    answer = made_tonight(site_count=1)
    real = replace(answer, plan=replace(answer.plan, note="Recce of Tuesday."))
    assert not any("Invented" in text for text in texts(lay_out_sheet(real)))


def test_a_long_march_gets_a_smaller_scale() -> None:
    answer = made_tonight(site_count=0)
    stretched = np.column_stack([answer.march.route_m[:, 0] * 10.0 - 4_500_000.0, answer.march.route_m[:, 1]])
    march = replace(
        answer.march, route_m=stretched, station_distance_m=answer.march.station_distance_m * 10.0,
        reach_along_route_m=answer.march.reach_along_route_m * 10.0,
    )  # fmt: skip
    assert lay_out_sheet(replace(answer, march=march)).scale_denominator == 200_000


def test_a_sheet_off_the_ground_is_drawn_all_the_same() -> None:
    answer = made_tonight(site_count=0)
    away = np.column_stack([answer.march.route_m[:, 0] + 50_000.0, answer.march.route_m[:, 1]])
    sheet = lay_out_sheet(replace(answer, march=replace(answer.march, route_m=away)))
    assert not any(isinstance(stroke, Picture) for stroke in sheet.pages[0].strokes)


def test_wrapped_lines_fit_and_keep_every_letter() -> None:
    for room_mm in (8.0, 20.0, 55.0):
        lines = wrapped(LONG, 2.7, room_mm)
        assert all(width_mm(line, 2.7) <= room_mm for line in lines)
        assert "".join(lines).replace(" ", "") == LONG.replace(" ", "")


def test_shortened_text_fits_and_says_that_it_was_cut() -> None:
    cut = shortened(LONG, 3.0, 40.0)
    assert cut.endswith("…")
    assert width_mm(cut, 3.0) <= 40.0
    assert shortened("Long Bench", 3.0, 40.0) == "Long Bench"


def test_widths_come_from_the_type() -> None:
    face = typeface(is_bold=False)
    assert face.width_em("i") < face.width_em("n") < face.width_em("W")
    for letter in "ÅØąЖΩ°−×≤…–":
        assert ord(letter) in face.advance_em
    assert face.width_em("e\u0301") == face.width_em("e")
    assert typeface(is_bold=True).width_em("march") > face.width_em("march")


def test_a_number_after_a_name_from_right_to_left_keeps_its_place() -> None:
    stroke = text_line("Site 1, خيمة الشمال, 850 m short of it", (0.0, 0.0), 3.0, "#000000")
    assert "خيمة الشمال\u200e, 850" in stroke.text


def rank_discs(sheet: Sheet) -> dict[str, tuple[float, float]]:
    return {
        label.text: (disc.x_mm, disc.y_mm)
        for disc, label in pairwise(sheet.pages[0].strokes)
        if isinstance(disc, Disc) and disc.radius_mm > 1.7 and isinstance(label, Text)
    }


def extent(stroke: Stroke) -> Iterator[tuple[float, float]]:
    if isinstance(stroke, Line):
        yield from stroke.points_mm
    elif isinstance(stroke, Area):
        for ring in stroke.rings_mm:
            yield from ring
    elif isinstance(stroke, Disc):
        yield stroke.x_mm - stroke.radius_mm, stroke.y_mm - stroke.radius_mm
        yield stroke.x_mm + stroke.radius_mm, stroke.y_mm + stroke.radius_mm
    elif isinstance(stroke, Text):
        left, top, right, bottom = stroke.box_mm
        yield left, top
        yield right, bottom
    else:
        yield stroke.x_mm, stroke.y_mm
        yield stroke.x_mm + stroke.width_mm, stroke.y_mm + stroke.height_mm
