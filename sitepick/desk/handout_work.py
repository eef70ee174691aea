"""The long work behind handing out: pages laid out and drawn, files, prints. Everything heavy is imported here."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtGui import QImage
from PySide6.QtPrintSupport import QPrinter

from sitepick.desk.desk_work import hand_out
from sitepick.desk.printing import print_sheet
from sitepick.desk.translation import counted, tr
from sitepick.desk.words import handed_out_sentence
from sitepick.work import Watch

if TYPE_CHECKING:
    from sitepick.sheet.map_picture import MapName
    from sitepick.sheet.model import Sheet
    from sitepick.tonight import Tonight

PREVIEW_DOTS_PER_INCH = 144.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Preview:
    """What would be handed out.

    Attributes
    ----------
    sheet : Sheet
    images : tuple of QImage
        One a page.
    order : str
        As Markdown.
    """

    sheet: Sheet
    images: tuple[QImage, ...]
    order: str


def make_preview(answer: Tonight, watch: Watch) -> Preview:
    """Lay out and draw every page, and put the order into words."""
    from sitepick.paint import page_image
    from sitepick.sheet import lay_out_sheet, order_text

    watch.tick(tr("laying out the sheet"))
    sheet = lay_out_sheet(answer)
    images = []
    for index, page in enumerate(sheet.pages):
        watch.tick(tr("drawing the pages"), index, len(sheet.pages))
        images.append(page_image(page, PREVIEW_DOTS_PER_INCH))
    watch.tick(tr("writing the order"))
    return Preview(sheet=sheet, images=tuple(images), order=order_text(answer))


def save_pdf(sheet: Sheet, path: Path, watch: Watch) -> str:
    """Write a sheet as PDF; what was done, as a sentence."""
    from sitepick.paint import write_pdf

    watch.tick(tr("writing the PDF"))
    write_pdf(sheet, path)
    return tr("Sheet saved as {path}.", path=path)


def save_picture(answer: Tonight, name: MapName, scale_denominator: int, dots: float, path: Path, watch: Watch) -> str:
    """Write a map as PNG; what was done, as a sentence."""
    from sitepick.paint import write_png
    from sitepick.sheet.map_picture import map_picture

    watch.tick(tr("laying out the map"), 0, 2)
    sheet = map_picture(answer, name, scale_denominator)
    watch.tick(tr("drawing the map"), 1, 2)
    write_png(sheet, 0, path, dots)
    return tr("Map saved as {path}.", path=path)


def write_all(answer: Tonight, folder: Path, has_layers: bool, watch: Watch) -> str:
    """Write every file of the handout, and every layer of the ground if wished; what was done, as a sentence."""
    told = handed_out_sentence(hand_out(answer, folder, watch))
    if not has_layers:
        return told
    from sitepick.paint import write_png
    from sitepick.sheet import write_layers
    from sitepick.sheet.handout import LAYERS_NAME

    paths = write_layers(
        answer.plan, answer.ground, answer.terrain, folder / LAYERS_NAME, answer=answer, draw_png=write_png, watch=watch
    )
    return tr(
        "{told} {files} of layers in {folder}.",
        told=told,
        files=counted(len(paths), "file"),
        folder=folder / LAYERS_NAME,
    )


def print_out(sheet: Sheet, printer: QPrinter, watch: Watch) -> str:
    """Print a sheet; what was done, as a sentence."""
    count = print_sheet(sheet, printer, watch)
    return tr(
        "{pages} sent to {printer}.", pages=counted(count, "page"), printer=printer.printerName() or tr("the printer")
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HandoutWork:
    """What handing out may ask for; tests put quicker work in its place.

    Attributes
    ----------
    make_preview, save_pdf, save_picture, write_all, print_out : callable
        As the functions of this module.
    """

    make_preview: Callable[[Tonight, Watch], Preview] = make_preview
    save_pdf: Callable[[Sheet, Path, Watch], str] = save_pdf
    save_picture: Callable[[Tonight, MapName, int, float, Path, Watch], str] = save_picture
    write_all: Callable[[Tonight, Path, bool, Watch], str] = write_all
    print_out: Callable[[Sheet, QPrinter, Watch], str] = print_out
