"""The evening by the clock: legs, halts, arrival, pitching, light."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import accumulate

from sitepick.march.clock import FIRST_HALT, HALT
from sitepick.march.model import Leg, March
from sitepick.plan.pitching import pitching_time_min
from sitepick.sheet.leg_words import Heading, heading, leg_headings
from sitepick.sheet.pace import lead_party_departs
from sitepick.sheet.words import AT_THE_START_M, clock, count_words, grid_reference, kilometres
from sitepick.sites.model import Site
from sitepick.tonight import Tonight

DEPART = "depart"


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One line of the timetable.

    Attributes
    ----------
    at : datetime
    what : str
        As told to people.
    said : str
        The same as a leader reads it out, where that takes more words than a table has room for.
    is_intent : bool
        Something that the unit does, not the sky.
    where : str
        Bearing of the stretch that ends then, and grid reference of its end; empty where it has none.
    """

    at: datetime
    what: str
    said: str = ""
    is_intent: bool = True
    where: str = ""


def timetable(answer: Tonight) -> tuple[Entry, ...]:
    """What happens when, in order of time.

    Parameters
    ----------
    answer : Tonight

    Returns
    -------
    tuple of Entry
        With a pick, only as far as the unit marches; without one, to the end of the reach.
    """
    march = answer.march
    entries = [Entry(at=march.depart, what=DEPART), *_leg_entries(answer), *_sky_entries(march)]
    lead_at = lead_party_departs(answer)
    if lead_at is not None:
        entries.append(Entry(at=lead_at, what="lead party departs, to break the trail"))
    entries.append(Entry(at=march.camp_by, what="camp-by: latest arrival"))
    entries += _turn_back_entries(answer)
    if answer.sites.sites:
        pick = answer.sites.sites[0]
        up = pick.arrive + timedelta(minutes=pitching_time_min(answer.plan))
        if leaves_on_the_way(pick):
            what = f"leave the route for site {pick.rank}"
            said = f"{what}, {kilometres(pick.leave_distance_m)} from the start"
            bearing = _leave_heading(answer, pick).words
            entries.append(Entry(at=leave_route_at(answer), what=what, said=said, where=bearing))
        reference = grid_reference(answer.ground.grid, pick.east_m, pick.north_m)
        entries.append(Entry(at=pick.arrive, what=f"arrive at site {pick.rank}, {pick.name}", where=f"at {reference}"))
        entries.append(Entry(at=up, what="shelters up"))
    # Sorting is stable: what is told first stays first within a minute.
    return tuple(sorted(entries, key=lambda entry: entry.at))


def leaves_on_the_way(site: Site) -> bool:
    """Whether the way to a site leaves the route, and not at its very start."""
    return site.detour_min >= 1.0 and site.leave_distance_m >= AT_THE_START_M


def _leave_heading(answer: Tonight, pick: Site) -> Heading:
    """From the end of the last whole leg to where the way leaves the route."""
    ends_m = (0.0, *accumulate(leg.distance_m for leg in answer.march.legs))
    before_m = max(end_m for end_m in ends_m if end_m <= pick.leave_distance_m)
    return heading(answer, before_m, pick.leave_distance_m)


def leave_route_at(answer: Tonight) -> datetime:
    """When the unit leaves the route for the pick: its arrival less the way off the route."""
    pick = answer.sites.sites[0]
    rule = answer.march.halt_rule
    moving_min = max(0.0, pick.moving_min - pick.detour_min)
    return answer.march.depart + timedelta(minutes=rule.elapsed_min(moving_min))


def halt_times(answer: Tonight) -> tuple[tuple[datetime, float], ...]:
    """When each halt before the last arrival begins, and its minutes."""
    march = answer.march
    end = answer.sites.sites[0].arrive if answer.sites.sites else march.arrive_at_reach_end
    halts = []
    spent_min = 0.0
    for after_min, length_min in march.halt_rule.halts:
        begin = march.depart + timedelta(minutes=after_min + spent_min)
        spent_min += length_min
        if begin + timedelta(minutes=length_min) <= end:
            halts.append((begin, length_min))
    return tuple(halts)


def named_halts(answer: Tonight) -> tuple[tuple[datetime, float, str], ...]:
    """The halts of `halt_times` with what each is for; ``"halt"`` where nothing is told."""
    reasons = answer.march.halt_rule.reasons
    return tuple(
        (begin, length_min, reasons[number] if number < len(reasons) else HALT)
        for number, (begin, length_min) in enumerate(halt_times(answer))
    )


def turn_back_words(march: March) -> str:
    """Where the unit must turn to be back at base in time, as a sentence; empty where the day has no such place."""
    turn = march.turn_back
    if turn is None:
        return ""
    day = march.depart.date()
    light = "in useful light" if march.useful_light_end is not None else "by the hour of camp-by"
    if turn.is_whole_day:
        return f"Base can be reached {light} from anywhere on today's way; the latest is {clock(turn.back_at, day)}."
    return (
        f"Turn-back: {kilometres(turn.distance_m)} from the start, at {clock(turn.at, day)}, is the last place from "
        f"which base is reached {light}, by {clock(turn.back_at, day)}."
    )


def _turn_back_entries(answer: Tonight) -> list[Entry]:
    """The turn-back place, where the unit comes past it."""
    march, found = answer.march, answer.sites.sites
    turn = march.turn_back
    leave_m = found[0].leave_distance_m if found else march.reach_along_route_m
    if turn is None or turn.is_whole_day or turn.distance_m > leave_m:
        return []
    what = f"turn-back at {kilometres(turn.distance_m)}: from farther on, base isn't reached in time"
    by = "in useful light" if march.useful_light_end is not None else "by the hour of camp-by"
    said = f"pass the turn-back, {kilometres(turn.distance_m)} from the start: beyond it base isn't reached {by}"
    reference = heading(answer, turn.distance_m, turn.distance_m).end_reference
    return [Entry(at=turn.at, what=what, said=said, where=f"at {reference}")]


def halts_words(answer: Tonight) -> str:
    """The halts as one sentence; empty where there are none."""
    halts = named_halts(answer)
    if not halts:
        return ""
    day = answer.march.depart.date()
    told = ", ".join(
        f"{clock(begin, day)} ({length:.0f} min{'' if reason in (HALT, FIRST_HALT) else ', ' + reason})"
        for begin, length, reason in halts
    )
    return f"{count_words(len(halts), 'halt')}: {told}."


def _leg_entries(answer: Tonight) -> list[Entry]:
    """Legs that the unit marches to their end before it leaves the route."""
    march = answer.march
    leave_m = answer.sites.sites[0].leave_distance_m if answer.sites.sites else march.route_length_m
    ends_m = accumulate(leg.distance_m for leg in march.legs)
    return [
        Entry(at=leg.arrive, what=f"{leg.end_name}: {kilometres(leg.distance_m)}, {leg.climb_m:.0f} m up, "
                                  f"{leg.descent_m:.0f} m down",
              said=f"reach {leg.end_name}, {kilometres(leg.distance_m)} on{_heights_said(leg)}", where=its.words)
        for leg, end_m, its in zip(march.legs, ends_m, leg_headings(answer), strict=True)
        if end_m <= leave_m
    ]  # fmt: skip


def _heights_said(leg: Leg) -> str:
    """Metres up and down of a leg, those that there are."""
    told = [f"{metres:.0f} m {way}" for metres, way in ((leg.climb_m, "up"), (leg.descent_m, "down")) if metres >= 0.5]
    return f", {' and '.join(told)}" if told else ", on the level"


def _sky_entries(march: March) -> list[Entry]:
    sun = march.sun
    told = ((sun.sunrise, "sunrise"), (sun.sunset, "sunset"), (march.useful_light_end, "dark (civil dusk)"))
    return [Entry(at=at, what=what, is_intent=False) for at, what in told if at is not None and at >= march.depart]
