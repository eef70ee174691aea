"""How long it takes from each site back to the route on the next day."""

from __future__ import annotations

from dataclasses import replace

from sitepick.ground.model import Ground
from sitepick.march import March, minutes_back_to_route
from sitepick.plan.model import Plan
from sitepick.sites.model import Site
from sitepick.terrain.model import Terrain
from sitepick.work import Watch

LONGER_TIMES, LONGER_MIN = 2.0, 10.0  # ours: a way down that is longer than this going back up isn't looked for


def with_way_back(
    sites: tuple[Site, ...], plan: Plan, ground: Ground, terrain: Terrain, march: March, *, watch: Watch
) -> tuple[Site, ...]:
    """The same sites, each with its way back to the route."""
    if not sites:
        return sites
    limit_min = LONGER_TIMES * max(site.detour_min for site in sites) + LONGER_MIN
    back = minutes_back_to_route(plan, ground, terrain, march, limit_min=limit_min, watch=watch)
    told = []
    for site in sites:
        cell = ground.grid.cell_at(site.east_m, site.north_m)
        station = int(back.seed[cell])
        if station < 0:
            told.append(site)
        else:
            told.append(
                replace(
                    site,
                    return_min=float(back.minutes[cell]),
                    rejoin_distance_m=float(march.station_distance_m[station]),
                )
            )
    return tuple(told)
