"""Where not everyone fits on a site: what would make room, the cheapest first."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from pyproj import Geod

from sitepick.camp.places import least_spacing_m, site_mask, stand_room
from sitepick.camp.stands import stands_of
from sitepick.grid import MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import piece_around
from sitepick.sites.limits import read_limits
from sitepick.sites.model import Sites
from sitepick.sites.packing import THOROUGH, pack
from sitepick.sites.pressing import pressed_in
from sitepick.terrain.model import Terrain

_STEP_M = 0.5  # of the spacings tried
_STEP_DEG = 0.5  # of the slopes tried
_STEEPER_MOST = 16  # steps
_LEAST_SPACING_M = 3.0  # what the plan allows
# What each way out costs, so that they can be put in order; ours. Halving the spacing, allowing slopes half as steep
# again and splitting the unit over 500 m cost the same.
_PARTED_COST_PER_M = 0.001

_GLOBE = Geod(ellps="WGS84")


def what_gives(plan: Plan, ground: Ground, terrain: Terrain, march: March, sites: Sites) -> tuple[str, ...]:
    """What would make room for the whole unit on the pick, a sentence each.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    sites : Sites
        The first one holds too few.

    Returns
    -------
    tuple of str
        By what they cost: the share of the spacing given up, the share by which slopes are steeper, kilometres between
        two sites. Where shelters were put by hand, letting go of them comes first, and the rest counts on that. Empty
        where nothing that was tried helps.
    """
    mask, _, _ = site_mask(sites.sites[0], sites, ground.grid)
    names = [pin.name for pin in plan.camp.pins if pin.kind == "shelter"]
    if names and _fit_count(mask, plan, ground) >= len(plan.unit.shelters):
        return (f"Let go of what was put by hand ({', '.join(names)}) and everyone fits here.",)
    first = (f"Let go of what was put by hand ({', '.join(names)}); besides, one of these:",) if names else ()
    ways = [
        way
        for way in (
            _closer(mask, plan, ground),
            _steeper(plan, ground, terrain, march, sites),
            _parted(mask, plan, ground, sites),
        )
        if way is not None
    ]
    return (*first, *(text for _, text in sorted(ways))) if ways else ()


def _fit_count(mask: MaskArray, plan: Plan, ground: Ground) -> int:
    stands = stands_of(plan.unit.shelters, joined=False)
    room = stand_room(plan, ground.grid, stands)
    return len(pressed_in(mask, room, pack(mask, room, THOROUGH), len(stands)))


def _closer(mask: MaskArray, plan: Plan, ground: Ground) -> tuple[float, str] | None:
    """The widest spacing at which everyone fits."""
    asked_m, need = least_spacing_m(plan), len(plan.unit.shelters)
    least_m = max(_LEAST_SPACING_M, *(shelter.kind.footprint_m for shelter in plan.unit.shelters))

    def fits(step: int) -> bool:
        closer = replace(plan, camp=replace(plan.camp, spacing_m=step * _STEP_M))
        return _fit_count(mask, closer, ground) >= need

    low, high = math.ceil(least_m / _STEP_M), math.ceil(asked_m / _STEP_M)
    if low >= high or not fits(low):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if fits(middle) else (low, middle)
    spacing_m = low * _STEP_M
    text = f"Set the spacing to {spacing_m:g} m instead of {plan.camp.spacing_m:.1f} m and everyone fits here."
    return 1.0 - spacing_m / asked_m, text


def _steeper(plan: Plan, ground: Ground, terrain: Terrain, march: March, sites: Sites) -> tuple[float, str] | None:
    """The least change of the slope limits that joins enough ground to the site."""
    preferences, site, grid = plan.preferences, sites.sites[0], ground.grid
    limits = read_limits(plan, ground, terrain, march)
    is_steep = next(limit for limit in limits.limits if limit.name == "slope").is_out & limits.is_sole
    mean_deg, cell_deg = preferences.slope.limit_max, preferences.cell_slope_max_deg
    need = len(plan.unit.shelters)
    room = stand_room(plan, grid, stands_of(plan.unit.shelters, joined=False))
    mask, top, left = site_mask(site, sites, grid)
    if not mask.any():
        return None
    row, col = grid.cell_at(site.east_m, site.north_m)
    inside = np.argwhere(mask) + np.array((top, left))
    row, col = (int(k) for k in inside[np.argmin(np.hypot(*(inside - (row, col)).T))])

    def fits(step: int) -> bool:
        more_deg = step * _STEP_DEG
        is_let_in = is_steep & (terrain.slope_deg <= cell_deg + more_deg)
        if mean_deg is not None:
            is_let_in &= terrain.slope_30m_deg <= mean_deg + more_deg
        return piece_around(limits.can_pitch | is_let_in, row, col, room, need).capacity >= need

    low, high = 0, _STEEPER_MOST
    if not fits(high):
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if fits(middle) else (middle, high)
    more_deg = high * _STEP_DEG
    mean = "" if mean_deg is None else f"{mean_deg + more_deg:g}° over 30 m and "
    text = (
        f"Allow slopes of {mean}{cell_deg + more_deg:g}° in one cell, {more_deg:g}° more, and everyone fits round here."
    )
    return more_deg / (mean_deg or cell_deg), text


def _parted(mask: MaskArray, plan: Plan, ground: Ground, sites: Sites) -> tuple[float, str] | None:
    """The nearest listed site that takes those who find no place."""
    here, missing = sites.sites[0], len(plan.unit.shelters) - _fit_count(mask, plan, ground)
    others = [site for site in sites.sites[1:] if site.capacity >= missing]
    if not others:
        return None
    lon, lat = ground.grid.to_lonlat(
        [site.east_m for site in (here, *others)], [site.north_m for site in (here, *others)]
    )
    apart_m = [_GLOBE.inv(lon[0], lat[0], x, y)[2] for x, y in zip(lon[1:], lat[1:], strict=True)]
    nearest = int(np.argmin(apart_m))
    site, away_m = others[nearest], 10.0 * round(apart_m[nearest] / 10.0)
    number = "one shelter" if missing == 1 else f"{missing} shelters"
    return _PARTED_COST_PER_M * away_m, f"Put {number} on site {site.rank}, {site.name}, {away_m:.0f} m away."
