"""From the pick to a camp: who goes where on it."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
from pyproj import Geod

from sitepick.camp.by_hand import broken_by_hand, hand_of
from sitepick.camp.door import Doors
from sitepick.camp.entry import way_in
from sitepick.camp.facilities import place_facilities
from sitepick.camp.model import Camp, PlacedShelter
from sitepick.camp.pick_up import pick_up_clearing
from sitepick.camp.pinned import Pinned, pinned_on
from sitepick.camp.places import choose_places, site_mask
from sitepick.camp.rules import camp_cautions
from sitepick.camp.security import secure
from sitepick.camp.sub_areas import sub_areas_of
from sitepick.camp.surroundings import surroundings_of
from sitepick.camp.work_order import with_work
from sitepick.caution import Caution
from sitepick.grid import DoubleArray, Grid
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.plan.shelter import Shelter
from sitepick.sites.model import Sites
from sitepick.terrain.model import Terrain
from sitepick.units import bearing_deg
from sitepick.work import Watch

_GLOBE = Geod(ellps="WGS84")


def lay_out_camp(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, sites: Sites, *, watch: Watch | None = None
) -> Camp:
    """Lay out the unit's camp on the pick.

    Parameters
    ----------
    plan : Plan
        Its unit, spacing, door angle and weather.
    ground : Ground
    terrain : Terrain
    march : March
    sites : Sites
        With at least one site.
    watch : Watch, optional
        Hears of the progress and can stop the work.

    Returns
    -------
    Camp
        ``missing`` names the shelters that find no place at the spacing.

    Raises
    ------
    ValueError
        There is no site.
    work.JobStopped
        The watch was stopped.
    """
    watch = watch or Watch()
    if not sites.sites:
        raise ValueError("a camp needs a site")
    site, grid, shelters = sites.sites[0], ground.grid, plan.unit.shelters
    watch.tick("places for the shelters")
    mask, top, left = site_mask(site, sites, grid)
    pinned = pinned_on(plan, site, grid)
    places_m = choose_places(mask, (top, left), plan, terrain, pinned)
    entry_m = way_in(site, march)
    ordered, missing = _who_goes_where(shelters, places_m, entry_m, pinned.shelters)
    middle_m = np.mean([place for _, place in ordered], axis=0) if ordered else entry_m
    doors = Doors(plan=plan, grid=grid, centre_m=(float(middle_m[0]), float(middle_m[1])))
    placed = tuple(
        PlacedShelter(
            shelter=shelter,
            east_m=float(east_m),
            north_m=float(north_m),
            door_bearing_deg=doors.bearing_deg(float(east_m), float(north_m)),
            slope_deg=slope_under(terrain, float(east_m), float(north_m), shelter.kind.footprint_m),
            is_pinned=shelter.name in pinned.shelters,
        )
        for shelter, (east_m, north_m) in ordered
    )
    camp = Camp(
        site_rank=site.rank,
        site_name=site.name,
        spacing_m=plan.camp.spacing_m,
        min_distance_m=least_distance_m(placed, grid),
        shelters=placed,
        missing=missing,
        facilities=(),
        entry_east_m=entry_m[0],
        entry_north_m=entry_m[1],
        cautions=(*camp_cautions(plan, missing), *pinned.cautions),
    )
    if not placed:
        return camp
    whole = _with_the_rest(camp, plan, (ground, terrain, march), pinned, watch)
    if plan.camp.pins:
        whole = replace(
            whole, cautions=(*whole.cautions, *broken_by_hand(hand_of(plan, ground, terrain, sites, whole)))
        )
    return with_work(plan, whole, site, march)


def _with_the_rest(
    camp: Camp, plan: Plan, on: tuple[Ground, Terrain, March], pinned: Pinned, watch: Watch
) -> Camp:  # fmt: skip
    """The camp with everything in it besides its shelters."""
    ground, terrain, march = on
    watch.tick("water, latrines, stores")
    entry_m = (camp.entry_east_m, camp.entry_north_m)
    around = surroundings_of(plan, ground, terrain, camp.shelters, entry_m, watch=watch)
    places, told = place_facilities(around, pinned.facilities)
    if plan.camp.facilities.has_pick_up and not any(place.kind == "pick_up" for place in places):
        clearing, sentences = pick_up_clearing(plan, ground, terrain, around.centre_m)
        places += () if clearing is None else (clearing,)
        told += tuple(Caution(kind="camp", text=text) for text in sentences)
    security = secure(around, places, ground, march, watch=watch, pinned=pinned.posts)
    return replace(
        camp,
        facilities=places,
        sub_areas=sub_areas_of(camp.shelters, security.perimeter_m),
        security=security,
        cautions=(*camp.cautions, *told),
    )


def _who_goes_where(
    shelters: tuple[Shelter, ...],
    places_m: DoubleArray,
    entry_m: tuple[float, float],
    stand: dict[str, tuple[float, float]],
) -> tuple[list[tuple[Shelter, tuple[float, float]]], tuple[Shelter, ...]]:
    """Leaders in the middle, the others round them in the order of the unit, clockwise from the way in.

    `stand` holds those that stand already, by name.
    """
    leaders = [shelter for shelter in shelters if shelter.is_leaders and shelter.name not in stand]
    others = [shelter for shelter in shelters if not shelter.is_leaders and shelter.name not in stand]
    told = leaders + others
    middle = np.array([*places_m.tolist(), *stand.values(), *([entry_m] if not len(places_m) else [])]).mean(axis=0)
    inner = np.argsort(np.hypot(*(places_m - middle).T), kind="stable")
    for_leaders = inner[: len(leaders)]
    rest = np.sort(inner[len(leaders) :])
    turn = [
        bearing_deg(float(_bearing(middle, places_m[k]) - _bearing(middle, np.array(entry_m)))) for k in rest.tolist()
    ]
    order = np.concatenate([for_leaders, rest[np.argsort(turn, kind="stable")]]).astype(int)
    held = [(shelter, (float(places_m[k, 0]), float(places_m[k, 1]))) for shelter, k in zip(told, order, strict=False)]
    at = {**stand, **{shelter.name: place for shelter, place in held}}
    placed = [(shelter, at[shelter.name]) for shelter in shelters if shelter.name in at]
    return placed, tuple(shelter for shelter in shelters if shelter.name not in at)


def _bearing(start: DoubleArray, end: DoubleArray) -> float:
    return float(np.degrees(np.arctan2(end[0] - start[0], end[1] - start[1])))


def slope_under(terrain: Terrain, east_m: float, north_m: float, footprint_m: float) -> float:
    """Steepest cell under a round footprint, degrees."""
    grid = terrain.grid
    radius = footprint_m * grid.point_scale(east_m, north_m) / 2.0
    top, left = grid.cell_at(east_m - radius, north_m + radius)
    bottom, right = grid.cell_at(east_m + radius, north_m - radius)
    steepest = 0.0
    for row in range(max(top, 0), min(bottom, grid.rows - 1) + 1):
        for col in range(max(left, 0), min(right, grid.cols - 1) + 1):
            middle_east, middle_north = grid.cell_centre_m(row, col)
            away_east = max(abs(middle_east - east_m) - grid.cell_m / 2.0, 0.0)
            away_north = max(abs(middle_north - north_m) - grid.cell_m / 2.0, 0.0)
            is_home = away_east == 0.0 and away_north == 0.0
            if is_home or away_east**2 + away_north**2 < radius**2:
                steepest = max(steepest, float(terrain.slope_deg[row, col]))
    return steepest


def least_distance_m(placed: tuple[PlacedShelter, ...], grid: Grid) -> float:
    """Least distance on the ground (geodesic, WGS 84) between two shelters; 0 for fewer than two."""
    if len(placed) < 2:
        return 0.0
    lon, lat = grid.to_lonlat([one.east_m for one in placed], [one.north_m for one in placed])
    one, other = (list(side) for side in zip(*combinations(range(len(placed)), 2), strict=True))
    _, _, distance_m = _GLOBE.inv(lon[one], lat[one], lon[other], lat[other])
    return float(np.min(distance_m))
