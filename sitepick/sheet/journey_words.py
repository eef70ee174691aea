"""The journey in words: a row a cost, a line a day, what would mend a night, and the order of the routes."""

from __future__ import annotations

from sitepick.caution import Caution, gravest_first
from sitepick.journey.compare import RULE_WORDS, totals
from sitepick.journey.model import Day, Journey, RouteJourney
from sitepick.sheet.words import clock, count_words, kilometres, zone_words

_CAUTIONS_TOLD = 8
_GRAVE = ("avalanche", "ice", "flood", "room", "dark")
NONE = "–"


def journey_lines(journey: Journey) -> tuple[str, ...]:
    """The whole answer for a terminal: the order first, then each route with its days."""
    lines = [*journey.words]
    for index in journey.order:
        one = journey.routes[index]
        lines.append(f"{one.name}: {route_line(one)}")
        lines += [f"  {day_line(day)}" for day in one.days]
        lines += [f"    {mend}" for day in one.days for mend in day_mends(day)]
        if one.gain:
            lines.append(f"  {one.gain}")
    lines += [f"Caution: {caution.text}" for caution in journey.cautions]
    lines.append(f"Times are {zone_words(journey.plan.march.depart)} on the first day.")
    return tuple(lines)


def route_line(one: RouteJourney) -> str:
    """What one route comes to, as a sentence; why not, where it can't be walked."""
    if one.chain is None:
        return one.trouble
    row, weakest = totals(one), one.weakest
    nights = "no night on the way" if weakest is None else f"weakest night {weakest.number}, {weakest.score:.0f} of 100"
    bare = f", {count_words(one.chain.bare_count, 'night')} without a site" if one.chain.bare_count else ""
    return (
        f"{count_words(len(one.days), 'day')}, {row['km']:.1f} km, {row['climb_m']:.0f} m up, {row['hours']:.1f} h "
        f"under way; {nights}{bare}."
    )


def day_line(day: Day) -> str:
    """One day in a line."""
    head = f"Day {day.number}, {day.depart.day} {day.depart:%B}:"
    if day.is_rest:
        return f"{head} rest at {_place_words(day)}."
    times = f"{clock(day.depart)} to {clock(day.arrive, day.depart.date())}"
    way = f"{kilometres(day.distance_m)}, {day.climb_m:.0f} m up, {times}"
    supplies = "; supplies are taken up" if day.is_supplied else ""
    if day.night is None:
        return f"{head} {way}, to the end of the route{supplies}."
    pinned = ", pinned" if day.is_pinned else ""
    return f"{head} {way}, {_place_words(day)}{pinned}{supplies}."


def _place_words(day: Day) -> str:
    assert day.night is not None  # the last day alone has no night
    if day.night.is_bare:
        return f"no site: the night falls at {day.end_m / 1000.0:.1f} km of the route"
    return f"{day.night.name} ({day.score:.0f} of 100)"


def day_mends(day: Day) -> tuple[str, ...]:
    """What would bring a site to a night without one: tried out, and by the day's own search."""
    told = day.mends
    if day.detail is not None:
        told += tuple(f"{reason.text} To relax: {reason.fix}." for reason in day.detail.hindrances[:2])
    return told


def comparison_rows(journey: Journey) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """Label and one value a route, in the order of the routes; a dash where a route can't be walked."""
    told = [journey.routes[index] for index in journey.order]
    rows = [totals(one) if one.chain is not None else None for one in told]

    def of(name: str, form: str) -> tuple[str, ...]:
        return tuple(NONE if row is None else form.format(row[name]) for row in rows)

    return (
        ("days", of("day_count", "{:.0f}")),
        ("hours under way", of("hours", "{:.1f} h")),
        ("distance", of("km", "{:.1f} km")),
        ("climb", of("climb_m", "{:.0f} m")),
        ("descent", of("descent_m", "{:.0f} m")),
        ("weakest night", tuple(_weakest_words(one) for one in told)),
        ("mean of the nights", of("mean", "{:.0f} of 100")),
        ("nights without a site", of("bare_count", "{:.0f}")),
        ("first of its own day in", tuple(_firm_words(one) for one in told)),
        ("least time to spare", tuple(_latest_words(one) for one in told)),
        ("over avalanche ground", of("avalanche_km", "{:.1f} km")),
        ("on ice", of("ice_km", "{:.1f} km")),
        ("streams crossed", of("stream_count", "{:.0f}")),
        ("water to melt or carry", tuple(_water_words(one) for one in told)),
        ("fuel", tuple(_fuel_words(one) for one in told)),
        ("heaviest sled or load", tuple(_load_words(one) for one in told)),
        ("farthest from a way out", tuple(_out_words(one) for one in told)),
    )


def _weakest_words(one: RouteJourney) -> str:
    day = one.weakest
    return NONE if day is None else f"{day.score:.0f} of 100, night {day.number}"


def _firm_words(one: RouteJourney) -> str:
    """How firm the least firm night is."""
    shares = [
        day.detail.firm_share for day in one.nights if day.detail is not None and day.detail.firm_share is not None
    ]
    return f"{100 * min(shares):.0f} to {100 * max(shares):.0f} of 100 draws" if shares else NONE


def _latest_words(one: RouteJourney) -> str:
    """The day that ends nearest to its latest hour."""
    days = [day for day in one.days if not day.is_rest]
    if not days:
        return NONE
    day = min(days, key=lambda this: this.camp_by - this.arrive)
    spare_min = (day.camp_by - day.arrive).total_seconds() / 60.0
    return f"day {day.number}, {spare_min:.0f} min to spare"


def _water_words(one: RouteJourney) -> str:
    """Nights whose water comes from snow or along in the flasks."""
    details = [day.detail for day in one.nights if day.detail is not None]
    if not details:
        return NONE
    litres = sum(detail.water_l for detail in details if detail.water_source != "water")
    nights = sum(detail.water_source != "water" for detail in details)
    return "none" if not nights else f"{litres:.0f} L in {count_words(nights, 'night')}"


def _fuel_words(one: RouteJourney) -> str:
    details = [day.detail for day in one.nights if day.detail is not None]
    return f"{sum(detail.fuel_l for detail in details):.0f} L" if details else NONE


def _load_words(one: RouteJourney) -> str:
    details = [day.detail for day in one.days if day.detail is not None]
    if not details:
        return NONE
    sled_kg = max(detail.sled_kg for detail in details)
    return f"{sled_kg:.0f} kg" if sled_kg else f"{max(detail.carried_kg for detail in details):.0f} kg"


def _out_words(one: RouteJourney) -> str:
    outs = [(day.bail_out.minutes, day) for day in one.days if day.bail_out is not None]
    if not outs:
        return NONE
    minutes, day = max(outs, key=lambda pair: pair[0])
    assert day.bail_out is not None
    return f"{minutes / 60.0:.1f} h to {day.bail_out.name}, day {day.number}"


def rule_words(journey: Journey) -> str:
    """By which rule nights and routes are chosen, as a sentence."""
    return f"Nights and routes are chosen by {RULE_WORDS[journey.plan.journey.rule]}."


def route_cautions(one: RouteJourney) -> tuple[Caution, ...]:
    """The gravest things to look at along a route, each with its day."""
    told = [
        Caution(kind=caution.kind, text=f"Day {day.number}: {caution.text}")
        for day in one.days
        if day.detail is not None
        for caution in day.detail.cautions
        if caution.kind in _GRAVE
    ]
    return gravest_first(told)[:_CAUTIONS_TOLD]
