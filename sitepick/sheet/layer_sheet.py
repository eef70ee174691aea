"""A layer of the ground on a page of its own: title, picture, legend."""

from __future__ import annotations

import math

import numpy as np

from sitepick.ground.model import Ground
from sitepick.sheet.layer_look import LayerArray, LayerLook, Ramp, look_at, ramp_colour
from sitepick.sheet.model import Area, Line, Page, Picture, Sheet, Stroke
from sitepick.sheet.palette import Palette
from sitepick.sheet.typeface import shortened, text_line, wrapped

DOTS_PER_INCH = 254.0  # ten pixels a millimetre
_PIXEL_MM = 0.1
_PICTURE_MIN_PX, _PICTURE_MAX_PX = 600, 2400
_EDGE_MM, _LEGEND_MM, _GAP_MM = 5.0, 52.0, 5.0
_TITLE_MM, _WORDS_MM, _SMALL_MM = 5.0, 3.6, 3.0
_RAMP_WIDTH_MM, _RAMP_HEIGHT_MM, _RAMP_PX = 6.0, 60.0, 256
_SWATCH_MM, _ROW_MM = 4.0, 5.6
_UNIT_WORDS = {"degree": "°", "1": "share"}
_TITLES = {
    "cover_code": "Land cover",
    "water_kind": "Water to fetch",
    "frostbite_band": "Danger of frostbite at a shelter",
}  # where the meaning tells codes
_YES = ("1 on ", "1 where ")


def layer_sheet(name: str, values: LayerArray, told: tuple[str, str], ground: Ground, palette: Palette) -> Sheet:
    """Lay out one layer.

    Parameters
    ----------
    name : str
        The layer's.
    values : ndarray of the grid's shape
    told : (unit, meaning)
        As they stand in the layer's GeoTIFF.
    ground : Ground
    palette : Palette

    Returns
    -------
    Sheet
        One page; at `DOTS_PER_INCH` a cell is a whole number of pixels. Windows wider than `_PICTURE_MAX_PX`
        cells show every second cell, every third and so on.
    """
    unit, meaning = told
    look = look_at(name, values, unit, ground, palette)
    stride = math.ceil(max(values.shape) / _PICTURE_MAX_PX)
    shown = look.picture[::stride, ::stride]
    zoom = max(1, _PICTURE_MIN_PX // max(shown.shape[:2]))
    pixels = np.ascontiguousarray(shown.repeat(zoom, axis=0).repeat(zoom, axis=1))
    high_mm, wide_mm = pixels.shape[0] * _PIXEL_MM, pixels.shape[1] * _PIXEL_MM
    title = _title(name, meaning)
    title_lines = wrapped(title, _TITLE_MM, wide_mm + _GAP_MM + _LEGEND_MM, is_bold=True)
    top_mm = _EDGE_MM + len(title_lines) * 1.25 * _TITLE_MM + 1.5
    strokes: list[Stroke] = [
        text_line(line, (_EDGE_MM, _EDGE_MM + (number * 1.25 + 0.8) * _TITLE_MM), _TITLE_MM, palette.text, is_bold=True)
        for number, line in enumerate(title_lines)
    ]
    strokes.append(Picture(x_mm=_EDGE_MM, y_mm=top_mm, width_mm=wide_mm, height_mm=high_mm, pixels=pixels))
    legend, legend_end_mm = _legend(look, unit, (_EDGE_MM + wide_mm + _GAP_MM, top_mm), palette)
    foot_mm = max(top_mm + high_mm, legend_end_mm) + 1.6 * _SMALL_MM
    cell_mm = zoom * _PIXEL_MM / stride
    scale = round(ground.grid.ground_cell_m / (cell_mm / 1000.0))
    width_mm = wide_mm + _LEGEND_MM + _GAP_MM + 2 * _EDGE_MM
    foot = shortened(_foot(ground), _SMALL_MM, width_mm - 2 * _EDGE_MM)
    strokes += [*legend, text_line(foot, (_EDGE_MM, foot_mm), _SMALL_MM, palette.soft_text)]
    height_mm = foot_mm + _EDGE_MM
    paper = _box((0.0, 0.0), (width_mm, height_mm), palette.page)
    page = Page(width_mm=width_mm, height_mm=height_mm, strokes=(paper, *strokes))
    return Sheet(title=title, subject=name, scale_denominator=scale, pages=(page,))


def _title(name: str, meaning: str) -> str:
    told = _TITLES.get(name, meaning)
    for opening in _YES:
        told = told.removeprefix(opening)
    return told[:1].upper() + told[1:]


def _foot(ground: Ground) -> str:
    grid = ground.grid
    across_km, down_km = (count * grid.ground_cell_m / 1000.0 for count in (grid.cols, grid.rows))
    return (
        f"Grid north is up. {across_km:.1f} km across and {down_km:.1f} km down, cells of {grid.cell_m:g} m, "
        f"{grid.crs}; west edge {grid.west_m:.0f} m, north edge {grid.north_m:.0f} m."
    )


def _legend(look: LayerLook, unit: str, corner_mm: tuple[float, float], palette: Palette) -> tuple[list[Stroke], float]:
    """Strokes of the legend, and where it ends."""
    left, top = corner_mm
    strokes: list[Stroke] = []
    if look.ramp is not None:
        words = _UNIT_WORDS.get(unit, unit)
        strokes.append(text_line(words, (left, top + 0.8 * _WORDS_MM), _WORDS_MM, palette.soft_text))
        top += 2.0 * _WORDS_MM
        strokes += _ramp_strokes(look.ramp, (left, top), palette)
        top += _RAMP_HEIGHT_MM + 2.0 * _WORDS_MM
    for colour, words in look.swatches:
        for number, line in enumerate(wrapped(words, _WORDS_MM, _LEGEND_MM - _SWATCH_MM - 2.0)):
            if number == 0:
                strokes += _swatch((left, top), colour, palette)
            at = (left + _SWATCH_MM + 2.0, top + 0.82 * _SWATCH_MM)
            strokes.append(text_line(line, at, _WORDS_MM, palette.text))
            top += _ROW_MM
    return strokes, top


def _ramp_strokes(ramp: Ramp, corner_mm: tuple[float, float], palette: Palette) -> list[Stroke]:
    """The ramp, the highest value on top, with a tick and a number at each mark."""
    left, top = corner_mm
    low, high = ramp.marks[0], ramp.marks[-1]
    colours = [
        ramp_colour(1.0 - (row + 0.5) / _RAMP_PX, palette, is_turning=ramp.is_turning) for row in range(_RAMP_PX)
    ]
    strokes: list[Stroke] = [
        Picture(
            x_mm=left, y_mm=top, width_mm=_RAMP_WIDTH_MM, height_mm=_RAMP_HEIGHT_MM,
            pixels=np.array(colours, np.uint8)[:, None, :].copy(),
        )
    ]  # fmt: skip
    for mark in ramp.marks:
        y = top + (1.0 - (mark - low) / (high - low)) * _RAMP_HEIGHT_MM
        right = left + _RAMP_WIDTH_MM
        strokes.append(Line(points_mm=((right, y), (right + 1.5, y)), width_mm=0.2, colour=palette.text))
        is_past = (mark == low and ramp.has_lower, mark == high and ramp.has_higher)
        words = _number_words(mark) + " and less" * is_past[0] + " and more" * is_past[1]
        strokes.append(text_line(words, (right + 2.5, y + 0.33 * _WORDS_MM), _WORDS_MM, palette.text))
    return strokes


def _number_words(number: float) -> str:
    told = f"{number:,.0f}".replace(",", "\N{NO-BREAK SPACE}") if abs(number) >= 1e4 else f"{number:g}"
    return told.replace("-", "−")


def _swatch(corner_mm: tuple[float, float], colour: str, palette: Palette) -> list[Stroke]:
    left, top = corner_mm
    right, bottom = left + _SWATCH_MM, top + _SWATCH_MM
    edge = ((left, top), (right, top), (right, bottom), (left, bottom), (left, top))
    return [_box((left, top), (right, bottom), colour), Line(points_mm=edge, width_mm=0.15, colour=palette.hatch)]


def _box(corner_mm: tuple[float, float], other_mm: tuple[float, float], fill: str) -> Area:
    (left, top), (right, bottom) = corner_mm, other_mm
    return Area(rings_mm=(((left, top), (right, top), (right, bottom), (left, bottom)),), fill=fill)
