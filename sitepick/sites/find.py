"""From terrain and reach to ranked sites: every question of this stage in turn."""

from __future__ import annotations

import numpy as np

from sitepick.caution import Caution
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.march.round_trip import minutes_to_and_back
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Candidates, Search, camp_radius_cells, find_candidates
from sitepick.sites.factors import PieceGround, measure_piece
from sitepick.sites.hindrance import tell_hindrances, unit_room
from sitepick.sites.limits import Limits, read_limits
from sitepick.sites.model import Sites
from sitepick.sites.quality import camp_quality, window_of
from sitepick.sites.ranking import Measured, ranked, to_sites
from sitepick.terrain.model import Terrain, is_to_fetch
from sitepick.work import Watch

CANDIDATE_COUNT = 40  # measured in full; more than anyone wants listed
_TELLING_UNKNOWN_FRAC = 0.005


def find_sites(
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    march: March,
    *,
    watch: Watch | None = None,
    earlier: Sites | None = None,
) -> Sites:
    """Find and rank the places in reach where the whole unit can camp.

    Parameters
    ----------
    plan : Plan
        Its preferences, unit, spacing and weather.
    ground : Ground
    terrain : Terrain
    march : March
    watch : Watch, optional
        Hears of the progress and can stop the work.
    earlier : Sites, optional
        Found over the same terrain and march for another unit or other preferences; its way to water is used again.

    Returns
    -------
    Sites
        Without sites and with the reasons where nothing serves.

    Raises
    ------
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    watch.tick("ground within the limits")
    limits = read_limits(plan, ground, terrain, march)
    water_limit_min = max(plan.preferences.water.curve[-1][0], plan.preferences.water.limit_max or 0.0)
    water_window = window_of(limits.can_pitch)
    if earlier is not None and earlier.water_limit_min == water_limit_min and earlier.water_window == water_window:
        water_min = earlier.water_min
    elif water_window is None:
        water_min = np.full(ground.grid.shape, np.nan, np.float32)
    else:
        water_min = minutes_to_and_back(
            march,
            ground,
            terrain,
            is_to_fetch(terrain.water_kind),
            limit_min=water_limit_min,
            window=water_window,
            watch=watch,
        )
    need_count = len(plan.unit.shelters)
    room = unit_room(plan, ground.grid)
    watch.tick("how good the ground is")
    quality = camp_quality(
        plan, terrain, march, limits.can_pitch, water_min, radius_cells=camp_radius_cells(room, need_count)
    )
    candidates = find_candidates(
        Search(
            can_pitch=limits.can_pitch,
            quality=quality,
            room=room,
            need_count=need_count,
            piece_count_max=max(CANDIDATE_COUNT, plan.preferences.site_count_max),
        ),
        watch=watch,
    )
    measured = []
    for piece in candidates.pieces:
        on = PieceGround(
            plan=plan, terrain=terrain, march=march, water_min=water_min, water_limit_min=water_limit_min, piece=piece,
            need_count=need_count,
        )  # fmt: skip
        measured.append(Measured(piece=piece, measures=measure_piece(on)))
    best = ranked(measured)[: plan.preferences.site_count_max]
    watch.tick("sites by rank")
    return Sites(
        grid=ground.grid,
        sites=to_sites(best, plan=plan, ground=ground, terrain=terrain, march=march),
        need_count=need_count,
        can_pitch=limits.can_pitch,
        water_min=water_min,
        water_limit_min=water_limit_min,
        water_window=water_window,
        reach_area_m2=float(np.count_nonzero(limits.in_reach)) * ground.grid.cell_area_m2,
        unknown_share=_unknown_share(limits),
        hindrances=tell_hindrances(plan, limits, candidates, ground.grid, is_empty=not best),
        cautions=_cautions(limits, candidates),
    )


def _unknown_share(limits: Limits) -> float:
    if limits.ground_count == 0.0:
        return 0.0
    unknown = next(limit for limit in limits.limits if limit.name == "unknown")
    return (np.count_nonzero(unknown.is_out & limits.in_reach) + limits.unknown_count) / limits.ground_count


def _cautions(limits: Limits, candidates: Candidates) -> tuple[Caution, ...]:
    share = _unknown_share(limits)
    told = []
    if share >= _TELLING_UNKNOWN_FRAC:
        told.append(
            Caution(
                kind="data", text=f"{100 * share:.0f} % of the ground in reach is not known, and no site lies on it."
            )
        )
    if len(candidates.pieces) == 1:
        told.append(Caution(kind="march", text="There is no alternate: only one place in reach holds the unit."))
    return tuple(told)
