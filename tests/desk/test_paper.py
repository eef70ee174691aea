"""The sheet drawn by Qt: PDF and PNG as they come out."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream
from PySide6.QtGui import QFontMetricsF

from sitepick.errors import SheetError
from sitepick.paint.fonts import register_fonts, sheet_font
from sitepick.paint.pdf import page_image, write_pdf, write_png
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Line, Page, Picture, Sheet, Text
from sitepick.sheet.typeface import text_line, width_mm
from tests.helpers.made_tonight import made_tonight

MM_PER_POINT = 25.4 / 72.0


@pytest.fixture(scope="module")
def sheet() -> Sheet:
    return lay_out_sheet(made_tonight())


@pytest.fixture
def read_back(qapp: Any, sheet: Sheet, tmp_path: Path) -> pypdf.PdfReader:
    write_pdf(sheet, tmp_path / "sheet.pdf")
    return pypdf.PdfReader(tmp_path / "sheet.pdf")


@pytest.mark.slow
def test_page_is_a4_to_the_hundredth(read_back: pypdf.PdfReader) -> None:
    box = read_back.pages[0].mediabox
    assert float(box.width) * MM_PER_POINT == pytest.approx(210.0, abs=0.01)
    assert float(box.height) * MM_PER_POINT == pytest.approx(297.0, abs=0.01)


@pytest.mark.slow
def test_check_bar_and_scale_bar_have_their_lengths_in_the_file(read_back: pypdf.PdfReader, sheet: Sheet) -> None:
    lengths = horizontal_lengths_mm(read_back)
    assert any(length == pytest.approx(100.0, abs=0.05) for length in lengths)
    half_kilometre_mm = 500.0 * 1000.0 / sheet.scale_denominator
    assert any(length == pytest.approx(half_kilometre_mm, abs=0.05) for length in lengths)


@pytest.mark.slow
def test_words_can_be_read_out_of_the_file(read_back: pypdf.PdfReader) -> None:
    told = " ".join(" ".join(page.extract_text() for page in read_back.pages).split())
    for words in (
        "Tonight: site 1, Bench north of the river.",
        "arrive 09:04",
        "Leader's tent",
        "Fire",
        "print at 100 %",
    ):
        assert words in told
    assert read_back.metadata is not None
    assert read_back.metadata.title == "Made plan: Tonight: site 1, Bench north of the river."
    assert str(read_back.metadata.subject).startswith("2.4 km on skis")


@pytest.mark.slow
def test_type_is_embedded_and_pictures_lose_nothing(read_back: pypdf.PdfReader) -> None:
    resources = read_back.pages[0]["/Resources"]
    fonts = [font.get_object() for font in resources["/Font"].values()]
    names = {str(font["/BaseFont"]) for font in fonts}
    assert any("SourceSans3-Regular" in name for name in names)
    assert any("SourceSans3-SemiBold" in name for name in names)
    for font in fonts:
        inner = font["/DescendantFonts"][0].get_object()
        assert "/FontFile2" in inner["/FontDescriptor"]
    pictures = [item.get_object() for item in resources["/XObject"].values()]
    filters = {str(item.get("/Filter")) for item in pictures if item.get("/Subtype") == "/Image"}
    assert filters
    assert not any("DCT" in name for name in filters)


@pytest.mark.slow
def test_every_page_is_drawn(qapp: Any, tmp_path: Path) -> None:
    long = lay_out_sheet(made_tonight(people=150, name="von der Schneeschuhabteilungsnamensgebungskommission"))
    assert len(long.pages) > 1
    write_pdf(long, tmp_path / "sheet.pdf")
    pages = pypdf.PdfReader(tmp_path / "sheet.pdf").pages
    assert len(pages) == len(long.pages)
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page.extract_text()


def test_widths_measured_without_qt_are_qts_own(qapp: Any) -> None:
    register_fonts()
    for text in ("Tonight: site 1, Long Bench.", "Ærlig Øvre Å, Žďár, Ωμέγα, Жизнь", "fi ff fl 0123456789 AVAToWe"):
        for is_bold in (False, True):
            drawn = QFontMetricsF(sheet_font(1000, is_bold=is_bold)).horizontalAdvance(text)
            assert width_mm(text, 10.0, is_bold=is_bold) * 100.0 == pytest.approx(drawn, rel=0.002)


def test_text_wider_than_its_room_is_narrowed_into_it(qapp: Any) -> None:
    wide = Text(x_mm=5.0, y_mm=10.0, text="WWWWWWWWWWWWWWWW", size_mm=5.0, width_mm=20.0, colour="#000000")
    image = page_image(Page(width_mm=60.0, height_mm=20.0, strokes=(wide,)), 254.0)
    dark = [x for x in range(image.width()) if any(image.pixelColor(x, y).lightness() < 128 for y in range(60, 110))]
    assert min(dark) >= 48
    assert max(dark) <= 252


def test_strokes_fall_where_the_page_says(qapp: Any, tmp_path: Path) -> None:
    line = Line(points_mm=((10.0, 5.0), (30.0, 5.0)), width_mm=1.0, colour="#B4470B")
    label = text_line("north", (10.0, 15.0), 4.0, "#000000")
    small = Sheet(
        title="", subject="", scale_denominator=1, pages=(Page(width_mm=40.0, height_mm=20.0, strokes=(line, label)),)
    )
    write_png(small, 0, tmp_path / "page.png", 254.0)
    image = page_image(small.pages[0], 254.0)
    assert (tmp_path / "page.png").read_bytes().startswith(b"\x89PNG")
    assert (image.width(), image.height()) == (400, 200)
    assert image.pixelColor(200, 50).name() == "#b4470b"
    assert image.pixelColor(95, 50).name() == "#ffffff"
    assert image.pixelColor(305, 50).name() == "#ffffff"
    assert image.pixelColor(200, 60).name() == "#ffffff"


def test_a_picture_keeps_its_pixels(qapp: Any) -> None:
    import numpy as np

    pixels = np.zeros((2, 2, 3), dtype=np.uint8)
    pixels[0, 0], pixels[1, 1] = (255, 0, 0), (0, 0, 255)
    picture = Picture(x_mm=0.0, y_mm=0.0, width_mm=20.0, height_mm=20.0, pixels=pixels)
    image = page_image(Page(width_mm=20.0, height_mm=20.0, strokes=(picture,)), 254.0)
    assert image.pixelColor(20, 20).name() == "#ff0000"
    assert image.pixelColor(180, 180).name() == "#0000ff"


def test_a_folder_that_cannot_be_made_is_told_as_such(qapp: Any, sheet: Sheet, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(SheetError) as told:
        write_pdf(sheet, tmp_path / "file" / "sheet.pdf")
    assert told.value.fix


def horizontal_lengths_mm(reader: pypdf.PdfReader) -> list[float]:
    """Lengths of all straight level strokes of the first page, by its content stream."""
    page = reader.pages[0]
    matrix, stack, lengths = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), [], []
    at = (0.0, 0.0)
    for operands, operator in ContentStream(page.get_contents(), reader).operations:
        if operator == b"q":
            stack.append(matrix)
        elif operator == b"Q":
            matrix = stack.pop()
        elif operator == b"cm":
            matrix = product(tuple(map(float, operands)), matrix)
        elif operator in (b"m", b"l"):
            x, y = float(operands[0]), float(operands[1])
            point = (matrix[0] * x + matrix[2] * y + matrix[4], matrix[1] * x + matrix[3] * y + matrix[5])
            if operator == b"l" and abs(point[1] - at[1]) < 0.01:
                lengths.append(math.dist(point, at) * MM_PER_POINT)
            at = point
    return lengths


def product(one: tuple[float, ...], other: tuple[float, ...]) -> tuple[float, ...]:
    a, b, c, d, e, f = one
    m, n, o, p, q, r = other
    return (a * m + b * o, a * n + b * p, c * m + d * o, c * n + d * p, e * m + f * o + q, e * n + f * p + r)
