"""Round a map: the grid's numbers outside the frame, then scale, norths, grid, datum and the legend under it."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from sitepick.grid import Grid
from sitepick.sheet.legend import legend_strokes
from sitepick.sheet.map_frame import MapFrame
from sitepick.sheet.map_sheet import grid_step_m, grid_values_m
from sitepick.sheet.model import Anchor, Point, Stroke, Text
from sitepick.sheet.norths import north_strokes, north_words, norths_at
from sitepick.sheet.palette import Palette
from sitepick.sheet.scale import CHECK_BAR_MM, check_bar, grid_squares, principal_digits, scale_bar
from sitepick.sheet.typeface import text_line, width_mm, wrapped

GRID_LABEL_MM = 5.6  # room left of and below a map
SMALL_MM = 2.3
_NORTHS_MM = 30.0
_LEAST_NORTHS_MM = 16.0
_BAR_MM = 45.0


def grid_labels(frame: MapFrame, palette: Palette) -> list[Stroke]:
    """The lines' principal digits outside the frame, left and below."""
    west, south, east, north = frame.bounds_m
    step_m = grid_step_m(frame)
    left, _, _, bottom = frame.box_mm
    strokes: list[Stroke] = []
    for at in grid_values_m(west, east, step_m):
        x, _ = frame.point(at, south)
        strokes.append(_grid_label(at, (x, bottom + 2.6), "middle", palette))
    for at in grid_values_m(south, north, step_m):
        _, y = frame.point(west, at)
        strokes.append(_grid_label(at, (left - 0.7, y + 0.8), "end", palette))
    return strokes


def _grid_label(value_m: float, at_mm: Point, anchor: Anchor, palette: Palette) -> Text:
    """Whole kilometres stand out from what lies between them."""
    is_whole = round(value_m) % 1000 == 0
    colour = palette.text if is_whole else palette.soft_text
    return text_line(principal_digits(value_m), at_mm, SMALL_MM, colour, is_bold=is_whole, anchor=anchor)


def map_notes(
    grid: Grid, frame: MapFrame, moment: datetime, contour_m: float | None, keys: Iterable[str], palette: Palette
) -> tuple[list[Stroke], float]:
    """Everything under a map, and how far down it reaches from the frame.

    Parameters
    ----------
    grid : Grid
    frame : MapFrame
    moment : datetime
        For the declination.
    contour_m : float or None
    keys : iterable of str
        Signs that are shown.
    palette : Palette
    """
    left, _, right, bottom = frame.box_mm
    room_mm = right - left - _NORTHS_MM - 3.0
    y = bottom + 6.6
    scale = f"1:{frame.scale_denominator:,}".replace(",", " ")
    strokes: list[Stroke] = [text_line(scale, (left, y), 3.2, palette.text, is_bold=True)]
    bar_at = left + width_mm(scale, 3.2, is_bold=True) + 3.0
    most_mm = min(_BAR_MM, room_mm - CHECK_BAR_MM - (bar_at - left) - 16.0)
    strokes += scale_bar(frame, (bar_at, y - 0.3), most_mm, palette)
    strokes += check_bar((left + room_mm - CHECK_BAR_MM, y - 0.3), palette)

    norths = norths_at(grid, frame.centre_east_m, frame.centre_north_m, moment)
    strokes += north_strokes(norths, (right - _NORTHS_MM * 0.55, bottom + _LEAST_NORTHS_MM - 0.3), palette)
    squares = " and ".join(grid_squares(grid, frame))
    contours = "" if contour_m is None else f" Contours every {contour_m:g} m."
    text = (
        f"Grid every {grid_step_m(frame):g} m, square {squares}, {grid_words(grid.crs)}. Datum WGS 84.{contours} "
        f"{north_words(norths, moment)}"
    )
    y += 0.6
    for line in wrapped(text, SMALL_MM, room_mm):
        y += 3.0
        strokes.append(text_line(line, (left, y), SMALL_MM, palette.soft_text))
    y = max(y + 1.6, bottom + _LEAST_NORTHS_MM)
    legend, high_mm = legend_strokes(keys, (left, y), right - left, palette)
    return [*strokes, *legend], y + high_mm - bottom


def grid_words(crs: str) -> str:
    """A projection as people know it.

    >>> grid_words("EPSG:32634"), grid_words("EPSG:5041")
    ('UTM zone 34 north (EPSG:32634)', 'UPS north (EPSG:5041)')
    """
    code = int(crs.rpartition(":")[2])
    if code in (5041, 5042):
        return f"UPS {'north' if code == 5041 else 'south'} ({crs})"
    half = {326: "north", 327: "south"}.get(code // 100)
    return f"UTM zone {code % 100} {half} ({crs})" if half else crs
