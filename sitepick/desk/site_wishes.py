"""What a person may wish of one site: keep it in the list, hide it, name it, mark a place as their own."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from sitepick.desk.edit import PlanEdit
from sitepick.desk.translation import tr
from sitepick.plan.edits import with_own_site, with_site_mark
from sitepick.plan.mark_edits import closed_ring
from sitepick.plan.model import LonLat, Plan
from sitepick.plan.weighting import SiteMark

if TYPE_CHECKING:
    from sitepick.grid import Grid
    from sitepick.sites.model import Site

_CORNERS = 16
_HEXAGON = 0.87  # ground a shelter takes, in squares of the spacing
_SLACK = 1.3  # room to choose in


def mark_of(plan: Plan, site: Site, grid: Grid) -> SiteMark:
    """The mark on a site; where it has none, one that says nothing, at its middle."""
    from shapely import contains_xy

    for mark in plan.site_marks:
        if contains_xy(site.outline_m, *grid.from_lonlat(*mark.place)):
            return mark
    lon, lat = grid.to_lonlat(site.east_m, site.north_m)
    return SiteMark(place=(float(lon), float(lat)))


def pin_edit(plan: Plan, site: Site, grid: Grid) -> PlanEdit:
    """Keep a site in the list whatever its rank, or no longer."""
    mark = mark_of(plan, site, grid)
    changed = replace(mark, is_pinned=not mark.is_pinned, is_hidden=False)
    text = tr("Keep {name}", name=site.name) if changed.is_pinned else tr("Let go of {name}", name=site.name)
    return PlanEdit(text=text, change=partial(with_site_mark, mark=changed))


def hide_edit(plan: Plan, site: Site, grid: Grid) -> PlanEdit:
    """Take a site out of the list and the ranking."""
    mark = replace(mark_of(plan, site, grid), is_hidden=True, is_pinned=False)
    return PlanEdit(text=tr("Hide {name}", name=site.name), change=partial(with_site_mark, mark=mark))


def name_edit(plan: Plan, site: Site, grid: Grid, name: str) -> PlanEdit:
    """Give a site a name of the user's; an empty one gives it back the map's."""
    mark = replace(mark_of(plan, site, grid), name=name.strip())
    return PlanEdit(text=tr("Name {name}", name=site.name), change=partial(with_site_mark, mark=mark))


def own_site_edit(plan: Plan, grid: Grid, east_m: float, north_m: float) -> PlanEdit:
    """Mark a round site of the user's own with room for the unit around a place."""
    taken = {area.name for area in plan.areas}
    number = next(k for k in range(1, len(taken) + 2) if tr("Own site {number}", number=k) not in taken)
    name = tr("Own site {number}", number=number)
    area_m2 = len(plan.unit.shelters) * _HEXAGON * plan.camp.spacing_m**2 * _SLACK
    radius_m = (math.sqrt(area_m2 / math.pi) + plan.camp.spacing_m / 2.0) * grid.point_scale(east_m, north_m)
    turns = [2.0 * math.pi * k / _CORNERS for k in range(_CORNERS)]
    lon, lat = grid.to_lonlat(
        [east_m + radius_m * math.cos(turn) for turn in turns], [north_m + radius_m * math.sin(turn) for turn in turns]
    )
    corners: list[LonLat] = list(zip(map(float, lon), map(float, lat), strict=True))
    return PlanEdit(
        text=tr("Mark {name}", name=name), change=partial(with_own_site, name=name, ring=closed_ring(corners))
    )
