"""From terrain and reach to ranked sites: every question of this stage in turn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import FloatArray, MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.march.round_trip import minutes_to_and_back
from sitepick.plan.edits import is_weights_only
from sitepick.plan.model import Plan
from sitepick.sites.asked_layers import LayerGround, asked_layers
from sitepick.sites.candidates import Candidates, Piece, Search, camp_radius_cells, find_candidates
from sitepick.sites.factors import measure_piece
from sitepick.sites.hindrance import tell_hindrances, unit_room
from sitepick.sites.limits import Limits, read_limits
from sitepick.sites.marks import mark_cell
from sitepick.sites.measured import Kept, Measured, weighed
from sitepick.sites.model import Sites
from sitepick.sites.own import failed_sites, own_ground, weighed_own
from sitepick.sites.quality import camp_quality, window_of
from sitepick.sites.ranking import Ranking, rank_sites
from sitepick.sites.reading import PieceGround
from sitepick.sites.split import find_split
from sitepick.sites.spread import read_spread
from sitepick.sites.way_back import ways_back
from sitepick.terrain.model import Terrain
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
        Found over the same terrain and march for another unit or other preferences; what holds still is used again.

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
    limits = _limits(plan, ground, terrain, march, earlier)
    layers = _layers(plan, ground, terrain, march, limits, earlier, watch)
    water_min, water_limit_min, water_window = _way_to_water(plan, ground, terrain, march, limits, earlier, watch)
    need_count = len(plan.unit.shelters)
    room = unit_room(plan, ground.grid)
    watch.tick("how good the ground is")
    quality = camp_quality(
        plan, terrain, march, limits.can_pitch, water_min, layers, radius_cells=camp_radius_cells(room, need_count)
    )
    search = Search(
        can_pitch=limits.can_pitch,
        quality=quality,
        room=room,
        need_count=need_count,
        piece_count_max=max(CANDIDATE_COUNT, plan.preferences.site_count_max),
        begin_at=tuple(mark_cell(mark, ground.grid) for mark in plan.site_marks if mark.is_pinned),
    )
    candidates = find_candidates(search, watch=watch)
    own, own_cautions = own_ground(plan, ground.grid, terrain, limits, room)

    def measured(piece: Piece, own_name: str = "", count: int = need_count) -> Measured:
        on = PieceGround(
            plan=plan, ground=ground, terrain=terrain, march=march, water_min=water_min,
            water_limit_min=water_limit_min, piece=piece, need_count=count, layers=layers,
        )  # fmt: skip
        return Measured(
            piece=piece, measures=measure_piece(on), mean=plan.preferences.weighting.mean, own_name=own_name
        )

    own_measured = [
        measured(one.piece, one.name) for one in own if one.piece is not None and one.piece.capacity >= need_count
    ]
    found = [measured(piece) for piece in _apart_from(candidates.pieces, own_measured, ground.grid.shape)]
    watch.tick("how firm the ranking is")
    every = (*own_measured, *found)
    kept = Kept(
        plan=plan,
        limits=limits,
        is_roomy=candidates.roomy_ground,
        measured=every,
        spread=read_spread(plan, ground, terrain, march, [one for one in every if one.is_within_limits]),
        ways_back=ways_back([one.piece for one in every], plan, ground, terrain, march, watch=watch),
        told={},
        layers=layers,
    )
    ranking = rank_sites(kept, plan=plan, ground=ground, terrain=terrain, march=march, is_drawn=True)
    watch.tick("sites by rank")
    split = None
    if not kept.measured:
        split = find_split(
            search, lambda piece, count: measured(piece, count=count), plan=plan, ground=ground, terrain=terrain,
            march=march, watch=watch,
        )  # fmt: skip
    sites = Sites(
        grid=ground.grid,
        sites=(),
        need_count=need_count,
        can_pitch=limits.can_pitch,
        water_min=water_min,
        water_limit_min=water_limit_min,
        water_window=water_window,
        reach_area_m2=float(np.count_nonzero(limits.in_reach)) * ground.grid.cell_area_m2,
        unknown_share=_unknown_share(limits),
        hindrances=tell_hindrances(
            plan,
            limits,
            candidates,
            ground.grid,
            terrain,
            is_empty=not ranking.sites,
            opens=lambda can_pitch: _opens(can_pitch, search, watch),
        ),
        split=split,
        cautions=_cautions(limits, candidates) + own_cautions,
        own_failed=failed_sites(own, own_measured, limits, plan, measured),
        kept=kept,
    )
    return _with_ranking(sites, ranking, is_drawn=True)


def rank_again(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, earlier: Sites
) -> Sites | None:  # fmt: skip
    """Rank what an earlier search measured, at once, under other weights.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
        The same as for `earlier`.
    earlier : Sites

    Returns
    -------
    Sites or None
        Exact for the places that were measured then; other weights may lead a new search to other places, and how
        firm the ranking is must be drawn anew. None where more than weights and marks has changed.
    """
    kept = earlier.kept
    if kept is None or not is_weights_only(kept.plan, plan):
        return None
    kept = replace(kept, measured=tuple(weighed(one, plan.preferences) for one in kept.measured))
    ranking = rank_sites(kept, plan=plan, ground=ground, terrain=terrain, march=march, is_drawn=False)
    failed = tuple(weighed_own(one, plan) for one in earlier.own_failed)
    return _with_ranking(replace(earlier, own_failed=failed, kept=kept), ranking, is_drawn=False)


def _with_ranking(sites: Sites, ranking: Ranking, *, is_drawn: bool) -> Sites:
    alternate = ranking.alternate
    return replace(
        sites,
        sites=ranking.sites,
        alternate_rank=None if alternate is None else ranking.sites[alternate.index].rank,
        alternate_words="" if alternate is None else alternate.words,
        topple=ranking.topple,
        is_drawn=is_drawn,
        hidden_count=ranking.hidden_count,
    )


def _limits(plan: Plan, ground: Ground, terrain: Terrain, march: March, earlier: Sites | None) -> Limits:
    kept = None if earlier is None else earlier.kept
    if kept is not None and is_weights_only(kept.plan, plan):
        return kept.limits
    return read_limits(plan, ground, terrain, march)


def _layers(
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    march: March,
    limits: Limits,
    earlier: Sites | None,
    watch: Watch,
) -> dict[str, FloatArray]:
    """What the further factors are read from; earlier layers hold where they were made for the same."""
    on = LayerGround(
        plan=plan, ground=ground, terrain=terrain, march=march,
        window=window_of(limits.can_pitch) or (slice(0, 0), slice(0, 0)), watch=watch,
    )  # fmt: skip
    kept = None if earlier is None else earlier.kept
    if kept is None or window_of(kept.limits.can_pitch) != window_of(limits.can_pitch):
        return asked_layers(on)
    held = dict(kept.layers)
    if kept.plan.observers != plan.observers:
        held.pop("seen_observers", None)
    if kept.limits is not limits:  # then more than weights has changed, perhaps how far the way back is followed
        held.pop("morning", None)
    return asked_layers(on, held)


def _way_to_water(
    plan: Plan,
    ground: Ground,
    terrain: Terrain,
    march: March,
    limits: Limits,
    earlier: Sites | None,
    watch: Watch,
) -> tuple[FloatArray, float, tuple[slice, slice] | None]:
    """Minutes to water and back, up to how many, and where they were looked for."""
    limit_min = max(plan.preferences.water.curve[-1][0], plan.preferences.water.limit_max or 0.0)
    window = window_of(limits.can_pitch)
    if earlier is not None and earlier.water_limit_min == limit_min and earlier.water_window == window:
        return earlier.water_min, limit_min, window
    if window is None:
        return np.full(ground.grid.shape, np.nan, np.float32), limit_min, window
    water_min = minutes_to_and_back(
        march, ground, terrain, terrain.to_fetch, limit_min=limit_min, window=window, watch=watch
    )  # fmt: skip
    return water_min, limit_min, window


def _opens(can_pitch: MaskArray, search: Search, watch: Watch) -> bool:
    """Whether more ground to pitch on has room for the whole unit somewhere."""
    quality = np.where(can_pitch, np.maximum(search.quality, np.float32(0.5)), np.float32(-1.0))
    wider = replace(search, can_pitch=can_pitch, quality=quality, piece_count_max=1, begin_at=())
    return bool(find_candidates(wider, watch=watch).pieces)


def _apart_from(pieces: Sequence[Piece], own: Sequence[Measured], shape: tuple[int, int]) -> list[Piece]:
    """The pieces that share no ground with the user's own sites, which stand in their place."""
    if not own:
        return list(pieces)
    is_own: MaskArray = np.zeros(shape, bool)
    for one in own:
        is_own[one.piece.index] = True
    return [piece for piece in pieces if not is_own[piece.index].any()]


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
