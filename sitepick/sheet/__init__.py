"""Sheet: what is handed out, as data, words and files. No Qt here."""

from sitepick.sheet.document import tonight_document, tonight_text, write_tonight_json
from sitepick.sheet.handout import write_handout
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
    "ground_picture",
    "lay_out_sheet",
    "order_text",
    "read_palette",
    "tonight_document",
    "tonight_text",
    "write_handout",
    "write_layers",
    "write_tonight_json",
]
