"""What speaks for and against one place: why here, or why not."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan
from sitepick.sites.candidates import piece_around
from sitepick.sites.danger import area_words
from sitepick.sites.factors import forest_sentence, wind_sentence
from sitepick.sites.hindrance import unit_room
from sitepick.sites.limits import Limits, read_limits
from sitepick.sites.model import Sites
from sitepick.terrain.model import WATER_KIND_NAMES, Terrain, is_to_fetch

_LOOK_M = 1000.0


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
    """

    east_m: float
    north_m: float
    site_rank: int | None
    capacity: int | None
    failed: tuple[FailedLimit, ...]
    measures: tuple[str, ...]

    @property
    def text(self) -> str:
        """All of it as a person reads it."""
        if self.failed:
            opening = "Not here."
        elif self.site_rank is not None:
            opening = f"This is on site {self.site_rank}."
        else:
            opening = "The unit could camp here; other ground was ranked before it."
        return " ".join([opening, *(one.sentence for one in self.failed), *self.measures])


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
    limits = read_limits(plan, ground, terrain, march)
    failed = [*_out_of_reach(march, row, col), *_past_limits(plan, terrain, limits, row, col)]
    capacity = None
    if limits.can_pitch[row, col]:
        need = len(plan.unit.shelters)
        capacity = piece_around(limits.can_pitch, row, col, unit_room(plan, ground.grid), need).capacity
        if capacity < need:
            failed.append(
                FailedLimit(
                    name="room",
                    sentence=f"Only {capacity} of {need} shelters fit around here at {plan.camp.spacing_m:.0f} m.",
                )
            )
    rank = next((site.rank for site in sites.sites if shapely.contains_xy(site.outline_m, east_m, north_m)), None)
    return PlaceAnswer(
        east_m=east_m,
        north_m=north_m,
        site_rank=rank,
        capacity=capacity,
        failed=tuple(failed),
        measures=tuple(_measures(plan, terrain, march, row, col)),
    )


def _out_of_reach(march: March, row: int, col: int) -> list[FailedLimit]:
    moving_min = float(march.way_min()[row, col])
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
    kinds = terrain.water_kind[top : row + reach + 1, left : col + reach + 1]
    rows, cols = np.nonzero(is_to_fetch(kinds))
    if not rows.size:
        return "No water within 1 km."
    away = np.hypot(rows + top - row, cols + left - col)
    nearest = int(np.argmin(away))
    name = WATER_KIND_NAMES[int(kinds[rows[nearest], cols[nearest]])]
    return "On water." if away[nearest] == 0.0 else f"Water {away[nearest] * cell_m:.0f} m away: {name}."
