"""Lines and named places as a file holds them, before anything is made of them."""

from __future__ import annotations

from dataclasses import dataclass

from sitepick.caution import Caution
from sitepick.grid import DoubleArray

NAME_LETTERS_MAX = 60
OWN_SOURCE = "sitepick tonight"  # stands as `src` with points that we wrote beside a route: shelters and the like


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RawLine:
    """One line of a file, its parts joined in their order.

    Attributes
    ----------
    name : str
        Its own name; empty where it has none.
    points : float64 array of shape (n, 2)
        Longitude and latitude, degrees; NaN where the file's figures are none.
    seconds : float64 array of shape (n,)
        When each was recorded, on any clock; NaN: not told.
    point_names : tuple of str or None
        One a point.
    part_starts : tuple of int
        First point of each part, the first 0.
    """

    name: str
    points: DoubleArray
    seconds: DoubleArray
    point_names: tuple[str | None, ...]
    part_starts: tuple[int, ...] = (0,)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RawPlace:
    """A point of a file that belongs to none of its lines, with its name as far as it has one."""

    name: str
    lon_deg: float
    lat_deg: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RawFile:
    """What a file holds.

    Attributes
    ----------
    lines : tuple of RawLine
        In the order in which they are wanted: the first is tonight's route.
    line_count : int
        Lines in the file; those past `lines` weren't read.
    places : tuple of RawPlace
        Named points, in the file's order.
    nameless : tuple of RawPlace
        Points without a name, likewise; only a GPX tells them.
    cautions : tuple of Caution
    """

    lines: tuple[RawLine, ...]
    line_count: int
    places: tuple[RawPlace, ...]
    nameless: tuple[RawPlace, ...] = ()
    cautions: tuple[Caution, ...] = ()


def tidy_name(text: object) -> str:
    """A name on one line and of a length that a map can show; empty where there is none."""
    if not isinstance(text, str):
        return ""
    flat = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return flat if len(flat) <= NAME_LETTERS_MAX else flat[: NAME_LETTERS_MAX - 1].rstrip() + "…"
