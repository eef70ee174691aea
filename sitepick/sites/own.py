"""The user's own sites: drawn on the map, measured like any other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from scipy import ndimage

from sitepick.caution import Caution
from sitepick.grid import Grid, MaskArray
from sitepick.plan.model import Area, Plan
from sitepick.sites.candidates import Piece, piece_of
from sitepick.sites.limits import Limits
from sitepick.sites.measured import Measured, weighed
from sitepick.sites.model import Measure, OwnSite
from sitepick.sites.packing import Room
from sitepick.sites.room import CellArray
from sitepick.terrain.model import Terrain


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OwnGround:
    """The ground of a site that the user drew.

    Attributes
    ----------
    name : str
    cells : int64 array of shape (n, 2)
        All of it that was read.
    piece : Piece or None
        The largest part of it that can be camped on; None where nothing can.
    fails : str
        Which limits its ground is past and by how much, sentences; empty where all of it keeps them.
    """

    name: str
    cells: CellArray
    piece: Piece | None
    fails: str


def own_ground(plan: Plan, grid: Grid, terrain: Terrain, limits: Limits, room: Room) -> tuple[
    tuple[OwnGround, ...], tuple[Caution, ...]
]:  # fmt: skip
    """The sites that the user drew, and what is wrong with how they lie.

    Parameters
    ----------
    plan : Plan
    grid : Grid
    terrain : Terrain
    limits : Limits
    room : Room
    """
    found, cautions = [], []
    for area in plan.areas:
        if area.role != "site":
            continue
        cells, is_whole = _cells_of(area, grid)
        if not is_whole:
            some = "lies" if not len(cells) else "lies in part"
            cautions.append(
                Caution(kind="data", text=f"Your site {area.name} {some} outside the ground that was read: it is "
                        f"{'not measured' if not len(cells) else 'measured only as far as the ground goes'}.")
            )  # fmt: skip
        if len(cells):
            found.append(_measured_ground(area.name, cells, terrain, limits, room, plan))
    return tuple(found), tuple(cautions)


def _cells_of(area: Area, grid: Grid) -> tuple[CellArray, bool]:
    """Cells whose middle lies inside, at least the one that holds its middle; and whether all of it was read."""
    lon, lat = zip(*area.ring, strict=True)
    outline = shapely.Polygon(np.column_stack(grid.from_lonlat(lon, lat)))
    west, south, east, north = outline.bounds
    is_whole = west >= grid.west_m and east <= grid.east_m and south >= grid.south_m and north <= grid.north_m
    first_row, last_row = _clipped(grid.north_m - north, grid.north_m - south, grid.cell_m, grid.rows)
    first_col, last_col = _clipped(west - grid.west_m, east - grid.west_m, grid.cell_m, grid.cols)
    rows, cols = np.mgrid[first_row:last_row, first_col:last_col]
    east_m, north_m = grid.cell_centre_m(rows, cols)
    is_inside = shapely.contains_xy(outline, east_m, north_m)
    cells = np.stack((rows[is_inside], cols[is_inside]), axis=1).astype(np.int64)
    middle = outline.representative_point()
    if not len(cells) and grid.contains(middle.x, middle.y):
        cells = np.array([grid.cell_at(middle.x, middle.y)], np.int64)
    return cells, is_whole


def _clipped(near_m: float, far_m: float, cell_m: float, count: int) -> tuple[int, int]:
    first, last = int(np.floor(near_m / cell_m)), int(np.ceil(far_m / cell_m))
    return min(max(first, 0), count), min(max(last, 0), count)


def _measured_ground(
    name: str, cells: CellArray, terrain: Terrain, limits: Limits, room: Room, plan: Plan
) -> OwnGround:  # fmt: skip
    index = cells[:, 0], cells[:, 1]
    can_pitch, need = limits.can_pitch[index], len(plan.unit.shelters)
    piece = _largest_piece(cells[can_pitch], room, need) if can_pitch.any() else None
    told = []
    for limit in limits.limits:
        share = float(np.mean(limit.is_out[index]))
        if share > 0.0:
            told.append(f"{_percent(share)} of it {limit.words}{_excess(limit.name, plan, terrain, cells)}.")
    unreached = float(np.mean(~limits.in_reach[index]))
    if unreached > 0.0:
        told.append(f"{_percent(unreached)} of it can't be reached before camp-by.")
    holds = piece.capacity if piece is not None else 0
    if holds < need:
        told.append(f"{holds or 'None'} of {need} shelters fit on what is left of it at {plan.camp.spacing_m:.0f} m.")
    return OwnGround(name=name, cells=cells, piece=piece, fails=" ".join(told))


def _largest_piece(cells: CellArray, room: Room, need: int) -> Piece:
    top, left = cells.min(axis=0)
    mask: MaskArray = np.zeros(tuple(cells.max(axis=0) - (top, left) + 1), bool)
    mask[cells[:, 0] - top, cells[:, 1] - left] = True
    labelled, count = ndimage.label(mask)
    best: Piece | None = None
    for part in np.argsort(-np.bincount(labelled.ravel(), minlength=count + 1)[1:], kind="stable")[:3] + 1:
        piece = piece_of(np.argwhere(labelled == part) + np.array((top, left)), room, need_count=need)
        if best is None or piece.capacity > best.capacity:
            best = piece
    assert best is not None  # there is a cell, so there is a part
    return best


def _excess(name: str, plan: Plan, terrain: Terrain, cells: CellArray) -> str:
    """How far the worst cell is past a limit that has a measure."""
    index = cells[:, 0], cells[:, 1]
    slope_max, wind_max = plan.preferences.slope.limit_max, plan.preferences.wind.limit_max
    if name == "slope" and slope_max is not None:
        over = float(np.max(np.nan_to_num(terrain.slope_30m_deg[index]))) - slope_max
        return f", by up to {over:.1f}°" if over > 0.0 else ""
    if name == "wind" and wind_max is not None:
        over = float(np.max(np.nan_to_num(terrain.wind_share_worst[index]))) - wind_max
        return f", by up to {100 * over:.0f} %" if over > 0.0 else ""
    return ""


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "Less than 1 %"


def failed_sites(
    own: Sequence[OwnGround],
    measured: Sequence[Measured],
    limits: Limits,
    plan: Plan,
    measure: Callable[[Piece, str], Measured],
) -> tuple[OwnSite, ...]:
    """The user's sites that are not to be listed, and why.

    Parameters
    ----------
    own : sequence of OwnGround
    measured : sequence of Measured
        Those of them that hold the unit.
    limits : Limits
    plan : Plan
    measure : callable
        ``measure(piece, name) -> Measured``.
    """
    told = []
    by_name = {one.own_name: one for one in measured}
    unknown = next(limit for limit in limits.limits if limit.name == "unknown")
    for one in own:
        held = by_name.get(one.name)
        if held is not None and held.is_within_limits:
            continue
        if held is None:
            index = one.cells[:, 0], one.cells[:, 1]
            cells = one.cells[limits.in_reach[index] & ~unknown.is_out[index]]
            holds = one.piece.capacity if one.piece is not None else 0
            held = measure(Piece(cells=cells, capacity=holds), one.name) if len(cells) else None
            text = one.fails
        else:
            past = [measure for measure in held.measures if not measure.within_limit]
            text = " ".join([*(past_words(measure) for measure in past), one.fails]).strip()
        told.append(
            OwnSite(
                name=one.name,
                text=text,
                measures=() if held is None else held.measures,
                score=None if held is None else held.score,
            )
        )
    return tuple(told)


def past_words(measure: Measure) -> str:
    """By which limit a place as a whole is out, and what it measures."""
    limit = measure.limit_max if measure.limit_max is not None else measure.limit_min
    side = "at most" if measure.limit_max is not None else "at least"
    if measure.unit == "share":
        return f"Past its limit by {measure.label}: {side} {100 * (limit or 0.0):.0f} %. {measure.sentence}"
    return f"Past its limit by {measure.label}: {side} {limit:g} {measure.unit}. {measure.sentence}"


def weighed_own(one: OwnSite, plan: Plan) -> OwnSite:
    """The same under other weights."""
    if one.score is None:
        return one
    nowhere = Piece(cells=np.empty((0, 2), np.int64), capacity=0)
    again = weighed(Measured(piece=nowhere, measures=one.measures), plan.preferences)
    return replace(one, measures=again.measures, score=again.score)
