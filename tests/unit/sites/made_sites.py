"""Made ground with its terrain, march and sites, for the tests of this stage and the next."""

from __future__ import annotations

from typing import Any

import numpy as np

from sitepick.plan.model import Plan
from sitepick.sites import Sites, find_sites
from tests.helpers.made import OPEN, SPRUCE, make_ground, make_plan, make_terrain
from tests.helpers.made_march import make_march


def sites_on(
    cover: Any,
    *,
    plan: Plan | None = None,
    people: int = 38,
    limit_min: float = 1e6,
    cell_m: float = 10.0,
    **terrain: Any,
) -> Sites:
    """Sites on level ground of this cover, changed by what is given of the terrain."""
    cover = np.asarray(cover)
    ground = make_ground(np.full(cover.shape, 300.0), cover, cell_m=cell_m)
    plan = plan or make_plan(ground, people=people)
    march = make_march(plan, ground, limit_min=limit_min)
    return find_sites(plan, ground, make_terrain(ground, **terrain), march)


def spruce(rows: int = 60, cols: int = 60) -> np.ndarray:
    """Spruce everywhere."""
    return np.full((rows, cols), SPRUCE)


def grove(*boxes: tuple[int, int, int, int], rows: int = 60, cols: int = 60) -> np.ndarray:
    """Open ground with boxes of spruce, each first row, past last row, first column, past last column."""
    cover = np.full((rows, cols), OPEN)
    for top, bottom, left, right in boxes:
        cover[top:bottom, left:right] = SPRUCE
    return cover


def only(*boxes: tuple[int, int, int, int], rows: int = 60, cols: int = 60) -> np.ndarray:
    """A slope layer that is level within boxes and far too steep elsewhere."""
    slope = np.full((rows, cols), 20.0, np.float32)
    for top, bottom, left, right in boxes:
        slope[top:bottom, left:right] = 1.0
    return slope


def cells_of(sites: Sites, number: int) -> tuple[np.ndarray, np.ndarray]:
    """Rows and columns of the cells whose middle lies on a site."""
    import shapely

    rows, cols = np.indices(sites.grid.shape)
    east_m, north_m = sites.grid.cell_centre_m(rows, cols)  # type: ignore[arg-type]
    return np.nonzero(shapely.contains_xy(sites.sites[number].outline_m, east_m, north_m))
