"""What the signs in a map mean: a sample and a few words for each that is shown, and for no other."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from sitepick.sheet.model import Area, Disc, Line, Stroke, moved
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.typeface import text_line, width_mm

LEGEND_ROW_MM = 3.7
_SMALL_MM = 2.3
_SAMPLE_MM = 6.0
_GAP_MM = 3.5
_BASE_MM = -0.8  # middle of a sample over the base line of its words

SECTION_DASH_MM = (1.6, 0.6, 0.3, 0.6)

Sample = Callable[[Palette], list[Stroke]]

# Width and dashes of the reach if fast, likely and if slow.
REACH_LOOKS: dict[str, tuple[float, tuple[float, ...]]] = {
    "early": (0.25, (0.5, 0.9)), "likely": (0.5, (3.0, 0.7, 0.6, 0.7)), "late": (0.25, (1.8, 0.9)),
}  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One sign.

    Attributes
    ----------
    words : str
    sample : callable
        Draws it between 0 and 6 mm, its middle at height 0.
    """

    words: str
    sample: Sample


def legend_strokes(
    keys: Iterable[str], at_mm: tuple[float, float], room_mm: float, palette: Palette
) -> tuple[list[Stroke], float]:
    """The signs in rows, and how high they stand.

    Parameters
    ----------
    keys : iterable of str
        Out of `ENTRIES`, in the order they are told; doubles are told once.
    at_mm : tuple
        Top left corner.
    room_mm : float
        Width of a row.
    palette : Palette
    """
    left, top = at_mm
    strokes: list[Stroke] = []
    x_mm, row = 0.0, 0
    for key in dict.fromkeys(keys):
        entry = ENTRIES[key]
        wide_mm = _SAMPLE_MM + 1.2 + width_mm(entry.words, _SMALL_MM)
        if x_mm > 0.0 and x_mm + wide_mm > room_mm:
            x_mm, row = 0.0, row + 1
        base = top + 2.4 + row * LEGEND_ROW_MM
        strokes += [moved(stroke, left + x_mm, base + _BASE_MM) for stroke in entry.sample(palette)]
        strokes.append(text_line(entry.words, (left + x_mm + _SAMPLE_MM + 1.2, base), _SMALL_MM, palette.text))
        x_mm += wide_mm + _GAP_MM
    return strokes, (row + 1) * LEGEND_ROW_MM if strokes else 0.0


def _line(width_mm: float, colour: str, dash_mm: tuple[float, ...] = (), *, paler: float = 1.0) -> Sample:
    def draw(palette: Palette) -> list[Stroke]:
        ink = mixed(getattr(palette, colour), palette.paper, paler) if paler < 1.0 else getattr(palette, colour)
        return [Line(points_mm=((0.0, 0.0), (_SAMPLE_MM, 0.0)), width_mm=width_mm, colour=ink, dash_mm=dash_mm)]

    return draw


def _patch(fill: str) -> Sample:
    def draw(palette: Palette) -> list[Stroke]:
        ring = ((0.0, -1.2), (_SAMPLE_MM, -1.2), (_SAMPLE_MM, 1.2), (0.0, 1.2))
        edge = mixed(palette.text, palette.paper, 0.45)
        return [
            Area(rings_mm=(ring,), fill=getattr(palette, fill)),
            Line(points_mm=(*ring, ring[0]), width_mm=0.1, colour=edge),
        ]

    return draw


def _hatched(lean: int, colour: str = "text") -> Sample:
    def draw(palette: Palette) -> list[Stroke]:
        ring = ((0.0, -1.2), (_SAMPLE_MM, -1.2), (_SAMPLE_MM, 1.2), (0.0, 1.2), (0.0, -1.2))
        ink = getattr(palette, colour)
        strokes: list[Stroke] = [Line(points_mm=ring, width_mm=0.15, colour=ink)]
        for at in (0.0, 1.8, 3.6):
            low, high = (at, 1.2), (at + 2.4, -1.2)
            ends = (low, high) if lean > 0 else ((at, -1.2), (at + 2.4, 1.2))
            strokes.append(Line(points_mm=ends, width_mm=0.15, colour=ink))
        return strokes

    return draw


def _disc(radius_mm: float, fill: str, edge_mm: float, letter: str = "") -> Sample:
    def draw(palette: Palette) -> list[Stroke]:
        disc = Disc(x_mm=_SAMPLE_MM / 2, y_mm=0.0, radius_mm=radius_mm, fill=getattr(palette, fill),
                    edge=palette.text, edge_mm=edge_mm)  # fmt: skip
        ink = palette.paper if fill == "text" else palette.text
        if not letter:
            return [disc]
        return [disc, text_line(letter, (_SAMPLE_MM / 2, 0.7), 2.0, ink, is_bold=True, anchor="middle")]

    return draw


def _ringed(palette: Palette) -> list[Stroke]:
    return [*_disc(1.85, "paper", 0.3)(palette), *_disc(1.35, "paper", 0.3, "2")(palette)]


def _tick(palette: Palette) -> list[Stroke]:
    return [
        Line(points_mm=((0.0, 0.0), (_SAMPLE_MM, 0.0)), width_mm=0.6, colour=palette.intent),
        Line(points_mm=((_SAMPLE_MM / 2, -1.2), (_SAMPLE_MM / 2, 1.2)), width_mm=0.4, colour=palette.intent),
    ]


def _caution(palette: Palette) -> list[Stroke]:
    return caution_sign(_SAMPLE_MM / 2, 0.2, palette)


def caution_sign(x_mm: float, y_mm: float, palette: Palette) -> list[Stroke]:
    """A black triangle on its base, middle at a point, a light edge round it."""
    corners = ((x_mm, y_mm - 1.5), (x_mm + 1.4, y_mm + 1.0), (x_mm - 1.4, y_mm + 1.0))
    ring = tuple((round(x, 3), round(y, 3)) for x, y in corners)
    return [
        Line(points_mm=(*ring, ring[0]), width_mm=0.7, colour=palette.paper),
        Area(rings_mm=(ring,), fill=palette.text),
    ]


def _square(palette: Palette) -> list[Stroke]:
    ring = ((1.85, -1.15), (4.15, -1.15), (4.15, 1.15), (1.85, 1.15))
    return [
        Area(rings_mm=(ring,), fill=palette.text),
        text_line("A", (_SAMPLE_MM / 2, 0.75), 2.2, palette.paper, is_bold=True, anchor="middle"),
    ]


def _post(palette: Palette) -> list[Stroke]:
    ring = ((3.0, -1.5), (4.4, 1.0), (1.6, 1.0), (3.0, -1.5))
    return [
        Line(points_mm=((3.0, 0.0), (0.2, -1.2)), width_mm=0.2, colour=palette.text),
        Line(points_mm=((3.0, 0.0), (5.8, -1.2)), width_mm=0.2, colour=palette.text),
        Area(rings_mm=(ring,), fill=palette.paper),
        Line(points_mm=ring, width_mm=0.3, colour=palette.text),
    ]


def _shelter(palette: Palette) -> list[Stroke]:
    return [
        Line(points_mm=((3.0, 0.0), (5.4, 0.0)), width_mm=0.55, colour=palette.text),
        *_disc(1.4, "paper", 0.25, "1")(palette),
    ]


ENTRIES: dict[str, Entry] = {
    "route": Entry(words="route, time there", sample=_tick),
    "route_rest": Entry(words="route, not reached", sample=_line(0.35, "intent", (1.6, 1.2))),
    "route_plain": Entry(words="route", sample=_line(0.6, "intent")),
    "way_off": Entry(words="way to the site", sample=_line(0.35, "intent", (0.7, 0.7))),
    "halt": Entry(words="halt", sample=_disc(0.55, "intent", 0.1)),
    "turn_back": Entry(words="turn back from here", sample=_disc(1.0, "paper", 0.4)),
    "caution": Entry(words="caution of this number", sample=_caution),
    "pick": Entry(words="tonight's site", sample=_disc(1.6, "text", 0.3, "1")),
    "alternate": Entry(words="alternate", sample=_ringed),
    "site": Entry(words="other site, by rank", sample=_disc(1.6, "paper", 0.3, "2")),
    "part": Entry(words="one of two places for the unit", sample=_disc(1.6, "paper", 0.3, "A")),
    "early": Entry(words="reach if fast", sample=_line(REACH_LOOKS["early"][0], "reach", REACH_LOOKS["early"][1])),
    "likely": Entry(words="reach, likely", sample=_line(REACH_LOOKS["likely"][0], "reach", REACH_LOOKS["likely"][1])),
    "late": Entry(words="reach if slow", sample=_line(REACH_LOOKS["late"][0], "reach", REACH_LOOKS["late"][1])),
    "release": Entry(words="avalanche: release", sample=_hatched(1)),
    "runout": Entry(words="avalanche: runout", sample=_hatched(-1)),
    "unknown": Entry(words="not known", sample=_hatched(1, "hatch")),
    "water": Entry(words="open or frozen water", sample=_patch("water")),
    "stream": Entry(words="stream", sample=_line(0.22, "reach", paler=0.6)),
    "derived": Entry(words="stream by the lie of the land", sample=_line(0.12, "reach", paler=0.6)),
    "track": Entry(words="track or road", sample=_line(0.25, "text", (2.0, 0.8), paler=0.75)),
    "evergreen": Entry(words="evergreen", sample=_patch("evergreen")),
    "deciduous": Entry(words="leaf-shedding", sample=_patch("deciduous")),
    "forest": Entry(words="trees, leaf not known", sample=_patch("forest")),
    "bog": Entry(words="bog", sample=_patch("bog")),
    "shelter": Entry(words="shelter, its door", sample=_shelter),
    "leader": Entry(words="leader's", sample=_disc(1.5, "text", 0.25, "1")),
    "place": Entry(words="other place, by letter", sample=_square),
    "post": Entry(words="post and the sides of its sector", sample=_post),
    "section": Entry(words="ground of a section", sample=_line(0.2, "soft_text", SECTION_DASH_MM)),
    "perimeter": Entry(words="perimeter", sample=_line(0.25, "text", (0.4, 1.0))),
    "way_in": Entry(words="way in", sample=_line(0.45, "text", (2.2, 0.7))),
    "dummy": Entry(words="trail that goes on past", sample=_line(0.3, "text", (0.8, 1.6))),
    "outline": Entry(words="edge of the site", sample=_line(0.3, "soft_text", (1.2, 0.8))),
}
