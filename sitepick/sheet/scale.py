"""Scale bars, the check bar, norths and the grid's labels: what makes a map measurable."""

from __future__ import annotations

from sitepick.grid import Grid
from sitepick.sheet.map_frame import MapFrame
from sitepick.sheet.model import Area, Line, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import text_line

CHECK_BAR_MM = 100.0
_SMALL_MM = 2.3
_ROUND_LENGTHS_M = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0)


def scale_bar(frame: MapFrame, at_mm: tuple[float, float], room_mm: float, palette: Palette) -> list[Stroke]:
    """A bar of a round length on the ground, in two halves, with its ends told.

    Parameters
    ----------
    frame : MapFrame
    at_mm : tuple
        Left end of the bar, its base.
    room_mm : float
        The bar is at most this long, its label beside it not counted.
    palette : Palette
    """
    fitting = [length for length in _ROUND_LENGTHS_M if length * frame.mm_per_ground_m <= room_mm]
    length_m = fitting[-1] if fitting else _ROUND_LENGTHS_M[0]
    length_mm = length_m * frame.mm_per_ground_m
    x, y = at_mm
    high = 0.9
    told = f"{length_m / 1000:g} km" if length_m >= 1000.0 else f"{length_m:g} m"
    half = ((x, y), (x + length_mm / 2, y), (x + length_mm / 2, y - high), (x, y - high))
    outline = ((x, y), (x + length_mm, y), (x + length_mm, y - high), (x, y - high), (x, y))
    return [
        Area(rings_mm=(half,), fill=palette.text),
        Line(points_mm=outline, width_mm=0.15, colour=palette.text),
        text_line(told, (x + length_mm + 1.2, y + 0.1), _SMALL_MM, palette.text),
    ]


def check_bar(at_mm: tuple[float, float], palette: Palette) -> list[Stroke]:
    """A bar of 100 mm to hold a ruler against."""
    x, y = at_mm
    end = x + CHECK_BAR_MM
    return [
        Line(points_mm=((x, y), (end, y)), width_mm=0.25, colour=palette.text),
        Line(points_mm=((x, y - 1.2), (x, y + 1.2)), width_mm=0.25, colour=palette.text),
        Line(points_mm=((end, y - 1.2), (end, y + 1.2)), width_mm=0.25, colour=palette.text),
        text_line("100 mm – print at 100 %", (x + CHECK_BAR_MM / 2, y - 0.9), _SMALL_MM, palette.text, anchor="middle"),
    ]


def principal_digits(value_m: float) -> str:
    """The digits of a grid line that people read out: kilometres within the 100 km square, finer where need be.

    >>> principal_digits(7_479_000.0), principal_digits(502_500.0), principal_digits(502_550.0)
    ('79', '025', '0255')
    """
    within = round(value_m) % 100_000
    if within % 1000 == 0:
        return f"{within // 1000:02d}"
    return f"{within // 100:03d}" if within % 100 == 0 else f"{within // 10:04d}"


def grid_squares(grid: Grid, frame: MapFrame) -> tuple[str, ...]:
    """The 100 km squares that the map touches, such as ``"34W EV"``."""
    west, south, east, north = frame.bounds_m
    middle = (frame.centre_east_m, frame.centre_north_m)
    corners = (middle, (west, south), (west, north), (east, south), (east, north))
    references = (grid.mgrs(east_m, north_m)[:-10] for east_m, north_m in corners)
    return tuple(dict.fromkeys(f"{reference[:-2]} {reference[-2:]}" for reference in references))
