"""The score as a map: what a camp around each cell would score, where the limits let one pitch."""

from __future__ import annotations

import numpy as np

from sitepick.grid import FloatArray
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import camp_radius_cells
from sitepick.sites.hindrance import unit_room
from sitepick.sites.model import Sites
from sitepick.sites.quality import camp_quality
from sitepick.terrain.model import Terrain


def score_map(plan: Plan, terrain: Terrain, march: March, sites: Sites) -> FloatArray:
    """The quick look at the whole ground by which the sites were looked for.

    Parameters
    ----------
    plan : Plan
    terrain : Terrain
    march : March
    sites : Sites
        Found for that plan.

    Returns
    -------
    float32 array of the grid's shape
        0-1; NaN where no shelter may stand. A site's own score is measured on its outline and differs a little.
    """
    radius_cells = camp_radius_cells(unit_room(plan, sites.grid), sites.need_count)
    quality = camp_quality(
        plan, terrain, march, sites.can_pitch, sites.water_min, sites.layers, radius_cells=radius_cells
    )
    return np.where(quality < 0.0, np.float32(np.nan), quality)
