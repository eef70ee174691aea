"""The sheet's file measured and looked at from outside: grid, scale, type, every page drawn."""

from __future__ import annotations

import math
import shutil
import subprocess
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdf
import pytest
from PySide6.QtGui import QImage

from sitepick.paint.fonts import NO_GLYPH, drawable, register_fonts
from sitepick.paint.pdf import page_image, write_pdf
from sitepick.sheet.camp_plan import camp_map
from sitepick.sheet.layout import lay_out_sheet
from sitepick.sheet.model import Disc, Page, Sheet, Text
from sitepick.sheet.typeface import text_line
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
def test_two_grid_lines_lie_as_far_apart_as_their_numbers(path: Path, answer: Tonight, sheet: Sheet) -> None:
    """Numbers and their places read out of the file, nothing asked of the sheet but its scale."""
    placed: list[tuple[str, float, float]] = []

    def visit(text: str, _: Any, matrix: list[float], font: Any, size: float) -> None:
        if text.strip():
            placed.append((text.strip(), matrix[4] * MM_PER_POINT, matrix[5] * MM_PER_POINT))

    page = pypdf.PdfReader(path).pages[0]
    level = upright_lines_mm(page)
    grid = answer.ground.grid
    scale = grid.point_scale(*grid.centre_m)
    steps = np.diff(sorted(set(np.round(level, 2))))
    kilometre_mm = 1_000_000.0 / sheet.scale_denominator / scale
    page.extract_text(visitor_text=visit)
    assert any(text.isdigit() and len(text) == 3 for text, _, _ in placed)  # lines between the kilometres are told
    step_mm = float(np.median(steps))
    assert any(step_mm == pytest.approx(kilometre_mm * step_m / 1000.0, abs=0.2) for step_m in (200.0, 500.0, 1000.0))


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
