"""Shares of the camp's ground and ways in and past it, as told in ``tonight.json``."""

from __future__ import annotations

from typing import Any

import numpy as np
import shapely
from shapely import Polygon

from sitepick.camp.model import Camp
from sitepick.grid import DoubleArray, Grid


def camp_ground_document(camp: Camp, grid: Grid) -> dict[str, Any]:
    """Sub-areas, perimeter, way in and dummy trail of a camp as plain values.

    Parameters
    ----------
    camp : Camp
    grid : Grid

    Returns
    -------
    dict
        ``sub_areas``, ``perimeter``, ``way_in``, ``dummy_trail`` and ``security_words``. Rings and lines are lists of
        ``[easting_m, northing_m]`` to the centimetre, a ring closed, the outer one first; areas and lengths are the
        ground's. What was not laid out, or has no line, is None.
    """
    security = camp.security
    return {
        "sub_areas": [{"section": area.section, **_area(area.outline_m, grid)} for area in camp.sub_areas],
        "perimeter": None if security is None else _area(security.perimeter_m, grid),
        "way_in": None if security is None else _way(security.way_in_m, grid),
        "dummy_trail": None if security is None else _way(security.dummy_trail_m, grid),
        "security_words": [] if security is None else list(security.sentences),
    }


def _area(outline_m: Polygon, grid: Grid) -> dict[str, Any]:
    rings = [outline_m.exterior, *outline_m.interiors]
    ground_scale = grid.cell_area_m2 / grid.cell_m**2
    return {
        "area_m2": round(outline_m.area * ground_scale, 1),
        "rings_m": [_points(shapely.get_coordinates(ring)) for ring in rings],
    }


def _way(line_m: DoubleArray, grid: Grid) -> dict[str, Any] | None:
    if len(line_m) < 2:
        return None
    length_m = float(np.hypot(*np.diff(line_m, axis=0).T).sum()) * grid.ground_cell_m / grid.cell_m
    return {"length_m": round(length_m, 1), "line_m": _points(line_m)}


def _points(points_m: DoubleArray) -> list[list[float]]:
    return [[round(east_m, 2), round(north_m, 2)] for east_m, north_m in np.asarray(points_m, float).tolist()]
