"""The sheet's file measured and looked at from outside: grid, scale, type, every page drawn."""

from __future__ import annotations

import math
import re
import shutil
import subprocess
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pytest
from pygeodesy import parseMGRS
from pygeomag import GeoMag
from pyproj import Geod, Proj
from PySide6.QtGui import QImage

from sitepick.paint.fonts import NO_GLYPH, drawable, register_fonts
from sitepick.paint.pdf import page_image, write_pdf
from sitepick.sheet.camp_plan import camp_map
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Disc, Page, Sheet, Text
from sitepick.sheet.typeface import text_line, width_mm
from sitepick.sheet.words import grid_reference
from sitepick.tonight import Tonight
from tests.helpers.made_tonight import made_tonight
from tests.helpers.picture import PictureArray

MM_PER_POINT = 25.4 / 72.0
ANY_SCRIPT = "Αθήνα Якутск 雪山 خيمة वन Ås"


@pytest.fixture(scope="module")
def answer() -> Tonight:
    return made_tonight(name=ANY_SCRIPT)


@pytest.fixture(scope="module")
def sheet(answer: Tonight) -> Sheet:
    return lay_out_sheet(answer)


@pytest.fixture
def path(qapp: Any, sheet: Sheet, tmp_path: Path) -> Path:
    write_pdf(sheet, tmp_path / "sheet.pdf")
    return tmp_path / "sheet.pdf"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "size_mm"), [("A4", (210.0, 297.0)), ("A3", (297.0, 420.0)), ("Letter", (215.9, 279.4))]
)
def test_every_paper_has_its_size_in_the_file(
    qapp: Any, answer: Tonight, tmp_path: Path, name: str, size_mm: tuple[float, float]
) -> None:
    write_pdf(lay_out_sheet(answer, paper_name=name), tmp_path / "sheet.pdf")
    for page in pypdf.PdfReader(tmp_path / "sheet.pdf").pages:
        box = page.mediabox
        assert (float(box.width) * MM_PER_POINT, float(box.height) * MM_PER_POINT) == pytest.approx(size_mm, abs=0.01)


@pytest.mark.slow
def test_two_points_a_kilometre_apart_lie_so_far_apart_on_paper(path: Path, answer: Tonight) -> None:
    """Measured in the file as with a ruler: scale, numbers and lines as they are told there, the ground by geodesy."""
    page = pypdf.PdfReader(path).pages[0]
    placed = words_at_mm(page)
    scale = next(int(text[2:].replace(" ", "")) for text, _, _ in placed if re.fullmatch(r"1:[0-9 ]+", text))
    square = next(match[1] for text, _, _ in placed if (match := re.search(r"square (\d+\w \w\w)", text)))
    lines_mm = upright_lines_mm(page)
    lowest_mm = max(y for text, _, y in placed if re.fullmatch(r"1:[0-9 ]+", text))
    kilometres = {}
    for text, x, y in placed:
        if re.fullmatch(r"\d\d", text) and 0.0 < y - lowest_mm < 8.0:  # whole kilometres, below the frame
            middle = x + width_mm(text, 2.3, is_bold=True) / 2.0
            kilometres[int(text)] = min(lines_mm, key=lambda at: abs(at - middle))
    west, east = sorted(kilometres)[:2]
    assert east - west == 1
    grid = answer.ground.grid
    assert square == grid_reference(grid, *grid.centre_m)[:6]
    north_m = grid.centre_m[1]
    lon, lat = grid.to_lonlat(np.array([500_000.0, 501_000.0]) + 1000.0 * west, np.array([north_m, north_m]))
    _, _, ground_m = Geod(ellps="WGS84").inv(lon[0], lat[0], lon[1], lat[1])
    assert kilometres[east] - kilometres[west] == pytest.approx(1000.0 * ground_m / scale, abs=0.2)


@pytest.mark.slow
def test_norths_read_out_of_the_file_are_the_models_and_the_projections(path: Path, answer: Tonight) -> None:
    """Declination by the world model's own coefficients, convergence by the projection library's factors."""
    told = " ".join(pypdf.PdfReader(path).pages[1].extract_text().split())
    site = answer.sites.sites[0]
    lon, lat = (float(value) for value in answer.ground.grid.to_lonlat(site.east_m, site.north_m))
    needle = GeoMag(high_resolution=False).calculate(glat=lat, glon=lon, alt=0.0, time=2027.0 + 41.5 / 365.0).d
    assert f"Magnetic north lies {abs(needle):.1f}° {'east' if needle > 0 else 'west'} of true north" in told
    turn = needle - Proj(answer.ground.grid.crs).get_factors(lon, lat).meridian_convergence
    assert f"take {turn:.1f}° off a grid bearing" in told


@pytest.mark.slow
def test_shelters_references_read_out_of_the_file_lead_to_their_places(path: Path, answer: Tonight) -> None:
    """Another library turns the references of the table into places, within their last metre."""
    assert answer.camp is not None
    told = " ".join(pypdf.PdfReader(path).pages[1].extract_text().split())
    for placed in answer.camp.shelters:
        reference = grid_reference(answer.ground.grid, placed.east_m, placed.north_m)
        zone, square, east, north = reference.split()
        assert f"{east} {north}" in told
        place = parseMGRS(f"{zone} {square} {east} {north}").toUtm(center=False)
        assert place.easting == pytest.approx(placed.east_m, abs=1.01)
        assert place.northing == pytest.approx(placed.north_m, abs=1.01)


def words_at_mm(page: pypdf.PageObject) -> list[tuple[str, float, float]]:
    """Pieces of text and where they begin, from the left and from below."""
    placed: list[tuple[str, float, float]] = []

    def visit(text: str, here: list[float], within: list[float], font: Any, size: float) -> None:
        if text.strip():
            x, y = within[4], within[5]
            placed.append((text.strip(), (here[0] * x + here[2] * y + here[4]) * MM_PER_POINT,
                           (here[1] * x + here[3] * y + here[5]) * MM_PER_POINT))  # fmt: skip

    page.extract_text(visitor_text=visit)
    return placed


def upright_lines_mm(page: pypdf.PageObject) -> list[float]:
    """Where long upright lines stand, from the left, by the page's content stream."""
    from pypdf.generic import ContentStream

    from tests.desk.test_paper import product

    matrix, stack, found = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], []
    at = (0.0, 0.0)
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = product(tuple(map(float, operands)), matrix)
        elif operator in (b"m", b"l"):
            x, y = float(operands[0]), float(operands[1])
            point = (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
            if operator == b"l" and abs(point[0] - at[0]) < 0.01 and math.dist(point, at) * MM_PER_POINT > 60.0:
                found.append(point[0] * MM_PER_POINT)
            at = point
    # The frame's own sides are no grid lines.
    return [x for x in found if min(found) + 0.01 < x < max(found) - 0.01]


@pytest.mark.slow
def test_all_type_of_any_script_is_embedded_and_can_be_read_back(path: Path) -> None:
    told = ""
    for page in pypdf.PdfReader(path).pages:
        told += page.extract_text()
        for font in page["/Resources"]["/Font"].values():
            inner = font.get_object()["/DescendantFonts"][0].get_object()
            descriptor = inner["/FontDescriptor"]
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor, font.get_object()["/BaseFont"]
    for word in ("Αθήνα", "Якутск", "magnetic", "Post" if "Post" in told else "Shelters", "Datum WGS 84"):
        assert word in told


@pytest.mark.slow
def test_another_program_draws_every_page_as_we_do(path: Path, sheet: Sheet, tmp_path: Path) -> None:
    drawer = shutil.which("pdftoppm")
    for number, page in enumerate(sheet.pages, start=1):
        ours = grey(page_image(page, 40.0))
        assert 2.0 < 255.0 - ours.mean() < 120.0
        if drawer is not None:
            target = tmp_path / f"page-{number}"
            subprocess.run([drawer, "-r", "40", "-png", "-singlefile", "-f", str(number), "-l", str(number), str(path),
                            str(target)], check=True, capture_output=True)  # fmt: skip
            theirs = grey(QImage(str(target.with_suffix(".png"))))
            likeness = np.corrcoef(in_blocks(ours).ravel(), in_blocks(theirs).ravel())[0, 1]
            assert likeness > 0.9


def in_blocks(picture: PictureArray) -> PictureArray:
    """Means of blocks of 12 pixels, some 8 mm: each program smooths lines in its own way."""
    rows, cols = 12 * (330 // 12), 12 * (320 // 12)
    return picture[:rows, :cols].reshape(rows // 12, 12, cols // 12, 12).mean(axis=(1, 3))


def grey(image: QImage) -> PictureArray:
    plain = image.convertToFormat(QImage.Format.Format_Grayscale8)
    lines = np.frombuffer(plain.constBits(), dtype=np.uint8).reshape(plain.height(), plain.bytesPerLine())
    return lines[:, : plain.width()].astype(np.float64)


@pytest.mark.slow
def test_shelters_a_known_way_apart_have_it_on_the_camps_page(answer: Tonight, sheet: Sheet) -> None:
    assert answer.camp is not None
    from sitepick.sheet.palette import read_palette

    frame, drawn = camp_map(answer, answer.camp, (15.6, 30.0, 180.0, 150.0), read_palette("paper"))
    at = {
        label.text: (disc.x_mm, disc.y_mm)
        for disc, label in pairwise(drawn.strokes)
        if isinstance(disc, Disc) and isinstance(label, Text)
    }
    apart_m = answer.camp.min_distance_m
    assert math.dist(at["1"], at["2"]) == pytest.approx(apart_m * 1000.0 / frame.scale_denominator, abs=0.05)


@pytest.mark.slow
def test_a_sheet_takes_less_than_its_time(answer: Tonight, qapp: Any, tmp_path: Path) -> None:
    """Two seconds are promised; four leave room for a busy machine."""
    import time

    begin = time.process_time()
    write_pdf(lay_out_sheet(answer), tmp_path / "sheet.pdf")
    assert time.process_time() - begin < 4.0


@pytest.mark.slow
def test_letters_that_no_type_here_can_draw_are_boxes_and_hide_nothing(qapp: Any, tmp_path: Path) -> None:
    """Private-use letters stand for a script whose fonts are missing: no machine has them."""
    unknown = "\ue123\ue124"
    register_fonts()
    assert drawable(f"Å{unknown} Я") == f"Å{NO_GLYPH * 2} Я"
    line = text_line(f"North {unknown} hut", (5.0, 10.0), 5.0, "#000000")
    page = Page(width_mm=80.0, height_mm=20.0, strokes=(line,))
    write_pdf(Sheet(title="t", subject="s", scale_denominator=1, pages=(page,)), tmp_path / "t.pdf")
    told = pypdf.PdfReader(tmp_path / "t.pdf").pages[0].extract_text()
    assert "North" in told
    assert "hut" in told
    assert NO_GLYPH in told
