"""A piece of ground, and what is read of it for one factor."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np

from sitepick.grid import DoubleArray, FloatArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece
from sitepick.terrain.model import Terrain, is_to_fetch

MOST_FRAC = 0.5  # of a piece's ground must be known for a measure to be


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PieceGround:
    """A piece of ground and the layers it is measured on.

    Attributes
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    water_min : float32
        Minutes to water and back; NaN beyond `water_limit_min`.
    water_limit_min : float
    piece : Piece
    need_count : int
    layers : mapping of factor to float32
        What was read of the whole ground for the further factors that the plan asks for.
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    march: March
    water_min: FloatArray
    water_limit_min: float
    piece: Piece
    need_count: int
    layers: Mapping[str, FloatArray] = field(default_factory=dict)

    @property
    def elevation_m(self) -> FloatArray:
        """Heights of the ground, without trees where they were taken off."""
        bare = self.terrain.bare_elevation_m
        return self.ground.elevation_m if bare is None else bare

    def of(self, layer: FloatArray) -> DoubleArray:
        """A layer's values on the piece."""
        return layer[self.piece.index].astype(np.float64)


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """A measure as read from the ground.

    Attributes
    ----------
    value : float or None
        None: not known.
    low, high : float
        Between what it lies; both the value where it is known.
    worst : float or None
        What the upper limit is held against; None where that can't be told.
    sentence : str
    """

    value: float | None
    low: float
    high: float
    worst: float | None
    sentence: str


def known(value: float, sentence: str, *, worst: float | None = None) -> Reading:
    """A reading of a known value."""
    return Reading(value=value, low=value, high=value, worst=value if worst is None else worst, sentence=sentence)


def to_fetch_in(terrain: Terrain, window: tuple[slice, slice]) -> MaskArray:
    """Where water may be drawn, in a window alone: of the whole ground it takes longer than all else at one place."""
    if terrain.draw_here is not None:
        return terrain.draw_here[window]
    return is_to_fetch(terrain.water_kind[window])


Reader = Callable[[PieceGround], Reading]
