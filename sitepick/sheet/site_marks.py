"""The sites on the sheet's map: the pick, the alternate, the others, or the two places of a unit that no site holds."""

from __future__ import annotations

from sitepick.sheet.map_frame import LabelRoom, MapFrame
from sitepick.sheet.model import Anchor, Disc, Point, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.shape import as_multipolygon
from sitepick.sheet.typeface import shortened, text_line
from sitepick.sites.model import SplitPart
from sitepick.tonight import Tonight

_LABEL_MM = 2.5
_DISC_MM, _RING_MM = 1.8, 2.4
_NAME_MM = 60.0


def site_marks(
    answer: Tonight, frame: MapFrame, room: LabelRoom, palette: Palette
) -> tuple[list[Stroke], tuple[str, ...]]:
    """Outlines, and discs that keep clear of each other, with the legend's keys; the pick is drawn last.

    Parameters
    ----------
    answer : Tonight
    frame : MapFrame
    room : LabelRoom
        Where labels may still go.
    palette : Palette
    """
    strokes: list[Stroke] = []
    keys = []
    for site in reversed(answer.sites.sites):
        strokes += frame.outline(as_multipolygon(site.outline_m), 0.55 if site.rank == 1 else 0.35, palette.text)
        if frame.holds(site.east_m, site.north_m):
            is_alternate = site == answer.sites.alternate
            at = frame.point(site.east_m, site.north_m)
            strokes += _disc(at, str(site.rank), palette, is_pick=site.rank == 1, is_ringed=is_alternate)
            keys.append("pick" if site.rank == 1 else "alternate" if is_alternate else "site")
            _take(room, at, 2.8 if is_alternate else 2.0)
    for site in answer.sites.pick_and_alternate():
        if frame.holds(site.east_m, site.north_m):
            strokes += _name(site.name, frame.point(site.east_m, site.north_m), room, palette)
    parts = split_parts(answer)
    for letter, part in zip("AB", parts, strict=False):
        strokes += frame.outline(as_multipolygon(part.outline_m), 0.55, palette.text)
        at = frame.point(part.east_m, part.north_m)
        strokes += _disc(at, letter, palette)
        keys.append("part")
        _take(room, at, 2.0)
        strokes += _name(part.name, at, room, palette)
    return strokes, tuple(keys[::-1])


def split_parts(answer: Tonight) -> tuple[SplitPart, ...]:
    """The two places that hold the unit between them, where no site holds all of it."""
    split = answer.sites.split
    return split.parts if split is not None and not answer.sites.sites else ()


def _disc(at_mm: Point, text: str, palette: Palette, *, is_pick: bool = False, is_ringed: bool = False) -> list[Stroke]:
    """A rank or letter in a disc, the pick's filled, the alternate's with a second ring."""
    fill, ink = (palette.text, palette.paper) if is_pick else (palette.paper, palette.text)
    x, y = at_mm
    ring = Disc(x_mm=x, y_mm=y, radius_mm=_RING_MM, fill=palette.paper, edge=palette.text, edge_mm=0.3)
    return [
        *([ring] if is_ringed else []),
        Disc(x_mm=x, y_mm=y, radius_mm=_DISC_MM, fill=fill, edge=palette.text, edge_mm=0.3),
        text_line(text, (x, y + 0.9), 2.7, ink, is_bold=True, anchor="middle"),
    ]


def _take(room: LabelRoom, at_mm: Point, half_mm: float) -> None:
    x, y = at_mm
    room.take((x - half_mm, y - half_mm, x + half_mm, y + half_mm))


def _name(name: str, at_mm: Point, room: LabelRoom, palette: Palette) -> list[Stroke]:
    """A name beside a disc where there is room; none where there isn't."""
    x, y = at_mm
    text = shortened(name.split(",")[0], _LABEL_MM, _NAME_MM, is_bold=True)
    choices: tuple[tuple[Point, Anchor], ...] = (
        ((x + 3.3, y + 0.9), "start"), ((x - 3.3, y + 0.9), "end"), ((x, y - 3.5), "middle"),
        ((x, y + 5.3), "middle"), ((x + 2.4, y - 3.5), "start"), ((x + 2.4, y + 5.3), "start"),
        ((x - 2.4, y - 3.5), "end"), ((x - 2.4, y + 5.3), "end"), ((x, y - 6.5), "middle"),
        ((x, y + 8.0), "middle"),
    )  # fmt: skip
    label = room.first_free(
        text_line(text, point, _LABEL_MM, palette.text, is_bold=True, anchor=anchor, halo=palette.paper)
        for point, anchor in choices
    )
    return [] if label is None else [label]
