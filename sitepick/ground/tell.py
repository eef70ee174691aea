"""Files in a sentence."""

from __future__ import annotations

from pyproj import CRS, Transformer

from sitepick.grid import WGS84
from sitepick.ground.raster import COVER, RasterFile, map_point

_EDGE_POINTS = 21
_UNIT_PLURALS = {
    "metre": "metres",
    "foot": "feet",
    "us_survey_foot": "US survey feet",
    "centimetre": "centimetres",
    "decimetre": "decimetres",
}


def raster_sentence(file: RasterFile) -> str:
    """Format, projection, cell size on the ground and extent of a raster.

    >>> lonlat_text(11.0, 57.0, 12.0, 58.0)
    '57.000 to 58.000° N, 11.000 to 12.000° E'
    """
    across_m, down_m = file.cell_ground_m
    unit = "" if file.role == COVER else f", heights in {_UNIT_PLURALS[file.unit_name]}"
    return (
        f"{file.driver}, {crs_text(file.crs)}, {file.cols} x {file.rows} cells of {_length(across_m)} x "
        f"{_length(down_m)} m on the ground{unit}, {lonlat_text(*lonlat_bounds(file))}."
    )


def lonlat_bounds(file: RasterFile) -> tuple[float, float, float, float]:
    """West, south, east and north of a raster, in degrees."""
    corners = [map_point(file.transform, col, row) for col in (0, file.cols) for row in (0, file.rows)]
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    transformer = Transformer.from_crs(file.crs, CRS.from_user_input(WGS84), always_xy=True)
    west, south, east, north = transformer.transform_bounds(
        min(xs), min(ys), max(xs), max(ys), densify_pts=_EDGE_POINTS
    )
    return west, south, east, north


def lonlat_text(west: float, south: float, east: float, north: float) -> str:
    """An extent as people read it."""
    return f"{_span(south, north, 'N', 'S')}, {_span(west, east, 'E', 'W')}"


def crs_text(crs: CRS) -> str:
    """A projection's code and name."""
    authority = crs.to_authority(min_confidence=70)
    return f"{':'.join(authority)} ({crs.name})" if authority else crs.name


def _span(low: float, high: float, plus: str, minus: str) -> str:
    if high <= 0.0:
        return f"{-high:.3f} to {-low:.3f}° {minus}"
    if low < 0.0:
        return f"{-low:.3f}° {minus} to {high:.3f}° {plus}"
    return f"{low:.3f} to {high:.3f}° {plus}"


def _length(value_m: float) -> str:
    return f"{value_m:.0f}" if value_m >= 20.0 else f"{value_m:.1f}"
