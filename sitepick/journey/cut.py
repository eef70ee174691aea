"""From a chain to the days it makes: times, distances, what is crossed, and where each can be broken off."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from sitepick.grid import DoubleArray
from sitepick.journey.chain import Chain, Question
from sitepick.journey.days import comes_to_camp
from sitepick.journey.legs import Legs
from sitepick.journey.model import BailOut, Day
from sitepick.march.route import climb_and_descent
from sitepick.plan.journey import SUPPLY

_HOUR = timedelta(hours=1)
_TRACK_APART_M = 500.0  # a track that the route runs along is one place to leave by, not one a cell


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leg:
    """One day's part of the line."""

    number: int
    since: int
    start: int
    stop: int


def cut_days(legs: Legs, question: Question, chain: Chain) -> tuple[Day, ...]:
    """The days of a chain.

    Parameters
    ----------
    legs : Legs
    question : Question
        The one that the chain answers.
    chain : Chain
    """
    days = []
    at = 0
    pinned = {night.day for night in legs.plan.journey.pinned if night.route == legs.survey.route.name}
    for number, (stop, since) in enumerate(zip(chain.places, chain.since, strict=True), start=1):
        leg = _Leg(number=number, since=since, start=at, stop=stop)
        days.append(_day(legs, question, chain, leg, is_pinned=number in pinned))
        at = stop
    return tuple(days)


def _day(legs: Legs, question: Question, chain: Chain, leg: _Leg, *, is_pinned: bool) -> Day:
    start, stop = legs.places[leg.start], legs.places[leg.stop]
    is_rest, is_last = leg.start == leg.stop, leg.stop == len(legs.places) - 1
    by_day_min = chain.leg_min[leg.number - 1]
    clocks = legs.clocks(leg.number)
    clock = clocks.clocks[clocks.index(start.along_m)]
    arrive = clock.depart if is_rest else clocks.arrive(start.along_m, by_day_min)
    line = legs.survey.line
    begin_m, end_m = start.rejoin_m, stop.along_m
    if is_rest:
        begin_m = end_m = start.along_m
    span = line.between(begin_m, end_m)
    climb_m, descent_m = climb_and_descent(line.height_m[span]) if not is_rest else (0.0, 0.0)
    is_supplied = not is_rest and bool(question.supplies[leg.start, leg.stop])
    if comes_to_camp(legs.plan.journey) and leg.since + 1 >= question.supply_days_max and not is_last:
        is_supplied = True
    step_m = np.diff(line.distance_m, prepend=0.0)[span]
    return Day(
        number=leg.number,
        is_rest=is_rest,
        depart=clock.depart,
        arrive=arrive,
        camp_by=clock.camp_by,
        begin_m=begin_m,
        end_m=end_m,
        distance_m=max(0.0, end_m - begin_m),
        climb_m=climb_m,
        descent_m=descent_m,
        moving_min=0.0 if is_rest else float(clocks.nights[clocks.index(start.along_m)].moving_min(by_day_min)),
        hours=0.0 if is_rest else (arrive - clock.depart) / _HOUR,
        night=None if is_last else stop,
        score=0.0 if is_last or stop.is_bare else float(question.score[leg.stop, leg.number]),
        is_pinned=is_pinned and not is_last,
        since=leg.since,
        is_supplied=is_supplied,
        avalanche_m=0.0 if is_rest else float(step_m[line.is_avalanche[span]].sum()),
        ice_m=0.0 if is_rest else float(step_m[line.is_ice[span]].sum()),
        stream_count=0 if is_rest else _begin_count(line.is_stream[span]),
        sun=clock.sun,
        halts=() if is_rest else clock.halt_rule.halts,
        pitching_min=clock.pitching_min,
        bail_out=None if is_rest else _bail_out(legs, leg, begin_m, end_m),
    )


def _begin_count(mask: np.ndarray) -> int:
    return int(np.count_nonzero(mask & ~np.concatenate(([False], mask[:-1])))) if mask.size else 0


def _bail_out(legs: Legs, leg: _Leg, begin_m: float, end_m: float) -> BailOut | None:
    """The way out that the worst-placed spot of the day has: of the nearest ones in time, the farthest."""
    line, minutes = legs.survey.line, legs.cumulative_min(leg.number, leg.since)
    exits = exits_of(legs)
    span = line.between(begin_m, end_m)
    here = minutes[span]
    if not here.size or not np.isfinite(here).all():
        return None
    at_min: DoubleArray = np.interp([along_m for _, along_m in exits], line.distance_m, minutes)
    away = np.abs(here[:, None] - at_min[None, :])
    nearest = np.argmin(away, axis=1)
    worst = int(np.argmax(away[np.arange(len(here)), nearest]))
    name, along_m = exits[int(nearest[worst])]
    return BailOut(name=name, place=line.place_at(along_m), minutes=float(away[worst, nearest[worst]]))


def exits_of(legs: Legs) -> list[tuple[str, float]]:
    """Where a route can be left for help: its ends, places of supply, and where mapped tracks meet it."""
    line = legs.survey.line
    exits = [("the start", 0.0)]
    exits += [(point.name, along_m) for point, along_m in legs.points_along_m(SUPPLY)]
    for at in np.flatnonzero(line.is_track):
        along_m = float(line.distance_m[at])
        if all(abs(along_m - other) > _TRACK_APART_M for _, other in exits):
            exits.append((f"the track at {along_m / 1000.0:.1f} km", along_m))
    exits.append(("the end", line.length_m))
    return sorted(exits, key=lambda one: one[1])
