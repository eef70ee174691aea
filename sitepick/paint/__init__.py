"""Paint: one painter for screen, PDF and PNG. QtCore, QtGui and QtSvg only.

Importing this package loads no Qt, so that `drawing_fault` can be asked first; the rest loads Qt when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from sitepick.paint.preflight import QtFault, drawing_fault, window_fault

if TYPE_CHECKING:
    from sitepick.paint.fonts import register_fonts
    from sitepick.paint.pdf import page_image, write_pdf, write_png
    from sitepick.paint.strokes import paint_page

__all__ = [
    "QtFault",
    "drawing_fault",
    "page_image",
    "paint_page",
    "register_fonts",
    "window_fault",
    "write_pdf",
    "write_png",
]

_HOMES = {
    "page_image": "pdf",
    "paint_page": "strokes",
    "register_fonts": "fonts",
    "write_pdf": "pdf",
    "write_png": "pdf",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
