"""Where a shelter may stand at all, and which limit keeps how much ground out."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

import numpy as np
from scipy import ndimage

from sitepick.grid import FloatArray, MaskArray, with_neighbours
from sitepick.ground.model import Ground
from sitepick.march.model import March
from sitepick.plan.model import Plan, Preferences
from sitepick.sites.factors import progress_frac
from sitepick.terrain.model import Terrain

DEAD_STAND_CLEAR_M = 30.0  # common practice: two heights of a 15 m tree
_DEAD_WORDS = re.compile(r"\b(dead|burnt|burned)\b", re.IGNORECASE)
_MOST_FRAC = 0.5
_UNKNOWN_CELLS_MAX = 1_000_000  # beyond it the unknown share is read from every second cell and so on


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Limit:
    """One reason that keeps ground out.

    Attributes
    ----------
    name : str
        As in `Hindrance.name`.
    words : str
        What the ground is, after "The ground" ("is steeper than 5.7°").
    is_out : bool array of the grid's shape, read-only
    """

    name: str
    words: str
    is_out: MaskArray


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Limits:
    """Ground in reach, and what is left of it.

    Attributes
    ----------
    in_reach : bool array
        Cells that the unit reaches by camp-by at likely pace.
    can_pitch : bool array
        Cells in reach and within every limit.
    limits : tuple of Limit
    unknown_count : float
        Cells not known that would lie in reach if they were like the ground before them.
    is_sole : bool array
        Cells in reach that one limit alone keeps out.
    """

    in_reach: MaskArray
    can_pitch: MaskArray
    limits: tuple[Limit, ...]
    unknown_count: float
    is_sole: MaskArray

    @property
    def ground_count(self) -> float:
        """Cells in reach, the unknown ones among them."""
        return float(np.count_nonzero(self.in_reach)) + self.unknown_count

    def left_count(self, *, without: str) -> int:
        """Cells that could be camped on if one limit did not hold."""
        left = np.count_nonzero(self.can_pitch)
        return int(left + sum(self.sole_count(limit) for limit in self.limits if limit.name == without))

    def sole_count(self, limit: Limit) -> int:
        """Cells in reach that this limit alone keeps out."""
        return int(np.count_nonzero(self.is_sole & limit.is_out))


def read_limits(plan: Plan, ground: Ground, terrain: Terrain, march: March) -> Limits:
    """Hold every cell against the limits of the ground and of the plan.

    Parameters
    ----------
    plan : Plan
        Its preferences.
    ground : Ground
    terrain : Terrain
    march : March

    Returns
    -------
    Limits
    """
    in_reach: MaskArray = march.way_min() <= march.moving_min_limit
    limits = (*_limits(plan.preferences, ground, terrain), *_march_limits(plan.preferences, march))
    out_count = np.zeros(in_reach.shape, np.uint8)
    for limit in limits:
        out_count += limit.is_out
        limit.is_out.flags.writeable = False
    can_pitch = in_reach & (out_count == 0)
    is_unknown = terrain.unsafe_unknown | ~ground.is_known()
    return Limits(
        in_reach=in_reach,
        can_pitch=can_pitch,
        limits=limits,
        unknown_count=_unknown_count(is_unknown & ~in_reach, in_reach, march),
        is_sole=in_reach & (out_count == 1),
    )


def _limits(preferences: Preferences, ground: Ground, terrain: Terrain) -> tuple[Limit, ...]:
    slope_max, wind_max = preferences.slope.limit_max, preferences.wind.limit_max
    steepest = preferences.cell_slope_max_deg
    is_steep = terrain.slope_deg > steepest
    slope_words = f"holds a cell steeper than {steepest:g}°"
    if slope_max is not None:
        is_steep |= terrain.slope_30m_deg > slope_max
        slope_words = f"is steeper than {slope_max:g}° over 30 m, or than {steepest:g}° in one cell"
    is_windy = np.zeros(ground.grid.shape, bool)
    if wind_max is not None:
        is_windy = terrain.wind_share_worst > wind_max
    is_water = terrain.is_water | (ground.share("water_frac") > _MOST_FRAC)
    clear_m = preferences.water_clear_m
    return (
        Limit(name="slope", words=slope_words, is_out=is_steep),
        Limit(
            name="wind",
            words="" if wind_max is None else f"can get over {100 * wind_max:.0f} % of the open wind",
            is_out=is_windy,
        ),
        Limit(
            name="water",
            words=f"is open water or lies within {clear_m:g} m of it",
            is_out=is_water | _is_near(terrain.is_water, clear_m, ground.grid.ground_cell_m),
        ),
        Limit(name="wet", words="is bog, marsh or ground that floods", is_out=terrain.is_wet.copy()),
        Limit(
            name="avalanche",
            words="is avalanche ground, where snow can break loose or run out",
            is_out=terrain.is_avalanche_release | terrain.is_avalanche_runout,
        ),
        Limit(name="ice", words="is glacier or lasting snow", is_out=ground.share("ice_frac") > _MOST_FRAC),
        Limit(name="built", words="is built over", is_out=ground.share("built_frac") > _MOST_FRAC),
        Limit(name="no_go", words="is marked out of bounds", is_out=ground.is_no_go.copy()),
        Limit(
            name="timber",
            words=f"is burnt or dead forest or lies within {DEAD_STAND_CLEAR_M:g} m of it",
            is_out=is_near_dead_timber(ground, DEAD_STAND_CLEAR_M),
        ),
        Limit(name="unknown", words="is not known", is_out=terrain.unsafe_unknown | ~ground.is_known()),
    )


def _march_limits(preferences: Preferences, march: March) -> tuple[Limit, ...]:
    limits = []
    least, most_min = preferences.progress.limit_min, preferences.detour.limit_max
    if least is not None:
        limits.append(
            Limit(
                name="progress",
                words=f"comes before {100 * least:.0f} % of the way that can be made today",
                is_out=progress_frac(march, march.leave_station) < least,
            )
        )
    if most_min is not None:
        words = f"lies more than {most_min:g} min off the route"
        limits.append(Limit(name="detour", words=words, is_out=march.detour_min > most_min))
    return tuple(limits)


def dead_timber(ground: Ground) -> MaskArray:
    """Ground of a class that the legend calls dead or burnt."""
    dead = [k for k, cover in enumerate(ground.legend.classes) if _DEAD_WORDS.search(cover.name)]
    is_dead: MaskArray = np.isin(ground.cover_index, dead)
    return is_dead


def is_near_dead_timber(ground: Ground, clear_m: float) -> MaskArray:
    """Ground within a distance of a class that the legend calls dead or burnt."""
    is_dead = dead_timber(ground)
    return is_dead | _is_near(is_dead, clear_m, ground.grid.ground_cell_m)


def _is_near(is_there: MaskArray, clear_m: float, cell_m: float) -> MaskArray:
    """Cells any part of which lies closer to a cell of a mask than so many metres."""
    if clear_m <= 0.0 or not is_there.any():
        return np.zeros_like(is_there)
    # Widened by one cell all round, a distance between middles is the distance between the cells' sides.
    widened = with_neighbours(is_there)
    reach = math.ceil(clear_m / cell_m)
    if reach > 12:
        near: MaskArray = ndimage.distance_transform_edt(~widened) * cell_m < clear_m
        return near
    near = widened.copy()
    steps = np.arange(reach + 1)
    rows = is_there.shape[0]
    for down in steps:
        widths = steps[np.hypot(down, steps) * cell_m < clear_m]
        if not widths.size:
            continue
        span = ndimage.binary_dilation(widened, np.ones((1, 2 * int(widths[-1]) + 1), bool)) if widths[-1] else widened
        near[down:] |= span[: rows - down]
        near[: rows - down] |= span[down:]
    return near


def _unknown_count(is_unknown: MaskArray, in_reach: MaskArray, march: March) -> float:
    """Cells not known that would be in reach if they were like the nearest ground that is."""
    if not (is_unknown.any() and in_reach.any()):
        return 0.0
    stride = max(1, math.ceil(math.sqrt(in_reach.size / _UNKNOWN_CELLS_MAX)))
    reached, unknown = in_reach[::stride, ::stride], is_unknown[::stride, ::stride]
    if not (unknown.any() and reached.any()):
        return 0.0
    away, (rows, cols) = ndimage.distance_transform_edt(~reached, return_indices=True)
    near = (rows[unknown] * stride, cols[unknown] * stride)
    pace_min_per_m: FloatArray = march.minutes_per_100m[near] / 100.0
    away_m = away[unknown] * stride * march.grid.ground_cell_m
    is_close = march.moving_min[near] + away_m * pace_min_per_m <= march.moving_min_limit
    return float(np.count_nonzero(is_close)) * stride**2
