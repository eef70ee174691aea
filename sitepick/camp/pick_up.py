"""A clearing where someone can land or be picked up."""

from __future__ import annotations

import math

import numpy as np
from scipy import ndimage

from sitepick.camp.model import Facility
from sitepick.ground.model import Ground
from sitepick.plan.model import Plan
from sitepick.terrain.model import Terrain

SEARCH_M = 1500.0
OPEN_CANOPY_FRAC = 0.1
SLOPE_MAX_DEG = 7.0  # from memory: what most who land on snow accept


def pick_up_clearing(
    plan: Plan, ground: Ground, terrain: Terrain, centre_m: tuple[float, float]
) -> tuple[Facility | None, tuple[str, ...]]:
    """The nearest open, level, dry patch of the width asked for.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    centre_m : (east_m, north_m)
        Middle of the camp.

    Returns
    -------
    Facility or None, tuple of str
        None and a sentence where there is none within `SEARCH_M`.
    """
    width_m = plan.camp.facilities.pick_up_clear_m
    grid = ground.grid
    row, col = grid.cell_at(*centre_m)
    reach = math.ceil((SEARCH_M + width_m) / grid.ground_cell_m)
    top, left = max(0, row - reach), max(0, col - reach)
    window = (slice(top, row + reach + 1), slice(left, col + reach + 1))
    is_hazard = terrain.is_avalanche_release | terrain.is_avalanche_runout | terrain.unsafe_unknown
    is_open = (
        (terrain.canopy_frac[window] <= OPEN_CANOPY_FRAC) & (terrain.slope_deg[window] <= SLOPE_MAX_DEG)
        & ~terrain.is_water[window] & ~terrain.is_wet[window] & ~is_hazard[window] & ~ground.is_no_go[window]
    )  # fmt: skip
    # The map's edge counts as wood: nobody knows what stands beyond it.
    inside_m = ndimage.distance_transform_edt(np.pad(is_open, 1))[1:-1, 1:-1] * grid.ground_cell_m
    rows, cols = np.nonzero(inside_m - grid.ground_cell_m / 2.0 >= width_m / 2.0)
    away_m = np.hypot(rows + top - row, cols + left - col) * grid.ground_cell_m
    if not rows.size or float(away_m.min()) > SEARCH_M:
        return None, (
            f"No open, level patch {width_m:.0f} m wide lies within {SEARCH_M / 1000:g} km for a landing or pick-up.",
        )
    nearest = int(np.argmin(away_m))
    east_m, north_m = grid.cell_centre_m(int(rows[nearest]) + top, int(cols[nearest]) + left)
    clearing = Facility(
        kind="pick_up", name="Landing or pick-up", east_m=east_m, north_m=north_m,
        reason=f"Open and level over {width_m:.0f} m, {round(float(away_m[nearest]), -1):.0f} m from the middle; "
        "wires, poles and single trees don't show on this map, so walk it first.",
    )  # fmt: skip
    return clearing, ()
