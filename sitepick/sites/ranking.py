"""Which site is the pick, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta
from itertools import pairwise

import numpy as np

from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece
from sitepick.sites.danger import site_cautions
from sitepick.sites.model import Measure, Site
from sitepick.sites.naming import name_pieces
from sitepick.sites.outline import middle_of, outline_of
from sitepick.sites.reason import reason_for
from sitepick.terrain.model import Terrain


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Measured:
    """A piece with its measures.

    Attributes
    ----------
    piece : Piece
    measures : tuple of Measure
    """

    piece: Piece
    measures: tuple[Measure, ...]

    @property
    def score(self) -> float:
        """Lower bound, 0-100."""
        return 100.0 * sum(measure.weight * measure.score for measure in self.measures)

    @property
    def score_high(self) -> float:
        """Upper bound, 0-100."""
        return 100.0 * sum(measure.weight * measure.score_high for measure in self.measures)

    @property
    def is_within_limits(self) -> bool:
        """Whether every measure keeps its limits."""
        return all(measure.within_limit for measure in self.measures)


def ranked(measured: list[Measured]) -> list[Measured]:
    """The sites within limits, the best score first; equal scores from north to south and west to east."""

    def order(one: Measured) -> tuple[float, int, int]:
        row, col = middle_of(one.piece.cells)
        return -round(one.score, 9), row, col

    return sorted((one for one in measured if one.is_within_limits), key=order)


def to_sites(
    best: list[Measured], *, plan: Plan, ground: Ground, terrain: Terrain, march: March
) -> tuple[Site, ...]:  # fmt: skip
    """Sites with all that a person is told of them, from pieces by rank."""
    names = name_pieces(tuple(one.piece for one in best), ground, terrain, march)
    reasons = _reasons(best)
    grid, way_min, sites = ground.grid, march.way_min(), []
    for rank, (one, name, reason) in enumerate(zip(best, names, reasons, strict=True), start=1):
        row, col = middle_of(one.piece.cells)
        east_m, north_m = grid.cell_centre_m(row, col)
        moving_min = float(way_min[row, col])
        arrive = march.depart + timedelta(minutes=march.halt_rule.elapsed_min(moving_min))
        sites.append(
            Site(
                rank=rank,
                name=name,
                outline_m=outline_of(one.piece.cells, grid),
                east_m=east_m,
                north_m=north_m,
                area_m2=len(one.piece.cells) * (grid.cell_m / grid.point_scale(east_m, north_m)) ** 2,
                capacity=one.piece.capacity,
                arrive=arrive,
                moving_min=moving_min,
                detour_min=float(np.nan_to_num(march.detour_min[row, col])),
                leave_distance_m=float(march.station_distance_m[march.leave_station[row, col]]),
                measures=one.measures,
                score=one.score,
                score_high=one.score_high,
                firm_share=None,
                reason=reason,
                cautions=site_cautions(
                    one.piece, one.measures, arrive, plan=plan, ground=ground, terrain=terrain, march=march
                ),
            )
        )
    return tuple(sites)


def _reasons(best: list[Measured]) -> list[str]:
    if len(best) == 1:
        return [reason_for(best[0].measures, None, rank=1, is_last=True)]
    told = [
        reason_for(one.measures, after.measures, rank=rank, is_last=False)
        for rank, (one, after) in enumerate(pairwise(best), start=1)
    ]
    if best:
        told.append(reason_for(best[-1].measures, best[-2].measures, rank=len(best), is_last=True))
    return told
