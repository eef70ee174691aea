"""The day's times: when the unit moves, when it halts, and when it must be in camp."""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta, timezone

from sitepick.caution import Caution
from sitepick.errors import MarchError
from sitepick.march.model import HaltRule
from sitepick.plan.model import LonLat, MarchSettings, Plan, Route
from sitepick.sky import SunDay, arrival_day, sun_day

_ONE_MIN = timedelta(minutes=1)
_HORIZON_SHARE = 2.0  # halts are planned for so much more than the day: a fast unit gets farther


@dataclass(frozen=True, slots=True, kw_only=True)
class DayClock:
    """The day's times.

    Attributes
    ----------
    depart, camp_by : datetime
        With their zone.
    sun : SunDay
        At the route's middle, on the arrival date.
    useful_light_end : datetime or None
        Civil dusk; None where the day has none.
    halt_rule : HaltRule
    moving_min : float
        Minutes on the move before camp-by.
    cautions : tuple of Caution
    """

    depart: datetime
    camp_by: datetime
    sun: SunDay
    useful_light_end: datetime | None
    halt_rule: HaltRule
    moving_min: float
    cautions: tuple[Caution, ...]


def read_clock(plan: Plan) -> DayClock:
    """The day's times, by the plan and the sun.

    Parameters
    ----------
    plan : Plan

    Returns
    -------
    DayClock

    Raises
    ------
    MarchError
        The day has no dusk and the user gave no hour; camp-by lies before the departure; the halts
        leave no time to move.
    """
    depart = plan.march.depart
    # A fixed offset: where a zone changes its clocks, the time between two readings isn't their difference.
    march = replace(plan.march, depart=depart.astimezone(timezone(depart.utcoffset() or timedelta(0))))
    sun = arrival_sun(plan.route, march.depart)
    camp_by = _camp_by(march, sun)
    if camp_by <= march.depart:
        raise MarchError(
            f"the unit departs at {_clock(march.depart)} and must be in camp by {_clock(camp_by)}"
            + ("" if sun.civil_dusk is None else f" (useful light ends at {_clock(sun.civil_dusk)})"),
            where="departure",
            fix="depart earlier" + ("" if march.pitching_min == 0 else " or shorten the pitching time"),
        )
    elapsed_min = (camp_by - march.depart) / _ONE_MIN
    rule = halt_rule(march, until_min=_HORIZON_SHARE * elapsed_min)
    moving_min = rule.moving_min(elapsed_min)
    if moving_min <= 0.0:
        raise MarchError(
            f"halts and delay leave no time to move before camp-by at {_clock(camp_by)}",
            where="halts",
            fix="shorten them or depart earlier",
        )
    return DayClock(
        depart=march.depart,
        camp_by=camp_by,
        sun=sun,
        useful_light_end=sun.civil_dusk,
        halt_rule=rule,
        moving_min=moving_min,
        cautions=_cautions(march.depart, sun),
    )


def arrival_sun(route: Route, depart: datetime) -> SunDay:
    """Sun and twilight at the route's middle on the day on which the unit arrives.

    Times carry the departure's zone.
    """
    lon_deg, lat_deg = route_middle(route)
    zone = depart.tzinfo
    day, solar = arrival_day(lon_deg, lat_deg, depart)
    sun = sun_day(lon_deg, lat_deg, day, solar)

    def told(moment: datetime | None) -> datetime | None:
        return None if moment is None else moment.astimezone(zone)

    return replace(
        sun,
        civil_dawn=told(sun.civil_dawn),
        sunrise=told(sun.sunrise),
        sunset=told(sun.sunset),
        civil_dusk=told(sun.civil_dusk),
    )


def route_middle(route: Route) -> LonLat:
    """The place half-way along a route."""
    first_lon = route.points[0][0]
    points = [(first_lon + (lon - first_lon + 180.0) % 360.0 - 180.0, lat) for lon, lat in route.points]
    narrow = math.cos(math.radians(sum(lat for _, lat in points) / len(points)))
    lengths = [math.hypot((b[0] - a[0]) * narrow, b[1] - a[1]) for a, b in itertools.pairwise(points)]
    rest = sum(lengths) / 2.0
    for (start, end), length in zip(itertools.pairwise(points), lengths, strict=True):
        if rest <= length and length > 0.0:
            share = rest / length
            lon = start[0] + share * (end[0] - start[0])
            return (lon + 180.0) % 360.0 - 180.0, start[1] + share * (end[1] - start[1])
        rest -= length
    return route.points[0]


def halt_rule(march: MarchSettings, *, until_min: float) -> HaltRule:
    """Halts after minutes on the move, from halts by the clock.

    Parameters
    ----------
    march : MarchSettings
    until_min : float
        Minutes since departure up to which halts are planned.

    Returns
    -------
    HaltRule

    Raises
    ------
    MarchError
        A halt lasts as long as the time from one halt to the next.

    Notes
    -----
    The delay counts as lost at the start, so that nothing is promised too early. After it come the first halt and then
    one each `halt_every_min` by the clock, halt included. A long halt takes in the halts that it meets.
    """
    if march.halt_min >= march.halt_every_min:
        raise MarchError(
            f"a halt of {march.halt_min:g} min every {march.halt_every_min:g} min leaves no time to move",
            where="halts",
            fix="shorten the halts or hold fewer",
        )
    spans = [(0.0, march.delay_min)] if march.delay_min > 0.0 else []
    begin = march.delay_min + march.first_halt_after_min
    while march.halt_min > 0.0 and begin < until_min:
        spans.append((begin, begin + march.halt_min))
        begin += march.halt_every_min
    if march.long_halt_at is not None and march.long_halt_min > 0.0:
        long_begin = max(march.delay_min, (_next(march.long_halt_at, march.depart) - march.depart) / _ONE_MIN)
        spans.append((long_begin, long_begin + march.long_halt_min))
    halts: list[tuple[float, float]] = []
    stood_min, last_end = 0.0, -1.0
    for begin, end in sorted(spans):
        if begin <= last_end:
            more = max(0.0, end - last_end)
            halts[-1] = (halts[-1][0], halts[-1][1] + more)
        else:
            more = end - begin
            halts.append((begin - stood_min, more))
        stood_min += more
        last_end = max(last_end, end)
    return HaltRule(halts=tuple(halts))


def _camp_by(march: MarchSettings, sun: SunDay) -> datetime:
    hour = None if march.camp_by_hour is None else _next(march.camp_by_hour, march.depart)
    if sun.civil_dusk is None:
        if hour is None:
            raise MarchError(
                f"the day has no dusk to plan by ({sun.kind})",
                where="camp-by",
                fix='give the hour by which the unit must be in camp (camp_by_hour in the plan, such as "18:00")',
            )
        return hour
    by_light = sun.civil_dusk - march.pitching_min * _ONE_MIN
    by_light = by_light.replace(second=0, microsecond=0)
    return by_light if hour is None else min(by_light, hour)


def _next(hour: time, after: datetime) -> datetime:
    """The first time that a clock in the departure's zone shows this hour."""
    moment = datetime.combine(after.date(), hour.replace(tzinfo=None), tzinfo=after.tzinfo)
    return moment if moment > after else moment + timedelta(days=1)


def _clock(moment: datetime) -> str:
    return moment.strftime("%H:%M on %Y-%m-%d")


def _cautions(depart: datetime, sun: SunDay) -> tuple[Caution, ...]:
    if sun.kind == "polar night":
        return (
            Caution(
                kind="dark",
                text="The day has no useful light: the unit marches and pitches in the dark, with lamps, slower and "
                "with a greater risk of missing hazards.",
            ),
        )
    if sun.civil_dawn is not None and depart < sun.civil_dawn:
        return (
            Caution(
                kind="dark",
                text=f"The march starts in the dark: useful light begins at {sun.civil_dawn.strftime('%H:%M')}.",
            ),
        )
    return ()
