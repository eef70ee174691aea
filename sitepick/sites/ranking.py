"""Which site is the pick, which the alternate, why, and how firm that is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from itertools import pairwise

import numpy as np
from shapely import Polygon

from sitepick.grid import Grid
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.alternate import Alternate, choose_alternate
from sitepick.sites.candidates import Piece, piece_places_m
from sitepick.sites.danger import site_cautions
from sitepick.sites.firmness import Firmness, firmness
from sitepick.sites.hindrance import unit_room
from sitepick.sites.marks import marks_of
from sitepick.sites.measured import Kept, Measured
from sitepick.sites.model import Site, Topple
from sitepick.sites.naming import name_pieces
from sitepick.sites.outline import eased, middle_of, outline_of
from sitepick.sites.reason import reason_for
from sitepick.sites.spread import Spread
from sitepick.sites.topple import smallest_topple
from sitepick.sites.way_back import NOT_KNOWN
from sitepick.terrain.model import Terrain


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Ranking:
    """The order of the sites, and what hangs on it.

    Attributes
    ----------
    sites : tuple of Site
        Those listed.
    alternate : Alternate or None
    topple : Topple or None
    hidden_count : int
    """

    sites: tuple[Site, ...]
    alternate: Alternate | None
    topple: Topple | None
    hidden_count: int


def ranked(measured: Sequence[Measured]) -> list[Measured]:
    """The sites within limits, the best score first; equal scores from north to south and west to east."""

    def order(one: Measured) -> tuple[float, int, int]:
        row, col = middle_of(one.piece.cells)
        return -round(one.score, 9), row, col

    return sorted((one for one in measured if one.is_within_limits), key=order)


def rank_sites(
    kept: Kept, *, plan: Plan, ground: Ground, terrain: Terrain, march: March, is_drawn: bool
) -> Ranking:  # fmt: skip
    """Rank what was measured, and tell it.

    Parameters
    ----------
    kept : Kept
        Its pieces weighed by the plan's weights.
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    is_drawn : bool
        Whether to work out how firm the ranking is.
    """
    marks = marks_of(plan, ground.grid, kept.measured)
    shown = [one for one in kept.measured if not (id(one.piece) in marks and marks[id(one.piece)].is_hidden)]
    best = ranked(shown)
    listed = [
        (rank, one)
        for rank, one in enumerate(best, start=1)
        if rank <= plan.preferences.site_count_max
        or one.own_name
        or (id(one.piece) in marks and marks[id(one.piece)].is_pinned)
    ]
    told = _told([one for _, one in listed], kept, plan=plan, ground=ground, terrain=terrain, march=march)
    sites = [
        replace(
            site,
            rank=rank,
            name=(mark.name if mark is not None and mark.name else site.name),
            is_own=bool(one.own_name),
            is_pinned=mark is not None and mark.is_pinned,
        )
        for (rank, one), site in zip(listed, told, strict=True)
        for mark in (marks.get(id(one.piece)),)
    ]
    sites = _with_reasons(sites, mean=plan.preferences.weighting.mean)
    firm, topple = None, None
    if is_drawn and best and kept.spread is not None:
        spread = _in_order(kept, best)
        firm = firmness(spread, plan)
        sites = [_with_shares(site, firm) for site in sites]
        topple = smallest_topple(spread, plan)
    if topple is not None and topple.then_first is not None:
        rank = topple.then_first + 1
        topple = replace(topple, then_first=rank if any(site.rank == rank for site in sites) else None)
    is_out = None if firm is None else firm.is_out[:, [site.rank - 1 for site in sites]]
    return Ranking(
        sites=tuple(sites),
        alternate=choose_alternate([site.moving_min for site in sites], march.late_moving_min_limit, is_out),
        topple=topple,
        hidden_count=len(kept.measured) - len(shown),
    )


def _in_order(kept: Kept, best: list[Measured]) -> Spread:
    """What the draws need of the sites, by rank."""
    assert kept.spread is not None
    row_of = {id(one.piece): row for row, one in enumerate(one for one in kept.measured if one.is_within_limits)}
    rows = np.array([row_of[id(one.piece)] for one in best], np.int64)
    spread = kept.spread
    per_site = (
        "scores", "values", "wind_worst", "wind_mean_from", "wind_worst_from", "slope_error_deg", "slope_kept_frac",
        "way_min", "leave_m", "capacity",
    )  # fmt: skip
    return replace(spread, **{name: getattr(spread, name)[rows] for name in per_site})


def _with_shares(site: Site, firm: Firmness) -> Site:
    row = site.rank - 1
    return replace(
        site,
        firm_share=float(firm.first_share[row]),
        top_three_share=float(firm.top_three_share[row]),
        out_of_limits_share=float(firm.out_share[row]),
    )


def _told(
    best: list[Measured], kept: Kept, *, plan: Plan, ground: Ground, terrain: Terrain, march: March
) -> list[Site]:  # fmt: skip
    """Sites with all that a person is told of them but their rank and reason; those told before are told again."""
    names = name_pieces(tuple(one.piece for one in best), ground, terrain, march)
    sites = []
    for one, name in zip(best, names, strict=True):
        site = kept.told.get(id(one.piece))
        if site is None:
            return_min, rejoin_m = kept.ways_back.get(id(one.piece), NOT_KNOWN)
            site = _tell(one, plan=plan, ground=ground, terrain=terrain, march=march)
            site = replace(site, return_min=return_min, rejoin_distance_m=rejoin_m)
            kept.told[id(one.piece)] = site
        sites.append(
            replace(site, name=one.own_name or name, measures=one.measures, score=one.score, score_high=one.score_high)
        )
    return sites


def _tell(one: Measured, *, plan: Plan, ground: Ground, terrain: Terrain, march: March) -> Site:
    grid = ground.grid
    row, col = middle_of(one.piece.cells)
    east_m, north_m = grid.cell_centre_m(row, col)
    outline_m = site_outline(one.piece, plan, grid)
    moving_min = march.way_min_at(row, col)
    arrive = march.depart + timedelta(minutes=march.halt_rule.elapsed_min(moving_min))
    return Site(
        rank=0,
        name="",
        outline_m=outline_m,
        east_m=east_m,
        north_m=north_m,
        cells=one.piece.cells,
        area_m2=outline_m.area / grid.point_scale(east_m, north_m) ** 2,
        capacity=one.piece.capacity,
        arrive=arrive,
        moving_min=moving_min,
        detour_min=float(np.nan_to_num(march.detour_min[row, col])),
        leave_distance_m=float(march.station_distance_m[march.leave_station[row, col]]),
        measures=one.measures,
        score=one.score,
        score_high=one.score_high,
        firm_share=None,
        reason="",
        cautions=site_cautions(
            one.piece, one.measures, arrive, plan=plan, ground=ground, terrain=terrain, march=march
        ),
    )  # fmt: skip


def site_outline(piece: Piece, plan: Plan, grid: Grid) -> Polygon:
    """The outline of a piece as it is told: round its middle and every shelter that fits on it."""
    room = unit_room(plan, grid)
    places_m = piece_places_m(piece, grid, room)
    middle_m = np.array([grid.cell_centre_m(*middle_of(piece.cells))])
    return eased(
        outline_of(piece.cells, grid), np.concatenate((middle_m, places_m)), room.radius * grid.cell_m, grid.cell_m
    )


def _with_reasons(sites: list[Site], *, mean: str) -> list[Site]:
    if len(sites) < 2:
        return [replace(site, reason=reason_for(site.measures, None, rank=site.rank, is_last=True)) for site in sites]
    told = []
    for site, after in [*pairwise(sites), (sites[-1], sites[-2])]:
        reason = reason_for(
            site.measures,
            after.measures,
            rank=site.rank,
            is_last=after.rank < site.rank,
            other_rank=after.rank,
            later_min=(after.arrive - site.arrive).total_seconds() / 60.0,
            mean=mean,
        )
        told.append(replace(site, reason=reason))
    return told
