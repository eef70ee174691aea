"""From the pick to a camp: who goes where on it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from math import cos, radians, sin

from sitepick.camp.by_hand import broken_by_hand, hand_of
from sitepick.camp.door import Doors
from sitepick.camp.entry import way_in
from sitepick.camp.facilities import place_facilities
from sitepick.camp.held import Held, held_by_hand
from sitepick.camp.model import Camp, PlacedShelter
from sitepick.camp.pick_up import pick_up_clearing
from sitepick.camp.pinned import Pinned, pinned_on
from sitepick.camp.places import Layout, choose_places, site_mask
from sitepick.camp.rules import camp_cautions
from sitepick.camp.security import secure
from sitepick.camp.shelter_needs import has_trees, need_cautions
from sitepick.camp.site_ground import ground_outline
from sitepick.camp.spacing import least_distance_m
from sitepick.camp.stands import Stand
from sitepick.camp.sub_areas import sub_areas_of
from sitepick.camp.surroundings import surroundings_of
from sitepick.camp.way_out import way_out_words, way_to_track
from sitepick.camp.what_gives import what_gives
from sitepick.camp.who_goes_where import Sharing, who_goes_where
from sitepick.camp.work_order import work_order
from sitepick.caution import Caution
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.model import Sites
from sitepick.terrain.model import Terrain
from sitepick.work import Watch


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
    site, grid = sites.sites[0], ground.grid
    watch.tick("places for the shelters")
    mask, top, left = site_mask(site, sites, grid)
    pinned, entry_m = pinned_on(plan, site, grid), way_in(site, march, ground_outline(site, grid))
    doors = Doors(plan=plan, grid=grid, centre_m=(site.east_m, site.north_m))
    held = held_by_hand(plan, pinned.shelters, mask, (top, left), doors)
    layout = choose_places(mask, (top, left), plan, terrain, held.places_m)
    placed = tuple(
        replace(one, is_pinned=one.shelter.name in pinned.shelters)
        for one in _placed(plan, terrain, layout, held, entry_m)
    )
    names = {one.shelter.name for one in placed}
    missing = tuple(shelter for shelter in plan.unit.shelters if shelter.name not in names)
    gives = what_gives(plan, ground, terrain, march, sites) if missing else ()
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
        what_gives=gives,
        cautions=(
            *camp_cautions(plan, missing, gives),
            *pinned.cautions,
            *need_cautions(plan, terrain, placed),
        ),
    )
    if not placed:
        return camp
    whole = _with_the_rest(camp, plan, (ground, terrain, march), pinned, site.arrive, watch)
    if plan.camp.pins:
        whole = replace(
            whole, cautions=(*whole.cautions, *broken_by_hand(hand_of(plan, ground, terrain, sites, whole)))
        )
    watch.tick("work on arrival")
    at_m = placed[0].east_m, placed[0].north_m
    way_out = way_out_words(whole, site, way_to_track(plan, ground, terrain, march, at_m, watch=watch))
    return replace(whole, work=work_order(plan, whole, site, march, way_out))


def _with_the_rest(
    camp: Camp, plan: Plan, on: tuple[Ground, Terrain, March], pinned: Pinned, arrive: datetime, watch: Watch
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
    security = secure(around, places, ground, march, watch=watch, pinned=pinned.posts, arrive=arrive)
    return replace(
        camp,
        facilities=places,
        sub_areas=sub_areas_of(camp.shelters, security.perimeter_m),
        security=security,
        cautions=(*camp.cautions, *told),
    )


def _placed(
    plan: Plan, terrain: Terrain, layout: Layout, held: Held, entry_m: tuple[float, float]
) -> tuple[PlacedShelter, ...]:  # fmt: skip
    """The shelters at their places with their doors, in the order of the unit."""
    if not layout.stands:
        return ()
    sharing = Sharing(
        layout=layout, spacing_m=plan.camp.spacing_m, entry_m=entry_m, has_trees=has_trees(terrain, layout.places_m)
    )
    doors = Doors(plan=plan, grid=terrain.grid, centre_m=tuple(layout.places_m.mean(axis=0)))
    shared = who_goes_where(sharing)
    at = {one.shelter.name: one for stand, place_m in shared for one in _stand_at(stand, place_m, doors, terrain)}
    for name, door_deg in held.doors_deg.items():
        partner = at[name].shelter.joined_to
        at[name] = replace(at[name], door_bearing_deg=door_deg, touches=partner if partner in held.doors_deg else "")
    return tuple(at[shelter.name] for shelter in plan.unit.shelters if shelter.name in at)


def _stand_at(stand: Stand, place_m: tuple[float, float], doors: Doors, terrain: Terrain) -> list[PlacedShelter]:
    """One shelter, or two that touch side by side with their doors to the same side."""
    grid = terrain.grid
    door_deg = doors.bearing_deg(*place_m)
    scale = grid.point_scale(*place_m)
    along = radians(door_deg + 90.0 - grid.convergence_deg(*place_m))
    placed = []
    for shelter, offset_m in zip(stand.shelters, stand.offsets_m, strict=True):
        east_m = place_m[0] + offset_m * scale * sin(along)
        north_m = place_m[1] + offset_m * scale * cos(along)
        placed.append(
            PlacedShelter(
                shelter=shelter,
                east_m=east_m,
                north_m=north_m,
                door_bearing_deg=door_deg,
                slope_deg=slope_under(terrain, east_m, north_m, shelter.kind.footprint_m),
                touches="" if shelter is stand.shelters[0] else stand.shelters[0].name,
            )
        )
    return placed


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
