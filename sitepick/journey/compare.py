"""Routes side by side: by the plan's rule, and in words."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from sitepick.caution import Caution
from sitepick.journey.legs import distance_m
from sitepick.journey.model import RouteJourney
from sitepick.plan.model import Plan, Route

RULE_WORDS = {
    "weakest": "the best weakest night",
    "mean": "the best mean of its nights",
    "fewest": "the fewest days",
    "effort": "the least time on the move",
}
_MEET_M = 1000.0


def route_order(routes: Sequence[RouteJourney], rule: str) -> tuple[int, ...]:
    """The routes by a rule, the best first; those with bare nights after those without, unfinished ones last."""

    def worth(index: int) -> tuple[float, ...]:
        chain = routes[index].chain
        if chain is None:
            return (2.0, float(index))
        key = {
            "weakest": (-round(chain.weakest, 1), -chain.mean),
            "mean": (-chain.mean, -chain.weakest),
            "fewest": (float(len(chain.places)), -chain.weakest),
            "effort": (chain.effort_min, -chain.weakest),
        }[rule]
        return (float(chain.bare_count > 0), float(chain.bare_count), *key, float(index))

    return tuple(sorted(range(len(routes)), key=worth))


def compared_words(routes: Sequence[RouteJourney], order: Sequence[int], rule: str) -> tuple[str, ...]:
    """What each route has over the one that follows it, a sentence each; the first says by which rule it is first."""
    told = [routes[index] for index in order]
    whole = [one for one in told if one.chain is not None]
    if not whole:
        return ("No route can be walked within the limits.",)
    words = []
    if len(whole) == 1:
        words.append(f"{whole[0].name} is the only route that can be walked within the limits.")
    else:
        words.append(f"By {RULE_WORDS[rule]}, {whole[0].name} comes first.")
    words += [over_words(one, other) for one, other in itertools.pairwise(whole)]
    words += [f"{one.name} isn't in the order: {one.trouble}" for one in told if one.chain is None]
    return tuple(words)


def over_words(one: RouteJourney, other: RouteJourney) -> str:
    """What one route has over another, and what that one has over it."""
    better, worse = [], []
    for good, bad, gain in _differences(one, other):
        if gain > 0:
            better.append(good)
        elif gain < 0:
            worse.append(bad)
    text = f"{one.name} over {other.name}: {_listed(better) if better else 'nothing that is told here'}."
    return f"{text} Against it: {_listed(worse)}." if worse else text


def _differences(one: RouteJourney, other: RouteJourney) -> list[tuple[str, str, float]]:
    """What is better about the one, what worse, and which it is; what is as good as equal is left out."""
    a, b = totals(one), totals(other)
    rows = (
        ("bare_count", 1.0, "nights without a site: {:.0f} fewer", "nights without a site: {:.0f} more"),
        ("weakest", -2.0, "a weakest night {:.0f} points better", "a weakest night {:.0f} points worse"),
        ("mean", -2.0, "its nights {:.0f} points better on the mean", "its nights {:.0f} points worse on the mean"),
        ("day_count", 1.0, "days: {:.0f} fewer", "days: {:.0f} more"),
        ("hours", 1.0, "{:.1f} h less under way", "{:.1f} h more under way"),
        ("km", 1.0, "{:.1f} km shorter", "{:.1f} km longer"),
        ("climb_m", 50.0, "{:.0f} m less to climb", "{:.0f} m more to climb"),
        ("avalanche_km", 0.1, "{:.1f} km less over avalanche ground", "{:.1f} km more over avalanche ground"),
        ("ice_km", 0.1, "{:.1f} km less on ice", "{:.1f} km more on ice"),
        ("bail_out_h", 0.5, "a way out {:.1f} h nearer at the worst", "a way out {:.1f} h farther at the worst"),
    )  # fmt: skip
    told = []
    for name, least, good, bad in rows:
        gain = (b[name] - a[name]) * (1.0 if least > 0 else -1.0)
        if abs(gain) >= abs(least):
            told.append((good.format(abs(gain)), bad.format(abs(gain)), gain))
    return told


def totals(one: RouteJourney) -> dict[str, float]:
    """What a route costs and brings, in one row."""
    chain, days = one.chain, one.days
    outs = [day.bail_out.minutes for day in days if day.bail_out is not None]
    return {
        "day_count": float(len(days)),
        "hours": sum(day.hours for day in days),
        "km": sum(day.distance_m for day in days) / 1000.0,
        "climb_m": sum(day.climb_m for day in days),
        "descent_m": sum(day.descent_m for day in days),
        "weakest": 0.0 if chain is None else chain.weakest,
        "mean": 0.0 if chain is None else chain.mean,
        "bare_count": 0.0 if chain is None else float(chain.bare_count),
        "avalanche_km": sum(day.avalanche_m for day in days) / 1000.0,
        "ice_km": sum(day.ice_m for day in days) / 1000.0,
        "stream_count": float(sum(day.stream_count for day in days)),
        "bail_out_h": max(outs, default=0.0) / 60.0,
    }


def meeting_cautions(routes: Sequence[Route]) -> tuple[Caution, ...]:
    """Routes that don't begin or end in one place: what they cost isn't the cost of one journey."""
    told = []
    for which, at in (("begin", 0), ("end", -1)):
        first = routes[0]
        for other in routes[1:]:
            apart_m = distance_m(first.points[at], other.points[at])
            if apart_m > _MEET_M:
                told.append(
                    Caution(
                        kind="march",
                        text=f"{first.name} and {other.name} {which} {apart_m / 1000.0:.1f} km apart: they aren't two "
                        "ways to one place, and their days can't be held against each other as such.",
                    )
                )
    return tuple(told)


def clock_cautions(plan: Plan) -> tuple[Caution, ...]:
    """Nights over which the clocks change."""
    first = plan.march.depart
    offsets = [plan.journey.departure(first, day).utcoffset() for day in range(1, plan.journey.days_max + 1)]
    for day, (before, after) in enumerate(itertools.pairwise(offsets), start=2):
        if before is not None and after is not None and before != after:
            minutes = (after - before).total_seconds() / 60.0
            way = "forward" if minutes > 0 else "back"
            return (
                Caution(
                    kind="march",
                    text=f"The clocks go {way} by {abs(minutes):.0f} min before day {day}: the unit leaves at the same "
                    "hour of the clock, and its night before is that much "
                    f"{'shorter' if minutes > 0 else 'longer'}.",
                ),
            )
    return ()


def _listed(words: Sequence[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"
