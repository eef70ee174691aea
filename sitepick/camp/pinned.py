"""What the plan has put in its place by hand, as it bears on the camp of one site."""

from __future__ import annotations

from dataclasses import dataclass

import shapely

from sitepick.camp.model import Facility
from sitepick.camp.site_ground import ground_outline
from sitepick.caution import Caution
from sitepick.grid import Grid
from sitepick.plan.model import Plan
from sitepick.plan.pins import Pin
from sitepick.sites.model import Site

# Farther from the site than this a pin means another camp. Water and a clearing may lie a walk away. Ours.
FAR_M = 300.0
FAR_WALK_M = 1500.0
WALKED_TO = ("drinking_water", "cooking_water", "washing", "pick_up")
BY_HAND = "Put there by hand."


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Pinned:
    """The pins that count on a site.

    Attributes
    ----------
    shelters : dict from name to (east_m, north_m)
        Grid coordinates.
    facilities : tuple of Facility
    posts : dict from name to (east_m, north_m)
    cautions : tuple of Caution
        One for each pin that doesn't count, with the reason.
    """

    shelters: dict[str, tuple[float, float]]
    facilities: tuple[Facility, ...]
    posts: dict[str, tuple[float, float]]
    cautions: tuple[Caution, ...]


def pinned_on(plan: Plan, site: Site, grid: Grid) -> Pinned:
    """Which pins of the plan count for a camp on a site.

    Parameters
    ----------
    plan : Plan
    site : Site
    grid : Grid
    """
    shelters: dict[str, tuple[float, float]] = {}
    posts: dict[str, tuple[float, float]] = {}
    facilities: list[Facility] = []
    cautions: list[Caution] = []
    names = {shelter.name for shelter in plan.unit.shelters}
    for pin in plan.camp.pins:
        east, north = grid.from_lonlat(*pin.place)
        at = float(east), float(north)
        why = _not_used(plan, pin, at, site, grid, names)
        if why:
            cautions.append(
                Caution(kind="camp", text=f"{pin.name} was put in place by hand, {why}: its place is not used.")
            )
        elif pin.kind == "shelter":
            shelters[pin.name] = at
        elif pin.kind == "post":
            posts[pin.name] = at
        else:
            facilities.append(
                Facility(kind=pin.kind, name=pin.name, east_m=at[0], north_m=at[1], reason=BY_HAND, is_pinned=True)
            )
    return Pinned(shelters=shelters, facilities=tuple(facilities), posts=posts, cautions=tuple(cautions))


def _not_used(
    plan: Plan, pin: Pin, at: tuple[float, float], site: Site, grid: Grid, names: set[str]
) -> str:  # fmt: skip
    """Why a pin doesn't count, as a clause; empty where it does."""
    rules = plan.camp.facilities
    if pin.kind == "shelter" and pin.name not in names:
        return "but the unit has no shelter of that name"
    wanted = {"fire": rules.has_open_fire, "cooking": rules.has_common_cooking, "pick_up": rules.has_pick_up}
    if not wanted.get(pin.kind, True):
        return "but the plan asks for none"
    if not grid.contains(*at):
        return "outside the ground that was read"
    away_m = float(ground_outline(site, grid).distance(shapely.Point(at))) / grid.point_scale(*at)
    if away_m > (FAR_WALK_M if pin.kind in WALKED_TO else FAR_M):
        return f"{away_m:.0f} m from {site.name}"
    return ""
