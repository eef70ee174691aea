"""Sheets as PDF and PNG files."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path
from typing import cast

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import DictionaryObject, RectangleObject
from PySide6.QtCore import QBuffer, QIODevice, QMarginsF, QSizeF
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPageLayout, QPageSize, QPainter, QPdfWriter

import sitepick
from sitepick.errors import SheetError
from sitepick.output import whole_file
from sitepick.paint.strokes import UNITS_PER_MM, paint_page
from sitepick.sheet.model import Page, Sheet

MOST_DOTS = 120_000_000  # of a picture: half a gigabyte while it is drawn
_MM_PER_INCH = 25.4
_POINTS_PER_MM = 72.0 / _MM_PER_INCH
_UNITS_PER_INCH = round(UNITS_PER_MM * _MM_PER_INCH)


def ensure_application() -> QGuiApplication:
    """The running Qt application, or one without a display for drawing into files.

    A platform chosen by hand (``QT_QPA_PLATFORM``) stays.
    """
    running = QGuiApplication.instance()
    if isinstance(running, QGuiApplication):
        return running
    chosen = [] if os.environ.get("QT_QPA_PLATFORM") else ["-platform", "offscreen"]
    return QGuiApplication([sys.argv[0] or "sitepick", *chosen])


def write_pdf(sheet: Sheet, path: Path) -> None:
    """Write a sheet as PDF, whole or not at all: true to scale, type embedded, pictures without loss.

    Parameters
    ----------
    sheet : Sheet
    path : Path

    Raises
    ------
    SheetError
        The folder is read-only, the disk is full and the like; an older file stays as it was.
    """
    drawn = _finished(_drawn(sheet), sheet)
    with whole_file(path, error=SheetError) as staging:
        staging.write_bytes(drawn)


def write_png(sheet: Sheet, page: int, path: Path, dots_per_inch: float) -> None:
    """Write one page as PNG, whole or not at all.

    Parameters
    ----------
    sheet : Sheet
    page : int
        0 is the first.
    path : Path
    dots_per_inch : float

    Raises
    ------
    SheetError
        As `write_pdf`; or the picture would have more dots than a picture can hold.
    """
    drawn = sheet.pages[page]
    across, down = (round(size_mm * dots_per_inch / _MM_PER_INCH) for size_mm in (drawn.width_mm, drawn.height_mm))
    if across * down > MOST_DOTS:
        raise SheetError(
            f"the picture would have {across} x {down} dots", fix="choose a smaller scale or fewer dots an inch"
        )
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if not page_image(drawn, dots_per_inch).save(buffer, "PNG"):  # type: ignore[call-overload] # takes bytes and str
        raise RuntimeError("the picture could not be packed")
    with whole_file(path, error=SheetError) as staging:
        staging.write_bytes(buffer.data().data())


def page_image(page: Page, dots_per_inch: float) -> QImage:
    """One page as a picture on white, which knows how large it is to be printed."""
    application = ensure_application()
    pixels_per_mm = dots_per_inch / _MM_PER_INCH
    image = QImage(
        round(page.width_mm * pixels_per_mm), round(page.height_mm * pixels_per_mm), QImage.Format.Format_RGB32
    )
    image.fill(QColor("#FFFFFF"))
    painter = QPainter(image)
    painter.scale(pixels_per_mm / UNITS_PER_MM, pixels_per_mm / UNITS_PER_MM)
    paint_page(painter, page)
    painter.end()
    image.setDotsPerMeterX(round(1000.0 * pixels_per_mm))
    image.setDotsPerMeterY(round(1000.0 * pixels_per_mm))
    del application
    return image


def _drawn(sheet: Sheet) -> bytes:
    """Qt's own PDF, in memory: a full disk can't cut it short without a word."""
    application = ensure_application()
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    writer = QPdfWriter(buffer)
    writer.setPdfVersion(QPdfWriter.PdfVersion.PdfVersion_1_6)
    writer.setResolution(_UNITS_PER_INCH)
    writer.setTitle(sheet.title)
    writer.setCreator(f"sitepick {sitepick.__version__}")
    _set_page(writer, sheet.pages[0])
    painter = QPainter(writer)
    for index, page in enumerate(sheet.pages):
        if index:
            _set_page(writer, page)
            writer.newPage()
        paint_page(painter, page)
    painter.end()
    del application
    return bytes(buffer.data().data())


def _set_page(writer: QPdfWriter, page: Page) -> None:
    size = QPageSize(QSizeF(page.width_mm, page.height_mm), QPageSize.Unit.Millimeter)
    writer.setPageLayout(
        QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
    )


def _finished(drawn: bytes, sheet: Sheet) -> bytes:
    """The same file with exact page boxes (Qt rounds them to whole points), plain spaces, title and subject."""
    writer = PdfWriter(clone_from=PdfReader(io.BytesIO(drawn)))
    for page, laid_out in zip(writer.pages, sheet.pages, strict=True):
        top = float(page.mediabox.top)  # the drawing hangs from the top left corner
        width, height = laid_out.width_mm * _POINTS_PER_MM, laid_out.height_mm * _POINTS_PER_MM
        box = RectangleObject((0.0, top - height, width, top))
        page.mediabox = box
        page.cropbox = box
        page.trimbox = box
        _tell_spaces(page)
    writer.add_metadata(
        {"/Title": sheet.title, "/Subject": sheet.subject, "/Creator": f"sitepick {sitepick.__version__}"}
    )
    packed = io.BytesIO()
    writer.write(packed)
    return packed.getvalue()


def _tell_spaces(page: PageObject) -> None:
    """Make the blank glyph read as a space: Qt tells it as a tab, the first letter that shares the glyph."""
    resources = cast(DictionaryObject, page["/Resources"].get_object())
    for font in resources.get("/Font", {}).values():
        table = font.get_object()["/ToUnicode"].get_object()
        head, begin, letters = table.get_data().partition(b"beginbfrange")
        table.set_data(head + begin + letters.replace(b" <0009>", b" <0020>"))
