"""Why ground is out, and what would help."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from sitepick.grid import Grid, MaskArray
from sitepick.plan.factor_words import FACTOR_WORDS
from sitepick.plan.model import MAIN_NAMES, Plan
from sitepick.sites.candidates import Candidates, piece_of
from sitepick.sites.limits import Limit, Limits
from sitepick.sites.model import Hindrance
from sitepick.sites.packing import QUICK, Room, room_of
from sitepick.terrain.model import Terrain

_TRIED_SPACINGS = (0.9, 0.8, 0.7, 0.6, 0.5, 0.4, 0.3, 0.2, 0.15, 0.1)
_SLOPE_STEP_DEG, _WIND_STEP_FRAC = 2.0, 0.25  # how far a limit is widened to tell what that brings
_TRIED_SLOPES_DEG = (1.0, 2.0, 4.0)  # more than the limit
_TELLING_HA = 0.05
_SPACING_FIX = "set the spacing to"
# A shelter's share of what is trodden beside it: a sled of 3 m by 1.5 m with its racks, the path, its part of latrine
# and water point. Ours.
STANDING_M2 = 20.0
_LEAST_SPACING_M = 3.0  # as far as the plan lets it be set

_FIXES = {
    "slope": "allow a steeper slope, if the unit can dig level floors",
    "wind": "allow more wind, if walls of snow can be built",
    "water": "keep a shorter distance from water",
    "wet": "pick another route or a drier valley; frozen bog may still flood",
    "avalanche": "pick another route; this limit is not to be relaxed",
    "ice": "pick another route; nobody camps on ice",
    "built": "ask for a roof, or for leave to camp there",
    "no_go": "take the mark off, if it no longer holds",
    "timber": "pick another route; nobody sleeps under dead trees",
    "progress": "ask for less of the day's way before the stop",
    "detour": "allow more minutes off the route",
    "unknown": "add files that cover this ground",
}
_NOT_TO_RELAX = frozenset({"avalanche", "ice", "timber", "wet"})


def tell_hindrances(
    plan: Plan,
    limits: Limits,
    candidates: Candidates,
    grid: Grid,
    terrain: Terrain,
    *,
    is_empty: bool,
    opens: Callable[[MaskArray], bool],
) -> tuple[Hindrance, ...]:
    """What keeps ground out, the most limiting first; room before all where a smaller spacing alone would do.

    Parameters
    ----------
    plan : Plan
    limits : Limits
    candidates : Candidates
    grid : Grid
    terrain : Terrain
    is_empty : bool
        Whether no site was found.
    opens : callable
        ``opens(can_pitch) -> bool``: whether the unit finds room where more ground can be pitched on.
    """
    found = [
        hindrance
        for limit in limits.limits
        if (hindrance := _of_limit(limit, limits, grid, _relaxed(limit, plan, terrain))) is not None
    ]
    first_name = ""
    if is_empty:
        room = _of_room(plan, limits, candidates, grid, _slope_that_opens(plan, limits, terrain, opens))
        if room and room[0].fix.startswith(_SPACING_FIX):
            first_name = "room"
        found += room
        found += _of_site_limits(plan, candidates)
    if is_empty and not limits.in_reach.any():
        found.append(
            Hindrance(
                name="reach",
                text="No ground can be reached before camp-by.",
                fix="leave earlier, shorten the pitching time or draw the route over ground that can be crossed",
                excluded_frac=1.0,
            )
        )
    elif is_empty:
        area_km2 = np.count_nonzero(limits.in_reach) * grid.cell_area_m2 / 1e6
        found.append(
            Hindrance(
                name="reach",
                text=f"The ground in reach before camp-by is {area_km2:.1f} km², and none of it serves.",
                fix="leave earlier, shorten the pitching time or take another route",
                excluded_frac=0.0,
            )
        )
    return tuple(sorted(found, key=lambda hindrance: (hindrance.name != first_name, -hindrance.excluded_frac)))


def _relaxed(limit: Limit, plan: Plan, terrain: Terrain) -> tuple[str, MaskArray] | None:
    """A limit one step wider: how it is told, and the ground that it would let in; None where it has no such step."""
    preferences = plan.preferences
    if limit.name == "slope" and preferences.slope.limit_max is not None:
        wider_deg = preferences.slope.limit_max + _SLOPE_STEP_DEG
        is_let_in = (terrain.slope_30m_deg <= wider_deg) & (terrain.slope_deg <= preferences.cell_slope_max_deg)
        return f"at {wider_deg:g}° over 30 m", is_let_in
    if limit.name == "wind" and preferences.wind.limit_max is not None:
        wider = preferences.wind.limit_max + _WIND_STEP_FRAC
        return f"at {100 * wider:.0f} % of the open wind", terrain.wind_share_worst <= wider
    return None


def _of_limit(
    limit: Limit, limits: Limits, grid: Grid, relaxed: tuple[str, MaskArray] | None
) -> Hindrance | None:  # fmt: skip
    total = limits.ground_count
    out_count = float(np.count_nonzero(limit.is_out & limits.in_reach))
    if limit.name == "unknown":
        out_count += limits.unknown_count
    if out_count == 0.0 or total == 0.0:
        return None
    share = out_count / total
    gain_ha = limits.sole_count(limit) * grid.cell_area_m2 / 1e4
    fix = _FIXES[limit.name]
    if limit.name not in _NOT_TO_RELAX and gain_ha >= _TELLING_HA:
        gains = f"without this limit {_hectares(gain_ha)} more could be camped on"
        if relaxed is not None:
            step_ha = np.count_nonzero(limits.is_sole & limit.is_out & relaxed[1]) * grid.cell_area_m2 / 1e4
            gains += f", {relaxed[0]} {_hectares(step_ha) if step_ha >= _TELLING_HA else 'hardly any'}"
        fix = f"{fix}: {gains}"
    return Hindrance(
        name=limit.name,
        text=f"{_percent(share)} of the ground in reach {limit.words}.",
        fix=fix,
        excluded_frac=share,
    )


def _slope_that_opens(
    plan: Plan, limits: Limits, terrain: Terrain, opens: Callable[[MaskArray], bool]
) -> str:  # fmt: skip
    """The least steeper limit tried that makes room for the whole unit, as the end of a sentence; empty for none."""
    limit_deg = plan.preferences.slope.limit_max
    if limit_deg is None or not limits.in_reach.any():
        return ""
    is_steep = next(limit.is_out for limit in limits.limits if limit.name == "slope")
    may_open = limits.is_sole & is_steep & (terrain.slope_deg <= plan.preferences.cell_slope_max_deg)
    for more_deg in _TRIED_SLOPES_DEG:
        is_more = may_open & (terrain.slope_30m_deg <= limit_deg + more_deg)
        if is_more.any() and opens(limits.can_pitch | is_more):
            return (
                f"allow {limit_deg + more_deg:.1f}° over 30 m, where the unit can dig level floors, and there is room"
            )
    return ""


def _of_room(
    plan: Plan, limits: Limits, candidates: Candidates, grid: Grid, slope_fix: str
) -> list[Hindrance]:  # fmt: skip
    need = len(plan.unit.shelters)
    if candidates.largest is None or candidates.largest_count >= need:
        return []
    spacing_m = plan.camp.spacing_m
    holds = "no shelter" if candidates.largest_count == 0 else f"{candidates.largest_count} of {need} shelters"
    fits_m = _spacing_that_fits(plan, candidates, grid)
    fixes = [slope_fix] if slope_fix else []
    if fits_m is not None:
        fixes.insert(0, f"{_SPACING_FIX} {fits_m:g} m and all {need} fit there")
    fix = ", or ".join(fixes or ["split the unit over two sites", "take fewer shelters"])
    share = np.count_nonzero(limits.can_pitch) / limits.ground_count
    return [
        Hindrance(
            name="room",
            text=f"The largest place holds {holds} at {spacing_m:.0f} m; {_percent(share)} of the ground in reach is "
            "good but in pieces too small.",
            fix=fix,
            excluded_frac=share * candidates.small_frac if candidates.small_frac > 0.0 else share,
            spacing_m=fits_m,
        )
    ]


def _spacing_that_fits(plan: Plan, candidates: Candidates, grid: Grid) -> float | None:
    """The widest spacing tried at which the unit fits on the largest place."""
    if candidates.largest is None:
        return None
    cells, need = candidates.largest.cells, len(plan.unit.shelters)
    for share in _TRIED_SPACINGS:
        spacing_m = float(np.floor(plan.camp.spacing_m * share))
        if spacing_m < _LEAST_SPACING_M:
            break
        if piece_of(cells, unit_room(plan, grid, spacing_m=spacing_m), QUICK).capacity >= need:
            return spacing_m
    return None


def unit_room(plan: Plan, grid: Grid, *, spacing_m: float | None = None) -> Room:
    """The room that the unit's widest shelter takes, at the plan's spacing or another one."""
    return room_of(
        grid,
        grid.bounds_m,
        spacing_m=plan.camp.spacing_m if spacing_m is None else spacing_m,
        footprint_m=max(shelter.kind.footprint_m for shelter in plan.unit.shelters),
        standing_m2=STANDING_M2,
    )


def _of_site_limits(plan: Plan, candidates: Candidates) -> list[Hindrance]:
    """Limits that hold for a place as a whole: there is room, and still no site."""
    is_large_enough = bool(candidates.pieces) or (candidates.is_roomy and candidates.largest is None)
    limited = [
        name if name in MAIN_NAMES else FACTOR_WORDS[name].label
        for name, factor in plan.preferences.factors()
        if factor.limit_max is not None or (factor.limit_min is not None and (name, factor.limit_min) != ("room", 0.0))
    ]
    if not (is_large_enough and limited):
        return []
    return [
        Hindrance(
            name="limits",
            text=f"Some ground holds the unit, but none of it keeps the limits of {_listed(limited)} together.",
            fix=f"loosen a limit of {_listed(limited)}",
            excluded_frac=0.0,
        )
    ]


def _listed(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %" if share >= 0.01 else "Less than 1 %"


def _hectares(area_ha: float) -> str:
    return f"{area_ha:.0f} ha" if area_ha >= 10 else f"{area_ha:.1f} ha"
