"""What the march stage hands on: how far, when, and the ground that can be reached before camp-by."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import DoubleArray, FloatArray, Grid
from sitepick.march.pace import Pace
from sitepick.moon import MoonNight, Span
from sitepick.sky import SunDay


@dataclass(frozen=True, slots=True, kw_only=True)
class HaltRule:
    """Halts by the clock: minutes on the move and minutes since departure are two things.

    Attributes
    ----------
    halts : tuple of (moving_min, length_min)
        Each halt falls after so many minutes on the move, in rising order.
    reasons : tuple of str
        What each is for ("first halt", "ford"); empty where nothing is told.
    """

    halts: tuple[tuple[float, float], ...]
    reasons: tuple[str, ...] = ()

    def elapsed_min(self, moving_min: float) -> float:
        """Minutes since departure when so many have been spent on the move (halts begun before are over)."""
        return moving_min + sum(length for after, length in self.halts if after < moving_min)

    def elapsed_array_min(self, moving_min: FloatArray) -> FloatArray:
        """The same for a whole layer; NaN stays NaN."""
        after = np.array([halt[0] for halt in self.halts], dtype=np.float64)
        total = np.concatenate(([0.0], np.cumsum([halt[1] for halt in self.halts])))
        index = np.searchsorted(after, np.nan_to_num(moving_min, nan=0.0), side="left")
        return (moving_min + total[index]).astype(np.float32)

    def moving_min(self, elapsed_min: float) -> float:
        """Minutes on the move that fit into so many since departure."""
        spent = 0.0
        for after, length in self.halts:
            if after + spent >= elapsed_min:
                break
            if after + spent + length >= elapsed_min:
                return after
            spent += length
        return max(0.0, elapsed_min - spent)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leg:
    """A stretch of the route between two of its points.

    Attributes
    ----------
    start_name, end_name : str
        As told to people ("Start", "Point 2", "Camp").
    depart, arrive : datetime
        With their zone.
    distance_m, climb_m, descent_m : float
        On the ground.
    cautions : tuple of Caution
    """

    start_name: str
    end_name: str
    depart: datetime
    arrive: datetime
    distance_m: float
    climb_m: float
    descent_m: float
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnBack:
    """The last place on the route from which base can still be reached in time.

    Attributes
    ----------
    station : int
    distance_m : float
        Along the route, on the ground.
    at, back_at : datetime
        When the unit is there, and when it is back at base if it turns there.
    by : datetime
        Until when it must be back: the end of useful light, or camp-by where the day has none.
    is_whole_day : bool
        Base can be reached from the end of the day's route too.
    """

    station: int
    distance_m: float
    at: datetime
    back_at: datetime
    by: datetime
    is_whole_day: bool


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class March:
    """The day's march. Grids are read-only float32 of the grid's shape.

    Attributes
    ----------
    grid : Grid
    depart, camp_by : datetime
        With their zone.
    sun : SunDay
        Sunrise, sunset and twilight at the route's middle on the arrival date.
    useful_light_end : datetime or None
        Civil dusk; None where the day has none.
    route_m : float64 array of shape (n, 2)
        The route's points, grid coordinates, thinned to stations at most one cell apart.
    station_distance_m, station_moving_min : float64 arrays of shape (n,)
        Ground distance and minutes on the move at each station; NaN past a wall.
    halt_rule : HaltRule
    legs : tuple of Leg
        As far as the unit gets at likely pace, halts included.
    route_length_m : float
    reach_along_route_m, early_reach_m, late_reach_m : float
        How far along the route at likely, fast and slow pace by camp-by.
    arrive_at_reach_end : datetime
    moving_min : float32
        Minutes on the move to each cell by the quickest way along and off the route, NaN past the reach.
    early_moving_min_limit, moving_min_limit, late_moving_min_limit : float
        Minutes on the move *at likely pace* that fit before camp-by when the pace turns out fast, likely, slow:
        a cell is in the early, likely, late reach when its `moving_min` is at most this.
        `moving_min` is known out to the early limit.
    detour_min : float32
        Extra one-way minutes off the route to each cell, NaN past the reach. Not by the quickest way, which on even
        ground runs beside the route for long, but by one that stays on it while that pays: a minute off the
        route counts for one and a half on it.
    leave_station : int32
        Station where that way leaves the route, -1 past the reach.
    minutes_per_100m : float32
        Time over level-equivalent ground of each cell off the route; NaN: a wall.
    walking_minutes_per_100m : float32 or None
        The same for people without sled or vehicle, such as those who fetch water; None: as the march.
    walking_mode : str
        How they move, out of `plan.model.MODES`.
    pace, walking : Pace or None
        How the unit moves, and how its people do without load, sled or vehicle; None: by the mode's usual rates.
    lead_min : float64 array of shape (n,) or None
        How long before the main body a lead party must leave, so that the trail is broken up to each station when the
        main body comes, its head start counted; NaN past a wall. None: no party goes ahead.
    cautions : tuple of Caution
    pitching_min : float
        From the last arrival to everyone under shelter.
    turn_back : TurnBack or None
        None where the light is gone at the departure.
    dark : tuple of (datetime, datetime)
        Stretches between departure and camp-by in which the sun stands lower than civil twilight.
    moon : MoonNight or None
        Through the day from the departure on; None: not looked up.
    """

    grid: Grid
    depart: datetime
    camp_by: datetime
    sun: SunDay
    useful_light_end: datetime | None
    route_m: DoubleArray
    station_distance_m: DoubleArray
    station_moving_min: DoubleArray
    halt_rule: HaltRule
    legs: tuple[Leg, ...]
    route_length_m: float
    reach_along_route_m: float
    early_reach_m: float
    late_reach_m: float
    arrive_at_reach_end: datetime
    moving_min: FloatArray
    early_moving_min_limit: float
    moving_min_limit: float
    late_moving_min_limit: float
    detour_min: FloatArray
    leave_station: np.ndarray
    minutes_per_100m: FloatArray
    walking_minutes_per_100m: FloatArray | None = None
    walking_mode: str = "foot"
    pace: Pace | None = None
    walking: Pace | None = None
    lead_min: DoubleArray | None = None
    cautions: tuple[Caution, ...] = ()
    pitching_min: float = 75.0
    turn_back: TurnBack | None = None
    dark: tuple[Span, ...] = ()
    moon: MoonNight | None = None

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if isinstance(value, np.ndarray):
                value.flags.writeable = False

    @property
    def is_blocked(self) -> bool:
        """Whether the route meets a wall within the day's reach."""
        return bool(np.isnan(self.station_moving_min).any()) and self.arrive_at_reach_end < self.camp_by - timedelta(
            minutes=1
        )

    def lead_party_departs(self, distance_m: float) -> datetime | None:
        """When a lead party leaves that breaks the trail so far along the route, to five minutes; None: none does."""
        if self.lead_min is None:
            return None
        known = np.isfinite(self.lead_min)
        ahead_min = float(np.interp(distance_m, self.station_distance_m[known], self.lead_min[known]))
        moment = self.depart - timedelta(minutes=ahead_min)
        return moment - timedelta(minutes=moment.minute % 5, seconds=moment.second, microseconds=moment.microsecond)

    def way_min(self) -> FloatArray:
        """Minutes on the move to each cell by the way that is told: along the route, then off it; NaN past the reach.

        Never less than `moving_min`, which may leave the route anywhere and is what the reach is drawn by.
        """
        along_min = self.station_moving_min[self.leave_station]
        return np.where(self.leave_station >= 0, along_min + self.detour_min, np.nan).astype(np.float32)

    def way_min_at(self, row: int, col: int) -> float:
        """The same as `way_min` at one cell."""
        station = int(self.leave_station[row, col])
        if station < 0:
            return float("nan")
        return float(np.float32(self.station_moving_min[station] + self.detour_min[row, col]))

    def arrive_at(self, row: int, col: int) -> datetime | None:
        """When the unit is on a cell at likely pace, halts counted; None past the reach."""
        moving = float(self.moving_min[row, col])
        if not np.isfinite(moving):
            return None
        return self.depart + timedelta(minutes=self.halt_rule.elapsed_min(moving))
