"""Where a night may fall on a stretch of the route, whatever the hour: the sites stage's own search, bin by bin."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sitepick.grid import MaskArray
from sitepick.ground.model import Ground
from sitepick.journey.model import Candidate
from sitepick.march.model import March
from sitepick.march.round_trip import minutes_to_and_back
from sitepick.plan.model import LonLat, Plan
from sitepick.sites.asked_layers import LayerGround, asked_layers
from sitepick.sites.candidates import Piece, Search, camp_radius_cells, find_candidates
from sitepick.sites.factors import measure_piece
from sitepick.sites.hindrance import unit_room
from sitepick.sites.limits import read_limits
from sitepick.sites.measured import Measured
from sitepick.sites.naming import name_pieces
from sitepick.sites.outline import middle_of, outline_of
from sitepick.sites.quality import camp_quality, window_of
from sitepick.sites.reading import PieceGround
from sitepick.sites.way_back import ways_back
from sitepick.terrain.model import Terrain, is_to_fetch
from sitepick.terrain.wind_round import wind_round
from sitepick.work import Watch

A_BIN = 12  # places measured in each bin of a route; a day's reach has some three bins
_WIND_CELLS_MAX = 6  # a place's wind from other sides is read at so many cells


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretch:
    """A stretch of a route with the ground around it.

    Attributes
    ----------
    plan : Plan
        Its route is the stretch.
    ground : Ground
    terrain : Terrain
    march : March
        As if the day had no end.
    begin_m : float
        Where on the whole route the stretch begins, on the ground.
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    march: March
    begin_m: float


def find_places(
    stretch: Stretch, *, bin_m: float, pinned: Sequence[LonLat] = (), watch: Watch
) -> tuple[Candidate, ...]:  # fmt: skip
    """Measured places along a stretch, by where the way to each leaves the route.

    Parameters
    ----------
    stretch : Stretch
    bin_m : float
        The best `A_BIN` places are kept in each so long piece of the route.
    pinned : sequence of (lon_deg, lat_deg)
        Places that are begun at before all others.
    watch : Watch
    """
    plan, ground, terrain, march = stretch.plan, stretch.ground, stretch.terrain, stretch.march
    limits = read_limits(plan, ground, terrain, march)
    window = window_of(limits.can_pitch)
    if window is None:
        return ()
    on = LayerGround(plan=plan, ground=ground, terrain=terrain, march=march, window=window, watch=watch)
    layers = asked_layers(on)
    water = plan.preferences.water
    limit_min = max(water.curve[-1][0], water.limit_max or 0.0)
    water_min = minutes_to_and_back(
        march, ground, terrain, is_to_fetch(terrain.water_kind), limit_min=limit_min, window=window, watch=watch
    )
    need, room = len(plan.unit.shelters), unit_room(plan, ground.grid)
    watch.tick("how good the ground is")
    quality = camp_quality(
        plan, terrain, march, limits.can_pitch, water_min, layers, radius_cells=camp_radius_cells(room, need)
    )
    cells = [ground.grid.cell_at(*(float(value) for value in ground.grid.from_lonlat(*place))) for place in pinned]
    search = Search(
        can_pitch=limits.can_pitch, quality=quality, room=room, need_count=need, piece_count_max=A_BIN,
        begin_at=tuple(cells),
    )  # fmt: skip
    pieces = _by_bin(search, march, bin_m, watch)
    measured = []
    for piece in pieces:
        piece_ground = PieceGround(
            plan=plan, ground=ground, terrain=terrain, march=march, water_min=water_min, water_limit_min=limit_min,
            piece=piece, need_count=need, layers=layers,
        )  # fmt: skip
        measured.append(
            Measured(piece=piece, measures=measure_piece(piece_ground), mean=plan.preferences.weighting.mean)
        )
    return _told(stretch, [one for one in measured if one.is_within_limits], watch)


def _by_bin(search: Search, march: March, bin_m: float, watch: Watch) -> list[Piece]:
    """Pieces of every bin of the route; none shares ground with another."""
    along_m = np.append(march.station_distance_m, np.nan)[march.leave_station]
    count = max(1, round(float(march.station_distance_m[-1]) / bin_m))
    edges_m = np.linspace(0.0, float(march.station_distance_m[-1]) + 1.0, count + 1)
    gap = 2 * int(camp_radius_cells(search.room, search.need_count)) + 2
    free = search.can_pitch.copy()
    pieces: list[Piece] = []
    for first_m, last_m in itertools.pairwise(edges_m):
        here = free & (along_m >= first_m) & (along_m < last_m)
        window = window_of(here)
        if window is None:
            continue
        found = find_candidates(_within(search, here, window), watch=watch)
        for piece in found.pieces:
            moved = Piece(cells=piece.cells + np.array((window[0].start, window[1].start)), capacity=piece.capacity)
            pieces.append(moved)
            _take(free, moved, gap)
    return pieces


def _within(search: Search, here: MaskArray, window: tuple[slice, slice]) -> Search:
    """The search on a window of the ground."""
    rows, cols = window
    held = np.ascontiguousarray(here[window])
    return replace(
        search,
        can_pitch=held,
        quality=np.where(held, search.quality[window], np.float32(-1.0)),
        begin_at=tuple((row - rows.start, col - cols.start) for row, col in search.begin_at),
    )


def _take(free: MaskArray, piece: Piece, gap: int) -> None:
    """Keep later pieces off a piece and a belt around it."""
    top, left = piece.cells.min(axis=0)
    bottom, right = piece.cells.max(axis=0)
    free[max(0, top - gap) : bottom + gap + 1, max(0, left - gap) : right + gap + 1] = False


def _told(stretch: Stretch, measured: Sequence[Measured], watch: Watch) -> tuple[Candidate, ...]:
    plan, ground, terrain, march = stretch.plan, stretch.ground, stretch.terrain, stretch.march
    pieces = tuple(one.piece for one in measured)
    if not pieces:
        return ()
    back = ways_back(pieces, plan, ground, terrain, march, watch=watch)
    names = name_pieces(pieces, ground, terrain, march)
    winds = _winds(stretch, pieces)
    told = []
    for one, name, wind_from in zip(measured, names, winds, strict=True):
        row, col = middle_of(one.piece.cells)
        station = int(march.leave_station[row, col])
        back_min, rejoin_m = back[id(one.piece)]
        if station < 0 or not np.isfinite(back_min):
            continue
        east_m, north_m = ground.grid.cell_centre_m(row, col)
        ring = np.array(outline_of(one.piece.cells, ground.grid).exterior.coords)
        told.append(
            Candidate(
                name=name,
                place=_lonlat(ground, east_m, north_m),
                ring=tuple(_lonlat(ground, east, north) for east, north in ring),
                along_m=stretch.begin_m + float(march.station_distance_m[station]),
                detour_min=float(march.detour_min[row, col]),
                rejoin_m=stretch.begin_m + rejoin_m,
                back_min=back_min,
                measures=one.measures,
                score=one.score,
                capacity=one.piece.capacity,
                wind_from=wind_from,
            )
        )
    return tuple(sorted(told, key=lambda candidate: candidate.along_m))


def _lonlat(ground: Ground, east_m: float, north_m: float) -> LonLat:
    lon, lat = ground.grid.to_lonlat(east_m, north_m)
    return round(float(lon), 7), round(float(lat), 7)


def _winds(stretch: Stretch, pieces: Sequence[Piece]) -> list[tuple[float, ...]]:
    """Share of the open wind at each place from every side; empty where no forecast asks for it."""
    if not any(one.wind_from_deg is not None for one in stretch.plan.journey.forecasts):
        return [()] * len(pieces)
    chosen = [piece.cells[:: max(1, len(piece.cells) // _WIND_CELLS_MAX)][:_WIND_CELLS_MAX] for piece in pieces]
    counts = [len(cells) for cells in chosen]
    ends = np.cumsum([0, *counts])
    found = wind_round(
        stretch.ground, stretch.terrain, np.concatenate(chosen),
        of_forest_frac=stretch.plan.ground.evergreen_of_forest_frac,
    ).mean  # fmt: skip
    return [tuple(float(value) for value in found[first:last].mean(axis=0)) for first, last in itertools.pairwise(ends)]
