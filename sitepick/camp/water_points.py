"""Where water is drawn, and what is done with it farther down."""

from __future__ import annotations

import numpy as np

from sitepick.camp.model import FACILITY_KINDS, Facility
from sitepick.camp.surroundings import Surroundings
from sitepick.grid import MaskArray
from sitepick.terrain.model import LAKE, NO_WATER, RIVER

APART_M = 20.0  # ours: between drawing, cooking water and washing along the bank
SNOW_FROM_SHELTERS_M = 25.0  # ours: beyond where people walk and spill
CLIMB_COST = 6.0  # a metre of climb back with full cans counts for so many on the level; ours
_NAMES = dict(FACILITY_KINDS)


def water_points(around: Surroundings, drawn_at: Facility | None = None) -> tuple[Facility, ...]:
    """Drinking water uppermost, then water for cooking, then washing; clean snow where there is no water.

    Parameters
    ----------
    around : Surroundings
        Water of any kind in its window is thought of as within reach.
    drawn_at : Facility, optional
        Where the user draws drinking water: the rest goes by it.
    """
    drawn = _drawing_cell(around) if drawn_at is None else _nearest_water(around, drawn_at)
    if drawn is None:
        return _snow(around)
    points = [drawn, *_down_the_bank(around, drawn)]
    reasons = (
        f"Nearest water, {_distance_words(around, drawn)} from the middle, above everything else that is done with it.",
        "Farther down the water than what is drunk.",
        "Below both, so that nothing dirty comes near what is drunk.",
    )
    kinds = ("drinking_water", "cooking_water", "washing")
    return tuple(
        _at_bank(around, kind, cell, reason) for kind, cell, reason in zip(kinds, points, reasons, strict=False)
    )


def upstream_of(around: Surroundings, is_point: MaskArray) -> MaskArray:
    """Cells whose water comes past any cell of a mask, those cells included."""
    receiver = around.receiver.ravel().astype(np.int64)
    end = receiver.size  # one past the last cell stands for "out of the window"
    step = np.append(np.where(receiver < 0, end, receiver), end)
    passes = np.append(is_point.ravel(), False)
    for _ in range(max(1, int(np.ceil(np.log2(receiver.size + 1))))):
        passes |= passes[step]
        step = step[step]
    return np.asarray(passes[:-1].reshape(is_point.shape))


def _drawing_cell(around: Surroundings) -> tuple[int, int] | None:
    is_water = around.can_draw
    if not is_water.any():
        return None
    below_m = np.maximum(-around.above_centre_m(), 0.0)
    cost = around.from_m(*around.centre_m) + CLIMB_COST * np.nan_to_num(below_m, nan=1e3)
    # Water that has run through the camp is drawn only where there is no other.
    is_below_camp = _below_camp(around)
    clean = is_water & ~is_below_camp
    cost = np.where(clean if clean.any() else is_water, cost, np.inf)
    row, col = divmod(int(np.argmin(cost)), around.grid.cols)
    return row, col


def _nearest_water(around: Surroundings, at: Facility) -> tuple[int, int] | None:
    is_water = around.can_draw
    if not is_water.any():
        return None
    away_m = np.where(is_water, around.from_m(at.east_m, at.north_m), np.inf)
    row, col = divmod(int(np.argmin(away_m)), around.grid.cols)
    return row, col


def _below_camp(around: Surroundings) -> MaskArray:
    """Cells that water from a shelter's own cell runs through."""
    is_below = np.zeros(around.grid.shape, bool)
    receiver = around.receiver.ravel()
    for east_m, north_m in around.shelters_m.tolist():
        row, col = around.grid.cell_at(east_m, north_m)
        cell = row * around.grid.cols + col
        while cell >= 0 and not is_below.flat[cell]:
            is_below.flat[cell] = True
            cell = int(receiver[cell])
    return is_below


def _down_the_bank(around: Surroundings, drawn: tuple[int, int]) -> list[tuple[int, int]]:
    """Cells of the same water one and two steps farther down; along the shore of a lake."""
    if around.water_kind[drawn] in (LAKE, RIVER):
        return _along_the_shore(around, drawn)
    found: list[tuple[int, int]] = []
    cell, gone_m = drawn, 0.0
    while len(found) < 2:
        following = int(around.receiver[cell])
        if following < 0:
            break
        below = divmod(following, around.grid.cols)
        gone_m += np.hypot(below[0] - cell[0], below[1] - cell[1]) * around.grid.ground_cell_m
        cell = below
        if gone_m >= APART_M * (len(found) + 1) and around.water_kind[cell] != NO_WATER:
            found.append(cell)
    return found


def _along_the_shore(around: Surroundings, drawn: tuple[int, int]) -> list[tuple[int, int]]:
    is_lake = np.isin(around.water_kind, (LAKE, RIVER))
    inner = is_lake.copy()
    inner[1:-1, 1:-1] &= is_lake[:-2, 1:-1] & is_lake[2:, 1:-1] & is_lake[1:-1, :-2] & is_lake[1:-1, 2:]
    rows, cols = np.nonzero(is_lake & ~inner)
    away_m = np.hypot(rows - drawn[0], cols - drawn[1]) * around.grid.ground_cell_m
    found: list[tuple[int, int]] = []
    for number in (1, 2):
        far = np.where(away_m >= number * APART_M, away_m, np.inf)
        if found:  # on the same side of the first point, not back towards where water is drawn
            beyond = np.hypot(rows - found[0][0], cols - found[0][1]) * around.grid.ground_cell_m
            far = np.where(beyond >= 0.5 * APART_M, far + 0.5 * beyond, np.inf)
        if not np.isfinite(far).any():
            break
        nearest = int(np.argmin(far))
        found.append((int(rows[nearest]), int(cols[nearest])))
    return found


def _snow(around: Surroundings) -> tuple[Facility, ...]:
    """Untrodden snow to the windward, where nothing is spilt or walked."""
    snow_cm = around.plan.weather.snow_cm
    if snow_cm is not None and snow_cm <= 0.0:
        return ()
    cost = around.from_m(*around.centre_m) - 60.0 * around.against_wind()
    is_clean = around.can_stand & (around.from_shelters_m() >= SNOW_FROM_SHELTERS_M)
    is_clean &= around.from_m(*around.entry_m) >= SNOW_FROM_SHELTERS_M
    if not is_clean.any():
        return ()
    row, col = divmod(int(np.argmin(np.where(is_clean, cost, np.inf))), around.grid.cols)
    return (
        Facility(
            kind="snow_for_water",
            name=_NAMES["snow_for_water"],
            east_m=float(around.east_m[row, col]),
            north_m=float(around.north_m[row, col]),
            reason="No water near: snow is taken here and nowhere else, marked off and never walked on.",
        ),
    )


def _at_bank(around: Surroundings, kind: str, cell: tuple[int, int], reason: str) -> Facility:
    """On the edge between a cell of water and the dry cell beside it that lies nearest to the camp."""
    row, col = cell
    here_m = (float(around.east_m[row, col]), float(around.north_m[row, col]))
    beside = [
        (row + down, col + right)
        for down, right in ((-1, 0), (1, 0), (0, -1), (0, 1))
        if 0 <= row + down < around.grid.rows and 0 <= col + right < around.grid.cols
    ]
    banks = [one for one in beside if around.water_kind[one] == NO_WATER]
    from_centre_m = around.from_m(*around.centre_m)
    if banks:
        bank = min(banks, key=lambda one: float(from_centre_m[one]))
        here_m = (
            (here_m[0] + float(around.east_m[bank])) / 2.0,
            (here_m[1] + float(around.north_m[bank])) / 2.0,
        )
    return Facility(kind=kind, name=_NAMES[kind], east_m=here_m[0], north_m=here_m[1], reason=reason)


def _distance_words(around: Surroundings, cell: tuple[int, int]) -> str:
    return f"{round(float(around.from_m(*around.centre_m)[cell]), -1):.0f} m"
