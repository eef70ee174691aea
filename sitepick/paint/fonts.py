"""The shipped type, made known to Qt once, for the window and the sheet alike."""

from __future__ import annotations

import unicodedata
from functools import lru_cache

from PySide6.QtGui import QFont, QFontDatabase, QFontMetricsF

from sitepick.resource import resource_path
from sitepick.sheet.typeface import BOLD_FILE, REGULAR_FILE

FAMILY = "Source Sans 3"
NO_GLYPH = "□"  # in the shipped type


def register_fonts() -> str:
    """Make the shipped type known; cheap to call again.

    Returns
    -------
    str
        The family's name, for `QFont`.

    Raises
    ------
    RuntimeError
        The font files are missing from the installation.
    """
    if FAMILY not in QFontDatabase.families():
        for name in (REGULAR_FILE, BOLD_FILE):
            if QFontDatabase.addApplicationFont(str(resource_path("fonts", name))) < 0:
                raise RuntimeError(f"the font {name} could not be read")
    return FAMILY


def sheet_font(size_px: int, *, is_bold: bool) -> QFont:
    """The type as the sheet's widths are measured: no kerning, no hinting, no joined letters."""
    font = QFont(FAMILY)
    font.setPixelSize(size_px)
    font.setWeight(QFont.Weight.DemiBold if is_bold else QFont.Weight.Normal)
    font.setKerning(False)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    font.setFeature(QFont.Tag("liga"), 0)
    return font


def drawable(text: str) -> str:
    """A text with a box in place of every letter that no type on this machine can draw.

    Qt would draw some of them as a black block in a PDF, over what stands beside it.
    """
    return "".join(letter if letter.isascii() else _drawable_letter(letter) for letter in text)


@lru_cache(maxsize=4096)
def _drawable_letter(letter: str) -> str:
    if QFontMetricsF(sheet_font(100, is_bold=False)).inFontUcs4(ord(letter)):
        return letter
    return "" if unicodedata.category(letter).startswith("M") else NO_GLYPH
