"""A small picture of a route: its course from above with its nights, and its heights below."""

from __future__ import annotations

import math

import numpy as np

from sitepick.grid import DoubleArray
from sitepick.journey.model import Day, RouteJourney
from sitepick.journey.model import Line as RouteLine
from sitepick.sheet.model import Area, Disc, Line, Point, Stroke
from sitepick.sheet.palette import Palette, mixed
from sitepick.sheet.typeface import text_line

Box = tuple[float, float, float, float]  # left, top, width and height, mm

_PROFILE_FRAC = 0.3
_PAD_MM = 3.0
_DISC_MM = 1.9
_LABEL_MM = 2.4
_GOOD, _FAIR = 85.0, 65.0  # from these scores on a night is drawn as good, as middling


def grade_colour(score: float, palette: Palette) -> str:
    """The colour of a night by its score."""
    return palette.grade_good if score >= _GOOD else palette.grade_middle if score >= _FAIR else palette.grade_poor


def bounds_of(routes: tuple[RouteJourney, ...]) -> tuple[float, float, float, float]:
    """West, south, east and north of some routes, in metres from their first start, so that all share one scale."""
    places = [_plane(one.survey.line, routes[0].survey.line) for one in routes]
    east = np.concatenate([place[0] for place in places])
    north = np.concatenate([place[1] for place in places])
    return float(east.min()), float(north.min()), float(east.max()), float(north.max())


def route_picture(one: RouteJourney, first: RouteJourney, bounds_m: Box, box: Box, palette: Palette) -> list[Stroke]:
    """Strokes of one route's picture.

    Parameters
    ----------
    one : RouteJourney
    first : RouteJourney
        The route whose start all pictures are drawn from.
    bounds_m : tuple
        As `bounds_of` tells them.
    box : tuple
        Left, top, width and height on the page.
    palette : Palette
    """
    left, top, width, height = box
    line = one.survey.line
    plan_mm = height * (1.0 - _PROFILE_FRAC)
    strokes: list[Stroke] = [
        Area(rings_mm=(_ring(left, top, width, height),), fill=mixed(palette.snow, palette.paper, 0.5))
    ]
    east, north = _plane(line, first.survey.line)
    west_m, south_m, east_m, north_m = bounds_m
    scale = min(
        (width - 2 * _PAD_MM) / max(east_m - west_m, 1.0), (plan_mm - 2 * _PAD_MM) / max(north_m - south_m, 1.0)
    )
    x = left + width / 2.0 + (east - (west_m + east_m) / 2.0) * scale
    y = top + plan_mm / 2.0 - (north - (south_m + north_m) / 2.0) * scale
    strokes += _course(line, x, y, palette)
    strokes += _profile(one, (left, top + plan_mm, width, height - plan_mm), palette)
    for day in one.nights:
        at = int(np.searchsorted(line.distance_m, min(day.end_m, line.length_m)))
        at = min(at, len(x) - 1)
        strokes += _night((float(x[at]), float(y[at])), day, palette)
    strokes += _scale_bar((left + width - _PAD_MM, top + plan_mm - 1.5), scale, width, palette)
    strokes.append(Line(points_mm=_closed(_ring(left, top, width, height)), width_mm=0.2, colour=palette.edge))
    return strokes


def _plane(line: RouteLine, first: RouteLine) -> tuple[DoubleArray, DoubleArray]:
    """Metres east and north of the first route's start; good enough for a picture of a hand's width."""
    narrow = math.cos(math.radians(float(first.lat_deg[0])))
    east = ((line.lon_deg - first.lon_deg[0] + 180.0) % 360.0 - 180.0) * 111_200.0 * narrow
    return east, (line.lat_deg - first.lat_deg[0]) * 111_200.0


def _course(line: RouteLine, x: DoubleArray, y: DoubleArray, palette: Palette) -> list[Stroke]:
    step = max(1, len(x) // 400)
    keep = np.unique(np.append(np.arange(0, len(x), step), len(x) - 1))
    points = tuple((round(float(x[k]), 2), round(float(y[k]), 2)) for k in keep)
    strokes: list[Stroke] = [Line(points_mm=points, width_mm=0.6, colour=palette.intent)]
    mask = line.is_avalanche
    edges = np.flatnonzero(np.diff(np.concatenate(([0], mask.astype(int), [0]))))
    for begin, end in zip(edges[::2], edges[1::2], strict=True):
        if end - begin > 1:
            part = tuple((round(float(x[k]), 2), round(float(y[k]), 2)) for k in range(begin, end))
            strokes.append(Line(points_mm=part, width_mm=1.3, colour=palette.caution_bar))
    return strokes


def _night(at_mm: Point, day: Day, palette: Palette) -> list[Stroke]:
    """A ring with the night's number; crossed where there is no site."""
    x, y = at_mm
    is_bare = day.night is not None and day.night.is_bare
    edge = palette.text if is_bare else grade_colour(day.score, palette)
    strokes: list[Stroke] = [Disc(x_mm=x, y_mm=y, radius_mm=_DISC_MM, fill=palette.paper, edge=edge, edge_mm=0.7)]
    if is_bare:
        far = 1.5 * _DISC_MM
        strokes += [
            Line(points_mm=((x - far, y - sign * far), (x + far, y + sign * far)), width_mm=0.5, colour=palette.text)
            for sign in (-1.0, 1.0)
        ]
    label = text_line(
        str(day.number), (x, y + 0.36 * _LABEL_MM), _LABEL_MM, palette.text, is_bold=True, anchor="middle",
        halo=palette.paper,
    )  # fmt: skip
    return [*strokes, label]


def _profile(one: RouteJourney, box: Box, palette: Palette) -> list[Stroke]:
    """Heights along the way, the lowest and highest told, the nights as uprights."""
    left, top, width, height = box
    line = one.survey.line
    is_known = np.isfinite(line.height_m)
    if is_known.sum() < 2:
        return []
    low, high = float(line.height_m[is_known].min()), float(line.height_m[is_known].max())
    inner, floor = height - 7.0, top + height - 2.0
    step = max(1, int(is_known.sum()) // 240)
    keep = np.flatnonzero(is_known)[::step]
    x = left + 1.0 + line.distance_m[keep] / line.length_m * (width - 2.0)
    y = floor - (line.height_m[keep] - low) / max(high - low, 20.0) * inner
    points = tuple((round(float(a), 2), round(float(b), 2)) for a, b in zip(x, y, strict=True))
    under = (*points, (points[-1][0], floor), (points[0][0], floor))
    strokes: list[Stroke] = [
        Area(rings_mm=(under,), fill=mixed(palette.contour, palette.paper, 0.25)),
        Line(points_mm=points, width_mm=0.3, colour=palette.contour),
        text_line(f"{low:.0f} to {high:.0f} m", (left + 1.0, top + 2.6), 2.3, palette.soft_text),
    ]
    for day in one.nights:
        at = left + 1.0 + day.end_m / line.length_m * (width - 2.0)
        colour = grade_colour(day.score, palette)
        strokes.append(Line(points_mm=((at, floor - inner), (at, floor)), width_mm=0.5, colour=colour))
    return strokes


def _scale_bar(end_mm: Point, scale: float, width: float, palette: Palette) -> list[Stroke]:
    """A round length that fits into a quarter of the picture."""
    most_m = 0.3 * width / scale
    length_m = max(
        step * 10.0**power
        for power in range(2, 6)
        for step in (1, 2, 5)
        if step * 10.0**power <= most_m or (step, power) == (1, 2)
    )
    right, y = end_mm
    left = right - length_m * scale
    words = f"{length_m / 1000:g} km" if length_m >= 1000 else f"{length_m:.0f} m"
    return [
        Line(points_mm=((left, y), (right, y)), width_mm=0.4, colour=palette.soft_text),
        text_line(words, (right, y - 0.8), 2.1, palette.soft_text, anchor="end", halo=palette.paper),
    ]


def _ring(left: float, top: float, width: float, height: float) -> tuple[Point, ...]:
    return ((left, top), (left + width, top), (left + width, top + height), (left, top + height))


def _closed(ring: tuple[Point, ...]) -> tuple[Point, ...]:
    return (*ring, ring[0])
