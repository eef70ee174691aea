"""Which colours the map, the window and the sheet are drawn in. One file a set, in ``resources/palettes``."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache

from sitepick.resource import resource_path

PALETTE_NAMES = ("day", "dark", "night", "paper")

_LINEAR_KNEE = 0.04045  # IEC 61966-2-1, where the sRGB curve turns straight


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """One set of colours, each as ``"#RRGGBB"`` (sRGB).

    Attributes
    ----------
    name : str
        One of `PALETTE_NAMES`.
    paper, page, edge, tab : str
        Behind the map, behind the field book, hairlines, marked pieces of the page.
    text, soft_text, faint_text : str
        All read at 4.5:1 or better on `paper` and `page`.
    intent : str
        What the unit will do: route, march, pitching. Nothing else has this colour.
    reach, link, focus : str
        The reach's line, values to edit, the keyboard's outline.
    caution_back, caution_bar, limit_tick, measure_bar, measure_back : str
    snow, evergreen, deciduous, forest, bog, water, ice, built, unknown : str
        Tints of the cover; `forest` is trees of unknown leaf.
    hatch, contour : str
    contour_frac, contour_fifth_frac : float
        How opaque contour lines are, and every fifth of them.
    relief_low, relief_high : float
        Range that the relief's light and shade multiply a tint by.
    grade_good, grade_middle, grade_poor : str
        Three grades, told apart by colour-blind eyes; ramps run between them.
    grade_turn : str
        The fourth, where a ramp goes round and back to its first, as with bearings.
    """

    name: str
    paper: str
    page: str
    edge: str
    tab: str
    text: str
    soft_text: str
    faint_text: str
    intent: str
    reach: str
    link: str
    focus: str
    caution_back: str
    caution_bar: str
    limit_tick: str
    measure_bar: str
    measure_back: str
    snow: str
    evergreen: str
    deciduous: str
    forest: str
    bog: str
    water: str
    ice: str
    built: str
    unknown: str
    hatch: str
    contour: str
    contour_frac: float
    contour_fifth_frac: float
    relief_low: float
    relief_high: float
    grade_good: str
    grade_middle: str
    grade_poor: str
    grade_turn: str


@lru_cache(maxsize=len(PALETTE_NAMES))
def read_palette(name: str) -> Palette:
    """Read a set of colours.

    Parameters
    ----------
    name : str
        One of `PALETTE_NAMES`.
    """
    values = json.loads(resource_path("palettes", f"{name}.json").read_text(encoding="utf-8"))
    return Palette(name=name, **values)


def rgb(colour: str) -> tuple[int, int, int]:
    """Red, green and blue, 0-255.

    >>> rgb("#B4470B")
    (180, 71, 11)
    """
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def mixed(colour: str, ground: str, opaque_frac: float) -> str:
    """What a colour looks like when it lies partly see-through on another.

    >>> mixed("#000000", "#FFFFFF", 0.5)
    '#808080'
    """
    pairs = zip(rgb(colour), rgb(ground), strict=True)
    return "#" + "".join(f"{round(over * opaque_frac + under * (1 - opaque_frac)):02X}" for over, under in pairs)


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1-21 (WCAG 2.1, relative luminance, from memory)."""
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    parts = [value / 255 for value in rgb(colour)]
    red, green, blue = (part / 12.92 if part <= _LINEAR_KNEE else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
