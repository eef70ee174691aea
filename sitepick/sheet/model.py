"""The sheet as data: pages of strokes in millimetres of paper, origin at the top left, y down.

Whoever draws a sheet needs no knowledge of ground, camps or wrapping: every stroke has its place.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
import numpy.typing as npt

Point = tuple[float, float]
Anchor = Literal["start", "middle", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A line through points.

    Attributes
    ----------
    points_mm : tuple of (x, y)
    width_mm : float
    colour : str
        ``"#RRGGBB"``.
    dash_mm : tuple of float
        Lengths drawn and left out in turn; empty: solid.
    """

    points_mm: tuple[Point, ...]
    width_mm: float
    colour: str
    dash_mm: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """A filled shape; a ring inside another is a hole.

    Attributes
    ----------
    rings_mm : tuple of rings, each a tuple of (x, y)
    fill : str
    """

    rings_mm: tuple[tuple[Point, ...], ...]
    fill: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Disc:
    """A round sign.

    Attributes
    ----------
    x_mm, y_mm, radius_mm : float
    fill, edge : str
    edge_mm : float
    """

    x_mm: float
    y_mm: float
    radius_mm: float
    fill: str
    edge: str
    edge_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Text:
    """One line of text.

    Attributes
    ----------
    x_mm, y_mm : float
        On the base line, at the anchor.
    text : str
    size_mm : float
        Size of the type (em).
    width_mm : float
        Room it has; the painter narrows what turns out wider (a script the shipped type lacks).
    colour : str
    is_bold : bool
    anchor : str
        Where in the text the point lies.
    halo : str or None
        Colour drawn round the letters so that they read on a map.
    """

    x_mm: float
    y_mm: float
    text: str
    size_mm: float
    width_mm: float
    colour: str
    is_bold: bool = False
    anchor: Anchor = "start"
    halo: str | None = None

    @property
    def box_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom of the room it takes."""
        left = self.x_mm - {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor] * self.width_mm
        return left, self.y_mm - 0.78 * self.size_mm, left + self.width_mm, self.y_mm + 0.24 * self.size_mm


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Picture:
    """A picture without loss.

    Attributes
    ----------
    x_mm, y_mm, width_mm, height_mm : float
    pixels : uint8 array of shape (rows, cols, 3)
        Read-only.
    """

    x_mm: float
    y_mm: float
    width_mm: float
    height_mm: float
    pixels: npt.NDArray[np.uint8]

    def __post_init__(self) -> None:
        self.pixels.flags.writeable = False


Stroke = Line | Area | Disc | Text | Picture


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page.

    Attributes
    ----------
    width_mm, height_mm : float
    strokes : tuple of Stroke
        In the order they are drawn.
    """

    width_mm: float
    height_mm: float
    strokes: tuple[Stroke, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """What is printed.

    Attributes
    ----------
    title, subject : str
        As the file tells them.
    scale_denominator : int
        Of the map: 25000 for 1:25 000 on the ground.
    pages : tuple of Page
        At least one; the map is on the first.
    """

    title: str
    subject: str
    scale_denominator: int
    pages: tuple[Page, ...]


def moved(stroke: Stroke, right_mm: float, down_mm: float) -> Stroke:
    """The same stroke at another place of the page."""
    if isinstance(stroke, Line):
        return replace(stroke, points_mm=_moved_points(stroke.points_mm, right_mm, down_mm))
    if isinstance(stroke, Area):
        return replace(stroke, rings_mm=tuple(_moved_points(ring, right_mm, down_mm) for ring in stroke.rings_mm))
    return replace(stroke, x_mm=stroke.x_mm + right_mm, y_mm=stroke.y_mm + down_mm)


def scaled(stroke: Stroke, factor: float) -> Stroke:
    """The same stroke with every length grown by a factor, its distance from the page's corner too."""
    if isinstance(stroke, Line):
        return replace(
            stroke,
            points_mm=_scaled_points(stroke.points_mm, factor),
            width_mm=stroke.width_mm * factor,
            dash_mm=tuple(length * factor for length in stroke.dash_mm),
        )
    if isinstance(stroke, Area):
        return replace(stroke, rings_mm=tuple(_scaled_points(ring, factor) for ring in stroke.rings_mm))
    lengths = [name for name in stroke.__slots__ if name.endswith("_mm")]
    return replace(stroke, **{name: getattr(stroke, name) * factor for name in lengths})


def _scaled_points(points: tuple[Point, ...], factor: float) -> tuple[Point, ...]:
    return tuple((x * factor, y * factor) for x, y in points)


def _moved_points(points: tuple[Point, ...], right_mm: float, down_mm: float) -> tuple[Point, ...]:
    return tuple((x + right_mm, y + down_mm) for x, y in points)
