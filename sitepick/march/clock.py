"""The day's times: when the unit moves, when it halts, and when it must be in camp."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta, timezone

from sitepick.caution import Caution
from sitepick.errors import MarchError
from sitepick.march.model import HaltRule
from sitepick.moon import MoonNight, Span, moon_night
from sitepick.plan.model import LonLat, MarchSettings, Plan, Route
from sitepick.plan.pitching import pitching_time_min
from sitepick.sky import SunDay, arrival_day, dark_spans, sun_day

FIRST_HALT, HALT, LONG_HALT = "first halt", "halt", "long halt"

_ONE_MIN = timedelta(minutes=1)
_HORIZON_SHARE = 2.0  # halts are planned for so much more than the day: a fast unit gets farther


Stop = tuple[float, float, str]


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
    pitching_min : float
        From the last arrival to everyone under shelter.
    dark : tuple of (datetime, datetime)
        Stretches between departure and camp-by in which the sun stands lower than civil twilight.
    moon : MoonNight
        From the departure on, for a day.
    halt_rule : HaltRule
    moving_min : float
        Minutes on the move before camp-by.
    cautions : tuple of Caution
    """

    depart: datetime
    camp_by: datetime
    sun: SunDay
    useful_light_end: datetime | None
    pitching_min: float
    dark: tuple[Span, ...]
    moon: MoonNight
    halt_rule: HaltRule
    moving_min: float
    cautions: tuple[Caution, ...]


def read_clock(plan: Plan) -> DayClock:
    """The day's times, by the plan and the sun; delays at places along the route come in by `with_stops`.

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
    pitching_min = pitching_time_min(plan)
    camp_by = _camp_by(march, sun, pitching_min)
    if camp_by <= march.depart:
        raise _too_late(march.depart, camp_by, sun, pitching_min)
    rule, moving_min = _halts(march, camp_by, sun.civil_dusk, ())
    lon_deg, lat_deg = route_middle(plan.route)
    dark = dark_spans(lon_deg, lat_deg, march.depart, camp_by)
    moon = moon_night(lon_deg, lat_deg, march.depart, march.depart + timedelta(days=1))
    return DayClock(
        depart=march.depart,
        camp_by=camp_by,
        sun=sun,
        useful_light_end=sun.civil_dusk,
        pitching_min=pitching_min,
        dark=dark,
        moon=moon,
        halt_rule=rule,
        moving_min=moving_min,
        cautions=_dark_cautions(march.depart, camp_by, dark, moon),
    )


def with_stops(clock: DayClock, march: MarchSettings, moving_min_at: Callable[[float], float | None]) -> DayClock:
    """The clock with the delays at places along the route.

    Parameters
    ----------
    clock : DayClock
    march : MarchSettings
    moving_min_at : callable
        Minutes on the move to a distance in metres along the route, None past where it can be followed.

    Raises
    ------
    MarchError
        The delays leave no time to move.
    """
    if all(delay.at_km is None for delay in march.delays):
        return clock
    stops, cautions = place_stops(march, moving_min_at)
    settings = replace(march, depart=clock.depart)
    rule, moving_min = _halts(settings, clock.camp_by, clock.useful_light_end, stops)
    return replace(clock, halt_rule=rule, moving_min=moving_min, cautions=(*clock.cautions, *cautions))


def _halts(
    march: MarchSettings, camp_by: datetime, light_end: datetime | None, stops: tuple[Stop, ...]
) -> tuple[HaltRule, float]:
    """The halts, and the minutes on the move that they leave before camp-by."""
    elapsed_min = (camp_by - march.depart) / _ONE_MIN
    light_min = 0.0 if light_end is None else (light_end - march.depart) / _ONE_MIN
    rule = halt_rule(march, until_min=_HORIZON_SHARE * max(elapsed_min, light_min), stops=stops)
    moving_min = rule.moving_min(elapsed_min)
    if moving_min <= 0.0:
        raise MarchError(
            f"halts and delay leave no time to move before camp-by at {_clock(camp_by)}",
            where="halts",
            fix="shorten them or depart earlier",
        )
    return rule, moving_min


def _too_late(depart: datetime, camp_by: datetime, sun: SunDay, pitching_min: float) -> MarchError:
    return MarchError(
        f"the unit departs at {_clock(depart)} and must be in camp by {_clock(camp_by)}"
        + ("" if sun.civil_dusk is None else f" (useful light ends at {_clock(sun.civil_dusk)})"),
        where="departure",
        fix="depart earlier"
        + (" or shorten the pitching time" if pitching_min > 0.0 else "")
        + ", or give an hour by which to be in camp and let the march end in the dark (camp_by_hour, camp_in_dark)",
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


def place_stops(
    march: MarchSettings, moving_min_at: Callable[[float], float | None]
) -> tuple[tuple[Stop, ...], tuple[Caution, ...]]:
    """The delays at places along the route, after minutes on the move, and what is to be said of those left out."""
    stops, cautions = [], []
    for delay in march.delays:
        if delay.at_km is None or delay.minutes <= 0.0:
            continue
        after_min = moving_min_at(1000.0 * delay.at_km)
        if after_min is None:
            text = (
                f"The delay at {delay.at_km:g} km ({delay.told}) lies past the end of what can be followed of the "
                "route: it isn't counted."
            )
            cautions.append(Caution(kind="march", text=text))
        else:
            stops.append((after_min, delay.minutes, delay.told))
    return tuple(sorted(stops)), tuple(cautions)


def halt_rule(march: MarchSettings, *, until_min: float, stops: tuple[Stop, ...] = ()) -> HaltRule:
    """Halts after minutes on the move, from halts by the clock and stops at places.

    Parameters
    ----------
    march : MarchSettings
    until_min : float
        Minutes since departure up to which halts are planned.
    stops : tuple of (moving_min, length_min, reason)
        Delays at places along the route, in rising order.

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
    one each `halt_every_min` by the clock, halt included. A longer stop takes in the halts that it meets. Everyone
    who has been on the move for longer than the way to a delay's place loses that time, also where the route was
    left before it: again, so that nothing is promised too early.
    """
    if march.halt_min >= march.halt_every_min:
        raise MarchError(
            f"a halt of {march.halt_min:g} min every {march.halt_every_min:g} min leaves no time to move",
            where="halts",
            fix="shorten the halts or hold fewer",
        )
    by_clock, by_place = sorted(_clock_halts(march, until_min)), list(stops)
    halts: list[Stop] = []
    moving_min, now_min = 0.0, 0.0

    def stand(length_min: float, reason: str) -> None:
        if halts and halts[-1][0] == moving_min:
            _, before_min, before = halts[-1]
            told = before if reason in before.split(" and ") else f"{before} and {reason}"
            halts[-1] = (moving_min, before_min + length_min, told)
        else:
            halts.append((moving_min, length_min, reason))

    while by_clock or by_place:
        at_place_min = now_min + by_place[0][0] - moving_min if by_place else math.inf
        if by_place and (not by_clock or at_place_min <= by_clock[0][0]):
            moving_min, length_min, reason = by_place.pop(0)
            stand(length_min, reason)
            now_min = at_place_min + length_min
            continue
        begin_min, end_min, reason = by_clock.pop(0)
        if end_min <= now_min and begin_min < now_min:
            continue
        moving_min += max(0.0, begin_min - now_min)
        begin_min = max(begin_min, now_min)
        stand(end_min - begin_min, reason)
        now_min = end_min
    return HaltRule(
        halts=tuple((after_min, length_min) for after_min, length_min, _ in halts),
        reasons=tuple(reason for _, _, reason in halts),
    )


def _clock_halts(march: MarchSettings, until_min: float) -> list[Stop]:
    """Begin, end and reason of the halts that follow the clock, in minutes since departure."""
    halts = [(0.0, march.delay_min, "delay")] if march.delay_min > 0.0 else []
    begin_min = march.delay_min + march.first_halt_after_min
    name = FIRST_HALT
    while march.halt_min > 0.0 and begin_min < until_min:
        halts.append((begin_min, begin_min + march.halt_min, name))
        begin_min += march.halt_every_min
        name = HALT
    told = [(march.long_halt_at, march.long_halt_min, LONG_HALT)]
    told += [(delay.at, delay.minutes, delay.told) for delay in march.delays]
    for at, length_min, reason in told:
        if at is not None and length_min > 0.0:
            begin_min = max(march.delay_min, (_next(at, march.depart) - march.depart) / _ONE_MIN)
            halts.append((begin_min, begin_min + length_min, reason))
    return halts


def _camp_by(march: MarchSettings, sun: SunDay, pitching_min: float) -> datetime:
    hour = None if march.camp_by_hour is None else _next(march.camp_by_hour, march.depart)
    if hour is not None and march.camp_in_dark:
        return hour
    if sun.civil_dusk is None:
        if hour is None:
            raise MarchError(
                f"the day has no dusk to plan by ({sun.kind})",
                where="camp-by",
                fix='give the hour by which the unit must be in camp (camp_by_hour in the plan, such as "18:00")',
            )
        return hour
    by_light = sun.civil_dusk - pitching_min * _ONE_MIN
    by_light = by_light.replace(second=0, microsecond=0)
    return by_light if hour is None else min(by_light, hour)


def _next(hour: time, after: datetime) -> datetime:
    """The first time that a clock in the departure's zone shows this hour."""
    moment = datetime.combine(after.date(), hour.replace(tzinfo=None), tzinfo=after.tzinfo)
    return moment if moment > after else moment + timedelta(days=1)


def _clock(moment: datetime) -> str:
    return moment.strftime("%H:%M on %Y-%m-%d")


def _dark_cautions(depart: datetime, camp_by: datetime, dark: tuple[Span, ...], moon: MoonNight) -> tuple[Caution, ...]:
    if not dark:
        return ()
    starts_dark, ends_dark = dark[0][0] <= depart, dark[-1][1] >= camp_by
    if starts_dark and ends_dark and len(dark) == 1:
        text = (
            "The day has no useful light: the unit marches and pitches in the dark, with lamps, slower and "
            "with a greater risk of missing hazards"
        )
    elif starts_dark and ends_dark:
        text = (
            f"The march starts and ends in the dark: useful light lasts from {dark[0][1]:%H:%M} to "
            f"{dark[-1][0]:%H:%M}, and the unit pitches by lamps"
        )
    elif starts_dark:
        text = f"The march starts in the dark: useful light begins at {dark[0][1]:%H:%M}"
    elif ends_dark:
        text = f"The march ends in the dark: useful light ends at {dark[-1][0]:%H:%M}, and the unit pitches by lamps"
    else:
        text = f"Part of the march is in the dark, from {dark[0][0]:%H:%M} to {dark[-1][1]:%H:%M}"
    return (Caution(kind="dark", text=f"{text}. {moonlight_words(moon, dark)}"),)


def moonlight_words(moon: MoonNight, dark: tuple[Span, ...]) -> str:
    """Whether the moon lights some dark hours, as a sentence."""
    share = f"{100.0 * moon.lit_frac:.0f} %"
    up_min = moon.up_min(dark)
    if up_min < 1.0:
        return "The moon is down all that time."
    dark_min = sum((last - first) / _ONE_MIN for first, last in dark)
    of_it = "all that time" if up_min > dark_min - 1.0 else f"{up_min:.0f} of those {dark_min:.0f} min"
    if moon.moonlit_min(dark) > 0.0:
        return f"The moon, {share} lit, is up {of_it} and helps where no cloud or forest hides it."
    return f"The moon is up {of_it}, but with {share} of it lit it gives little light."
