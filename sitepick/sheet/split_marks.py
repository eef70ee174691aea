"""Two sites for one unit on a map: where no place holds all of it, each part's outline, letter and name."""

from __future__ import annotations

from sitepick.sheet.map_frame import LabelRoom, MapFrame
from sitepick.sheet.model import Anchor, Disc, Point, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.shape import as_multipolygon
from sitepick.sheet.typeface import shortened, text_line
from sitepick.sites.model import PART_LETTERS
from sitepick.tonight import Tonight

_DISC_MM, _LABEL_MM, _NAME_MM = 1.8, 2.5, 60.0
EDGE_MM, EDGE_DASH_MM = 0.4, (1.2, 0.8)


def split_strokes(
    answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette
) -> tuple[list[Stroke], list[str]]:
    """Strokes, and the keys of their signs; nothing where the unit isn't split.

    Parameters
    ----------
    answer : Tonight
    frame : MapFrame
    room : LabelRoom
        Where names may still go.
    palette : Palette
    """
    split = answer.sites.split
    strokes: list[Stroke] = []
    if split is None:
        return strokes, []
    named = []
    for letter, part in zip(PART_LETTERS, split.parts, strict=True):
        strokes += frame.outline(as_multipolygon(part.outline_m), EDGE_MM, palette.text, dash_mm=EDGE_DASH_MM)
        if not frame.holds(part.east_m, part.north_m):
            continue
        x, y = frame.point(part.east_m, part.north_m)
        strokes += [
            Disc(x_mm=x, y_mm=y, radius_mm=_DISC_MM, fill=palette.paper, edge=palette.text, edge_mm=0.3),
            text_line(letter, (x, y + 0.9), 2.7, palette.text, is_bold=True, anchor="middle"),
        ]
        room.take((x - 2.0, y - 2.0, x + 2.0, y + 2.0))
        named.append((part.name, x, y))
    for name, x, y in named:
        places: tuple[tuple[Point, Anchor], ...] = (
            ((x + 3.0, y + 0.9), "start"), ((x - 3.0, y + 0.9), "end"), ((x, y - 3.2), "middle"),
            ((x, y + 5.0), "middle"),
        )  # fmt: skip
        short = shortened(name.split(",")[0], _LABEL_MM, _NAME_MM, is_bold=True)
        label = room.first_free(
            text_line(short, place, _LABEL_MM, palette.text, is_bold=True, anchor=anchor, halo=palette.paper)
            for place, anchor in places
        )
        strokes += [] if label is None else [label]
    return strokes, ["split"] if strokes else []
