"""A sheet on a printer of the system, true to scale or not at all."""

from __future__ import annotations

from PySide6.QtCore import QMarginsF, QSizeF
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QWidget

from sitepick.desk.translation import tr
from sitepick.errors import SheetError
from sitepick.paint.strokes import UNITS_PER_MM, paint_page
from sitepick.sheet.model import Sheet
from sitepick.work import Watch

_MM_PER_INCH = 25.4
_PAPER_ERROR_MM = 2.0  # printers tell their paper in whole points


def ask_printer(parent: QWidget, sheet: Sheet) -> QPrinter | None:
    """Ask for a printer and which pages, the sheet's paper set beforehand; None where the person cancels."""
    printer = printer_for(sheet)
    dialog = QPrintDialog(printer, parent)
    dialog.setMinMax(1, len(sheet.pages))
    dialog.setOption(QPrintDialog.PrintDialogOption.PrintPageRange, True)
    return printer if dialog.exec() else None


def printer_for(sheet: Sheet) -> QPrinter:
    """A printer, the system's usual one, set to a sheet's paper and named after it."""
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    page = sheet.pages[0]
    size = QPageSize(QSizeF(page.width_mm, page.height_mm), QPageSize.Unit.Millimeter)
    printer.setPageLayout(
        QPageLayout(size, QPageLayout.Orientation.Portrait, QMarginsF(0, 0, 0, 0), QPageLayout.Unit.Millimeter)
    )
    printer.setFullPage(True)
    printer.setDocName(sheet.title)
    return printer


def print_sheet(sheet: Sheet, printer: QPrinter, watch: Watch) -> int:
    """Print the pages that the printer was set to; may run beside the window's thread, as Qt allows for printers.

    Parameters
    ----------
    sheet : Sheet
    printer : QPrinter
    watch : Watch
        Ticked before each page.

    Returns
    -------
    int
        How many pages went out.

    Raises
    ------
    SheetError
        The paper isn't the sheet's, or the printer can't be started.
    work.JobStopped
        The watch was stopped; what wasn't printed yet is taken back.
    """
    _check_paper(sheet, printer)
    first = printer.fromPage() or 1
    pages = sheet.pages[first - 1 : printer.toPage() or len(sheet.pages)]
    watch.tick(tr("printing"), 0, len(pages))
    painter = QPainter()
    if not painter.begin(printer):
        raise SheetError(
            tr("the printer could not be started"),
            fix=tr("check that it is switched on and has paper, or save the sheet as PDF"),
        )
    try:
        for index, page in enumerate(pages):
            watch.tick(tr("printing"), index, len(pages))
            if index:
                printer.newPage()
            painter.resetTransform()
            units = printer.resolution() / _MM_PER_INCH / UNITS_PER_MM
            painter.scale(units, units)
            paint_page(painter, page)
    except BaseException:
        printer.abort()
        raise
    finally:
        painter.end()
    watch.tick(tr("printing"), len(pages), len(pages))
    return len(pages)


def _check_paper(sheet: Sheet, printer: QPrinter) -> None:
    """Paper of another size would need another scale, and every distance on the maps would be wrong."""
    page = sheet.pages[0]
    told = printer.pageLayout().fullRect(QPageLayout.Unit.Millimeter)
    apart_mm = max(abs(told.width() - page.width_mm), abs(told.height() - page.height_mm))
    if apart_mm > _PAPER_ERROR_MM:
        raise SheetError(
            tr(
                "the printer is set to paper of {width:.0f} x {height:.0f} mm, and the sheet is laid out for "
                "{width_mm:.0f} x {height_mm:.0f} mm",
                width=told.width(),
                height=told.height(),
                width_mm=page.width_mm,
                height_mm=page.height_mm,
            ),
            fix=tr("set the printer to that paper, or lay the sheet out for the paper that it has"),
        )
