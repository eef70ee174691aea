"""Sheet: what is handed out, as data, words and files. No Qt here.

Importing this package loads nothing else: the desk needs the palette before its window shows, and the rest of this
package brings the stages and their compiled loops along. Each name is loaded when it is first used.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from sitepick.sheet.day_words import day_lines
    from sitepick.sheet.document import tonight_document, tonight_text, write_tonight_json
    from sitepick.sheet.handout import write_handout
    from sitepick.sheet.journey_document import journey_document
    from sitepick.sheet.journey_handout import write_journey
    from sitepick.sheet.journey_sheet import lay_out_journey
    from sitepick.sheet.journey_words import journey_lines
    from sitepick.sheet.layers import write_layers
    from sitepick.sheet.layout import lay_out_sheet
    from sitepick.sheet.model import Page, Sheet
    from sitepick.sheet.order import order_text
    from sitepick.sheet.palette import Palette, read_palette
    from sitepick.sheet.relief import contour_interval_m, contour_lines, ground_picture
    from sitepick.sheet.summary import answer_lines

__all__ = [
    "Page",
    "Palette",
    "Sheet",
    "answer_lines",
    "contour_interval_m",
    "contour_lines",
    "day_lines",
    "ground_picture",
    "journey_document",
    "journey_lines",
    "lay_out_journey",
    "lay_out_sheet",
    "order_text",
    "read_palette",
    "tonight_document",
    "tonight_text",
    "write_handout",
    "write_journey",
    "write_layers",
    "write_tonight_json",
]

_HOMES = {
    "Page": "model",
    "Palette": "palette",
    "Sheet": "model",
    "answer_lines": "summary",
    "day_lines": "day_words",
    "contour_interval_m": "relief",
    "contour_lines": "relief",
    "ground_picture": "relief",
    "journey_document": "journey_document",
    "journey_lines": "journey_words",
    "lay_out_journey": "journey_sheet",
    "lay_out_sheet": "layout",
    "order_text": "order",
    "read_palette": "palette",
    "tonight_document": "document",
    "tonight_text": "document",
    "write_handout": "handout",
    "write_journey": "journey_handout",
    "write_layers": "layers",
    "write_tonight_json": "document",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
