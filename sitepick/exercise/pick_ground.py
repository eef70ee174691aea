"""The ground at a pick: which limits it breaks, what it measures, how it stands among all ground in reach."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from sitepick.exercise.model import BrokenLimit, PickGround
from sitepick.exercise.standard import Standard
from sitepick.grid import MaskArray
from sitepick.plan.mark import LonLat
from sitepick.sites.candidates import Piece
from sitepick.sites.hindrance import unit_room
from sitepick.sites.measured import Measured
from sitepick.sites.model import Measure
from sitepick.sites.own import past_words
from sitepick.sites.packing import QUICK, pack
from sitepick.sites.place import camp_around, measured_camp, why_here

Cell = tuple[int, int]
_SAME_SCORE = 1e-9
_NEARLY = 0.999  # of the room, where all of it would be found but for a limit that the pick itself breaks


def read_pick(standard: Standard, place: LonLat, *, tolerance_m: float, precision_m: float = 0.0) -> PickGround:
    """Hold a pick against the ground.

    Parameters
    ----------
    standard : Standard
    place : (lon_deg, lat_deg)
    tolerance_m : float
        A pick past a limit counts for the nearest ground within all of them so far away.
    precision_m : float
        Width of the square that the pick's reference names: the best ground in it counts.

    Returns
    -------
    PickGround
        A pick off the ground that was read has no room and no measures.
    """
    grid = standard.answer.ground.grid
    east, north = grid.from_lonlat(*place)
    east_m, north_m = float(east), float(north)
    if not (math.isfinite(east_m) and math.isfinite(north_m) and grid.contains(east_m, north_m)):
        return _nowhere(standard, east_m, north_m)
    own = grid.cell_at(east_m, north_m)
    found = _camp_within(standard, own, tolerance_m=tolerance_m, precision_m=precision_m)
    if found is None:
        return _past_limits(standard, own, east_m, north_m)
    cell, camp = found
    broken = tuple(
        BrokenLimit(name=measure.name, sentence=past_words(measure))
        for measure in camp.measures
        if not measure.within_limit
    )
    rank = None if broken else _rank(standard, camp)
    return PickGround(
        east_m=east_m,
        north_m=north_m,
        piece=camp.piece,
        measures=camp.measures,
        score=camp.score,
        room_frac=min((_kept_frac(measure) for measure in camp.measures if not measure.within_limit), default=1.0),
        broken=broken,
        moved_m=math.dist(cell, own) * grid.ground_cell_m,
        better_frac=None if broken else _better_frac(standard, camp, cell),
        rank=rank,
        place_count=max(len(standard.measured), rank or 0),
        moving_min=standard.answer.march.way_min_at(*cell),
    )


def _camp_within(
    standard: Standard, own: Cell, *, tolerance_m: float, precision_m: float
) -> tuple[Cell, Measured] | None:
    """The cell that counts for a pick, with the camp round it; None where no camp for the unit is near enough."""
    held = {own: _best_camp(standard, own)}
    square = _best_cell(standard, own, precision_m / 2.0 * math.sqrt(2.0))
    if square is not None:
        held[square] = _best_camp(standard, square)
    if not any(held.values()):
        for cell in (_nearest_cell(standard, own, tolerance_m), _best_cell(standard, own, tolerance_m)):
            if cell is not None and cell not in held:
                held[cell] = _best_camp(standard, cell)
    camps = [(cell, camp) for cell, camp in held.items() if camp is not None]
    return max(camps, key=lambda found: (found[1].is_within_limits, found[1].score), default=None)


def _best_camp(standard: Standard, cell: Cell) -> Measured | None:
    """The better of the camp round a cell and those found before that take it in; None where the unit finds no room."""
    answer = standard.answer
    if not standard.limits.can_pitch[cell]:
        return None
    camps = [one for one in standard.measured if (one.piece.cells == cell).all(axis=1).any()]
    piece = camp_around(answer.plan, answer.ground, standard.limits, *cell)
    if piece is not None and piece.capacity >= answer.sites.need_count:
        camps.append(measured_camp(answer.plan, answer.ground, answer.terrain, answer.march, answer.sites, piece))
    return max(camps, key=lambda one: (one.is_within_limits, one.score), default=None)


def _near(standard: Standard, own: Cell, reach_m: float) -> tuple[np.ndarray, np.ndarray]:
    """Cells that can be pitched on within a distance, and how far each is, in cells."""
    reach = reach_m / standard.answer.ground.grid.ground_cell_m
    whole = math.ceil(reach)
    top, left = max(0, own[0] - whole), max(0, own[1] - whole)
    window = standard.limits.can_pitch[top : own[0] + whole + 1, left : own[1] + whole + 1]
    cells = np.argwhere(window) + np.array((top, left))
    away = np.hypot(cells[:, 0] - own[0], cells[:, 1] - own[1])
    return cells[away <= reach], away[away <= reach]


def _nearest_cell(standard: Standard, own: Cell, reach_m: float) -> Cell | None:
    cells, away = _near(standard, own, reach_m)
    return _cell(cells[int(np.argmin(away))]) if len(cells) else None


def _best_cell(standard: Standard, own: Cell, reach_m: float) -> Cell | None:
    cells, _ = _near(standard, own, reach_m)
    if not len(cells) or reach_m <= 0.0:
        return None
    return _cell(cells[int(np.argmax(standard.quality[cells[:, 0], cells[:, 1]]))])


def _cell(pair: np.ndarray) -> Cell:
    return int(pair[0]), int(pair[1])


def _better_frac(standard: Standard, camp: Measured, cell: Cell) -> float:
    is_best = standard.best_score is None or camp.score >= standard.best_score - _SAME_SCORE
    return 0.0 if is_best else standard.better_frac(*cell)


def _rank(standard: Standard, camp: Measured) -> int:
    return 1 + sum(one.score > camp.score + _SAME_SCORE for one in standard.measured)


def _past_limits(standard: Standard, own: Cell, east_m: float, north_m: float) -> PickGround:
    """A pick where the unit can't camp: what stands against it, and what a camp's width of ground there measures."""
    answer = standard.answer
    told = why_here(answer.plan, answer.ground, answer.terrain, answer.march, answer.sites, east_m, north_m)
    top, left, is_near = _disc(standard, own)
    window = slice(top, top + is_near.shape[0]), slice(left, left + is_near.shape[1])
    limits = standard.limits
    fitting = pack(is_near & limits.can_pitch[window], unit_room(answer.plan, answer.ground.grid), QUICK)
    unknown = next(limit for limit in limits.limits if limit.name == "unknown")
    known = np.argwhere(is_near & limits.in_reach[window] & ~unknown.is_out[window]) + np.array((top, left))
    camp = None
    if len(known):
        piece = Piece(cells=known, capacity=len(fitting))
        camp = measured_camp(answer.plan, answer.ground, answer.terrain, answer.march, answer.sites, piece)
    return replace(
        _nowhere(standard, east_m, north_m),
        piece=None if camp is None else camp.piece,
        measures=() if camp is None else camp.measures,
        score=0.0 if camp is None else camp.score,
        room_frac=min(_NEARLY, len(fitting) / answer.sites.need_count),
        broken=tuple(BrokenLimit(name=one.name, sentence=one.sentence) for one in told.failed),
        moving_min=answer.march.way_min_at(*own),
    )


def _disc(standard: Standard, own: Cell) -> tuple[int, int, MaskArray]:
    """Cells within a camp's width of one, with the row and column of the mask's corner."""
    radius = max(1.0, standard.radius_cells)
    whole = math.ceil(radius)
    rows, cols = standard.limits.can_pitch.shape
    top, left = max(0, own[0] - whole), max(0, own[1] - whole)
    row, col = np.ogrid[top : min(rows, own[0] + whole + 1), left : min(cols, own[1] + whole + 1)]
    near: MaskArray = np.hypot(row - own[0], col - own[1]) <= radius
    return top, left, near


def _nowhere(standard: Standard, east_m: float, north_m: float) -> PickGround:
    outside = BrokenLimit(name="unknown", sentence=_outside_words(standard, east_m, north_m))
    return PickGround(
        east_m=east_m, north_m=north_m, piece=None, measures=(), score=0.0, room_frac=0.0, broken=(outside,),
        moved_m=0.0, better_frac=None, rank=None, place_count=len(standard.measured), moving_min=math.nan,
    )  # fmt: skip


def _outside_words(standard: Standard, east_m: float, north_m: float) -> str:
    west, south, east, north = standard.answer.ground.grid.bounds_m
    off_km = math.hypot(max(west - east_m, east_m - east, 0.0), max(south - north_m, north_m - north, 0.0)) / 1000.0
    far = f", {off_km:.0f} km off: a digit or the zone may be mistaken" if 1.0 <= off_km < math.inf else ""
    return f"The pick lies outside the ground that was read{far}."


def _kept_frac(measure: Measure) -> float:
    """How near a measure past its limit comes to it, below 1."""
    if measure.value is None:
        return 0.0
    if measure.limit_min is not None and measure.value < measure.limit_min:
        return min(_NEARLY, max(0.0, measure.value / measure.limit_min)) if measure.limit_min > 0.0 else 0.0
    if measure.limit_max is not None and measure.value > measure.limit_max:
        return min(_NEARLY, measure.limit_max / measure.value)
    return _NEARLY  # the worst of its ground is past the limit, its mean is not
