"""Three norths in a map's margin: true, grid and magnetic, and what to add to a bearing for a compass."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sitepick.grid import Grid
from sitepick.magnetic import FIRST_YEAR, LAST_YEAR, MODEL_NAME, Declination, declination
from sitepick.sheet.model import Area, Line, Point, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import text_line
from sitepick.tonight import Tonight

_SMALL_MM = 2.3
_LENGTH_MM = 9.6
_LEAN_DEG = 27.0  # between neighbours; the true angles are told in words
_NEXT_TO_NOTHING_DEG = 0.05


@dataclass(frozen=True, slots=True, kw_only=True)
class Norths:
    """How the three norths lie to each other at a place.

    Attributes
    ----------
    convergence_deg : float
        True bearing of grid north, positive to the east.
    needle : Declination or None
    why_none : str
        A sentence where there is no declination; else empty.
    """

    convergence_deg: float
    needle: Declination | None
    why_none: str = ""

    @property
    def grid_magnetic_deg(self) -> float | None:
        """Grid bearing of magnetic north, positive to the east; None where it isn't known."""
        if self.needle is None:
            return None
        return (self.needle.declination_deg - self.convergence_deg + 180.0) % 360.0 - 180.0


def norths_at(grid: Grid, east_m: float, north_m: float, moment: datetime) -> Norths:
    """The norths at a place of the grid on a day."""
    lon, lat = grid.to_lonlat(east_m, north_m)
    found = declination(float(lon), float(lat), moment)
    convergence = grid.convergence_deg(east_m, north_m)
    if isinstance(found, str):
        return Norths(convergence_deg=convergence, needle=None, why_none=found)
    return Norths(convergence_deg=convergence, needle=found)


def camp_norths(answer: Tonight) -> Norths:
    """The norths at the pick; without one, in the middle of the ground."""
    found = answer.sites.sites
    east_m, north_m = (found[0].east_m, found[0].north_m) if found else answer.ground.grid.centre_m
    return norths_at(answer.ground.grid, east_m, north_m, answer.march.depart)


def north_words(norths: Norths, moment: datetime) -> str:
    """Grid and magnetic north against true north, and what a compass wants."""
    convergence = norths.convergence_deg
    if abs(convergence) < _NEXT_TO_NOTHING_DEG:
        text = "Grid north is true north."
    else:
        text = f"Grid north lies {_side(convergence)} of true north."
    needle, turn = norths.needle, norths.grid_magnetic_deg
    if needle is None or turn is None:
        return f"{text} {norths.why_none}"
    change = needle.change_deg_a_year
    moves = f", moving {abs(change):.1f}° {_quarter(change)} a year" if abs(change) >= _NEXT_TO_NOTHING_DEG else ""
    unsteady = (
        " The needle is unsteady so near to the magnetic pole: check it by the sun." if needle.is_unsteady else ""
    )
    return (
        f"{text} Magnetic north lies {_side(needle.declination_deg)} of true north{moves}, and {_side(turn)} of grid "
        f"north ({MODEL_NAME}, {moment:%B %Y}). {compass_words(norths)}{unsteady}"
    )


def compass_words(norths: Norths) -> str:
    """What makes a compass bearing of a true and of a grid bearing; empty where it isn't known."""
    needle, turn = norths.needle, norths.grid_magnetic_deg
    if needle is None or turn is None:
        return ""
    return f"For the compass {_correction(needle.declination_deg)} a true bearing, {_correction(turn)} a grid bearing."


def norths_document(answer: Tonight) -> dict[str, Any]:
    """What ``tonight.json`` says of the norths at the pick."""
    norths = camp_norths(answer)
    needle, turn = norths.needle, norths.grid_magnetic_deg
    return {
        "convergence_deg": round(norths.convergence_deg, 3),
        "declination_deg": None if needle is None else round(needle.declination_deg, 2),
        "declination_change_deg_a_year": None if needle is None else round(needle.change_deg_a_year, 3),
        "grid_magnetic_deg": None if turn is None else round(turn, 2),
        "model": MODEL_NAME,
        "model_from_year": FIRST_YEAR,
        "model_to_year": LAST_YEAR,
        "text": north_words(norths, answer.march.depart),
    }


def north_strokes(norths: Norths, foot_mm: Point, palette: Palette) -> list[Stroke]:
    """Three arrows out of one point, grid north straight up as on the map; not to scale, in the right order.

    Parameters
    ----------
    norths : Norths
    foot_mm : tuple
        Where they meet; the tips stand 10 mm above, their names 3 mm more.
    palette : Palette
    """
    turn = norths.grid_magnetic_deg
    is_one = abs(norths.convergence_deg) < _NEXT_TO_NOTHING_DEG
    middle_name = "true and grid" if is_one else "grid"
    arrows = [(middle_name, 0.0, is_one)]
    if not is_one:
        arrows.append(("true", -norths.convergence_deg, True))
    if turn is not None:
        arrows.append(("magnetic", turn, False))
    arrows.sort(key=lambda arrow: arrow[1])
    middle = next(index for index, arrow in enumerate(arrows) if arrow[0] == middle_name)
    strokes: list[Stroke] = []
    for index, (name, _, is_true) in enumerate(arrows):
        lean = math.radians((index - middle) * _LEAN_DEG)
        length_mm = _LENGTH_MM - (0.0 if name == middle_name else 1.0)
        tip = (foot_mm[0] + length_mm * math.sin(lean), foot_mm[1] - length_mm * math.cos(lean))
        strokes.append(Line(points_mm=(foot_mm, _rounded(tip)), width_mm=0.25, colour=palette.text))
        strokes.append(_head(tip, lean, is_full=is_true, palette=palette))
        far_mm = length_mm + 0.8
        at = (foot_mm[0] + far_mm * math.sin(lean), foot_mm[1] - far_mm * math.cos(lean) + 0.3 * abs(index - middle))
        anchor = "middle" if index == middle else "start" if index > middle else "end"
        strokes.append(text_line(name, _rounded(at), 2.1, palette.text, anchor=anchor))  # type: ignore[arg-type]
    return strokes


def _head(tip: Point, lean: float, *, is_full: bool, palette: Palette) -> Stroke:
    """A full head for true north, an open half for the others."""
    left = (tip[0] + 1.7 * math.sin(lean + 2.72), tip[1] - 1.7 * math.cos(lean + 2.72))
    right = (tip[0] + 1.7 * math.sin(lean - 2.72), tip[1] - 1.7 * math.cos(lean - 2.72))
    if is_full:
        return Area(rings_mm=((_rounded(tip), _rounded(left), _rounded(right)),), fill=palette.text)
    return Line(points_mm=(_rounded(left), _rounded(tip), _rounded(right)), width_mm=0.25, colour=palette.text)


def _rounded(point: Point) -> Point:
    return round(point[0], 3), round(point[1], 3)


def _quarter(angle_deg: float) -> str:
    return "east" if angle_deg > 0.0 else "west"


def _side(angle_deg: float) -> str:
    return f"{abs(angle_deg):.1f}° {_quarter(angle_deg)}"


def _correction(east_deg: float) -> str:
    """A needle that points east shows too little: its angle is taken off."""
    told = f"{abs(east_deg):.1f}°"
    return f"take {told} off" if east_deg > 0.0 else f"add {told} to"
