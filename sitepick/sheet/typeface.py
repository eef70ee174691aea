"""How wide text is in the shipped type, so that it is wrapped and shortened before anyone draws it.

Reads advance widths from the TrueType files themselves (OpenType tables ``head``, ``hhea``,
``hmtx`` and ``cmap`` format 4; ISO/IEC 14496-22). The painter draws without kerning, so widths agree.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sitepick.resource import resource_path
from sitepick.sheet.model import Anchor, Text

REGULAR_FILE, BOLD_FILE = "SourceSans3-Regular.ttf", "SourceSans3-SemiBold.ttf"

# Room for a letter that the shipped type lacks, in ems: the system's own type draws it, and the painter narrows
# what turns out wider.
_WIDE_EM, _OTHER_EM = 1.0, 0.65
_NO_WIDTH = ("Mn", "Me", "Cf")  # marks over other letters, and signs that only steer the reading direction

# Words written from right to left, as one run; a mark after it keeps numbers that follow where they belong.
_RIGHT_TO_LEFT = "\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc"
_RIGHT_TO_LEFT_RUN = re.compile(f"[{_RIGHT_TO_LEFT}](?:[\\s'’-]*[{_RIGHT_TO_LEFT}])*")
# Not before a number or its sign: halves of a grid reference, thousands, "Tent 3", "50 %".
_WORDS_APART = re.compile(" (?![0-9%°])")
_LEFT_TO_RIGHT_MARK = "\u200e"


@dataclass(frozen=True, slots=True, kw_only=True)
class Typeface:
    """Advance widths of one font.

    Attributes
    ----------
    advance_em : dict of int to float
        Code point to width, in ems.
    """

    advance_em: dict[int, float]

    def width_em(self, text: str) -> float:
        """Width of a text, in ems."""
        return sum(self._letter_em(letter) for letter in text)

    def _letter_em(self, letter: str) -> float:
        known = self.advance_em.get(ord(letter))
        if known is not None:
            return known
        if unicodedata.category(letter) in _NO_WIDTH:
            return 0.0
        return _WIDE_EM if unicodedata.east_asian_width(letter) in "WF" else _OTHER_EM


@lru_cache(maxsize=2)
def typeface(*, is_bold: bool) -> Typeface:
    """The shipped type, regular or semi-bold."""
    data = resource_path("fonts", BOLD_FILE if is_bold else REGULAR_FILE).read_bytes()
    tables = _tables(data)
    units_per_em = struct.unpack_from(">H", data, tables["head"] + 18)[0]
    metric_count = struct.unpack_from(">H", data, tables["hhea"] + 34)[0]
    # Each metric is an advance and a bearing; glyphs past the last share its advance.
    advances = np.frombuffer(data, ">u2", count=2 * metric_count, offset=tables["hmtx"])[::2]
    glyphs = _glyphs(data, tables["cmap"])
    return Typeface(
        advance_em={
            code: float(advances[min(glyph, metric_count - 1)]) / units_per_em for code, glyph in glyphs.items()
        }
    )


def width_mm(text: str, size_mm: float, *, is_bold: bool = False) -> float:
    """Width of a line of text on paper."""
    return typeface(is_bold=is_bold).width_em(text) * size_mm


def wrapped(text: str, size_mm: float, room_mm: float, *, is_bold: bool = False) -> tuple[str, ...]:
    """A text in lines that fit; words longer than a line are broken, numbers stay with what stands before them.

    >>> wrapped("dark at 16:12", 3.0, 12.0)
    ('dark at', '16:12')
    >>> wrapped("pitch Tent 12 first", 3.0, 14.0)
    ('pitch', 'Tent 12', 'first')
    """
    lines: list[str] = []
    line = ""
    for word in _words(text, size_mm, room_mm, is_bold=is_bold):
        longer = f"{line} {word}" if line else word
        if width_mm(longer, size_mm, is_bold=is_bold) <= room_mm:
            line = longer
            continue
        if line:
            lines.append(line)
        *full, line = _broken(word, size_mm, room_mm, is_bold=is_bold)
        lines += full
    return (*lines, line) if line else tuple(lines)


def _words(text: str, size_mm: float, room_mm: float, *, is_bold: bool) -> list[str]:
    """What a line may be broken between; words with their numbers are parted only where they fill a line."""
    words: list[str] = []
    for word in _WORDS_APART.split(" ".join(text.split())):
        words += [word] if width_mm(word, size_mm, is_bold=is_bold) <= room_mm else word.split()
    return words


def shortened(text: str, size_mm: float, room_mm: float, *, is_bold: bool = False) -> str:
    """A text cut to fit one line, with an ellipsis where it was cut."""
    text = " ".join(text.split())
    if width_mm(text, size_mm, is_bold=is_bold) <= room_mm:
        return text
    while text and width_mm(text + "…", size_mm, is_bold=is_bold) > room_mm:
        text = text[:-1].rstrip()
    return text + "…"


def text_line(
    text: str,
    at_mm: tuple[float, float],
    size_mm: float,
    colour: str,
    *,
    is_bold: bool = False,
    anchor: Anchor = "start",
    halo: str | None = None,
) -> Text:
    """A stroke of text that knows its width; lines read from left to right, with words of other scripts within."""
    text = _RIGHT_TO_LEFT_RUN.sub(lambda run: run.group() + _LEFT_TO_RIGHT_MARK, text)
    return Text(
        x_mm=at_mm[0], y_mm=at_mm[1], text=text, size_mm=size_mm, colour=colour, is_bold=is_bold, anchor=anchor,
        halo=halo, width_mm=width_mm(text, size_mm, is_bold=is_bold),
    )  # fmt: skip


def _broken(word: str, size_mm: float, room_mm: float, *, is_bold: bool) -> list[str]:
    pieces = [""]
    for letter in word:
        longer = pieces[-1] + letter
        if (
            pieces[-1]
            and unicodedata.category(letter) not in _NO_WIDTH
            and width_mm(longer, size_mm, is_bold=is_bold) > room_mm
        ):
            pieces.append(letter)
        else:
            pieces[-1] = longer
    return pieces


def _tables(data: bytes) -> dict[str, int]:
    """Name of each table and where it begins."""
    count = struct.unpack_from(">H", data, 4)[0]
    records = struct.iter_unpack(">4sIII", data[12 : 12 + 16 * count])
    return {name.decode("ascii"): offset for name, _, offset, _ in records}


def _glyphs(data: bytes, table: int) -> dict[int, int]:
    """Code point to glyph, from the Unicode table of format 4 (basic plane)."""
    count = struct.unpack_from(">H", data, table + 2)[0]
    for index in range(count):
        platform, encoding, offset = struct.unpack_from(">HHI", data, table + 4 + 8 * index)
        start = table + offset
        if (platform, encoding) in ((3, 1), (0, 3)) and struct.unpack_from(">H", data, start)[0] == 4:
            return _format_4(data, start)
    raise ValueError("the type has no Unicode table of format 4")


def _format_4(data: bytes, start: int) -> dict[int, int]:
    pair_count = struct.unpack_from(">H", data, start + 6)[0] // 2

    def column(index: int, kind: str) -> list[int]:
        # The ends come first, then two bytes of padding, then starts, steps and ranges.
        offset = start + 14 + 2 * pair_count * index + (2 if index else 0)
        return list(struct.unpack_from(f">{pair_count}{kind}", data, offset))

    ends, starts, steps, ranges = column(0, "H"), column(1, "H"), column(2, "h"), column(3, "H")
    ranges_at = start + 16 + 6 * pair_count
    found: dict[int, int] = {}
    for index, (first, last, step, reach) in enumerate(zip(starts, ends, steps, ranges, strict=True)):
        for code in range(first, min(last, 0xFFFE) + 1):
            glyph = code
            if reach:
                glyph = struct.unpack_from(">H", data, ranges_at + 2 * index + reach + 2 * (code - first))[0]
            if glyph or not reach:
                glyph = (glyph + step) % 0x10000
            if glyph:
                found[code] = glyph
    return found
