"""What the day line shows: light and dark, when the unit moves and halts, the hours that matter. No Qt."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from sitepick.desk.translation import marked, tr
from sitepick.desk.words import clock
from sitepick.plan.model import Plan
from sitepick.plan.pitching import pitching_time_min

if TYPE_CHECKING:
    from sitepick.journey.model import Day
    from sitepick.march.model import March
    from sitepick.sky import SunDay
    from sitepick.tonight import Tonight

DARK, TWILIGHT, LIGHT = "dark", "twilight", "light"


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """A stretch of the day.

    Attributes
    ----------
    kind : str
        `DARK`, `TWILIGHT`, `LIGHT`; or ``"march"``, ``"halt"``, ``"pitching"``.
    begin, end : datetime
    """

    kind: str
    begin: datetime
    end: datetime


@dataclass(frozen=True, slots=True, kw_only=True)
class Moment:
    """An hour that matters.

    Attributes
    ----------
    kind : str
        ``"depart"``, ``"arrive"``, ``"camp-by"``, ``"lead"``, ``"rest"`` or ``"sky"``.
    text : str
        With its time.
    at : datetime
    is_intent : bool
        What the unit does, not what the sky or the clock does.
    """

    kind: str
    text: str
    at: datetime
    is_intent: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class DayStrip:
    """One day as a strip.

    Attributes
    ----------
    begin, end : datetime
        Whole hours.
    sky, acts : tuple of Span
        What the sky does, without gaps; what the unit does, in order.
    moments : tuple of Moment
    moon : tuple of Span
        When the moon is up in the dark, kind ``"moon"``.
    moon_lit_frac : float
        Share of its disc that is lit.
    """

    begin: datetime
    end: datetime
    sky: tuple[Span, ...]
    acts: tuple[Span, ...]
    moments: tuple[Moment, ...]
    moon: tuple[Span, ...] = ()
    moon_lit_frac: float = 0.0


def bare_strip(plan: Plan) -> DayStrip:
    """The day before anything is worked out: the departure only."""
    depart = plan.march.depart
    return DayStrip(
        begin=_hour_before(depart),
        end=_hour_before(depart) + timedelta(hours=12),
        sky=(),
        acts=(),
        moments=(Moment(kind="depart", text=tr("depart {time}", time=clock(depart)), at=depart, is_intent=True),),
    )


def day_strip(answer: Tonight) -> DayStrip:
    """The day of an answer, up to the pick; without a site, up to the reach's end."""
    march = answer.march
    pick = answer.sites.sites[0] if answer.sites.sites else None
    arrive = pick.arrive if pick is not None else march.arrive_at_reach_end
    moments = [
        Moment(kind="depart", text=tr("depart {time}", time=clock(march.depart)), at=march.depart, is_intent=True),
        Moment(kind="arrive", text=tr("arrive {time}", time=clock(arrive)), at=arrive, is_intent=True),
        Moment(kind="camp-by", text=tr("camp-by {time}", time=clock(march.camp_by)), at=march.camp_by),
    ]
    leave_m = march.reach_along_route_m if pick is None else pick.leave_distance_m
    first, lead_at = march.depart, march.lead_party_departs(leave_m)
    if lead_at is not None:
        first = min(first, lead_at)
        moments.append(
            Moment(kind="lead", text=tr("lead party {time}", time=clock(lead_at)), at=lead_at, is_intent=True)
        )
    acts = list(march_spans(march.depart, arrive, march.halt_rule.halts))
    last = max(arrive, march.camp_by)
    if pick is not None:
        up = arrive + timedelta(minutes=pitching_time_min(answer.plan))
        acts.append(Span(kind="pitching", begin=arrive, end=up))
        last = max(last, up)
    sky = sky_moments(march.sun.sunrise, march.sun.sunset, march.useful_light_end)
    moments += sky
    last = max([last, *(at for at in (march.sun.sunset, march.useful_light_end) if at is not None)])
    begin, end = _hour_before(first), _hour_before(last) + timedelta(hours=2)
    return DayStrip(
        begin=begin,
        end=end,
        sky=sky_spans(march.sun, begin, end),
        acts=tuple(acts),
        moments=tuple(sorted(moments, key=lambda moment: moment.at)),
        moon=_moon_spans(march, begin, end),
        moon_lit_frac=0.0 if march.moon is None else march.moon.lit_frac,
    )


def journey_strip(day: Day) -> DayStrip:
    """A day of a journey, by the chain's reckoning."""
    moments = [Moment(kind="depart", text=tr("depart {time}", time=clock(day.depart)), at=day.depart, is_intent=True)]
    acts: list[Span] = []
    if not day.is_rest:
        moments.append(
            Moment(kind="arrive", text=tr("arrive {time}", time=clock(day.arrive)), at=day.arrive, is_intent=True)
        )
        moments.append(Moment(kind="camp-by", text=tr("camp-by {time}", time=clock(day.camp_by)), at=day.camp_by))
        acts += march_spans(day.depart, day.arrive, day.halts)
        if day.night is not None:
            up = day.arrive + timedelta(minutes=day.pitching_min)
            acts.append(Span(kind="pitching", begin=day.arrive, end=up))
    else:
        moments = [Moment(kind="rest", text=tr("rest day"), at=day.depart, is_intent=True)]
    sky = sky_moments(day.sun.sunrise, day.sun.sunset, day.sun.civil_dusk)
    moments += sky
    last = max([day.camp_by, *(span.end for span in acts), *(moment.at for moment in sky)])
    begin, end = _hour_before(day.depart), _hour_before(last) + timedelta(hours=2)
    return DayStrip(
        begin=begin,
        end=end,
        sky=sky_spans(day.sun, begin, end),
        acts=tuple(acts),
        moments=tuple(sorted(moments, key=lambda moment: moment.at)),
    )


def sky_moments(sunrise: datetime | None, sunset: datetime | None, dark: datetime | None) -> list[Moment]:
    """What the sun does, where it does."""
    turns = (
        (marked("sunrise {time}"), sunrise),
        (marked("sunset {time}"), sunset),
        (marked("dark {time}"), dark),
    )
    return [Moment(kind="sky", text=tr(text, time=clock(at)), at=at) for text, at in turns if at is not None]


def _moon_spans(march: March, begin: datetime, end: datetime) -> tuple[Span, ...]:
    """When the moon is up within the strip."""
    if march.moon is None:
        return ()
    cut = ((max(rise, begin), min(down, end)) for rise, down in march.moon.up)
    return tuple(Span(kind="moon", begin=rise, end=down) for rise, down in cut if rise < down)


def march_spans(depart: datetime, arrive: datetime, halts: tuple[tuple[float, float], ...]) -> tuple[Span, ...]:
    """Stretches on the move and halts between departure and arrival."""
    spans: list[Span] = []
    begin, halted_min = depart, 0.0
    for after_min, length_min in halts:
        halt_begin = depart + timedelta(minutes=after_min + halted_min)
        if length_min <= 0.0:
            continue
        if halt_begin >= arrive:
            break
        halt_end = min(halt_begin + timedelta(minutes=length_min), arrive)
        spans += [Span(kind="march", begin=begin, end=halt_begin), Span(kind="halt", begin=halt_begin, end=halt_end)]
        begin, halted_min = halt_end, halted_min + length_min
    if begin < arrive:
        spans.append(Span(kind="march", begin=begin, end=arrive))
    return tuple(spans)


def sky_spans(sun: SunDay, begin: datetime, end: datetime) -> tuple[Span, ...]:
    """Dark, twilight and light between two hours; the sun's times hold for one day."""
    if sun.kind == "midnight sun":
        return (Span(kind=LIGHT, begin=begin, end=end),)
    if sun.kind == "polar night":
        return (Span(kind=DARK, begin=begin, end=end),)
    night = TWILIGHT if sun.kind == "white night" else DARK
    turns = [
        (at, kind)
        for at, kind in (
            (sun.civil_dawn, TWILIGHT),
            (sun.sunrise, LIGHT),
            (sun.sunset, TWILIGHT),
            (sun.civil_dusk, night),
        )
        if at is not None
    ]
    spans: list[Span] = []
    now, kind = begin, night
    for at, next_kind in turns:
        if at >= end:
            break
        if at > now:
            spans.append(Span(kind=kind, begin=now, end=at))
            now = at
        kind = next_kind
    spans.append(Span(kind=kind, begin=now, end=end))
    return tuple(spans)


def _hour_before(moment: datetime) -> datetime:
    """The whole hour before a moment, an hour earlier where less than half an hour is left of it."""
    hour = moment.replace(minute=0, second=0, microsecond=0)
    return hour - timedelta(hours=1) if moment - hour < timedelta(minutes=30) else hour
