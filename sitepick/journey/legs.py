"""What each leg of a route costs on each day: the question that the chain answers, from plan and survey."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from sitepick.errors import MarchError
from sitepick.grid import DoubleArray, MaskArray
from sitepick.journey.chain import Question, cached
from sitepick.journey.days import comes_to_camp, day_plan, supply_days
from sitepick.journey.model import Candidate, Line, Survey
from sitepick.march.clock import DayClock, read_clock
from sitepick.march.night import Night, read_night
from sitepick.march.pace import Pace, pace_of, slope_factor
from sitepick.march.sled_load import march_with_loads
from sitepick.plan.journey import PASS, STOP, SUPPLY, JourneyPoint, JourneySettings
from sitepick.plan.model import LonLat, Plan, Route
from sitepick.sites.factors import score_frac
from sitepick.sites.score import whole_score

BARE_EVERY_M = 1000.0  # where nights without a site are thought of, if nothing else will do
_CLOCK_EVERY_M = 25_000.0  # dusk comes some minutes later that far to the west
_PIN_WITHIN_M = 400.0
_SAME_PLACE_M = 1.0
SPARE_MIN = (
    3.0  # ours: the chain leaves so much of each day, since its times off the route are rounder than the day's own
)
_EARTH_M = 111_200.0  # a degree of latitude


StruckLeg = tuple[int, float, LonLat]  # the day, where along the route it begins, and the place of its night


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DayClocks:
    """The times of one day at several places along a route.

    Attributes
    ----------
    every_m : float
        Between them.
    clocks : tuple of DayClock
    nights : tuple of Night
    """

    every_m: float
    clocks: tuple[DayClock, ...]
    nights: tuple[Night, ...]

    def index(self, along_m: float) -> int:
        """Which of them holds at a distance."""
        return min(int(along_m / self.every_m), len(self.clocks) - 1)

    def limit_min(self, along_m: float) -> float:
        """Minutes by day that fit into the day."""
        at = self.index(along_m)
        return self.nights[at].by_day_min(self.clocks[at].moving_min)

    def arrive(self, along_m: float, by_day_min: float) -> datetime:
        """When the unit has been on the move for so many minutes by day."""
        at = self.index(along_m)
        moving = float(self.nights[at].moving_min(by_day_min))
        return self.clocks[at].depart + timedelta(minutes=self.clocks[at].halt_rule.elapsed_min(moving))


class Legs:
    """One route's legs under one plan.

    Parameters
    ----------
    plan : Plan
        The journey's.
    survey : Survey
    struck : frozenset of StruckLeg
        Legs that a day's full answer couldn't make.

    Attributes
    ----------
    places : tuple of Candidate
        Start, sites by their place along the route, places without a site, end.
    """

    def __init__(self, plan: Plan, survey: Survey, struck: frozenset[StruckLeg] = frozenset()) -> None:
        self.plan, self.survey = plan, survey
        self._struck = struck
        line = survey.line
        bare = [
            _on_route(line, along_m)
            for along_m in np.arange(BARE_EVERY_M, line.passable_m - BARE_EVERY_M / 2.0, BARE_EVERY_M)
        ]
        self.places = (_on_route(line, 0.0), *survey.candidates, *bare, _on_route(line, line.length_m))
        self._along_m = np.array([place.along_m for place in self.places])
        self._rejoin_m = np.array([place.rejoin_m for place in self.places])
        self._clocks = lru_cache(maxsize=None)(self._read_clocks)
        self._minutes = cached(self._leg_min)

    def question(self, plan: Plan) -> Question:
        """What the chain is asked under a plan that differs from this one at most in its limits, rule and pins."""
        settings = plan.journey
        is_bare = np.array([place.is_bare for place in self.places])
        is_bare[[0, -1]] = False
        return Question(
            score=self._scores(settings.days_max),
            is_bare=is_bare,
            leg_min=self._minutes,
            days_max=settings.days_max,
            rest_days=frozenset(settings.rest_days),
            held=self.held(plan),
            supplies=self._supplies(),
            supply_days_max=supply_days(settings),
            comes_to_camp=comes_to_camp(settings),
        )

    def clocks(self, day: int) -> DayClocks:
        """The times of one day."""
        return self._clocks(day)

    def cumulative_min(self, day: int, since: int) -> DoubleArray:
        """Minutes by day from the start to each station, at a day's pace; infinite past a wall."""
        line, pace = self.survey.line, _pace(day_plan(self.plan, day, since=since))
        base = self.survey.pace
        slower = np.where(line.is_broken, base.broken_kmh / pace.broken_kmh, base.unbroken_kmh / pace.unbroken_kmh)
        shape = slope_factor(pace, line.tangent) / slope_factor(base, line.tangent)
        step = line.step_min * slower * np.where(np.isfinite(shape), shape, 1.0)
        for delay in self.plan.march.delays:
            if delay.at_km is not None and 1000.0 * delay.at_km <= line.length_m:
                step[int(np.searchsorted(line.distance_m, 1000.0 * delay.at_km))] += delay.minutes
        return np.nan_to_num(np.cumsum(step), nan=np.inf)

    def leg_min(self, day: int, since: int, start: int, stop: int) -> float:
        """Minutes by day of one leg, whether it fits into the day or not."""
        return float(self._raw_min(day, since)[start, stop])

    def held(self, plan: Plan) -> MaskArray:
        """Where the night of each day may fall, by the pins and by each day's wind.

        Raises
        ------
        MarchError
            A pinned night lies on no site.
        """
        days = plan.journey.days_max
        held = np.ones((len(self.places), days + 1), bool)
        wind = plan.preferences.wind
        if wind.limit_max is not None:
            for day in range(1, days + 1):
                share = self._wind_share(day)
                held[:, day] &= ~(share > wind.limit_max)
        for night in plan.journey.pinned:
            if night.route != self.survey.route.name or night.day > days:
                continue
            near = [
                (distance_m(place.place, night.place), index)
                for index, place in enumerate(self.places)
                if not place.is_bare
            ]
            away_m, index = min(near, default=(math.inf, -1))
            if away_m > _PIN_WITHIN_M:
                raise MarchError(
                    f"the pinned night {night.day} on {night.route} lies on no site that was found",
                    where=f"longitude {night.place[0]:.5f}, latitude {night.place[1]:.5f}",
                    fix="take the pin away, or set it on a site",
                )
            held[:, night.day] = False
            held[index, night.day] = True
        return held

    def points_along_m(self, kind: str) -> list[tuple[JourneyPoint, float]]:
        """The points of one kind, and where the route passes each; supplies off this route don't serve it.

        Raises
        ------
        MarchError
            The route leads too far past a place that it must take in.
        """
        line = self.survey.line
        told = []
        for point in self.plan.journey.points:
            if point.kind != kind:
                continue
            lon, lat = point.place
            away_m = np.hypot(
                (line.lat_deg - lat) * _EARTH_M, (line.lon_deg - lon) * _EARTH_M * math.cos(math.radians(lat))
            )
            at = int(np.argmin(away_m))
            if away_m[at] > point.within_m:
                if kind == SUPPLY:
                    continue
                raise MarchError(
                    f"the route passes {point.name} at {away_m[at] / 1000.0:.1f} km",
                    where=self.survey.route.name,
                    fix=f"draw it nearer than {point.within_m / 1000.0:.1f} km, or take the point out of the journey",
                )
            told.append((point, float(line.distance_m[at])))
        return told

    def _leg_min(self, day: int, since: int) -> DoubleArray:
        """Legs of a day; infinite where they don't fit into it."""
        raw, clocks = self._raw_min(day, since), self.clocks(day)
        limit = np.array([clocks.limit_min(along_m) for along_m in self._along_m])
        legs = np.where(raw + SPARE_MIN <= limit[:, None], raw, np.inf)
        for leg_day, start_m, stop in self._struck:
            if leg_day == day:
                begins = np.abs(self._along_m - start_m) < _SAME_PLACE_M
                ends = np.array([place.place == stop for place in self.places])
                legs[begins[:, None] & ends[None, :]] = np.inf
        return legs

    def _raw_min(self, day: int, since: int) -> DoubleArray:
        line, cumulative = self.survey.line, self.cumulative_min(day, since)
        pace = _pace(day_plan(self.plan, day, since=since))
        off = self.survey.pace.unbroken_kmh / pace.unbroken_kmh
        # Past a wall everything is infinite; what lies before it is finite.
        last = np.flatnonzero(np.isfinite(cumulative))[-1]
        passable_m = line.distance_m[last]

        def at(distance_m: DoubleArray) -> DoubleArray:
            minutes = np.interp(distance_m, line.distance_m[: last + 1], cumulative[: last + 1])
            return np.where(distance_m <= passable_m + _SAME_PLACE_M, minutes, np.inf)

        back = np.array([place.back_min for place in self.places]) * off
        detour = np.array([place.detour_min for place in self.places]) * off
        leave, rejoin = at(self._along_m), at(self._rejoin_m)
        is_on = (self._along_m[None, :] > self._along_m[:, None] + _SAME_PLACE_M) & (
            self._along_m[None, :] >= self._rejoin_m[:, None] - _SAME_PLACE_M
        )
        with np.errstate(invalid="ignore"):
            minutes = back[:, None] + leave[None, :] - rejoin[:, None] + detour[None, :]
        return np.where(is_on & np.isfinite(minutes) & ~self._jumps_a_stop(), minutes, np.inf)

    def _jumps_a_stop(self) -> MaskArray:
        """Legs that go past a place where a night must fall, without a night near it."""
        jumps = np.zeros((len(self.places),) * 2, bool)
        for point, along_m in self.points_along_m(STOP):
            is_near = np.array(
                [not one.is_bare and distance_m(one.place, point.place) <= point.within_m for one in self.places]
            )
            passes = (self._along_m[:, None] < along_m) & (self._along_m[None, :] >= along_m)
            jumps |= passes & ~is_near[:, None] & ~is_near[None, :]
        return jumps

    def _supplies(self) -> MaskArray:
        """Legs on which supplies lie."""
        taken = np.zeros((len(self.places),) * 2, bool)
        for _, along_m in self.points_along_m(SUPPLY):
            taken |= (self._along_m[:, None] < along_m) & (self._along_m[None, :] >= along_m)
        return taken

    def _read_clocks(self, day: int) -> DayClocks:
        line, plan = self.survey.line, day_plan(self.plan, day, since=0)
        delays = tuple(one for one in plan.march.delays if one.at)
        # Only what a day's times are read from, so that pins and rules leave them as they are.
        plan = replace(
            plan, name="", march=replace(plan.march, delays=delays), journey=JourneySettings(), site_marks=()
        )
        count = max(1, math.ceil(line.length_m / _CLOCK_EVERY_M))
        every_m = line.length_m / count
        clocks = []
        for number in range(count):
            ends = (line.place_at(number * every_m), line.place_at((number + 1) * every_m))
            clocks.append(_clock(replace(plan, route=Route(name="", points=ends))))
        night_frac = plan.march.pace.night_frac
        return DayClocks(
            every_m=every_m,
            clocks=tuple(clocks),
            nights=tuple(read_night(clock, night_frac) for clock in clocks),
        )

    def _scores(self, days_max: int) -> DoubleArray:
        """What a night at each place is worth on each day: as measured, but for each day's own wind."""
        base = np.array([place.score for place in self.places])
        scores = np.repeat(base[:, None], days_max + 1, axis=1)
        for day in range(1, days_max + 1):
            share = self._wind_share(day)
            for index in np.flatnonzero(np.isfinite(share)):
                scores[index, day] = self._score_in(self.places[index], float(share[index]))
        return scores

    def _wind_share(self, day: int) -> DoubleArray:
        """Share of the open wind at each place on a day with a wind of its own; NaN where it is as measured."""
        share = np.full(len(self.places), np.nan)
        forecast = self.plan.journey.forecast(day)
        measured_from = self.plan.weather.main_wind_from_deg
        if forecast is None or forecast.wind_from_deg is None:
            return share
        for index, place in enumerate(self.places):
            if not place.wind_from:
                continue
            there = _share_from(place.wind_from, forecast.wind_from_deg)
            wind = next(one for one in place.measures if one.name == "wind")
            if measured_from is None or wind.value is None:
                share[index] = there
            else:
                share[index] = max(0.0, wind.value + there - _share_from(place.wind_from, measured_from))
        return share

    def _score_in(self, place: Candidate, share: float) -> float:
        scores = [
            score_frac(self.plan.preferences.wind, share) if one.name == "wind" else one.score for one in place.measures
        ]
        weights = [one.weight for one in place.measures]
        return 100.0 * float(whole_score(scores, weights, mean=self.plan.preferences.weighting.mean))


def check_points(legs: Legs) -> None:
    """Hold the places that a journey must take in against a route.

    Raises
    ------
    MarchError
        The route leads past one of them too far off, or no site lies near a place where a night must fall.
    """
    legs.points_along_m(PASS)
    for point, _ in legs.points_along_m(STOP):
        if not any(not one.is_bare and distance_m(one.place, point.place) <= point.within_m for one in legs.places):
            raise MarchError(
                f"no site lies within {point.within_m / 1000.0:.1f} km of {point.name}, where a night must fall",
                where=legs.survey.route.name,
                fix="let a night farther off count, or look farther off the route",
            )


def distance_m(one: LonLat, other: LonLat) -> float:
    """Metres between two places not far apart."""
    narrow = math.cos(math.radians((one[1] + other[1]) / 2.0))
    return math.hypot((one[1] - other[1]) * _EARTH_M, (one[0] - other[0]) * _EARTH_M * narrow)


def _on_route(line: Line, along_m: float) -> Candidate:
    return Candidate(
        name="", place=line.place_at(along_m), ring=(), along_m=along_m, detour_min=0.0, rejoin_m=along_m, back_min=0.0,
        measures=(), score=0.0, capacity=0,
    )  # fmt: skip


_clock = lru_cache(maxsize=1024)(read_clock)


@lru_cache(maxsize=256)
def _pace(plan: Plan) -> Pace:
    """How the unit moves on a day; kept, since the packing of its sleds is worked out for it."""
    return pace_of(march_with_loads(plan), plan.weather)


def _share_from(shares: Sequence[float], bearing_deg: float) -> float:
    """Between the shares for bearings evenly round the compass."""
    step = 360.0 / len(shares)
    at = (bearing_deg % 360.0) / step
    low = int(at) % len(shares)
    part = at - math.floor(at)
    return (1.0 - part) * shares[low] + part * shares[(low + 1) % len(shares)]
