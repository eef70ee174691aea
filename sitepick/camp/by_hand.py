"""What speaks against putting a thing of the camp at a place: asked at every step of a drag, so it must be quick."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from sitepick.camp.model import Camp
from sitepick.camp.pick_up import OPEN_CANOPY_FRAC, SLOPE_MAX_DEG
from sitepick.camp.pinned import FAR_M, FAR_WALK_M, WALKED_TO
from sitepick.camp.site_ground import ground_outline
from sitepick.camp.stores import CLEAR_M, RACKS_FROM_SHELTERS_M, SLED_FROM_ENTRY_M, SLED_SLOPE_MAX_DEG
from sitepick.camp.surroundings import STEEPEST_DEG, surroundings_of
from sitepick.camp.things import Thing, things_of
from sitepick.camp.water_points import SNOW_FROM_SHELTERS_M, upstream_of
from sitepick.caution import Caution
from sitepick.grid import DoubleArray, Grid, MaskArray
from sitepick.ground.model import Ground
from sitepick.plan.facility import FacilitySettings
from sitepick.plan.model import Plan
from sitepick.sites.model import Sites
from sitepick.terrain.model import NO_WATER, Terrain
from sitepick.work import Watch

AT_WATER_M = 15.0  # ours: so near to the water it is drawn by hand
_WATER_KINDS = ("drinking_water", "cooking_water", "washing")
_TO_WATER_M = 400.0  # more than any distance from water that is asked for
_PLURALS = {"waste": "waste", "cooking": "cooking", "fuel": "fuel", "latrine": "latrines"}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Hand:
    """What is known around a camp, made ready to be asked about many places.

    Attributes
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    can_pitch : bool array of the grid's shape
        Cells within every limit.
    outline_m : shapely.Polygon
        Round the ground of the site.
    camp : Camp
    things : tuple of Thing
        Everything in the camp.
    water_m, fetch_m : float64 arrays of shape (count, 2)
        Middles of the cells of any water near the camp, and of those that are drawn from; grid coordinates.
    above_drunk : bool array or None
        Cells, in a window of the grid, whose water runs past where water is drawn; None where none is drawn.
    corner : (row, col)
        Where that window lies.
    scale : float
        Grid metres a ground metre.
    """

    plan: Plan
    ground: Ground
    terrain: Terrain
    can_pitch: MaskArray
    outline_m: shapely.Polygon
    camp: Camp
    things: tuple[Thing, ...]
    water_m: DoubleArray
    fetch_m: DoubleArray
    above_drunk: MaskArray | None
    corner: tuple[int, int]
    scale: float

    @property
    def grid(self) -> Grid:
        """The whole grid."""
        return self.ground.grid


def hand_of(plan: Plan, ground: Ground, terrain: Terrain, sites: Sites, camp: Camp) -> Hand:
    """Make ready what is asked for at every step of a drag.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    sites : Sites
        The camp lies on the first.
    camp : Camp
        With at least one shelter.
    """
    site, grid = sites.sites[0], ground.grid
    reach = math.ceil(_TO_WATER_M / grid.ground_cell_m)
    outline_m = ground_outline(site, grid)
    west, south, east, north = outline_m.bounds
    far_m = FAR_M * grid.cell_m / grid.ground_cell_m
    top, left = (max(0, k - reach) for k in grid.cell_at(west - far_m, north + far_m))
    bottom, right = (k + reach for k in grid.cell_at(east + far_m, south - far_m))
    kinds = terrain.water_kind[top:bottom, left:right]
    shelters = tuple(camp.shelters)
    entry_m = (camp.entry_east_m, camp.entry_north_m)
    around = surroundings_of(plan, ground, terrain, shelters, entry_m, watch=Watch())
    is_drawn = np.zeros(around.grid.shape, bool)
    for place in camp.facilities:
        if place.kind in ("drinking_water", "cooking_water"):
            is_drawn |= around.from_m(place.east_m, place.north_m) <= 1.5 * grid.ground_cell_m
    shapely.prepare(outline_m)
    return Hand(
        plan=plan,
        ground=ground,
        terrain=terrain,
        can_pitch=sites.can_pitch,
        outline_m=outline_m,
        camp=camp,
        things=things_of(camp),
        water_m=_middles_m(kinds != NO_WATER, grid, top, left),
        fetch_m=_middles_m(terrain.to_fetch[top:bottom, left:right], grid, top, left),
        above_drunk=upstream_of(around, is_drawn) if is_drawn.any() else None,
        corner=around.corner,
        scale=around.scale,
    )


def why_not_there(hand: Hand, key: tuple[str, str], east_m: float, north_m: float) -> tuple[str, ...]:
    """What speaks against putting a thing of the camp at a place.

    Parameters
    ----------
    hand : Hand
    key : (kind, name)
        Which thing, as a pin calls it.
    east_m, north_m : float
        Grid coordinates.

    Returns
    -------
    tuple of str
        A clause each without a full stop, the gravest first; empty where nothing speaks against it.

    Notes
    -----
    What isn't put by hand is laid out anew once the thing is dropped. Facilities that will move are therefore not
    held against a place; shelters that must make room are told, and that they move. Cost: well under a millisecond.
    """
    if not hand.grid.contains(east_m, north_m):
        return ("outside the ground that was read",)
    kind = key[0]
    told = [*_hazards(hand, key, east_m, north_m), *_too_far(hand, kind, east_m, north_m)]
    if kind == "shelter":
        told += _shelter_rules(hand, key, east_m, north_m)
    elif kind != "post":
        told += _from_shelters(hand, kind, east_m, north_m)
        told += _facility_rules(hand, kind, east_m, north_m)
    if kind != "post":
        told += _from_facilities(hand, key, east_m, north_m)
    return tuple(dict.fromkeys(told))


def broken_by_hand(hand: Hand) -> tuple[Caution, ...]:
    """A caution for everything that was put in place by hand and breaks a rule there."""
    told = []
    for thing in hand.things:
        if thing.is_pinned:
            reasons = why_not_there(hand, thing.key, thing.east_m, thing.north_m)
            told += [Caution(kind="camp", text=f"{thing.name}, put there by hand: {reason}.") for reason in reasons]
    return tuple(told)


def _hazards(hand: Hand, key: tuple[str, str], east_m: float, north_m: float) -> Iterator[str]:
    """What the ground itself says, under the whole footprint of a shelter."""
    terrain, kind = hand.terrain, key[0]
    cells = _cells_under(hand, _width_m(hand, key), east_m, north_m)
    if any(terrain.is_avalanche_release[cell] or terrain.is_avalanche_runout[cell] for cell in cells):
        yield "in avalanche ground"
    if kind not in _WATER_KINDS:
        if any(terrain.water_kind[cell] != NO_WATER for cell in cells):
            yield "on water or ice"
        elif any(terrain.is_wet[cell] for cell in cells):
            yield "on wet ground"
    if any(terrain.unsafe_unknown[cell] for cell in cells) or any(
        not math.isfinite(terrain.slope_deg[cell]) for cell in cells
    ):
        yield "on ground that isn't known"
    if any(hand.ground.is_no_go[cell] for cell in cells):
        yield "on ground marked as no-go"
    steepest = _steepest_deg(hand.plan, kind)
    if any(terrain.slope_deg[cell] > steepest for cell in cells):
        yield f"steeper than {steepest:g}° here"


def _steepest_deg(plan: Plan, kind: str) -> float:
    special = {
        "shelter": plan.preferences.cell_slope_max_deg, "sled_park": SLED_SLOPE_MAX_DEG, "pick_up": SLOPE_MAX_DEG,
    }  # fmt: skip
    return special.get(kind, STEEPEST_DEG)


def _too_far(hand: Hand, kind: str, east_m: float, north_m: float) -> Iterator[str]:
    """Whether the pin would still count for this camp."""
    far_m = FAR_WALK_M if kind in WALKED_TO else FAR_M
    away_m = float(shapely.distance(hand.outline_m, shapely.Point(east_m, north_m))) / hand.scale
    if away_m > far_m:
        yield f"{away_m:.0f} m from the site: past {far_m:.0f} m it is not used"
    elif kind == "shelter" and away_m > 0.0:
        yield "off the site"


def _shelter_rules(hand: Hand, key: tuple[str, str], east_m: float, north_m: float) -> Iterator[str]:
    cells = _cells_under(hand, _width_m(hand, key), east_m, north_m)
    limit_deg = hand.plan.preferences.slope.limit_max
    is_steep = limit_deg is not None and any(hand.terrain.slope_30m_deg[cell] > limit_deg for cell in cells)
    if is_steep:
        yield f"steeper than {limit_deg:g}° over 30 m"
    elif not all(hand.can_pitch[cell] for cell in cells) and not any(_hazards(hand, key, east_m, north_m)):
        yield "on ground that a limit of the page Sites keeps out"
    names = {key[1], *_joined_names(hand, key[1])}
    others = [thing for thing in hand.things if thing.kind == "shelter" and thing.name not in names]
    asked_m = hand.plan.camp.spacing_m
    near = sorted((_away_m(hand, thing, east_m, north_m), thing.name, thing.is_pinned) for thing in others)
    for away_m, name, is_pinned in near:
        if away_m >= asked_m:
            break
        moves = "" if is_pinned else f", so {name} moves"
        yield f"{_short_of(away_m, asked_m)} m from {name}: {_short_by(away_m, asked_m)} m short of the spacing{moves}"


def _joined_names(hand: Hand, name: str) -> set[str]:
    """Of the shelter that touches another one, whichever names the other; it comes along."""
    shelters = hand.camp.shelters
    return {one.touches for one in shelters if one.shelter.name == name} | {
        one.shelter.name for one in shelters if one.touches == name
    }


def _short_of(away_m: float, asked_m: float) -> str:
    """A distance that falls short, never rounded up to what is asked for."""
    return f"{math.floor(away_m):.0f}" if asked_m - away_m >= 1.0 else f"{math.floor(away_m * 10.0) / 10.0:.1f}"


def _short_by(away_m: float, asked_m: float) -> str:
    short_m = asked_m - away_m
    return f"{short_m:.0f}" if short_m >= 1.0 else f"{max(short_m, 0.1):.1f}"


def _from_shelters(hand: Hand, kind: str, east_m: float, north_m: float) -> Iterator[str]:
    rules = hand.plan.camp.facilities
    least_m = from_shelters_least_m(rules, kind)
    shelters = [thing for thing in hand.things if thing.kind == "shelter"]
    away_m, name = min((_away_m(hand, thing, east_m, north_m), thing.name) for thing in shelters)
    if away_m < least_m:
        yield f"{_short_of(away_m, least_m)} m from {name}: {_plural(kind)} {_keeps(kind)} {least_m:.0f} m"
    most_m = {"latrine": rules.latrine_walk_max_m, "racks": RACKS_FROM_SHELTERS_M}.get(kind, math.inf)
    if away_m > most_m:
        yield f"{away_m:.0f} m to walk from {name}, the nearest: at most {most_m:.0f} m"


def from_shelters_least_m(rules: FacilitySettings, kind: str) -> float:
    """What a kind of facility keeps from shelters."""
    asked = {
        "latrine": rules.latrine_from_shelters_m,
        "waste": rules.latrine_from_shelters_m / 2.0,
        "cooking": rules.fire_from_shelters_m,
        "fire": rules.fire_from_shelters_m,
        "fuel": rules.fuel_from_fire_m,
        "snow_for_water": SNOW_FROM_SHELTERS_M,
        "drinking_water": 0.0,
        "cooking_water": 0.0,
        "washing": 0.0,
    }
    return asked.get(kind, CLEAR_M)


def _facility_rules(hand: Hand, kind: str, east_m: float, north_m: float) -> Iterator[str]:
    """Water, way in and crowns, by kind."""
    rules = hand.plan.camp.facilities
    least_m = {
        "latrine": rules.latrine_from_water_m, "waste": rules.waste_from_water_m, "cooking": rules.waste_from_water_m,
        "fuel": rules.waste_from_water_m,
    }.get(kind, 0.0)  # fmt: skip
    water_m = _from_cells_m(hand, hand.water_m, east_m, north_m)
    if water_m < least_m:
        yield f"{_short_of(water_m, least_m)} m from water: {_plural(kind)} {_keeps(kind)} {least_m:.0f} m"
    if kind in _WATER_KINDS:
        fetch_m = _from_cells_m(hand, hand.fetch_m, east_m, north_m)
        if fetch_m > AT_WATER_M:
            near = f"the nearest lies {fetch_m:.0f} m away" if math.isfinite(fetch_m) else "none lies near"
            yield f"no water here: {near}"
    if kind == "latrine" and _is_above_drunk(hand, east_m, north_m):
        yield "above where water is drawn"
    entry_m = math.hypot(east_m - hand.camp.entry_east_m, north_m - hand.camp.entry_north_m) / hand.scale
    if kind == "sled_park" and entry_m > SLED_FROM_ENTRY_M:
        yield f"{entry_m:.0f} m from the way in: at most {SLED_FROM_ENTRY_M:.0f} m"
    if kind == "pick_up" and not hand.terrain.canopy_frac[hand.grid.cell_at(east_m, north_m)] <= OPEN_CANOPY_FRAC:
        yield "under crowns, or on ground whose cover isn't known"


def _from_facilities(hand: Hand, key: tuple[str, str], east_m: float, north_m: float) -> Iterator[str]:
    """Distances from what was put by hand; the rest is laid out anew."""
    for thing in hand.things:
        if not thing.is_pinned or thing.key == key or thing.kind in ("shelter", "post"):
            continue
        least_m = _between_m(hand.plan.camp.facilities, key[0], thing.kind)
        away_m = _away_m(hand, thing, east_m, north_m)
        if away_m < least_m:
            yield f"{_short_of(away_m, least_m)} m from {thing.name}, which was put by hand: {least_m:.0f} m to keep"


def _between_m(rules: FacilitySettings, one: str, other: str) -> float:
    """What two kinds keep from each other."""
    if "shelter" in (one, other):
        return from_shelters_least_m(rules, other if one == "shelter" else one)
    pair = frozenset((one, other))
    if pair & set(_WATER_KINDS):
        return 0.0
    asked = {
        frozenset(("latrine", "cooking")): rules.latrine_from_cooking_m,
        frozenset(("latrine",)): rules.latrine_from_shelters_m,
        frozenset(("waste", "cooking")): rules.waste_from_water_m,
        frozenset(("fuel", "fire")): rules.fuel_from_fire_m,
        frozenset(("fuel", "cooking")): rules.fuel_from_fire_m,
        frozenset(("stores", "fire")): rules.fuel_from_fire_m,
        frozenset(("stores", "fuel")): rules.fuel_from_fire_m,
    }
    return asked.get(pair, CLEAR_M)


def _plural(kind: str) -> str:
    return _PLURALS.get(kind, "this")


def _keeps(kind: str) -> str:
    return "keep" if kind == "latrine" else "keeps"


def _is_above_drunk(hand: Hand, east_m: float, north_m: float) -> bool:
    if hand.above_drunk is None:
        return False
    row, col = hand.grid.cell_at(east_m, north_m)
    row, col = row - hand.corner[0], col - hand.corner[1]
    rows, cols = hand.above_drunk.shape
    return bool(0 <= row < rows and 0 <= col < cols and hand.above_drunk[row, col])


def _away_m(hand: Hand, thing: Thing, east_m: float, north_m: float) -> float:
    return math.hypot(thing.east_m - east_m, thing.north_m - north_m) / hand.scale


def _from_cells_m(hand: Hand, middles_m: DoubleArray, east_m: float, north_m: float) -> float:
    """Ground distance to the nearest edge of some cells; infinite where there is none."""
    if not len(middles_m):
        return math.inf
    beyond = np.maximum(np.abs(middles_m - (east_m, north_m)) - hand.grid.cell_m / 2.0, 0.0)
    return math.sqrt(float(np.min(np.einsum("ij,ij->i", beyond, beyond)))) / hand.scale


def _middles_m(mask: MaskArray, grid: Grid, top: int, left: int) -> DoubleArray:
    rows, cols = np.nonzero(mask)
    return np.column_stack(
        (grid.west_m + (cols + left + 0.5) * grid.cell_m, grid.north_m - (rows + top + 0.5) * grid.cell_m)
    )


def _width_m(hand: Hand, key: tuple[str, str]) -> float:
    """What a thing takes across, on the ground; 0 where it stands on a point."""
    if key[0] != "shelter":
        return 0.0
    return next((one.kind.footprint_m for one in hand.plan.unit.shelters if one.name == key[1]), 0.0)


def _cells_under(hand: Hand, width_m: float, east_m: float, north_m: float) -> list[tuple[int, int]]:
    """Cells that a round footprint touches, inside the grid."""
    grid, radius = hand.grid, width_m * hand.scale / 2.0
    top, left = grid.cell_at(east_m - radius, north_m + radius)
    bottom, right = grid.cell_at(east_m + radius, north_m - radius)
    home = grid.cell_at(east_m, north_m)
    cells = [home]
    for row in range(max(top, 0), min(bottom, grid.rows - 1) + 1):
        for col in range(max(left, 0), min(right, grid.cols - 1) + 1):
            middle_east, middle_north = grid.cell_centre_m(row, col)
            away_east = max(abs(middle_east - east_m) - grid.cell_m / 2.0, 0.0)
            away_north = max(abs(middle_north - north_m) - grid.cell_m / 2.0, 0.0)
            if (row, col) != home and math.hypot(away_east, away_north) < radius:
                cells.append((row, col))
    return cells
