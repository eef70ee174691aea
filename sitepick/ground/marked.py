"""What the plan's marks are on the ground: closed ground, and water that may be drawn."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import shapely

from sitepick.grid import WGS84, Grid, MaskArray
from sitepick.ground.vector import Geometries, carried, mask_of
from sitepick.plan.exercise import acting_marks
from sitepick.plan.mark import Mark
from sitepick.plan.model import Plan


def mark_shapes(marks: Sequence[Mark], grid: Grid) -> Geometries:
    """Marks in the grid's coordinates; those that don't exist there are left out."""
    shapes = np.empty(len(marks), dtype=object)
    shapes[:] = [_shape(mark) for mark in marks]
    return carried(shapes, WGS84, grid.crs) if len(shapes) else shapes


def _shape(mark: Mark) -> shapely.Geometry:
    if mark.shape == "point":
        return shapely.Point(mark.points[0])
    if mark.shape == "line":
        return shapely.LineString(mark.points)
    return shapely.make_valid(shapely.Polygon(mark.points))


def closed_shapes(plan: Plan, grid: Grid) -> Geometries:
    """Ground that marks close: what is out of bounds or dangerous, and all outside the boundaries."""
    exercise, depart = plan.exercise, plan.march.depart
    closed = mark_shapes(acting_marks(exercise, depart, "closes"), grid)
    enclosed = mark_shapes(acting_marks(exercise, depart, "encloses"), grid)
    if not len(enclosed):
        return closed
    outside = shapely.difference(shapely.box(*grid.bounds_m), shapely.union_all(enclosed))
    parts = np.empty(1, dtype=object)
    parts[0] = outside
    return np.concatenate([closed, parts[~shapely.is_empty(parts)]])


def water_allowed(plan: Plan, grid: Grid) -> MaskArray | None:
    """Cells where water may be drawn; None: wherever there is some, since no mark says otherwise."""
    marks = acting_marks(plan.exercise, plan.march.depart, "waters")
    return mask_of(mark_shapes(marks, grid), grid) if marks else None
