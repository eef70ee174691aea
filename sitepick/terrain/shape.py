"""The shape of the ground for those who ask: no site is picked by it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sitepick.grid import FloatArray
from sitepick.ground.model import Ground
from sitepick.terrain.cold import FAR_M, NEAR_M, position_m, roughness_m
from sitepick.terrain.slope import slope_and_aspect
from sitepick.terrain.treetops import bare_ground
from sitepick.work import Watch


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class GroundShape:
    """Read-only float32 arrays of the grid's shape, NaN where not known.

    Attributes
    ----------
    aspect_deg : float32
        True bearing of the steepest fall; NaN on level ground too.
    position_near_m, position_far_m : float32
        Height above the mean of the ground out to 300 m and to 1.5 km; negative in hollows and valleys.
    roughness_m : float32
        Riley's index over the eight neighbours.
    """

    aspect_deg: FloatArray
    position_near_m: FloatArray
    position_far_m: FloatArray
    roughness_m: FloatArray

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).flags.writeable = False


def read_shape(ground: Ground, *, watch: Watch | None = None) -> GroundShape:
    """Where the ground falls to, what it lies above and how rough it is.

    Parameters
    ----------
    ground : Ground
        Heights over tree tops are brought down to the ground, as `read_terrain` does.
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    GroundShape

    Raises
    ------
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    grid, elevation_m = ground.grid, np.ascontiguousarray(bare_ground(ground, watch=watch).ground.elevation_m)
    near_m, far_m = (
        position_m(elevation_m, reach_m, cell_m=grid.ground_cell_m, watch=watch) for reach_m in (NEAR_M, FAR_M)
    )
    return GroundShape(
        aspect_deg=slope_and_aspect(elevation_m, grid, watch=watch)[1],
        position_near_m=near_m,
        position_far_m=far_m,
        roughness_m=roughness_m(elevation_m, watch=watch),
    )
