"""What the journey hands on: each route cut into days, every night with its place, routes side by side."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

import numpy as np

from sitepick.caution import Caution
from sitepick.grid import DoubleArray, MaskArray
from sitepick.journey.chain import Chain
from sitepick.march.pace import Pace
from sitepick.plan.model import LonLat, Plan, Route
from sitepick.sites.model import Hindrance, Measure
from sitepick.sky import SunDay


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A place along a route where a night may fall.

    Attributes
    ----------
    name : str
        From its place in the land; empty on a place without a site.
    place : (lon_deg, lat_deg)
        The middle of the camp.
    ring : tuple of (lon_deg, lat_deg)
        Its outline; empty on a place without a site.
    along_m : float
        Along the route, where the way to it leaves.
    detour_min : float
        From there, on the move by day.
    rejoin_m, back_min : float
        Where the route is met again next day, and the way to there.
    measures : tuple of Measure
        Under the plan's own weather; empty on a place without a site.
    score : float
        0-100, the same way; 0 on a place without a site.
    capacity : int
    wind_from : tuple of float
        Share of the open wind for wind from each bearing, as `terrain.wind_round` has them; empty: not known.
    """

    name: str
    place: LonLat
    ring: tuple[LonLat, ...]
    along_m: float
    detour_min: float
    rejoin_m: float
    back_min: float
    measures: tuple[Measure, ...]
    score: float
    capacity: int
    wind_from: tuple[float, ...] = ()

    @property
    def is_bare(self) -> bool:
        """Whether there is no site here."""
        return not self.ring


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Line:
    """A route's stations, at most one cell apart; arrays of one length.

    Attributes
    ----------
    lon_deg, lat_deg : float64
    distance_m : float64
        On the ground, from the start.
    height_m : float64
        NaN where not known.
    step_min : float64
        Minutes by day from the station before, at the first day's pace; NaN past a wall; 0 at the first.
    tangent : float64
        Rise over run from the station before.
    is_broken : bool
        Trail that is broken or packed when the unit comes.
    is_track : bool
        Mapped tracks, by which the way can be broken off.
    is_avalanche, is_ice, is_stream : bool
        Ground where snow can break loose or run out; water crossed on its ice; a stream crossed.
    """

    lon_deg: DoubleArray
    lat_deg: DoubleArray
    distance_m: DoubleArray
    height_m: DoubleArray
    step_min: DoubleArray
    tangent: DoubleArray
    is_broken: MaskArray
    is_track: MaskArray
    is_avalanche: MaskArray
    is_ice: MaskArray
    is_stream: MaskArray

    def __post_init__(self) -> None:
        for name in self.__slots__:
            getattr(self, name).flags.writeable = False

    @property
    def length_m(self) -> float:
        """From the start to the end."""
        return float(self.distance_m[-1])

    @property
    def passable_m(self) -> float:
        """How far it can be followed."""
        is_open = np.isfinite(np.cumsum(self.step_min))
        return float(self.distance_m[is_open][-1])

    def place_at(self, distance_m: float) -> LonLat:
        """Longitude and latitude after so many metres."""
        return (
            float(np.interp(distance_m, self.distance_m, self.lon_deg)),
            float(np.interp(distance_m, self.distance_m, self.lat_deg)),
        )

    def between(self, first_m: float, last_m: float) -> slice:
        """The stations from one distance to another."""
        return slice(
            int(np.searchsorted(self.distance_m, first_m)), int(np.searchsorted(self.distance_m, last_m, side="right"))
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Survey:
    """What a route offers, before any day is cut from it.

    Attributes
    ----------
    route : Route
    crs : str
        The metric projection that all of its ground is read in.
    line : Line
    grid_scale : float
        Metres of the projection a metre on the ground, along the route.
    pace : Pace
        The first day's, which the minutes of line and candidates were found at.
    candidates : tuple of Candidate
        By where the way to each leaves the route.
    trouble : str
        Why the route can't be followed to its end, a clause; empty where it can.
    cautions : tuple of Caution
        About the ground and its files.
    """

    route: Route
    crs: str
    line: Line
    grid_scale: float
    pace: Pace
    candidates: tuple[Candidate, ...]
    trouble: str = ""
    cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class DayDetail:
    """What the full answer for one day adds to the chain.

    Attributes
    ----------
    plan : Plan
        The day's own: its date, weather, loads and the way from last night's site.
    site_name : str
        As the day's own search names it; empty without a site.
    score : float or None
    firm_share : float or None
        Share of draws in which the site is first of its day.
    alternate : str
        The site to fall back on; empty where there is none.
    reason : str
        Why the site stands where it does.
    arrive, camp_by : datetime
    sunrise, useful_light_end : datetime or None
    water_source, water_words : str
        As in `march.Needs`.
    water_l, fuel_l : float
    carried_kg, sled_kg : float
        The heaviest load on a back; the heaviest sled, 0 without sleds.
    kcal : float
        Of one of those who have it hardest.
    hindrances : tuple of Hindrance
        Why there is no site, and what to relax; empty where there is one.
    cautions : tuple of Caution
        Of the day's way and site, the gravest first.
    data_cautions : tuple of Caution
        What holds for all of the day's ground, and of its figures.
    """

    plan: Plan
    site_name: str
    score: float | None
    firm_share: float | None
    alternate: str
    reason: str
    arrive: datetime
    camp_by: datetime
    sunrise: datetime | None
    useful_light_end: datetime | None
    water_source: str
    water_words: str
    water_l: float
    fuel_l: float
    carried_kg: float
    sled_kg: float
    kcal: float
    hindrances: tuple[Hindrance, ...]
    cautions: tuple[Caution, ...]
    data_cautions: tuple[Caution, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class BailOut:
    """Where the day can be broken off, and how long it takes from its farthest place.

    Attributes
    ----------
    name : str
    place : (lon_deg, lat_deg)
    minutes : float
        On the move, along the route, from the place of the day that is farthest from it in time.
    """

    name: str
    place: LonLat
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Day:
    """One day of a route.

    Attributes
    ----------
    number : int
    is_rest : bool
    depart, arrive, camp_by : datetime
        By the chain's own reckoning; a day's detail may tell some minutes other.
    begin_m, end_m : float
        Along the route.
    distance_m, climb_m, descent_m : float
        Along the route; the ways off it aren't in them.
    moving_min, hours : float
        On the move; and from departure to arrival, halts counted.
    night : Candidate or None
        None on the day that reaches the route's end.
    score : float
        Of the night, in that day's weather; 0 without a site.
    is_pinned : bool
    since : int
        Days since supplies were taken up, at the departure.
    is_supplied : bool
        Supplies are taken up on the way or in camp.
    avalanche_m, ice_m : float
        Of its way over such ground.
    stream_count : int
    sun : SunDay
        At the day's start.
    halts : tuple of (moving_min, length_min)
    pitching_min : float
    bail_out : BailOut or None
    mends : tuple of str
        What would bring a site within reach of this night, a sentence each; empty where there is one.
    detail : DayDetail or None
        None until the day's full answer is there, and on a rest day.
    """

    number: int
    is_rest: bool
    depart: datetime
    arrive: datetime
    camp_by: datetime
    begin_m: float
    end_m: float
    distance_m: float
    climb_m: float
    descent_m: float
    moving_min: float
    hours: float
    night: Candidate | None
    score: float
    is_pinned: bool
    since: int
    is_supplied: bool
    avalanche_m: float
    ice_m: float
    stream_count: int
    sun: SunDay
    halts: tuple[tuple[float, float], ...]
    pitching_min: float
    bail_out: BailOut | None = None
    mends: tuple[str, ...] = ()
    detail: DayDetail | None = None


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RouteJourney:
    """One route, cut into days.

    Attributes
    ----------
    survey : Survey
    chain : Chain or None
        None where no chain of days reaches the end.
    days : tuple of Day
    trouble : str
        Why there is no chain, a sentence with what to do; empty where there is one.
    gain : str
        What the chain has over taking the best site in reach each evening, a sentence.
    struck : frozenset of (day, start_m, place)
        Legs that a day's full answer couldn't make, so that the chain does without them.
    """

    survey: Survey
    chain: Chain | None
    days: tuple[Day, ...]
    trouble: str = ""
    gain: str = ""
    struck: frozenset[tuple[int, float, LonLat]] = frozenset()

    @property
    def name(self) -> str:
        """The route's."""
        return self.survey.route.name

    @property
    def nights(self) -> tuple[Day, ...]:
        """The days that end in a camp."""
        return tuple(day for day in self.days if day.night is not None)

    @property
    def weakest(self) -> Day | None:
        """The day with the weakest night; None where there is no night."""
        return min(self.nights, key=lambda day: day.score, default=None)

    @property
    def is_whole(self) -> bool:
        """Whether every night has a site."""
        return self.chain is not None and self.chain.bare_count == 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Journey:
    """Routes side by side.

    Attributes
    ----------
    plan : Plan
    routes : tuple of RouteJourney
        In the plan's order.
    order : tuple of int
        The same by the plan's rule, the best first; routes without a chain last.
    words : tuple of str
        What each has over the next in that order, a sentence each.
    cautions : tuple of Caution
    """

    plan: Plan
    routes: tuple[RouteJourney, ...]
    order: tuple[int, ...]
    words: tuple[str, ...]
    cautions: tuple[Caution, ...] = ()
