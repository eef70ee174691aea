"""The desk's own sentences, and the way to those that the sheet shares. No widgets.

The sheet's words stand on the stages' models, and importing those loads compilers and file drivers.
They are therefore imported here only where an answer is at hand, which is long after the window shows.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from sitepick.desk.display import shown
from sitepick.desk.translation import counted, marked, tr
from sitepick.plan.model import Plan, Route

if TYPE_CHECKING:
    from sitepick.caution import Caution
    from sitepick.march.model import March
    from sitepick.march.needs import Needs
    from sitepick.march.propose import Proposal
    from sitepick.sites.model import Measure, Site
    from sitepick.tonight import Tonight

NAMES_SHOWN = 6
MODE_PHRASES = (
    ("foot", marked("on foot")),
    ("snowshoe", marked("on snowshoes")),
    ("ski", marked("on skis")),
    ("vehicle", marked("by vehicle")),
)


def clock(moment: datetime) -> str:
    """Time of day, such as ``14:55``."""
    return f"{moment:%H:%M}"


def length(distance_m: float) -> str:
    """A distance as a person says it: metres below 1 km, then kilometres to 0.1."""
    return f"{distance_m / 1000:.1f} km" if distance_m >= 995 else f"{round(distance_m, -1):.0f} m"


def begun(text: str) -> str:
    """A text as it begins a sentence or a line, with a large letter."""
    return f"{text[:1].upper()}{text[1:]}"


def duration(minutes: float) -> str:
    """Minutes as ``1 h 20 min``."""
    hours, rest = divmod(round(minutes), 60)
    parts = ([f"{hours} h"] if hours else []) + ([f"{rest} min"] if rest or not hours else [])
    return " ".join(parts)


def joined(parts: Sequence[str]) -> str:
    """Parts of a list as a person says it: ``a, b and c``."""
    if len(parts) < 2:
        return "".join(parts)
    return tr("{parts} and {last}", parts=", ".join(parts[:-1]), last=parts[-1])


def answer_on_top(answer: Tonight) -> tuple[str, str, str]:
    """The answer on top: the pick by name, what it takes, the alternate."""
    from sitepick.sheet.summary import alternate_words, answer_facts, answer_name

    return answer_name(answer), answer_facts(answer), alternate_words(answer)


def all_cautions(answer: Tonight) -> tuple[Caution, ...]:
    """Every caution of the answer as the sheet and the order tell them, the gravest first."""
    from sitepick.sheet.cautions import standing_cautions, tonight_cautions

    return tonight_cautions(answer) + standing_cautions(answer)


def two_sites_lines(answer: Tonight) -> tuple[str, ...]:
    """The unit on two sites where none holds all of it, as the order tells it."""
    from sitepick.sheet.summary import split_lines

    return split_lines(answer)


def caution_count(answer: Tonight) -> int:
    """How many things there are to go and look at, as the sheet counts them."""
    from sitepick.sheet import summary

    return summary.caution_count(answer)


def site_line(site: Site) -> str:
    """Size, arrival, room and firmness of a site in one line."""
    parts = [
        f"{site.area_m2 / 10_000:.1f} ha",
        tr("arrive {time}", time=clock(site.arrive)),
        tr("room for {shelters}", shelters=counted(site.capacity, "shelter")),
    ]
    if site.detour_min >= 1:
        parts.append(tr("{detour} off the route", detour=duration(site.detour_min)))
    if site.firm_share is not None:
        parts.append(tr("first in {number:.0f} of 100 draws", number=100 * site.firm_share))
    if site.top_three_share is not None:
        parts.append(tr("among the first three in {number:.0f}", number=100 * site.top_three_share))
    if site.out_of_limits_share:
        parts.append(tr("past a limit in {number:.0f}", number=100 * site.out_of_limits_share))
    if site.is_own:
        parts.append(tr("your own"))
    return shown().said(" · ".join(parts))


def score_text(site: Site) -> str:
    """The score, as a range where something is not known: ``71–84``."""
    low, high = f"{site.score:.0f}", f"{site.score_high:.0f}"
    return low if low == high else f"{low}–{high}"


def measure_text(measure: Measure) -> str:
    """A measure's value with its limit: ``3.1°, at most 5.7°``."""
    from sitepick.sheet.words import limit_words, measure_words

    has_limit = measure.limit_min is not None or measure.limit_max is not None
    return shown().said(measure_words(measure) + (f", {limit_words(measure)}" if has_limit else ""))


def spoken_site(site: Site) -> str:
    """Everything the list shows of a site, as one text for screen readers."""
    measures = "; ".join(
        tr(
            "{label} {measure}, scores {score:.0f} of 100",
            label=tr(measure.label),
            measure=measure_text(measure),
            score=100 * measure.score,
        )
        for measure in site.measures
    )
    told = "".join(tr(" Caution: {caution}", caution=caution.text) for caution in site.cautions)
    return tr(
        "Site {rank}, {name}, {score} of 100. {line}. {measures}. {reason}{cautions}",
        rank=site.rank,
        name=site.name,
        score=score_text(site),
        line=site_line(site),
        measures=measures,
        reason=site.reason,
        cautions=told,
    )


def shelters_phrase(plan: Plan) -> str:
    """The unit's shelters, counted by kind: ``4 ten-person tents and one for the leaders``."""
    counts: dict[str, int] = {}
    for shelter in plan.unit.shelters:
        if not shelter.is_leaders:
            counts[shelter.kind.label] = counts.get(shelter.kind.label, 0) + 1
    parts = [counted(count, label) for label, count in counts.items()]
    if any(shelter.is_leaders for shelter in plan.unit.shelters):
        parts.append(tr("one for the leaders"))
    return joined(parts)


def march_day_sentences(march: March) -> list[str]:
    """Turn-back place and moon, a sentence each, where there is something to say."""
    from sitepick.sheet.day_words import dark_march_words, moon_words
    from sitepick.sheet.timetable import turn_back_words

    moon = moon_words(march)
    told = (turn_back_words(march), f"{moon[0].upper()}{moon[1:]}. {dark_march_words(march)}".strip() if moon else "")
    return [text for text in told if text]


def loads_sentence(plan: Plan) -> str:
    """What sets the pace besides the snow: loads by the kit list."""
    from sitepick.march.sled_load import march_with_loads

    pace = march_with_loads(plan).pace
    sled = ""
    if plan.march.has_sled:
        sled = tr(
            ", and the heaviest sled weighs {sled_kg:.0f} kg with {sled_team_count} people at it",
            sled_kg=pace.sled_kg,
            sled_team_count=pace.sled_team_count,
        )
    return tr(
        "Each carries {told_load_kg:.0f} kg{sled}: the kit list on the page Unit says so.",
        told_load_kg=pace.told_load_kg,
        sled=sled,
    )


def effort_sentence(needs: Needs) -> str:
    """What the day takes of a body."""
    from sitepick.sheet.needs_words import energy_words

    return energy_words(needs)


def route_sentence(route: Route) -> str:
    """Tonight's route and the named points that it leads by."""
    named = [name for name in route.point_names if name is not None]
    shown = (
        named
        if len(named) <= NAMES_SHOWN
        else [*named[:NAMES_SHOWN], tr("{number} more", number=len(named) - NAMES_SHOWN)]
    )
    if not shown:
        return tr("Tonight's route: {name}.", name=route.name)
    return tr("Tonight's route: {name}, by {points}.", name=route.name, points=joined(shown))


def way_sentence(way: Proposal) -> str:
    """A proposed way, and what it leaves to the person."""
    return tr(
        "A way of {distance}, about {time} on the move off any trail. It weighs time alone: "
        "read the March page's cautions on ice, streams and avalanche ground, then drag it where you "
        "want it.",
        distance=length(way.distance_m),
        time=duration(way.minutes),
    )


def sun_sentence(march: March) -> str:
    """Sunrise, sunset and the end of useful light in one sentence."""
    sun = march.sun
    if sun.kind == "midnight sun":
        return tr("The sun does not set; camp-by is your own hour.")
    if sun.kind == "polar night":
        return tr("No sun and no twilight; the march runs in the dark.")
    parts = []
    if sun.sunrise is not None:
        parts.append(tr("sunrise {time}", time=clock(sun.sunrise)))
    if sun.sunset is not None:
        parts.append(tr("sunset {time}", time=clock(sun.sunset)))
    if march.useful_light_end is not None:
        parts.append(tr("dark at {time}", time=clock(march.useful_light_end)))
    text = joined(parts) or tr("the sun does not rise")
    return f"{begun(text)}."


def handed_out_sentence(paths: Sequence[Path]) -> str:
    """Which files were written, and where."""
    folder = paths[0].parent if paths else Path()
    return tr("Handout written to {folder}: {files}.", folder=folder, files=", ".join(path.name for path in paths))
