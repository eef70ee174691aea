"""Which site a mark of the user's speaks of: the one that lies at its place, whatever rank it has."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sitepick.grid import Grid
from sitepick.plan.model import Plan
from sitepick.plan.weighting import SiteMark
from sitepick.sites.measured import Measured

NEAR_M = 60.0  # a search that begins elsewhere cuts the same ground a little otherwise


def mark_cell(mark: SiteMark, grid: Grid) -> tuple[int, int]:
    """Row and column of a mark; may lie outside the grid."""
    east_m, north_m = grid.from_lonlat(*mark.place)
    return (
        math.floor((grid.north_m - float(north_m)) / grid.cell_m),
        math.floor((float(east_m) - grid.west_m) / grid.cell_m),
    )


def marks_of(plan: Plan, grid: Grid, measured: Sequence[Measured]) -> dict[int, SiteMark]:
    """The mark of each piece that has one, by the piece's identity; a place farther than `NEAR_M` from all has none."""
    found: dict[int, SiteMark] = {}
    for mark in plan.site_marks:
        cell = np.array(mark_cell(mark, grid))
        away = [float(np.min(np.hypot(*(one.piece.cells - cell).T))) * grid.ground_cell_m for one in measured]
        if away and min(away) <= NEAR_M:
            found[id(measured[int(np.argmin(away))].piece)] = mark
    return found
