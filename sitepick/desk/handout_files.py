"""Where the sheet and a map's picture go: the questions about it."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from sitepick.desk.translation import marked, tr

PDF_FILTER = marked("PDF (*.pdf);;All files (*)")
PICTURE_FILTER = marked("Pictures (*.png);;All files (*)")


def ask_pdf(parent: QWidget, folder: Path) -> Path | None:
    """Ask where the sheet goes; the name gets its suffix."""
    return _ask(parent, tr("Save sheet as PDF"), folder / "sheet.pdf", tr(PDF_FILTER))


def ask_picture(parent: QWidget, folder: Path, name: str) -> Path | None:
    """Ask where a map's picture goes; the name gets its suffix."""
    return _ask(parent, tr("Save map as a picture"), folder / f"{name}.png", tr(PICTURE_FILTER))


def _ask(parent: QWidget, title: str, suggested: Path, kinds: str) -> Path | None:
    name, _ = QFileDialog.getSaveFileName(parent, title, str(suggested), kinds)
    if not name:
        return None
    path = Path(name)
    return path if path.suffix else path.with_suffix(suggested.suffix)
