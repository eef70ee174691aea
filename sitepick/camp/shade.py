"""Which ground round a camp lies in the shade of the land when the unit arrives."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime

import numpy as np

from sitepick.camp.surroundings import Surroundings
from sitepick.grid import MaskArray
from sitepick.ground.model import Ground
from sitepick.sky import sun_positions, upper_rim_deg
from sitepick.terrain.horizon import horizon_deg
from sitepick.work import Watch

LOOK_TO_M = 5000.0  # ours: a crest 400 m above and farther off hides a sun under 5° only


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Shade:
    """Sun and shade at one moment.

    Attributes
    ----------
    at : datetime
    is_shaded : bool array of the surroundings' window or None
        Cells that no direct sun reaches, by the relief alone; None: the sun isn't up, so that shade hides nobody.
    """

    at: datetime
    is_shaded: MaskArray | None


def shade_at(around: Surroundings, ground: Ground, at: datetime, *, watch: Watch) -> Shade:
    """Where the land keeps the sun off at a moment.

    Parameters
    ----------
    around : Surroundings
    ground : Ground
        Its relief up to `LOOK_TO_M` towards the sun hides it; what isn't known hides nothing.
    at : datetime
        With its zone.
    watch : Watch

    Returns
    -------
    Shade
        Shade of trees is left to the cover. Ground of unknown height counts as sunlit.

    Raises
    ------
    SettingsError
        The year lies outside what the ephemeris covers.
    """
    lon, lat = around.grid.to_lonlat(*around.centre_m)
    azimuth_deg, altitude_deg = sun_positions(float(lon), float(lat), [at])
    rim_deg = float(upper_rim_deg(altitude_deg)[0]) if altitude_deg[0] > -1.0 else -1.0
    if rim_deg <= 0.0:
        return Shade(at=at, is_shaded=None)
    bearing_deg = float(azimuth_deg[0]) - around.grid.convergence_deg(*around.centre_m)
    top, left = around.corner
    rows, cols = around.grid.shape
    ahead = math.ceil(LOOK_TO_M / ground.grid.ground_cell_m)
    north, east = math.cos(math.radians(bearing_deg)), math.sin(math.radians(bearing_deg))
    first_row, first_col = top - math.ceil(max(0.0, north) * ahead), left - math.ceil(max(0.0, -east) * ahead)
    last_row = top + rows + math.ceil(max(0.0, -north) * ahead)
    last_col = left + cols + math.ceil(max(0.0, east) * ahead)
    first_row, first_col = max(0, first_row), max(0, first_col)
    heights = np.ascontiguousarray(ground.elevation_m[first_row:last_row, first_col:last_col])
    skyline = horizon_deg(heights, bearing_deg, cell_m=ground.grid.ground_cell_m, watch=watch)
    own = skyline[top - first_row : top - first_row + rows, left - first_col : left - first_col + cols]
    return Shade(at=at, is_shaded=np.asarray(own >= rim_deg, bool))
