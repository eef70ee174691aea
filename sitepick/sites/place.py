"""What speaks for and against one place: why here, or why not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from sitepick.grid import MaskArray
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.further import FURTHER_NAMES
from sitepick.plan.model import Plan
from sitepick.sites.candidates import Piece, piece_around
from sitepick.sites.danger import area_words
from sitepick.sites.factors import forest_sentence, measure_piece, wind_sentence
from sitepick.sites.hindrance import unit_room
from sitepick.sites.limits import Limits, read_limits
from sitepick.sites.measured import Measured
from sitepick.sites.model import Sites
from sitepick.sites.own import past_words
from sitepick.sites.packing import QUICK
from sitepick.sites.reading import PieceGround, to_fetch_in
from sitepick.terrain.model import Terrain, water_name
from sitepick.units import compass_word

_LOOK_M = 1000.0
_FIRST_REACH = 32  # cells looked through at first
_FARTHER = (5.0, 15.0)  # cells past the nearest that are tried where that one has no room


@dataclass(frozen=True, slots=True, kw_only=True)
class FailedLimit:
    """A limit that a place is past.

    Attributes
    ----------
    name : str
        As in `Hindrance.name`; "reach" and "room" too.
    sentence : str
        Which, and by how much.
    """

    name: str
    sentence: str


@dataclass(frozen=True, slots=True, kw_only=True)
class PlaceAnswer:
    """Why here, or why not.

    Attributes
    ----------
    east_m, north_m : float
        Grid coordinates.
    site_rank : int or None
        The site that the place lies on.
    capacity : int or None
        Shelters that fit around it; None where none may stand on it.
    failed : tuple of FailedLimit
        Empty where nothing speaks against the place.
    measures : tuple of str
        What is known of the place, a sentence each.
    score : float or None
        0-100, of a camp around it; None where the unit can't camp.
    nearest : str
        Where the nearest place is that would pass, as a sentence; empty where this one does or none would.
    """

    east_m: float
    north_m: float
    site_rank: int | None
    capacity: int | None
    failed: tuple[FailedLimit, ...]
    measures: tuple[str, ...]
    score: float | None = None
    nearest: str = ""

    @property
    def text(self) -> str:
        """All of it as a person reads it."""
        if self.failed:
            opening = "Not here."
        elif self.site_rank is not None:
            opening = f"This is on site {self.site_rank}."
        else:
            opening = "The unit could camp here; other ground was ranked before it."
        scored = [] if self.score is None else [f"A camp around here scores {self.score:.0f} of 100."]
        nearest = [self.nearest] if self.nearest else []
        return " ".join([opening, *(one.sentence for one in self.failed), *nearest, *scored, *self.measures])


def why_here(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, sites: Sites, east_m: float, north_m: float
) -> PlaceAnswer:
    """What speaks for and against a place.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    sites : Sites
    east_m, north_m : float
        Grid coordinates.

    Returns
    -------
    PlaceAnswer
    """
    if not ground.grid.contains(east_m, north_m):
        outside = FailedLimit(name="unknown", sentence="This place lies outside the ground that was read.")
        return PlaceAnswer(
            east_m=east_m, north_m=north_m, site_rank=None, capacity=None, failed=(outside,), measures=()
        )
    row, col = ground.grid.cell_at(east_m, north_m)
    limits = sites.kept.limits if sites.kept is not None else read_limits(plan, ground, terrain, march)
    failed = [*_out_of_reach(march, row, col), *_past_limits(plan, terrain, limits, row, col)]
    camp = camp_around(plan, ground, limits, row, col)
    need, capacity, score = len(plan.unit.shelters), None if camp is None else camp.capacity, None
    further: list[str] = []
    if camp is not None and camp.capacity < need:
        failed.append(
            FailedLimit(
                name="room",
                sentence=f"Only {capacity} of {need} shelters fit around here at {plan.camp.spacing_m:.0f} m.",
            )
        )
    elif camp is not None:
        held = measured_camp(plan, ground, terrain, march, sites, camp)
        score, further = held.score, [measure.sentence for measure in held.measures if measure.name in FURTHER_NAMES]
        failed += [
            FailedLimit(name=measure.name, sentence=past_words(measure))
            for measure in held.measures
            if not measure.within_limit
        ]
    rank = next((site.rank for site in sites.sites if shapely.contains_xy(site.outline_m, east_m, north_m)), None)
    return PlaceAnswer(
        east_m=east_m,
        north_m=north_m,
        site_rank=rank,
        capacity=capacity,
        failed=tuple(failed),
        measures=(*_measures(plan, terrain, march, row, col), *further),
        score=score,
        nearest=_nearest_sentence(plan, ground, limits, sites, row, col) if failed else "",
    )


def camp_around(plan: Plan, ground: Ground, limits: Limits, row: int, col: int) -> Piece | None:
    """The camp-sized piece around a cell; None where no shelter may stand on it.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    limits : Limits
    row, col : int
    """
    if not limits.can_pitch[row, col]:
        return None
    need, room = len(plan.unit.shelters), unit_room(plan, ground.grid)
    camp = piece_around(limits.can_pitch, row, col, room, need, effort=QUICK)
    if camp.capacity < need:
        camp = piece_around(limits.can_pitch, row, col, room, need)
    return camp


def measured_camp(
    plan: Plan, ground: Ground, terrain: Terrain, march: March, sites: Sites, camp: Piece
) -> Measured:  # fmt: skip
    """A piece of ground with its measures, whatever limits it keeps.

    Parameters
    ----------
    plan : Plan
    ground : Ground
    terrain : Terrain
    march : March
    sites : Sites
    camp : Piece
    """
    on = PieceGround(
        plan=plan, ground=ground, terrain=terrain, march=march, water_min=sites.water_min,
        water_limit_min=sites.water_limit_min, piece=camp, need_count=len(plan.unit.shelters),
        layers=sites.layers,
    )  # fmt: skip
    return Measured(piece=camp, measures=measure_piece(on), mean=plan.preferences.weighting.mean)


def _nearest_sentence(plan: Plan, ground: Ground, limits: Limits, sites: Sites, row: int, col: int) -> str:
    """Where the nearest ground lies that keeps every limit and has room."""
    grid = ground.grid
    serves = limits.can_pitch if sites.kept is None else limits.can_pitch & sites.kept.is_roomy
    for cell in _nearest_cells(serves, row, col):
        camp = camp_around(plan, ground, limits, *cell)
        if camp is not None and camp.capacity >= len(plan.unit.shelters):
            down, right = cell[0] - row, cell[1] - col
            turn_deg = grid.convergence_deg(*grid.cell_centre_m(row, col))
            side = compass_word(math.degrees(math.atan2(right, -down)) + turn_deg)
            away = _away(math.hypot(down, right) * grid.ground_cell_m)
            return f"The nearest ground that would do lies {away} {side}."
    return ""


def _nearest_cells(serves: MaskArray, row: int, col: int) -> list[tuple[int, int]]:
    """The nearest cell of a mask, then one some way farther in, where the nearest is only a tip of the ground."""
    reach = _FIRST_REACH
    while True:
        top, left = max(0, row - reach), max(0, col - reach)
        window = serves[top : row + reach + 1, left : col + reach + 1]
        if not window.any() and window.shape != serves.shape:  # much quicker than looking where
            reach *= 2
            continue
        rows, cols = np.nonzero(window)
        away = np.hypot(rows + top - row, cols + left - col)
        if (away.size and away.min() <= reach) or window.shape == serves.shape:
            break
        reach *= 2
    if not away.size:
        return []
    order = np.argsort(away, kind="stable")
    tried = [order[0], *(order[int(np.searchsorted(away[order], away[order[0]] + more))] for more in _FARTHER
                         if away[order[-1]] >= away[order[0]] + more)]  # fmt: skip
    return [(int(rows[k]) + top, int(cols[k]) + left) for k in tried]


def _away(distance_m: float) -> str:
    return f"{distance_m / 1000.0:.1f} km" if distance_m >= 995.0 else f"{max(10.0, round(distance_m, -1)):.0f} m"


def _out_of_reach(march: March, row: int, col: int) -> list[FailedLimit]:
    moving_min = march.way_min_at(row, col)
    if moving_min <= march.moving_min_limit:
        return []
    if math.isnan(moving_min):
        return [FailedLimit(name="reach", sentence="It can't be reached before camp-by, even at a fast pace.")]
    late_min = moving_min - march.moving_min_limit
    return [FailedLimit(name="reach", sentence=f"It is {late_min:.0f} min too far to be reached before camp-by.")]


def _past_limits(plan: Plan, terrain: Terrain, limits: Limits, row: int, col: int) -> list[FailedLimit]:
    told = []
    for limit in limits.limits:
        if not limit.is_out[row, col]:
            continue
        sentence = f"The ground {limit.words}"
        by_how_much = _by_how_much(limit.name, plan, terrain, row, col)
        told.append(FailedLimit(name=limit.name, sentence=f"{sentence}{by_how_much}."))
    return told


def _by_how_much(name: str, plan: Plan, terrain: Terrain, row: int, col: int) -> str:
    """How far past its limit a measure is, as an ending for a sentence; empty where there is no measure."""
    preferences = plan.preferences
    if name == "slope":
        over = [("in this cell", float(terrain.slope_deg[row, col]) - preferences.cell_slope_max_deg)]
        if preferences.slope.limit_max is not None:
            over.insert(0, ("over 30 m", float(terrain.slope_30m_deg[row, col]) - preferences.slope.limit_max))
        return ": " + " and ".join(f"{excess:.1f}° too steep {where}" for where, excess in over if excess > 0.0)
    if name == "wind" and preferences.wind.limit_max is not None:
        return f": {100 * float(terrain.wind_share_worst[row, col]):.0f} % of it in the worst gusts' line"
    if name == "avalanche":
        return _release_above(terrain, row, col)
    return ""


def _release_above(terrain: Terrain, row: int, col: int) -> str:
    """What hangs above a place, as an ending for a sentence."""
    angle_deg = float(terrain.avalanche_angle_deg[row, col])
    if math.isnan(angle_deg):
        return ""
    area = area_words(float(terrain.avalanche_area_m2[row, col]))
    if terrain.is_avalanche_release[row, col]:
        return f": it is part of {area} that can release, at {angle_deg:.0f}°"
    return f": {area} can release above it, {angle_deg:.0f}° up from here"


def _measures(plan: Plan, terrain: Terrain, march: March, row: int, col: int) -> list[str]:
    told = []
    arrive = march.arrive_at(row, col)
    if arrive is not None:
        told.append(f"Reached at {arrive:%H:%M}, {float(march.detour_min[row, col]):.0f} min off the route.")
    evergreen = float(terrain.evergreen_frac[row, col])
    told.append(
        "Whether the trees are evergreen is not known." if math.isnan(evergreen) else forest_sentence(evergreen)
    )
    slope = float(terrain.slope_30m_deg[row, col])
    told.append("The slope is not known." if math.isnan(slope) else f"The ground falls {slope:.1f}° over 30 m.")
    share = float(terrain.wind_share[row, col])
    told.append("How much wind gets in is not known." if math.isnan(share) else wind_sentence(plan, share))
    told.append(_water_sentence(terrain, row, col))
    return told


def _water_sentence(terrain: Terrain, row: int, col: int) -> str:
    cell_m = terrain.grid.ground_cell_m
    reach = math.ceil(_LOOK_M / cell_m)
    top, left = max(0, row - reach), max(0, col - reach)
    rows, cols = np.nonzero(to_fetch_in(terrain, (slice(top, row + reach + 1), slice(left, col + reach + 1))))
    if not rows.size:
        return "No water within 1 km."
    away = np.hypot(rows + top - row, cols + left - col)
    nearest = int(np.argmin(away))
    name = water_name(int(terrain.water_kind[rows[nearest] + top, cols[nearest] + left]))
    return "On water." if away[nearest] == 0.0 else f"Water {away[nearest] * cell_m:.0f} m away: {name}."
